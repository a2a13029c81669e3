//! The air space as a plane to cover, and the rows on which holes may be.
//!
//! Places are whole micrometres, so that whether a hole reaches a place is decided exactly and a
//! mirrored wall is decided alike.

use crate::{
    geometry::{Point, Polygon, Rect, Span},
    quantity::{Length, at_step, from_whole, to_whole},
};

/// A place: across from the datum end and up from the finished floor, in whole micrometres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Spot {
    pub(super) y: i64,
    pub(super) x: i64,
}

/// The centre of a hole, in marking steps up from the finished floor and across from the datum end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Mark {
    pub(super) up: i64,
    pub(super) across: i64,
}

/// A height of the marking step with the marks across where a hole may be.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) up: i64,
    /// Stretches of marks, from the datum end; each with both its ends.
    pub(super) free: Vec<(i64, i64)>,
}

/// The rule for vertical distances in an air space.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rise {
    /// At most this far from the bottom to a row and from row to row.
    pub(super) most: i64,
    /// A row lies at most this far below the top.
    pub(super) top_reach: i64,
    /// No row lies nearer below the top.
    pub(super) top_clearance: i64,
}

/// What is to be covered, and where holes may be.
#[derive(Debug, Clone)]
pub(super) struct Plane {
    /// The air space, across from the datum end, its corners on whole micrometres.
    pub(super) area: Polygon,
    /// Every place of the air space is to lie within this distance of a hole.
    pub(super) reach: i64,
    /// The grid of marks.
    pub(super) step: Length,
    /// The height of the row that is numbered zero.
    pub(super) origin: Length,
    /// The rows on which holes may be, from the bottom up.
    pub(super) rows: Vec<Row>,
    /// The rule for vertical distances, where foam drops and rises; without it places are covered alone.
    pub(super) rise: Option<Rise>,
    /// Holes that are not the planner's to choose, from the bottom up.
    pub(super) given: Vec<Spot>,
    /// Rows that are liked best, from the bottom up.
    pub(super) liked: Vec<i64>,
}

impl Spot {
    /// The place nearest to a point.
    pub(super) fn of(point: Point) -> Self {
        Self { x: microns(point.x), y: microns(point.y) }
    }

    /// The place as a point.
    pub(super) fn point(self) -> Point {
        Point::new(length(self.x), length(self.y))
    }

    /// The square of the distance to another place.
    pub(super) fn squared(self, other: Self) -> i64 {
        let (x, y) = (self.x - other.x, self.y - other.y);
        x * x + y * y
    }
}

impl Row {
    /// The free mark nearest to another; of two the one nearer to the datum.
    pub(super) fn nearest(&self, wanted: i64) -> Option<i64> {
        let near = self.free.iter().map(|&(from, to)| wanted.clamp(from, to));
        near.min_by_key(|mark| (mark - wanted).abs())
    }
}

impl Plane {
    /// Where a mark lies.
    pub(super) fn spot(&self, mark: Mark) -> Spot {
        Spot { x: microns(at_step(mark.across, self.step)), y: self.height(mark.up) }
    }

    /// How high a row lies.
    fn height(&self, up: i64) -> i64 {
        microns(self.origin + at_step(up, self.step))
    }

    /// The mark nearest to a reading across.
    pub(super) fn mark(&self, reading: i64) -> i64 {
        to_whole((length(reading) / self.step).value.round())
    }

    /// The mark nearest to a place.
    pub(super) fn mark_near(&self, spot: Spot) -> Mark {
        Mark { up: self.mark(spot.y - microns(self.origin)), across: self.mark(spot.x) }
    }

    /// The square of the distance from a place to the nearest mark where a hole may be, as far as it is
    /// looked for; nothing beyond.
    pub(super) fn nearest_mark(&self, spot: Spot, far: i64) -> Option<i64> {
        let across = self.mark(spot.x);
        let rows = self.rows_between(spot.y - far, spot.y + far).iter();
        let marks = rows.filter_map(|row| {
            Some(self.spot(Mark { up: row.up, across: row.nearest(across)? }).squared(spot))
        });
        marks.min().filter(|squared| *squared <= far * far)
    }

    /// The row nearest to a height.
    pub(super) fn row_near(&self, y: i64) -> Option<&Row> {
        let wanted = self.mark(y - microns(self.origin));
        let over = self.rows.partition_point(|row| row.up < wanted);
        let beside = self.rows.get(over.saturating_sub(1)..self.rows.len().min(over + 1))?;
        beside.iter().min_by_key(|row| (row.up - wanted).abs())
    }

    /// The row at a height of the marking step.
    pub(super) fn row_at(&self, up: i64) -> Option<&Row> {
        let at = self.rows.binary_search_by_key(&up, |row| row.up).ok()?;
        self.rows.get(at)
    }

    /// The rows from one height to another.
    pub(super) fn rows_between(&self, from: i64, to: i64) -> &[Row] {
        let at = |row: &Row| self.height(row.up);
        let first = self.rows.partition_point(|row| at(row) < from);
        let last = self.rows.partition_point(|row| at(row) <= to);
        self.rows.get(first..last).unwrap_or(&[])
    }

    /// The upright rectangle around the air space: its left, right, lower and upper end.
    pub(super) fn bounds(&self) -> [i64; 4] {
        let Rect { x, y } = self.area.bounds();
        [x.from, x.to, y.from, y.to].map(microns)
    }

    /// The stretches of the air space along a plumb line, from the bottom up.
    pub(super) fn runs(&self, x: i64) -> impl Iterator<Item = (i64, i64)> {
        let runs = self.area.along(length(x)).into_iter();
        runs.map(|Span { from, to }| (microns(from), microns(to)))
    }

    /// The stretches of the air space along a level line, from the datum end.
    pub(super) fn stretches(&self, y: i64) -> impl Iterator<Item = (i64, i64)> {
        let stretches = self.area.across(length(y)).into_iter();
        stretches.map(|Span { from, to }| (microns(from), microns(to)))
    }

    /// Whether an edge of the air space is neither level nor plumb.
    pub(super) fn is_raked(&self) -> bool {
        self.area.edges().any(|(a, b)| a.x != b.x && a.y != b.y)
    }

    /// The corners of the air space.
    pub(super) fn corners(&self) -> impl Iterator<Item = Spot> {
        self.area.rings().flatten().map(|corner| Spot::of(*corner))
    }
}

/// A length as whole micrometres.
pub(super) fn microns(length: Length) -> i64 {
    to_whole((length.value * 1e6).round())
}

/// Whole micrometres as a length.
pub(super) fn length(microns: i64) -> Length {
    crate::quantity::millimeters(from_whole(microns) / 1e3)
}

/// The whole root of a square; 0 of what is none.
pub(super) fn root(square: i64) -> i64 {
    to_whole(from_whole(square.max(0)).sqrt().floor())
}
