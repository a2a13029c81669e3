//! Where the centre of a hole may be: the legal places of a column of holes, on the marking step.

use uom::ConstZero;

use crate::{
    compartments::Compartment,
    finding::Avoided,
    framing::Frame,
    geometry::{Point, Polygon, Span},
    job::End,
    quantity::{Length, at_step, from_whole, longer, millimeters, shorter, to_whole},
    rules::Rules,
};

/// Slack of every comparison with a rule, so that a rule met exactly counts as met.
const SLACK: Length = millimeters(0.0001);

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

    /// The highest legal row; the window's lower end where there is none.
    pub(super) fn last_legal(&self) -> i64 {
        self.highest(self.window, self.last()).unwrap_or(self.window)
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
}

impl<'a> Ground<'a> {
    /// The columns of a compartment: one, or more in a wide bay.
    pub(super) fn columns(&self, idx: usize, compartment: &Compartment) -> Vec<Column> {
        let Some(row) = self.rules.spacing_at(compartment.depth) else {
            return Vec::new();
        };
        let wide = (compartment.clear_width / self.rules.wide_bay).value;
        let n_columns = to_whole((wide - 1e-9).ceil()).max(1);
        let bay = compartment.polygon.bounds().x;
        let share = bay.length() / from_whole(n_columns);
        let columns = (0..n_columns).map(|part| {
            let from = bay.from + share * from_whole(part);
            self.column(idx, compartment, (Span { from, to: from + share }, row.most))
        });
        columns.collect()
    }

    /// The stretches at a height where the centre of a hole may be, from left to right.
    pub(super) fn free(&self, compartment: &Compartment, y: Length, within: Span) -> Vec<Span> {
        let near = self.near(compartment);
        self.free_at(&near, y, within)
    }

    /// What keeps the centre of a hole off a place.
    pub(super) fn blocked_by(&self, compartment: &Compartment, place: Point) -> Vec<Avoided> {
        let near = self.near(compartment);
        let covers = |span: Option<Span>| {
            span.is_some_and(|s| s.from + SLACK < place.x && place.x < s.to - SLACK)
        };
        let mut blocked: Vec<Avoided> = near
            .keep_off
            .iter()
            .filter(|(_, piece, distance)| covers(around(piece, *distance, place.y)))
            .map(|(what, _, _)| *what)
            .collect();
        let inside = near.timber.across(place.y).iter().any(|span| span.contains(place.x));
        if !inside
            || self.timber_at(near.timber, place.y).into_iter().any(|span| covers(Some(span)))
        {
            blocked.push(Avoided::Timber);
        }
        blocked.sort_unstable();
        blocked.dedup();
        blocked
    }

    /// A reading from the datum as a place from the left end, and the other way round.
    pub(super) fn turned(&self, reading: Length) -> Length {
        match self.frame.datum {
            End::Left => reading,
            End::Right => self.frame.width - reading,
        }
    }

    /// The legal place nearest to the centre, in marking steps from the datum.
    pub(super) fn nearest(&self, free: &[Span], centre: Length) -> Option<i64> {
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

    fn column(
        &self,
        idx: usize,
        compartment: &Compartment,
        (within, most): (Span, Length),
    ) -> Column {
        let step = self.rules.marking_step;
        let height = compartment.polygon.bounds().y;
        let first = to_whole((height.from / step).value.floor());
        let last = to_whole((height.to / step).value.ceil());
        let centre = within.middle();
        let near = self.near(compartment);
        let looked_up = |y| self.nearest(&self.free_at(&near, y, within), centre);
        let across = match self.upright(&near, within) {
            // Between the heights that something reaches, all rows of an upright bay are alike.
            Some((rows, x)) => {
                let mark = self.nearest(&[x], centre);
                let alike = |y| mark.filter(|_| rows.widened(SLACK).contains(y));
                let at = |y| if near.reaches(y) { looked_up(y) } else { alike(y) };
                (first..=last).map(|row| at(at_step(row, step))).collect()
            }
            None => (first..=last).map(|row| looked_up(at_step(row, step))).collect(),
        };
        Column {
            compartment: idx,
            centre,
            first,
            across,
            window: to_whole(
                ((compartment.highest.y - self.rules.top_reach - SLACK) / step).value.ceil(),
            ),
            start: to_whole(((compartment.lowest.y + most + SLACK) / step).value.floor()),
            spread: to_whole(((most + SLACK) / step).value.floor()),
        }
    }

    fn near<'c>(&'c self, compartment: &'c Compartment) -> Near<'c> {
        let half = self.rules.bit / 2.0;
        let bounds = compartment.polygon.bounds();
        let keep_off = self.frame.obstacles.iter().flat_map(|obstacle| {
            let distance = obstacle.keep_off + half;
            let pieces = obstacle
                .pieces
                .iter()
                .filter(move |piece| piece.bounds().widened(distance).overlaps(bounds));
            pieces.map(move |piece| (obstacle.what, piece, distance))
        });
        Near { timber: &compartment.polygon, keep_off: keep_off.collect() }
    }

    /// A rectangular bay has one legal stretch at all heights where nothing is to be avoided.
    fn upright(&self, near: &Near<'_>, within: Span) -> Option<(Span, Span)> {
        let bay = rectangle(near.timber)?;
        let face = rectangle(&self.frame.face)?;
        let edge = self.rules.edge_distance();
        let from = longer(bay.y.from, face.y.from) + edge;
        let to = shorter(bay.y.to - self.rules.top_clearance, face.y.to - edge);
        let x = Span {
            from: longer(bay.x.from + edge, within.from),
            to: shorter(bay.x.to - edge, within.to),
        };
        let empty = Span { from: Length::ZERO, to: -SLACK * 4.0 };
        Some((if from <= to + SLACK { Span { from, to } } else { empty }, x))
    }

    fn free_at(&self, near: &Near<'_>, y: Length, within: Span) -> Vec<Span> {
        let mut taken = self.timber_at(near.timber, y);
        let edge = self.rules.edge_distance();
        taken.extend(self.frame.face.edges().filter_map(|side| beside(side, edge, y)));
        taken.extend(
            near.keep_off.iter().filter_map(|(_, piece, distance)| around(piece, *distance, y)),
        );
        let room = |span: &Span| span.common(within);
        let open: Vec<Span> = near.timber.across(y).iter().filter_map(room).collect();
        let shown = self.frame.face.across(y);
        let open = open.iter().flat_map(|span| shown.iter().filter_map(|face| span.common(*face)));
        let taken: Vec<Span> = taken.into_iter().map(|span| span.widened(-SLACK)).collect();
        open.flat_map(|span| span.without(&taken)).filter(|span| span.from <= span.to).collect()
    }

    /// Where at a height the timber around a bay is too near.
    fn timber_at(&self, bay: &Polygon, y: Length) -> Vec<Span> {
        let (edge, above) = (self.rules.edge_distance(), self.rules.top_clearance);
        let sides = bay.edges().flat_map(|side| [beside(side, edge, y), over(side, y, above)]);
        sides.flatten().collect()
    }
}

struct Near<'c> {
    timber: &'c Polygon,
    keep_off: Vec<(Avoided, &'c Polygon, Length)>,
}

impl Near<'_> {
    /// Whether something to keep off is near a height.
    fn reaches(&self, y: Length) -> bool {
        let near = |piece: &Polygon, distance| piece.bounds().y.widened(distance).contains(y);
        self.keep_off.iter().any(|(_, piece, distance)| near(piece, *distance))
    }
}

fn rectangle(polygon: &Polygon) -> Option<crate::geometry::Rect> {
    let square =
        |(a, b): (Point, Point)| crate::quantity::same(a.x, b.x) || crate::quantity::same(a.y, b.y);
    let plain = polygon.inner.is_empty() && polygon.outer.len() == 4 && polygon.edges().all(square);
    plain.then(|| polygon.bounds())
}

/// The stretch at a height that lies within a distance of a convex piece.
fn around(piece: &Polygon, distance: Length, y: Length) -> Option<Span> {
    let sides = piece.edges().filter_map(|side| beside(side, distance, y));
    sides.chain(piece.across(y)).reduce(joined)
}

/// The stretch at a height that lies within a distance of an edge.
fn beside((a, b): (Point, Point), distance: Length, y: Length) -> Option<Span> {
    if !Span::new(a.y, b.y).widened(distance).contains(y) {
        return None;
    }
    let round = [a, b].into_iter().filter_map(|end| {
        let up = y - end.y;
        let squared: crate::quantity::Area = distance * distance - up * up;
        (0.0 < squared.value)
            .then(|| Span { from: end.x - squared.sqrt(), to: end.x + squared.sqrt() })
    });
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let squared: crate::quantity::Area = dx * dx + dy * dy;
    let long = squared.sqrt();
    let flat = long <= SLACK || dy.abs() <= SLACK;
    let straight = [-distance, distance].into_iter().filter_map(|off| {
        // The two lines beside the edge, each met by the level line at one place or not at all.
        if flat {
            return (dy.abs() <= SLACK && (y - a.y).abs() < distance).then(|| Span::new(a.x, b.x));
        }
        let (shift_x, shift_y) = (-dy * (off / long).value, dx * (off / long).value);
        let share = ((y - a.y - shift_y) / dy).value;
        let x = a.x + shift_x + dx * share;
        (0.0..=1.0).contains(&share).then_some(Span { from: x, to: x })
    });
    round.chain(straight).reduce(joined)
}

/// The stretch at a height over which an edge lies above within a distance.
fn over((a, b): (Point, Point), y: Length, distance: Length) -> Option<Span> {
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

fn joined(a: Span, b: Span) -> Span {
    Span { from: shorter(a.from, b.from), to: longer(a.to, b.to) }
}
