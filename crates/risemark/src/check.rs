//! What can only be seen when the whole job is read: texts, ids, counts, and whether things fit the wall.

use std::collections::BTreeMap;

use uom::ConstZero;

use crate::{
    finding::{ChainFault, Content, Counted, Finding, Noun, Place, Problem, WallRef},
    geometry::{Point, Rect, Span},
    job::{
        CrewSettings, Edge, FoamSettings, Job, Liked, Opening, OpeningKind, OwnHole, RuleSettings,
        StudCorrection, StudLayout, ThingShape, Wall,
    },
    limits, order,
    quantity::{Length, SAME, longer, shorter},
};

/// Everything that keeps a job from being planned; empty for a job that can be planned.
///
/// The reader of job files and the app both ask it, so that no stage has to.
pub fn check(job: &Job) -> Vec<Finding> {
    let mut findings = Vec::new();
    let texts =
        [("name", Some(&job.name)), ("place", job.place.as_ref()), ("date", job.date.as_ref())];
    findings.extend(texts.into_iter().filter_map(|(name, text)| bad_text(name, text?)));
    findings.extend(foam(&job.foam));
    findings.extend(crew(&job.crew));
    findings.extend(top_rules(&job.rules));
    let n_entries = job.walls.iter().map(Wall::n_entries).sum();
    let counts = [
        (Counted::Walls, job.walls.len(), limits::WALLS),
        (Counted::Members, n_entries, limits::MEMBERS),
    ];
    let many = counts.into_iter().filter(|(_, found, most)| most < found);
    findings.extend(many.map(|(what, found, most)| {
        Finding::new(Place::default(), Problem::TooMany { what, found, most })
    }));
    findings.extend(repeated_ids(job));
    for (idx, wall) in job.walls.iter().enumerate() {
        let place = WallRef { number: idx + 1, id: wall.id.clone(), name: wall.name.clone() };
        findings.extend(check_wall(wall).into_iter().map(|finding| finding.on(&place)));
    }
    findings
}

fn foam(foam: &FoamSettings) -> Vec<Finding> {
    let currency = foam.prices.currency.as_ref();
    let mut findings: Vec<Finding> =
        currency.and_then(|text| bad_text("foam.prices.currency", text)).into_iter().collect();
    let counts = [
        ("foam.test_shots", foam.test_shots.len(), limits::TEST_SHOTS),
        ("foam.kits", foam.kits.len(), limits::KIT_KINDS),
    ];
    findings.extend(counts.into_iter().filter(|(_, found, most)| most < found).map(
        |(name, found, most)| {
            let problem = Problem::TooMany { what: Counted::Entries, found, most };
            Finding::new(Place::default().field(name), problem)
        },
    ));
    findings
}

fn crew(crew: &CrewSettings) -> Vec<Finding> {
    let named = crew.first.iter().chain(&crew.sequence).map(|name| &name.wall);
    let texts = named.map(|id| ("crew", id)).chain(crew.walls.iter().map(|id| ("crew.walls", id)));
    let mut findings: Vec<Finding> =
        texts.filter_map(|(field, text)| bad_text(field, text)).collect();
    let counts = [
        ("crew.sequence", crew.sequence.len(), limits::SEQUENCE),
        ("crew.walls", crew.walls.len(), limits::WALLS),
    ];
    findings.extend(counts.into_iter().filter(|(_, found, most)| most < found).map(
        |(name, found, most)| {
            let problem = Problem::TooMany { what: Counted::Entries, found, most };
            Finding::new(Place::default().field(name), problem)
        },
    ));
    findings
}

/// No hole could keep to a reach that is shorter than the clearance.
fn top_rules(rules: &RuleSettings) -> Option<Finding> {
    let clearance = rules.top_clearance.or(limits::TOP_CLEARANCE.default)?;
    let reach = rules.top_reach.or(limits::TOP_REACH.default)?;
    let problem = Problem::TopRulesClash { clearance, reach };
    (reach <= clearance).then(|| Finding::new(Place::default().field("rules.top_reach"), problem))
}

/// Everything that keeps one wall from being planned, with places on that wall.
pub fn check_wall(wall: &Wall) -> Vec<Finding> {
    let texts = [("id", Some(&wall.id)), ("name", Some(&wall.name)), ("room", wall.room.as_ref())];
    let mut findings: Vec<Finding> =
        texts.into_iter().filter_map(|(name, text)| bad_text(name, text?)).collect();
    let edges = edges(wall);
    let broken_edges = !edges.is_empty();
    findings.extend(edges);
    let room = Room::of(wall);
    findings.extend(studs(wall, &room));
    findings.extend(entries(wall, &room));
    findings.extend(repeated_marks(&wall.drilling.holes));
    if !broken_edges {
        findings.extend(openings(wall, &room));
    }
    findings
}

/// The upright rectangle that a wall fills, with a check against it.
struct Room {
    x: Span,
    y: Span,
}

impl Room {
    fn of(wall: &Wall) -> Self {
        let mut heights = chain(&wall.top, wall.width);
        heights.extend(wall.bottom.iter().flat_map(|edge| chain(edge, wall.width)));
        let start = Span { from: Length::ZERO, to: Length::ZERO };
        let y = heights.iter().fold(start, |y, point| Span {
            from: shorter(y.from, point.y),
            to: longer(y.to, point.y),
        });
        Self { x: Span { from: Length::ZERO, to: wall.width }, y }
    }

    fn outside(&self, what: Noun, place: Point) -> Option<Problem> {
        let past = |reading: Length, span: Span| {
            let inside = longer(span.from, shorter(reading, span.to));
            (SAME < (reading - inside).abs()).then_some(Problem::OutsideWall {
                what,
                found: reading,
                limit: inside,
            })
        };
        past(place.x, self.x).or_else(|| past(place.y, self.y))
    }

    fn outside_across(&self, what: Noun, x: Length) -> Option<Problem> {
        self.outside(what, Point::new(x, self.y.from))
    }
}

fn bad_text(name: &str, text: &str) -> Option<Finding> {
    let n_chars = text.chars().count();
    let bad = n_chars == 0 || limits::TEXT < n_chars || text.chars().any(char::is_control);
    let found = text.chars().filter(|c| !c.is_control()).take(40).collect();
    bad.then(|| Finding::new(Place::default().field(name), Problem::BadText { found }))
}

fn repeated_ids(job: &Job) -> Vec<Finding> {
    let mut by_id: Vec<(usize, &Wall)> = job.walls.iter().enumerate().collect();
    order::sort_by_key(&mut by_id, |(_, wall)| &wall.id);
    let mut repeated: Vec<(usize, &Wall)> = by_id
        .windows(2)
        .filter_map(|pair| (pair[0].1.id == pair[1].1.id).then_some(pair[1]))
        .collect();
    order::sort_by_key(&mut repeated, |(idx, _)| *idx);
    let finding = |(idx, wall): (usize, &Wall)| {
        let place = WallRef { number: idx + 1, id: wall.id.clone(), name: wall.name.clone() };
        let problem = Problem::RepeatedId { id: wall.id.clone() };
        Finding::new(Place::default().field("id"), problem).on(&place)
    };
    repeated.into_iter().map(finding).collect()
}

fn chain(edge: &Edge, width: Length) -> Vec<Point> {
    let at = Point::new;
    match edge {
        Edge::Level { height } => vec![at(Length::ZERO, *height), at(width, *height)],
        Edge::Raked { left, right } => vec![at(Length::ZERO, *left), at(width, *right)],
        Edge::Gable { left, ridge_at, ridge, right } => {
            vec![at(Length::ZERO, *left), at(*ridge_at, *ridge), at(width, *right)]
        }
        Edge::Points { points } => points.clone(),
    }
}

fn edges(wall: &Wall) -> Vec<Finding> {
    let mut findings = Vec::new();
    let level = Edge::Level { height: Length::ZERO };
    let bottom = wall.bottom.as_ref().unwrap_or(&level);
    for (name, edge) in [("top", &wall.top), ("bottom", bottom)] {
        if let Some(what) = bad_chain(&chain(edge, wall.width), wall.width) {
            findings.push(Finding::new(Place::default().field(name), Problem::BadChain { what }));
        }
    }
    if findings.is_empty() {
        findings.extend(no_height(&chain(&wall.top, wall.width), &chain(bottom, wall.width)));
    }
    findings
}

fn bad_chain(points: &[Point], width: Length) -> Option<ChainFault> {
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return Some(ChainFault::NoPoints);
    };
    if points.len() < 2 {
        return Some(ChainFault::SinglePoint);
    }
    if SAME < first.x.abs() {
        return Some(ChainFault::StartsElsewhere);
    }
    if SAME < (last.x - width).abs() {
        return Some(ChainFault::EndsElsewhere);
    }
    let back = points.windows(2).any(|pair| pair[1].x < pair[0].x);
    back.then_some(ChainFault::RunsBack)
}

fn no_height(top: &[Point], bottom: &[Point]) -> Option<Finding> {
    let places = top.iter().chain(bottom).map(|point| point.x);
    let low = places.into_iter().find(|&x| {
        let (above, below) = (heights(top, x), heights(bottom, x));
        above.from <= below.to + SAME
    });
    low.map(|at| Finding::new(Place::default().field("top"), Problem::NoHeight { at }))
}

/// The heights of a chain at a place; at a step both its ends.
fn heights(chain: &[Point], x: Length) -> Span {
    // A place at an end may lie past it by rounding.
    let ends = chain.first().zip(chain.last());
    let x = ends.map_or(x, |(first, last)| longer(first.x, shorter(x, last.x)));
    let mut found: Option<Span> = None;
    for pair in chain.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        if x < a.x || b.x < x {
            continue;
        }
        let rise = b.x - a.x;
        let here = if rise <= Length::ZERO {
            Span::new(a.y, b.y)
        } else {
            let y = a.y + (b.y - a.y) * ((x - a.x) / rise);
            Span { from: y, to: y }
        };
        found = Some(found.map_or(here, |f| Span {
            from: shorter(f.from, here.from),
            to: longer(f.to, here.to),
        }));
    }
    found.unwrap_or(Span { from: Length::ZERO, to: Length::ZERO })
}

fn studs(wall: &Wall, room: &Room) -> Vec<Finding> {
    let mut findings = Vec::new();
    if let StudLayout::Measured { centres } = &wall.studs.layout {
        for (idx, &centre) in centres.iter().enumerate() {
            let problem = room.outside_across(Noun::Stud, centre);
            findings.extend(
                problem.map(|problem| Finding::new(Place::entry(Noun::MeasuredStud, idx), problem)),
            );
        }
    }
    if let StudLayout::Regular { first: Some(first), .. } = wall.studs.layout {
        let problem = room.outside_across(Noun::FirstStud, first);
        findings
            .extend(problem.map(|problem| {
                Finding::new(Place::default().field("studs.layout.first"), problem)
            }));
    }
    for (idx, correction) in wall.studs.corrections.iter().enumerate() {
        let place = match *correction {
            StudCorrection::Moved { found, .. } => found,
            StudCorrection::Missing { stud } => stud,
        };
        let problem = room.outside_across(Noun::Stud, place);
        findings.extend(
            problem.map(|problem| Finding::new(Place::entry(Noun::StudCorrection, idx), problem)),
        );
    }
    for (idx, extra) in wall.studs.extra.iter().enumerate() {
        let problem = room.outside_across(Noun::ExtraStud, extra.centre);
        findings.extend(
            problem.map(|problem| Finding::new(Place::entry(Noun::ExtraStud, idx), problem)),
        );
    }
    findings
}

fn entries(wall: &Wall, room: &Room) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut say = |noun, idx, problem: Option<Problem>| {
        findings.extend(problem.map(|problem| Finding::new(Place::entry(noun, idx), problem)));
    };
    for (idx, block) in wall.blocks.iter().enumerate() {
        let ends = [Some(block.from), block.to];
        let outside = ends
            .into_iter()
            .flatten()
            .find_map(|x| room.outside(Noun::Block, Point::new(x, block.up)));
        say(Noun::Block, idx, outside);
    }
    for (idx, brace) in wall.braces.iter().enumerate() {
        let outside =
            [brace.from, brace.to].into_iter().find_map(|end| room.outside(Noun::Brace, end));
        say(Noun::Brace, idx, outside.or_else(|| no_length(&[brace.from, brace.to])));
    }
    for (idx, thing) in wall.things.iter().enumerate() {
        let problem = match &thing.at {
            ThingShape::Box { left, up, width, height } => {
                corners(*left, *up, *width, *height, |p| room.outside(Noun::Thing, p))
            }
            ThingShape::Round { centre, diameter } => {
                let (left, up) = (centre.x - *diameter / 2.0, centre.y - *diameter / 2.0);
                corners(left, up, *diameter, *diameter, |p| room.outside(Noun::Thing, p))
            }
            ThingShape::Run { points, .. } => points
                .iter()
                .find_map(|&point| room.outside(Noun::Run, point))
                .or_else(|| no_length(points)),
        };
        say(Noun::Thing, idx, problem);
    }
    for (idx, zone) in wall.zones.iter().enumerate() {
        say(
            Noun::Zone,
            idx,
            corners(zone.left, zone.up, zone.width, zone.height, |p| room.outside(Noun::Zone, p)),
        );
    }
    for (idx, bay) in wall.bays.iter().enumerate() {
        say(Noun::Bay, idx, room.outside_across(Noun::Bay, bay.at));
    }
    for (idx, hole) in wall.drilling.holes.iter().enumerate() {
        say(Noun::Hole, idx, room.outside(Noun::Hole, hole.at));
    }
    for (idx, place) in wall.drilling.probed.iter().enumerate() {
        say(Noun::Probe, idx, room.outside(Noun::Probe, *place));
    }
    for (idx, liked) in wall.drilling.liked.iter().enumerate() {
        let band = match *liked {
            Liked::Band { from, to } => no_band(from, to),
            Liked::Height { .. } | Liked::Laps { .. } => None,
        };
        say(Noun::Liked, idx, band);
    }
    for (idx, band) in wall.drilling.barred.iter().enumerate() {
        say(Noun::Band, idx, no_band(band.from, band.to));
    }
    findings
}

/// People read a number off the wall, so that two holes of one number cannot be told apart.
fn repeated_marks(holes: &[OwnHole]) -> Vec<Finding> {
    let mut known = BTreeMap::new();
    let marks = holes.iter().enumerate().filter_map(|(idx, hole)| Some((idx, hole.mark?)));
    let repeated = marks.filter_map(|(idx, mark)| {
        let other = known.insert(mark, idx + 1)?;
        Some(Finding::new(Place::entry(Noun::Hole, idx), Problem::RepeatedMark { mark, other }))
    });
    repeated.collect()
}

fn no_band(from: Length, to: Length) -> Option<Problem> {
    (to + SAME < from).then_some(Problem::NoBand { from, to })
}

fn corners(
    left: Length,
    up: Length,
    width: Length,
    height: Length,
    outside: impl Fn(Point) -> Option<Problem>,
) -> Option<Problem> {
    [Point::new(left, up), Point::new(left + width, up + height)].into_iter().find_map(outside)
}

fn no_length(points: &[Point]) -> Option<Problem> {
    let short = |pair: &[Point]| {
        (pair[1].x - pair[0].x).abs() < SAME && (pair[1].y - pair[0].y).abs() < SAME
    };
    let none = points.len() < 2 || points.windows(2).any(short);
    none.then_some(Problem::NoLength)
}

fn openings(wall: &Wall, room: &Room) -> Vec<Finding> {
    let mut findings = Vec::new();
    let areas: Vec<Rect> = wall.openings.iter().map(|opening| area(wall, opening)).collect();
    for (idx, opening) in wall.openings.iter().enumerate() {
        let place = || Place::entry(Noun::Opening, idx);
        let sill = match (opening.kind, opening.sill) {
            (OpeningKind::Window, None) => Some(Problem::MissingField { name: "sill".to_owned() }),
            (OpeningKind::Door, Some(_)) => {
                Some(Problem::Unexpected { found: Content::Sill, expected: Content::NoSill })
            }
            _ => None,
        };
        findings.extend(sill.map(|problem| Finding::new(place().field("sill"), problem)));
        findings.extend(
            opening
                .name
                .as_ref()
                .and_then(|name| bad_text("name", name))
                .map(|f| Finding::new(place().field("name"), f.problem)),
        );
        findings.extend(
            outside_opening(wall, room, areas[idx]).map(|problem| Finding::new(place(), problem)),
        );
        let other = areas[..idx].iter().position(|other| other.overlaps(areas[idx]));
        findings.extend(other.map(|other| {
            let name = wall.openings[other].name.clone();
            Finding::new(place(), Problem::OpeningsOverlap { other: other + 1, name })
        }));
    }
    findings
}

fn area(wall: &Wall, opening: &Opening) -> Rect {
    let level = Edge::Level { height: Length::ZERO };
    let floor = chain(wall.bottom.as_ref().unwrap_or(&level), wall.width);
    let middle = opening.left + opening.width / 2.0;
    let door = opening.kind == OpeningKind::Door;
    let foot = opening.sill.filter(|_| !door).unwrap_or_else(|| heights(&floor, middle).from);
    Rect::from_corner(opening.left, foot, opening.width, opening.height)
}

fn outside_opening(wall: &Wall, room: &Room, area: Rect) -> Option<Problem> {
    let across =
        [area.x.from, area.x.to].into_iter().find_map(|x| room.outside_across(Noun::Opening, x));
    let level = Edge::Level { height: Length::ZERO };
    let (top, bottom) =
        (chain(&wall.top, wall.width), chain(wall.bottom.as_ref().unwrap_or(&level), wall.width));
    let places = || [area.x.from, area.x.middle(), area.x.to].into_iter();
    let above = || {
        let low = places().map(|x| heights(&top, x).from).reduce(shorter)?;
        (low + SAME < area.y.to).then_some(Problem::OutsideWall {
            what: Noun::HeadOfOpening,
            found: area.y.to,
            limit: low,
        })
    };
    let below = || {
        let high = places().map(|x| heights(&bottom, x).from).reduce(shorter)?;
        (area.y.from + SAME < high).then_some(Problem::OutsideWall {
            what: Noun::Sill,
            found: area.y.from,
            limit: high,
        })
    };
    across.or_else(above).or_else(below)
}
