//! How long planning takes: medians, and ratios within this run. An argument selects by name.
#![expect(clippy::print_stdout, reason = "a measurement is printed")]

use std::{hint::black_box, time::Instant};

mod lines;
mod shots;

use risemark::{
    drilling::Effort,
    file,
    job::{Construction, Job, Wall},
    language::Language,
    plan, plan_wall,
    rules::Rules,
};
use risemark_sheets::{Orientation, Paper, SheetOptions, WallShots, sheets};
use risemark_tests::example_jobs;

fn main() {
    let filter = std::env::args().skip(1).find(|arg| !arg.starts_with('-')).unwrap_or_default();
    let measurements: [(&str, fn()); 6] = [
        ("wall", one_wall),
        ("lines", lines::lines_by_class),
        ("many", many_walls),
        ("edit", one_edit),
        ("file", reading),
        ("shots", shots::by_size),
    ];
    for (name, measure) in measurements {
        if name.contains(&filter) {
            measure();
        }
    }
}

fn one_wall() {
    let wall = wall_of(&workshop(), 1);
    let planned = median(1_000, || drop(black_box(plan(black_box(&wall)))));
    println!("plan of the two-window wall: {planned:.3} ms");
    let drawn = median(100, || {
        black_box(plan_and_sheets(black_box(&wall)));
    });
    println!(
        "plan and sheets of the two-window wall: {drawn:.3} ms (target 1 ms), {:.1} times the plan",
        drawn / planned
    );
}

/// Few and many walls by turns, so that a machine that is busy for a while slows both.
fn many_walls() {
    let (few, many) = (mixed(10), mixed(1_000));
    let rounds = (0..9).map(|_| {
        let one_by_one = took(|| (0..100).for_each(|_| drop(black_box(plan(black_box(&few))))));
        let at_once = took(|| drop(black_box(plan(black_box(&many)))));
        (one_by_one / 1_000.0, at_once / 1_000.0)
    });
    let (few, many): (Vec<f64>, Vec<f64>) = rounds.unzip();
    let ratios = few.iter().zip(&many).map(|(few, many)| many / few).collect();
    println!(
        "per wall: {:.3} ms of 10, {:.3} ms of 1000, ratio {:.2} (target 1.2)",
        middle(few),
        middle(many),
        middle(ratios)
    );
}

fn one_edit() {
    let many = mixed(1_000);
    let rules = Rules::of(&many);
    let one =
        median(300, || drop(black_box(plan_wall(black_box(&many), 500, &rules, Effort::Thorough))));
    let all = median(3, || drop(black_box(plan(black_box(&many)))));
    println!("one edit in 1000 walls: {one:.3} ms, {:.5} of planning them all", one / all);
}

fn reading() {
    let text = file::write(&mixed(1_000)).expect("a job can be written");
    let read = median(9, || drop(black_box(file::read(black_box(&text)))));
    println!("reading 1000 walls: {read:.1} ms");
    let rubbish = "[".repeat(50_000_000);
    let refused = median(3, || drop(black_box(file::read(black_box(&rubbish)))));
    println!("refusing 50 MB of rubbish: {refused:.3} ms");
}

fn plan_and_sheets(job: &Job) -> usize {
    let plan = plan(job);
    let options = SheetOptions {
        paper: Paper::Letter,
        orientation: Orientation::Auto,
        acknowledged: None,
        language: Language::English,
        shots: WallShots::default(),
    };
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

/// The five framed walls of all examples in turn; a whole number of turns, so that jobs of any size
/// have one mix.
fn mixed(n_walls: usize) -> Job {
    let walls = example_jobs().into_iter().flat_map(|(_, job)| job.walls);
    let framed = |wall: &Wall| !matches!(wall.construction, Construction::BrickAirSpace { .. });
    let kinds: Vec<Wall> = walls.filter(framed).collect();
    assert_eq!(kinds.len(), 5, "every framed wall that can be planned");
    assert!(n_walls.is_multiple_of(kinds.len()), "{} kinds make no even mix", kinds.len());
    let walls = (0..n_walls).map(|idx| {
        let mut wall = kinds[idx % kinds.len()].clone();
        wall.id = format!("wall-{idx}");
        wall
    });
    Job { walls: walls.collect(), ..workshop() }
}

/// The median time of some rounds, in milliseconds.
fn median(rounds: usize, mut act: impl FnMut()) -> f64 {
    middle((0..rounds).map(|_| took(&mut act)).collect())
}

/// How long an act takes, in milliseconds.
fn took(act: impl FnOnce()) -> f64 {
    let start = Instant::now();
    act();
    start.elapsed().as_secs_f64() * 1e3
}

fn middle(mut figures: Vec<f64>) -> f64 {
    figures.sort_by(f64::total_cmp);
    figures[figures.len() / 2]
}

fn as_f64(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::INFINITY, f64::from)
}
