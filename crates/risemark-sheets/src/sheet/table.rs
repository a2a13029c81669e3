//! The table of holes: what is read while marking and drilling.

use risemark::{
    drilling::Hole,
    finding::{Avoided, Finding, Part, Problem},
    quantity::same,
    tape::{reading, size},
    wording::avoided_word,
};

use super::{
    Wanted,
    block::{Block, Head, PITCH, Piece, base, plain},
};
use crate::{
    drawing::{Anchor, At, Item, Shape},
    ink::Ink,
    text::{self, Face},
};

/// Heads of the columns: number, two readings, travel of the bit, ring to tick.
const HEADS: [&str; 5] = ["hole", "across", "up", "travel", "ok"];
/// The least room between two columns.
const GAP: f64 = 2.4;
/// Half the width of the ring to tick.
const TICK: f64 = 1.9;

/// Lines end with half their width inside the table.
const INSET: f64 = 0.25;

/// One row in words.
#[derive(Debug)]
struct Row {
    cells: [String; 4],
    notes: Option<String>,
}

/// Where the parts of a row lie.
#[derive(Debug, Clone, Copy)]
struct Layout {
    /// Left edges of the columns.
    lefts: [f64; 5],
    /// Where the ring to tick ends.
    ticks: f64,
    /// Where notes begin that stand in their row; where they find no room they stand under it.
    notes: Option<f64>,
    /// Where rows end.
    end: f64,
}

/// The table, as wide as it reads well.
pub(super) fn table(wanted: &Wanted<'_>, width: f64) -> Block {
    let rows = rows(wanted);
    let layout = layout(&rows, width);
    let pieces = rows.iter().map(|row| drawn(row, &layout));
    Block { head: head(&layout), head_is: Head::Repeats, pieces: pieces.collect() }
}

fn layout(rows: &[Row], width: f64) -> Layout {
    let widths = widths(rows);
    let noted = rows.iter().filter_map(|row| row.notes.as_deref());
    let longest = noted.map(|notes| text::width(notes, plain(), Face::Regular)).fold(0.0, f64::max);
    let beside = 0.0 < longest && needed(&widths) + GAP + longest <= width;
    let (n_gaps, notes) = if beside { (5.0, longest + GAP) } else { (4.0, 0.0) };
    // Spare room goes between the columns, up to what still reads as one row.
    let spare = (width - needed(&widths) - notes).max(0.0);
    let gap = GAP + (spare / n_gaps).min(9.0);
    let mut left = 0.0;
    let lefts = widths.map(|width| {
        let at = left;
        left += width + gap;
        at
    });
    let ticks = left - gap;
    Layout {
        lefts,
        ticks,
        notes: beside.then_some(left),
        end: if beside { left + longest } else { ticks },
    }
}

/// The width that the table needs at least.
pub(super) fn least_width(wanted: &Wanted<'_>) -> f64 {
    needed(&widths(&rows(wanted)))
}

fn needed(widths: &[f64; 5]) -> f64 {
    widths.iter().sum::<f64>() + GAP * 4.0
}

fn widths(rows: &[Row]) -> [f64; 5] {
    let mut widths = HEADS.map(|head| text::width(head, plain(), Face::Regular));
    for row in rows {
        for (idx, cell) in row.cells.iter().enumerate() {
            let face = if idx == 0 { Face::Bold } else { Face::Regular };
            widths[idx] = widths[idx].max(text::width(cell, plain(), face));
        }
    }
    widths
}

fn rows(wanted: &Wanted<'_>) -> Vec<Row> {
    let units = wanted.rules.units;
    let row = |hole: &Hole| Row {
        cells: [
            hole.mark.to_string(),
            reading(hole.across, units),
            reading(hole.up, units),
            size(hole.slope.travel, units),
        ],
        notes: notes(wanted, hole),
    };
    wanted.plan.drill.holes.iter().map(row).collect()
}

/// What is worth knowing at one hole.
fn notes(wanted: &Wanted<'_>, hole: &Hole) -> Option<String> {
    let mut notes = Vec::new();
    let about = |finding: &&Finding| finding.place.part == Part::Compartment(hole.compartment);
    if wanted
        .plan
        .findings
        .iter()
        .filter(about)
        .any(|finding| matches!(finding.problem, Problem::ProbeFirst { .. }))
    {
        notes.push("probe first".to_owned());
    }
    // That a hole keeps off timber goes without saying.
    let avoided = hole.why.avoided.iter().filter(|what| **what != Avoided::Timber);
    let words: Vec<&str> = avoided.map(|what| avoided_word(*what)).collect();
    if !words.is_empty() {
        notes.push(format!("clear of {}", words.join(", ")));
    }
    let depth = wanted.plan.compartment(hole.compartment).map(|compartment| compartment.depth);
    if let Some(depth) = depth.filter(|depth| !same(*depth, wanted.plan.frame.depth)) {
        notes.push(format!("{} deep here", size(depth, wanted.rules.units)));
    }
    (!notes.is_empty()).then(|| notes.join(", "))
}

fn head(layout: &Layout) -> Piece {
    let text = |(head, left): (&&str, &f64)| {
        Item::text(Ink::Text, (At::new(*left, base()), Anchor::Start), plain(), *head)
    };
    let mut items: Vec<Item> = HEADS.iter().zip(&layout.lefts).map(text).collect();
    items.push(Item::line(Ink::Rule, At::new(INSET, PITCH), At::new(layout.end - INSET, PITCH)));
    Piece { height: PITCH + 0.8, items }
}

fn drawn(row: &Row, layout: &Layout) -> Piece {
    let word = |ink, left: f64, down: f64, words: &str| {
        Item::text(ink, (At::new(left, down + base()), Anchor::Start), plain(), words)
    };
    let inks = [Ink::Heading, Ink::Text, Ink::Text, Ink::Text];
    let cells = row.cells.iter().zip(inks).zip(&layout.lefts);
    let mut items: Vec<Item> =
        cells.map(|((cell, ink), left)| word(ink, *left, 0.0, cell)).collect();
    let across = f64::midpoint(layout.lefts[4], layout.ticks);
    let centre = At::new(across, base() - text::height(plain()) / 2.0);
    items.push(Item::new(Ink::Tick, Shape::Ellipse { centre, rx: TICK, ry: TICK }));
    let mut height = PITCH;
    match (&row.notes, layout.notes) {
        (Some(notes), Some(left)) => items.push(word(Ink::Text, left, 0.0, notes)),
        (Some(notes), None) => {
            let left = layout.lefts[1];
            for line in text::wrapped(notes, layout.end - left, plain(), Face::Regular) {
                items.push(word(Ink::Text, left, height, &line));
                height += PITCH;
            }
        }
        (None, _) => {}
    }
    items.push(Item::line(
        Ink::RowLine,
        At::new(INSET, height + 0.3),
        At::new(layout.end - INSET, height + 0.3),
    ));
    Piece { height: height + 0.6, items }
}
