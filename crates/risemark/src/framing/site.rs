//! The wall while it is being framed: what stands already, and how a member finds its room.

use uom::ConstZero;

use crate::{
    finding::{Finding, Place, Problem},
    framing::{BayEffect, Member, MemberKind, RoughOpening, profile::Profile},
    geometry::{Polygon, Rect, Span, difference},
    quantity::{Area, Length},
};

/// What stands already.
#[derive(Debug)]
pub(super) struct Site {
    /// Width from end to end.
    pub(super) width: Length,
    /// Clear depth of the cavity.
    pub(super) depth: Length,
    /// Face width of a stud.
    pub(super) stud: Length,
    /// The lower edge of the framing.
    pub(super) floor: Profile,
    /// The top of the bottom plates.
    pub(super) lower: Profile,
    /// The underside of the top plates.
    pub(super) upper: Profile,
    /// What stands already.
    pub(super) members: Vec<Member>,
    /// Where nothing may stand.
    pub(super) openings: Vec<RoughOpening>,
    /// What was worth saying.
    pub(super) findings: Vec<Finding>,
}

impl Site {
    /// Puts up a member, cut back to the room that is left.
    ///
    /// Returns whether anything had to be cut.
    pub(super) fn put(&mut self, kind: MemberKind, polygon: Polygon) -> bool {
        let bounds = polygon.bounds();
        let in_the_way: Vec<Polygon> =
            self.closing().filter(|other| other.bounds().overlaps(bounds)).cloned().collect();
        if in_the_way.is_empty() {
            self.push(kind, polygon, BayEffect::Closes, self.depth);
            return false;
        }
        let whole = polygon.area();
        let pieces = difference(&[polygon], &in_the_way);
        let left = pieces.iter().fold(Area::ZERO, |sum, piece| sum + piece.area());
        for piece in pieces {
            self.push(kind, piece, BayEffect::Closes, self.depth);
        }
        left < whole * 0.999
    }

    /// Puts up a member only where nothing is in its way; returns whether it stands.
    pub(super) fn put_whole(&mut self, kind: MemberKind, polygon: Polygon) -> bool {
        let bounds = polygon.bounds();
        let plate =
            |member: &Member| matches!(member.kind, MemberKind::BottomPlate | MemberKind::TopPlate);
        let blocked = self
            .members
            .iter()
            .filter(|member| !plate(member))
            .any(|m| m.polygon.bounds().overlaps(bounds))
            || self.openings.iter().any(|opening| opening.polygon.bounds().overlaps(bounds));
        if !blocked {
            self.push(kind, polygon, BayEffect::Closes, self.depth);
        }
        !blocked
    }

    /// Adds a member that foam passes beside.
    pub(super) fn put_beside(&mut self, kind: MemberKind, polygon: Polygon, depth: Length) {
        self.push(kind, polygon, BayEffect::Narrows, depth);
    }

    /// The upright piece between the plates over a stretch.
    pub(super) fn upright(&self, over: Span) -> Option<Polygon> {
        super::profile::between(&self.lower, &self.upper, over)
    }

    /// The free stretches of a level line, from left to right.
    pub(super) fn free_across(&self, y: Length) -> Vec<Span> {
        let taken: Vec<Span> = self.closing().flat_map(|polygon| polygon.across(y)).collect();
        self.whole()
            .without(&taken)
            .into_iter()
            .filter(|span| crate::quantity::SAME < span.length())
            .collect()
    }

    /// From one end of the wall to the other.
    pub(super) fn whole(&self) -> Span {
        Span { from: Length::ZERO, to: self.width }
    }

    /// Everything that foam does not pass: closing members and openings.
    pub(super) fn closing(&self) -> impl Iterator<Item = &Polygon> {
        let closes = |member: &&Member| member.bay == BayEffect::Closes;
        let members = self.members.iter().filter(closes).map(|member| &member.polygon);
        members.chain(self.openings.iter().map(|opening| &opening.polygon))
    }

    /// A rectangle cut to the room between the plates: one piece, or several under a stepped edge.
    pub(super) fn between_plates(&self, rect: Rect) -> Vec<Polygon> {
        let (lower, upper) = (self.lower.range(rect.x), self.upper.range(rect.x));
        if lower.to <= rect.y.from && rect.y.to <= upper.from {
            return Some(rect.polygon()).filter(Polygon::is_real).into_iter().collect();
        }
        let room: Vec<Polygon> = self.upright(rect.x).into_iter().collect();
        crate::geometry::intersection(&[rect.polygon()], &room)
    }

    /// Remembers something worth saying.
    pub(super) fn say(&mut self, place: Place, problem: Problem) {
        self.findings.push(Finding::new(place, problem));
    }

    fn push(&mut self, kind: MemberKind, polygon: Polygon, bay: BayEffect, depth: Length) {
        self.members.push(Member { kind, polygon, depth, bay });
    }
}
