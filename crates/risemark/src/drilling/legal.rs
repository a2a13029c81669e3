//! Where the centre of a hole may be: the legal places of a column of holes, on the marking step.

use crate::{
    compartments::Compartment,
    drilling::{clearance::SLACK, lines::PARTS, near::Near},
    framing::Frame,
    geometry::{Polygon, Span},
    job::End,
    quantity::{Length, at_step, from_whole, to_whole},
    rules::Rules,
};

/// One column of holes up a compartment, with the legal place at each height of the marking step.
#[derive(Debug, Clone)]
pub(super) struct Column {
    /// The compartment's position in the list.
    pub(super) compartment: usize,
    /// The middle of the bay, across from the left end.
    pub(super) centre: Length,
    /// Height of the first row, in marking steps above the finished floor.
    pub(super) first: i64,
    /// For each row the legal place nearest to the centre, in marking steps from the datum.
    pub(super) across: Vec<Option<i64>>,
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
    /// Each compartment with what there is around it.
    pub(super) near: Vec<Near<'a>>,
}

impl<'a> Ground<'a> {
    /// The ground of a wall and its compartments.
    pub(super) fn of(frame: &'a Frame, compartments: &'a [Compartment], rules: &'a Rules) -> Self {
        let near = compartments.iter().map(|compartment| Near::of(compartment, frame, rules));
        Self { frame, rules, near: near.collect() }
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
        let columns = (0..n_columns).map(|part| {
            let from = bay.from + share * from_whole(part);
            self.column((idx, &quiet), Span { from, to: from + share }, row.most)
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

    /// The legal place nearest to the centre, in marking steps from the datum.
    fn nearest(&self, free: &[Span], centre: Length) -> Option<i64> {
        let step = self.rules.marking_step;
        let wanted = (self.turned(centre) / step).value;
        let candidates = free.iter().filter_map(|span| {
            let readings = Span::new(self.turned(span.from), self.turned(span.to));
            let from = to_whole(((readings.from - SLACK) / step).value.ceil());
            let to = to_whole(((readings.to + SLACK) / step).value.floor());
            // Halfway between two marks the one nearer to the datum is taken, from either end.
            let best = to_whole((wanted - 0.5 - 1e-9).ceil());
            (from <= to).then(|| best.clamp(from, to))
        });
        // Distances that differ by rounding alone are a tie, so that a mirrored wall decides alike.
        let off = |mark: &i64| to_whole(((from_whole(*mark) - wanted).abs() * 1e6).round());
        candidates.min_by_key(|mark| (off(mark), *mark))
    }

    fn column(&self, (idx, quiet): (usize, &[Span]), within: Span, most: Length) -> Column {
        let (near, step) = (&self.near[idx], self.rules.marking_step);
        let compartment = near.compartment;
        let height = compartment.polygon.bounds().y;
        let first = to_whole((height.from / step).value.floor());
        let last = to_whole((height.to / step).value.ceil());
        let centre = within.middle();
        let nearest = |free: &[Span]| self.nearest(free, centre);
        let room = near.upright.map(|room| (room.y, room.x.common(within)));
        let mark = |y| match room {
            // In an upright bay only the rows that a thing is near to differ from the others.
            Some((_, x)) => x.and_then(|x| nearest(&near.beside_things(y, x))),
            None => nearest(&near.free(y, within)),
        };
        let mut known: Option<(Span, Option<i64>)> = None;
        let mut at = |y| match known {
            Some((stretch, mark)) if stretch.contains(y) => mark,
            _ => {
                let found = mark(y);
                known = quiet.iter().find(|stretch| stretch.contains(y)).map(|at| (*at, found));
                found
            }
        };
        let is_open = |y| room.is_none_or(|(open, _)| open.contains(y));
        let heights = (first..=last).map(|row| at_step(row, step));
        let across = heights.map(|y| if is_open(y) { at(y) } else { None }).collect();
        let reach = extent(&compartment.polygon, within);
        let (clearance, top) = (self.rules.top_clearance, self.rules.top_reach);
        let over_centre = compartment.polygon.along(centre).last().map_or(reach.to, |up| up.to);
        let parts = |y: Length| to_whole(((y / step).value * from_whole(PARTS)).round());
        Column {
            compartment: idx,
            centre,
            first,
            across,
            window: to_whole(((reach.to - top - SLACK) / step).value.ceil()),
            start: to_whole(((reach.from + most + SLACK) / step).value.floor()),
            spread: to_whole(((most + SLACK) / step).value.floor()),
            even: Even {
                from: parts(reach.from),
                to: parts(over_centre - (clearance + top) / 2.0),
                n_given: 0,
            },
        }
    }
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
