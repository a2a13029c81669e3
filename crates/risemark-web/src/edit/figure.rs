//! What an entry covers on the wall, where it can be gripped, and which one lies at a place.

use risemark::{
    framing::MemberKind,
    geometry::{Point, Rect, Span},
    job::{Block, BlockKind, BraceKind, Edge, ExtraKind, Opening, OpeningKind, ThingShape, Wall},
    limits,
    quantity::{Area, Length, inches, longer, same, shorter},
};

use super::{Entry, Grip, Scene, all, studs};

/// The area of an entry.
#[derive(Debug, Clone, PartialEq)]
pub enum Figure {
    /// Upright rectangles.
    Rects(Vec<Rect>),
    /// A chain of straight stretches.
    Line {
        /// Its centre line.
        points: Vec<Point>,
        /// From the centre line to the side.
        half: Length,
    },
}

impl Figure {
    /// The upright rectangle around it.
    pub fn bounds(&self) -> Rect {
        let (corners, half): (Vec<Point>, Length) = match self {
            Self::Rects(rects) => {
                (rects.iter().flat_map(|rect| rect.ring()).collect(), inches(0.0))
            }
            Self::Line { points, half } => (points.clone(), *half),
        };
        let start = corners.first().copied().unwrap_or(Point::new(inches(0.0), inches(0.0)));
        let around = |span: Span, reading: Length| Span {
            from: shorter(span.from, reading),
            to: longer(span.to, reading),
        };
        let rect = Rect { x: Span::new(start.x, start.x), y: Span::new(start.y, start.y) };
        let grown = |rect: Rect, corner: &Point| Rect {
            x: around(rect.x, corner.x),
            y: around(rect.y, corner.y),
        };
        corners.iter().fold(rect, grown).widened(half)
    }

    /// How far a place is from it; nothing inside it.
    pub fn distance(&self, place: Point) -> Length {
        let distances = match self {
            Self::Rects(rects) => rects.iter().map(|rect| to_rect(*rect, place)).reduce(shorter),
            Self::Line { points, half } => {
                let far = |pair: &[Point]| to_stretch(pair[0], pair[1], place);
                let nearest = points.windows(2).map(far).reduce(shorter);
                nearest.map(|nearest| longer(nearest - *half, inches(0.0)))
            }
        };
        distances.unwrap_or(inches(1e6))
    }

    fn area(&self) -> Area {
        match self {
            Self::Rects(rects) => {
                let areas = rects.iter().map(|rect| rect.x.length() * rect.y.length());
                areas.fold(inches(0.0) * inches(0.0), |sum, area| sum + area)
            }
            Self::Line { points, half } => {
                let long = |pair: &[Point]| between(pair[0], pair[1]) * (*half + *half);
                points.windows(2).map(long).fold(inches(0.0) * inches(0.0), |sum, area| sum + area)
            }
        }
    }
}

/// What an entry covers; `None` when nothing of it is on the wall.
pub fn figure(scene: Scene<'_>, entry: Entry) -> Option<Figure> {
    let wall = scene.wall;
    let one = |rect: Rect| Figure::Rects(vec![rect]);
    Some(match entry {
        Entry::Opening(idx) => one(opening(scene, wall.openings.get(idx)?)),
        Entry::Block(idx) => Figure::Rects(block(scene, wall.blocks.get(idx)?)),
        Entry::Brace(idx) => {
            let brace = wall.braces.get(idx)?;
            let assumed = match brace.kind {
                BraceKind::LetIn => limits::LET_IN_WIDTH.default,
                BraceKind::CutIn => limits::CUT_IN_WIDTH.default,
            };
            let half = brace.width.or(assumed).unwrap_or(inches(1.5)) / 2.0;
            Figure::Line { points: vec![brace.from, brace.to], half }
        }
        Entry::Thing(idx) => match &wall.things.get(idx)?.at {
            ThingShape::Box { left, up, width, height } => {
                one(Rect::from_corner(*left, *up, *width, *height))
            }
            ThingShape::Round { centre, diameter } => {
                let half = *diameter / 2.0;
                one(Rect::from_corner(centre.x - half, centre.y - half, *diameter, *diameter))
            }
            ThingShape::Run { points, diameter } => {
                Figure::Line { points: points.clone(), half: *diameter / 2.0 }
            }
        },
        Entry::Zone(idx) => {
            let zone = wall.zones.get(idx)?;
            one(Rect::from_corner(zone.left, zone.up, zone.width, zone.height))
        }
        Entry::Bay(idx) => one(bay(scene, wall.bays.get(idx)?.at)),
        Entry::Hole(idx) => {
            let Point { x, y } = wall.drilling.holes.get(idx)?.at;
            let half = limits::BIT.default.unwrap_or(inches(1.0)) / 2.0;
            one(Rect { x: Span::new(x, x), y: Span::new(y, y) }.widened(half))
        }
        Entry::Extra(idx) => {
            let extra = wall.studs.extra.get(idx)?;
            let width = extra.width.unwrap_or(match extra.kind {
                ExtraKind::Stud => studs::thickness(wall),
                ExtraKind::CornerPost | ExtraKind::PartitionChannel => inches(3.0),
            });
            Figure::Rects(uprights(scene, extra.centre, width))
        }
        Entry::Stud(idx) => {
            let centre = studs::layout(wall).get(idx)?.stands?;
            Figure::Rects(uprights(scene, centre, studs::thickness(wall)))
        }
        Entry::Top => Figure::Line { points: chain(&wall.top, wall.width), half: inches(0.0) },
        Entry::Bottom => {
            Figure::Line { points: chain(wall.bottom.as_ref()?, wall.width), half: inches(0.0) }
        }
    })
}

/// Where an entry can be gripped beside its middle.
pub fn grips(scene: Scene<'_>, entry: Entry) -> Vec<(Grip, Point)> {
    let wall = scene.wall;
    let numbered = |points: &[Point]| -> Vec<(Grip, Point)> {
        points.iter().enumerate().map(|(idx, point)| (Grip::Point(idx), *point)).collect()
    };
    match entry {
        Entry::Stud(_) | Entry::Extra(_) | Entry::Bay(_) | Entry::Hole(_) => Vec::new(),
        Entry::Top => numbered(&handles(&wall.top, wall.width)),
        Entry::Bottom => match &wall.bottom {
            Some(edge) => numbered(&handles(edge, wall.width)),
            None => Vec::new(),
        },
        Entry::Opening(_)
        | Entry::Block(_)
        | Entry::Brace(_)
        | Entry::Thing(_)
        | Entry::Zone(_) => match figure(scene, entry) {
            None => Vec::new(),
            Some(Figure::Line { points, .. }) => numbered(&points),
            Some(rects @ Figure::Rects(_)) => {
                let is_door = |idx: usize| wall.openings[idx].kind == OpeningKind::Door;
                let on_floor = matches!(entry, Entry::Opening(idx) if is_door(idx));
                sides(rects.bounds(), on_floor)
            }
        },
    }
}

/// The entry at a place, or the nearest within a reach of it; of several the smallest.
pub fn hit(scene: Scene<'_>, place: Point, reach: Length) -> Option<Entry> {
    let mut best: Option<(Entry, Length, Area)> = None;
    for entry in all(scene.wall) {
        // A bay lies behind all else; to pick it is to pick what is in it.
        if matches!(entry, Entry::Bay(_)) {
            continue;
        }
        let Some(figure) = figure(scene, entry) else { continue };
        let (far, area) = (figure.distance(place), figure.area());
        let better = best.is_none_or(|(_, nearest, smallest)| {
            far < nearest || (same(far, nearest) && area < smallest)
        });
        if far <= reach && better {
            best = Some((entry, far, area));
        }
    }
    best.map(|(entry, _, _)| entry)
}

/// The heights of an edge as a chain of points from end to end.
pub fn chain(edge: &Edge, width: Length) -> Vec<Point> {
    let at = Point::new;
    let start = inches(0.0);
    match edge {
        Edge::Level { height } => vec![at(start, *height), at(width, *height)],
        Edge::Raked { left, right } => vec![at(start, *left), at(width, *right)],
        Edge::Gable { left, ridge_at, ridge, right } => {
            vec![at(start, *left), at(*ridge_at, *ridge), at(width, *right)]
        }
        Edge::Points { points } => points.clone(),
    }
}

/// A level edge is gripped in its middle, any other at its points.
fn handles(edge: &Edge, width: Length) -> Vec<Point> {
    match edge {
        Edge::Level { height } => vec![Point::new(width / 2.0, *height)],
        other => chain(other, width),
    }
}

fn sides(Rect { x, y }: Rect, on_floor: bool) -> Vec<(Grip, Point)> {
    let mut sides = vec![
        (Grip::Left, Point::new(x.from, y.middle())),
        (Grip::Right, Point::new(x.to, y.middle())),
        (Grip::High, Point::new(x.middle(), y.to)),
    ];
    if !on_floor {
        sides.push((Grip::Low, Point::new(x.middle(), y.from)));
    }
    sides
}

fn opening(scene: Scene<'_>, opening: &Opening) -> Rect {
    let foot =
        opening.sill.unwrap_or_else(|| floor_at(scene.wall, opening.left + opening.width / 2.0));
    Rect::from_corner(opening.left, foot, opening.width, opening.height)
}

fn floor_at(wall: &Wall, x: Length) -> Length {
    let points = wall.bottom.as_ref().map(|edge| chain(edge, wall.width)).unwrap_or_default();
    let pair =
        points.windows(2).find(|pair| pair[0].x <= x && x <= pair[1].x && pair[0].x < pair[1].x);
    pair.map_or(inches(0.0), |pair| {
        let (a, b) = (pair[0], pair[1]);
        a.y + (b.y - a.y) * ((x - a.x) / (b.x - a.x))
    })
}

/// The pieces of a block as they were framed; a block that found no bay shows where it should be.
fn block(scene: Scene<'_>, block: &Block) -> Vec<Rect> {
    let kind = match block.kind {
        BlockKind::Full => MemberKind::Block,
        BlockKind::Flat => MemberKind::FlatBlock,
    };
    let height = block.height.or(limits::BLOCK_HEIGHT.default).unwrap_or(inches(1.5));
    let reach = Span::new(block.from, block.to.unwrap_or(block.from));
    let y = Span::new(block.up, block.up + height);
    let members = scene.frame.members.iter().filter(|member| member.kind == kind);
    let pieces = members.map(|member| member.polygon.bounds()).filter(|bounds| {
        bounds.y.widened(inches(0.001)).common(y).is_some() && bounds.x.common(reach).is_some()
    });
    let pieces: Vec<Rect> = pieces.collect();
    if pieces.is_empty() { vec![Rect { x: reach.widened(inches(3.0)), y }] } else { pieces }
}

/// A mark at half height, as wide as the bay.
fn bay(scene: Scene<'_>, at: Length) -> Rect {
    let y = scene.frame.outline.bounds().y;
    let middle = Span::new(y.middle(), y.middle());
    let uprights = scene.frame.members.iter().map(|member| member.polygon.bounds());
    let uprights = uprights.filter(|bounds| bounds.y.contains(y.middle()));
    let taken: Vec<Span> = uprights.map(|bounds| bounds.x).collect();
    let free = Span::new(inches(0.0), scene.wall.width).without(&taken);
    let x = free.into_iter().find(|span| span.contains(at)).unwrap_or(Span::new(at, at));
    Rect { x, y: middle.widened(inches(3.0)) }
}

/// The uprights that stand at a centre; the height of the wall where there is none.
fn uprights(scene: Scene<'_>, centre: Length, width: Length) -> Vec<Rect> {
    let upright = |kind: MemberKind| {
        matches!(
            kind,
            MemberKind::Stud
                | MemberKind::Cripple
                | MemberKind::CornerPost
                | MemberKind::PartitionChannel
        )
    };
    let members = scene.frame.members.iter().filter(|member| upright(member.kind));
    let bounds = members.map(|member| member.polygon.bounds());
    let found: Vec<Rect> = bounds.filter(|bounds| same(bounds.x.middle(), centre)).collect();
    if !found.is_empty() {
        return found;
    }
    let half = width / 2.0;
    vec![Rect { x: Span::new(centre - half, centre + half), y: scene.frame.outline.bounds().y }]
}

fn to_rect(rect: Rect, place: Point) -> Length {
    let past = |span: Span, reading: Length| {
        longer(inches(0.0), longer(span.from - reading, reading - span.to))
    };
    let off = Point::new(past(rect.x, place.x), past(rect.y, place.y));
    between(off, Point::new(inches(0.0), inches(0.0)))
}

fn to_stretch(a: Point, b: Point, place: Point) -> Length {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let squared: Area = dx * dx + dy * dy;
    let along = ((place.x - a.x) * dx + (place.y - a.y) * dy) / squared;
    // A stretch without length divides by nothing; then both its ends are as near.
    let along = if along.value.is_finite() { along.value.clamp(0.0, 1.0) } else { 0.0 };
    between(Point::new(a.x + dx * along, a.y + dy * along), place)
}

fn between(a: Point, b: Point) -> Length {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let squared: Area = dx * dx + dy * dy;
    squared.sqrt()
}

#[cfg(test)]
mod tests {
    use risemark::job::{Thing, ThingKind, Zone, ZoneKind};

    use super::*;
    use crate::edit::tests::planned;
    use crate::fresh;

    fn at(x: f64, y: f64) -> Point {
        Point::new(inches(x), inches(y))
    }

    /// The plain wall with one of everything, each apart from the others.
    fn furnished() -> (Wall, risemark::plan::WallPlan) {
        planned("workshop-north", |wall| {
            let window = Opening {
                left: inches(60.0),
                width: inches(30.0),
                sill: Some(inches(36.0)),
                height: inches(36.0),
                ..fresh::opening(wall)
            };
            wall.openings = vec![window];
            wall.blocks = vec![Block { from: inches(8.0), up: inches(40.0), ..fresh::block(wall) }];
            let mut brace = fresh::brace(wall);
            (brace.from, brace.to) = (at(112.0, 10.0), at(144.0, 80.0));
            wall.braces = vec![brace];
            let run = ThingShape::Run {
                points: vec![at(170.0, 10.0), at(170.0, 60.0)],
                diameter: inches(0.5),
            };
            wall.things = vec![
                Thing {
                    at: ThingShape::Box {
                        left: inches(24.0),
                        up: inches(12.0),
                        width: inches(2.0),
                        height: inches(3.0),
                    },
                    ..fresh::thing(wall)
                },
                Thing { kind: ThingKind::Cable, at: run, ..fresh::thing(wall) },
            ];
            wall.zones = vec![Zone {
                kind: ZoneKind::Panel,
                left: inches(150.0),
                up: inches(70.0),
                width: inches(8.0),
                height: inches(8.0),
                keep_off: None,
            }];
            wall.studs.extra = vec![fresh::extra(wall)];
            wall.studs.extra[0].centre = inches(104.0);
        })
    }

    fn check(place: Point, expected: Option<Entry>) {
        let (wall, plan) = furnished();
        let scene = Scene { wall: &wall, frame: &plan.frame };
        assert_eq!(hit(scene, place, inches(1.0)), expected, "{place:?}");
    }

    #[test]
    fn what_lies_at_a_place_is_hit() {
        check(at(75.0, 50.0), Some(Entry::Opening(0)));
        check(at(10.0, 40.5), Some(Entry::Block(0)));
        check(at(124.0, 36.25), Some(Entry::Brace(0)));
        check(at(25.0, 13.0), Some(Entry::Thing(0)));
        check(at(170.1, 40.0), Some(Entry::Thing(1)));
        check(at(152.0, 72.0), Some(Entry::Zone(0)));
        check(at(104.2, 60.0), Some(Entry::Extra(0)));
        check(at(48.0, 20.0), Some(Entry::Stud(2)));
        check(at(24.0, 70.0), None);
    }

    #[test]
    fn near_is_near_enough_and_far_is_not() {
        check(at(26.9, 13.0), Some(Entry::Thing(0)));
        check(at(27.5, 13.0), None);
        check(at(8.0, 97.5), Some(Entry::Top));
    }

    #[test]
    fn an_opening_is_hit_where_the_layout_would_have_a_stud() {
        // The stud at 80 in is cut to cripples by the window from 60 to 90 in.
        check(at(80.0, 50.0), Some(Entry::Opening(0)));
        check(at(80.0, 20.0), Some(Entry::Stud(4)));
    }

    #[test]
    fn a_door_has_no_lower_grip() {
        let (wall, plan) = planned("workshop-street", |_| ());
        let scene = Scene { wall: &wall, frame: &plan.frame };
        for (idx, opening) in wall.openings.iter().enumerate() {
            let n_grips = grips(scene, Entry::Opening(idx)).len();
            let expected = if opening.kind == OpeningKind::Door { 3 } else { 4 };
            assert_eq!(n_grips, expected, "opening {idx}");
        }
    }

    #[test]
    fn a_door_stands_on_the_floor_that_slopes() {
        let (wall, _) = planned("workshop-street", |wall| {
            let (left, right) = (inches(0.0), inches(-10.0));
            wall.bottom = Some(Edge::Raked { left, right });
        });
        assert!(same(floor_at(&wall, wall.width / 2.0), inches(-5.0)), "half way down");
    }
}
