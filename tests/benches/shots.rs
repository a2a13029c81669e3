//! How near the order of the shots comes to its bound, and how long that takes.

use std::time::Instant;

use risemark::{quantity::count, shots::Search};
use risemark_tests::gun::{GunJob, solved};

/// One line for every size of job and number of walls.
pub(crate) fn by_size() {
    let sizes = [(5, 8), (9, 16), (17, 40), (41, 80), (81, 150), (151, 400)];
    for (from, to) in sizes {
        for n_walls in 1..=4 {
            measure((from, to), n_walls, if to <= 16 { 40 } else { 10 });
        }
    }
    for n_shots in [1_000, 4_000] {
        measure((n_shots, n_shots), n_shots / 100, 1);
    }
}

fn measure((from, to): (usize, usize), n_walls: usize, n_jobs: usize) {
    let (mut gaps, mut times, mut n_proven) = (Vec::new(), Vec::new(), 0);
    let mut bound_times = Vec::new();
    for seed in 0..n_jobs {
        let n_shots = from + (to - from) * seed / n_jobs.max(2);
        let job = GunJob::generate(seed, n_shots, n_walls);
        let begin = Instant::now();
        let search = Search::new(job.problem());
        bound_times.push(begin.elapsed().as_secs_f64() * 1e3);
        drop(search);
        let begin = Instant::now();
        let (found, bound) = solved(job.problem());
        times.push(begin.elapsed().as_secs_f64() * 1e3);
        let cost = job.check(&found).expect("a valid order");
        assert!(bound <= cost + 1e-6, "the bound {bound} is above {cost}");
        n_proven += usize::from(cost <= bound + 0.01);
        gaps.push((cost / bound - 1.0) * 100.0);
    }
    let mean = |figures: &[f64]| figures.iter().sum::<f64>() / count(figures.len());
    let most = |figures: &[f64]| figures.iter().copied().fold(0.0, f64::max);
    println!(
        "{from:4}-{to:4} shots, {n_walls} walls: {:5.2} % above the bound, most {:5.2} %, {n_proven} of {n_jobs} proven, {:6.1} ms, most {:6.1} ms; bound {:5.1} ms",
        mean(&gaps),
        most(&gaps),
        mean(&times),
        most(&times),
        mean(&bound_times),
    );
}
