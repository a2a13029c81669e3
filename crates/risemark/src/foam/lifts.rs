//! Lifts: the part of a compartment that is filled through each of its holes.
//!
//! Foam drops to the bottom and rises level, so that the holes of one row fill what lies between the
//! row below and their own; the top row fills the rest. Beside each other, holes of a row share their
//! part at half the way from one to the next. An air space between leaves of brick, whose holes stand in
//! no columns, is shared out by nearness.

use uom::ConstZero;

use crate::{
    compartments::Compartment,
    drilling::{DrillPlan, Hole, Space},
    geometry::{Point, Rect, Span},
    limits,
    quantity::{Area, Length, Volume, from_whole, inches, longer, shorter, to_whole},
};

/// The part of a compartment that is filled through one hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lift {
    /// The mark of the hole.
    pub hole: usize,
    /// The level from which it fills.
    pub from: Length,
    /// The level up to which it fills: its row, or the top of the compartment.
    pub to: Length,
    /// What it takes, less what takes volume; exact for sloped sides and several pieces.
    pub volume: Volume,
    /// Mean width of the part: its face by its height.
    pub width: Length,
}

/// The lift of every hole, in the order of the plan's holes.
///
/// Guarantee: the lifts of a compartment sum to its volume.
pub fn lifts(compartments: &[Compartment], drill: &DrillPlan) -> Vec<Lift> {
    let mut lifts: Vec<Lift> = drill.holes.iter().map(empty).collect();
    for compartment in compartments {
        let here = |idx: &usize| drill.holes[*idx].compartment == compartment.id;
        let holes: Vec<usize> = (0..drill.holes.len()).filter(here).collect();
        if holes.iter().any(|&idx| matches!(drill.holes[idx].why.space, Space::AirSpace { .. })) {
            share_air_space(compartment, (&drill.holes, &holes), &mut lifts);
            continue;
        }
        for (idx, cell) in cells(compartment, &drill.holes, holes) {
            lifts[idx] = lift(compartment, drill.holes[idx].mark, cell);
        }
    }
    lifts
}

/// How much of a compartment lies below a level.
pub(super) fn volume_below(compartment: &Compartment, level: Length) -> Volume {
    let Rect { x, y } = compartment.polygon.bounds();
    volume_within(compartment, Rect { x, y: Span::new(y.from, longer(y.from, level)) })
}

fn empty(hole: &Hole) -> Lift {
    let (level, width) = (hole.up, Length::ZERO);
    Lift { hole: hole.mark, from: level, to: level, volume: Volume::ZERO, width }
}

/// The rectangle of each hole; together they tile the bounds of the compartment.
fn cells(compartment: &Compartment, holes: &[Hole], mut here: Vec<usize>) -> Vec<(usize, Rect)> {
    let bounds = compartment.polygon.bounds();
    crate::order::sort_by(&mut here, |a, b| holes[*a].up.value.total_cmp(&holes[*b].up.value));
    let mut rows = rows(holes, &here);
    let mut cells = Vec::with_capacity(here.len());
    let mut from = bounds.y.from;
    for row in &mut rows {
        let level = row.last().map_or(from, |idx| holes[*idx].up);
        let is_top = cells.len() + row.len() == here.len();
        let to = if is_top { bounds.y.to } else { longer(from, shorter(level, bounds.y.to)) };
        crate::order::sort_by(row, |a, b| {
            holes[*a].centre.x.value.total_cmp(&holes[*b].centre.x.value)
        });
        let mut left = bounds.x.from;
        for (at, idx) in row.iter().enumerate() {
            let next = row.get(at + 1).map(|next| holes[*next].centre.x);
            let right = next.map_or(bounds.x.to, |next| (holes[*idx].centre.x + next) / 2.0);
            cells.push((*idx, Rect { x: Span::new(left, right), y: Span::new(from, to) }));
            left = right;
        }
        from = to;
    }
    cells
}

/// How fine an air space is shared out, and into how many pieces a side at most.
const PIECE: Length = inches(3.0);
const MOST_PIECES: i64 = 120;

/// Shares an air space piece by piece: each goes to the nearest of the holes at its level or above, from
/// which foam falls; pieces over all holes to the nearest.
fn share_air_space(
    compartment: &Compartment,
    (holes, here): (&[Hole], &[usize]),
    lifts: &mut [Lift],
) {
    let bounds = compartment.polygon.bounds();
    let parts = |span: Span| {
        let n_parts = to_whole((span.length() / PIECE).value.ceil()).clamp(1, MOST_PIECES);
        let step = span.length() / from_whole(n_parts);
        let part = move |at: i64| Span {
            from: span.from + step * from_whole(at),
            to: if at + 1 == n_parts { span.to } else { span.from + step * from_whole(at + 1) },
        };
        (0..n_parts).map(part)
    };
    // Cut at the rows, so that what lies under a low row is its own.
    let mut levels: Vec<Length> = here.iter().map(|&idx| holes[idx].up).collect();
    levels.extend([bounds.y.from, bounds.y.to]);
    levels.retain(|level| bounds.y.contains(*level));
    crate::quantity::sort(&mut levels);
    levels.dedup();
    let layers = levels.windows(2).map(|pair| Span { from: pair[0], to: pair[1] });
    let mut faces = vec![Area::ZERO; holes.len()];
    let mut spans: Vec<Option<Span>> = vec![None; holes.len()];
    for y in layers.flat_map(parts) {
        for x in parts(bounds.x) {
            let piece = Rect { x, y };
            let face = compartment.polygon.area_within(piece);
            if face <= Area::ZERO {
                continue;
            }
            let Some(idx) = served_by(holes, here, Point::new(x.middle(), y.middle())) else {
                return;
            };
            lifts[idx].volume += volume_within(compartment, piece);
            faces[idx] += face;
            let known = spans[idx].unwrap_or(y);
            spans[idx] =
                Some(Span { from: shorter(known.from, y.from), to: longer(known.to, y.to) });
        }
    }
    for &idx in here {
        let Some(span) = spans[idx] else { continue };
        (lifts[idx].from, lifts[idx].to) = (span.from, span.to);
        lifts[idx].width = faces[idx] / span.length();
    }
}

/// The hole whose foam fills a place of an air space.
fn served_by(holes: &[Hole], here: &[usize], place: Point) -> Option<usize> {
    let far = |idx: usize| {
        let Point { x, y } = holes[idx].centre;
        ((x - place.x) * (x - place.x) + (y - place.y) * (y - place.y)).value
    };
    let nearest = |above: bool| {
        let able = here.iter().copied().filter(|&idx| !above || place.y <= holes[idx].up);
        able.min_by(|a, b| far(*a).total_cmp(&far(*b)))
    };
    nearest(true).or_else(|| nearest(false))
}

/// Holes of nearly one height, from the bottom up; sorted by height as they came. Of two over each other
/// the upper one fills what the lower leaves, however near they are.
pub(crate) fn rows(holes: &[Hole], sorted: &[usize]) -> Vec<Vec<usize>> {
    let mut rows: Vec<Vec<usize>> = Vec::new();
    for &idx in sorted {
        let of_last = |row: &&mut Vec<usize>| {
            let is_over = |other: &usize| {
                (holes[idx].centre.x - holes[*other].centre.x).abs() < limits::SAME_COLUMN
            };
            row.first().is_some_and(|first| holes[idx].up - holes[*first].up <= limits::SAME_ROW)
                && !row.iter().any(is_over)
        };
        match rows.last_mut().filter(of_last) {
            Some(row) => row.push(idx),
            None => rows.push(vec![idx]),
        }
    }
    rows
}

fn lift(compartment: &Compartment, hole: usize, cell: Rect) -> Lift {
    let face = compartment.polygon.area_within(cell);
    let height = cell.y.length();
    let width = if Length::ZERO < height { face / height } else { Length::ZERO };
    let volume = volume_within(compartment, cell);
    Lift { hole, from: cell.y.from, to: cell.y.to, volume, width }
}

fn volume_within(compartment: &Compartment, cell: Rect) -> Volume {
    let whole = compartment.polygon.area_within(cell) * compartment.depth;
    let taken = compartment.taken.iter();
    taken.fold(whole, |left, part| left - part.polygon.area_within(cell) * part.depth)
}
