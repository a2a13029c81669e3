//! Snap lines, and holes as the ellipses that a sloped bit leaves.

use risemark::{
    drilling::{Hole, HoleState, Slope},
    job::{OwnHole, OwnState},
    quantity::same,
};

use super::Draft;
use crate::{
    drawing::{At, Item, Shape, Tag},
    ink::Ink,
};

/// Level lines right across the wall, from the story pole to past the far end.
pub(super) fn snap_lines(draft: &Draft<'_>) -> Vec<Item> {
    let (window, h) = (draft.subject.window, draft.manner.height());
    let (start, far) = (draft.datum_edge(), draft.wall().width() * draft.away());
    let rulers = draft.subject.layers.contains(&super::Layer::Rulers);
    let lead = if rulers { super::pole::GAP - super::pole::POINTER } else { 0.8 } * h;
    let (from, to) = (start - lead * draft.away(), start + far + 0.9 * h * draft.away());
    let lines = draft.subject.plan.drill.snap_lines.iter().filter(|up| window.y.contains(**up));
    let drawn = lines.map(|up| {
        let (y, chosen) =
            (draft.scale.y(*up), chosen(draft).is_some_and(|hole| same(hole.up, *up)));
        let ink = if chosen { Ink::SnapLineChosen } else { Ink::SnapLine };
        Item::line(ink, At::new(from, y), At::new(to, y))
    });
    drawn.collect()
}

/// The hole that is selected.
pub(super) fn chosen<'a>(draft: &Draft<'a>) -> Option<&'a Hole> {
    let mark = draft.subject.selected?;
    draft.subject.plan.drill.holes.iter().find(|hole| hole.mark == mark)
}

/// The holes that are drawn.
pub(super) fn seen<'a>(draft: &Draft<'a>) -> impl Iterator<Item = &'a Hole> {
    let draft = *draft;
    draft.subject.plan.drill.holes.iter().filter(move |hole| draft.sees(hole.centre))
}

/// The holes, told apart by their shape: a ring is to be drilled, with corners round it it was set by
/// hand, with a dot in it it is drilled, with a cross in it patched over.
pub(super) fn rings(draft: &Draft<'_>) -> Vec<Item> {
    let strays = draft.subject.plan.drill.strays.iter().flat_map(|(_, hole)| stray(draft, hole));
    seen(draft).flat_map(|hole| ring(draft, hole)).chain(strays).collect()
}

/// A hole that was set or drilled where no space is to fill: it has no number, yet it is in the wall.
fn stray(draft: &Draft<'_>, hole: &OwnHole) -> Vec<Item> {
    if hole.state == OwnState::LeftOut || !draft.sees(hole.at) {
        return Vec::new();
    }
    let (rx, ry) = half_size(draft, &draft.subject.plan.drill.slope);
    let centre = draft.scale.at(hole.at);
    let ring = Item::new(Ink::Hole, Shape::Ellipse { centre, rx, ry });
    std::iter::once(ring).chain(sign(hole.state, centre, (rx, ry))).collect()
}

/// Half the width and half the height of a hole as it is drawn.
pub(super) fn half_size(draft: &Draft<'_>, slope: &Slope) -> (f64, f64) {
    let half =
        (draft.scale.size(slope.ellipse_width) / 2.0, draft.scale.size(slope.ellipse_height) / 2.0);
    // A hole too small to be seen is drawn larger in its true shape.
    let enlarged = (draft.manner.ring / half.0.max(1e-6)).max(1.0);
    (half.0 * enlarged, half.1 * enlarged)
}

fn ring(draft: &Draft<'_>, hole: &Hole) -> Vec<Item> {
    let (rx, ry) = half_size(draft, &hole.slope);
    let centre = draft.scale.at(hole.centre);
    let chosen = draft.subject.selected == Some(hole.mark);
    let ink = if chosen { Ink::HoleChosen } else { Ink::Hole };
    let ring = Item::new(ink, Shape::Ellipse { centre, rx, ry }).tagged(Tag::Hole(hole.mark));
    let sign = match hole.state {
        HoleState::Own(_, state) => sign(state, centre, (rx, ry)),
        HoleState::Planned => None,
    };
    std::iter::once(ring).chain(sign.map(|item| item.tagged(Tag::Hole(hole.mark)))).collect()
}

/// What a hole has in or round its ring, by what became of it.
fn sign(state: OwnState, centre: At, (rx, ry): (f64, f64)) -> Option<Item> {
    let at = |x: f64, y: f64| centre.moved(rx * x, ry * y);
    match state {
        OwnState::Marked | OwnState::LeftOut => None,
        OwnState::Set => {
            let corner = |x: f64, y: f64| {
                vec![at(x * 0.7, y * 1.6), at(x * 1.6, y * 1.6), at(x * 1.6, y * 0.7)]
            };
            let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
            let chains = corners.into_iter().map(|(x, y)| corner(x, y)).collect();
            Some(Item::new(Ink::HoleSign, Shape::Chains(chains)))
        }
        OwnState::Drilled => {
            let dot = Shape::Ellipse { centre, rx: rx * 0.5, ry: ry * 0.5 };
            Some(Item::new(Ink::HoleDot, dot))
        }
        OwnState::Patched => {
            let strokes = vec![(at(-0.7, -0.7), at(0.7, 0.7)), (at(-0.7, 0.7), at(0.7, -0.7))];
            Some(Item::new(Ink::HoleSign, Shape::Lines(strokes)))
        }
    }
}
