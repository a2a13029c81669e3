//! What one hole of an air space serves, and how far it may move.

use crate::drilling::brick::{
    cover::Cover,
    demands::{self, Plumb},
    gaps::{SLACK, gaps},
    plane::{Mark, Plane, Spot, root},
};

/// The holes of an air space, each to be looked at.
pub(super) struct Room<'a> {
    plane: &'a Plane,
    marks: &'a [Mark],
    plumb: Plumb,
    is_whole: bool,
    /// For each hole the square of the distance to the farthest place that no other hole reaches.
    farthest: Vec<i64>,
}

impl<'a> Room<'a> {
    /// The room of the holes of a cover.
    pub(super) fn of(plane: &'a Plane, cover: &'a Cover) -> Self {
        let pitch = (plane.reach / 6).max(1);
        let marks = &cover.marks;
        let mut farthest = vec![0; marks.len()];
        let holes: Vec<Spot> = marks.iter().map(|&mark| plane.spot(mark)).collect();
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
        let plumb = demands::plumb(plane, plane.reach / 4);
        Self { plane, marks, plumb, is_whole: cover.missed.is_empty(), farthest }
    }

    /// The distance to the farthest place, about, that no other hole reaches.
    pub(super) fn farthest(&self, mark: Mark) -> i64 {
        let at = self.marks.binary_search(&mark);
        at.map_or(0, |at| root(self.farthest[at]).min(self.plane.reach))
    }

    /// How far foam falls from a hole, and on the foam of which other.
    pub(super) fn below(&self, mark: Mark) -> (i64, Option<Mark>) {
        let spot = self.plane.spot(mark);
        let bottom = self.run(spot).0;
        let under = |other: &&Mark| other.up < mark.up && self.is_beside(**other, spot);
        let next = self.marks.iter().rev().find(under).map(|&mark| (self.plane.spot(mark).y, mark));
        let next = next.filter(|(y, _)| bottom < *y);
        (spot.y - next.map_or(bottom, |(y, _)| y), next.map(|(_, mark)| mark))
    }

    /// How far foam rises from a hole, and to which other.
    pub(super) fn above(&self, mark: Mark) -> (i64, Option<Mark>) {
        let spot = self.plane.spot(mark);
        let top = self.run(spot).1;
        let over = |other: &&Mark| mark.up < other.up && self.is_beside(**other, spot);
        let next = self.marks.iter().find(over).map(|&mark| (self.plane.spot(mark).y, mark));
        let next = next.filter(|(y, _)| *y < top);
        (next.map_or(top, |(y, _)| y) - spot.y, next.map(|(_, mark)| mark))
    }

    /// The marks from left to right and from the lowest to the highest between which a hole may move.
    pub(super) fn may_move(&self, mark: Mark) -> [i64; 4] {
        let across = |by: i64| Mark { across: mark.across + by, ..mark };
        let up = |by: i64| Mark { up: mark.up + by, ..mark };
        let reach = |to: &dyn Fn(i64) -> Mark| self.farthest_move(mark, to);
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
    fn farthest_move(&self, mark: Mark, to: &dyn Fn(i64) -> Mark) -> i64 {
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
            if self.holds(mark, to(by)) {
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
    fn holds(&self, from: Mark, to: Mark) -> bool {
        let (old, new, reach) = (self.plane.spot(from), self.plane.spot(to), self.plane.reach);
        let others = self.marks.iter().filter(|&&mark| mark != from);
        let others = others.map(|&mark| self.plane.spot(mark));
        let near =
            others.filter(|other| (other.x - old.x).abs() <= 2 * reach + (new.x - old.x).abs());
        let mut holes: Vec<Spot> = near.chain([new]).collect();
        holes.sort_unstable();
        let within = [old.x - reach, old.x + reach, old.y - reach, old.y + reach];
        gaps(self.plane, &holes, within).is_empty()
            && self.plane.rise.is_none_or(|rise| self.plumb.keeps(rise, &holes, (old.x, reach)))
    }

    fn is_beside(&self, mark: Mark, spot: Spot) -> bool {
        (self.plane.spot(mark).x - spot.x).abs() <= self.plane.reach
    }

    /// The stretch of air space along the plumb line through a place.
    fn run(&self, spot: Spot) -> (i64, i64) {
        let here = |(from, to): &(i64, i64)| *from <= spot.y && spot.y <= *to;
        self.plane.runs(spot.x).find(here).unwrap_or((spot.y, spot.y))
    }
}
