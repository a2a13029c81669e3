//! What holes have to meet: places within the reach, and rows close enough above each other.

use crate::drilling::brick::{
    gaps::SLACK,
    plane::{Mark, Plane, Row, Spot, root},
};

/// Something that at least one hole has to meet.
#[derive(Debug, Clone, Copy)]
pub(super) struct Demand {
    /// Where it is.
    pub(super) spot: Spot,
    kind: Kind,
}

/// What a hole has to spare at the last place that is asked for, in micrometres: an inch.
const SPARE: i64 = 25_400;

#[derive(Debug, Clone, Copy)]
enum Kind {
    /// A hole within a distance.
    Reach(i64),
    /// A hole between two heights and at most so far to either side.
    Row { from: i64, to: i64, aside: i64 },
}

impl Demand {
    /// A place that is to lie within the reach of a hole.
    pub(super) fn place(plane: &Plane, spot: Spot) -> Self {
        Self { spot, kind: Kind::Reach(plane.reach + SLACK) }
    }

    /// A height from one to another that is to have a hole at most so far aside of a plumb line.
    pub(super) fn row(x: i64, (from, to): (i64, i64), aside: i64) -> Self {
        Self { spot: Spot { x, y: from.midpoint(to) }, kind: Kind::Row { from, to, aside } }
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

    /// Whether a hole can meet it with a little to spare. To meet every last demand, holes would have to
    /// stand side by side along the edge of what cannot be drilled.
    pub(super) fn has_room(&self, plane: &Plane) -> bool {
        let spare = SPARE.min(plane.reach / 8);
        let across = plane.mark(self.spot.x);
        let meets = |row: &Row| {
            let mark = row.nearest(across).map(|across| plane.spot(Mark { up: row.up, across }));
            mark.is_some_and(|mark| match self.kind {
                Kind::Reach(reach) => {
                    let far = reach - spare;
                    mark.squared(self.spot) <= far * far
                }
                Kind::Row { from, to, aside } => {
                    from <= mark.y && mark.y <= to && (mark.x - self.spot.x).abs() <= aside - spare
                }
            })
        };
        let (from, to) = self.heights();
        // Most often a hole may be right there.
        plane.row_near(self.spot.y).is_some_and(meets)
            || plane.rows_between(from, to).iter().any(meets)
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

/// Places all over an air space and along its edges, as far as holes can reach them.
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
    let places = spots.into_iter().map(|spot| Demand::place(plane, spot));
    places.filter(|place| place.has_room(plane)).collect()
}

/// Places from one end to the other at even distances, at most so far apart, both ends among them.
pub(super) fn even(from: i64, to: i64, pitch: i64) -> Vec<i64> {
    let n_parts = ((to - from) / pitch.max(1) + 1).max(1);
    (0..=n_parts).map(|part| from + (to - from) * part / n_parts).collect()
}
