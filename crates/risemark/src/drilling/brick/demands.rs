//! What holes have to meet: places within the reach, and rows close enough above each other.

use crate::drilling::brick::{
    gaps::SLACK,
    plane::{Mark, Plane, Rise, Spot, root},
};

/// Something that at least one hole has to meet.
#[derive(Debug, Clone, Copy)]
pub(super) struct Demand {
    /// Where it is.
    pub(super) spot: Spot,
    kind: Kind,
}

#[derive(Debug, Clone, Copy)]
enum Kind {
    /// A hole within a distance.
    Reach(i64),
    /// A hole between two heights and at most so far to either side.
    Row { from: i64, to: i64, aside: i64 },
}

/// Plumb lines on which the rule for vertical distances is asked, with their stretches of air space.
#[derive(Debug)]
pub(super) struct Plumb {
    lines: Vec<(i64, Vec<(i64, i64)>)>,
    aside: i64,
}

/// A vertical distance that is too long, with the holes at its ends; without one at the bottom or the top.
#[derive(Debug, Clone, Copy)]
pub(super) struct TooFar {
    pub(super) below: Option<Spot>,
    pub(super) above: Option<Spot>,
    pub(super) distance: i64,
    pub(super) most: i64,
}

impl Demand {
    /// A place that is to lie within the reach of a hole.
    pub(super) fn place(plane: &Plane, spot: Spot) -> Self {
        Self { spot, kind: Kind::Reach(plane.reach + SLACK) }
    }

    /// The heights between which a hole can meet it.
    pub(super) fn heights(&self) -> (i64, i64) {
        match self.kind {
            Kind::Reach(reach) => (self.spot.y - reach, self.spot.y + reach),
            Kind::Row { from, to, .. } => (from, to),
        }
    }

    /// How far aside a hole at a height may be to meet it.
    pub(super) fn aside(&self, y: i64) -> Option<i64> {
        let (from, to) = self.heights();
        let aside = || match self.kind {
            Kind::Reach(reach) => root(reach * reach - (y - self.spot.y) * (y - self.spot.y)),
            Kind::Row { aside, .. } => aside,
        };
        (from <= y && y <= to).then(aside)
    }

    /// Whether a hole meets it.
    pub(super) fn is_met_by(&self, hole: Spot) -> bool {
        self.aside(hole.y).is_some_and(|aside| (hole.x - self.spot.x).abs() <= aside)
    }

    /// The free mark that meets it best: the one nearest to the middle of its heights.
    pub(super) fn best_mark(&self, plane: &Plane) -> Option<Mark> {
        let (from, to) = self.heights();
        let across = plane.mark(self.spot.x);
        let meeting = plane.rows_between(from, to).iter().filter_map(|row| {
            let mark = Mark { up: row.up, across: row.nearest(across)? };
            let spot = plane.spot(mark);
            let aside = (spot.x - self.spot.x).abs();
            (aside <= self.aside(spot.y)?).then_some((mark, (spot.y - from.midpoint(to)).abs()))
        });
        meeting.min_by_key(|(mark, off)| (*off, *mark)).map(|(mark, _)| mark)
    }
}

/// Places all over an air space and along its edges.
pub(super) fn places(plane: &Plane, pitch: i64) -> Vec<Demand> {
    let [_, _, bottom, top] = plane.bounds();
    // A hair inside, so that a level edge is met by the line along it.
    let hair = 5;
    let mut heights: Vec<i64> = even(bottom + hair, top - hair, pitch);
    heights.extend(plane.corners().flat_map(|corner| [corner.y - hair, corner.y + hair]));
    crate::order::sort(&mut heights);
    heights.dedup();
    let mut spots = Vec::new();
    for y in heights {
        for (from, to) in plane.stretches(y) {
            spots.extend(even(from, to, pitch).into_iter().map(|x| Spot { x, y }));
        }
    }
    spots.into_iter().map(|spot| Demand::place(plane, spot)).collect()
}

/// The plumb lines of an air space.
pub(super) fn plumb(plane: &Plane, pitch: i64) -> Plumb {
    let [left, right, ..] = plane.bounds();
    let hair = 5;
    let mut across = even(left + hair, right - hair, pitch);
    across.extend(plane.corners().flat_map(|corner| [corner.x - hair, corner.x + hair]));
    across.retain(|x| left < *x && *x < right);
    crate::order::sort(&mut across);
    across.dedup();
    let lines = across.into_iter().map(|x| (x, plane.runs(x).collect()));
    Plumb { lines: lines.collect(), aside: plane.reach - pitch / 2 }
}

impl Plumb {
    /// Whether holes, from the bottom up, keep the rule for vertical distances near a place across.
    pub(super) fn keeps(&self, rise: Rise, holes: &[Spot], near: (i64, i64)) -> bool {
        self.too_far(rise, holes, near).is_none()
    }

    /// The first distance near a place across that is longer than the rule lets it be.
    pub(super) fn too_far(
        &self,
        rise: Rise,
        holes: &[Spot],
        (x, near): (i64, i64),
    ) -> Option<TooFar> {
        let lines = self.lines.iter().filter(|(at, _)| (at - x).abs() <= near);
        let runs = lines.flat_map(|(at, runs)| runs.iter().map(move |run| (*at, *run)));
        runs.filter_map(|(at, (bottom, top))| {
            let beside = |hole: &&Spot| (hole.x - at).abs() <= self.aside;
            let inside = |hole: &&Spot| bottom <= hole.y && hole.y <= top;
            let (mut from, mut below) = (bottom, None);
            for hole in holes.iter().filter(beside).filter(inside) {
                // What lies within reach of the top needs no further row.
                if rise.most < hole.y - from && from < top - rise.top_reach {
                    let distance = hole.y - from;
                    return Some(TooFar { below, above: Some(*hole), distance, most: rise.most });
                }
                (from, below) = (hole.y, Some(*hole));
            }
            let distance = top - from;
            let over = TooFar { below, above: None, distance, most: rise.top_reach };
            (rise.top_reach < distance).then_some(over)
        })
        .next()
    }

    /// What the rule for vertical distances asks of holes that lie on certain heights alone.
    ///
    /// Rows are at most one distance apart just when every stretch of one distance over the bottom
    /// or over a height that can bear a row has a row in it.
    pub(super) fn demands(&self, rise: Rise, heights: &[i64]) -> Vec<Demand> {
        let mut demands = Vec::new();
        for (x, runs) in &self.lines {
            for &(bottom, top) in runs {
                let last = (top - rise.top_reach).max(bottom);
                let mut ask = |from: i64, to: i64| {
                    let spot = Spot { x: *x, y: from.midpoint(to) };
                    demands.push(Demand { spot, kind: Kind::Row { from, to, aside: self.aside } });
                };
                ask(last, top);
                if bottom + rise.most < last {
                    ask(bottom, bottom + rise.most);
                }
                let first = heights.partition_point(|&height| height < bottom);
                let between = heights[first..].iter().take_while(|&&height| height < last);
                between.for_each(|height| ask(height + 1, (height + rise.most).min(top)));
            }
        }
        demands
    }
}

/// Places from one end to the other at even distances, at most so far apart, both ends among them.
fn even(from: i64, to: i64, pitch: i64) -> Vec<i64> {
    let n_parts = ((to - from) / pitch.max(1) + 1).max(1);
    (0..=n_parts).map(|part| from + (to - from) * part / n_parts).collect()
}
