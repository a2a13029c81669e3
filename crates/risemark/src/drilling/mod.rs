//! Stage 3, drill: the fewest holes that fill every compartment, on the fewest lines.

mod clearance;
mod legal;
mod lines;
mod near;
mod slope;

use crate::{
    compartments::{Compartment, State},
    finding::{Avoided, CompartmentId, Finding, Place, Problem, Staged},
    framing::Frame,
    geometry::{Point, Span},
    limits::SpacingRow,
    quantity::{Length, at_step, same, to_whole},
    rules::Rules,
};

pub use slope::{Slope, slope};

use legal::{Column, Ground};
use lines::{Given, Search};
use near::Near;

/// Where to drill.
///
/// Guarantees: every fillable compartment has holes by the rules or is named in `unreached`;
/// holes are sorted by mark; positions lie on the marking step from the datum and the floor.
#[derive(Debug, Clone, PartialEq)]
pub struct DrillPlan {
    /// The holes: row by row from the bottom, each row from the datum end.
    pub holes: Vec<Hole>,
    /// Heights of the snap lines, from the bottom up.
    pub snap_lines: Vec<Length>,
    /// No plan with as few holes has fewer snap lines than this.
    pub lines_bound: usize,
    /// Readings across of the hole columns, from the datum end, each once.
    pub columns: Vec<Length>,
    /// Compartments that no legal set of holes fills.
    pub unreached: Vec<(CompartmentId, Problem)>,
    /// The slope that all holes of the wall share.
    pub slope: Slope,
}

/// One hole.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// Its number on the wall, from 1.
    pub mark: usize,
    /// The compartment it fills.
    pub compartment: CompartmentId,
    /// Its position in the chain of its compartment, from the bottom, from 1.
    pub step: usize,
    /// Its centre on the finish.
    pub centre: Point,
    /// Its reading from the datum end.
    pub across: Length,
    /// Its height above the finished floor.
    pub up: Length,
    /// What the bit does in a cavity of this depth.
    pub slope: Slope,
    /// Why it is where it is.
    pub why: Why,
}

/// The reasons for one hole's place, with their numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Why {
    /// Depth of the compartment.
    pub depth: Length,
    /// Clear width of the bay at the hole.
    pub bay_width: Length,
    /// The rule for this depth.
    pub row: SpacingRow,
    /// From what the foam falls on, up to the hole.
    pub below: Reach,
    /// From the hole up to what it must reach.
    pub above: Reach,
    /// How many other compartments have a hole on this line.
    pub shared_with: usize,
    /// How far the hole lies from the middle of its bay; zero when on it, positive to the right.
    pub off_centre: Length,
    /// What kept it off the middle of the bay or off a better height.
    pub avoided: Vec<Avoided>,
    /// How far it may move upright while every rule still holds, the other holes staying.
    pub may_move_up: Span,
    /// Where it may move sideways at its height, as readings from the left end.
    pub may_move_across: Span,
}

/// A vertical distance of a hole, and to what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// The distance.
    pub distance: Length,
    /// The other hole's mark; `None` for the bottom or the top of the compartment.
    pub hole: Option<usize>,
}

/// How long the planner looks for a better plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Effort<'a> {
    /// A good plan at once, as while something is dragged.
    Quick,
    /// The best there is, proved where that can be done.
    Thorough,
    /// The best there is, found before: its snap lines, and how many there are at least.
    ///
    /// Lines that do not fit the wall are passed over, as for a quick plan.
    Known(&'a [Length], usize),
}

/// Chooses where to drill.
pub fn drill(
    frame: &Frame,
    compartments: &[Compartment],
    rules: &Rules,
    effort: Effort<'_>,
) -> Staged<DrillPlan> {
    // Find where a hole may be, in each column of each compartment that can be filled.
    let ground = Ground::of(frame, compartments, rules);
    let fillable = compartments.iter().enumerate().filter(|(_, c)| c.state == State::Fillable);
    let mut columns: Vec<Column> = fillable.flat_map(|(idx, _)| ground.columns(idx)).collect();

    // Name the compartments that no holes fill by the rules; half a compartment is not drilled.
    let unreached = unreached(&ground, &columns);
    columns.retain(|column| unreached.iter().all(|(idx, _)| *idx != column.compartment));

    // Choose the heights: fewest holes, then fewest lines, then even distances.
    let heights = lines::choose(&columns, &Given::default(), &search(effort, rules));

    // Number the holes and say of each why it is there.
    let spots = numbered(&columns, &heights.chains);
    let holes: Vec<Hole> = (0..spots.len()).map(|idx| hole(&ground, &spots, idx)).collect();

    let findings = unreached
        .iter()
        .map(|(idx, problem)| {
            Finding::new(Place::compartment(compartments[*idx].id), problem.clone())
        })
        .collect();
    let product = DrillPlan {
        snap_lines: once_each(holes.iter().map(|hole| hole.up)),
        lines_bound: heights.bound,
        columns: once_each(holes.iter().map(|hole| hole.across)),
        holes,
        unreached: unreached
            .into_iter()
            .map(|(idx, problem)| (compartments[idx].id, problem))
            .collect(),
        slope: slope(rules.angle, rules.bit, (frame.finish, frame.depth), rules.tip),
    };
    Staged { product, findings }
}

fn search(effort: Effort<'_>, rules: &Rules) -> Search {
    let row = |height: &Length| to_whole((*height / rules.marking_step).value.round());
    match effort {
        Effort::Quick => Search::Quick,
        Effort::Thorough => Search::Thorough,
        Effort::Known(heights, bound) => Search::Known(heights.iter().map(row).collect(), bound),
    }
}

/// One hole before it has its reasons.
struct Spot<'a> {
    column: &'a Column,
    chain: &'a [i64],
    step: usize,
    row: i64,
    across: i64,
}

fn unreached(ground: &Ground<'_>, columns: &[Column]) -> Vec<(usize, Problem)> {
    let mut unreached: Vec<(usize, Problem)> = Vec::new();
    for column in columns {
        let known = unreached.iter().any(|(idx, _)| *idx == column.compartment);
        if let (false, Err(stretch)) = (known, lines::shortest(column)) {
            unreached.push((column.compartment, why_unreached(ground, column, stretch)));
        }
    }
    unreached
}

/// What is in the way on the stretch in which the next hole would be.
fn why_unreached(ground: &Ground<'_>, column: &Column, (from, to): (i64, i64)) -> Problem {
    let (near, step) = (&ground.near[column.compartment], ground.rules.marking_step);
    let (from, to) = (from.max(column.first), to.min(column.last()));
    let bay = near.compartment.polygon.bounds().x;
    let height = |row| at_step(row, step);
    let room = (from..=to).flat_map(|row| near.free(height(row), bay)).map(Span::length);
    if let Some(room) = room.max_by(|a, b| a.value.total_cmp(&b.value)) {
        return Problem::StepTooCoarse { step, room };
    }
    let places = (from..=to).map(|row| Point::new(column.centre, height(row)));
    let mut blocked_by: Vec<Avoided> = places.flat_map(|place| near.blocked_by(place)).collect();
    crate::order::sort_by(&mut blocked_by, Ord::cmp);
    blocked_by.dedup();
    Problem::NoHoleFits { blocked_by, from: height(from), to: height(to) }
}

/// The holes row by row from the bottom, each row from the datum end.
fn numbered<'a>(columns: &'a [Column], chains: &'a [Option<Vec<i64>>]) -> Vec<Spot<'a>> {
    let mut spots = Vec::new();
    for (column, chain) in columns.iter().zip(chains) {
        let Some(chain) = chain else { continue };
        for (step, &row) in chain.iter().enumerate() {
            let Some(across) = column.at(row) else {
                continue;
            };
            spots.push(Spot { column, chain, step, row, across });
        }
    }
    crate::order::sort_by_key(&mut spots, |spot| (spot.row, spot.across));
    spots
}

fn hole(ground: &Ground<'_>, spots: &[Spot<'_>], idx: usize) -> Hole {
    let (spot, rules, frame) = (&spots[idx], ground.rules, ground.frame);
    let compartment = ground.near[spot.column.compartment].compartment;
    let across = at_step(spot.across, rules.marking_step);
    let up = at_step(spot.row, rules.marking_step);
    Hole {
        mark: idx + 1,
        compartment: compartment.id,
        step: spot.step + 1,
        centre: Point::new(ground.turned(across), up),
        across,
        up,
        slope: slope(rules.angle, rules.bit, (frame.finish, compartment.depth), rules.tip),
        why: why(ground, spots, idx),
    }
}

fn why(ground: &Ground<'_>, spots: &[Spot<'_>], idx: usize) -> Why {
    let spot = &spots[idx];
    let near = &ground.near[spot.column.compartment];
    let compartment = near.compartment;
    let step = ground.rules.marking_step;
    let centre = Point::new(ground.turned(at_step(spot.across, step)), at_step(spot.row, step));
    let bay = compartment.polygon.across(centre.y).into_iter().find(|span| span.contains(centre.x));
    let off_centre = centre.x - spot.column.centre;
    let avoided = if off_centre.abs() <= step / 2.0 + crate::quantity::SAME {
        Vec::new()
    } else {
        near.blocked_by(Point::new(spot.column.centre, centre.y))
    };
    let neighbour = |step_of: Option<usize>| {
        let row = *spot.chain.get(step_of?)?;
        let same_column =
            |other: &&Spot<'_>| std::ptr::eq(other.column, spot.column) && other.row == row;
        spots.iter().position(|other| same_column(&other)).map(|at| (at_step(row, step), at + 1))
    };
    let below = neighbour(spot.step.checked_sub(1));
    let above = neighbour(Some(spot.step + 1));
    let others = |other: &&Spot<'_>| {
        other.row == spot.row && other.column.compartment != spot.column.compartment
    };
    let mut shared: Vec<usize> =
        spots.iter().filter(others).map(|other| other.column.compartment).collect();
    shared.sort_unstable();
    shared.dedup();
    Why {
        depth: compartment.depth,
        bay_width: bay.map_or(compartment.clear_width, Span::length),
        row: ground.rules.spacing_at(compartment.depth).unwrap_or(ground.rules.spacing[0]),
        below: Reach {
            distance: centre.y - below.map_or(compartment.lowest.y, |(height, _)| height),
            hole: below.map(|(_, mark)| mark),
        },
        above: Reach {
            distance: above.map_or(compartment.highest.y, |(height, _)| height) - centre.y,
            hole: above.map(|(_, mark)| mark),
        },
        shared_with: shared.len(),
        off_centre,
        avoided,
        may_move_up: may_move_up(spot, step),
        may_move_across: may_move_across(near, centre),
    }
}

/// The unbroken run of legal rows around a hole in which every rule holds, its neighbours staying.
fn may_move_up(spot: &Spot<'_>, step: Length) -> Span {
    let (column, chain) = (spot.column, spot.chain);
    let below = spot.step.checked_sub(1).map(|before| chain[before]);
    let above = chain.get(spot.step + 1).copied();
    let lowest = above
        .map_or(column.window, |above| above - column.spread)
        .max(below.map_or(column.first, |below| below + 1));
    let highest = below
        .map_or(column.start, |below| below + column.spread)
        .min(above.map_or(column.last(), |above| above - 1));
    let run = |rows: &mut dyn Iterator<Item = i64>| {
        rows.take_while(|&row| column.legal(row)).last().unwrap_or(spot.row)
    };
    let from = run(&mut (lowest..=spot.row).rev());
    let to = run(&mut (spot.row..=highest));
    Span { from: at_step(from, step), to: at_step(to, step) }
}

fn may_move_across(near: &Near<'_>, centre: Point) -> Span {
    let bay = near.compartment.polygon.bounds().x;
    let free = near.free(centre.y, bay);
    let here = free.into_iter().find(|span| span.widened(crate::quantity::SAME).contains(centre.x));
    here.unwrap_or(Span { from: centre.x, to: centre.x })
}

fn once_each(readings: impl Iterator<Item = Length>) -> Vec<Length> {
    let mut readings: Vec<Length> = readings.collect();
    crate::quantity::sort(&mut readings);
    readings.dedup_by(|a, b| same(*a, *b));
    readings
}
