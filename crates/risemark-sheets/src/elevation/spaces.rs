//! Compartments: plain where they are filled, cross-hatched where they stay empty.

use risemark::{
    compartments::{Compartment, State},
    geometry::Polygon,
    plan::WallPlan,
};

use super::{
    Draft,
    hatch::{Slant, hatch},
};
use crate::{
    drawing::{At, Item, Shape, Tag},
    ink::Ink,
    text,
};

pub(super) fn compartments(draft: &Draft<'_>) -> Vec<Item> {
    let all = draft.subject.plan.compartments.iter();
    all.flat_map(|compartment| space(draft, compartment)).collect()
}

/// Whether a compartment gets no foam.
pub(super) fn stays_empty(plan: &WallPlan, compartment: &Compartment) -> bool {
    let unreached = plan.drill.unreached.iter().any(|(id, _)| *id == compartment.id);
    unreached || matches!(compartment.state, State::Empty(_))
}

fn space(draft: &Draft<'_>, compartment: &Compartment) -> Vec<Item> {
    let (plan, tag) = (draft.subject.plan, Tag::Compartment(compartment.id.0));
    let drawn = |polygon: &Polygon, ink| -> Vec<Item> {
        let pieces = draft.pieces(polygon).into_iter();
        pieces.map(|rings| Item::new(ink, Shape::Rings(rings)).tagged(tag)).collect()
    };
    if !stays_empty(plan, compartment) {
        let mut items = drawn(&compartment.polygon, Ink::Compartment);
        if !compartment.probed {
            items.extend(unprobed(draft, compartment));
        }
        return items;
    }
    let mut items = drawn(&compartment.polygon, Ink::EmptyCompartment);
    // Twice as open as timber and both ways, so that the two are told apart on a bad copy.
    let pitch = draft.manner.hatch * 1.8;
    for rings in draft.pieces(&compartment.polygon) {
        let mut lines = hatch(&rings, pitch, Slant::Rising);
        lines.extend(hatch(&rings, pitch, Slant::Falling));
        items.push(Item::new(Ink::EmptyHatch, Shape::Lines(lines)));
    }
    items
}

/// A small triangle at the foot of a space that nobody has probed.
fn unprobed(draft: &Draft<'_>, compartment: &Compartment) -> Option<Item> {
    let lowest = compartment.lowest;
    if !draft.sees(lowest) {
        return None;
    }
    let widest = draft.scale.size(compartment.clear_width) * 0.4;
    let half = (text::height(draft.manner.text) * 0.35).min(widest / 2.0);
    let foot = draft.scale.at(lowest).moved(0.0, -half * 0.8);
    Some(unprobed_sign(foot, half).tagged(Tag::Compartment(compartment.id.0)))
}

/// The sign of a space that nobody has probed, half as wide as a length, standing on a place.
pub(crate) fn unprobed_sign(foot: At, half: f64) -> Item {
    let corners = vec![foot.moved(-half, 0.0), foot.moved(half, 0.0), foot.moved(0.0, -half * 1.7)];
    Item::new(Ink::Unprobed, Shape::Rings(vec![corners]))
}
