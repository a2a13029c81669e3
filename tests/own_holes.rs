//! Holes that people set, drill or leave out, and what they want of the rows.

use proptest::prelude::*;
use risemark::{
    WallPlan,
    drilling::{Hole, HoleState},
    finding::Problem,
    geometry::Point,
    job::{
        Band, Block, BlockKind, Drilling, Liked, OwnHole, OwnState, RowsFrom, Wall, Zone, ZoneKind,
    },
    plan,
    quantity::{Length, inches, same},
};
use risemark_tests::{
    classes::{Class, wall_of},
    walls,
};

fn planned(wall: &Wall) -> WallPlan {
    plan(&walls::job(wall.clone())).walls.remove(0)
}

fn with(wall: &Wall, drilling: Drilling) -> Wall {
    Wall { drilling, ..wall.clone() }
}

/// Every hole of a plan as it would stand on the wall once it is marked there.
fn marked(plan: &WallPlan) -> Drilling {
    let mark = |hole: &Hole| u32::try_from(hole.mark).ok();
    let holes = plan.drill.holes.iter().map(|hole| OwnHole {
        state: OwnState::Marked,
        at: hole.centre,
        mark: mark(hole),
    });
    Drilling { holes: holes.collect(), ..Drilling::default() }
}

fn at_same_place(a: Point, b: Point) -> bool {
    same(a.x, b.x) && same(a.y, b.y)
}

/// Whether a place in the words of a finding names a compartment.
fn is_about(
    plan: &WallPlan,
    id: risemark::finding::CompartmentId,
    problem: fn(&Problem) -> bool,
) -> bool {
    let part = risemark::finding::Part::Compartment(id);
    plan.findings.iter().any(|finding| finding.place.part == part && problem(&finding.problem))
}

fn is_gap(problem: &Problem) -> bool {
    matches!(problem, Problem::HolesTooFarApart { .. } | Problem::NoHoleLeft)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(1913), ..ProptestConfig::default() })]

    #[test]
    fn a_hole_that_was_set_stays_and_the_rest_is_planned_round_it(wall in walls::wall(), across in 0.0..1.0_f64, up in 0.0..1.0_f64) {
        let before = planned(&wall);
        let top = before.frame.outline.bounds().y.to;
        let at = Point::new(wall.width * across, top * up);
        let own = OwnHole { state: OwnState::Set, at, mark: None };
        let wall = with(&wall, Drilling { holes: vec![own], ..Drilling::default() });
        prop_assume!(risemark::check::check_wall(&wall).is_empty());
        let after = planned(&wall);
        let set = after.drill.holes.iter().find(|hole| hole.state == HoleState::Own(0, OwnState::Set));
        let Some(set) = set else {
            prop_assert_eq!(after.drill.strays.iter().map(|(at, _)| *at).collect::<Vec<_>>(), vec![0], "it opens no space, and that is said");
            return Ok(());
        };
        prop_assert!(at_same_place(set.centre, at), "it stays where it was set");
        let rules = risemark::rules::Rules::of(&walls::job(wall.clone()));
        let home = after.compartment(set.compartment).expect("a hole has its compartment");
        let most = rules.spacing_at(home.depth).expect("it is filled").most;
        let one_column = home.clear_width <= rules.wide_bay;
        let mut heights: Vec<Length> =
            after.drill.holes.iter().filter(|hole| hole.compartment == home.id).map(|hole| hole.up).collect();
        heights.sort_by(|a, b| a.value.total_cmp(&b.value));
        let mut from = home.lowest.y;
        let mut holds = true;
        for height in heights {
            holds &= height - from < most + inches(0.001);
            from = height;
        }
        holds &= home.highest.y - from < rules.top_reach + inches(0.001);
        if one_column {
            prop_assert_eq!(holds, !is_about(&after, home.id, is_gap), "a rule is broken, or a finding says so");
        }
        let mut marks: Vec<usize> = after.drill.holes.iter().map(|hole| hole.mark).collect();
        let n_holes = marks.len();
        marks.dedup();
        prop_assert_eq!(marks.len(), n_holes, "every mark once");
    }

    #[test]
    fn marking_a_plan_on_the_wall_changes_nothing(wall in walls::wall()) {
        let before = planned(&wall);
        let after = planned(&with(&wall, marked(&before)));
        prop_assert_eq!(before.drill.holes.len(), after.drill.holes.len(), "as many holes");
        for (hole, other) in before.drill.holes.iter().zip(&after.drill.holes) {
            prop_assert_eq!(hole.mark, other.mark);
            prop_assert!(at_same_place(hole.centre, other.centre), "hole {} stays", hole.mark);
            prop_assert_eq!(hole.compartment, other.compartment);
        }
        prop_assert_eq!(before.drill.snap_lines.len(), after.drill.snap_lines.len());
    }

    #[test]
    fn a_block_found_at_the_wall_changes_the_plan_only_in_its_bay(wall in walls::wall(), across in 0.1..0.9_f64, up in 0.2..0.8_f64) {
        let before = planned(&wall);
        let at = Point::new(wall.width * across, before.frame.outline.bounds().y.to * up);
        let mut found = with(&wall, marked(&before));
        found.blocks.push(Block { kind: BlockKind::Full, from: at.x, to: None, up: at.y, height: None });
        prop_assume!(risemark::check::check_wall(&found).is_empty());
        let after = planned(&found);
        for hole in &before.drill.holes {
            let home = before.compartment(hole.compartment).expect("a hole has its compartment");
            let far = !home.polygon.bounds().x.widened(inches(1.0)).contains(at.x);
            let kept = after.drill.holes.iter().find(|other| other.mark == hole.mark);
            if far {
                let kept = kept.map(|other| other.centre);
                prop_assert!(kept.is_some_and(|place| at_same_place(place, hole.centre)), "hole {} stays", hole.mark);
            }
        }
        let highest = before.drill.holes.len();
        for hole in &after.drill.holes {
            let is_old = before.drill.holes.iter().any(|other| at_same_place(other.centre, hole.centre));
            prop_assert!(is_old || highest < hole.mark, "new hole {} takes no old number", hole.mark);
        }
    }

    #[test]
    fn a_hole_left_out_is_one_less_and_a_broken_rule(wall in walls::wall(), pick in any::<prop::sample::Index>()) {
        let before = planned(&wall);
        prop_assume!(!before.drill.holes.is_empty());
        let hole = &before.drill.holes[pick.index(before.drill.holes.len())];
        let out = OwnHole { state: OwnState::LeftOut, at: hole.centre, mark: None };
        let after = planned(&with(&wall, Drilling { holes: vec![out], ..Drilling::default() }));
        prop_assert_eq!(after.drill.holes.len() + 1, before.drill.holes.len(), "one hole less");
        prop_assert!(is_about(&after, hole.compartment, is_gap), "and a finding with both numbers");
    }

    #[test]
    fn no_hole_touches_a_barred_band(wall in walls::wall(), up in 0.1..0.9_f64) {
        let from = inches(96.0) * up;
        let band = Band { from, to: from + inches(3.0) };
        let plan = planned(&with(&wall, Drilling { barred: vec![band], ..Drilling::default() }));
        for hole in &plan.drill.holes {
            let clear = hole.up + inches(0.499) < band.from || band.to + inches(0.499) < hole.up;
            prop_assert!(clear, "hole {} is in the band", hole.mark);
        }
    }

    #[test]
    fn rows_from_the_ceiling_lie_on_the_marking_step_below_it(wall in walls::wall()) {
        let plan = planned(&with(&wall, Drilling { rows_from: RowsFrom::Ceiling, ..Drilling::default() }));
        for hole in &plan.drill.holes {
            let marks = ((plan.drill.ceiling - hole.up) / inches(0.25)).value;
            prop_assert!((marks - marks.round()).abs() < 1e-6, "hole {} is {marks} marks down", hole.mark);
        }
    }
}

#[test]
fn liked_heights_are_taken_where_they_cost_no_hole_and_no_line() {
    for seed in 0..12 {
        let wall = wall_of(Class::Openings, seed);
        let before = planned(&wall);
        let liked = vec![
            Liked::Band { from: inches(40.0), to: inches(47.0) },
            Liked::Laps { first: inches(2.5), spacing: inches(7.25) },
        ];
        let after = planned(&with(&wall, Drilling { liked: liked.clone(), ..Drilling::default() }));
        assert_eq!(before.drill.holes.len(), after.drill.holes.len(), "wall {seed}: as many holes");
        let lines = |plan: &WallPlan| plan.drill.snap_lines.clone();
        assert_eq!(lines(&before).len(), lines(&after).len(), "wall {seed}: as many lines");
        let is_liked = |up: &Length| {
            let laps = ((*up - inches(2.5)) / inches(7.25)).value;
            let on_lap = (laps - laps.round()).abs() * 7.25 < 0.126;
            on_lap || (inches(40.0) <= *up && *up <= inches(47.0))
        };
        let count = |plan: &WallPlan| lines(plan).iter().filter(|up| is_liked(up)).count();
        assert!(count(&before) <= count(&after), "wall {seed}: no fewer liked lines");
    }
}

#[test]
fn rows_of_the_wall_next_door_are_taken_over() {
    let (wall, next) = (wall_of(Class::Plain, 3), wall_of(Class::Plain, 3));
    let mut lines = planned(&wall).drill.snap_lines;
    // As if the neighbour had its rows a little lower.
    lines.iter_mut().for_each(|line| *line -= inches(1.0));
    let liked = lines.iter().map(|&up| Liked::Height { up }).collect();
    let after = planned(&with(&next, Drilling { liked, ..Drilling::default() }));
    for (line, other) in lines.iter().zip(&after.drill.snap_lines) {
        assert!(same(*line, *other), "{lines:?} and {:?}", after.drill.snap_lines);
    }
}

#[test]
fn a_column_of_a_wide_bay_that_no_hole_fits_is_said_beside_one_that_has_some() {
    let jobs = risemark_tests::example_jobs().into_iter();
    let plain = jobs.filter(|(name, _)| name == "plain-wall").map(|(_, job)| job).next();
    let mut job = plain.expect("the plain example");
    // Two columns in each bay, and a panel that is higher than rows may lie apart.
    job.rules.wide_bay = Some(inches(10.0));
    job.walls[0].zones = vec![Zone {
        kind: ZoneKind::Panel,
        left: inches(0.0),
        up: inches(8.0),
        width: job.walls[0].width,
        height: inches(60.0),
        keep_off: None,
    }];
    let at = Point::new(inches(5.0), inches(40.0));
    job.walls[0].drilling.holes = vec![OwnHole { state: OwnState::Drilled, at, mark: None }];
    let plan = plan(&job).walls.remove(0);
    let own = plan.drill.holes.iter().find(|hole| hole.centre == at).expect("it stays");
    let right = |hole: &&Hole| hole.compartment == own.compartment && inches(8.0) < hole.across;
    assert_eq!(plan.drill.holes.iter().find(right), None, "none fits beside it");
    assert!(is_about(&plan, own.compartment, |problem| matches!(
        problem,
        Problem::NoHoleFits { .. }
    )));
}
