//! Where the centre of a hole may be: the legal places of a column of holes, on the marking step.

use uom::ConstZero;

use crate::{
    compartments::Compartment,
    drilling::{clearance::SLACK, lines::PARTS, near::Near},
    framing::Frame,
    geometry::{Polygon, Span},
    job::{End, RowsFrom},
    quantity::{Length, at_step, from_whole, to_whole},
    rules::Rules,
};

/// One column of holes up a compartment, with the legal place at each height of the marking step.
#[derive(Debug, Clone)]
pub(super) struct Column {
    /// The compartment's position in the list.
    pub(super) compartment: usize,
    /// Its part of the compartment, across from the left end.
    pub(super) within: Span,
    /// The middle of the bay, across from the left end.
    pub(super) centre: Length,
    /// The first row, in marking steps above the finished floor or a level near it.
    pub(super) first: i64,
    /// For each row the legal place nearest to the centre, in marking steps from the datum.
    pub(super) across: Vec<Option<i64>>,
    /// From the lowest to the highest point of its part of the compartment.
    pub(super) reach: Span,
    /// The top hole lies at this row or above.
    pub(super) window: i64,
    /// The lowest hole lies at this row or below.
    pub(super) start: i64,
    /// Consecutive holes are at most this many rows apart.
    pub(super) spread: i64,
    /// Where holes would be for even distances.
    pub(super) even: Even,
}

/// A stretch that holes would divide evenly, in parts of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Even {
    /// Its lower end, where no hole is.
    pub(super) from: i64,
    /// Its upper end, where the last hole is.
    pub(super) to: i64,
    /// How many of the holes up to there are not for the planner to place.
    pub(super) n_given: usize,
}

impl Even {
    /// Where one hole of so many would be.
    pub(super) fn at(self, hole: usize, n_holes: usize) -> i64 {
        let whole = |count: usize| i64::try_from(count).unwrap_or(1);
        self.from + (self.to - self.from) * whole(hole) / whole(n_holes + self.n_given).max(1)
    }
}

impl Column {
    /// The legal place at a row, in marking steps from the datum.
    pub(super) fn at(&self, row: i64) -> Option<i64> {
        let idx = usize::try_from(row - self.first).ok()?;
        self.across.get(idx).copied().flatten()
    }

    /// Whether a hole may be at a row.
    pub(super) fn legal(&self, row: i64) -> bool {
        self.at(row).is_some()
    }

    /// The highest legal row up to a limit, and at least at another.
    pub(super) fn highest(&self, from: i64, to: i64) -> Option<i64> {
        let last = self.last();
        (from.max(self.first)..=to.min(last)).rev().find(|&row| self.legal(row))
    }

    /// The lowest legal row from a limit on, and at most at another.
    pub(super) fn lowest(&self, from: i64, to: i64) -> Option<i64> {
        let last = self.last();
        (from.max(self.first)..=to.min(last)).find(|&row| self.legal(row))
    }

    /// The highest row there is.
    pub(super) fn last(&self) -> i64 {
        self.first + i64::try_from(self.across.len()).unwrap_or(0) - 1
    }
}

/// Everything that decides where holes of one wall may be.
#[derive(Debug)]
pub(super) struct Ground<'a> {
    pub(super) frame: &'a Frame,
    pub(super) rules: &'a Rules,
    /// The height of the row that is numbered zero.
    pub(super) origin: Length,
    /// Each compartment with what there is around it.
    pub(super) near: Vec<Near<'a>>,
}

impl<'a> Ground<'a> {
    /// The ground of a wall and its compartments.
    pub(super) fn of(
        frame: &'a Frame,
        compartments: &'a [Compartment],
        rules: &'a Rules,
        rows_from: RowsFrom,
    ) -> Self {
        let near = compartments.iter().map(|compartment| Near::of(compartment, frame, rules));
        let step = rules.marking_step;
        let origin = match rows_from {
            RowsFrom::Floor => Length::ZERO,
            RowsFrom::Ceiling => {
                let ceiling = ceiling(frame);
                ceiling - step * (ceiling / step).value.floor()
            }
        };
        Self { frame, rules, origin, near: near.collect() }
    }

    /// The height of a row above the finished floor.
    pub(super) fn height(&self, row: i64) -> Length {
        self.origin + at_step(row, self.rules.marking_step)
    }

    /// A height above the finished floor in rows, between two of them as a rule.
    pub(super) fn rows(&self, height: Length) -> f64 {
        ((height - self.origin) / self.rules.marking_step).value
    }

    /// The columns of a compartment: one, or more in a wide bay.
    pub(super) fn columns(&self, idx: usize) -> Vec<Column> {
        let compartment = self.near[idx].compartment;
        let Some(row) = self.rules.spacing_at(compartment.depth) else {
            return Vec::new();
        };
        let wide = (compartment.clear_width / self.rules.wide_bay).value;
        let n_columns = to_whole((wide - 1e-9).ceil()).max(1);
        let bay = compartment.polygon.bounds().x;
        let share = bay.length() / from_whole(n_columns);
        let quiet = self.near[idx].quiet();
        // From the datum end, so that a mirrored wall has the same columns in the same order.
        let columns = (0..n_columns).map(|part| {
            let (near, far) = (share * from_whole(part), share * from_whole(part + 1));
            let within = match self.frame.datum {
                End::Left => Span { from: bay.from + near, to: bay.from + far },
                End::Right => Span { from: bay.to - far, to: bay.to - near },
            };
            self.column((idx, &quiet), within, row.most)
        });
        columns.collect()
    }

    /// A reading from the datum as a place from the left end, and the other way round.
    pub(super) fn turned(&self, reading: Length) -> Length {
        match self.frame.datum {
            End::Left => reading,
            End::Right => self.frame.width - reading,
        }
    }

    /// The marks of a stretch across, from the one nearest to the datum.
    pub(super) fn marks(&self, span: Span) -> (i64, i64) {
        let step = self.rules.marking_step;
        let readings = Span::new(self.turned(span.from), self.turned(span.to));
        let from = to_whole(((readings.from - SLACK) / step).value.ceil());
        let to = to_whole(((readings.to + SLACK) / step).value.floor());
        (from, to)
    }

    /// The mark nearest to a place across, of a stretch of marks.
    pub(super) fn best_mark(&self, place: Length, (from, to): (i64, i64)) -> i64 {
        let wanted = (self.turned(place) / self.rules.marking_step).value;
        // Halfway between two marks the one nearer to the datum is taken, from either end.
        to_whole((wanted - 0.5 - 1e-9).ceil()).clamp(from, to)
    }

    /// The legal place nearest to the centre, in marking steps from the datum.
    fn nearest(&self, free: &[Span], centre: Length) -> Option<i64> {
        let step = self.rules.marking_step;
        let wanted = (self.turned(centre) / step).value;
        let candidates = free.iter().filter_map(|span| {
            let (from, to) = self.marks(*span);
            (from <= to).then(|| self.best_mark(centre, (from, to)))
        });
        // Distances that differ by rounding alone are a tie, so that a mirrored wall decides alike.
        let off = |mark: &i64| to_whole(((from_whole(*mark) - wanted).abs() * 1e6).round());
        candidates.min_by_key(|mark| (off(mark), *mark))
    }

    /// The last row of the stretch that a row lies in; the row itself, where it lies in none.
    fn last_like(&self, row: i64, quiet: &[Span]) -> i64 {
        let y = self.height(row);
        let last = quiet.iter().find(|stretch| stretch.contains(y)).map_or(row, |stretch| {
            let last = to_whole(self.rows(stretch.to).floor());
            // Rounding may lift the end of the stretch by a row.
            if stretch.contains(self.height(last)) { last } else { last - 1 }
        });
        last.max(row)
    }

    fn column(&self, (idx, quiet): (usize, &[Span]), within: Span, most: Length) -> Column {
        let (near, step) = (&self.near[idx], self.rules.marking_step);
        let compartment = near.compartment;
        let height = compartment.polygon.bounds().y;
        let first = to_whole(self.rows(height.from).floor());
        let last = to_whole(self.rows(height.to).ceil());
        let centre = within.middle();
        let nearest = |free: &[Span]| self.nearest(free, centre);
        let room = near.upright.map(|room| (room.y, room.x.common(within)));
        let mark = |y| match room {
            // In an upright bay only the rows that a thing is near to differ from the others.
            Some((_, x)) => x.and_then(|x| nearest(&near.beside_things(y, x))),
            None => nearest(&near.free(y, within)),
        };
        let is_open = |row| room.is_none_or(|(open, _)| open.contains(self.height(row)));
        let mut across = Vec::with_capacity(usize::try_from(last + 1 - first).unwrap_or(0));
        let mut row = first;
        while row <= last {
            // What is found for one row holds for all of its stretch.
            let until = self.last_like(row, quiet).min(last);
            let found = if (row..=until).any(is_open) { mark(self.height(row)) } else { None };
            across.extend((row..=until).map(|row| if is_open(row) { found } else { None }));
            row = until + 1;
        }
        let reach = extent(&compartment.polygon, within);
        let (clearance, top) = (self.rules.top_clearance, self.rules.top_reach);
        let over_centre = compartment.polygon.along(centre).last().map_or(reach.to, |up| up.to);
        let parts = |y: Length| to_whole((self.rows(y) * from_whole(PARTS)).round());
        Column {
            compartment: idx,
            within,
            centre,
            first,
            across,
            window: to_whole(self.rows(reach.to - top - SLACK).ceil()),
            start: to_whole(self.rows(reach.from + most + SLACK).floor()),
            reach,
            spread: to_whole(((most + SLACK) / step).value.floor()),
            even: Even {
                from: parts(reach.from),
                to: parts(over_centre - (clearance + top) / 2.0),
                n_given: 0,
            },
        }
    }
}

/// The height of the ceiling at the datum end.
pub(super) fn ceiling(frame: &Frame) -> Length {
    let end = match frame.datum {
        End::Left => SLACK,
        End::Right => frame.width - SLACK,
    };
    frame.face.along(end).last().map_or(frame.face.bounds().y.to, |up| up.to)
}

/// From the lowest to the highest point of a polygon within a strip.
fn extent(polygon: &Polygon, within: Span) -> Span {
    let inside = polygon.outer.iter().filter(|corner| within.contains(corner.x)).map(|at| at.y);
    let sides = [within.from + SLACK, within.to - SLACK].into_iter();
    let sides = sides.flat_map(|x| polygon.along(x)).flat_map(|up| [up.from, up.to]);
    let mut heights: Vec<Length> = inside.chain(sides).collect();
    crate::quantity::sort(&mut heights);
    match heights[..] {
        [from, .., to] => Span { from, to },
        _ => polygon.bounds().y,
    }
}
