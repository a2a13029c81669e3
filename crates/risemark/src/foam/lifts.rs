//! Lifts: the part of a compartment that is filled through each of its holes.
//!
//! Foam drops to the bottom and rises level, so that the holes of one row fill what lies between the
//! row below and their own; the top row fills the rest. Beside each other, holes of a row share their
//! part at half the way from one to the next.

use uom::ConstZero;

use crate::{
    compartments::Compartment,
    drilling::{DrillPlan, Hole},
    geometry::{Rect, Span},
    limits,
    quantity::{Length, Volume, longer, shorter},
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

/// Holes of nearly one height, from the bottom up; sorted by height as they came.
fn rows(holes: &[Hole], sorted: &[usize]) -> Vec<Vec<usize>> {
    let mut rows: Vec<Vec<usize>> = Vec::new();
    for &idx in sorted {
        let of_last = |row: &&mut Vec<usize>| {
            row.first().is_some_and(|first| holes[idx].up - holes[*first].up <= limits::SAME_ROW)
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
