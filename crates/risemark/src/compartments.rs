//! Stage 2, divide: the frame's empty spaces, each one connected, none left out.

use uom::ConstZero;

use crate::{
    finding::{CompartmentId, Finding, Noun, Place, Problem, Staged},
    framing::{BayEffect, Exception, FoamEffect, Frame, Member, MemberKind, Obstacle},
    geometry::{Point, Polygon, Rect, Span, difference, intersection},
    job::End,
    quantity::{Area, Length, SAME, Volume, inches, longer, millimeters, same, shorter, steps},
    rules::Rules,
};

/// One connected empty space behind the finish.
#[derive(Debug, Clone, PartialEq)]
pub struct Compartment {
    /// Its name: counted from the datum end, then from the bottom up.
    pub id: CompartmentId,
    /// Its face.
    pub polygon: Polygon,
    /// Its clear depth.
    pub depth: Length,
    /// Area of its face.
    pub area: Area,
    /// Area times depth, less what takes volume.
    pub volume: Volume,
    /// What takes volume, in parts that do not overlap.
    pub taken: Vec<Taken>,
    /// Clear width where it is widest.
    pub clear_width: Length,
    /// Its lowest point.
    pub lowest: Point,
    /// Its highest point.
    pub highest: Point,
    /// Whether it can be filled.
    pub state: State,
    /// Whether somebody has probed it and found it clear.
    pub probed: bool,
}

/// A part of a compartment's face behind which something takes volume.
#[derive(Debug, Clone, PartialEq)]
pub struct Taken {
    /// Where.
    pub polygon: Polygon,
    /// How much of the compartment's depth; never more than all of it.
    pub depth: Length,
}

/// Whether a compartment can be filled.
#[derive(Debug, Clone, PartialEq)]
pub enum State {
    /// It is drilled and filled.
    Fillable,
    /// It stays empty, and why.
    Empty(Problem),
}

/// Divides a frame into its empty spaces.
///
/// Guarantees: together with the closing members and the openings they tile the outline; they do
/// not overlap; they are sorted from the datum end, then from the bottom up.
pub fn divide(frame: &Frame, rules: &Rules) -> Staged<Vec<Compartment>> {
    let mut spaces = spaces(frame);
    crate::order::sort_by_key(&mut spaces, |space| order(frame, &space.polygon));
    let mut findings = Vec::new();
    let mut compartments = Vec::new();
    for (idx, space) in spaces.into_iter().enumerate() {
        let compartment = measure(frame, rules, CompartmentId(idx + 1), space);
        findings.extend(
            remarks(&compartment, frame, rules)
                .map(|problem| Finding::new(Place::compartment(compartment.id), problem)),
        );
        compartments.push(compartment);
    }
    findings.extend(lost_exceptions(frame, &compartments));
    if weak(frame.depth) && !compartments.is_empty() {
        let most = rules.spacing_at(frame.depth).map_or(frame.depth, |row| row.most);
        findings.push(Finding::new(
            Place::default(),
            Problem::WeakPractice { depth: frame.depth, most },
        ));
    }
    findings.extend(not_probed(&compartments));
    Staged { product: compartments, findings }
}

fn not_probed(compartments: &[Compartment]) -> Option<Finding> {
    let filled = compartments.iter().filter(|space| space.state == State::Fillable);
    let (of, count) = (filled.clone().count(), filled.filter(|space| !space.probed).count());
    (0 < count).then(|| Finding::new(Place::default(), Problem::NotProbed { count, of }))
}

struct Space {
    polygon: Polygon,
    /// Its own depth, where it is the space beside a header.
    beside_header: Option<Length>,
}

fn spaces(frame: &Frame) -> Vec<Space> {
    let closes = |member: &&Member| member.bay == BayEffect::Closes;
    let closing = frame.members.iter().filter(closes);
    let mut taken: Vec<Polygon> = closing.flat_map(seated).collect();
    taken.extend(frame.openings.iter().map(|opening| opening.polygon.clone()));
    let beside = frame.header_spaces.iter().flat_map(|space| {
        let pieces = difference(std::slice::from_ref(&space.polygon), &taken);
        pieces.into_iter().map(|polygon| Space { polygon, beside_header: Some(space.depth) })
    });
    let mut spaces: Vec<Space> = beside.collect();
    taken.extend(frame.header_spaces.iter().map(|space| space.polygon.clone()));
    let open = difference(std::slice::from_ref(&frame.outline), &taken);
    spaces.extend(open.into_iter().map(|polygon| Space { polygon, beside_header: None }));
    spaces
}

/// A member as it divides spaces; one with sloped edges is seated a hair into its neighbours.
///
/// Corners on a slope are rounded to whole nanometres, so that a stud could stand short of its
/// plate by one; foam does not pass there, and two bays must not become one.
fn seated(member: &Member) -> Vec<Polygon> {
    let polygon = member.polygon.clone();
    let square = |(a, b): (Point, Point)| same(a.x, b.x) || same(a.y, b.y);
    if polygon.edges().all(square) {
        return vec![polygon];
    }
    let moved = |by: Length| {
        let up = |corner: &Point| Point::new(corner.x, corner.y + by);
        Polygon::simple(polygon.outer.iter().map(up).collect())
    };
    vec![moved(HAIR), moved(-HAIR), polygon]
}

/// A few steps of the grid on which booleans run.
const HAIR: Length = millimeters(0.000_004);

/// From the datum end, then from the bottom up, in hundredths of a millimetre.
fn order(frame: &Frame, polygon: &Polygon) -> (i64, i64, i64) {
    let Rect { x, y } = polygon.bounds();
    let (near, far) = match frame.datum {
        End::Left => (x.from, x.to),
        End::Right => (frame.width - x.to, frame.width - x.from),
    };
    // Halves of a sixty-fourth of an inch would fall between two hundredths of a millimetre, and
    // rounding could take one edge of two spaces up and down; the shift keeps them off the divide.
    let rounded = |reading: Length| steps(reading + SAME * 0.03, SAME);
    (rounded(near), rounded(y.from), rounded(far))
}

fn measure(frame: &Frame, rules: &Rules, id: CompartmentId, space: Space) -> Compartment {
    let Space { polygon, beside_header } = space;
    let exception =
        frame.exceptions.iter().filter(|e| beside_header.is_none() && holds(&polygon, e.at));
    let own_depth = exception.filter_map(|e| e.depth).next_back();
    let depth = beside_header.or(own_depth).unwrap_or(frame.depth);
    let area = polygon.area();
    let taken = taken(frame, &polygon, depth);
    let displaced =
        taken.iter().fold(Volume::ZERO, |sum, part| sum + part.polygon.area() * part.depth);
    let mut compartment = Compartment {
        id,
        depth,
        area,
        volume: area * depth - displaced,
        taken,
        clear_width: clear_width(&polygon),
        lowest: extreme(&polygon, |bounds| bounds.y.from),
        highest: extreme(&polygon, |bounds| bounds.y.to),
        state: State::Fillable,
        probed: frame.probed.iter().any(|place| inside(&polygon, *place)),
        polygon,
    };
    if let Some(problem) = why_empty(&compartment, frame, rules) {
        compartment.state = State::Empty(problem);
    }
    compartment
}

fn inside(polygon: &Polygon, place: Point) -> bool {
    polygon.across(place.y).iter().any(|span| span.contains(place.x))
}

fn holds(polygon: &Polygon, x: Length) -> bool {
    polygon.bounds().x.contains(x) && !polygon.along(x).is_empty()
}

/// What let-in braces, flat blocks and things in the wall take of a space; where several lie over
/// each other, the deepest counts.
fn taken(frame: &Frame, polygon: &Polygon, depth: Length) -> Vec<Taken> {
    let narrowing = frame
        .members
        .iter()
        .filter(|m| m.bay == BayEffect::Narrows && m.kind != MemberKind::Header);
    let members = narrowing.map(|member| (&member.polygon, member.depth));
    let things = frame.obstacles.iter().flat_map(|obstacle| {
        let depth = match obstacle.foam {
            FoamEffect::TakesDepth(depth) => Some(depth),
            FoamEffect::None | FoamEffect::Forbids(_) => None,
        };
        depth.into_iter().flat_map(|depth| obstacle.pieces.iter().map(move |piece| (piece, depth)))
    });
    let bounds = polygon.bounds();
    let near = members.chain(things).filter(|(piece, _)| piece.bounds().overlaps(bounds));
    let mut deepest_first: Vec<(&Polygon, Length)> = near.collect();
    crate::order::sort_by(&mut deepest_first, |a, b| b.1.value.total_cmp(&a.1.value));
    let mut taken: Vec<Taken> = Vec::new();
    for (piece, reach) in deepest_first {
        let shared = intersection(std::slice::from_ref(piece), std::slice::from_ref(polygon));
        let before: Vec<Polygon> = taken.iter().map(|part| part.polygon.clone()).collect();
        let parts = if before.is_empty() { shared } else { difference(&shared, &before) };
        let depth = shorter(reach, depth);
        taken.extend(parts.into_iter().map(|polygon| Taken { polygon, depth }));
    }
    taken
}

/// The longest level stretch: for straight edges it lies at the height of a corner.
fn clear_width(polygon: &Polygon) -> Length {
    let inset = SAME / 2.0;
    let heights = polygon.rings().flatten().flat_map(|corner| [corner.y - inset, corner.y + inset]);
    let stretches = heights.flat_map(|y| polygon.across(y));
    let widest = stretches.map(Span::length).fold(Length::ZERO, longer);
    let bounds = polygon.bounds().x.length();
    // The inset takes a hair off sloped ends; an upright bay keeps its exact width.
    if bounds - widest < SAME * 2.0 { bounds } else { widest }
}

fn extreme(polygon: &Polygon, side: impl Fn(Rect) -> Length) -> Point {
    let y = side(polygon.bounds());
    let level = polygon.outer.iter().filter(|corner| same(corner.y, y)).map(|corner| corner.x);
    let ends = level.fold(None, |ends: Option<Span>, x| {
        Some(ends.map_or(Span { from: x, to: x }, |ends| Span {
            from: shorter(ends.from, x),
            to: longer(ends.to, x),
        }))
    });
    // The middle of a level edge, so that a mirrored wall has the mirrored point.
    Point::new(ends.map_or(y, Span::middle), y)
}

fn why_empty(compartment: &Compartment, frame: &Frame, rules: &Rules) -> Option<Problem> {
    let here = |exception: &&Exception| holds(&compartment.polygon, exception.at);
    if let Some(reason) = frame.exceptions.iter().filter(here).find_map(|exception| exception.skip)
    {
        return Some(Problem::Skipped { reason });
    }
    if let Some(problem) =
        frame.obstacles.iter().find_map(|obstacle| forbidden(compartment, obstacle))
    {
        return Some(problem);
    }
    let (depth, width) = (compartment.depth, compartment.clear_width);
    if depth + SAME < rules.least_depth() {
        return Some(Problem::TooShallow { depth, least: rules.least_depth() });
    }
    let least = rules.edge_distance() * 2.0;
    if width + SAME < least {
        return Some(Problem::TooNarrow { width, least });
    }
    let height = compartment.polygon.bounds().y.length();
    let least = rules.top_clearance + rules.edge_distance();
    (height + SAME < least).then_some(Problem::TooLow { height, least })
}

fn forbidden(compartment: &Compartment, obstacle: &Obstacle) -> Option<Problem> {
    let FoamEffect::Forbids(thing) = obstacle.foam else {
        return None;
    };
    let near = obstacle.pieces.iter().any(|piece| {
        let reach = piece.bounds().widened(obstacle.keep_off);
        let bounds = compartment.polygon.bounds();
        reach.overlaps(bounds)
            && !intersection(&[reach.polygon()], std::slice::from_ref(&compartment.polygon))
                .is_empty()
    });
    near.then_some(Problem::StaysEmpty { thing, keep_off: obstacle.keep_off })
}

fn remarks(
    compartment: &Compartment,
    frame: &Frame,
    rules: &Rules,
) -> impl Iterator<Item = Problem> {
    let mut problems = Vec::new();
    match &compartment.state {
        State::Empty(problem) => problems.push(problem.clone()),
        State::Fillable => {
            let (height, width) =
                (compartment.polygon.bounds().y.length(), compartment.clear_width);
            if height < PROBE_HEIGHT || width < PROBE_WIDTH {
                problems.push(Problem::ProbeFirst { height, width });
            }
            let own_depth = !same(compartment.depth, frame.depth);
            if own_depth && weak(compartment.depth) {
                let most =
                    rules.spacing_at(compartment.depth).map_or(compartment.depth, |row| row.most);
                problems.push(Problem::WeakPractice { depth: compartment.depth, most });
            }
        }
    }
    problems.into_iter()
}

/// Spaces as low or narrow as these are often packed solid: common practice, no source.
const PROBE_HEIGHT: Length = inches(8.0);
const PROBE_WIDTH: Length = inches(4.0);

/// Between 2 and 2-1/2 in the distance between holes is interpolated practice.
fn weak(depth: Length) -> bool {
    inches(2.0) + SAME < depth && depth + SAME < inches(2.5)
}

fn lost_exceptions(frame: &Frame, compartments: &[Compartment]) -> Vec<Finding> {
    let lost =
        frame.exceptions.iter().filter(|e| !compartments.iter().any(|c| holds(&c.polygon, e.at)));
    lost.map(|e| {
        Finding::new(
            Place::entry(Noun::Bay, e.number - 1),
            Problem::NothingThere { what: Noun::Bay, at: e.at },
        )
    })
    .collect()
}
