//! What holds for every wall, checked on generated ones against the rules as they are stated, not
//! as they are coded.

mod own_holes;

use proptest::prelude::*;
use risemark::{
    WallPlan,
    drilling::{Earlier, Effort},
    file,
    found::{self, ReadAt, Standing},
    framing::{BayEffect, Frame, Member, MemberKind},
    geometry::{Point, Polygon, distance_to_edge},
    job::End,
    plan, plan_wall,
    quantity::{Length, Units, inches, millimeters, to_mm, to_mm2},
    rules::Rules,
};
use risemark_tests::walls;

const NEAR: Length = millimeters(0.01);

fn planned(wall: &risemark::job::Wall) -> (risemark::Plan, WallPlan) {
    let plan = plan(&walls::job(wall.clone()));
    let wall = plan.walls[0].clone();
    (plan, wall)
}

fn area(polygons: impl Iterator<Item = Polygon>) -> f64 {
    polygons.map(|polygon| to_mm2(polygon.area())).sum()
}

fn closing(frame: &Frame) -> Vec<Polygon> {
    let members = frame.members.iter().filter(|member| member.bay == BayEffect::Closes);
    let openings = frame.openings.iter().map(|opening| opening.polygon.clone());
    members.map(|member| member.polygon.clone()).chain(openings).collect()
}

fn inside(polygon: &Polygon, place: Point) -> bool {
    polygon.across(place.y).iter().any(|span| span.contains(place.x))
}

fn clear_of(polygon: &Polygon, place: Point, distance: Length) -> bool {
    !inside(polygon, place)
        && polygon.edges().all(|edge| distance - NEAR < distance_to_edge(place, edge))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(1911), ..ProptestConfig::default() })]

    #[test]
    fn members_openings_and_compartments_tile_the_outline(wall in walls::wall()) {
        let (_, plan) = planned(&wall);
        let whole = to_mm2(plan.frame.outline.area());
        let parts: Vec<Polygon> =
            closing(&plan.frame).into_iter().chain(plan.compartments.iter().map(|c| c.polygon.clone())).collect();
        let sum = area(parts.iter().cloned());
        let joined = area(risemark::geometry::union(&parts).into_iter());
        // One square millimetre of a wall of some square metres: rounding, nothing else.
        prop_assert!((sum - whole).abs() < 1.0, "parts sum to {sum}, the outline is {whole}");
        prop_assert!((joined - whole).abs() < 1.0, "parts cover {joined}, the outline is {whole}");
    }

    #[test]
    fn every_hole_is_clear_of_timber_things_and_zones(wall in walls::wall()) {
        let (job, plan) = planned(&wall);
        let edge = job.rules.edge_distance();
        for hole in &plan.drill.holes {
            let home = plan.compartment(hole.compartment).expect("a hole has its compartment");
            prop_assert!(inside(&home.polygon, hole.centre), "hole {} lies outside {}", hole.mark, home.id);
            for side in home.polygon.edges() {
                prop_assert!(edge - NEAR < distance_to_edge(hole.centre, side), "hole {} is near timber", hole.mark);
            }
            for member in plan.frame.members.iter().filter(|member| member.bay == BayEffect::Closes) {
                prop_assert!(clear_of(&member.polygon, hole.centre, edge), "hole {} is near {:?}", hole.mark, member.kind);
            }
            for obstacle in &plan.frame.obstacles {
                let distance = obstacle.keep_off + job.rules.bit / 2.0;
                let clear = obstacle.pieces.iter().all(|piece| clear_of(piece, hole.centre, distance));
                prop_assert!(clear, "hole {} is near {:?}", hole.mark, obstacle.what);
            }
            let step = job.rules.marking_step;
            for reading in [hole.across, hole.up] {
                let marks = (reading / step).value;
                prop_assert!((marks - marks.round()).abs() < 1e-6, "hole {} is off the marking step", hole.mark);
            }
        }
    }

    #[test]
    fn every_reach_rule_holds_or_a_finding_names_the_compartment(wall in walls::wall()) {
        let (job, plan) = planned(&wall);
        for compartment in &plan.compartments {
            let mut heights: Vec<Length> =
                plan.drill.holes.iter().filter(|hole| hole.compartment == compartment.id).map(|hole| hole.up).collect();
            if let Some(problem) = plan.why_empty(compartment) {
                prop_assert!(heights.is_empty(), "{} is drilled though it stays empty", compartment.id);
                let place = risemark::finding::Part::Compartment(compartment.id);
                let said = plan.findings.iter().any(|f| f.place.part == place && f.problem == *problem);
                prop_assert!(said, "{} stays empty in silence", compartment.id);
                continue;
            }
            heights.sort_by(|a, b| a.value.total_cmp(&b.value));
            heights.dedup();
            let most = job.rules.spacing_at(compartment.depth).expect("a filled compartment is deep enough").most;
            let mut from = compartment.lowest.y;
            for height in &heights {
                prop_assert!(*height - from < most + NEAR, "{} has {} mm to the next hole", compartment.id, to_mm(*height - from));
                from = *height;
            }
            let over = compartment.highest.y - from;
            prop_assert!(over < job.rules.top_reach + NEAR, "{} has {} mm over its top hole", compartment.id, to_mm(over));
        }
    }

    #[test]
    fn snap_lines_lie_between_their_bound_and_a_quick_plan(wall in walls::wall()) {
        let job = walls::job(wall);
        let rules = Rules::of(&job);
        let [quick, thorough] = [Effort::Quick, Effort::Thorough].map(|effort| plan_wall(&job, 0, &rules, effort).drill);
        prop_assert_eq!(quick.holes.len(), thorough.holes.len(), "as few holes either way");
        prop_assert!(thorough.snap_lines.len() <= quick.snap_lines.len(), "never worse than the quick way");
        prop_assert!(thorough.lines_bound <= thorough.snap_lines.len(), "never below the bound");
        let found = Earlier { lines: &thorough.snap_lines, places: &[] };
        let known = Effort::Known(found, thorough.lines_bound);
        prop_assert_eq!(&plan_wall(&job, 0, &rules, known).drill, &thorough, "known lines give the same plan");
    }

    #[test]
    fn a_mirrored_wall_has_the_mirrored_plan(wall in walls::wall()) {
        let (_, plan) = planned(&wall);
        let (_, turned) = planned(&wall.mirrored());
        prop_assert_eq!(plan.drill.holes.len(), turned.drill.holes.len(), "as many holes");
        for (hole, other) in plan.drill.holes.iter().zip(&turned.drill.holes) {
            prop_assert!((hole.across - other.across).abs() < NEAR, "hole {} across", hole.mark);
            prop_assert!((hole.up - other.up).abs() < NEAR, "hole {} up", hole.mark);
            prop_assert_eq!(hole.compartment, other.compartment, "hole {} in its compartment", hole.mark);
        }
    }

    #[test]
    fn studs_are_framed_where_they_were_found(wall in walls::wall(), gaps in prop::collection::vec(walls::quarters(8, 30), 1..12), centres in any::<bool>()) {
        // Studs of openings and of steps stand where they must, whatever was read beside them.
        prop_assume!(!matches!(wall.top, risemark::job::Edge::Points { .. }));
        let mut wall = risemark::job::Wall { openings: Vec::new(), ..wall };
        let mut at = inches(0.0);
        let run: Vec<Length> = gaps.into_iter().map(|gap| { at += gap; at }).collect();
        let read_at = if centres { ReadAt::Centre } else { ReadAt::NearEdge };
        let fit = found::fit(&wall, &found::centres(&wall, &run, read_at), Units::FeetInches);
        for studs in [fit.regular(&wall), fit.one_by_one(&wall)] {
            wall.studs = studs;
            let (_, plan) = planned(&wall);
            for stud in &fit.studs {
                if matches!(stud.place, Standing::Outside | Standing::AtTheEnd) {
                    continue;
                }
                let across = match wall.datum { End::Left => stud.centre, End::Right => wall.width - stud.centre };
                // A stud that counts as on the layout may stand a quarter of an inch beside it.
                let near = |member: &&Member| (member.polygon.bounds().x.middle() - across).abs() < inches(0.25) + NEAR;
                let framed = plan.frame.members.iter().any(|member| member.kind == MemberKind::Stud && near(&member));
                prop_assert!(framed, "no stud at {} in of {:?}", risemark::quantity::to_inches(across), fit);
            }
        }
    }

    #[test]
    fn a_job_is_read_as_it_was_written(wall in walls::wall()) {
        let job = walls::job(wall);
        let text = file::write(&job).expect("a generated job can be written");
        let read = file::read(&text).map_err(|findings| TestCaseError::fail(format!("{findings:?}")))?;
        prop_assert_eq!(file::write(&read), Ok(text), "the same bytes");
    }

    #[test]
    fn a_job_that_was_read_comes_back_from_its_own_file(wall in walls::wall(), figures in prop::array::uniform3(0.0..1.0_f64)) {
        let mut job = walls::job(wall);
        let [depth, usable, price] = figures;
        // Figures with more digits than anything is measured in.
        job.walls[0].depth = Some(inches(3.5 + depth));
        job.foam.usable = Some(50.0 + 40.0 * usable);
        job.foam.prices.hour = Some(9_999_999.0 * price);
        let text = serde_json::to_string(&file::JobFile { format: file::Format::RisemarkJob, version: file::VERSION, job: std::borrow::Cow::Borrowed(&job) });
        let read = file::read(&text.expect("a job fits into JSON")).map_err(|findings| TestCaseError::fail(format!("{findings:?}")))?;
        prop_assert!((read.foam.usable.unwrap_or(0.0) - (50.0 + 40.0 * usable)).abs() < 1e-6, "what is read is what was written");
        let text = file::write(&read).expect("what was read can be written");
        prop_assert_eq!(file::read(&text), Ok(read), "as it was read");
    }

    #[test]
    fn a_new_zone_never_lowers_the_number_of_holes_of_a_compartment(wall in walls::wall(), across in 0.0..0.8_f64, up in 0.0..0.8_f64) {
        let (_, before) = planned(&wall);
        let mut zoned = wall.clone();
        zoned.zones.push(risemark::job::Zone {
            kind: risemark::job::ZoneKind::Panel,
            left: wall.width * across,
            up: inches(60.0) * up,
            width: wall.width * 0.15,
            height: inches(8.0),
            keep_off: None,
        });
        prop_assume!(risemark::check::check_wall(&zoned).is_empty());
        let (_, after) = planned(&zoned);
        for compartment in &before.compartments {
            let count = |plan: &WallPlan| plan.drill.holes.iter().filter(|hole| hole.compartment == compartment.id).count();
            // A compartment that the zone blocks altogether is named by a finding instead.
            let blocked = after.drill.unreached.iter().any(|(id, _)| *id == compartment.id);
            prop_assert!(blocked || count(&before) <= count(&after), "{} needs fewer holes behind a zone", compartment.id);
        }
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in "\\PC{0,300}") {
        prop_assert!(file::read(&text).is_err(), "random text is no job");
    }

    #[test]
    fn no_broken_job_makes_the_reader_panic(wall in walls::wall(), at in any::<prop::sample::Index>(), with in "[\\[\\]{}\",:0-9a-z-]{0,6}", cut in 0usize..6) {
        let text = file::write(&walls::job(wall)).expect("a generated job can be written");
        let from = text.floor_char_boundary(at.index(text.len()));
        let rest: String = text[from..].chars().skip(cut).collect();
        let broken = format!("{}{with}{rest}", &text[..from]);
        if let Ok(job) = file::read(&broken) {
            let _ = plan(&job);
        }
    }
}
