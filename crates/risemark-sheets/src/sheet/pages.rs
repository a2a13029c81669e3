//! A set of sheets: the elevation at a standard scale, and round it everything that is read.

use std::collections::BTreeSet;

use risemark::{
    finding::Severity,
    quantity::{Length, count, millimeters, to_mm},
};

use super::{
    Wanted,
    block::{Block, Column, flow, large, plain},
    frame::{Frame, frame},
    lists,
    paper::{MARGIN, Size},
    parts::{Part, WORDS, match_lines, parts},
    scales::{Standard, standard},
    table,
};
use crate::{
    drawing::{Area, Drawing, Item, Unit},
    elevation::{Crowding, Elevation, Layer, Manner, Subject, lay_out, sides, tape_height, whole},
    screen::{about, name},
};

/// Room between two columns of text.
const GUTTER: f64 = 9.0;
/// Room between the elevation and text.
const CLEAR: f64 = 6.0;
/// Less height than this under an elevation is left free.
const LEAST: f64 = 40.0;
/// Rows of readings under the tape, at most; where those make the drawing too high, fewer.
const N_ROWS: [usize; 3] = [4, 3, 2];

/// A wall is cut where holes are at least this far apart on paper.
const APART: f64 = 12.0;
/// A part of a wall is at least this wide and high on paper.
const LEAST_PART: f64 = 20.0;

/// The sheets of a wall at one scale.
#[derive(Debug)]
pub(super) struct Set {
    pub(super) drawings: Vec<Drawing>,
    scale: Standard,
    shape: Shape,
}

/// How a wall lies on its sheets.
#[derive(Debug, Clone, Copy)]
struct Shape {
    /// Whether a reading found no room.
    incomplete: bool,
    /// How many numbers stand off their holes.
    n_led: usize,
    /// Whether a part stands over another.
    stacked: bool,
    n_parts: usize,
}

/// The parts of a wall as they are drawn.
#[derive(Debug)]
struct Parts {
    parts: Vec<Drawn>,
    shape: Shape,
}

/// Elevations that have their place on their sheets, and what is left for text.
#[derive(Debug)]
struct Placed {
    items: Vec<Vec<Item>>,
    columns: Vec<Column>,
    shape: Shape,
}

impl Set {
    /// What the set costs the people at the wall, counted in sheets.
    ///
    /// A reading that is missing from the tape, or a wall cut level, is worth three sheets more;
    /// numbers at their holes are worth up to six. Of two that cost the same the larger is better.
    pub(super) fn cost(&self, wanted: &Wanted<'_>) -> f64 {
        let Shape { incomplete, n_led, stacked, n_parts } = self.shape;
        let n_holes = wanted.plan.drill.holes.len().max(1);
        let faults = count(usize::from(incomplete) + usize::from(stacked)) * 3.0;
        let led = count(n_led) / count(n_holes) * 6.0;
        count(self.drawings.len()) + faults + led + count(n_parts) * 0.3 + self.scale.ratio / 100.0
    }
}

/// The best set on a size of paper.
pub(super) fn best(wanted: &Wanted<'_>, size: Size) -> Set {
    let [larger @ .., least] = standard(wanted.rules.units);
    let mut best = set(wanted, size, least);
    for scale in larger.into_iter().rev() {
        // A larger drawing takes at least as many sheets as its width needs.
        if best.cost(wanted) <= least_sheets(wanted, size, scale) {
            break;
        }
        let other = set(wanted, size, scale);
        if other.cost(wanted) < best.cost(wanted) {
            best = other;
        }
    }
    best
}

fn least_sheets(wanted: &Wanted<'_>, size: Size, scale: Standard) -> f64 {
    (to_mm(wanted.plan.frame.width) / scale.ratio / size.clear().width()).ceil()
}

fn set(wanted: &Wanted<'_>, size: Size, scale: Standard) -> Set {
    let body = frame(wanted, size, scale, (1, 1)).body;
    let width = column_width(wanted, body);
    let Placed { items, columns, shape } = elevations(wanted, body, (scale, width));
    let n_drawn = items.len();
    let mut pages = items;
    let mut given = columns.into_iter();
    let mut further = columns_of(body, width, 0).into_iter().cycle();
    let per_page = columns_of(body, width, 0).len();
    let mut n_further = 0;
    let drawn = flow(&blocks(wanted, width), || {
        given.next().unwrap_or_else(|| {
            let sheet = n_drawn + n_further / per_page.max(1);
            n_further += 1;
            Column { sheet, area: further.next().map_or(body, |column| column.area) }
        })
    });
    for (sheet, item) in drawn {
        while pages.len() <= sheet {
            pages.push(Vec::new());
        }
        pages[sheet].push(item);
    }
    let of = pages.len();
    let drawings = pages.into_iter().enumerate();
    let drawings =
        drawings.map(|(idx, items)| drawing(wanted, (size, scale), (idx + 1, of), items));
    Set { drawings: drawings.collect(), scale, shape }
}

fn drawing(
    wanted: &Wanted<'_>,
    (size, scale): (Size, Standard),
    (number, of): (usize, usize),
    items: Vec<Item>,
) -> Drawing {
    let Frame { items: mut all, .. } = frame(wanted, size, scale, (number, of));
    all.extend(items);
    Drawing {
        unit: Unit::Millimetre,
        width: size.width,
        height: size.height,
        margin: MARGIN,
        title: format!("{}, sheet {number} of {of}", name(wanted.plan)),
        about: about(wanted.plan, wanted.rules.units),
        items: all,
    }
}

/// Everything in words, the most urgent first.
fn blocks(wanted: &Wanted<'_>, width: f64) -> Vec<Block> {
    let has_holes = !wanted.plan.drill.holes.is_empty();
    let mut blocks = Vec::new();
    blocks.extend(has_holes.then(|| lists::drilling(wanted, width)));
    blocks.extend(lists::findings(wanted, Severity::Stop, width));
    blocks.extend(lists::acknowledged(wanted, width));
    blocks.extend(has_holes.then(|| table::table(wanted, width)));
    blocks.extend(lists::findings(wanted, Severity::Warning, width));
    blocks.extend(lists::assumed(wanted, width));
    blocks.extend(lists::cautions(wanted, width));
    blocks
}

/// The width of a column of text, one for the whole set.
fn column_width(wanted: &Wanted<'_>, body: Area) -> f64 {
    let least = table::least_width(wanted).max(80.0);
    let n_columns = ((body.width() + GUTTER) / (least + GUTTER)).floor().max(1.0);
    (body.width() + GUTTER) / n_columns - GUTTER
}

/// As many columns as an area holds.
fn columns_of(area: Area, width: f64, sheet: usize) -> Vec<Column> {
    let mut columns = Vec::new();
    let mut left = area.left;
    while left + width <= area.right + 1e-6 {
        columns.push(Column { sheet, area: Area { left, right: left + width, ..area } });
        left += width + GUTTER;
    }
    columns
}

/// A part of the wall that has been drawn, with the words at its match lines.
#[derive(Debug)]
struct Drawn {
    items: Vec<Item>,
    area: Area,
    complete: bool,
    n_led: usize,
}

fn elevations(wanted: &Wanted<'_>, body: Area, (scale, width): (Standard, f64)) -> Placed {
    let drawn = fitting(wanted, body, scale);
    let mut placed = Placed { items: Vec::new(), columns: Vec::new(), shape: drawn.shape };
    for Drawn { mut items, area, complete, n_led } in drawn.parts {
        placed.shape.incomplete |= !complete;
        placed.shape.n_led += n_led;
        let (corner, free) = beside_or_under(body, area, width);
        items.iter_mut().for_each(|item| item.shift(corner.0 - area.left, corner.1 - area.top));
        placed.columns.extend(columns_of(free, width, placed.items.len()));
        placed.items.push(items);
    }
    placed
}

/// The parts of a wall that fit the body of a sheet at a scale: side by side where that does.
fn fitting(wanted: &Wanted<'_>, body: Area, scale: Standard) -> Parts {
    let layers: BTreeSet<Layer> = Layer::ALL.into();
    let window = whole(wanted.plan);
    let subject = Subject {
        plan: wanted.plan,
        units: wanted.rules.units,
        window,
        selected: None,
        layers: &layers,
    };
    let sides = sides(&subject, &manner(N_ROWS[0]));
    let length = |paper: f64| millimeters(paper.max(LEAST_PART) * scale.ratio);
    let wide = length(body.width() - sides.left - sides.right);
    let draw = |high: Length, n_rows: usize| -> Vec<Drawn> {
        let cut = parts(wanted.plan, (wide, high), length(APART)).into_iter();
        cut.map(|part| drawn(Subject { window: part.window, ..subject }, &part, (scale, n_rows)))
            .collect()
    };
    let shape =
        |n_parts: usize, stacked: bool| Shape { incomplete: false, n_led: 0, n_parts, stacked };
    let low_enough = to_mm(window.y.length()) / scale.ratio <= body.height();
    for n_rows in N_ROWS.into_iter().filter(|_| low_enough) {
        let beside = draw(window.y.length(), n_rows);
        if beside.iter().all(|part| part.area.height() <= body.height()) {
            return Parts { shape: shape(beside.len(), false), parts: beside };
        }
    }
    // Nothing is known of the rows of readings yet; this leaves room for the most of them.
    let low = length(body.height() - tape_height(&manner(N_ROWS[0])) - WORDS);
    let stacked = draw(low, N_ROWS[0]);
    Parts { shape: shape(stacked.len(), true), parts: stacked }
}

fn drawn(subject: Subject<'_>, part: &Part, (scale, n_rows): (Standard, usize)) -> Drawn {
    let Elevation { mut items, area, scale, complete, n_led } =
        lay_out(subject, 1.0 / scale.ratio, manner(n_rows));
    let lines = match_lines(scale, part);
    let area = lines.iter().map(Item::area).fold(area, Area::with);
    items.extend(lines);
    Drawn { items, area, complete, n_led }
}

/// Where an elevation goes on its sheet, and what it leaves for text: beside it or under it.
fn beside_or_under(body: Area, area: Area, width: f64) -> ((f64, f64), Area) {
    let beside = Area { left: body.left + area.width() + CLEAR * 1.5, ..body };
    let under = Area { top: body.top + area.height() + CLEAR, ..body };
    let holds = |area: Area| {
        let n_columns = if area.width() < width {
            0.0
        } else {
            ((area.width() + GUTTER) / (width + GUTTER)).floor()
        };
        if area.height() < LEAST { 0.0 } else { n_columns * area.height() }
    };
    if holds(under) < holds(beside) {
        // The text keeps to the right edge, under the title's own.
        return (
            (body.left, body.top),
            Area { left: body.right - columns_width(beside, width), ..beside },
        );
    }
    let centred = body.left + (body.width() - area.width()) / 2.0;
    let free = if holds(under) == 0.0 {
        Area { bottom: under.top, right: under.left, ..under }
    } else {
        under
    };
    ((centred, body.top), free)
}

fn columns_width(area: Area, width: f64) -> f64 {
    let n_columns = ((area.width() + GUTTER) / (width + GUTTER)).floor();
    n_columns * (width + GUTTER) - GUTTER
}

/// Sizes of an elevation on paper, in millimetres.
fn manner(n_rows: usize) -> Manner {
    Manner {
        unit: Unit::Millimetre,
        text: plain(),
        number: large(),
        gap: 3.0,
        ring: 1.25,
        hatch: 1.9,
        division: 1.0,
        rows: n_rows,
        crowding: Crowding::Keep,
    }
}
