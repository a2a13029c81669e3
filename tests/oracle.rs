//! Figures from outside the project, each with its source beside it.

use risemark::{
    WallPlan, file,
    framing::{BayEffect, MemberKind},
    geometry::Point,
    job::{
        BayException, Edge, Job, Liked, Lumber, OwnHole, OwnState, SkipReason, StudLayout, Wall,
    },
    limits, plan,
    quantity::{
        Length, Units, inches, millimeters, same, to_board_feet, to_cubic_feet, to_inches,
        to_liters, to_mm, to_mm2,
    },
};
use risemark_tests::{example_jobs, walls};

fn example(name: &str) -> Job {
    example_jobs()
        .into_iter()
        .find(|(folder, _)| folder == name)
        .map(|(_, job)| job)
        .expect("the example is there")
}

fn near(found: f64, wanted: f64, tolerance: f64, what: &str) {
    assert!((found - wanted).abs() < tolerance, "{what}: found {found}, wanted {wanted}");
}

fn plain() -> (Wall, WallPlan) {
    let job = example("plain-wall");
    let planned = plan(&job).walls[0].clone();
    (job.walls[0].clone(), planned)
}

/// Hand calculation: 13 studs of 1-1/2 in, so ten bays of 14-1/2 in and two of 13-3/4 in.
#[test]
fn a_plain_wall_of_192_in_has_twelve_bays() {
    let (_, plan) = plain();
    let studs = plan.frame.members.iter().filter(|member| member.kind == MemberKind::Stud).count();
    assert_eq!(studs, 13, "studs at 16 in on centre, the end studs flush");
    let widths: Vec<f64> = plan.compartments.iter().map(|c| to_inches(c.clear_width)).collect();
    assert_eq!(widths.len(), 12, "bays");
    near(widths[0], 13.75, 1e-5, "first bay");
    near(widths[11], 13.75, 1e-5, "last bay");
    for width in &widths[1..11] {
        near(*width, 14.5, 1e-5, "a bay between");
    }
}

/// Computed apart from this project with a polygon library and by hand: 2670.1875 of 18648 square inches.
#[test]
fn a_plain_wall_has_the_framing_factor_0_143189() {
    let (_, plan) = plain();
    let closing = plan.frame.members.iter().filter(|member| member.bay == BayEffect::Closes);
    let timber: f64 = closing.map(|member| to_mm2(member.polygon.area())).sum();
    near(timber / to_mm2(plan.frame.outline.area()), 0.143_188_95, 1e-7, "framing factor");
}

/// Precut studs of 92-5/8, 104-5/8 and 116-5/8 in with three plates (the first from a builders'
/// journal, the others common practice, no source): clear heights and board feet of a full bay.
#[test]
fn precut_walls_have_their_heights_and_board_feet() {
    for (height, clear, board_feet) in
        [(97.125, 92.625, 32.6439), (109.125, 104.625, 36.8730), (121.125, 116.625, 41.1022)]
    {
        let (mut wall, _) = plain();
        wall.top = Edge::Level { height: inches(height) };
        let plan = plan(&walls::job(wall)).walls[0].clone();
        let bay = &plan.compartments[5];
        near(to_inches(bay.highest.y - bay.lowest.y), clear, 1e-5, "clear height");
        near(to_board_feet(bay.volume), board_feet, 1e-4, "board feet");
    }
}

/// Sizes of a two by four: full when it was rough (mostly before the 1920s), 1-5/8 by 3-5/8 in from
/// the 1920s to the 1960s, 1-1/2 by 3-1/2 in since the size agreement of 1961 and PS 20-70, as a public
/// reference page on softwood sizes has them. With studs at 16 in the clear bays follow.
#[test]
fn the_lumber_of_a_period_gives_depth_and_clear_bay() {
    for (lumber, depth, bay) in [
        (Lumber::Rough2x4, 4.0, 14.0),
        (Lumber::Early2x4, 3.625, 14.375),
        (Lumber::Dressed2x4, 3.5, 14.5),
    ] {
        let (mut wall, _) = plain();
        wall.lumber = Some(lumber);
        (wall.depth, wall.studs.thickness, wall.plates.thickness) = (None, None, None);
        let plan = plan(&walls::job(wall)).walls[0].clone();
        near(to_inches(plan.frame.depth), depth, 1e-9, "depth");
        near(to_inches(plan.compartments[5].clear_width), bay, 1e-5, "clear bay");
        for what in ["cavity depth", "stud thickness", "plate thickness"] {
            let assumed =
                plan.frame.assumed.iter().filter(|assumed| assumed.what.english == what).count();
            assert_eq!(assumed, 1, "{what} is to be verified");
        }
    }
}

/// A board foot is 144 cubic inches and a cubic foot 1728 by their definitions; a litre is 61.0237
/// cubic inches (NIST Handbook 44, appendix C).
#[test]
fn the_volume_to_fill_is_area_times_depth_of_what_is_filled() {
    let (mut wall, _) = plain();
    wall.depth = Some(inches(3.5));
    let whole = plan(&walls::job(wall.clone())).walls[0].volume_to_fill();
    // Ten bays of 14-1/2 in and two of 13-3/4 in, 92-5/8 in high and 3-1/2 in deep.
    let cubic_inches = (10.0 * 14.5 + 2.0 * 13.75) * 92.625 * 3.5;
    near(to_board_feet(whole), cubic_inches / 144.0, 1e-6, "board feet");
    near(to_cubic_feet(whole), cubic_inches / 1728.0, 1e-6, "cubic feet");
    near(to_liters(whole), cubic_inches / 61.0237, 1e-2, "litres");
    wall.bays = vec![BayException {
        at: inches(24.0),
        depth: None,
        skip: Some(SkipReason::AlreadyInsulated),
    }];
    let rest = plan(&walls::job(wall)).walls[0].volume_to_fill();
    near(
        to_board_feet(whole - rest),
        14.5 * 92.625 * 3.5 / 144.0,
        1e-6,
        "a bay that stays empty takes no foam",
    );
}

/// Arithmetic on the definition of the board foot, 144 cubic inches.
#[test]
fn bays_of_other_spacings_and_depths_hold_their_board_feet() {
    for (spacing, depth, width, board_feet) in
        [(24.0, 3.5, 22.5, 50.6543), (16.0, 5.5, 14.5, 51.2975), (24.0, 3.5, 22.5, 50.6543)]
    {
        let (mut wall, _) = plain();
        wall.depth = Some(inches(depth));
        wall.studs.layout = StudLayout::Regular {
            spacing: Some(inches(spacing)),
            first: None,
            from: risemark::job::End::Left,
        };
        let plan = plan(&walls::job(wall)).walls[0].clone();
        near(to_inches(plan.compartments[2].clear_width), width, 1e-5, "clear width");
        near(to_board_feet(plan.compartments[2].volume), board_feet, 1e-4, "board feet");
    }
}

/// PS 20, dressed sizes: a nominal 2 is 1-1/2 in, a nominal 4 is 3-1/2 in.
#[test]
fn assumed_lumber_has_dressed_sizes() {
    let default = |limit: &limits::Limit| to_mm(limit.default.expect("lumber has a default"));
    near(default(&limits::STUD_THICKNESS), 38.1, 1e-9, "a nominal 2");
    near(default(&limits::PLATE_THICKNESS), 38.1, 1e-9, "a nominal 2");
    near(default(&limits::DEPTH), 88.9, 1e-9, "a nominal 4");
}

/// By definition: an inch is 25.4 mm, a board foot 2.359737216 litres (NIST SP 811).
#[test]
fn units_are_what_they_are_defined_to_be() {
    near(to_mm(inches(1.0)), 25.4, 1e-12, "inch");
    let board_foot = inches(12.0) * inches(12.0) * inches(1.0);
    near(board_foot.value * 1000.0, 2.359_737_216, 1e-12, "board foot in litres");
    near(to_board_feet(board_foot), 1.0, 1e-12, "board foot");
}

/// Tape marks: 16 in on centre in every 8 ft six times, 19.2 in five times (arithmetic on 8 ft).
#[test]
fn tape_marks_divide_eight_feet() {
    near(to_inches(inches(16.0)) * 6.0, 96.0, 1e-9, "sixths");
    near(to_inches(inches(19.2)) * 5.0, 96.0, 1e-9, "fifths");
}

/// Common practice, no source: the rows of the rule for vertical distances.
#[test]
fn distances_follow_the_depth() {
    let rules = risemark::rules::Rules::of(&example("plain-wall"));
    let most = |depth: f64| rules.spacing_at(inches(depth)).map(|row| to_inches(row.most).round());
    assert_eq!(most(0.9), None, "not injectable");
    assert_eq!(most(1.0), Some(12.0), "1 in");
    assert_eq!(most(2.0), Some(12.0), "2 in, and not over it");
    assert_eq!(most(2.01), Some(24.0), "over 2 in");
    assert_eq!(most(2.5), Some(36.0), "2-1/2 in");
    assert_eq!(most(3.49), Some(36.0), "under 3-1/2 in");
    assert_eq!(most(3.5), Some(48.0), "3-1/2 in");
    assert_eq!(most(5.5), Some(48.0), "deeper");
}

/// Hand calculation: a header of two 2 x 10 leaves 2-3/8 in to the plates of an 8 ft precut wall
/// whose rough openings end at 82-1/2 in, too low for a hole; two 2 x 6 leave 6-1/8 in.
#[test]
fn the_gap_over_a_header_is_what_the_lumber_leaves() {
    for (depth, gap, fits) in
        [(9.25, 2.375, false), (7.25, 4.375, true), (5.5, 6.125, true), (3.5, 8.125, true)]
    {
        let mut wall = example("workshop").walls[1].clone();
        wall.openings.truncate(1);
        wall.openings[0].header = risemark::job::Header::Full { depth: Some(inches(depth)) };
        let plan = plan(&walls::job(wall)).walls[0].clone();
        let over =
            plan.compartments.iter().filter(|c| inches(80.0) < c.lowest.y).collect::<Vec<_>>();
        assert!(!over.is_empty(), "there are compartments over the header");
        for compartment in over {
            near(to_inches(compartment.highest.y - compartment.lowest.y), gap, 1e-5, "gap");
            assert_eq!(
                plan.why_empty(compartment).is_none(),
                fits,
                "a hole fits a gap of {gap} in"
            );
        }
    }
}

/// In a 5-1/2 in wall a doubled header with a spacer leaves 2 in beside it (arithmetic).
#[test]
fn a_shallow_header_leaves_a_compartment_of_its_own_depth() {
    let mut wall = example("workshop").walls[1].clone();
    wall.depth = Some(inches(5.5));
    wall.openings.truncate(1);
    wall.openings[0].header =
        risemark::job::Header::Shallow { depth: Some(inches(7.25)), beside: Some(inches(2.0)) };
    let plan = plan(&walls::job(wall)).walls[0].clone();
    let shallow: Vec<_> = plan.compartments.iter().filter(|c| c.depth < inches(3.0)).collect();
    assert_eq!(shallow.len(), 1, "one space beside the header");
    near(to_inches(shallow[0].depth), 2.0, 1e-6, "its depth");
    near(to_inches(shallow[0].clear_width), 41.0, 1e-5, "38 in and two trimmers");
}

/// The fewest holes by trying every subset of legal heights, on small walls and coarse steps.
#[test]
fn the_number_of_holes_is_the_brute_force_minimum() {
    for depth in [1.5, 2.0, 2.75, 3.5] {
        for height in [30.0, 37.0, 44.0] {
            let (mut wall, _) = plain();
            wall.width = inches(34.0);
            wall.top = Edge::Level { height: inches(height) };
            wall.depth = Some(inches(depth));
            let mut job = walls::job(wall);
            job.rules.marking_step = Some(inches(2.0));
            let plan = plan(&job);
            let most = plan.rules.spacing_at(inches(depth)).expect("deep enough").most;
            for compartment in &plan.walls[0].compartments {
                let found = plan.walls[0]
                    .drill
                    .holes
                    .iter()
                    .filter(|hole| hole.compartment == compartment.id)
                    .count();
                let wanted =
                    brute_force(&plan.rules, compartment.lowest.y, compartment.highest.y, most);
                assert_eq!(
                    Some(found),
                    wanted,
                    "{} at {depth} in deep, {height} in high",
                    compartment.id
                );
            }
        }
    }
}

fn brute_force(
    rules: &risemark::rules::Rules,
    bottom: Length,
    top: Length,
    most: Length,
) -> Option<usize> {
    let slack = inches(0.001);
    let steps = (0..200_i32).map(|idx| rules.marking_step * f64::from(idx));
    let legal: Vec<Length> = steps
        .filter(|y| {
            bottom + rules.edge_distance() < *y + slack && *y < top - rules.top_clearance + slack
        })
        .collect();
    assert!(legal.len() < 20, "small enough to try every subset");
    let fills = |subset: u32| {
        let chosen = (0..legal.len()).filter(|idx| subset & (1 << idx) != 0).map(|idx| legal[idx]);
        let mut from = bottom;
        for height in chosen {
            if most + slack < height - from {
                return false;
            }
            from = height;
        }
        top - from < rules.top_reach + slack
    };
    let subsets = (1..(1_u32 << legal.len())).filter(|subset| fills(*subset));
    subsets.map(|subset| subset.count_ones() as usize).min()
}

#[test]
fn a_length_finer_than_files_hold_is_read_as_it_is_written() {
    let text = file::write(&example("plain-wall")).expect("a text");
    let fine = text.replacen("4876.8", "4876.80004876", 1);
    assert_ne!(fine, text, "the example has that width");
    let job = file::read(&fine).expect("a job");
    let written = file::write(&job).expect("a text");
    assert_eq!(file::read(&written), Ok(job), "it comes back the same");
}

#[test]
fn every_example_but_the_faulty_one_is_read_and_written_alike() {
    for (name, job) in example_jobs() {
        let text = file::write(&job).expect("a job that was read can be written");
        assert_eq!(file::read(&text), Ok(job), "{name}");
    }
}

/// By counting: studs that stand on a raked plate divide the wall into one bay more than they are,
/// at whatever rake; none may join its neighbour through a rounding gap.
#[test]
fn studs_under_a_raked_plate_keep_their_bays_apart() {
    for rise in 0..200_i32 {
        let (mut wall, _) = plain();
        wall.width = inches(99.25);
        wall.top = Edge::Raked { left: inches(54.0), right: inches(54.0 + f64::from(rise) / 4.0) };
        let plan = plan(&walls::job(wall)).walls[0].clone();
        let studs =
            plan.frame.members.iter().filter(|member| member.kind == MemberKind::Stud).count();
        assert_eq!(plan.compartments.len() + 1, studs, "a rise of {rise} quarter inches");
    }
}

#[test]
fn an_edge_that_is_all_but_level_divides_the_wall_as_a_level_one() {
    let n_spaces = |rise: f64| {
        let mut job = example("plain-wall");
        job.walls.truncate(1);
        let (left, right) = (millimeters(2_400.0), millimeters(2_400.0 + rise));
        job.walls[0].top = Edge::Raked { left, right };
        let plan = plan(&job).walls.remove(0);
        (plan.compartments.len(), plan.drill.holes.len())
    };
    for rise in [0.0001, 0.0003, 0.001, 0.003, 0.01, 0.019, 0.021, 0.03, 0.1] {
        assert_eq!(n_spaces(rise), n_spaces(0.0), "a rise of {rise} mm");
    }
}

#[test]
fn a_mark_at_which_no_hole_goes_any_more_is_to_be_crossed_out() {
    let mut job = example("plain-wall");
    job.walls.truncate(1);
    let planned = plan(&job).walls.remove(0).drill.holes;
    let marked = |at: Point, mark: u32| OwnHole { state: OwnState::Marked, at, mark: Some(mark) };
    // One stays where it is planned, and one is on a stud.
    let on_a_stud = Point::new(inches(32.0), inches(40.0));
    job.walls[0].drilling.holes = vec![marked(planned[0].centre, 1), marked(on_a_stud, 7)];
    let wall = plan(&job).walls.remove(0);
    let void = wall.findings.iter().filter(|finding| finding.problem.code() == "mark-is-void");
    let places: Vec<&risemark::finding::Place> = void.map(|finding| &finding.place).collect();
    let second = risemark::finding::Place::entry(risemark::finding::Noun::Hole, 1);
    assert_eq!(places.len(), 1, "{:?}", wall.findings);
    assert_eq!(places[0].part, second.part, "the one on the stud");
}

#[test]
fn a_liked_height_that_costs_nothing_is_taken() {
    let lines = |up: Option<f64>| {
        let mut job = example("plain-wall");
        job.walls.truncate(1);
        let liked = up.map(|up| Liked::Height { up: inches(up) });
        job.walls[0].drilling.liked = liked.into_iter().collect();
        let drill = plan(&job).walls.remove(0).drill;
        (drill.holes.len(), drill.snap_lines)
    };
    let (n_holes, plain) = lines(None);
    // Every quarter of an inch at which the lower row of this wall may lie.
    for quarter in 172..=192_i32 {
        let up = f64::from(quarter) / 4.0;
        let (n, liked) = lines(Some(up));
        assert_eq!((n, liked.len()), (n_holes, plain.len()), "a liked height costs nothing: {up}");
        assert!(liked.iter().any(|line| same(*line, inches(up))), "{up} in: {liked:?}");
    }
}

#[test]
fn a_file_of_unknown_fields_is_told_in_short() {
    let fields: String = (0..5_000).map(|idx| format!("\"field-{idx}\": 1, ")).collect();
    let text = format!("{{{fields}\"format\": \"risemark-job\"}}");
    let findings = file::read(&text).expect_err("no job");
    let last = findings.last().map(|finding| finding.problem.code());
    assert_eq!(last, Some("more"), "the others are counted");
    assert!(findings.len() < 300, "{} findings", findings.len());
}

#[test]
fn a_file_of_a_later_version_is_told_so_and_nothing_else() {
    let text = r#"{"format": "risemark-job", "version": 99, "job": {"spaces": []}}"#;
    let findings = file::read(text).expect_err("no job that is read");
    let codes: Vec<&str> = findings.iter().map(|finding| finding.problem.code()).collect();
    assert_eq!(codes, ["newer-file"], "what a later version may hold is no fault");
}

#[test]
fn holes_of_one_number_and_rules_that_clash_are_refused() {
    let mut job = example("plain-wall");
    let drilled = |across: f64| OwnHole {
        state: OwnState::Drilled,
        at: Point::new(inches(across), inches(40.0)),
        mark: Some(3),
    };
    job.walls[0].drilling.holes = vec![drilled(8.0), drilled(24.0)];
    job.rules.top_clearance = Some(inches(5.0));
    job.rules.top_reach = Some(inches(4.0));
    let text = file::write(&job).expect("it can be written");
    let findings = file::read(&text).expect_err("no sound job");
    let codes: Vec<&str> = findings.iter().map(|finding| finding.problem.code()).collect();
    assert_eq!(codes, ["top-rules-clash", "repeated-mark"], "each with its place");
}

#[test]
fn a_file_says_its_units_even_when_it_is_refused() {
    let text = r#"{"job": {"units": "metric", "walls": 3}}"#;
    assert!(file::read(text).is_err(), "no job");
    assert_eq!(file::units(text), Some(Units::Metric), "as it is written");
    assert_eq!(file::units("{}"), None, "where it does not say");
}
