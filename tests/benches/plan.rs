//! How long planning takes: medians, and ratios within this run. An argument selects by name.
#![expect(clippy::print_stdout, reason = "a measurement is printed")]

use std::{hint::black_box, time::Instant};

use risemark::{file, job::Job, plan, plan_wall, rules::Rules};
use risemark_sheets::{Orientation, Paper, SheetOptions, sheets};
use risemark_tests::example_jobs;

fn main() {
    let filter = std::env::args().skip(1).find(|arg| !arg.starts_with('-')).unwrap_or_default();
    let wanted = |name: &str| name.contains(&filter);
    let job = workshop();
    let wall = wall_of(&job, 1);
    if wanted("wall") {
        let planned = median(300, || drop(black_box(plan(black_box(&wall)))));
        println!("plan of the two-window wall: {planned:.3} ms");
        let drawn = median(300, || {
            black_box(plan_and_sheets(black_box(&wall)));
        });
        println!(
            "plan and sheets of the two-window wall: {drawn:.3} ms (target 1 ms), {:.2} times the plan",
            drawn / planned
        );
    }
    if wanted("many") {
        many_walls();
    }
    if wanted("edit") {
        let many = mixed(1_000);
        let rules = Rules::of(&many);
        let one = median(100, || drop(black_box(plan_wall(black_box(&many), 500, &rules))));
        let all = median(3, || drop(black_box(plan(black_box(&many)))));
        println!("one edit in 1000 walls: {one:.3} ms, {:.5} of planning them all", one / all);
    }
    if wanted("file") {
        let text = file::write(&mixed(1_000)).expect("a job can be written");
        let read = median(3, || drop(black_box(file::read(black_box(&text)))));
        println!("reading 1000 walls: {read:.1} ms");
        let rubbish = "[".repeat(50_000_000);
        let refused = median(3, || drop(black_box(file::read(black_box(&rubbish)))));
        println!("refusing 50 MB of rubbish: {refused:.3} ms");
    }
}

fn many_walls() {
    let per_wall = |n_walls: usize, rounds: usize| {
        let job = mixed(n_walls);
        let walls = f64::from(u32::try_from(n_walls).expect("some walls"));
        median(rounds, || drop(black_box(plan(black_box(&job))))) / walls
    };
    let (few, many) = (per_wall(10, 60), per_wall(1_000, 3));
    println!(
        "per wall: {few:.3} ms of 10, {many:.3} ms of 1000, ratio {:.2} (target 1.2)",
        many / few
    );
}

fn plan_and_sheets(job: &Job) -> usize {
    let plan = plan(job);
    let options =
        SheetOptions { paper: Paper::Letter, orientation: Orientation::Auto, acknowledged: None };
    plan.walls.iter().map(|wall| sheets(job, wall, &plan.rules, &options).len()).sum()
}

fn workshop() -> Job {
    let jobs = example_jobs().into_iter();
    jobs.filter(|(name, _)| name == "workshop")
        .map(|(_, job)| job)
        .next()
        .expect("the workshop example")
}

fn wall_of(job: &Job, idx: usize) -> Job {
    Job { walls: vec![job.walls[idx].clone()], ..job.clone() }
}

fn mixed(n_walls: usize) -> Job {
    let kinds: Vec<_> = example_jobs().into_iter().flat_map(|(_, job)| job.walls).collect();
    let walls = (0..n_walls).map(|idx| {
        let mut wall = kinds[idx % kinds.len()].clone();
        wall.id = format!("wall-{idx}");
        wall
    });
    Job { walls: walls.collect(), ..workshop() }
}

/// The median time of some rounds, in milliseconds.
fn median(rounds: usize, mut act: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..rounds)
        .map(|_| {
            let start = Instant::now();
            act();
            start.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[rounds / 2]
}
