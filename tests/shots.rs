//! The order of the shots against full enumeration, against an independent checker, and its bound
//! against both.

use risemark::shots::{Problem, Refused, Search, Wishes};
use risemark_tests::gun::{GunJob, solved};

#[test]
fn small_jobs_are_optimal_and_never_below_the_bound() {
    for seed in 0..120 {
        let n_shots = 3 + (seed as usize) % 4;
        let job = GunJob::generate(seed, n_shots, 1 + (seed as usize) % 3);
        let least = job.least();
        let raw = Search::new(job.problem()).bound();
        assert!(raw <= least + 1e-6, "job {seed}: bound {raw} above the optimum {least}");
        let (found, bound) = solved(job.problem());
        let cost = job.check(&found).expect("a valid order");
        assert!((cost - least).abs() < 1e-6, "job {seed}: {cost}, enumerated {least}");
        assert!(bound <= least + 1e-6, "job {seed}: bound {bound} above the optimum {least}");
    }
}

#[test]
fn every_order_passes_the_checker_and_beats_the_row_sweep() {
    for seed in 0..24 {
        let n_shots = 5 + (seed as usize) * 3;
        let job = GunJob::generate(seed, n_shots, 1 + (seed as usize) % 4);
        let mut search = Search::new(job.problem());
        // The beginnings alone have to beat the sweep; the rest of the search takes too long here.
        search.advance(30_000);
        let found = search.best().expect("an order after the first slice");
        let cost = job.check(found).expect("a valid order");
        assert!(search.bound() <= cost + 1e-6, "job {seed}: bound {} over {cost}", search.bound());
        if n_shots <= 14 {
            let sweep = job.least_of(&job.row_sweep(), f64::INFINITY);
            assert!(cost <= sweep + 1e-6, "job {seed}: {cost}, row sweep {sweep}");
        }
    }
}

#[test]
fn kits_that_run_empty_are_changed() {
    for seed in 0..12 {
        let job = GunJob::generate(seed, 30, 1 + (seed as usize) % 3).with_kits(150.0, 310.0);
        let mut search = Search::new(job.problem());
        search.advance(20_000);
        let found = search.best().expect("an order after the first slice");
        let cost = job.check(found).expect("a valid order");
        assert!(search.bound() <= cost + 1e-6, "job {seed}: bound {} over {cost}", search.bound());
    }
}

#[test]
fn the_same_job_gives_the_same_order_in_any_slices() {
    let job = GunJob::generate(3, 18, 2);
    let (at_once, _) = solved(job.problem());
    let mut search = Search::new(job.problem());
    while !search.advance(777) {}
    assert_eq!(search.best(), Some(&at_once), "the slices must not matter");
}

#[test]
fn wishes_are_kept_or_refused() {
    let job = GunJob::generate(5, 24, 3);
    let lowest: Vec<usize> =
        (0..job.shots.len()).filter(|shot| job.shots[*shot].after.is_none()).collect();
    let upper = (0..job.shots.len()).find(|shot| job.shots[*shot].after.is_some());
    let of_wall = |wall: usize| lowest.iter().copied().find(|shot| job.shots[*shot].wall == wall);
    let first = of_wall(1).expect("a shot of the second wall");
    let last = *lowest.last().expect("a shot");
    let wishes = Wishes {
        first: Some(first),
        walls: vec![1, 0],
        sequence: vec![last, lowest[lowest.len() - 2]],
    };
    let problem = Problem::new(&job.shots, &job.crew, &wishes);
    assert_eq!(problem.refused(), [], "nothing contradicts");
    let (found, bound) = solved(problem);
    let cost = job.check(&found).expect("a valid order");
    assert!(bound <= cost, "the bound holds with wishes");
    assert_eq!(found.order[0], first, "the first shot");
    let walls: Vec<usize> = found.order.iter().map(|shot| job.shots[*shot].wall).collect();
    let mut turns = walls.clone();
    turns.dedup();
    assert_eq!(turns, [1, 0, 2], "each wall is finished in its turn");
    let place = |shot: usize| found.order.iter().position(|other| *other == shot);
    assert!(place(last) < place(lowest[lowest.len() - 2]), "the sequence is kept");

    let upper = upper.expect("a shot over another");
    let below = job.shots[upper].after.expect("the one under it");
    let wishes = Wishes { first: Some(upper), sequence: vec![upper, below], ..Wishes::default() };
    let problem = Problem::new(&job.shots, &job.crew, &wishes);
    assert_eq!(problem.refused(), [Refused::First(upper), Refused::Sequence(below)]);
}
