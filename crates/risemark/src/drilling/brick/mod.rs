//! Holes of a wall of two leaves of brick: rows from which foam reaches every place of the air space.
//!
//! Foam drops in an air space as it does in a bay, so that rows keep the rule for vertical distances;
//! and it reaches only so far around a hole.

mod cover;
mod demands;
mod fitted;
mod gaps;
mod given;
mod joints;
mod plane;
mod plumb;
mod room;
mod search;
#[cfg(test)]
mod tests;

use crate::{
    compartments::{Compartment, State},
    drilling::{
        DrillPlan, Effort, Hole, HoleState, Reach, Space, Spot as Drilled, Why,
        legal::{self, Ground},
        liked_rows, numbered, once_each, slope, void_marks,
    },
    finding::{Avoided, CompartmentId, Finding, Noun, Place, Problem, Staged},
    framing::Frame,
    geometry::{Point, Polygon, Span},
    job::{Drilling, OwnHole, OwnState},
    limits,
    quantity::{Length, at_step, shorter},
    rules::Rules,
};

use cover::{Cover, cover, known, near};
use given::{GivenHole, LeftOut, given, is_in, leave_out};
use plane::{Mark, Plane, Rise, Spot, length, microns};
use room::Room;

/// Looks for fewer holes so often; a wall of 40 ft then takes a tenth to a third of a second.
const ROUNDS: usize = 1000;

/// One compartment with its holes.
struct Covered<'a> {
    compartment: &'a Compartment,
    plane: Plane,
    given: Vec<GivenHole>,
    cover: Cover,
    /// What people have left out of the cover.
    left_out: LeftOut,
}

/// Chooses where to drill a wall of brick.
///
/// Guarantees: every place of a compartment that can be filled lies within the reach of one of its
/// holes and has rows above it by the rule for vertical distances, or a finding names the place. Holes
/// lie on the marking step, or on the finer marks of the tape where that takes fewer, and a finding says so.
pub(super) fn drill(
    (frame, compartments, rules): (&Frame, &[Compartment], &Rules),
    wishes: &Drilling,
    effort: Effort<'_>,
) -> Staged<DrillPlan> {
    let ground = Ground::of(frame, compartments, rules, wishes.rows_from);
    // Joints lie where they lie.
    let Some(step) = rules.finer_step().filter(|_| frame.joints.is_none()) else {
        return staged(&ground, &cover_all(&ground, wishes, effort), wishes);
    };
    let finer = Rules { marking_step: step, ..rules.clone() };
    let finer = Ground::of(frame, compartments, &finer, wishes.rows_from);
    let on_finer_marks = |covered: &[Covered<'_>]| {
        let mut staged = staged(&finer, covered, wishes);
        staged.findings.push(Finding::new(Place::default(), Problem::FinerMarks { step }));
        staged
    };
    if let Effort::Known(found, _) = effort
        && !found.places.iter().all(|place| is_on_marks(&ground, *place))
    {
        return on_finer_marks(&cover_all(&finer, wishes, effort));
    }
    let covered = cover_all(&ground, wishes, effort);
    // Regular rows would take fewer holes if they could lie between the marks.
    let may_be_fewer =
        !matches!(effort, Effort::Known(..)) && covered.iter().any(Covered::loses_to_marks);
    let between = may_be_fewer.then(|| cover_all(&finer, wishes, effort));
    let is_better = |between: &Vec<Covered<'_>>| {
        n_holes(between) < n_holes(&covered) && n_missed(between) <= n_missed(&covered)
    };
    match between.filter(is_better) {
        Some(between) => on_finer_marks(&between),
        None => staged(&ground, &covered, wishes),
    }
}

fn is_on_marks(ground: &Ground<'_>, place: Point) -> bool {
    let across = ground.turned(place.x) / ground.rules.marking_step;
    [across.value, ground.rows(place.y)].into_iter().all(|at| (at - at.round()).abs() < 1e-6)
}

fn n_holes(covered: &[Covered<'_>]) -> usize {
    covered.iter().map(|one| one.cover.marks.len()).sum()
}

fn n_missed(covered: &[Covered<'_>]) -> usize {
    covered.iter().map(|one| one.cover.missed.len()).sum()
}

impl Covered<'_> {
    /// Whether regular rows that need not lie on marks would take fewer holes.
    fn loses_to_marks(&self) -> bool {
        let fewest = fitted::lattices(&self.plane).into_iter().map(|lattice| lattice.n_holes).min();
        let n_holes = i64::try_from(self.cover.marks.len()).unwrap_or(i64::MAX);
        self.plane.given.is_empty() && fewest.is_some_and(|fewest| fewest < n_holes)
    }
}

fn staged(ground: &Ground<'_>, covered: &[Covered<'_>], wishes: &Drilling) -> Staged<DrillPlan> {
    // Number the holes over all compartments, and say of each why it is there.
    let spots = numbered(spots(ground, covered), &wishes.holes);
    let rooms = covered.iter().enumerate().map(|(of, one)| room(ground, (of, one), &spots));
    let rooms: Vec<Room<'_>> = rooms.collect();
    let holes = spots.iter().map(|spot| hole(ground, covered, (&rooms, &spots), spot));
    let holes: Vec<Hole> = holes.collect();
    let (rules, frame) = (ground.rules, ground.frame);
    let snap_lines = once_each(holes.iter().map(|hole| hole.up));
    let least = covered.iter().map(least_rows).max().unwrap_or(0);
    let product = DrillPlan {
        // With a hole left out or a place out of reach there may be fewer.
        lines_bound: least.min(snap_lines.len()),
        snap_lines,
        columns: once_each(holes.iter().map(|hole| hole.across)),
        unreached: covered.iter().filter_map(|one| unreached(ground, one)).collect(),
        left_out: covered.iter().flat_map(|one| left_out(ground, one)).collect(),
        strays: strays(covered, &wishes.holes),
        rows_from: wishes.rows_from,
        ceiling: legal::ceiling(frame),
        slope: slope(rules.angle, rules.bit, (frame.finish, frame.depth), rules.tip),
        holes,
    };
    let mut findings = findings(ground, covered, &product);
    findings.extend(broken_rules(ground, covered, (&rooms, &spots), &product.strays));
    findings.extend(void_marks(&wishes.holes, &product.holes));
    Staged { product, findings }
}

fn cover_all<'a>(ground: &Ground<'a>, wishes: &Drilling, effort: Effort<'_>) -> Vec<Covered<'a>> {
    let all = ground.near.iter().enumerate();
    let fillable = all.filter(|(_, around)| around.compartment.state == State::Fillable);
    fillable
        .map(|(idx, around)| {
            let given = given(ground, around, &wishes.holes);
            let plane = plane(ground, idx, wishes, &given);
            let compartment = around.compartment;
            let marks = |places: &[Point]| -> Vec<Mark> {
                let mine = places.iter().filter(|place| is_in(compartment, **place));
                mine.map(|place| plane.mark_near(given::spot(ground, *place))).collect()
            };
            let mut cover = match effort {
                Effort::Quick => cover(&plane, 0),
                Effort::Near(earlier) => near(&plane, &marks(earlier.places)),
                Effort::Thorough => cover(&plane, ROUNDS),
                Effort::Known(found, _) => {
                    known(&plane, marks(found.places)).unwrap_or_else(|| cover(&plane, 0))
                }
            };
            let left_out = leave_out(ground, (compartment, &plane), &wishes.holes, &mut cover);
            Covered { compartment, plane, given, cover, left_out }
        })
        .collect()
}

/// The air space of a compartment with the rows on which holes may be.
fn plane(ground: &Ground<'_>, idx: usize, wishes: &Drilling, given: &[GivenHole]) -> Plane {
    let (near, rules) = (&ground.near[idx], ground.rules);
    let compartment = near.compartment;
    let turned =
        |corner: &Point| Spot { x: microns(ground.turned(corner.x)), y: microns(corner.y) }.point();
    let ring = |ring: &Vec<Point>| ring.iter().map(turned).collect();
    let polygon = &compartment.polygon;
    let area =
        Polygon { outer: ring(&polygon.outer), inner: polygon.inner.iter().map(ring).collect() };
    let rise = rules.spacing_at(compartment.depth).map(|row| Rise {
        most: microns(row.most),
        // Foam rises over a row no farther than rows may lie apart.
        top_reach: microns(shorter(rules.brick_top_reach, row.most)),
        top_clearance: microns(rules.top_clearance),
    });
    let rows = joints::rows(ground, near);
    let mut given: Vec<Spot> = given.iter().map(|hole| hole.spot).collect();
    crate::order::sort(&mut given);
    let mut liked: Vec<i64> =
        wishes.liked.iter().flat_map(|liked| liked_rows(ground, *liked)).collect();
    crate::order::sort(&mut liked);
    Plane {
        area,
        reach: microns(rules.brick_reach),
        step: rules.marking_step,
        origin: ground.origin,
        rows,
        rise,
        given,
        liked,
    }
}

/// The planner's holes and those of others in their places; the columns are the compartments.
fn spots(ground: &Ground<'_>, covered: &[Covered<'_>]) -> Vec<Drilled> {
    let mut spots = Vec::new();
    for (of, one) in covered.iter().enumerate() {
        spots.extend(one.cover.marks.iter().map(|mark| {
            let across = at_step(mark.across, ground.rules.marking_step);
            let at = place(ground, *mark);
            Drilled { column: of, at, across, state: HoleState::Planned, mark: 0 }
        }));
        spots.extend(one.given.iter().map(|hole| {
            let (at, state) = (hole.at, HoleState::Own(hole.number, OwnState::Set));
            Drilled { column: of, at, across: ground.turned(at.x), state, mark: 0 }
        }));
    }
    spots
}

fn left_out<'a>(ground: &'a Ground<'_>, one: &'a Covered<'_>) -> impl Iterator<Item = Point> {
    one.left_out.marks.iter().map(|mark| place(ground, *mark))
}

/// Where a mark lies on the finish.
fn place(ground: &Ground<'_>, mark: Mark) -> Point {
    let across = at_step(mark.across, ground.rules.marking_step);
    Point::new(ground.turned(across), ground.height(mark.up))
}

fn room<'a>(
    ground: &Ground<'_>,
    (of, one): (usize, &'a Covered<'_>),
    spots: &[Drilled],
) -> Room<'a> {
    let mine = spots.iter().filter(|spot| spot.column == of);
    let holes = mine.map(|spot| given::spot(ground, spot.at)).collect();
    Room::of(&one.plane, holes, one.cover.missed.is_empty() && !one.left_out.any_named)
}

fn hole(
    ground: &Ground<'_>,
    covered: &[Covered<'_>],
    (rooms, spots): (&[Room<'_>], &[Drilled]),
    spot: &Drilled,
) -> Hole {
    let (rules, compartment) = (ground.rules, covered[spot.column].compartment);
    let before = |other: &&Drilled| {
        let place = |spot: &Drilled| (microns(spot.at.y), microns(spot.across));
        other.column == spot.column && place(other) < place(spot)
    };
    Hole {
        mark: spot.mark,
        state: spot.state,
        compartment: compartment.id,
        step: 1 + spots.iter().filter(before).count(),
        centre: spot.at,
        across: spot.across,
        up: spot.at.y,
        slope: slope(rules.angle, rules.bit, (ground.frame.finish, compartment.depth), rules.tip),
        why: why(ground, (compartment, &rooms[spot.column]), spot, spots),
    }
}

/// The mark of the hole at a place in a compartment.
fn mark_at(ground: &Ground<'_>, of: usize, place: Spot, spots: &[Drilled]) -> Option<usize> {
    let mut mine = spots.iter().filter(|spot| spot.column == of);
    mine.find(|spot| given::spot(ground, spot.at) == place).map(|spot| spot.mark)
}

fn why(
    ground: &Ground<'_>,
    (compartment, room): (&Compartment, &Room<'_>),
    spot: &Drilled,
    spots: &[Drilled],
) -> Why {
    let rules = ground.rules;
    let here = given::spot(ground, spot.at);
    let step = |mark| at_step(mark, rules.marking_step);
    let reach = |(distance, hole): (i64, Option<Spot>)| Reach {
        distance: length(distance),
        hole: hole.and_then(|hole| mark_at(ground, spot.column, hole, spots)),
    };
    let [left, right, low, high] = room.may_move(here);
    let across = Span::new(ground.turned(step(left)), ground.turned(step(right)));
    let up = Span { from: ground.height(low), to: ground.height(high) };
    Why {
        depth: compartment.depth,
        space: Space::AirSpace { reach: rules.brick_reach, farthest: length(room.farthest(here)) },
        row: rules.spacing_at(compartment.depth).unwrap_or(rules.spacing[0]),
        below: reach(room.below(here)),
        above: reach(room.above(here)),
        shared_with: 0,
        off_centre: Length::default(),
        avoided: Vec::new(),
        // A hole of others may stand off the marks.
        may_move_up: up.with(spot.at.y),
        may_move_across: across.with(spot.at.x),
    }
}

/// No set of rows that keeps the rule for vertical distances has fewer, nor one that reaches all of the
/// tallest plumb line: a row covers no more of it than twice the reach.
fn least_rows(one: &Covered<'_>) -> usize {
    if one.cover.marks.is_empty() && one.given.is_empty() {
        return 0;
    }
    let parts = |whole: i64, part: i64| (whole + part - 1) / part.max(1);
    let [left, right, bottom, top] = one.plane.bounds();
    let by_rise = one.plane.rise.map_or(1, |rise| parts(top - bottom - rise.top_reach, rise.most));
    let runs = one.plane.runs(left.midpoint(right));
    let tallest = runs.map(|(from, to)| to - from).max().unwrap_or(0);
    let by_reach = parts(tallest, 2 * (one.plane.reach + gaps::SLACK));
    let is_whole = one.cover.missed.is_empty() && !one.left_out.any_named;
    let least = if is_whole { by_rise.max(by_reach) } else { by_rise };
    usize::try_from(least.max(1)).unwrap_or(1)
}

/// A compartment in which there is no place for any hole.
fn unreached(ground: &Ground<'_>, one: &Covered<'_>) -> Option<(CompartmentId, Problem)> {
    let Compartment { id, lowest, highest, .. } = one.compartment;
    let problem = || {
        let missed = one.cover.missed.first().copied().unwrap_or(Spot::of(*lowest));
        let blocked_by = blocked_by(ground, one, missed);
        Problem::NoHoleFits { blocked_by, from: lowest.y, to: highest.y }
    };
    (one.cover.marks.is_empty() && one.given.is_empty()).then(|| (*id, problem()))
}

fn blocked_by(ground: &Ground<'_>, one: &Covered<'_>, spot: Spot) -> Vec<Avoided> {
    let at = Point::new(ground.turned(length(spot.x)), length(spot.y));
    let near = ground.near.iter().find(|near| near.compartment.id == one.compartment.id);
    let mut blocked = near.map(|near| near.blocked_by(at)).unwrap_or_default();
    // Corners of the air space need no word.
    blocked.retain(|what| *what != Avoided::Timber);
    blocked
}

fn findings(ground: &Ground<'_>, covered: &[Covered<'_>], product: &DrillPlan) -> Vec<Finding> {
    let (rules, frame) = (ground.rules, ground.frame);
    let mut findings = Vec::new();
    for (id, problem) in &product.unreached {
        findings.push(Finding::new(Place::compartment(*id), problem.clone()));
    }
    let has_holes = |one: &&Covered<'_>| !one.cover.marks.is_empty() || !one.given.is_empty();
    for one in covered.iter().filter(has_holes) {
        let Some(&spot) = one.cover.missed.first() else { continue };
        let problem = Problem::OutOfReach {
            across: length(spot.x),
            up: length(spot.y),
            reach: rules.brick_reach,
            blocked_by: blocked_by(ground, one, spot),
        };
        findings.push(Finding::new(Place::compartment(one.compartment.id), problem));
    }
    if product.holes.is_empty() {
        return findings;
    }
    let of_wall = [
        Problem::WeakReach { reach: rules.brick_reach },
        Problem::Ties { up: limits::TIES_UP, across: limits::TIES_ACROSS },
        Problem::BitLength {
            leaf: frame.finish,
            needed: product.slope.travel,
            usual: limits::USUAL_BIT,
        },
    ];
    findings.extend(of_wall.map(|problem| Finding::new(Place::default(), problem)));
    findings
}

/// Holes that people have set, drilled or left out where no space is to fill.
fn strays(covered: &[Covered<'_>], own: &[OwnHole]) -> Vec<(usize, OwnHole)> {
    let misses = |hole: &OwnHole| {
        hole.state != OwnState::Marked && !covered.iter().any(|one| is_in(one.compartment, hole.at))
    };
    own.iter().copied().enumerate().filter(|(_, hole)| misses(hole)).collect()
}

/// Rules that the holes of others break, with their numbers.
fn broken_rules(
    ground: &Ground<'_>,
    covered: &[Covered<'_>],
    (rooms, spots): (&[Room<'_>], &[Drilled]),
    strays: &[(usize, OwnHole)],
) -> Vec<Finding> {
    let entry = |number: usize, problem| Finding::new(Place::entry(Noun::Hole, number), problem);
    let mut findings: Vec<Finding> = Vec::new();
    for hole in covered.iter().flat_map(|one| &one.given).filter(|hole| !hole.too_near.is_empty()) {
        let (blocked_by, least) = (hole.too_near.clone(), ground.rules.edge_distance());
        findings.push(entry(hole.number, Problem::HoleTooNear { blocked_by, least }));
    }
    findings.extend(strays.iter().map(|(number, _)| entry(*number, Problem::HoleMissesSpaces)));
    let left_out =
        covered.iter().zip(rooms).enumerate().filter(|(_, (one, _))| one.left_out.any_named);
    for (of, (one, room)) in left_out {
        let place = || Place::compartment(one.compartment.id);
        if let Some(gap) = room.gap().filter(|gap| !one.cover.missed.contains(gap)) {
            let (across, up) = (length(gap.x), length(gap.y));
            let problem = Problem::NotReached { across, up, reach: ground.rules.brick_reach };
            findings.push(Finding::new(place(), problem));
        }
        if let Some(far) = room.too_far() {
            let mark = |hole: Option<Spot>| mark_at(ground, of, hole?, spots);
            let problem = Problem::HolesTooFarApart {
                below: mark(far.below),
                above: mark(far.above),
                distance: length(far.distance),
                most: length(far.most),
            };
            findings.push(Finding::new(place(), problem));
        }
    }
    findings
}
