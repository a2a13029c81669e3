//! The tape along the floor, with the reading of every column of holes from the datum end.

use risemark::{framing::MemberKind, quantity::same};

use super::{
    Draft, Manner,
    divisions::{divisions, figures},
    holes, readings,
};
use crate::{
    drawing::{Anchor, Area, At, Item, Shape},
    ink::Ink,
};

/// From the wall down to the tape, in heights of its figures.
const GAP: f64 = 1.5;
/// How high the tape is.
const HEIGHT: f64 = 2.3;
/// Length of the longest division.
const LONGEST: f64 = 0.85;
/// Height and width of a pointer.
const POINTER: f64 = 0.75;

/// From the wall down to the lower edge of the tape.
pub(super) fn height(manner: &Manner) -> f64 {
    (GAP + HEIGHT) * manner.height()
}

pub(super) fn tape(draft: &Draft<'_>) -> Vec<Item> {
    let mut items = body(draft);
    items.extend(readings::readings(draft, edges(draft).1));
    for (x, chosen) in pointers(draft) {
        items.push(pointer(draft, x, chosen));
    }
    items
}

/// How far down the tape with its readings reaches, and whether every reading finds room.
pub(super) fn foot(draft: &Draft<'_>) -> (f64, bool) {
    readings::foot(draft, edges(draft).1)
}

/// The upper and lower edge of the tape.
fn edges(draft: &Draft<'_>) -> (f64, f64) {
    let h = draft.manner.height();
    let top = draft.wall().bottom + GAP * h;
    (top, top + HEIGHT * h)
}

fn body(draft: &Draft<'_>) -> Vec<Item> {
    let (wall, (top, bottom), h) = (draft.wall(), edges(draft), draft.manner.height());
    let (units, size) = (draft.subject.speech.units, draft.manner.text);
    let mut items = vec![Item::new(
        Ink::Ruler,
        Shape::Rect(Area { left: wall.left, top, right: wall.right, bottom }),
    )];
    let lines = divisions(draft.readings(), units, (draft.scale.per_mm, draft.manner.division));
    let lines = lines.iter().map(|division| {
        let x = draft.reading_x(division.at);
        (At::new(x, top), At::new(x, top + division.share * LONGEST * h))
    });
    items.push(Item::new(Ink::Division, Shape::Lines(lines.collect())));
    items.extend(stud_marks(draft, top));
    for figure in figures(draft.readings(), units, (draft.scale.per_mm, size)) {
        let at = At::new(draft.reading_x(figure.at), bottom - 0.3 * h);
        let item = Item::text(Ink::RulerFigure, (at, Anchor::Middle), size, figure.text);
        let room = Area { left: wall.left + 0.2 * h, right: wall.right - 0.2 * h, top, bottom };
        items.extend(room.holds(item.area()).then_some(item));
    }
    items
}

/// Small diamonds where studs stand, as tapes carry them for a layout.
fn stud_marks(draft: &Draft<'_>, top: f64) -> Option<Item> {
    let members = draft.subject.plan.frame.members.iter();
    let studs = members.filter(|member| member.kind == MemberKind::Stud);
    let centres = studs.map(|stud| stud.polygon.bounds().x.middle());
    let half = draft.manner.height() * 0.26;
    let y = top + half * 1.6;
    let seen = centres.filter(|centre| draft.subject.window.x.contains(*centre));
    let places: Vec<f64> = seen.map(|centre| draft.scale.x(centre)).collect();
    // Where studs come close, the marks would cover the divisions.
    if places.windows(2).any(|pair| pair[1] - pair[0] < half * 9.0) {
        return None;
    }
    let diamonds = places.into_iter().map(|x| {
        vec![At::new(x - half, y), At::new(x, y - half), At::new(x + half, y), At::new(x, y + half)]
    });
    let diamonds: Vec<Vec<At>> = diamonds.collect();
    (!diamonds.is_empty()).then(|| Item::new(Ink::StudMark, Shape::Rings(diamonds)))
}

/// Where holes stand over the tape, and whether the selected hole is one of them.
fn pointers(draft: &Draft<'_>) -> Vec<(f64, bool)> {
    let across = readings::across(draft).into_iter();
    let chosen = holes::chosen(draft).map(|hole| hole.across);
    across
        .map(|across| (draft.reading_x(across), chosen.is_some_and(|chosen| same(chosen, across))))
        .collect()
}

fn pointer(draft: &Draft<'_>, x: f64, chosen: bool) -> Item {
    let (tip, size) = (edges(draft).0, POINTER * draft.manner.height());
    let ink = if chosen { Ink::PointerChosen } else { Ink::Pointer };
    let half = if chosen { size * 0.6 } else { size * 0.4 };
    let places =
        vec![At::new(x, tip), At::new(x - half, tip - size), At::new(x + half, tip - size)];
    Item::new(ink, Shape::Rings(vec![places]))
}
