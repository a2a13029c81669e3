//! The story pole at the datum end, with the height of every snap line.

use risemark::{
    geometry::Span,
    quantity::{Length, count, longer, millimeters, same},
    tape::reading,
};

use super::{Draft, Manner, Subject, divisions::divisions, holes, spread::spread};
use crate::{
    drawing::{Anchor, Area, At, Item, Shape, Unit},
    ink::Ink,
    text::{self, Face},
};

/// From the wall to the pole, in heights of the figures.
pub(super) const GAP: f64 = 1.5;
/// How wide a pointer is.
pub(super) const POINTER: f64 = 0.75;
/// How wide the pole is.
const WIDTH: f64 = 1.2;
/// From the pole to the readings.
const LEAD: f64 = 0.8;
/// From one reading to the next, from base line to base line.
const PITCH: f64 = 1.6;

/// The room from the wall to the outer end of the readings.
pub(super) fn strip(subject: &Subject<'_>, manner: &Manner) -> f64 {
    let lines = subject.plan.drill.snap_lines.iter();
    // The readings of a selected hole are bold; a picture keeps its place when one is.
    let face = if manner.unit == Unit::Pixel { Face::Bold } else { Face::Regular };
    let shown = |up: &Length| reading(subject.plan.drill.reading(*up), subject.speech.units);
    let width = |up: &Length| text::width(&shown(up), manner.text, face);
    let widest = lines.map(width).fold(0.0, f64::max);
    (GAP + WIDTH + LEAD) * text::height(manner.text) + widest
}

pub(super) fn pole(draft: &Draft<'_>) -> Vec<Item> {
    let (h, out) = (draft.manner.height(), -draft.away());
    let inner = draft.datum_edge() + GAP * h * out;
    let outer = inner + WIDTH * h * out;
    let mut items = body(draft, (inner, outer));
    let lines: Vec<Length> = seen_lines(draft);
    let places: Vec<f64> = lines.iter().map(|up| draft.scale.y(*up)).collect();
    let distances = vec![PITCH * h; lines.len().saturating_sub(1)];
    let ends = (draft.wall().top + h * 0.2, lowest(draft, lines.len()));
    let shifted = spread(&places, &distances, ends).unwrap_or_else(|| places.clone());
    for ((up, y), shifted) in lines.iter().zip(&places).zip(shifted) {
        let chosen = holes::chosen(draft).is_some_and(|hole| same(hole.up, *up));
        items.push(pointer(draft, (inner, *y), chosen));
        let (from, to) = (At::new(outer, *y), At::new(outer + LEAD * 0.75 * h * out, shifted));
        items.push(Item::line(Ink::Leader, from, to));
        let anchor = if out < 0.0 { Anchor::End } else { Anchor::Start };
        let at = At::new(outer + LEAD * h * out, shifted + h / 2.0);
        items.push(Item::text(
            draft.text_ink(chosen),
            (at, anchor),
            draft.manner.text,
            reading(draft.subject.plan.drill.reading(*up), draft.subject.speech.units),
        ));
    }
    items
}

/// How far down the readings of the pole may reach.
pub(super) fn foot(draft: &Draft<'_>) -> f64 {
    lowest(draft, seen_lines(draft).len()) + draft.manner.height()
}

/// The lowest place for the middle of a reading: where the pole is too short for them, readings
/// stand over its foot.
fn lowest(draft: &Draft<'_>, n_lines: usize) -> f64 {
    let (wall, h) = (draft.wall(), draft.manner.height());
    (wall.bottom + GAP * h).max(wall.top + PITCH * h * count(n_lines))
}

fn body(draft: &Draft<'_>, (inner, outer): (f64, f64)) -> Vec<Item> {
    let window = draft.subject.window.y;
    // The pole stands on the finished floor where that is drawn, else where the drawing begins.
    let foot = if window.contains(millimeters(0.0)) {
        longer(window.from, millimeters(0.0))
    } else {
        window.from
    };
    let stretch = Span::new(foot, window.to);
    let (top, bottom) = (draft.scale.y(stretch.to), draft.scale.y(stretch.from));
    let area = Area { left: inner.min(outer), right: inner.max(outer), top, bottom };
    let lines =
        divisions(stretch, draft.subject.speech.units, (draft.scale.per_mm, draft.manner.division));
    let lines = lines.iter().map(|division| {
        let y = draft.scale.y(division.at);
        (At::new(inner, y), At::new(inner + (outer - inner) * division.share * 0.7, y))
    });
    vec![
        Item::new(Ink::Ruler, Shape::Rect(area)),
        Item::new(Ink::Division, Shape::Lines(lines.collect())),
    ]
}

/// The snap lines that are drawn, from the top down.
fn seen_lines(draft: &Draft<'_>) -> Vec<Length> {
    let lines = draft.subject.plan.drill.snap_lines.iter().rev().copied();
    lines.filter(|up| draft.subject.window.y.contains(*up)).collect()
}

fn pointer(draft: &Draft<'_>, (x, y): (f64, f64), chosen: bool) -> Item {
    let (size, away) = (POINTER * draft.manner.height(), draft.away());
    let ink = if chosen { Ink::PointerChosen } else { Ink::Pointer };
    let half = if chosen { size * 0.6 } else { size * 0.4 };
    let places =
        vec![At::new(x, y), At::new(x + size * away, y - half), At::new(x + size * away, y + half)];
    Item::new(ink, Shape::Rings(vec![places]))
}
