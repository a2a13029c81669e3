//! Holes, lines, proofs and times of many walls, class by class.

use std::time::Instant;

use risemark::{
    drilling::{DrillPlan, Effort},
    job::Wall,
    plan::plan_wall,
    rules::Rules,
};
use risemark_tests::{
    classes::{Class, wall_of},
    walls::job,
};

/// What a class of walls came to.
#[derive(Debug, Default)]
struct Tally {
    n_holes: usize,
    n_lines: usize,
    n_quick: usize,
    n_proven: usize,
    times: Vec<f64>,
    quick_times: Vec<f64>,
}

const WALLS: u64 = 40;

/// Prints one row a class.
pub(crate) fn lines_by_class() {
    println!(
        "lines: {:10} {:>6} {:>6} {:>6} {:>7} {:>8} {:>8} {:>8} {:>8}",
        "class", "holes", "lines", "quick", "proven", "mean ms", "p95 ms", "most ms", "quick ms"
    );
    for class in Class::ALL {
        let mut tally = Tally::default();
        for seed in 0..WALLS {
            tally.add(wall_of(class, seed));
        }
        tally.print(class);
    }
}

impl Tally {
    fn add(&mut self, wall: Wall) {
        let job = job(wall);
        let rules = Rules::of(&job);
        let timed = |effort: Effort<'_>| -> (DrillPlan, f64) {
            let start = Instant::now();
            let drill = plan_wall(&job, 0, &rules, effort).drill;
            (drill, start.elapsed().as_secs_f64() * 1e3)
        };
        let (quick, quick_time) = timed(Effort::Quick);
        let (drill, time) = timed(Effort::Thorough);
        self.n_holes += drill.holes.len();
        self.n_lines += drill.snap_lines.len();
        self.n_quick += quick.snap_lines.len();
        self.n_proven += usize::from(drill.snap_lines.len() == drill.lines_bound);
        self.times.push(time);
        self.quick_times.push(quick_time);
    }

    fn print(mut self, class: Class) {
        self.times.sort_by(f64::total_cmp);
        let at = |share: f64| {
            let last = self.times.len() - 1;
            let places = (0..=last).filter(|&at| share * super::as_f64(last) <= super::as_f64(at));
            places.min().map_or(0.0, |at| self.times[at])
        };
        let mean = |times: &[f64]| times.iter().sum::<f64>() / super::as_f64(times.len());
        println!(
            "lines: {:10} {:6} {:6} {:6} {:5}/{:<2} {:8.2} {:8.2} {:8.2} {:8.2}",
            format!("{class:?}"),
            self.n_holes,
            self.n_lines,
            self.n_quick,
            self.n_proven,
            WALLS,
            mean(&self.times),
            at(0.95),
            at(1.0),
            mean(&self.quick_times),
        );
    }
}
