//! Timber: hatched where it closes the bay, a dashed outline where it only narrows it.

use risemark::framing::{BayEffect, Member, MemberKind};

use super::{
    Draft,
    hatch::{Slant, hatch},
};
use crate::{
    drawing::{Item, Shape},
    ink::Ink,
};

pub(super) fn members(draft: &Draft<'_>) -> Vec<Item> {
    let closing = draft.subject.plan.frame.members.iter().filter(|member| is_timber(member));
    closing.flat_map(|member| timber(draft, member)).collect()
}

/// Members in front of which foam passes lie over everything else.
pub(super) fn flat_members(draft: &Draft<'_>) -> Vec<Item> {
    let members = draft.subject.plan.frame.members.iter();
    let flat = members.filter(|member| member.bay == BayEffect::Narrows);
    let pieces = flat.flat_map(|member| draft.pieces(&member.polygon));
    pieces.map(|rings| Item::new(Ink::FlatTimber, Shape::Rings(rings))).collect()
}

/// Whether it is drawn as timber; a closing thing is drawn as the thing it is.
fn is_timber(member: &Member) -> bool {
    member.bay == BayEffect::Closes && member.kind != MemberKind::ClosingThing
}

fn timber(draft: &Draft<'_>, member: &Member) -> Vec<Item> {
    let pieces = draft.pieces(&member.polygon).into_iter();
    let drawn = pieces.flat_map(|rings| {
        let area = Item::new(Ink::Timber, Shape::Rings(rings.clone())).area();
        // Hatching between edges this close would run together.
        let slender = area.width().min(area.height()) < draft.manner.height() * 0.3;
        let lines = (!slender).then(|| hatch(&rings, draft.manner.hatch, Slant::Rising));
        let outline = Item::new(Ink::Timber, Shape::Rings(rings));
        let hatching = lines.map(|lines| Item::new(Ink::Hatch, Shape::Lines(lines)));
        std::iter::once(outline).chain(hatching)
    });
    drawn.collect()
}
