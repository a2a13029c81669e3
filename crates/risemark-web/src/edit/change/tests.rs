//! Pulling, removing and doubling each kind of entry.

use risemark::{
    job::{Header, Job, StudLayout, ThingKind},
    plan::{WallPlan, plan},
    quantity::to_inches,
};

use super::*;
use crate::{command::Command, edit::tests::planned, fresh, history::History, sample};

fn by(x: f64, y: f64) -> Point {
    Point::new(inches(x), inches(y))
}

/// The plain wall of the sample, 16 ft by 8 ft 1-1/8 in, with studs at 16 in and one of everything.
fn furnished() -> (Wall, WallPlan) {
    planned("workshop-north", |wall| {
        let window = fresh::opening(wall);
        let sized = |kind, left: f64, sill: Option<f64>, height: f64| Opening {
            kind,
            left: inches(left),
            width: inches(30.0),
            height: inches(height),
            sill: sill.map(inches),
            header: Header::default(),
            ..window.clone()
        };
        wall.openings = vec![
            sized(OpeningKind::Window, 40.0, Some(36.0), 40.0),
            sized(OpeningKind::Door, 120.0, None, 80.0),
        ];
        wall.blocks = vec![Block { from: inches(8.0), up: inches(50.0), ..fresh::block(wall) }];
        let brace = fresh::brace(wall);
        wall.braces = vec![Brace { from: by(80.0, 10.0), to: by(110.0, 60.0), ..brace }];
        let run = ThingShape::Run {
            points: vec![by(170.0, 10.0), by(170.0, 40.0), by(180.0, 40.0)],
            diameter: inches(0.5),
        };
        let pipe = Thing { kind: ThingKind::Pipe, at: run, ..fresh::thing(wall) };
        wall.things = vec![fresh::thing(wall), pipe];
        wall.zones = vec![Zone { width: inches(20.0), ..fresh::zone(wall) }];
        wall.bays = vec![fresh::bay(wall)];
        wall.studs.extra = vec![fresh::extra(wall)];
    })
}

fn pulled(entry: Entry, grip: Grip, by: Point) -> Wall {
    let (wall, plan) = furnished();
    let edited = moved(Scene { wall: &wall, frame: &plan.frame }, &[entry], grip, by);
    let edited = edited.unwrap_or_else(|| panic!("{entry:?} by its {grip:?} moves"));
    let mut replayed = wall.clone();
    let inverse = edited.change.clone().apply(&mut replayed);
    assert_eq!(replayed, edited.wall, "the change makes the wall that was promised");
    assert!(inverse.and_then(|inverse| inverse.apply(&mut replayed)).is_some(), "taken back");
    assert_eq!(replayed, wall, "and nothing of it stays");
    edited.wall
}

fn check_opening(idx: usize, grip: Grip, expected: [f64; 4]) {
    let wall = pulled(Entry::Opening(idx), grip, by(3.0, 2.0));
    let opening = &wall.openings[idx];
    let up = opening.sill.unwrap_or(inches(0.0));
    let found = [opening.left, up, opening.width, opening.height].map(to_inches);
    assert_eq!(found, expected, "opening {idx} by its {grip:?}");
}

#[test]
fn an_opening_is_moved_whole_and_by_each_edge() {
    check_opening(0, Grip::Whole, [43.0, 38.0, 30.0, 40.0]);
    check_opening(0, Grip::Left, [43.0, 36.0, 27.0, 40.0]);
    check_opening(0, Grip::Right, [40.0, 36.0, 33.0, 40.0]);
    check_opening(0, Grip::Low, [40.0, 38.0, 30.0, 38.0]);
    check_opening(0, Grip::High, [40.0, 36.0, 30.0, 42.0]);
}

#[test]
fn a_door_stays_on_the_floor() {
    check_opening(1, Grip::Whole, [123.0, 0.0, 30.0, 80.0]);
    check_opening(1, Grip::High, [120.0, 0.0, 30.0, 82.0]);
}

#[test]
fn an_edge_stops_before_the_one_across() {
    for (grip, by) in [
        (Grip::Left, by(90.0, 0.0)),
        (Grip::Right, by(-90.0, 0.0)),
        (Grip::Low, by(0.0, 90.0)),
        (Grip::High, by(0.0, -90.0)),
    ] {
        let wall = pulled(Entry::Zone(0), grip, by);
        let zone = wall.zones[0];
        let least = limits::EXTENT.min;
        assert!(same(shorter(zone.width, zone.height), least), "{grip:?} leaves {zone:?}");
    }
}

#[test]
fn a_block_reaches_into_the_bays_it_is_pulled_to() {
    let wider = pulled(Entry::Block(0), Grip::Right, by(10.0, 0.0));
    assert_eq!(wider.blocks[0].to.map(to_inches), Some(25.25), "10 in past the face at 15-1/4 in");
    let higher = pulled(Entry::Block(0), Grip::High, by(0.0, 2.0));
    assert_eq!(higher.blocks[0].height.map(to_inches), Some(3.5), "1-1/2 in and 2 more");
    let lower = pulled(Entry::Block(0), Grip::Low, by(0.0, -2.0));
    let (up, height) = (to_inches(lower.blocks[0].up), lower.blocks[0].height.map(to_inches));
    assert_eq!((up, height), (48.0, Some(3.5)), "its lower edge alone");
    let moved = pulled(Entry::Block(0), Grip::Whole, by(16.0, 4.0));
    assert_eq!(
        [moved.blocks[0].from, moved.blocks[0].up].map(to_inches),
        [24.0, 54.0],
        "all of it"
    );
    let left = pulled(Entry::Block(0), Grip::Left, by(-40.0, 0.0));
    let (from, to) = (to_inches(left.blocks[0].from), left.blocks[0].to.map(to_inches));
    assert_eq!((from, to), (0.0, Some(8.0)), "as far as the end of the wall");
}

#[test]
fn a_brace_is_pulled_by_either_end() {
    let ends = |wall: &Wall| {
        let Brace { from, to, .. } = wall.braces[0];
        [from.x, from.y, to.x, to.y].map(to_inches)
    };
    let pull = |grip| ends(&pulled(Entry::Brace(0), grip, by(1.0, 2.0)));
    assert_eq!(pull(Grip::Point(0)), [81.0, 12.0, 110.0, 60.0], "one end");
    assert_eq!(pull(Grip::Point(1)), [80.0, 10.0, 111.0, 62.0], "the other end");
    assert_eq!(pull(Grip::Whole), [81.0, 12.0, 111.0, 62.0], "all of it");
}

#[test]
fn things_are_moved_whole_and_by_edge_or_point() {
    let wall = pulled(Entry::Thing(0), Grip::Right, by(1.0, 0.0));
    let ThingShape::Box { width, .. } = wall.things[0].at else { panic!("a box stays a box") };
    assert_eq!(to_inches(width), 3.0, "an inch wider");
    let bend = |grip| {
        let wall = pulled(Entry::Thing(1), grip, by(1.0, 2.0));
        let ThingShape::Run { points, .. } = &wall.things[1].at else {
            panic!("a run stays a run")
        };
        points.iter().map(|point| (to_inches(point.x), to_inches(point.y))).collect::<Vec<_>>()
    };
    assert_eq!(bend(Grip::Point(1)), [(170.0, 10.0), (171.0, 42.0), (180.0, 40.0)], "one bend");
    assert_eq!(bend(Grip::Whole), [(171.0, 12.0), (171.0, 42.0), (181.0, 42.0)], "all of it");
}

#[test]
fn bays_and_members_beside_the_layout_move_across_alone() {
    let wall = pulled(Entry::Bay(0), Grip::Whole, by(16.0, 5.0));
    assert_eq!(to_inches(wall.bays[0].at), 24.0, "the bay");
    let wall = pulled(Entry::Extra(0), Grip::Whole, by(5.0, 5.0));
    assert_eq!(to_inches(wall.studs.extra[0].centre), 7.25, "the stud");
}

#[test]
fn a_stud_of_the_layout_that_is_moved_becomes_a_correction() {
    let wall = pulled(Entry::Stud(1), Grip::Whole, by(1.5, 0.0));
    let moved = StudCorrection::Moved { stud: inches(32.0), found: inches(32.0) + inches(1.5) };
    assert_eq!(wall.studs.corrections, [moved], "found elsewhere");
    let plan = plan(&Job { walls: vec![wall.clone()], ..sample::job() }).walls.remove(0);
    let scene = Scene { wall: &wall, frame: &plan.frame };
    let back = super::moved(scene, &[Entry::Stud(1)], Grip::Whole, by(-1.5, 0.0));
    let left = back.map(|edited| edited.wall.studs.corrections);
    assert_eq!(left, Some(Vec::new()), "back in its place it needs none");
}

#[test]
fn a_stud_that_was_found_by_itself_moves_its_centre() {
    let (wall, plan) = planned("workshop-north", |wall| {
        let centres = vec![inches(20.0), inches(50.0), inches(90.0)];
        wall.studs.layout = StudLayout::Measured { centres };
    });
    let scene = Scene { wall: &wall, frame: &plan.frame };
    let entries = [Entry::Stud(0), Entry::Stud(2)];
    let edited = moved(scene, &entries, Grip::Whole, by(2.0, 0.0));
    let Some(StudLayout::Measured { centres }) = edited.map(|edited| edited.wall.studs.layout)
    else {
        panic!("a layout that was found stays one")
    };
    let centres: Vec<f64> = centres.into_iter().map(to_inches).collect();
    assert_eq!(centres, [22.0, 50.0, 92.0], "both of two");
    let rest = removed(scene, &entries).map(|edited| edited.wall.studs.layout);
    let expected = StudLayout::Measured { centres: vec![inches(50.0)] };
    assert_eq!(rest, Some(expected), "what is left without them");
}

fn check_edge(top: Edge, grip: Grip, expected: &[(f64, f64)]) {
    let (mut wall, plan) = furnished();
    wall.top = top;
    let scene = Scene { wall: &wall, frame: &plan.frame };
    let edited = moved(scene, &[Entry::Top], grip, by(4.0, 6.0));
    let top = edited.map(|edited| edited.wall.top).unwrap_or(wall.top.clone());
    let chain = figure::chain(&top, wall.width);
    let found: Vec<_> = chain.iter().map(|p| (to_inches(p.x), to_inches(p.y))).collect();
    assert_eq!(found, expected, "{:?} by its {grip:?}", wall.top);
}

#[test]
fn the_rake_is_pulled_by_its_points() {
    let inch = inches;
    let level = Edge::Level { height: inch(97.0) };
    check_edge(level, Grip::Point(0), &[(0.0, 103.0), (192.0, 103.0)]);
    let raked = || Edge::Raked { left: inch(90.0), right: inch(100.0) };
    check_edge(raked(), Grip::Point(0), &[(0.0, 96.0), (192.0, 100.0)]);
    check_edge(raked(), Grip::Point(1), &[(0.0, 90.0), (192.0, 106.0)]);
    check_edge(raked(), Grip::Whole, &[(0.0, 96.0), (192.0, 106.0)]);
    let (left, ridge_at, ridge, right) = (inch(90.0), inch(96.0), inch(120.0), inch(92.0));
    let gable = || Edge::Gable { left, ridge_at, ridge, right };
    check_edge(gable(), Grip::Point(0), &[(0.0, 96.0), (96.0, 120.0), (192.0, 92.0)]);
    check_edge(gable(), Grip::Point(1), &[(0.0, 90.0), (100.0, 126.0), (192.0, 92.0)]);
    check_edge(gable(), Grip::Point(2), &[(0.0, 90.0), (96.0, 120.0), (192.0, 98.0)]);
    let points = vec![by(0.0, 90.0), by(50.0, 90.0), by(52.0, 110.0), by(192.0, 110.0)];
    let chain = || Edge::Points { points: points.clone() };
    let ends = [(0.0, 90.0), (50.0, 90.0), (52.0, 110.0), (192.0, 110.0)];
    let with = |idx: usize, point| {
        let mut points = ends;
        points[idx] = point;
        points
    };
    check_edge(chain(), Grip::Point(0), &with(0, (0.0, 96.0)));
    check_edge(chain(), Grip::Point(1), &with(1, (52.0, 96.0)));
    check_edge(chain(), Grip::Point(2), &with(2, (56.0, 116.0)));
}

#[test]
fn several_move_and_go_together_as_one_step() {
    let (wall, plan) = furnished();
    let scene = Scene { wall: &wall, frame: &plan.frame };
    let entries = [Entry::Opening(0), Entry::Thing(0), Entry::Stud(6)];
    let edited = moved(scene, &entries, Grip::Whole, by(2.0, 0.0));
    let Some(Edited { change, wall: after }) = edited else { panic!("they move") };
    assert_eq!(to_inches(after.openings[0].left), 42.0, "the window");
    assert_eq!(after.studs.corrections.len(), 1, "the stud");
    let id = wall.id.clone();
    let job = Job { walls: vec![wall.clone()], ..sample::job() };
    let mut history = History::new(&job).unwrap_or_else(|faults| panic!("{faults:?}"));
    let before = history.job().clone();
    assert_eq!(history.run(Command::Wall { id: id.clone(), change }), Ok(()), "a usable wall");
    history.undo();
    assert_eq!(history.job(), &before, "one step takes all of it back");
    let all = [Entry::Opening(0), Entry::Opening(1), Entry::Thing(1), Entry::Bay(0)];
    let Some(Edited { change, wall: after }) = removed(scene, &all) else { panic!("they go") };
    assert!(after.openings.is_empty() && after.bays.is_empty(), "{after:?}");
    assert_eq!(after.things, wall.things[..1], "the other thing stays");
    assert_eq!(history.run(Command::Wall { id, change }), Ok(()), "a usable wall");
    history.undo();
    assert_eq!(history.job(), &before, "one step brings all of it back");
}

#[test]
fn a_stud_of_the_layout_that_goes_is_missing() {
    let (wall, plan) = furnished();
    let scene = Scene { wall: &wall, frame: &plan.frame };
    let edited = removed(scene, &[Entry::Stud(1), Entry::Top]);
    let corrections = edited.map(|edited| edited.wall.studs.corrections);
    let missing = StudCorrection::Missing { stud: inches(32.0) };
    assert_eq!(corrections, Some(vec![missing]), "and the upper edge stays");
    assert_eq!(removed(scene, &[Entry::Top]), None, "nothing went");
}

#[test]
fn a_double_stands_beside_the_first_and_can_be_planned() {
    let (wall, plan) = furnished();
    let scene = Scene { wall: &wall, frame: &plan.frame };
    for entry in [
        Entry::Opening(0),
        Entry::Opening(1),
        Entry::Block(0),
        Entry::Brace(0),
        Entry::Thing(0),
        Entry::Thing(1),
        Entry::Zone(0),
        Entry::Bay(0),
        Entry::Extra(0),
        Entry::Stud(3),
    ] {
        let Some((edited, double)) = doubled(scene, entry) else {
            panic!("{entry:?} has a double")
        };
        assert!(double.is_on(&edited.wall), "{double:?}");
        assert!(!double.is_on(&wall) || double == Entry::Stud(3), "{double:?} is new");
        assert!(is_usable(&edited.wall), "{entry:?}");
    }
    assert_eq!(doubled(scene, Entry::Top), None, "a wall has one upper edge");
    let Some((edited, doubles)) = all_doubled(scene, &[Entry::Thing(0), Entry::Zone(0)]) else {
        panic!("there is room for both")
    };
    let now = (edited.wall.things.len(), edited.wall.zones.len());
    assert_eq!(now, (wall.things.len() + 1, wall.zones.len() + 1), "one more of each");
    assert!(doubles.iter().all(|double| double.is_on(&edited.wall)), "{doubles:?}");
}

#[test]
fn a_pull_of_nothing_is_no_step() {
    let (wall, plan) = furnished();
    let scene = Scene { wall: &wall, frame: &plan.frame };
    for entry in [Entry::Opening(0), Entry::Stud(1), Entry::Top, Entry::Block(0)] {
        assert_eq!(moved(scene, &[entry], Grip::Whole, by(0.0, 0.0)), None, "{entry:?}");
    }
}
