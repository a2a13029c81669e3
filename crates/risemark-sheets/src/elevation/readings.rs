//! The readings of the columns of holes, upright in rows under the tape.

use risemark::{
    drilling::Hole,
    quantity::{Length, count, same},
    tape::reading,
};

use super::{
    Crowding, Draft, Manner, holes,
    rows::{Need, Placed, Room, Wanted, place},
    spread::spread,
    stairs::stairs,
};
use crate::{
    drawing::{Anchor, At, Item, Shape},
    ink::Ink,
    text::{self, Face},
};

/// From the tape down to the first row of readings, in heights of the figures.
const LEAD: f64 = 0.9;
/// From one row of readings to the next.
const ROW: f64 = 1.75;
/// Height of the strip in which lines run aslant where columns stand too close for their readings.
const FAN: f64 = 1.3;
/// The same over readings in stairs, whose lines run further aslant.
const STAIR_FAN: f64 = 2.6;

/// One column of holes, or several that are too close to be told apart in the drawing.
#[derive(Debug, Clone)]
struct Column {
    x: f64,
    text: String,
    chosen: bool,
}

impl Column {
    /// This column and one that lies too close to the right of it, under one label.
    fn joined(&self, other: Self, draft: &Draft<'_>) -> Self {
        // Where readings may be spared, that of the selected hole is the one that is needed.
        match (draft.manner.crowding, self.chosen, other.chosen) {
            (Crowding::Thin, true, _) => return self.clone(),
            (Crowding::Thin, _, true) => return other,
            _ => {}
        }
        let both =
            if draft.away() < 0.0 { [&other.text, &self.text] } else { [&self.text, &other.text] };
        // One unit does for two figures.
        let first = both[0].strip_suffix(" mm").unwrap_or(both[0]);
        let text = format!("{first} & {}", both[1]);
        Self { text, chosen: self.chosen || other.chosen, x: self.x }
    }

    fn width(&self, draft: &Draft<'_>) -> f64 {
        let face = if self.chosen { Face::Bold } else { Face::Regular };
        text::width(&self.text, draft.manner.text, face)
    }
}

/// Where readings stand, and how their lines come to them.
#[derive(Debug)]
struct Standing {
    /// Where each line comes down on its text, after it ran aslant.
    lines: Vec<f64>,
    placed: Vec<Option<Placed>>,
    /// Height of the strip in which lines run aslant.
    fan: f64,
}

/// The most height that readings take under the tape.
pub(super) fn height(manner: &Manner) -> f64 {
    (STAIR_FAN + LEAD + ROW * count(manner.rows)) * manner.height()
}

/// The readings with their lines from the tape.
pub(super) fn readings(draft: &Draft<'_>, tape_bottom: f64) -> Vec<Item> {
    let columns = columns(draft);
    let standing = standing(draft, &columns);
    let each = columns.iter().zip(&standing.lines).zip(&standing.placed);
    let labels = each.filter_map(|((column, line), placed)| {
        Some(label(draft, column, (*line, (*placed)?), (tape_bottom, standing.fan)))
    });
    labels.flatten().collect()
}

/// How far down the readings reach under a tape, and whether every one finds room.
pub(super) fn foot(draft: &Draft<'_>, tape_bottom: f64) -> (f64, bool) {
    let columns = columns(draft);
    let Standing { placed, fan, .. } = standing(draft, &columns);
    let deepest = placed.iter().flatten().map(|placed| placed.row).max();
    let complete = placed.iter().all(Option::is_some);
    let Some(row) = deepest else { return (tape_bottom, complete) };
    let h = draft.manner.height();
    let base = tape_bottom + fan + (LEAD + ROW * count(row)) * h + h;
    let reach = |column: &Column| text::reach(&column.text, draft.manner.text).1;
    (base + columns.iter().map(reach).fold(0.0, f64::max), complete)
}

/// The readings of the holes that are drawn, each once, from the datum end.
pub(super) fn across(draft: &Draft<'_>) -> Vec<Length> {
    let holes: Vec<&Hole> = holes::seen(draft).collect();
    let all = draft.subject.plan.drill.columns.iter().copied();
    all.filter(|across| holes.iter().any(|hole| same(hole.across, *across))).collect()
}

/// The readings from left to right; what is too close together shares one label.
fn columns(draft: &Draft<'_>) -> Vec<Column> {
    let units = draft.subject.speech.units;
    let chosen = holes::chosen(draft).map(|hole| hole.across);
    let mut readings = across(draft);
    risemark::order::sort_by(&mut readings, |a, b| {
        draft.reading_x(*a).total_cmp(&draft.reading_x(*b))
    });
    let mut columns: Vec<Column> = Vec::new();
    for across in readings {
        let (x, text) = (draft.reading_x(across), reading(across, units));
        let is_chosen = chosen.is_some_and(|chosen| same(chosen, across));
        match columns.last_mut() {
            Some(last) if x - last.x < draft.manner.height() * 0.5 => {
                *last = last.joined(Column { x, text, chosen: is_chosen }, draft);
            }
            _ => columns.push(Column { x, text, chosen: is_chosen }),
        }
    }
    columns
}

/// Straight under their columns where that does, else spread apart, else in stairs, else without some.
fn standing(draft: &Draft<'_>, columns: &[Column]) -> Standing {
    let (area, manner) = (draft.room(), draft.manner);
    let clear = manner.height() * 0.4;
    let room = Room { left: area.left, right: area.right, gap: manner.gap, clear };
    let straight: Vec<f64> = columns.iter().map(|column| column.x).collect();
    let wanted = |lines: &[f64], keep: bool| -> Vec<Wanted> {
        let need = |column: &Column| if keep || column.chosen { Need::Must } else { Need::May };
        let each = columns.iter().zip(lines);
        each.map(|(column, x)| Wanted { x: *x, width: column.width(draft), need: need(column) })
            .collect()
    };
    if let Some(placed) = place(&wanted(&straight, true), room, manner.rows) {
        return Standing { lines: straight, placed, fan: 0.0 };
    }
    let widths: Vec<f64> = columns.iter().map(|column| column.width(draft)).collect();
    for n_rows in 2..=manner.rows {
        let ends = (area.left + clear, area.right - clear);
        let lines = spread(&straight, &distances(&widths, clear, n_rows), ends);
        let placed =
            lines.and_then(|lines| Some((place(&wanted(&lines, true), room, n_rows)?, lines)));
        if let Some((placed, lines)) = placed {
            return Standing { lines, placed, fan: FAN * manner.height() };
        }
    }
    for n_rows in 3..=manner.rows {
        if let Some((lines, placed)) = stairs(&straight, &widths, room, n_rows) {
            return Standing { lines, placed, fan: STAIR_FAN * manner.height() };
        }
    }
    let some = wanted(&straight, false);
    let placed = place(&some, room, manner.rows);
    let placed = placed.unwrap_or_else(|| {
        // Where even the selected reading finds no room among the others, it stands alone.
        let alone = |column: &Column, wanted: Wanted| {
            let placed = column.chosen.then(|| place(&[wanted], room, manner.rows)).flatten();
            placed.and_then(|placed| placed.first().copied().flatten())
        };
        columns.iter().zip(some).map(|(column, wanted)| alone(column, wanted)).collect()
    });
    Standing { lines: straight, placed, fan: 0.0 }
}

/// How far apart lines must come down so that so many rows can take turns.
///
/// The text of the first row stands between the lines that pass it on both sides; lines to the
/// deeper rows run close together.
fn distances(widths: &[f64], clear: f64, n_rows: usize) -> Vec<f64> {
    let pairs = widths.windows(2).enumerate();
    let distance = |(idx, pair): (usize, &[f64])| {
        let beside_first = idx % n_rows == 0 || (idx + 1) % n_rows == 0;
        if beside_first { pair[0].max(pair[1]) / 2.0 + clear * 1.05 } else { clear * 2.1 }
    };
    pairs.map(distance).collect()
}

fn label(
    draft: &Draft<'_>,
    column: &Column,
    (line, Placed { row, left }): (f64, Placed),
    (bottom, fan): (f64, f64),
) -> [Item; 2] {
    let h = draft.manner.height();
    let top = bottom + fan + (LEAD + ROW * count(row)) * h;
    let chain =
        vec![At::new(column.x, bottom), At::new(line, bottom + fan), At::new(line, top - 0.25 * h)];
    let base = At::new(left, top + h);
    let ink = draft.text_ink(column.chosen);
    [
        Item::new(Ink::Leader, Shape::Chains(vec![chain])),
        Item::text(ink, (base, Anchor::Start), draft.manner.text, column.text.clone()),
    ]
}
