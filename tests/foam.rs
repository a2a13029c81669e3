//! Foam against figures from outside the project, and against second ways of finding the same.

use risemark::{
    Plan, WallPlan,
    compartments::Compartment,
    drilling::HoleState,
    finding::Problem,
    foam::{Fit, FlowBasis, PourPlan, Sprayed, Tail},
    geometry::{Point, Polygon, Rect, Span, intersection},
    job::{Job, Kit, OwnHole, OwnState, Scatter, ShotSpace, TestShot},
    limits, plan, pour,
    quantity::{
        Length, Time, Volume, board_feet, count, inches, seconds, to_board_feet, to_cubic_feet,
        to_cubic_inches_per_second, to_liters, to_mm2, to_mm3, to_seconds,
    },
    shoot,
};
use risemark_tests::{example_jobs, random::Random, walls};

use proptest::prelude::*;

fn example(name: &str) -> Job {
    let found = example_jobs().into_iter().find(|(folder, _)| folder == name);
    found.map(|(_, job)| job).expect("the example is there")
}

fn poured(job: &Job) -> (Plan, PourPlan, Vec<&'static str>) {
    let plan = plan(job);
    let staged = pour(job, &plan);
    let codes = staged.findings.iter().map(|finding| finding.problem.code()).collect();
    (plan, staged.product, codes)
}

fn relative(found: f64, wanted: f64, tolerance: f64, what: &str) {
    let error = (found / wanted - 1.0).abs();
    assert!(error <= tolerance, "{what}: found {found}, wanted {wanted}, relative error {error}");
}

/// Figures without a unit, put into the units that quantities are kept in.
fn sprayed(x: &[f64], y: &[f64]) -> Vec<Sprayed> {
    let shot = |(idx, (x, y)): (usize, (&f64, &f64))| Sprayed {
        number: idx + 1,
        time: seconds(*x),
        volume: cubic_meters(*y),
    };
    x.iter().zip(y).enumerate().map(shot).collect()
}

fn cubic_meters(value: f64) -> Volume {
    let mut volume = inches(1.0) * inches(1.0) * inches(1.0);
    volume.value = value;
    volume
}

fn box_shot(time: f64, rise: f64) -> TestShot {
    let space = ShotSpace::Box { width: inches(14.5), depth: inches(3.5) };
    let rise = inches(rise);
    TestShot { seconds: time, waited: Some(120.0), rise, space, nozzle: None, temperature: None }
}

/// Two data sets of the NIST Statistical Reference Datasets, linear regression without intercept.
#[test]
fn lines_through_the_origin_have_the_certified_values() {
    let x: Vec<f64> = (60..=70).map(f64::from).collect();
    let y: Vec<f64> = (130..=140).map(f64::from).collect();
    let no_int_1 =
        (x, y, [2.07438016528926, 0.0165289256198347, 3.56753034006338, 0.999365492298663]);
    let no_int_2 = (
        vec![4.0, 5.0, 6.0],
        vec![3.0, 4.0, 4.0],
        [0.727272727272727, 0.0420827318078432, 0.369274472937998, 0.993348115299335],
    );
    for (x, y, [slope, error, deviation, r_squared]) in [no_int_1, no_int_2] {
        let fit = Fit::through_origin(&sprayed(&x, &y), Scatter::Even).expect("a line");
        relative(fit.rate.value, slope, 1e-12, "slope");
        relative(fit.standard_error.value, error, 1e-12, "standard error");
        relative(fit.spread.value, deviation, 1e-12, "residual standard deviation");
        relative(fit.r_squared, r_squared, 1e-12, "R squared");
    }
}

/// NIST/SEMATECH e-Handbook 1.3.6.7.2, one-sided; the last column by computation, as reprints differ.
#[test]
fn students_t_is_as_tabled() {
    const ONE_SIDED: [f64; 6] = [0.90, 0.95, 0.975, 0.99, 0.995, 0.999];
    const TABLE: [(u32, [f64; 6]); 10] = [
        (1, [3.078, 6.314, 12.706, 31.821, 63.657, 318.309]),
        (2, [1.886, 2.920, 4.303, 6.965, 9.925, 22.327]),
        (3, [1.638, 2.353, 3.182, 4.541, 5.841, 10.215]),
        (4, [1.533, 2.132, 2.776, 3.747, 4.604, 7.173]),
        (5, [1.476, 2.015, 2.571, 3.365, 4.032, 5.893]),
        (6, [1.440, 1.943, 2.447, 3.143, 3.707, 5.208]),
        (7, [1.415, 1.895, 2.365, 2.998, 3.499, 4.785]),
        (9, [1.383, 1.833, 2.262, 2.821, 3.250, 4.297]),
        (12, [1.356, 1.782, 2.179, 2.681, 3.055, 3.930]),
        (15, [1.341, 1.753, 2.131, 2.602, 2.947, 3.733]),
    ];
    const NORMAL: [f64; 6] = [1.282, 1.645, 1.960, 2.326, 2.576, 3.090];
    let rows = TABLE.map(|(degrees, row)| (Tail::Student { degrees }, row));
    for (tail, row) in rows.into_iter().chain([(Tail::Normal, NORMAL)]) {
        for (one_sided, wanted) in ONE_SIDED.into_iter().zip(row) {
            let found = tail.within(2.0 * one_sided - 1.0);
            // Half a digit of the last place.
            assert!((found - wanted).abs() < 5.1e-4, "{tail:?} at {one_sided}: {found}, {wanted}");
        }
    }
}

/// An inch is 25.4 mm exactly (NIST SP 811); yields by weight are 12 board feet over the density in
/// pounds a cubic foot.
#[test]
fn board_feet_are_exact() {
    relative(to_liters(board_feet(1.0)), 2.359_737_216, 1e-14, "litres in a board foot");
    relative(to_liters(board_feet(12.0)), 28.316_846_592, 1e-14, "litres in a cubic foot");
    for (density, wanted) in [(0.5, 24.0), (1.75, 6.857), (2.0, 6.0), (2.2, 5.455), (3.0, 4.0)] {
        let pound = board_feet(12.0) / density;
        assert!((to_board_feet(pound) - wanted).abs() < 5.1e-4, "a pound at {density}");
        relative(to_cubic_feet(pound), 1.0 / density, 1e-14, "cubic feet");
    }
}

/// Common practice, no source: in a bay of 14-1/2 by 3-1/2 in a second rises an inch, so 30 s rise 30 in.
#[test]
fn a_second_is_an_inch_in_a_usual_bay() {
    relative(to_cubic_inches_per_second(limits::FLOW), 50.75, 1e-14, "usual flow");
    let mut job = example("plain-wall");
    let (plan, pour, codes) = poured(&job);
    assert_eq!(pour.flow.basis, FlowBasis::Assumed, "nothing was tested");
    assert!(codes.contains(&"flow-untested"), "and that is said: {codes:?}");
    let usual = plan.walls[0].compartments.iter().find(|c| near(c.clear_width, inches(14.5)));
    let usual = usual.expect("a bay of 14-1/2 in");
    let at = plan.walls[0].drill.holes.iter().position(|hole| hole.compartment == usual.id);
    let at = at.expect("it has a hole");
    let rise = plan.walls[0].lifts[at].to - plan.walls[0].lifts[at].from;
    let found = pour.walls[0].holes[at].time.value;
    relative(found, (rise / inches(1.0)).value.round(), 1e-12, "seconds and inches");

    job.foam.test_shots = vec![box_shot(30.0, 30.0)];
    let (_, pour, codes) = poured(&job);
    relative(to_cubic_inches_per_second(pour.flow.rate), 50.75, 1e-12, "one shot");
    assert_eq!(pour.sprayed, None, "one shot has no interval");
    assert!(codes.contains(&"one-test-shot"), "and that is said: {codes:?}");
}

fn near(a: Length, b: Length) -> bool {
    (a - b).abs() < inches(1e-4)
}

/// A bay of the job and a free box of its size give the same flow.
#[test]
fn a_test_shot_in_a_bay_knows_its_width_and_depth() {
    let mut job = example("plain-wall");
    let bay = |time: f64, rise: f64, waited: f64| TestShot {
        space: ShotSpace::Bay { wall: job.walls[0].id.clone(), at: inches(24.0) },
        waited: Some(waited),
        ..box_shot(time, rise)
    };
    let shots = vec![bay(10.0, 10.5, 120.0), bay(20.0, 19.0, 120.0), bay(30.0, 30.25, 120.0)];
    let late = vec![bay(60.0, 60.0, 40.0), bay(10.0, 10.0, 90.0)];
    job.foam.test_shots = shots;
    let (_, in_bay, codes) = poured(&job);
    assert_eq!(codes, Vec::<&str>::new(), "nothing to say of good shots");
    job.foam.test_shots = vec![box_shot(10.0, 10.5), box_shot(20.0, 19.0), box_shot(30.0, 30.25)];
    let (_, in_box, _) = poured(&job);
    relative(in_bay.flow.rate.value, in_box.flow.rate.value, 1e-12, "bay and box");
    let ranges = in_bay.walls[0].holes.iter().map(|hole| (hole, hole.range.expect("a range")));
    for (hole, range) in ranges {
        assert!(range.low < hole.time && hole.time < range.high, "{hole:?}");
    }

    job.foam.test_shots = late;
    let (_, _, codes) = poured(&job);
    assert!(codes.contains(&"read-too-soon"), "40 s of waiting: {codes:?}");
    assert!(codes.contains(&"rose-above-hole"), "60 in, the hole is at 44: {codes:?}");
}

#[test]
fn doubtful_test_shots_are_named() {
    let mut job = example("plain-wall");
    job.foam.test_shots = vec![box_shot(10.0, 10.0), box_shot(20.0, 20.5), box_shot(30.0, 48.0)];
    job.foam.test_shots[0].nozzle = Some(1);
    job.foam.test_shots[1].nozzle = Some(2);
    job.foam.test_shots[1].temperature = Some(27.0);
    job.foam.test_shots[2].temperature = Some(15.0);
    let staged = pour(&job, &plan(&job));
    let disagreeing = |finding: &&risemark::finding::Finding| {
        matches!(finding.problem, Problem::ShotDisagrees { .. })
    };
    let places: Vec<_> = staged.findings.iter().filter(disagreeing).map(|f| &f.place).collect();
    assert_eq!(places.len(), 1, "{:?}", staged.findings);
    assert!(format!("{:?}", places[0]).contains("number: 3"), "the third: {places:?}");
    let codes: Vec<&str> = staged.findings.iter().map(|finding| finding.problem.code()).collect();
    assert!(codes.contains(&"nozzle-changed"), "{codes:?}");
    assert!(codes.contains(&"temperature-changed"), "{codes:?}");

    job.foam.test_shots[0].space = ShotSpace::Bay { wall: "none".to_owned(), at: inches(1.0) };
    let staged = pour(&job, &plan(&job));
    let codes: Vec<&str> = staged.findings.iter().map(|finding| finding.problem.code()).collect();
    assert!(codes.contains(&"nothing-there"), "{codes:?}");
    assert_eq!(staged.product.flow.shots.len(), 2, "the shot without a bay does not count");
}

#[test]
fn long_high_and_large_lifts_are_split_and_their_shots_sum_up() {
    let mut job = example("workshop");
    job.foam.longest_shot = Some(20.0);
    job.foam.lift_height = Some(inches(18.0));
    job.foam.shot_volume = Some(5.0);
    let (plan, pour, codes) = poured(&job);
    let all = plan.walls.iter().zip(&pour.walls);
    for (lift, hole) in all.flat_map(|(wall, pour)| wall.lifts.iter().zip(&pour.holes)) {
        let sum = hole.shots.iter().fold(seconds(0.0), |sum, shot| sum + *shot);
        assert_eq!(sum, hole.time, "hole {}", hole.hole);
        assert!(hole.shots.iter().all(|shot| *shot <= seconds(20.0)), "{hole:?}");
        let n_shots = count(hole.shots.len());
        assert!(lift.to - lift.from <= inches(18.001) * n_shots, "{hole:?}");
        assert!(hole.volume <= board_feet(5.000_001) * n_shots, "{hole:?}");
    }
    assert!(codes.contains(&"lifts-too-high"), "and that is said: {codes:?}");
}

/// What is patched over was filled before: nothing is shot through it again, and nothing bought for it.
#[test]
fn of_two_holes_over_each_other_the_upper_fills_what_the_lower_leaves() {
    let mut job = example("plain-wall");
    let set = |up: f64| OwnHole {
        state: OwnState::Set,
        at: Point::new(inches(24.0), inches(up)),
        mark: None,
    };
    job.walls.truncate(1);
    job.walls[0].drilling.holes = vec![set(44.0), set(45.5), set(90.0)];
    let (plan, ..) = poured(&job);
    let holes = &plan.walls[0].drill.holes;
    let here = |up: f64| {
        let is_it = |hole: &&risemark::drilling::Hole| {
            near(hole.up, inches(up)) && near(hole.centre.x, inches(24.0))
        };
        let at = holes.iter().position(|hole| is_it(&hole)).expect("the hole is planned");
        plan.walls[0].lifts[at]
    };
    let (lower, upper) = (here(44.0), here(45.5));
    assert!(near(lower.to, inches(44.0)), "up to the lower hole: {lower:?}");
    assert!(near(upper.from, inches(44.0)), "from there: {upper:?}");
    assert!(near(upper.to, inches(45.5)), "and no more than that: {upper:?}");
}

#[test]
fn a_patched_hole_takes_no_shot_and_no_foam() {
    let mut job = example("plain-wall");
    let (plan, full, _) = poured(&job);
    let hole = &plan.walls[0].drill.holes[0];
    let mark = u32::try_from(hole.mark).ok();
    let own = |state| OwnHole { state, at: hole.centre, mark };
    job.walls[0].drilling.holes = vec![own(OwnState::Drilled)];
    let (_, drilled, _) = poured(&job);
    assert_eq!(drilled.walls, full.walls, "a hole that is only drilled is still to be filled");

    job.walls[0].drilling.holes = vec![own(OwnState::Patched)];
    let (plan, rest, _) = poured(&job);
    let (before, after) = (&full.walls[0].holes[0], &rest.walls[0].holes[0]);
    assert_eq!(plan.walls[0].drill.holes[0].state, HoleState::Own(0, OwnState::Patched));
    assert!(after.shots.is_empty() && after.range.is_none(), "no shot: {after:?}");
    assert!(to_seconds(after.time).abs() < 1e-12, "no seconds: {after:?}");
    assert_eq!(after.volume, before.volume, "its lift stays");
    assert_eq!(rest.walls[0].holes[1..], full.walls[0].holes[1..], "the others are as before");
    relative(
        to_mm3(rest.volume),
        to_mm3(full.volume) - to_mm3(before.volume),
        1e-12,
        "what is left to buy for",
    );
    let order = shoot(&job, &plan, &rest).product.order;
    assert!(order.iter().all(|shot| shot.hole != hole.mark), "it has no turn");
    assert_eq!(order.len() + 1, shoot(&job, &plan, &full).product.order.len(), "one shot less");
}

/// The usual count of kits: volume with waste over nominal yield by usable share, rounded up.
#[test]
fn kits_without_any_spread_are_counted_as_by_hand() {
    let mut job = example("workshop");
    job.foam.usable_spread = Some(0.0);
    job.foam.usable = Some(80.0);
    job.foam.waste = Some(15.0);
    job.foam.test_shots = vec![box_shot(10.0, 10.0), box_shot(20.0, 20.0), box_shot(30.0, 30.0)];
    for size in [15.0, 100.0, 200.0, 600.0] {
        job.foam.kits = vec![Kit { board_feet: size, price: Some(100.0), at_hand: Some(1) }];
        let (_, pour, codes) = poured(&job);
        let by_hand = (to_board_feet(pour.volume) * 1.15 / (size * 0.8)).ceil();
        for choice in &pour.buying.choices {
            let n_kits = f64::from(choice.chance.n_kits);
            assert!((n_kits - by_hand).abs() < 0.5, "{n_kits} of {size}, by hand {by_hand}");
            relative(choice.cost.expect("a price"), 100.0 * by_hand, 1e-12, "cost");
        }
        assert!(codes.contains(&"foam-runs-short"), "one kit is too little: {codes:?}");
    }
}

/// Yields that scatter so much that they could be nothing give no kits for 98 percent, and no endless search.
#[test]
fn a_chance_that_no_kits_give_is_not_pretended() {
    let mut job = example("workshop");
    job.foam.usable = Some(40.0);
    job.foam.usable_spread = Some(30.0);
    // The largest is the dearest by volume, so that another carries the bulk.
    job.foam.kits[0].price = Some(5_000.0);
    let (_, pour, _) = poured(&job);
    let surest = &pour.buying.choices[2];
    assert!(surest.chance.chance < surest.asked, "{surest:?}");
}

/// Gas law alone, from 82 to 68 and 60 °F.
#[test]
fn cold_components_yield_less_by_the_gas_law() {
    let mut job = example("plain-wall");
    for (fahrenheit, wanted) in [(68.0, 0.9742), (60.0, 0.9594)] {
        job.foam.temperature = Some((fahrenheit - 32.0) / 1.8);
        let (_, pour, codes) = poured(&job);
        assert!((pour.rules.temperature_share() - wanted).abs() < 2e-4, "at {fahrenheit} °F");
        assert!(codes.contains(&"cold-foam"), "{codes:?}");
    }
}

#[test]
fn one_kit_more_is_advised_only_where_the_users_prices_say_so() {
    let mut job = example("workshop");
    // Small kits come close to the chance that was asked for, so that one more still counts.
    job.foam.kits = vec![Kit { board_feet: 15.0, price: Some(45.0), at_hand: None }];
    job.foam.prices.return_trip = None;
    assert_eq!(poured(&job).1.buying.advice, None, "no price of coming back, no advice");
    job.foam.prices.return_trip = Some(1.0);
    assert_eq!(poured(&job).1.buying.advice, None, "coming back is cheap");
    job.foam.prices.return_trip = Some(100_000.0);
    let advice = poured(&job).1.buying.advice.expect("coming back is dear");
    assert!(advice.without < advice.with, "{advice:?}");
    assert!(advice.price < advice.risk, "{advice:?}");
}

/// Fieller's ends are those where the interval of one shot just reaches the volume.
#[test]
fn the_range_of_seconds_ends_where_the_interval_reaches_the_volume() {
    for scatter in [Scatter::Even, Scatter::Growing] {
        let shots = sprayed(&[10.0, 20.0, 30.0, 25.0], &[10.4, 19.1, 30.9, 24.6]);
        let fit = Fit::through_origin(&shots, scatter).expect("a line");
        for wanted in [15.0, 44.0, 90.0] {
            let range = fit.seconds(cubic_meters(wanted), 0.95).expect("a range");
            let (low, high) = (fit.volume(1, range.low, 0.95), fit.volume(1, range.high, 0.95));
            relative(low.high.value, wanted, 1e-9, "the most that the shortest gives");
            relative(high.low.value, wanted, 1e-9, "the least that the longest gives");
        }
    }
}

/// A simulation with a fixed seed: of intervals that claim 95 % so many hold the truth.
#[test]
fn intervals_hold_as_often_as_they_claim() {
    const ROUNDS: usize = 8_000;
    let mut random = Random::seeded(1912);
    let (slope, times) = (0.83, [8.0, 15.0, 22.0, 30.0, 40.0]);
    let planned: Vec<f64> = (0..40).map(|idx| 12.0 + f64::from(idx % 9) * 5.0).collect();
    for scatter in [Scatter::Even, Scatter::Growing] {
        let spread = |time: f64| match scatter {
            Scatter::Even => 1.1,
            Scatter::Growing => 0.25 * time.sqrt(),
        };
        let mut held = [0_usize; 3];
        for _ in 0..ROUNDS {
            let mut shoot = |time: f64| slope * time + spread(time) * random.normal();
            let shots = sprayed(&times, &times.map(&mut shoot));
            let together: f64 = planned.iter().map(|time| shoot(*time)).sum();
            let one = shoot(25.0);
            let fit = Fit::through_origin(&shots, scatter).expect("a line");
            let all = fit.volume(planned.len(), seconds(planned.iter().sum()), 0.95);
            let single = fit.volume(1, seconds(25.0), 0.95);
            let range = fit.seconds(cubic_meters(one), 0.95);
            let inside = |low: f64, value: f64, high: f64| low <= value && value <= high;
            held[0] += usize::from(inside(all.low.value, together, all.high.value));
            held[1] += usize::from(inside(single.low.value, one, single.high.value));
            held[2] += usize::from(
                range.is_some_and(|range| inside(range.low.value, 25.0, range.high.value)),
            );
        }
        for (what, held) in ["job", "hole", "seconds"].into_iter().zip(held) {
            let share = count(held) / count(ROUNDS);
            assert!((0.94..=0.96).contains(&share), "{scatter:?}, {what}: {share}");
        }
    }
}

/// The boolean operations of another library as the second way, on ragged rings.
#[test]
fn the_area_within_a_rectangle_is_that_of_the_common_polygon() {
    let mut random = Random::seeded(7);
    for round in 0..2_000 {
        let n_corners = 3 + round % 9;
        let corners = (0..n_corners).map(|idx| {
            let turn = std::f64::consts::TAU * count(idx) / count(n_corners);
            let reach = 20.0 + 60.0 * random.share();
            Point::new(
                inches(100.0 + reach * libm::cos(turn)),
                inches(100.0 + reach * libm::sin(turn)),
            )
        });
        let polygon = Polygon::simple(corners.collect());
        let mut span = || {
            Span::new(inches(10.0 + 180.0 * random.share()), inches(10.0 + 180.0 * random.share()))
        };
        let part = Rect { x: span(), y: span() };
        let common = intersection(std::slice::from_ref(&polygon), &[part.polygon()]);
        let wanted: f64 = common.iter().map(|piece| to_mm2(piece.area())).sum();
        let found = to_mm2(polygon.area_within(part));
        assert!((found - wanted).abs() < 0.1, "round {round}: {found} {wanted} of {part:?}");
    }
}

/// What each hole fills, by points: the lowest row that is not below a point, the nearest hole in it.
fn sampled(wall: &WallPlan, compartment: &Compartment) -> Vec<(usize, f64)> {
    let holes = || wall.drill.holes.iter().filter(|hole| hole.compartment == compartment.id);
    let mut levels: Vec<Length> = holes().map(|hole| hole.up).collect();
    levels.sort_by(|a, b| a.value.total_cmp(&b.value));
    let mut rows: Vec<(Length, Length)> = Vec::new();
    for level in levels {
        match rows.last_mut() {
            Some((first, last)) if level - *first <= limits::SAME_ROW => *last = level,
            _ => rows.push((level, level)),
        }
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let bounds = compartment.polygon.bounds();
    let (n_across, n_up) = (40, 600);
    let cell = bounds.x.length() * bounds.y.length() / count(n_across * n_up);
    let mut volumes: Vec<(usize, f64)> = holes().map(|hole| (hole.mark, 0.0)).collect();
    for up in 0..n_up {
        let y = bounds.y.from + bounds.y.length() * ((count(up) + 0.5) / count(n_up));
        let row = rows.iter().find(|(_, last)| y <= *last).or(rows.last()).expect("a row");
        let open = compartment.polygon.across(y);
        for across in 0..n_across {
            let x = bounds.x.from + bounds.x.length() * ((count(across) + 0.5) / count(n_across));
            if !open.iter().any(|span| span.contains(x)) {
                continue;
            }
            let of_row = holes().filter(|hole| row.0 <= hole.up && hole.up <= row.1);
            let distance = |hole: &&risemark::drilling::Hole| (hole.centre.x - x).abs().value;
            let nearest = of_row.min_by(|a, b| distance(a).total_cmp(&distance(b)));
            let mark = nearest.expect("a hole in the row").mark;
            let taken = compartment
                .taken
                .iter()
                .find(|part| part.polygon.across(y).iter().any(|span| span.contains(x)));
            let depth = taken.map_or(compartment.depth, |part| compartment.depth - part.depth);
            let entry = volumes.iter_mut().find(|(of, _)| *of == mark).expect("a hole here");
            entry.1 += to_mm3(cell * depth);
        }
    }
    volumes
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(1913), ..ProptestConfig::default() })]

    #[test]
    fn lifts_sum_to_their_compartment(wall in walls::wall()) {
        let plan = plan(&walls::job(wall));
        let wall = &plan.walls[0];
        prop_assert_eq!(wall.lifts.len(), wall.drill.holes.len(), "a lift for each hole");
        for compartment in &wall.compartments {
            let here = |(hole, _): &(&risemark::drilling::Hole, _)| hole.compartment == compartment.id;
            let lifts: Vec<_> = wall.drill.holes.iter().zip(&wall.lifts).filter(here).collect();
            if lifts.is_empty() {
                continue;
            }
            let sum: f64 = lifts.iter().map(|(_, lift)| lift.volume.value).sum();
            let whole = compartment.volume.value;
            prop_assert!((sum - whole).abs() <= 1e-9 * whole.abs(), "{}: {sum} of {whole}", compartment.id);
            for (hole, lift) in lifts {
                prop_assert_eq!(hole.mark, lift.hole, "in the order of the holes");
                prop_assert!(-1e-12 < lift.volume.value, "{}: {:?}", hole.mark, lift);
            }
        }
    }

    #[test]
    fn every_hole_pours_whole_seconds_of_its_lift(wall in walls::wall()) {
        let job = walls::job(wall);
        let (plan, pour, _) = poured(&job);
        for (lift, hole) in plan.walls[0].lifts.iter().zip(&pour.walls[0].holes) {
            let exact: Time = lift.volume / pour.flow.rate;
            prop_assert!(hole.time.value.fract().abs() < 1e-12, "{hole:?}");
            prop_assert!((hole.time - exact).abs() <= seconds(1.0), "{hole:?} for {exact:?}");
            let sum = hole.shots.iter().fold(seconds(0.0), |sum, shot| sum + *shot);
            prop_assert_eq!(sum, hole.time, "shots sum up");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(1914), ..ProptestConfig::default() })]

    #[test]
    fn lifts_are_as_a_fine_sample_has_them(wall in walls::wall()) {
        let plan = plan(&walls::job(wall));
        let wall = &plan.walls[0];
        for compartment in &wall.compartments {
            for (mark, wanted) in sampled(wall, compartment) {
                let lift = wall.lifts.iter().find(|lift| lift.hole == mark).expect("its lift");
                let found = to_mm3(lift.volume);
                let whole = to_mm3(compartment.area * compartment.depth);
                prop_assert!((found - wanted).abs() < 0.03 * whole, "hole {mark}: {found}, sampled {wanted} of {whole}");
            }
        }
    }
}
