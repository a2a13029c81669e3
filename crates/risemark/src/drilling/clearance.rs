//! How near is too near: the stretches of level lines that lie within a distance of edges.
//!
//! Thousands of level lines meet the same few edges, so that what does not depend on the height is
//! worked out once.

use uom::ConstZero;

use crate::{
    geometry::{Point, Polygon, Span, crossing},
    quantity::{Area, Length, longer, millimeters, shorter},
};

/// Slack of every comparison with a rule, so that a rule met exactly counts as met.
pub(super) const SLACK: Length = millimeters(0.0001);

/// An edge from which the centre of a hole keeps a distance.
#[derive(Debug, Clone)]
pub(super) struct Side {
    ends: [Point; 2],
    distance: Length,
    /// The heights that it reaches.
    reach: Span,
    run: Run,
}

/// How an edge runs.
#[derive(Debug, Clone, Copy)]
enum Run {
    Level,
    /// From its first end to its other one, and from it to one of the two lines beside it.
    Rising {
        to: Point,
        shift: Point,
    },
}

/// A convex piece that the centre of a hole keeps off.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    sides: Vec<Side>,
    reach: Span,
}

impl Side {
    /// An edge with the distance to keep from it.
    pub(super) fn new((a, b): (Point, Point), distance: Length) -> Self {
        let to = Point::new(b.x - a.x, b.y - a.y);
        let run = if to.y.abs() <= SLACK {
            Run::Level
        } else {
            let squared: Area = to.x * to.x + to.y * to.y;
            let share = distance / squared.sqrt();
            Run::Rising { to, shift: Point::new(-to.y * share, to.x * share) }
        };
        Self { ends: [a, b], distance, reach: Span::new(a.y, b.y).widened(distance), run }
    }

    /// The stretch at a height that lies within the distance.
    pub(super) fn beside(&self, y: Length) -> Option<Span> {
        if !self.reach.contains(y) {
            return None;
        }
        let [a, b] = self.ends;
        let squared = self.distance * self.distance;
        let round = |end: Point| {
            let up = y - end.y;
            let across: Area = squared - up * up;
            (0.0 < across.value)
                .then(|| Span { from: end.x - across.sqrt(), to: end.x + across.sqrt() })
        };
        let ends = either(round(a), round(b));
        match self.run {
            Run::Level if (y - a.y).abs() < self.distance => {
                either(ends, Some(Span::new(a.x, b.x)))
            }
            Run::Level => ends,
            // The two lines beside the edge, each met by the level line at one place or not at all.
            Run::Rising { to, shift } => {
                let met = |shift: Point| {
                    let share = ((y - a.y - shift.y) / to.y).value;
                    let x = a.x + shift.x + to.x * share;
                    (0.0..=1.0).contains(&share).then_some(Span { from: x, to: x })
                };
                let back = Point::new(-shift.x, -shift.y);
                either(ends, either(met(back), met(shift)))
            }
        }
    }

    /// The stretch at a height over which the edge lies above within a distance.
    pub(super) fn over(&self, y: Length, distance: Length) -> Option<Span> {
        let [a, b] = self.ends;
        let (low, high) = if a.y < b.y { (a, b) } else { (b, a) };
        let (from, to) = (y + SLACK, y + distance - SLACK);
        if high.y <= from || to <= low.y {
            return None;
        }
        let rise = high.y - low.y;
        if rise <= SLACK {
            return Some(Span::new(a.x, b.x));
        }
        let at = |height: Length| low.x + (high.x - low.x) * ((height - low.y) / rise);
        Some(Span::new(at(longer(low.y, from)), at(shorter(high.y, to))))
    }

    /// The heights at which what it takes of level lines changes, when lines up to a distance below
    /// it matter as well.
    pub(super) fn changes(&self, below: Length) -> [Span; 2] {
        let margin = longer(self.distance, below) + SLACK;
        let [a, b] = self.ends;
        match self.run {
            // Between its ends a plumb edge takes the same of every line.
            Run::Rising { to, .. } if to.x.abs() <= Length::ZERO => {
                [a, b].map(|end| Span { from: end.y, to: end.y }.widened(margin))
            }
            Run::Rising { .. } | Run::Level => [Span::new(a.y, b.y).widened(margin); 2],
        }
    }

    fn crossed(&self, y: Length) -> Option<Span> {
        let [a, b] = self.ends;
        crossing((a.y, a.x), (b.y, b.x), y).map(|x| Span { from: x, to: x })
    }
}

impl Piece {
    /// A convex piece with the distance to keep from it.
    pub(super) fn new(polygon: &Polygon, distance: Length) -> Self {
        let sides = polygon.edges().map(|edge| Side::new(edge, distance)).collect();
        Self { sides, reach: polygon.bounds().y.widened(distance) }
    }

    /// Whether a height is near enough for the piece to take some of it.
    pub(super) fn reaches(&self, y: Length) -> bool {
        self.reach.contains(y)
    }

    /// The heights at which what it takes of level lines changes.
    pub(super) fn changes(&self) -> impl Iterator<Item = Span> {
        self.sides.iter().flat_map(|side| side.changes(Length::ZERO))
    }

    /// The stretch at a height that lies in the piece or within the distance.
    pub(super) fn around(&self, y: Length) -> Option<Span> {
        if !self.reaches(y) {
            return None;
        }
        let taken = |side: &Side| either(side.beside(y), side.crossed(y));
        self.sides.iter().map(taken).reduce(either).flatten()
    }
}

/// The stretch from the first to the last of two.
fn either(a: Option<Span>, b: Option<Span>) -> Option<Span> {
    match (a, b) {
        (Some(a), Some(b)) => Some(Span { from: shorter(a.from, b.from), to: longer(a.to, b.to) }),
        (one, other) => one.or(other),
    }
}
