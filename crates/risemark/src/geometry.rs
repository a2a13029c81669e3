//! Points and polygons in wall space.
//!
//! The wall is seen from the side that is drilled. The origin is where the left end of the wall
//! meets the finished floor; x runs right, y runs up.

use i_overlay::{
    core::{
        fill_rule::FillRule,
        overlay::{IntOverlayOptions, Overlay},
        overlay_rule::OverlayRule,
        solver::Solver,
    },
    i_float::int::point::IntPoint,
};
use smallvec::SmallVec;
use uom::ConstZero;

use crate::quantity::{Area, Length, SAME, from_whole, longer, shorter, to_whole};

/// A place on the wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Distance from the left end of the wall, to the right.
    pub x: Length,
    /// Height above the finished floor.
    pub y: Length,
}

/// A closed chain of points; the last joins the first.
pub type Ring = Vec<Point>;

/// An area with straight edges.
///
/// The outer ring runs counter-clockwise, inner rings (areas cut out of it) clockwise. Each ring
/// starts at its lowest, then leftmost point.
#[derive(Debug, Clone, PartialEq)]
pub struct Polygon {
    /// The boundary.
    pub outer: Ring,
    /// What is cut out of the inside.
    pub inner: Vec<Ring>,
}

/// A stretch of a line, from low to high.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// The lower end.
    pub from: Length,
    /// The higher end.
    pub to: Length,
}

/// Stretches of one line: few as a rule, and made for thousands of lines, so that asking for room each
/// time would take longer than finding them.
pub type Spans = SmallVec<[Span; 4]>;

/// An upright rectangle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    /// Left to right.
    pub x: Span,
    /// Bottom to top.
    pub y: Span,
}

impl Point {
    /// A place from its two readings.
    pub const fn new(x: Length, y: Length) -> Self {
        Self { x, y }
    }
}

impl Span {
    /// A stretch between two readings, whichever is the lower.
    pub fn new(a: Length, b: Length) -> Self {
        Self { from: shorter(a, b), to: longer(a, b) }
    }

    /// How long it is.
    pub fn length(self) -> Length {
        self.to - self.from
    }

    /// The reading halfway.
    pub fn middle(self) -> Length {
        (self.from + self.to) / 2.0
    }

    /// Whether a reading lies in it, ends included.
    pub fn contains(self, reading: Length) -> bool {
        self.from <= reading && reading <= self.to
    }

    /// The same stretch, as much longer as a reading outside it lies away.
    #[must_use]
    pub fn with(self, reading: Length) -> Self {
        Self { from: shorter(self.from, reading), to: longer(self.to, reading) }
    }

    /// Whether two stretches share more than an end.
    pub fn overlaps(self, other: Self) -> bool {
        self.from + SAME < other.to && other.from + SAME < self.to
    }

    /// The same stretch, longer by a margin at both ends.
    #[must_use]
    pub fn widened(self, margin: Length) -> Self {
        Self { from: self.from - margin, to: self.to + margin }
    }

    /// The part that both have, if any.
    pub fn common(self, other: Self) -> Option<Self> {
        let (from, to) = (longer(self.from, other.from), shorter(self.to, other.to));
        (from <= to).then_some(Self { from, to })
    }

    /// What is left of a stretch when others are taken out of it, in order, empty pieces dropped.
    pub fn without(self, taken: &[Self]) -> Spans {
        let mut taken = Spans::from_slice(taken);
        sort(&mut taken);
        self.without_sorted(&taken)
    }

    /// As [`Span::without`], of stretches that [`sort`] has put in order.
    pub(crate) fn without_sorted(self, taken: &[Self]) -> Spans {
        let mut free = Spans::new();
        let mut from = self.from;
        for &span in taken {
            if from < span.from {
                free.push(Self { from, to: shorter(span.from, self.to) });
            }
            from = longer(from, span.to);
            if self.to <= from {
                return free;
            }
        }
        free.push(Self { from, to: self.to });
        free
    }
}

impl Rect {
    /// A rectangle from its lower left corner and its size.
    pub fn from_corner(left: Length, bottom: Length, width: Length, height: Length) -> Self {
        Self { x: Span::new(left, left + width), y: Span::new(bottom, bottom + height) }
    }

    /// The rectangle as a ring.
    pub fn ring(self) -> Ring {
        let (l, r, b, t) = (self.x.from, self.x.to, self.y.from, self.y.to);
        vec![Point::new(l, b), Point::new(r, b), Point::new(r, t), Point::new(l, t)]
    }

    /// The rectangle as a polygon.
    pub fn polygon(self) -> Polygon {
        Polygon { outer: self.ring(), inner: Vec::new() }
    }

    /// Whether two rectangles share an area.
    pub fn overlaps(self, other: Self) -> bool {
        self.x.overlaps(other.x) && self.y.overlaps(other.y)
    }

    /// The rectangle grown by a margin on every side.
    #[must_use]
    pub fn widened(self, margin: Length) -> Self {
        Self { x: self.x.widened(margin), y: self.y.widened(margin) }
    }
}

impl Polygon {
    /// A polygon without inner rings.
    pub fn simple(outer: Ring) -> Self {
        Self { outer, inner: Vec::new() }
    }

    /// Its area, inner rings taken out.
    pub fn area(&self) -> Area {
        let inner = self.inner.iter().map(|ring| ring_area(ring));
        inner.fold(ring_area(&self.outer), |whole, cut| whole + cut)
    }

    /// Whether it is more than a line, at whatever angle: on average thicker than rounding.
    pub fn is_real(&self) -> bool {
        let Rect { x, y } = self.bounds();
        SAME * longer(x.length(), y.length()) < self.area()
    }

    /// The upright rectangle around it.
    pub fn bounds(&self) -> Rect {
        let mut points = self.outer.iter();
        let first = points.next().copied().unwrap_or(Point::new(Length::ZERO, Length::ZERO));
        let start = Rect { x: Span::new(first.x, first.x), y: Span::new(first.y, first.y) };
        points.fold(start, |bounds, point| Rect {
            x: Span { from: shorter(bounds.x.from, point.x), to: longer(bounds.x.to, point.x) },
            y: Span { from: shorter(bounds.y.from, point.y), to: longer(bounds.y.to, point.y) },
        })
    }

    /// All rings, the outer one first.
    pub fn rings(&self) -> impl Iterator<Item = &Ring> {
        std::iter::once(&self.outer).chain(&self.inner)
    }

    /// All edges, each from its first to its second end along the ring.
    pub fn edges(&self) -> impl Iterator<Item = (Point, Point)> {
        self.rings().flat_map(|ring| {
            let next = ring.iter().skip(1).chain(ring.first());
            ring.iter().copied().zip(next.copied())
        })
    }

    /// The part of its area that lies in an upright rectangle; exact for sloped edges.
    ///
    /// Rectangles that tile its bounds share its area among them without a rest.
    pub fn area_within(&self, part: Rect) -> Area {
        // The area left of its boundary, with every reading held to the rectangle: Green's theorem.
        self.edges().fold(Area::ZERO, |sum, edge| sum + swept(edge, part))
    }

    /// The stretches of a level line that lie inside, from left to right.
    pub fn across(&self, y: Length) -> Spans {
        self.cut(y, |point| (point.y, point.x))
    }

    /// The stretches of a plumb line that lie inside, from the bottom up.
    pub fn along(&self, x: Length) -> Spans {
        self.cut(x, |point| (point.x, point.y))
    }

    fn cut(&self, at: Length, turn: impl Fn(Point) -> (Length, Length)) -> Spans {
        let mut crossings: SmallVec<[Length; 8]> = SmallVec::new();
        for ring in self.rings() {
            let Some(mut a) = ring.last().copied() else {
                continue;
            };
            for &b in ring {
                crossings.extend(crossing(turn(a), turn(b), at));
                a = b;
            }
        }
        crate::quantity::sort(&mut crossings);
        crossings.chunks_exact(2).map(|pair| Span { from: pair[0], to: pair[1] }).collect()
    }
}

/// So many spans are put in order one by one.
const FEW: usize = 32;

/// Puts stretches in order by where they begin.
pub(crate) fn sort(spans: &mut [Span]) {
    let before = |a: &Span, b: &Span| a.from.value.total_cmp(&b.from.value);
    if FEW < spans.len() {
        let mut sorted = spans.to_vec();
        crate::order::sort_by(&mut sorted, before);
        spans.copy_from_slice(&sorted);
        return;
    }
    // Thousands of level lines meet a few spans each, mostly in order already.
    for at in 1..spans.len() {
        let mut to = at;
        while 0 < to && before(&spans[to], &spans[to - 1]).is_lt() {
            spans.swap(to, to - 1);
            to -= 1;
        }
    }
}

/// The shortest distance from a place to a stretch between two points.
pub fn distance_to_edge(place: Point, (a, b): (Point, Point)) -> Length {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let squared: Area = dx * dx + dy * dy;
    let share = if squared == Area::ZERO {
        0.0
    } else {
        (((place.x - a.x) * dx + (place.y - a.y) * dy) / squared).value.clamp(0.0, 1.0)
    };
    let (x, y) = (place.x - (a.x + dx * share), place.y - (a.y + dy * share));
    let squared: Area = x * x + y * y;
    squared.sqrt()
}

/// Where an edge crosses a line across its way, from the position and the reading of both its ends.
///
/// Half-open, so that a line through a corner meets just one of its two edges.
pub(crate) fn crossing(
    (a_pos, a_along): (Length, Length),
    (b_pos, b_along): (Length, Length),
    at: Length,
) -> Option<Length> {
    let crosses = (a_pos <= at) != (b_pos <= at);
    crosses.then(|| a_along + (b_along - a_along) * ((at - a_pos) / (b_pos - a_pos)))
}

/// What is left of areas when others are taken out.
pub fn difference(of: &[Polygon], taken: &[Polygon]) -> Vec<Polygon> {
    overlay(of, taken, OverlayRule::Difference)
}

/// What two sets of areas share.
pub fn intersection(a: &[Polygon], b: &[Polygon]) -> Vec<Polygon> {
    overlay(a, b, OverlayRule::Intersect)
}

/// The joined areas of a set.
pub fn union(areas: &[Polygon]) -> Vec<Polygon> {
    overlay(areas, &[], OverlayRule::Subject)
}

fn overlay(subject: &[Polygon], clip: &[Polygon], rule: OverlayRule) -> Vec<Polygon> {
    let (subject, clip) = (to_grid(subject), to_grid(clip));
    let options = IntOverlayOptions::ogc();
    let mut overlay =
        Overlay::<i64>::from_subj_and_clip_custom(&subject, &clip, options, Solver::default());
    let mut polygons: Vec<Polygon> =
        overlay.overlay(rule, FillRule::NonZero).into_iter().filter_map(from_grid).collect();
    crate::order::sort_by(&mut polygons, |a, b| {
        let (a, b) = (a.bounds(), b.bounds());
        (a.x.from.value.total_cmp(&b.x.from.value)).then(a.y.from.value.total_cmp(&b.y.from.value))
    });
    polygons
}

/// The area between the left side of a rectangle and an edge that is held to it; negative for an edge
/// that runs down.
fn swept((a, b): (Point, Point), part: Rect) -> Area {
    let held = |reading: Length, span: Span| longer(span.from, shorter(reading, span.to));
    let (from, to) = (held(a.y, part.y), held(b.y, part.y));
    let rise = b.y - a.y;
    if from == to || rise == Length::ZERO {
        return Area::ZERO;
    }
    let across = |y: Length| {
        // At its own ends an edge has its own readings, so that neighbours meet without a gap.
        if y == a.y {
            a.x
        } else if y == b.y {
            b.x
        } else {
            a.x + (b.x - a.x) * ((y - a.y) / rise)
        }
    };
    let (start, end) = (across(from), across(to));
    // Between the places where it meets a side of the rectangle the edge is one straight line.
    let mut levels = vec![from];
    let mut meets: Vec<(f64, Length)> = [part.x.from, part.x.to]
        .into_iter()
        .filter(|&side| (start < side) != (end < side))
        .map(|side| ((side - start) / (end - start)).value)
        .map(|share| (share, from + (to - from) * share))
        .collect();
    // There are two at most.
    if meets.first().map(|meet| meet.0) > meets.last().map(|meet| meet.0) {
        meets.reverse();
    }
    levels.extend(meets.iter().map(|(_, level)| *level));
    levels.push(to);
    let mut readings = vec![held(start, part.x)];
    readings.extend(meets.iter().map(|(share, _)| held(start + (end - start) * *share, part.x)));
    readings.push(held(end, part.x));
    let strips = levels.windows(2).zip(readings.windows(2));
    strips.fold(Area::ZERO, |sum, (y, x)| sum + ((x[0] + x[1]) / 2.0 - part.x.from) * (y[1] - y[0]))
}

/// Booleans run on whole nanometres, so that they are exact and the same on every machine.
const GRID: f64 = 1e9;

fn to_grid(polygons: &[Polygon]) -> Vec<Vec<IntPoint<i64>>> {
    let on_grid = |length: Length| to_whole((length.value * GRID).round());
    let ring =
        |ring: &Ring| ring.iter().map(|p| IntPoint::new(on_grid(p.x), on_grid(p.y))).collect();
    polygons.iter().flat_map(|polygon| polygon.rings().map(ring)).collect()
}

fn from_grid(shape: Vec<Vec<IntPoint<i64>>>) -> Option<Polygon> {
    let off_grid = |value: i64| Length { value: from_whole(value) / GRID, ..Length::ZERO };
    let mut rings = shape.into_iter().map(|ring| {
        let points = ring.into_iter().map(|p| Point::new(off_grid(p.x), off_grid(p.y))).collect();
        from_lowest(points)
    });
    let polygon = Polygon { outer: rings.next()?, inner: rings.collect() };
    // Slivers thinner than two lengths may differ are rounding, not space.
    polygon.is_real().then_some(polygon)
}

fn from_lowest(mut ring: Ring) -> Ring {
    let lowest = (0..ring.len()).min_by(|&a, &b| {
        let (a, b) = (ring[a], ring[b]);
        a.y.value.total_cmp(&b.y.value).then(a.x.value.total_cmp(&b.x.value))
    });
    ring.rotate_left(lowest.unwrap_or(0));
    ring
}

/// The area inside a ring; negative when it runs clockwise.
fn ring_area(ring: &[Point]) -> Area {
    let doubled = (0..ring.len()).map(|idx| {
        let (a, b) = (ring[idx], ring[(idx + 1) % ring.len()]);
        a.x * b.y - b.x * a.y
    });
    doubled.fold(Area::ZERO, |sum, part| sum + part) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{inches, same, to_inches};

    fn rect(left: f64, bottom: f64, width: f64, height: f64) -> Polygon {
        Rect::from_corner(inches(left), inches(bottom), inches(width), inches(height)).polygon()
    }

    #[test]
    fn a_bay_is_the_outline_without_its_studs() {
        let bays = difference(&[rect(0.0, 0.0, 32.0, 96.0)], &[rect(15.25, 0.0, 1.5, 96.0)]);
        let widths: Vec<f64> = bays.iter().map(|bay| to_inches(bay.bounds().x.length())).collect();
        assert_eq!(widths, [15.25, 15.25], "two bays of one width");
        assert!(Area::ZERO < bays[0].area(), "the outer ring runs counter-clockwise");
    }

    #[test]
    fn an_area_with_an_inner_ring_is_cut_twice_across() {
        let pieces = difference(&[rect(0.0, 0.0, 10.0, 10.0)], &[rect(4.0, 4.0, 2.0, 2.0)]);
        assert_eq!(pieces.len(), 1, "one piece");
        let across = pieces[0].across(inches(5.0));
        assert_eq!(across.len(), 2, "left and right of the cut");
        assert!(same(across[0].to, inches(4.0)), "the cut begins at 4 in");
        let area = pieces[0].area() - inches(96.0) * inches(1.0);
        assert!(area.value.abs() < 1e-12, "100 less 4 square inches");
    }

    #[test]
    fn spans_without_others() {
        let span = |a, b| Span::new(inches(a), inches(b));
        let left = span(0.0, 10.0).without(&[span(8.0, 12.0), span(2.0, 3.0), span(2.5, 4.0)]);
        assert_eq!(left.as_slice(), [span(0.0, 2.0), span(4.0, 8.0)], "what remains, in order");
    }

    #[test]
    fn the_distance_to_an_edge_ends_at_its_ends() {
        let point = |x, y| Point::new(inches(x), inches(y));
        let edge = (point(0.0, 0.0), point(4.0, 0.0));
        assert!(same(distance_to_edge(point(2.0, 3.0), edge), inches(3.0)), "beside it");
        assert!(same(distance_to_edge(point(7.0, 4.0), edge), inches(5.0)), "past its end");
    }
}
