//! Turns a part of a wall into one of another kind, keeping what both kinds have.

use risemark::{
    geometry::Point,
    job::{
        Construction, Coursing, Edge, Effect, End, Header, Liked, Opening, OpeningKind, StudLayout,
        Thing, ThingShape, Wall,
    },
    quantity::{Length, inches, longer, same, shorter},
};

/// The shape of an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EdgeKind {
    /// One height.
    Level,
    /// A straight slope.
    Raked,
    /// Two slopes that meet.
    Gable,
    /// A chain of points.
    Points,
}

/// The kind of a header.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeaderKind {
    /// As deep as the wall.
    Full,
    /// With a shallow space beside it.
    Shallow,
    /// Timber up to the plate.
    Solid,
}

/// How the places of studs are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LayoutKind {
    /// By one spacing.
    Regular,
    /// One by one.
    Measured,
}

/// How a wall is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ConstructionKind {
    /// Studs that end at plates in each storey.
    Platform,
    /// Studs that run on.
    Balloon,
    /// Two leaves of brick.
    Brick,
}

/// What a thing does to its bay.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EffectKind {
    /// Takes volume.
    TakesVolume,
    /// Closes the bay.
    ClosesBay,
    /// Forbids filling.
    ForbidsFilling,
}

/// What heights are liked by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LikedKind {
    /// One height.
    Height,
    /// A band.
    Band,
    /// The laps of a siding.
    Laps,
}

/// The shape of a thing in the wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThingShapeKind {
    /// A rectangle.
    Box,
    /// A line with a diameter.
    Run,
    /// A circle.
    Round,
}

/// What bounds a wall: its width and its two edges, which must fit it.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// Wall from end to end.
    pub width: Length,
    /// The upper edge.
    pub top: Edge,
    /// The lower edge; level with the finished floor when left out.
    pub bottom: Option<Edge>,
}

impl Outline {
    /// The outline of a wall.
    pub fn of(wall: &Wall) -> Self {
        Self { width: wall.width, top: wall.top.clone(), bottom: wall.bottom.clone() }
    }

    /// Puts the outline in place and returns the one that stood there.
    #[must_use]
    pub fn put(self, wall: &mut Wall) -> Self {
        Self {
            width: std::mem::replace(&mut wall.width, self.width),
            top: std::mem::replace(&mut wall.top, self.top),
            bottom: std::mem::replace(&mut wall.bottom, self.bottom),
        }
    }

    /// Changes the width; a chain of points goes on to end where the wall ends.
    pub fn set_width(&mut self, width: Length) {
        for edge in [Some(&mut self.top), self.bottom.as_mut()].into_iter().flatten() {
            end_at(edge, self.width, width);
        }
        self.width = width;
    }
}

fn end_at(edge: &mut Edge, from: Length, to: Length) {
    if let Edge::Points { points } = edge {
        let last = points.iter_mut().filter(|point| same(point.x, from));
        last.for_each(|point| point.x = to);
    }
}

/// The shape of an edge.
pub fn edge_kind(edge: &Edge) -> EdgeKind {
    match edge {
        Edge::Level { .. } => EdgeKind::Level,
        Edge::Raked { .. } => EdgeKind::Raked,
        Edge::Gable { .. } => EdgeKind::Gable,
        Edge::Points { .. } => EdgeKind::Points,
    }
}

/// An edge of another shape with the same heights at its ends.
pub fn edge_as(edge: &Edge, kind: EdgeKind, width: Length) -> Edge {
    let (left, right) = ends(edge);
    match kind {
        EdgeKind::Level => Edge::Level { height: left },
        EdgeKind::Raked => Edge::Raked { left, right },
        EdgeKind::Gable => {
            // A slope of six in twelve from the higher end is a roof that people know.
            let ridge = longer(left, right) + width / 4.0;
            Edge::Gable { left, ridge_at: width / 2.0, ridge, right }
        }
        EdgeKind::Points => Edge::Points { points: chain(edge, width) },
    }
}

fn ends(edge: &Edge) -> (Length, Length) {
    match edge {
        Edge::Level { height } => (*height, *height),
        Edge::Raked { left, right } | Edge::Gable { left, right, .. } => (*left, *right),
        Edge::Points { points } => match (points.first(), points.last()) {
            (Some(first), Some(last)) => (first.y, last.y),
            _ => (inches(96.0), inches(96.0)),
        },
    }
}

fn chain(edge: &Edge, width: Length) -> Vec<Point> {
    let (left, right) = ends(edge);
    let ends = [Point::new(inches(0.0), left), Point::new(width, right)];
    match edge {
        Edge::Level { .. } | Edge::Raked { .. } => ends.to_vec(),
        Edge::Gable { ridge_at, ridge, .. } => {
            vec![ends[0], Point::new(*ridge_at, *ridge), ends[1]]
        }
        Edge::Points { points } => points.clone(),
    }
}

/// The kind of a header.
pub fn header_kind(header: &Header) -> HeaderKind {
    match header {
        Header::Full { .. } => HeaderKind::Full,
        Header::Shallow { .. } => HeaderKind::Shallow,
        Header::Solid => HeaderKind::Solid,
    }
}

/// A header of another kind with the same depth.
pub fn header_as(header: &Header, kind: HeaderKind) -> Header {
    let depth = header_depth(header);
    match kind {
        HeaderKind::Full => Header::Full { depth },
        HeaderKind::Shallow => Header::Shallow { depth, beside: None },
        HeaderKind::Solid => Header::Solid,
    }
}

/// The depth of a header, where one was given.
pub fn header_depth(header: &Header) -> Option<Length> {
    match header {
        Header::Full { depth } | Header::Shallow { depth, .. } => *depth,
        Header::Solid => None,
    }
}

/// How the places of studs are given.
pub fn layout_kind(layout: &StudLayout) -> LayoutKind {
    match layout {
        StudLayout::Regular { .. } => LayoutKind::Regular,
        StudLayout::Measured { .. } => LayoutKind::Measured,
    }
}

/// A layout of another kind; measured studs begin where a regular layout has them.
pub fn layout_as(layout: &StudLayout, kind: LayoutKind, width: Length) -> StudLayout {
    match (layout, kind) {
        (StudLayout::Regular { spacing, first, from }, LayoutKind::Measured) => {
            let spacing = spacing.unwrap_or(inches(16.0));
            let centres = centres(spacing, first.unwrap_or(spacing), width);
            StudLayout::Measured { centres: seen_from(*from, centres, width) }
        }
        (StudLayout::Measured { .. }, LayoutKind::Regular) => StudLayout::default(),
        (same, _) => same.clone(),
    }
}

fn centres(spacing: Length, first: Length, width: Length) -> Vec<Length> {
    // The end stud takes the last place; one closer than this would lie on it.
    let last = width - inches(3.0);
    let mut centres = Vec::new();
    let mut centre = first;
    while centre < last && centres.len() < 1000 {
        centres.push(centre);
        centre += spacing;
    }
    centres
}

fn seen_from(end: End, centres: Vec<Length>, width: Length) -> Vec<Length> {
    match end {
        End::Left => centres,
        End::Right => centres.into_iter().rev().map(|centre| width - centre).collect(),
    }
}

/// How a wall is built.
pub fn construction_kind(construction: &Construction) -> ConstructionKind {
    match construction {
        Construction::PlatformFrame => ConstructionKind::Platform,
        Construction::BalloonFrame => ConstructionKind::Balloon,
        Construction::BrickAirSpace { .. } => ConstructionKind::Brick,
    }
}

/// A construction of a kind, with nothing measured yet.
pub fn construction_as(kind: ConstructionKind) -> Construction {
    match kind {
        ConstructionKind::Platform => Construction::PlatformFrame,
        ConstructionKind::Balloon => Construction::BalloonFrame,
        ConstructionKind::Brick => Construction::BrickAirSpace {
            leaf: None,
            course: None,
            brick: None,
            holes: Coursing::Anywhere,
            bed: None,
            perpend: None,
        },
    }
}

/// What a thing does to its bay.
pub fn effect_kind(effect: Effect) -> EffectKind {
    match effect {
        Effect::TakesVolume { .. } => EffectKind::TakesVolume,
        Effect::ClosesBay => EffectKind::ClosesBay,
        Effect::ForbidsFilling => EffectKind::ForbidsFilling,
    }
}

/// An effect of a kind, with nothing measured yet.
pub fn effect_as(kind: EffectKind) -> Effect {
    match kind {
        EffectKind::TakesVolume => Effect::TakesVolume { depth: None },
        EffectKind::ClosesBay => Effect::ClosesBay,
        EffectKind::ForbidsFilling => Effect::ForbidsFilling,
    }
}

/// What heights are liked by.
pub fn liked_kind(liked: &Liked) -> LikedKind {
    match liked {
        Liked::Height { .. } => LikedKind::Height,
        Liked::Band { .. } => LikedKind::Band,
        Liked::Laps { .. } => LikedKind::Laps,
    }
}

/// Liked heights of another kind, about where they were.
pub fn liked_as(liked: &Liked, kind: LikedKind) -> Liked {
    let from = match *liked {
        Liked::Height { up } => up,
        Liked::Band { from, .. } => from,
        Liked::Laps { first, .. } => first,
    };
    match kind {
        LikedKind::Height => Liked::Height { up: from },
        LikedKind::Band => Liked::Band { from, to: from + inches(4.0) },
        LikedKind::Laps => Liked::Laps { first: from, spacing: inches(8.0) },
    }
}

/// The shape of a thing.
pub fn thing_shape_kind(thing: &Thing) -> ThingShapeKind {
    match thing.at {
        ThingShape::Box { .. } => ThingShapeKind::Box,
        ThingShape::Run { .. } => ThingShapeKind::Run,
        ThingShape::Round { .. } => ThingShapeKind::Round,
    }
}

/// The place of a thing in another shape, about where it was.
pub fn thing_shape_as(shape: &ThingShape, kind: ThingShapeKind) -> ThingShape {
    match (shape, kind) {
        (ThingShape::Box { left, up, width, height }, ThingShapeKind::Run) => {
            let x = *left + *width / 2.0;
            let points = vec![Point::new(x, *up), Point::new(x, *up + *height)];
            ThingShape::Run { points, diameter: shorter(*width, inches(0.5)) }
        }
        (ThingShape::Run { points, diameter }, ThingShapeKind::Box) => around(points, *diameter),
        (ThingShape::Box { left, up, width, height }, ThingShapeKind::Round) => {
            let centre = Point::new(*left + *width / 2.0, *up + *height / 2.0);
            ThingShape::Round { centre, diameter: shorter(*width, *height) }
        }
        (ThingShape::Round { centre, diameter }, ThingShapeKind::Box) => {
            let half = *diameter / 2.0;
            let (left, up) = (centre.x - half, centre.y - half);
            ThingShape::Box { left, up, width: *diameter, height: *diameter }
        }
        (ThingShape::Run { .. }, ThingShapeKind::Round)
        | (ThingShape::Round { .. }, ThingShapeKind::Run) => {
            thing_shape_as(&thing_shape_as(shape, ThingShapeKind::Box), kind)
        }
        (same, _) => same.clone(),
    }
}

fn around(points: &[Point], diameter: Length) -> ThingShape {
    let start = points.first().copied().unwrap_or(Point::new(inches(0.0), inches(0.0)));
    let (low, high) = points.iter().fold((start, start), |(low, high), point| {
        let low = Point::new(shorter(low.x, point.x), shorter(low.y, point.y));
        (low, Point::new(longer(high.x, point.x), longer(high.y, point.y)))
    });
    let (width, height) = (longer(high.x - low.x, diameter), longer(high.y - low.y, diameter));
    ThingShape::Box { left: low.x, up: low.y, width, height }
}

/// Makes an opening a door or a window.
pub fn set_opening_kind(opening: &mut Opening, kind: OpeningKind) {
    opening.kind = kind;
    match kind {
        OpeningKind::Door => (opening.sill, opening.sill_thickness) = (None, None),
        OpeningKind::Window => opening.sill = opening.sill.or(Some(inches(36.0))),
    }
}
