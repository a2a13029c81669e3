//! Holes of a wall of two leaves of brick: rows from which foam reaches every place of the air space.
//!
//! Foam drops in an air space as it does in a bay, so that rows keep the rule for vertical distances;
//! and it reaches only so far around a hole.

mod cover;
mod demands;
mod fitted;
mod gaps;
mod joints;
mod plane;
mod room;
mod search;
#[cfg(test)]
mod tests;

use crate::{
    compartments::{Compartment, State},
    drilling::{
        DrillPlan, Effort, Hole, HoleState, Reach, Space, Why,
        legal::{self, Ground},
        once_each, slope,
    },
    finding::{Avoided, CompartmentId, Finding, Place, Problem, Staged},
    geometry::{Point, Polygon, Span},
    job::Drilling,
    limits,
    quantity::{Length, at_step},
};

use cover::{Cover, cover};
use plane::{Mark, Plane, Rise, Spot, length, microns};
use room::Room;

/// Looks for fewer holes so often; a wall of 40 ft then takes about a tenth of a second.
const ROUNDS: usize = 1000;

/// One compartment with its holes.
struct Covered<'a> {
    compartment: &'a Compartment,
    plane: Plane,
    cover: Cover,
}

/// Chooses where to drill a wall of brick.
///
/// Guarantees: every place of a compartment that can be filled lies within the reach of one of its
/// holes and has rows above it by the rule for vertical distances, or a finding names the place.
pub(super) fn drill(
    ground: &Ground<'_>,
    wishes: &Drilling,
    effort: Effort<'_>,
) -> Staged<DrillPlan> {
    let rounds = match effort {
        Effort::Quick | Effort::Near(_) => 0,
        Effort::Thorough | Effort::Known(..) => ROUNDS,
    };
    let fillable =
        (0..ground.near.len()).filter(|&idx| ground.near[idx].compartment.state == State::Fillable);
    let covered: Vec<Covered<'_>> = fillable
        .map(|idx| {
            let plane = plane(ground, idx);
            let cover = cover(&plane, rounds);
            Covered { compartment: ground.near[idx].compartment, plane, cover }
        })
        .collect();

    // Number the holes over all compartments, and say of each why it is there.
    let mut spots: Vec<(Mark, usize)> = Vec::new();
    for (idx, one) in covered.iter().enumerate() {
        spots.extend(one.cover.marks.iter().map(|&mark| (mark, idx)));
    }
    spots.sort_unstable();
    let holes = holes(ground, &covered, &spots);
    let (rules, frame) = (ground.rules, ground.frame);
    let product = DrillPlan {
        snap_lines: once_each(holes.iter().map(|hole| hole.up)),
        lines_bound: covered.iter().map(least_rows).max().unwrap_or(0),
        columns: once_each(holes.iter().map(|hole| hole.across)),
        unreached: covered.iter().filter_map(|one| unreached(ground, one)).collect(),
        strays: Vec::new(),
        rows_from: wishes.rows_from,
        ceiling: legal::ceiling(frame),
        slope: slope(rules.angle, rules.bit, (frame.finish, frame.depth), rules.tip),
        holes,
    };
    let mut findings = findings(ground, &covered, &product);
    let n_own = wishes.holes.len();
    if 0 < n_own {
        findings.push(Finding::new(Place::default(), Problem::HolesNotKept { found: n_own }));
    }
    Staged { product, findings }
}

/// The air space of a compartment with the rows on which holes may be.
fn plane(ground: &Ground<'_>, idx: usize) -> Plane {
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
        top_reach: microns(rules.top_reach),
        top_clearance: microns(rules.top_clearance),
    });
    let rows = joints::rows(ground, near);
    Plane {
        area,
        reach: microns(rules.brick_reach),
        step: rules.marking_step,
        origin: ground.origin,
        rows,
        rise,
    }
}

fn holes(ground: &Ground<'_>, covered: &[Covered<'_>], spots: &[(Mark, usize)]) -> Vec<Hole> {
    let rules = ground.rules;
    let mut rooms: Vec<Room<'_>> =
        covered.iter().map(|one| Room::of(&one.plane, &one.cover)).collect();
    let mut steps = vec![0; covered.len()];
    let mut holes = Vec::with_capacity(spots.len());
    for (idx, &(mark, of)) in spots.iter().enumerate() {
        let compartment = covered[of].compartment;
        let (across, up) = (at_step(mark.across, rules.marking_step), ground.height(mark.up));
        let centre = Point::new(ground.turned(across), up);
        steps[of] += 1;
        let number = |mark: Mark| spots.binary_search(&(mark, of)).ok().map(|at| at + 1);
        holes.push(Hole {
            mark: idx + 1,
            state: HoleState::Planned,
            compartment: compartment.id,
            step: steps[of],
            centre,
            across,
            up,
            slope: slope(
                rules.angle,
                rules.bit,
                (ground.frame.finish, compartment.depth),
                rules.tip,
            ),
            why: why(ground, (compartment, &mut rooms[of]), mark, &number),
        });
    }
    holes
}

fn why(
    ground: &Ground<'_>,
    (compartment, room): (&Compartment, &mut Room<'_>),
    mark: Mark,
    number: &dyn Fn(Mark) -> Option<usize>,
) -> Why {
    let rules = ground.rules;
    let step = |mark| at_step(mark, rules.marking_step);
    let reach = |(distance, hole): (i64, Option<Mark>)| Reach {
        distance: length(distance),
        hole: hole.and_then(number),
    };
    let [left, right, low, high] = room.may_move(mark);
    let across = Span::new(ground.turned(step(left)), ground.turned(step(right)));
    Why {
        depth: compartment.depth,
        space: Space::AirSpace { reach: rules.brick_reach, farthest: length(room.farthest(mark)) },
        row: rules.spacing_at(compartment.depth).unwrap_or(rules.spacing[0]),
        below: reach(room.below(mark)),
        above: reach(room.above(mark)),
        shared_with: 0,
        off_centre: Length::default(),
        avoided: Vec::new(),
        may_move_up: Span { from: ground.height(low), to: ground.height(high) },
        may_move_across: across,
    }
}

/// No set of rows that keeps the rule for vertical distances has fewer.
fn least_rows(one: &Covered<'_>) -> usize {
    let (Some(rise), [_, _, bottom, top]) = (one.plane.rise, one.plane.bounds()) else { return 1 };
    let n = (top - bottom - rise.top_reach + rise.most - 1) / rise.most;
    if one.cover.marks.is_empty() { 0 } else { usize::try_from(n.max(1)).unwrap_or(1) }
}

/// A compartment in which there is no place for any hole.
fn unreached(ground: &Ground<'_>, one: &Covered<'_>) -> Option<(CompartmentId, Problem)> {
    let Compartment { id, lowest, highest, .. } = one.compartment;
    let problem = || {
        let missed = one.cover.missed.first().copied().unwrap_or(Spot::of(*lowest));
        let blocked_by = blocked_by(ground, one, missed);
        Problem::NoHoleFits { blocked_by, from: lowest.y, to: highest.y }
    };
    one.cover.marks.is_empty().then(|| (*id, problem()))
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
    for one in covered.iter().filter(|one| !one.cover.marks.is_empty()) {
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
