//! Openings: empty, with a thin cross.

use super::Draft;
use crate::{
    drawing::{Area, At, Item, Shape},
    ink::Ink,
};

pub(super) fn openings(draft: &Draft<'_>) -> Vec<Item> {
    let mut items = Vec::new();
    for opening in &draft.subject.plan.frame.openings {
        let pieces = draft.pieces(&opening.polygon).into_iter();
        items.extend(pieces.map(|rings| Item::new(Ink::Opening, Shape::Rings(rings))));
        items.push(Item::new(
            Ink::OpeningCross,
            Shape::Lines(cross(draft, draft.area_of(opening.polygon.bounds()))),
        ));
    }
    items
}

fn cross(draft: &Draft<'_>, Area { left, top, right, bottom }: Area) -> Vec<(At, At)> {
    let diagonals = [
        (At::new(left, top), At::new(right, bottom)),
        (At::new(left, bottom), At::new(right, top)),
    ];
    diagonals.into_iter().filter_map(|(a, b)| draft.wall().clipped(a, b)).collect()
}
