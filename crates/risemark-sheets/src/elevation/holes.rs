//! Snap lines, and holes as the ellipses that a sloped bit leaves.

use risemark::{drilling::Hole, quantity::same};

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

pub(super) fn rings(draft: &Draft<'_>) -> Vec<Item> {
    seen(draft).map(|hole| ring(draft, hole)).collect()
}

/// Half the width and half the height of a hole as it is drawn.
pub(super) fn half_size(draft: &Draft<'_>, hole: &Hole) -> (f64, f64) {
    let half = (
        draft.scale.size(hole.slope.ellipse_width) / 2.0,
        draft.scale.size(hole.slope.ellipse_height) / 2.0,
    );
    // A hole too small to be seen is drawn larger in its true shape.
    let enlarged = (draft.manner.ring / half.0.max(1e-6)).max(1.0);
    (half.0 * enlarged, half.1 * enlarged)
}

fn ring(draft: &Draft<'_>, hole: &Hole) -> Item {
    let (rx, ry) = half_size(draft, hole);
    let shape = Shape::Ellipse { centre: draft.scale.at(hole.centre), rx, ry };
    let chosen = draft.subject.selected == Some(hole.mark);
    let ink = if chosen { Ink::HoleChosen } else { Ink::Hole };
    Item::new(ink, shape).tagged(Tag::Hole(hole.mark))
}
