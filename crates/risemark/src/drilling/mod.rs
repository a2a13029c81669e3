//! Stage 3, drill: the fewest holes that fill every compartment, on the fewest lines.

mod across;
mod brick;
mod clearance;
mod given;
mod legal;
mod lines;
mod near;
mod slope;
mod why;

use crate::{
    compartments::{Compartment, State},
    finding::{Avoided, CompartmentId, Finding, Noun, Place, Problem, Staged},
    framing::Frame,
    geometry::{Point, Span},
    job::{Drilling, Liked, OwnHole, OwnState, RowsFrom},
    limits::SpacingRow,
    quantity::{Length, at_step, from_whole, same, to_whole},
    rules::Rules,
};

pub use slope::{Slope, slope};

use given::{Given, given, stretches, taken};
use legal::{Column, Ground};
use lines::Search;

/// Where to drill.
///
/// Guarantees: every fillable compartment has holes by the rules or a finding says what is broken;
/// holes are sorted by mark; the planner's own lie on the marking step from the datum and from the
/// floor or the ceiling.
#[derive(Debug, Clone, PartialEq)]
pub struct DrillPlan {
    /// The holes by their marks: row by row from the bottom, each row from the datum end, unless some
    /// were marked before.
    pub holes: Vec<Hole>,
    /// Heights of the snap lines, from the bottom up.
    pub snap_lines: Vec<Length>,
    /// No plan with as few holes has fewer snap lines than this.
    pub lines_bound: usize,
    /// Readings across of the hole columns, from the datum end, each once.
    pub columns: Vec<Length>,
    /// Compartments that no legal set of holes fills.
    pub unreached: Vec<(CompartmentId, Problem)>,
    /// Where the planner of an air space would drill, if people had not left the hole out.
    pub left_out: Vec<Point>,
    /// Holes that were set, drilled or left out where no space is to fill, each with its position in the
    /// wall's list.
    pub strays: Vec<(usize, OwnHole)>,
    /// Where heights are measured from.
    pub rows_from: RowsFrom,
    /// The ceiling at the datum end, above the finished floor.
    pub ceiling: Length,
    /// The slope that all holes of the wall share.
    pub slope: Slope,
}

/// One hole.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// Its number on the wall, from 1.
    pub mark: usize,
    /// Who chose it, and what became of it.
    pub state: HoleState,
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

/// Who chose a hole, and what became of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HoleState {
    /// The planner chose it.
    Planned,
    /// People did, or have drilled it: the entry of the wall's list, and what it says.
    Own(usize, OwnState),
}

impl Hole {
    /// Whether its lift has been filled already: it is patched over.
    pub fn is_filled(&self) -> bool {
        matches!(self.state, HoleState::Own(_, OwnState::Patched))
    }
}

/// The reasons for one hole's place, with their numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Why {
    /// Depth of the compartment.
    pub depth: Length,
    /// What it fills.
    pub space: Space,
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

/// What a hole fills.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Space {
    /// A bay between studs.
    Bay {
        /// Its clear width at the hole.
        width: Length,
    },
    /// The air space between two leaves of brick.
    AirSpace {
        /// How far foam reaches.
        reach: Length,
        /// The farthest place, about, that no other hole reaches.
        farthest: Length,
    },
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
    /// A good plan at once.
    Quick,
    /// A good plan at once that keeps to an earlier plan where that is as good, as while something is
    /// dragged.
    Near(Earlier<'a>),
    /// The best there is, proved where that can be done.
    Thorough,
    /// The best there is, found before, and how many snap lines there are at least.
    ///
    /// What does not fit the wall is passed over, as for a quick plan.
    Known(Earlier<'a>, usize),
}

/// What an earlier plan of the same wall came to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Earlier<'a> {
    /// Its snap lines.
    pub lines: &'a [Length],
    /// The centres of the planner's holes; only an air space asks for them.
    pub places: &'a [Point],
}

/// Chooses where to drill.
pub fn drill(
    frame: &Frame,
    compartments: &[Compartment],
    rules: &Rules,
    wishes: &Drilling,
    effort: Effort<'_>,
) -> Staged<DrillPlan> {
    // Find where a hole may be, in each column of each compartment that can be filled.
    if frame.construction.is_brick() {
        return brick::drill((frame, compartments, rules), wishes, effort);
    }
    let ground = Ground::of(frame, compartments, rules, wishes.rows_from);
    let fillable = compartments.iter().enumerate().filter(|(_, c)| c.state == State::Fillable);
    let columns: Vec<Column> = fillable.flat_map(|(idx, _)| ground.columns(idx)).collect();

    // Name the compartments that no holes fill by the rules; half a compartment is not drilled.
    let own = given(&ground, &columns, &wishes.holes);
    let unreached = unreached(&ground, &columns, &own);

    // Leave to the planner what the holes of others do not fill.
    let reached = |column: &Column| unreached.iter().all(|(idx, _)| *idx != column.compartment);
    let stretches = stretches(&ground, &columns, &own.holes).into_iter();
    let (of_column, parts): (Vec<usize>, Vec<Column>) =
        stretches.filter(|(_, part)| reached(part)).unzip();

    // Choose the heights: fewest holes, then fewest lines, then even distances.
    let known = lines::Wanted {
        taken: taken(&ground, &own.holes),
        preferred: wishes.liked.iter().flat_map(|liked| liked_rows(&ground, *liked)).collect(),
    };
    let heights = lines::choose(&parts, &known, &search(&ground, effort));

    // Put holes over each other on one reading, number them all and say why each is there.
    let chains = of_column.iter().zip(&heights.chains);
    let rows =
        chains.flat_map(|(&column, chain)| chain.iter().flatten().map(move |&row| (column, row)));
    let rows: Vec<(usize, i64)> = rows.collect();
    let spots = numbered(placed(&ground, &columns, &rows, &own), &wishes.holes);
    let holes: Vec<Hole> =
        (0..spots.len()).map(|idx| hole(&ground, &columns, &spots, idx)).collect();

    let mut findings: Vec<Finding> = unreached
        .iter()
        .map(|(idx, problem)| {
            Finding::new(Place::compartment(compartments[*idx].id), problem.clone())
        })
        .collect();
    findings.extend(broken_rules(&ground, &columns, &spots, &own));
    findings.extend(void_marks(&wishes.holes, &holes));
    let snap_lines = once_each(holes.iter().map(|hole| hole.up));
    let product = DrillPlan {
        // Holes that were left out may have had a line of their own.
        lines_bound: heights.bound.min(snap_lines.len()),
        snap_lines,
        columns: once_each(holes.iter().map(|hole| hole.across)),
        holes,
        unreached: unreached
            .into_iter()
            .map(|(idx, problem)| (compartments[idx].id, problem))
            .collect(),
        left_out: Vec::new(),
        strays: own.strays.iter().map(|at| (*at, wishes.holes[*at])).collect(),
        rows_from: wishes.rows_from,
        ceiling: legal::ceiling(frame),
        slope: slope(rules.angle, rules.bit, (frame.finish, frame.depth), rules.tip),
    };
    Staged { product, findings }
}

impl DrillPlan {
    /// A height above the finished floor as it is read at the wall: up from the floor, or down from
    /// the ceiling.
    pub fn reading(&self, up: Length) -> Length {
        match self.rows_from {
            RowsFrom::Floor => up,
            RowsFrom::Ceiling => self.ceiling - up,
        }
    }

    /// The centres of the holes that the planner chose, those among them that people left out as well.
    pub fn places(&self) -> impl Iterator<Item = Point> {
        let planned = self.holes.iter().filter(|hole| hole.state == HoleState::Planned);
        planned.map(|hole| hole.centre).chain(self.left_out.iter().copied())
    }

    /// Whether it is proved that no plan with as few holes has fewer snap lines.
    pub fn is_proved(&self) -> bool {
        self.snap_lines.len() <= self.lines_bound
    }
}

/// One hole before it has its reasons.
#[derive(Debug, Clone, Copy)]
struct Spot {
    /// Its column in the list.
    column: usize,
    at: Point,
    /// Its reading from the datum end.
    across: Length,
    state: HoleState,
    mark: usize,
}

fn search(ground: &Ground<'_>, effort: Effort<'_>) -> Search {
    let row = |height: &Length| to_whole(ground.rows(*height).round());
    match effort {
        Effort::Quick => Search::Quick,
        Effort::Near(earlier) => Search::Near(earlier.lines.iter().map(row).collect()),
        Effort::Thorough => Search::Thorough,
        Effort::Known(found, bound) => Search::Known(found.lines.iter().map(row).collect(), bound),
    }
}

/// The rows at which a row is liked.
fn liked_rows(ground: &Ground<'_>, liked: Liked) -> Vec<i64> {
    let nearest = |up: Length| to_whole(ground.rows(up).round());
    match liked {
        Liked::Height { up } => vec![nearest(up)],
        Liked::Band { from, to } => {
            let (from, to) = (ground.rows(from).ceil(), ground.rows(to).floor());
            (to_whole(from)..=to_whole(to)).collect()
        }
        Liked::Laps { first, spacing } => {
            let top = ground.frame.outline.bounds().y.to;
            let n_laps = to_whole(((top - first) / spacing).value.floor());
            (0..=n_laps).map(|lap| nearest(first + spacing * from_whole(lap))).collect()
        }
    }
}

fn unreached(ground: &Ground<'_>, columns: &[Column], own: &Given) -> Vec<(usize, Problem)> {
    let mut unreached: Vec<(usize, Problem)> = Vec::new();
    for column in columns {
        let compartment = column.compartment;
        let known = unreached.iter().any(|(idx, _)| *idx == compartment);
        // Where somebody has set a hole, the rest is planned as far as it can be.
        let is_own = own.holes.iter().any(|hole| columns[hole.column].compartment == compartment);
        if let (false, false, Err(stretch)) = (known, is_own, lines::shortest(column)) {
            unreached.push((compartment, why_unreached(ground, column, stretch)));
        }
    }
    unreached
}

/// What is in the way on the stretch in which the next hole would be.
fn why_unreached(ground: &Ground<'_>, column: &Column, (from, to): (i64, i64)) -> Problem {
    let near = &ground.near[column.compartment];
    let (from, to) = (from.max(column.first), to.min(column.last()));
    let bay = near.compartment.polygon.bounds().x;
    let height = |row| ground.height(row);
    let room = (from..=to).flat_map(|row| near.free(height(row), bay)).map(Span::length);
    if let Some(room) = room.max_by(|a, b| a.value.total_cmp(&b.value)) {
        return Problem::StepTooCoarse { step: ground.rules.marking_step, room };
    }
    let places = (from..=to).map(|row| Point::new(column.centre, height(row)));
    let mut blocked_by: Vec<Avoided> = places.flat_map(|place| near.blocked_by(place)).collect();
    crate::order::sort_by(&mut blocked_by, Ord::cmp);
    blocked_by.dedup();
    Problem::NoHoleFits { blocked_by, from: height(from), to: height(to) }
}

/// The planner's holes and those of others in their places, without those that are left out.
fn placed(
    ground: &Ground<'_>,
    columns: &[Column],
    rows: &[(usize, i64)],
    own: &Given,
) -> Vec<Spot> {
    let step = ground.rules.marking_step;
    let given = own.holes.iter().map(|hole| Spot {
        column: hole.column,
        at: hole.at,
        across: ground.turned(hole.at.x),
        state: HoleState::Own(hole.number, OwnState::Set),
        mark: 0,
    });
    let mut spots: Vec<Spot> = given.collect();
    let readings: Vec<i64> =
        spots.iter().map(|spot| to_whole((spot.across / step).value.round())).collect();
    let marks = across::shared(ground, columns, rows, &readings);
    spots.extend(rows.iter().zip(marks).map(|(&(column, row), mark)| {
        let across = at_step(mark, step);
        let at = Point::new(ground.turned(across), ground.height(row));
        Spot { column, at, across, state: HoleState::Planned, mark: 0 }
    }));
    for &(_, column, place) in &own.left_out {
        if let Some(at) = left_out(&spots, &columns[column], (column, place), step) {
            spots.remove(at);
        }
    }
    spots
}

/// The planner's hole that somebody meant who left one out at a place, if it is still about there.
fn left_out(
    spots: &[Spot],
    rows: &Column,
    (column, place): (usize, Point),
    step: Length,
) -> Option<usize> {
    let far = |spot: &Spot| (spot.at.y - place.y).abs();
    let near = at_step(rows.spread, step) / 2.0;
    let mine = spots.iter().enumerate().filter(|(_, spot)| {
        spot.column == column && spot.state == HoleState::Planned && far(spot) <= near
    });
    mine.min_by(|(_, a), (_, b)| far(a).value.total_cmp(&far(b).value)).map(|(at, _)| at)
}

/// Numbers holes row by row from the bottom, each row from the datum end; marks that are on the wall
/// already stay, and new ones follow after them.
fn numbered(mut spots: Vec<Spot>, own: &[OwnHole]) -> Vec<Spot> {
    let by_row = |a: &Spot, b: &Spot| {
        let up = a.at.y.value.total_cmp(&b.at.y.value);
        up.then(a.across.value.total_cmp(&b.across.value))
    };
    crate::order::sort_by(&mut spots, by_row);
    let mut next = 1 + own.iter().filter_map(|hole| hole.mark).max().unwrap_or(0);
    let mut used: Vec<u32> = Vec::new();
    for spot in &mut spots {
        let entry = match spot.state {
            HoleState::Planned => None,
            HoleState::Own(number, _) => own.get(number).map(|hole| (number, hole)),
        };
        if let Some((number, hole)) = entry {
            spot.state = HoleState::Own(number, hole.state);
        }
        let mark = entry.and_then(|(_, hole)| hole.mark).filter(|mark| !used.contains(mark));
        let mark = mark.unwrap_or_else(|| {
            next += 1;
            next - 1
        });
        used.push(mark);
        spot.mark = usize::try_from(mark).unwrap_or(usize::MAX);
    }
    crate::order::sort_by_key(&mut spots, |spot| spot.mark);
    spots
}

fn hole(ground: &Ground<'_>, columns: &[Column], spots: &[Spot], idx: usize) -> Hole {
    let (spot, rules, frame) = (&spots[idx], ground.rules, ground.frame);
    let compartment = ground.near[columns[spot.column].compartment].compartment;
    Hole {
        mark: spot.mark,
        state: spot.state,
        compartment: compartment.id,
        step: step_of(columns, spots, idx),
        centre: spot.at,
        across: spot.across,
        up: spot.at.y,
        slope: slope(rules.angle, rules.bit, (frame.finish, compartment.depth), rules.tip),
        why: why::why(ground, columns, spots, idx),
    }
}

/// Marks that stand on the wall where no hole goes any more: nobody must drill there.
fn void_marks(own: &[OwnHole], holes: &[Hole]) -> Vec<Finding> {
    let void = own.iter().enumerate().filter_map(|(number, marked)| {
        let mark = marked.mark.filter(|_| marked.state == OwnState::Marked)?;
        let stays = holes.iter().any(|hole| same_place(hole.centre, marked.at));
        let place = Place::entry(Noun::Hole, number);
        (!stays).then(|| Finding::new(place, Problem::MarkIsVoid { mark }))
    });
    void.collect()
}

fn same_place(a: Point, b: Point) -> bool {
    same(a.x, b.x) && same(a.y, b.y)
}

/// Its position in the chain of its compartment, from 1: from the bottom, then from the left.
fn step_of(columns: &[Column], spots: &[Spot], idx: usize) -> usize {
    let spot = &spots[idx];
    let mine = |other: &&Spot| {
        columns[other.column].compartment == columns[spot.column].compartment
            && (other.column, other.at.y) < (spot.column, spot.at.y)
    };
    1 + spots.iter().filter(mine).count()
}

/// Rules that the holes of others break, with their numbers.
fn broken_rules(
    ground: &Ground<'_>,
    columns: &[Column],
    spots: &[Spot],
    own: &Given,
) -> Vec<Finding> {
    let entry = |number: usize, problem| Finding::new(Place::entry(Noun::Hole, number), problem);
    let mut findings: Vec<Finding> = Vec::new();
    for hole in own.holes.iter().filter(|hole| !hole.too_near.is_empty()) {
        let problem = Problem::HoleTooNear {
            blocked_by: hole.too_near.clone(),
            least: ground.rules.edge_distance(),
        };
        findings.push(entry(hole.number, problem));
    }
    let strays = own.strays.iter();
    findings.extend(strays.map(|&number| entry(number, Problem::HoleMissesSpaces)));
    for (idx, column) in columns.iter().enumerate() {
        let touched = own.holes.iter().any(|hole| hole.column == idx)
            || own.left_out.iter().any(|(_, column, _)| *column == idx);
        let place = || Place::compartment(ground.near[column.compartment].compartment.id);
        let mut beside = own.holes.iter().map(|hole| columns[hole.column].compartment);
        if touched {
            let gaps = why::gaps(ground, (idx, column), spots).into_iter();
            findings.extend(gaps.map(|gap| Finding::new(place(), gap)));
        } else if beside.any(|compartment| compartment == column.compartment)
            && let Err(stretch) = lines::shortest(column)
        {
            // Beside the hole that somebody set no other fits.
            findings.push(Finding::new(place(), why_unreached(ground, column, stretch)));
        }
    }
    findings
}

fn once_each(readings: impl Iterator<Item = Length>) -> Vec<Length> {
    let mut readings: Vec<Length> = readings.collect();
    crate::quantity::sort(&mut readings);
    readings.dedup_by(|a, b| same(*a, *b));
    readings
}
