//! What one hole of an air space serves, and how far it may move.

use crate::drilling::brick::{
    demands,
    gaps::{SLACK, gaps},
    plane::{Mark, Plane, Spot, root},
    plumb::{self, TooFar},
};

/// The holes of an air space, each to be looked at.
pub(super) struct Room<'a> {
    plane: &'a Plane,
    /// From the bottom up, each row from the datum end.
    holes: Vec<Spot>,
    is_whole: bool,
    /// For each hole the square of the distance to the farthest place that no other hole reaches.
    farthest: Vec<i64>,
}

impl<'a> Room<'a> {
    /// The room of all holes of an air space; whether they cover it.
    pub(super) fn of(plane: &'a Plane, mut holes: Vec<Spot>, is_whole: bool) -> Self {
        crate::order::sort(&mut holes);
        let pitch = (plane.reach / 6).max(1);
        let mut farthest = vec![0; holes.len()];
        let far = plane.reach + SLACK;
        for place in demands::places(plane, pitch) {
            let low = holes.partition_point(|hole| hole.y < place.spot.y - far);
            let near = holes[low..].iter().take_while(|hole| hole.y <= place.spot.y + far);
            let near = near.enumerate().map(|(idx, hole)| (low + idx, hole.squared(place.spot)));
            let mut near = near.filter(|(_, squared)| *squared <= far * far);
            if let (Some((idx, squared)), None) = (near.next(), near.next()) {
                farthest[idx] = farthest[idx].max(squared);
            }
        }
        Self { plane, holes, is_whole, farthest }
    }

    /// The distance to the farthest place, about, that no other hole reaches.
    pub(super) fn farthest(&self, hole: Spot) -> i64 {
        let at = self.holes.binary_search(&hole);
        at.map_or(0, |at| root(self.farthest[at]).min(self.plane.reach))
    }

    /// How far foam falls from a hole, and on the foam of which other.
    pub(super) fn below(&self, hole: Spot) -> (i64, Option<Spot>) {
        let bottom = self.run(hole).0;
        let under = |other: &&Spot| other.y < hole.y && self.is_beside(**other, hole);
        let next = self.holes.iter().rev().find(under).filter(|other| bottom < other.y);
        (hole.y - next.map_or(bottom, |other| other.y), next.copied())
    }

    /// How far foam rises from a hole, and to which other.
    pub(super) fn above(&self, hole: Spot) -> (i64, Option<Spot>) {
        let top = self.run(hole).1;
        let over = |other: &&Spot| hole.y < other.y && self.is_beside(**other, hole);
        let next = self.holes.iter().find(over).filter(|other| other.y < top);
        (next.map_or(top, |other| other.y) - hole.y, next.copied())
    }

    /// The first vertical distance that is longer than the rule lets it be.
    pub(super) fn too_far(&self) -> Option<TooFar> {
        let [left, right, ..] = self.plane.bounds();
        plumb::too_far(self.plane, &self.holes, (left, right)).next()
    }

    /// A place that no hole reaches.
    pub(super) fn gap(&self) -> Option<Spot> {
        gaps(self.plane, &self.holes, self.plane.bounds()).first().copied()
    }

    /// The marks from left to right and from the lowest to the highest between which a hole may move.
    pub(super) fn may_move(&self, hole: Spot) -> [i64; 4] {
        let mark = self.plane.mark_near(hole);
        let across = |by: i64| Mark { across: mark.across + by, ..mark };
        let up = |by: i64| Mark { up: mark.up + by, ..mark };
        let reach = |to: &dyn Fn(i64) -> Mark| self.farthest_move(hole, to);
        [
            mark.across - reach(&|by| across(-by)),
            mark.across + reach(&across),
            mark.up - reach(&|by| up(-by)),
            mark.up + reach(&up),
        ]
    }

    /// How many steps a hole may go one way while every rule still holds.
    ///
    /// What a hole must serve is convex, so that where it may stand is one stretch.
    fn farthest_move(&self, hole: Spot, to: &dyn Fn(i64) -> Mark) -> i64 {
        let free = |by: i64| {
            let mark = to(by);
            let row = self.plane.row_at(mark.up);
            row.is_some_and(|row| row.nearest(mark.across) == Some(mark.across))
        };
        let mut most = 0;
        while self.is_whole && free(most + 1) {
            most += 1;
        }
        let (mut holds, mut fails) = (0, most + 1);
        let mut stride = 1;
        while holds + 1 < fails {
            let by = (holds + stride).min(holds.midpoint(fails).max(holds + 1));
            if self.holds(hole, to(by)) {
                holds = by;
                stride *= 2;
            } else {
                fails = by;
                stride = 1;
            }
        }
        holds
    }

    /// Whether every rule holds when one hole stands elsewhere.
    fn holds(&self, old: Spot, to: Mark) -> bool {
        let (new, reach) = (self.plane.spot(to), self.plane.reach);
        let others = self.holes.iter().copied().filter(|&hole| hole != old);
        let near =
            others.filter(|other| (other.x - old.x).abs() <= 2 * reach + (new.x - old.x).abs());
        let mut holes: Vec<Spot> = near.chain([new]).collect();
        crate::order::sort(&mut holes);
        let within = [old.x - reach, old.x + reach, old.y - reach, old.y + reach];
        gaps(self.plane, &holes, within).is_empty()
            && plumb::too_far(self.plane, &holes, (old.x - reach, old.x + reach)).next().is_none()
    }

    fn is_beside(&self, hole: Spot, spot: Spot) -> bool {
        (hole.x - spot.x).abs() <= self.plane.reach
    }

    /// The stretch of air space along the plumb line through a place.
    fn run(&self, spot: Spot) -> (i64, i64) {
        let here = |(from, to): &(i64, i64)| *from <= spot.y && spot.y <= *to;
        self.plane.runs(spot.x).find(here).unwrap_or((spot.y, spot.y))
    }
}
