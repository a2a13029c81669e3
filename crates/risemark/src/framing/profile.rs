//! The upper or lower edge of a wall as straight pieces from left to right.

use uom::ConstZero;

use crate::{
    framing::measured::Measured,
    geometry::{Point, Polygon, Ring, Span},
    job::{Edge, Wall},
    limits,
    quantity::{Length, SAME, millimeters, same},
};

/// An edge of the wall: straight pieces from left to right, none upright.
///
/// Where one piece ends and the next begins at another height, the edge has a step.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Profile {
    pieces: Vec<(Point, Point)>,
}

/// What rises by less from one point to the next is level: nobody measures so finely, and members along
/// such a slope would meet in slivers thinner than the grid of the polygons.
const LEVEL: Length = millimeters(0.02);

impl Profile {
    /// The profile of an edge of a wall.
    pub(super) fn of(edge: &Edge, width: Length) -> Self {
        let left = Length::ZERO;
        let mut chain = match edge {
            Edge::Level { height } => vec![Point::new(left, *height), Point::new(width, *height)],
            Edge::Raked { left: low, right } => {
                vec![Point::new(left, *low), Point::new(width, *right)]
            }
            Edge::Gable { left: low, ridge_at, ridge, right } => {
                vec![
                    Point::new(left, *low),
                    Point::new(*ridge_at, *ridge),
                    Point::new(width, *right),
                ]
            }
            Edge::Points { points } => points.clone(),
        };
        for at in 1..chain.len() {
            let before = chain[at - 1].y;
            if (chain[at].y - before).abs() < LEVEL {
                chain[at].y = before;
            }
        }
        let pieces = chain
            .windows(2)
            .map(|pair| (pair[0], pair[1]))
            .filter(|(a, b)| !same(a.x, b.x))
            .collect();
        Self { pieces }
    }

    /// The same edge, higher by an amount.
    pub(super) fn raised(&self, by: Length) -> Self {
        let up = |p: Point| Point::new(p.x, p.y + by);
        Self { pieces: self.pieces.iter().map(|&(a, b)| (up(a), up(b))).collect() }
    }

    /// The same edge, higher by a thickness that is measured square to each piece.
    ///
    /// Pieces meet in plumb cuts, as plates of a gable do.
    pub(super) fn thickened(&self, thickness: Length) -> Self {
        let up = |&(a, b): &(Point, Point)| {
            let slope = ((b.y - a.y) / (b.x - a.x)).value;
            let by = thickness * (1.0 + slope * slope).sqrt();
            (Point::new(a.x, a.y + by), Point::new(b.x, b.y + by))
        };
        Self { pieces: self.pieces.iter().map(up).collect() }
    }

    /// Its height at a place; at a step that of the piece to the right.
    pub(super) fn at(&self, x: Length) -> Length {
        let last = self.pieces.len().saturating_sub(1);
        let within = self.pieces.iter().position(|(_, b)| x < b.x).unwrap_or(last);
        self.pieces.get(within).map_or(x, |&piece| height(piece, x))
    }

    /// The lowest and the highest point over a stretch.
    pub(super) fn range(&self, over: Span) -> Span {
        let points = self.over(over);
        let heights = points.iter().map(|p| p.y);
        let start = Span { from: self.at(over.from), to: self.at(over.from) };
        heights.fold(start, |range, y| Span {
            from: crate::quantity::shorter(range.from, y),
            to: crate::quantity::longer(range.to, y),
        })
    }

    /// Its points over a stretch, from left to right, with the ends of the stretch.
    pub(super) fn over(&self, over: Span) -> Ring {
        let mut points = Ring::new();
        for &(a, b) in &self.pieces {
            let Some(common) =
                Span::new(a.x, b.x).common(over).filter(|common| SAME < common.length())
            else {
                continue;
            };
            for x in [common.from, common.to] {
                let point = Point::new(x, height((a, b), x));
                push_new(&mut points, point);
            }
        }
        points
    }

    /// Where the edge has steps: across, and whether the taller side is to the right for an upper edge.
    pub(super) fn steps(&self) -> Vec<(Length, bool)> {
        let joints = self.pieces.windows(2).map(|pair| (pair[0].1, pair[1].0));
        joints.filter(|(a, b)| !same(a.y, b.y)).map(|(a, b)| (a.x, a.y < b.y)).collect()
    }
}

/// The edges of a wall: what shows of it, and where its framing ends.
#[derive(Debug, Clone)]
pub(super) struct Edges {
    /// The lower edge of the finish.
    pub(super) face_floor: Profile,
    /// The upper edge of the finish.
    pub(super) face_ceiling: Profile,
    /// The lower edge of the framing.
    pub(super) floor: Profile,
    /// The upper edge of the framing.
    pub(super) ceiling: Profile,
    /// The area of the framing.
    pub(super) outline: Polygon,
    /// The area of the finish.
    pub(super) face: Polygon,
}

impl Edges {
    /// The edges of a wall as it was measured.
    pub(super) fn of(wall: &Wall, measured: &mut Measured) -> Self {
        let whole = Span { from: Length::ZERO, to: wall.width };
        let level = Edge::Level { height: Length::ZERO };
        let face_floor = Profile::of(wall.bottom.as_ref().unwrap_or(&level), wall.width);
        let face_ceiling = Profile::of(&wall.top, wall.width);
        let covering = measured.length(wall.plates.floor_covering, &limits::FLOOR_COVERING);
        let drop = measured.length(wall.plates.ceiling_drop, &limits::CEILING_DROP);
        let (floor, ceiling) = (face_floor.raised(-covering), face_ceiling.raised(drop));
        // A wall that passed its check has height everywhere; one that did not is a line.
        let line = || Polygon::simple(floor.over(whole));
        let outline = between(&floor, &ceiling, whole).unwrap_or_else(line);
        let face = between(&face_floor, &face_ceiling, whole).unwrap_or_else(line);
        Self { face_floor, face_ceiling, floor, ceiling, outline, face }
    }
}

/// The area between two edges over a stretch; `None` where the upper edge is nowhere above the lower.
pub(super) fn between(lower: &Profile, upper: &Profile, over: Span) -> Option<Polygon> {
    let (below, mut above) = (lower.over(over), upper.over(over));
    let open = SAME < upper.range(over).to - lower.range(over).from;
    if !open || below.is_empty() || above.is_empty() {
        return None;
    }
    above.reverse();
    let mut ring = below;
    for point in above {
        push_new(&mut ring, point);
    }
    Some(Polygon::simple(ring))
}

/// Adds a point unless it repeats the last one.
///
/// Points within a nanometre are one; a larger slack would bend long edges and cost area.
fn push_new(points: &mut Ring, point: Point) {
    let slack = millimeters(1e-6);
    let near = |a: Length, b: Length| (a - b).abs() < slack;
    let again = points.last().is_some_and(|last| near(last.x, point.x) && near(last.y, point.y));
    if !again {
        points.push(point);
    }
}

fn height((a, b): (Point, Point), x: Length) -> Length {
    a.y + (b.y - a.y) * ((x - a.x) / (b.x - a.x))
}
