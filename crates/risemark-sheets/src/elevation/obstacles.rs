//! Things in the wall, in thin outline, and things on the wall, dotted.

use risemark::{finding::Avoided, framing::Obstacle};

use super::{Draft, hatch::dots};
use crate::{
    drawing::{Area, Item, Shape},
    ink::Ink,
};

pub(super) fn things(draft: &Draft<'_>) -> Vec<Item> {
    let obstacles = draft.subject.plan.frame.obstacles.iter();
    let things = obstacles.filter(|obstacle| matches!(obstacle.what, Avoided::Thing(_)));
    things.flat_map(|thing| outlined(draft, thing, Ink::Thing)).collect()
}

pub(super) fn zones(draft: &Draft<'_>) -> Vec<Item> {
    let obstacles = draft.subject.plan.frame.obstacles.iter();
    let zones = obstacles.filter(|obstacle| matches!(obstacle.what, Avoided::Zone(_)));
    zones.flat_map(|zone| dotted(draft, zone)).collect()
}

fn outlined(draft: &Draft<'_>, obstacle: &Obstacle, ink: Ink) -> Vec<Item> {
    let pieces = obstacle.pieces.iter().flat_map(|piece| draft.pieces(piece));
    pieces.map(|rings| Item::new(ink, Shape::Rings(rings))).collect()
}

fn dotted(draft: &Draft<'_>, zone: &Obstacle) -> Vec<Item> {
    let mut items = outlined(draft, zone, Ink::Zone);
    let areas: Vec<Area> = items.iter().map(Item::area).collect();
    let pattern = areas.into_iter().flat_map(|area| dots(area, draft.manner.hatch * 1.5));
    items.push(Item::new(Ink::ZoneDots, Shape::Lines(pattern.collect())));
    items
}
