//! The table of holes: what is read while marking, drilling and shooting.
//!
//! Holes stand in the order of their marks, those of a snap line in rows beside its height.

use risemark::{
    drilling::Hole,
    finding::{Avoided, Finding, Part, Problem},
    language::{Language, Text},
    quantity::{Length, same},
    tape::{reading, size},
    wording::avoided_word,
};

use super::{
    Wanted,
    block::{Block, Flowing, Head, Lies, PITCH, Piece, base, paragraph, plain},
    shots::{HoleShot, in_a_note, in_the_table},
};
use crate::{
    drawing::{Anchor, At, Item, Shape},
    ink::Ink,
    text::{self, Face, Paragraph},
    words,
};

/// The room between the parts of a cell.
const GAP: f64 = 1.8;
/// The least room between two cells.
const BETWEEN: f64 = 4.0;
/// The most that is added to it where there is room.
const SPARE: f64 = 9.0;
/// Half the width of the ring to tick.
const TICK: f64 = 1.8;
/// Lines end with half their width inside the table.
const INSET: f64 = 0.25;

/// The table of one wall.
#[derive(Debug)]
pub(super) struct Table {
    cells: Vec<Cell>,
    /// What is worth knowing about some of them; stands at the foot.
    notes: Vec<Paragraph>,
    widths: Widths,
    /// The head of the heights.
    up: Text,
    language: Language,
}

/// One hole in words.
#[derive(Debug)]
struct Cell {
    /// The height of its snap line.
    up: (Length, String),
    mark: String,
    /// A star where there is a note.
    star: &'static str,
    across: String,
    /// In the order of the columns.
    more: [String; 3],
}

/// The widest of each.
#[derive(Debug, Clone, Copy)]
struct Widths {
    up: f64,
    mark: f64,
    across: f64,
    /// Nothing for a column that the table does not have: travel where one drill stop does for the
    /// wall, as is said above the table; seconds and turns where nobody has planned them.
    more: [Option<f64>; 3],
}

/// The columns that not every table has.
const MORE: [Text; 3] = [words::TRAVEL, words::SECONDS, words::TURN];

/// Where the parts of rows lie.
#[derive(Debug, Clone)]
struct Layout {
    /// Left edges of the cells.
    cells: Vec<f64>,
    /// Where rows end.
    end: f64,
}

impl Table {
    pub(super) fn of(wanted: &Wanted<'_>) -> Self {
        let (units, language) = (wanted.rules.units, wanted.language);
        let head_width = |head: Text| text::width(head.of(language), plain(), Face::Regular);
        let mut notes: Vec<(String, String)> = Vec::new();
        let cell = |hole: &Hole| {
            let noted = note(wanted, hole).map(|words| take_note(&mut notes, hole, words));
            // This one has its star at the seconds.
            if let Some(words) = in_a_note(&shots(wanted, hole), language) {
                take_note(&mut notes, hole, words);
            }
            Cell {
                up: (hole.up, reading(wanted.plan.drill.reading(hole.up), units)),
                mark: hole.mark.to_string(),
                star: noted.map_or("", |()| "*"),
                across: reading(hole.across, units),
                more: more(wanted, hole),
            }
        };
        let cells: Vec<Cell> = wanted.plan.drill.holes.iter().map(cell).collect();
        let note = |(words, marks)| paragraph(&format!("* {words}: {marks}"), Face::Regular);
        let notes = notes.into_iter().map(note).collect();
        let widest = |head: Text, words: &dyn Fn(&Cell) -> &str, face| {
            let all = cells.iter().map(|cell| text::width(words(cell), plain(), face));
            all.fold(head_width(head), f64::max)
        };
        let shots = &wanted.shots.shots;
        let has = [!one_stop(wanted), !shots.is_empty(), wanted.shots.has_turns()];
        let up = words::up(wanted.plan.drill.rows_from);
        let widths = Widths {
            up: widest(up, &|cell| &cell.up.1, Face::Bold),
            mark: cells.iter().map(Cell::mark_width).fold(head_width(words::NUMBER), f64::max),
            across: widest(words::ACROSS, &|cell| &cell.across, Face::Regular),
            more: [0, 1, 2].map(|idx| {
                has[idx].then(|| widest(MORE[idx], &|cell| &cell.more[idx], Face::Regular))
            }),
        };
        Self { cells, notes, widths, up, language }
    }

    /// The width that the table needs at least.
    pub(super) fn least_width(&self) -> f64 {
        self.first() + self.widths.cell()
    }

    /// Where the first cell begins.
    fn first(&self) -> f64 {
        self.widths.up + BETWEEN
    }

    fn layout(&self, width: f64) -> Layout {
        let (first, cell) = (self.first(), self.widths.cell());
        let mut n_cells = 1_u8;
        while first + f64::from(n_cells + 1) * (cell + BETWEEN) - BETWEEN <= width && n_cells < 50 {
            n_cells += 1;
        }
        // Spare room goes between the cells, up to what still reads as one row.
        let needed = first + f64::from(n_cells) * (cell + BETWEEN) - BETWEEN;
        let pitch = cell + BETWEEN + ((width - needed).max(0.0) / f64::from(n_cells)).min(SPARE);
        let cells: Vec<f64> = (0..n_cells).map(|idx| first + f64::from(idx) * pitch).collect();
        let end = cells.last().copied().unwrap_or(first) + cell;
        Layout { cells, end }
    }

    fn head(&self, layout: &Layout) -> Piece {
        let text = |head: Text, left: f64| {
            let at = (At::new(left, base()), Anchor::Start);
            Item::text(Ink::Text, at, plain(), head.of(self.language))
        };
        let mut items = vec![text(self.up, 0.0)];
        for left in &layout.cells {
            items.push(text(words::NUMBER, *left));
            items.push(text(words::ACROSS, left + self.widths.across_at()));
            items.extend(self.widths.more_at().map(|(idx, at)| text(MORE[idx], left + at)));
        }
        let end = At::new(layout.end - INSET, PITCH + 0.5);
        items.push(Item::line(Ink::Rule, At::new(INSET, PITCH + 0.5), end));
        Piece { height: PITCH + 1.0, items, n_entries: 0 }
    }

    /// Holes of one snap line side by side.
    fn row(&self, cells: &[Cell], layout: &Layout, first_of_line: bool) -> Piece {
        let mut items = Vec::new();
        let mut word = |ink, left: f64, words: &str| {
            let at = At::new(left, base());
            items.push(Item::text(ink, (at, Anchor::Start), plain(), words));
        };
        if let Some(cell) = cells.first().filter(|_| first_of_line) {
            word(Ink::Heading, 0.0, &cell.up.1);
        }
        for (cell, left) in cells.iter().zip(&layout.cells) {
            word(Ink::Heading, *left, &cell.mark);
            if !cell.star.is_empty() {
                word(Ink::Text, left + text::width(&cell.mark, plain(), Face::Bold), cell.star);
            }
            word(Ink::Text, left + self.widths.across_at(), &cell.across);
            for (idx, at) in self.widths.more_at() {
                word(Ink::Text, left + at, &cell.more[idx]);
            }
        }
        let middle = base() - text::height(plain()) / 2.0;
        items.extend(cells.iter().zip(&layout.cells).map(|(_, left)| {
            let centre = At::new(left + self.widths.cell() - TICK, middle);
            Item::new(Ink::Tick, Shape::Ellipse { centre, rx: TICK, ry: TICK })
        }));
        let end = At::new(layout.end - INSET, PITCH + 0.25);
        items.push(Item::line(Ink::RowLine, At::new(INSET, PITCH + 0.25), end));
        Piece { height: PITCH + 0.5, items, n_entries: cells.len() }
    }
}

impl Flowing for Table {
    fn lies(&self) -> Lies {
        Lies::Across
    }

    fn block(&self, width: f64, from: usize) -> Block<'_> {
        let layout = self.layout(width);
        let head = self.head(&layout);
        let rest = self.cells.get(from..).unwrap_or_default();
        let in_a_row = layout.cells.len().max(1);
        let lines = rest.chunk_by(|a, b| same(a.up.0, b.up.0)).flat_map(move |line| {
            let rows = line.chunks(in_a_row).enumerate();
            rows.map(|(idx, cells)| (cells, idx == 0))
        });
        let rows = lines.map(move |(cells, first)| self.row(cells, &layout, first));
        let notes = self.notes.iter().skip(from.saturating_sub(self.cells.len()));
        let notes = notes.map(move |note| Piece::paragraph(note, (0.0, width), None));
        Block { head, head_is: Head::Repeats, pieces: Box::new(rows.chain(notes)) }
    }
}

impl Cell {
    fn mark_width(&self) -> f64 {
        text::width(&self.mark, plain(), Face::Bold)
            + text::width(self.star, plain(), Face::Regular)
    }
}

impl Widths {
    fn across_at(&self) -> f64 {
        self.mark + GAP
    }

    /// Where each of the other columns begins that the table has.
    fn more_at(&self) -> impl Iterator<Item = (usize, f64)> {
        let mut next = self.across_at() + self.across + GAP;
        let there = self.more.into_iter().enumerate();
        there.filter_map(|(idx, width)| Some((idx, width?))).map(move |(idx, width)| {
            let at = next;
            next += width + GAP;
            (idx, at)
        })
    }

    fn cell(&self) -> f64 {
        let more = self.more.into_iter().flatten().fold(0.0, |sum, width| sum + width + GAP);
        self.across_at() + self.across + GAP + more + TICK * 2.0
    }
}

/// Whether the drill stop is set once for all holes of the wall.
pub(super) fn one_stop(wanted: &Wanted<'_>) -> bool {
    let travel = wanted.plan.drill.slope.travel;
    wanted.plan.drill.holes.iter().all(|hole| same(hole.slope.travel, travel))
}

/// What stands at a hole in the columns that not every table has.
fn more(wanted: &Wanted<'_>, hole: &Hole) -> [String; 3] {
    let (seconds, turn) = in_the_table(&shots(wanted, hole));
    [size(hole.slope.travel, wanted.rules.units), seconds, turn]
}

fn shots<'a>(wanted: &Wanted<'a>, hole: &Hole) -> Vec<&'a HoleShot> {
    wanted.shots.shots.iter().filter(|shot| shot.mark == hole.mark).collect()
}

/// Adds a hole to those with the same note.
fn take_note(notes: &mut Vec<(String, String)>, hole: &Hole, words: String) {
    match notes.iter_mut().find(|(known, _)| *known == words) {
        Some((_, marks)) => marks.push_str(&format!(", {}", hole.mark)),
        None => notes.push((words, hole.mark.to_string())),
    }
}

/// What is worth knowing at one hole.
fn note(wanted: &Wanted<'_>, hole: &Hole) -> Option<String> {
    let language = wanted.language;
    let mut notes = Vec::new();
    let about = |finding: &&Finding| finding.place.part == Part::Compartment(hole.compartment);
    if wanted
        .plan
        .findings
        .iter()
        .filter(about)
        .any(|finding| matches!(finding.problem, Problem::ProbeFirst { .. }))
    {
        notes.push(words::PROBE_FIRST.of(language).to_owned());
    }
    // That a hole keeps off timber goes without saying.
    let avoided = hole.why.avoided.iter().filter(|what| **what != Avoided::Timber);
    let words: Vec<&str> = avoided.map(|what| avoided_word(*what).of(language)).collect();
    if !words.is_empty() {
        notes.push(words::clear_of(&words.join(", "), language));
    }
    let depth = wanted.plan.compartment(hole.compartment).map(|compartment| compartment.depth);
    if let Some(depth) = depth.filter(|depth| !same(*depth, wanted.plan.frame.depth)) {
        notes.push(words::deep_here(depth, wanted.speech()));
    }
    (!notes.is_empty()).then(|| notes.join(", "))
}
