//! What stands on every sheet: the title above, the check bars below.

use risemark::{finding::Problem, language::Language};

use super::{
    Wanted,
    block::{PITCH, base, large, plain},
    paper::Size,
    scales::Standard,
};
use crate::{
    drawing::{Anchor, Area, At, Item, Shape},
    elevation::unprobed_sign,
    ink::Ink,
    screen::{about_size, name},
    text::{self, Face},
    words,
};

/// Height of the strip for the wall's name.
const TITLE: f64 = 8.4;
/// Height of the strip of the check bars, with the line over it.
const FOOT: f64 = 15.8;
/// Room between the frame and what it frames.
const CLEAR: f64 = 3.0;
/// Between the parts of a line.
const DOT: &str = " · ";

/// A sheet's frame.
#[derive(Debug, Clone)]
pub(super) struct Frame {
    pub(super) items: Vec<Item>,
    /// What is left for the drawing and the tables.
    pub(super) body: Area,
}

/// The frame of one sheet of a set.
pub(super) fn frame(
    wanted: &Wanted<'_>,
    size: Size,
    scale: Standard,
    (number, of): (usize, usize),
) -> Frame {
    let clear = size.clear();
    let number = words::sheet_of(number, of, wanted.language);
    let (mut items, top) = head(wanted, clear, scale, &number);
    items.extend(foot(wanted, clear));
    let body = Area { top: top + CLEAR, bottom: clear.bottom - FOOT - CLEAR, ..clear };
    Frame { items, body }
}

/// The title, and where it ends.
fn head(wanted: &Wanted<'_>, clear: Area, scale: Standard, number: &str) -> (Vec<Item>, f64) {
    // Room for the largest number, so that all sheets of a set begin at one height.
    let language = wanted.language;
    let side = text::width(&words::sheet_of(999, 999, language), plain(), Face::Regular) + 4.0;
    let line = |content: String, down: f64| {
        Item::text(Ink::Text, (At::new(clear.left, down), Anchor::Start), plain(), content)
    };
    let title =
        text::fitted(&name(wanted.plan, language), clear.width() - side, large(), Face::Bold);
    let first = clear.top + text::height(large()) * 1.1;
    let mut items = vec![
        Item::text(Ink::Heading, (At::new(clear.left, first), Anchor::Start), large(), title),
        Item::text(Ink::Text, (At::new(clear.right, first), Anchor::End), plain(), number),
    ];
    let mut down = clear.top + TITLE;
    for content in
        text::first_lines(&whereabouts(wanted), (clear.width(), 2), plain(), Face::Regular)
    {
        items.push(line(content, down + base()));
        down += PITCH;
    }
    let facts = [
        about_size(wanted.plan, wanted.rules.units),
        words::drilled_from(wanted.plan.frame.side).of(language).to_owned(),
        words::scale(scale.words, language),
    ];
    let facts = text::fitted(&facts.join(DOT), clear.width(), plain(), Face::Regular);
    // Where to start stands at the right where there is room, else on a line of its own.
    let corner = words::mark_from(wanted.plan.frame.datum).of(language);
    let both = text::width(&facts, plain(), Face::Regular)
        + text::width(corner, plain(), Face::Bold)
        + 8.0;
    items.push(line(facts, down + base()));
    if both <= clear.width() {
        items.push(Item::text(
            Ink::Heading,
            (At::new(clear.right, down + base()), Anchor::End),
            plain(),
            corner,
        ));
    } else {
        down += PITCH;
        items.push(Item::text(
            Ink::Heading,
            (At::new(clear.left, down + base()), Anchor::Start),
            plain(),
            corner,
        ));
    }
    down += PITCH + 0.8;
    items.push(Item::line(
        Ink::Rule,
        At::new(clear.left + 0.25, down),
        At::new(clear.right - 0.25, down),
    ));
    (items, down)
}

/// Job, place, room and date, as far as they are known.
fn whereabouts(wanted: &Wanted<'_>) -> String {
    let room = wanted
        .job
        .walls
        .get(wanted.plan.wall.number.wrapping_sub(1))
        .and_then(|wall| wall.room.as_deref());
    let parts = [
        Some(wanted.job.name.as_str()),
        wanted.job.place.as_deref(),
        room,
        wanted.job.date.as_deref(),
    ];
    let parts: Vec<&str> = parts.into_iter().flatten().filter(|part| !part.is_empty()).collect();
    parts.join(DOT)
}

/// Bars of 100 mm and 4 in, and what they are for.
fn foot(wanted: &Wanted<'_>, clear: Area) -> Vec<Item> {
    let top = clear.bottom - FOOT;
    let mut items = vec![Item::line(
        Ink::Rule,
        At::new(clear.left + 0.25, top),
        At::new(clear.right - 0.25, top),
    )];
    let left = clear.left + 0.2;
    let (upper, lower) = (top + 6.8, top + 8.4);
    items.extend(bar((left, upper), (10, 10.0), -1.4));
    items.extend(bar((left, lower), (4, 25.4), 1.4));
    let label = |x: f64, y: f64, anchor, words: &str| {
        Item::text(Ink::Text, (At::new(x, y), anchor), plain(), words)
    };
    let height = text::height(plain());
    items.extend([
        label(clear.left, upper - 2.0, Anchor::Start, "0"),
        label(left + 100.0, upper - 2.0, Anchor::Middle, "100 mm"),
        label(clear.left, lower + 2.3 + height, Anchor::Start, "0"),
        label(
            left + 101.6,
            lower + 2.3 + height,
            Anchor::Middle,
            words::FOUR_INCHES.of(wanted.language),
        ),
    ]);
    // Near enough for a narrow sheet to have room at its other side.
    let beside = left + 101.6 + 10.0;
    for (idx, words) in words::CHECK.into_iter().enumerate() {
        let ink = if idx == 0 { Ink::Heading } else { Ink::Text };
        let down = top + 1.0 + risemark::quantity::count(idx) * PITCH;
        items.push(Item::text(
            ink,
            (At::new(beside, down + base()), Anchor::Start),
            plain(),
            words.of(wanted.language),
        ));
    }
    let findings = &wanted.plan.findings;
    if findings.iter().any(|finding| matches!(finding.problem, Problem::NotProbed { .. })) {
        items.extend(unprobed(At::new(clear.right - 0.3, top + 1.0 + base()), wanted.language));
    }
    items
}

/// What the sign of a space that nobody has probed says, up to a place.
fn unprobed(end: At, language: Language) -> [Item; 2] {
    let said = words::NOT_PROBED.of(language);
    let foot = end.moved(-text::width(said, plain(), Face::Regular) - 3.2, 0.0);
    let sign = unprobed_sign(foot, text::height(plain()) * 0.45);
    [sign, Item::text(Ink::Text, (end, Anchor::End), plain(), said)]
}

/// A bar of so many equal steps, with a mark at each.
fn bar((left, y): (f64, f64), (n_steps, step): (u8, f64), tick: f64) -> Vec<Item> {
    let end = left + f64::from(n_steps) * step;
    let marks = (0..=n_steps).map(|idx| {
        let x = left + f64::from(idx) * step;
        (At::new(x, y), At::new(x, y + tick))
    });
    let marks = Item::new(Ink::CheckBar, Shape::Lines(marks.collect()));
    vec![Item::line(Ink::CheckBar, At::new(left, y), At::new(end, y)), marks]
}
