//! A set of sheets: the elevation at a standard scale, and round it everything that is read.
//!
//! Paper and scale are chosen by measuring; only the set that is chosen is drawn.

use risemark::{
    finding::Severity,
    geometry::Rect,
    quantity::{Length, count, millimeters, same, to_mm, to_whole},
};

use super::{
    Wanted,
    block::{Extent, Flowing, Free, flow, large, needed_area, plain},
    frame::{Frame, frame},
    lists,
    paper::{MARGIN, Size},
    parts::{Part, WORDS, match_lines, parts},
    scales::{Standard, standard},
    table::Table,
};
use crate::{
    drawing::{Area, At, Drawing, Item, Unit},
    elevation::{
        Crowding, Layer, Manner, Subject, lay_out, least_room, measured, sides, tape_height, whole,
    },
    screen::{about, name},
    text::{self, Face},
    words,
};

/// Room between the elevation and text.
const CLEAR: f64 = 5.0;
/// Less height than this is left free.
const LOWEST: f64 = 20.0;
/// The least height that the frame of a sheet takes.
const FRAME: f64 = 38.0;
/// Rows of readings under the tape, at most; where those make the drawing too high, fewer.
const N_ROWS: [usize; 4] = [6, 4, 3, 2];

/// A wall is cut where holes are at least this far apart on paper.
const APART: f64 = 12.0;
/// A part of a wall is at least this wide and high on paper.
const LEAST_PART: f64 = 20.0;

/// Everything that is read on the sheets of a wall.
#[derive(Debug)]
struct Words {
    drilling: Option<lists::Drilling>,
    table: Option<Table>,
    lists: [Option<lists::List>; 6],
}

/// A way to lay a wall on paper.
#[derive(Debug, Clone, Copy)]
struct Way {
    size: Size,
    scale: Standard,
    numbers: Numbers,
}

/// The numbers of holes at a scale.
#[derive(Debug, Clone, Copy)]
struct Numbers {
    /// Size of their type, 5 mm high where they fit.
    size: f64,
    /// The share of holes whose numbers have no room beside that of the next hole.
    crowded: f64,
}

/// A part of the wall with the room that it takes.
#[derive(Debug, Clone, Copy)]
struct Measured {
    part: Part,
    area: Area,
    n_rows: usize,
    /// Size of the type of hole numbers.
    number: f64,
    complete: bool,
}

/// Words that have been laid out round the parts of a wall.
#[derive(Debug)]
struct Laid {
    /// Where each part's area begins on its sheet.
    corners: Vec<(f64, f64)>,
    /// What is read, each with the sheet it is on.
    read: Vec<(usize, Item)>,
    n_sheets: usize,
}

/// A set that has been laid out, its elevations still to be drawn.
#[derive(Debug)]
struct Set {
    way: Way,
    parts: Vec<Measured>,
    /// Where each part's area begins on its sheet.
    corners: Vec<(f64, f64)>,
    /// What is read, each with the sheet it is on.
    read: Vec<(usize, Item)>,
    n_sheets: usize,
    cost: f64,
}

/// The best set on one of some sizes of paper; of two that cost the same, on the first.
pub(super) fn best(wanted: &Wanted<'_>, sizes: &[Size]) -> Vec<Drawing> {
    let subject = Subject {
        plan: wanted.plan,
        speech: wanted.speech(),
        window: whole(wanted.plan),
        selected: None,
        layers: &Layer::ALL,
    };
    let words = Words::of(wanted);
    let to_read = needed_area(&words.in_order());
    let scales = standard(wanted.rules.units).map(|scale| (scale, numbers(subject, scale)));
    let ways = sizes.iter().flat_map(|size| {
        scales.map(|(scale, numbers)| {
            let way = Way { size: *size, scale, numbers };
            (least_cost((subject, to_read), way), way)
        })
    });
    let mut ways: Vec<(f64, Way)> = ways.collect();
    risemark::order::sort_by(&mut ways, |(a, _), (b, _)| a.total_cmp(b));
    let mut best: Option<Set> = None;
    for (least, way) in ways {
        let beaten = |best: &Set| best.cost <= least;
        if best.as_ref().is_some_and(beaten) {
            break;
        }
        let most = best.as_ref().map(|best| best.cost);
        best = set((wanted, &words), (subject, way), most).or(best);
    }
    best.map_or_else(Vec::new, |set| drawings(wanted, subject, set))
}

/// What a set costs the people at the wall, counted in sheets.
///
/// A reading that is missing from the tape, or a wall cut level, is worth three sheets; numbers
/// that are crowded up to three. Of two that cost the same the larger is better.
fn cost(n_sheets: usize, n_parts: usize, n_faults: usize, crowded: f64, scale: Standard) -> f64 {
    let faults = count(n_faults) * 3.0;
    count(n_sheets) + count(n_parts) * 0.3 + faults + crowded * 3.0 + scale.ratio / 100.0
}

/// What a way costs at least: as many sheets as the width of the wall needs, and as its drawing
/// and all that is read fill.
fn least_cost((subject, to_read): (Subject<'_>, f64), way: Way) -> f64 {
    let Way { size, scale, numbers } = way;
    let (sides, clear) = (sides(&subject, &manner(1, plain())), size.clear());
    let beside = sides.left + sides.right;
    let on_paper = |length: Length| to_mm(length) / scale.ratio;
    let (wide, high) = (on_paper(subject.window.x.length()), on_paper(subject.window.y.length()));
    let whole = |share: f64| usize::try_from(to_whole(share.ceil())).unwrap_or(1).max(1);
    let n_parts = whole(wide / (clear.width() - beside).max(LEAST_PART));
    let drawn = (wide + count(n_parts) * beside) * (high + tape_height(&manner(1, plain())) * 0.8);
    let n_full = whole((drawn + to_read * 0.85) / (clear.width() * (clear.height() - FRAME)));
    cost(n_parts.max(n_full), n_parts, 0, numbers.crowded, scale)
}

/// The size of type for hole numbers, and how crowded they are.
fn numbers(subject: Subject<'_>, scale: Standard) -> Numbers {
    let crowded_large = crowded(subject, scale, large());
    if crowded_large <= MOST_CROWDED {
        return Numbers { size: large(), crowded: crowded_large };
    }
    // Small numbers are a fault of their own, but a lesser one.
    Numbers { size: plain(), crowded: crowded(subject, scale, plain()) + 0.1 }
}

/// The share of large numbers that may be crowded before all of them are made smaller.
const MOST_CROWDED: f64 = 0.12;

fn crowded(subject: Subject<'_>, scale: Standard, size: f64) -> f64 {
    let holes = &subject.plan.drill.holes;
    // Figures are as wide as each other.
    let figure = text::width("0", size, Face::Regular);
    let width = |mark: usize| f64::from(mark.checked_ilog10().unwrap_or(0) + 1) * figure;
    let tight = holes.windows(2).filter(|pair| {
        let beside = same(pair[0].up, pair[1].up);
        let apart = to_mm(pair[1].across - pair[0].across) / scale.ratio;
        beside && apart < f64::midpoint(width(pair[0].mark), width(pair[1].mark)) + 1.0
    });
    count(tight.count()) / count(holes.len().max(1))
}

/// The set that a way gives, unless it costs as much as another one.
fn set(
    (wanted, words): (&Wanted<'_>, &Words),
    (subject, way): (Subject<'_>, Way),
    most: Option<f64>,
) -> Option<Set> {
    let body = frame(wanted, way.size, way.scale, (1, 1)).body;
    let cost = |n_sheets, n_parts, n_faults| {
        cost(n_sheets, n_parts, n_faults, way.numbers.crowded, way.scale)
    };
    let too_dear = |cost: f64| most.is_some_and(|most| most <= cost);
    // Where the readings stand takes long to find, and often the words alone take too many sheets.
    if most.is_some() {
        let parts = beside(subject, body, way);
        let least = parts.iter().map(|part| {
            let subject = Subject { window: part.window, ..subject };
            least_room(subject, 1.0 / way.scale.ratio, manner(1, way.numbers.size))
        });
        let n_sheets = laid(words, body, &least.collect::<Vec<Area>>()).n_sheets;
        if too_dear(cost(n_sheets, parts.len(), 0)) {
            return None;
        }
    }
    let (parts, stacked) = fitting(subject, body, way);
    let areas: Vec<Area> = parts.iter().map(|part| part.area).collect();
    let Laid { corners, read, n_sheets } = laid(words, body, &areas);
    let incomplete = parts.iter().any(|part| !part.complete);
    let n_faults = usize::from(incomplete) + usize::from(stacked);
    let cost = cost(n_sheets, parts.len(), n_faults);
    (!too_dear(cost)).then_some(Set { way, parts, corners, read, n_sheets, cost })
}

/// Everything in words laid round the areas of a wall's parts, each on a sheet of its own.
fn laid(words: &Words, body: Area, areas: &[Area]) -> Laid {
    let (mut corners, mut free) = (Vec::new(), Vec::new());
    for (sheet, area) in areas.iter().enumerate() {
        let (corner, rest) = beside_and_under(body, *area, words.least_width());
        corners.push((corner.0 - area.left, corner.1 - area.top));
        free.extend(rest.into_iter().map(|area| Free { sheet, area, extent: Extent::Rest }));
    }
    let (mut free, mut next) = (free.into_iter(), areas.len());
    let read = flow(&words.in_order(), || {
        free.next().unwrap_or_else(|| {
            next += 1;
            Free { sheet: next - 1, area: body, extent: Extent::Whole }
        })
    });
    let last = read.iter().map(|(sheet, _)| sheet + 1).max().unwrap_or(0);
    Laid { corners, read, n_sheets: last.max(areas.len()) }
}

fn drawings(wanted: &Wanted<'_>, subject: Subject<'_>, set: Set) -> Vec<Drawing> {
    let Set { way: Way { size, scale, .. }, parts, corners, read, n_sheets, .. } = set;
    let frames = (1..=n_sheets).map(|number| frame(wanted, size, scale, (number, n_sheets)));
    let mut sheets: Vec<Vec<Item>> = frames.map(|Frame { items, .. }| items).collect();
    for ((sheet, part), (right, down)) in sheets.iter_mut().zip(&parts).zip(corners) {
        let subject = Subject { window: part.part.window, ..subject };
        let drawn = lay_out(subject, 1.0 / scale.ratio, manner(part.n_rows, part.number));
        let lines = match_lines(drawn.scale, &part.part, wanted.language);
        sheet.extend(drawn.items.into_iter().chain(lines).map(|mut item| {
            item.shift(right, down);
            item
        }));
    }
    for (sheet, item) in read {
        sheets[sheet].push(item);
    }
    let numbered = sheets.into_iter().enumerate();
    let drawings = numbered.map(|(idx, items)| Drawing {
        unit: Unit::Millimetre,
        corner: At::new(0.0, 0.0),
        width: size.width,
        height: size.height,
        margin: MARGIN,
        title: format!(
            "{}, {}",
            name(wanted.plan, wanted.language),
            words::sheet_of(idx + 1, n_sheets, wanted.language)
        ),
        about: about(wanted.plan, wanted.speech()),
        items,
    });
    drawings.collect()
}

impl Words {
    fn of(wanted: &Wanted<'_>) -> Self {
        let has_holes = !wanted.plan.drill.holes.is_empty();
        Self {
            drilling: has_holes.then(|| lists::Drilling::of(wanted)),
            table: has_holes.then(|| Table::of(wanted)),
            lists: [
                lists::findings(wanted, Severity::Stop),
                lists::acknowledged(wanted),
                lists::findings(wanted, Severity::Warning),
                lists::findings(wanted, Severity::Note),
                lists::assumed(wanted),
                lists::cautions(wanted),
            ],
        }
    }

    /// Everything in words, the most urgent first.
    fn in_order(&self) -> Vec<&dyn Flowing> {
        let [stop, acknowledged, warnings, notes, assumed, cautions] = &self.lists;
        let mut order: Vec<&dyn Flowing> = Vec::new();
        order.extend(self.drilling.as_ref().map(|drilling| drilling as &dyn Flowing));
        order.extend([stop, acknowledged].into_iter().flatten().map(|list| list as &dyn Flowing));
        order.extend(self.table.as_ref().map(|table| table as &dyn Flowing));
        let rest = [warnings, notes, assumed, cautions].into_iter().flatten();
        order.extend(rest.map(|list| list as &dyn Flowing));
        order
    }

    fn least_width(&self) -> f64 {
        self.table.as_ref().map_or(0.0, Table::least_width).max(66.0)
    }
}

/// The parts of a wall that fit the body of a sheet at a scale, and whether some stand over others.
fn fitting(subject: Subject<'_>, body: Area, way: Way) -> (Vec<Measured>, bool) {
    let (scale, number) = (way.scale, way.numbers.size);
    let window: Rect = subject.window;
    if to_mm(window.y.length()) / scale.ratio <= body.height() {
        let beside = beside(subject, body, way);
        for n_rows in N_ROWS {
            let each = beside.iter().map(|part| measure(subject, *part, (scale, n_rows, number)));
            let each: Vec<Measured> = each.collect();
            if each.iter().all(|part| part.area.height() <= body.height()) {
                return (each, false);
            }
        }
    }
    // This leaves room for the most rows of readings.
    let low = body.height() - tape_height(&manner(N_ROWS[0], plain())) - WORDS;
    let stacked = cut(subject, body, (scale, on_wall(low, scale)));
    let stacked =
        stacked.into_iter().map(|part| measure(subject, part, (scale, N_ROWS[0], number)));
    (stacked.collect(), true)
}

/// The parts of a wall beside each other, each as high as the wall.
fn beside(subject: Subject<'_>, body: Area, way: Way) -> Vec<Part> {
    cut(subject, body, (way.scale, subject.window.y.length()))
}

fn cut(subject: Subject<'_>, body: Area, (scale, high): (Standard, Length)) -> Vec<Part> {
    let sides = sides(&subject, &manner(N_ROWS[0], plain()));
    let wide = on_wall(body.width() - sides.left - sides.right, scale);
    parts(subject.plan, (wide, high), on_wall(APART, scale))
}

/// The length on the wall of one on paper, at least that of the least part.
fn on_wall(paper: f64, scale: Standard) -> Length {
    millimeters(paper.max(LEAST_PART) * scale.ratio)
}

fn measure(
    subject: Subject<'_>,
    part: Part,
    (scale, n_rows, number): (Standard, usize, f64),
) -> Measured {
    let subject = Subject { window: part.window, ..subject };
    let room = measured(subject, 1.0 / scale.ratio, manner(n_rows, number));
    let lines = match_lines(room.scale, &part, subject.speech.language);
    let area = lines.iter().map(Item::area).fold(room.area, Area::with);
    Measured { part, area, n_rows, number, complete: room.complete }
}

/// Where an elevation goes on its sheet, and what it leaves for text: beside it and under it.
fn beside_and_under(body: Area, area: Area, least_width: f64) -> ((f64, f64), Vec<Area>) {
    let under = Area { top: body.top + area.height() + CLEAR, ..body };
    let has_under = LOWEST <= under.height();
    let beside = Area { left: body.left + area.width() + CLEAR * 1.2, ..body };
    if beside.width() < least_width {
        let centred = body.left + (body.width() - area.width()) / 2.0;
        return ((centred, body.top), has_under.then_some(under).into_iter().collect());
    }
    let bottom = if has_under { under.top - CLEAR } else { body.bottom };
    let beside = Area { bottom, ..beside };
    let areas = [Some(beside), has_under.then_some(under)];
    ((body.left, body.top), areas.into_iter().flatten().collect())
}

/// Sizes of an elevation on paper, in millimetres.
fn manner(n_rows: usize, number: f64) -> Manner {
    Manner {
        unit: Unit::Millimetre,
        text: plain(),
        number,
        gap: 3.0,
        ring: 1.25,
        hatch: 1.9,
        division: 1.0,
        rows: n_rows,
        crowding: Crowding::Keep,
    }
}
