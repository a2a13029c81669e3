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
    drawing::{Item, Shape, Tag},
    ink::Ink,
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
        return drawn(&compartment.polygon, Ink::Compartment);
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
