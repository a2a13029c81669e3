//! What becomes of a wall when entries are moved, taken out or doubled.

use risemark::{
    check,
    finding::Severity,
    geometry::{Point, Rect},
    job::{
        BayException, Block, Brace, Edge, ExtraKind, ExtraStud, Opening, OpeningKind, OwnHole,
        OwnState, StudCorrection, StudLayout, Thing, ThingShape, Wall, Zone,
    },
    limits,
    quantity::{Length, inches, longer, same, shorter},
};

use super::{Entry, Grip, Scene, figure, studs};
use crate::{
    command::{ListChange, WallChange},
    shape::Outline,
};

/// A change together with the wall it makes.
#[derive(Debug, Clone, PartialEq)]
pub struct Edited {
    /// The change.
    pub change: WallChange,
    /// The wall afterwards.
    pub wall: Wall,
}

/// A wall after entries were moved, by their grip, to the right and up; `None` when nothing moves.
pub fn moved(scene: Scene<'_>, entries: &[Entry], grip: Grip, by: Point) -> Option<Edited> {
    one_by_one(scene, entries.iter().copied(), |scene, entry| pull(scene, entry, grip, by))
}

/// A wall without some of its entries; `None` when none of them can go.
pub fn removed(scene: Scene<'_>, entries: &[Entry]) -> Option<Edited> {
    let mut last_first = entries.to_vec();
    // From the back, so that the positions of the others still hold.
    risemark::order::sort_by(&mut last_first, |a, b| b.cmp(a));
    one_by_one(scene, last_first.into_iter(), remove)
}

/// A wall with an entry doubled, and the double; `None` when there is no room or nothing to double.
pub fn doubled(scene: Scene<'_>, entry: Entry) -> Option<(Edited, Entry)> {
    let offsets = offsets(scene, entry);
    offsets.into_iter().find_map(|by| {
        let (change, double) = double(scene.wall, entry, by)?;
        let mut wall = scene.wall.clone();
        change.clone().apply(&mut wall)?;
        is_usable(&wall).then_some((Edited { change, wall }, double))
    })
}

/// A wall with several entries doubled, and the doubles; `None` when one of them finds no room.
pub fn all_doubled(scene: Scene<'_>, entries: &[Entry]) -> Option<(Edited, Vec<Entry>)> {
    let mut wall = scene.wall.clone();
    let (mut changes, mut doubles) = (Vec::new(), Vec::new());
    for entry in entries {
        let (edited, double) = doubled(Scene { wall: &wall, ..scene }, *entry)?;
        changes.push(edited.change);
        doubles.push(double);
        wall = edited.wall;
    }
    Some((Edited { change: together(changes)?, wall }, doubles))
}

/// Whether a wall can be planned.
pub fn is_usable(wall: &Wall) -> bool {
    let stops = |finding: &risemark::finding::Finding| finding.problem.severity() == Severity::Stop;
    !check::check_wall(wall).iter().any(stops)
}

fn one_by_one(
    scene: Scene<'_>,
    entries: impl Iterator<Item = Entry>,
    edit: impl Fn(Scene<'_>, Entry) -> Option<WallChange>,
) -> Option<Edited> {
    let mut wall = scene.wall.clone();
    let mut changes = Vec::new();
    for entry in entries {
        let Some(change) = edit(Scene { wall: &wall, ..scene }, entry) else { continue };
        if change.clone().apply(&mut wall).is_some() {
            changes.push(change);
        }
    }
    let change = together(changes)?;
    (wall != *scene.wall).then_some(Edited { change, wall })
}

/// Changes that make one step.
fn together(mut changes: Vec<WallChange>) -> Option<WallChange> {
    let last = changes.pop()?;
    if changes.is_empty() {
        return Some(last);
    }
    changes.push(last);
    Some(WallChange::Several(changes))
}

fn pull(scene: Scene<'_>, entry: Entry, grip: Grip, by: Point) -> Option<WallChange> {
    let wall = scene.wall;
    Some(match entry {
        Entry::Opening(at) => {
            let entry = opening(wall.openings.get(at)?, grip, by);
            WallChange::Openings(ListChange::Replace { at, entry })
        }
        Entry::Block(at) => {
            let bounds = figure::figure(scene, entry)?.bounds();
            let entry = block(*wall.blocks.get(at)?, bounds, grip, by);
            WallChange::Blocks(ListChange::Replace { at, entry })
        }
        Entry::Brace(at) => {
            let entry = brace(*wall.braces.get(at)?, grip, by);
            WallChange::Braces(ListChange::Replace { at, entry })
        }
        Entry::Thing(at) => {
            let entry = thing(wall.things.get(at)?, grip, by);
            WallChange::Things(ListChange::Replace { at, entry })
        }
        Entry::Zone(at) => {
            let entry = zone(*wall.zones.get(at)?, grip, by);
            WallChange::Zones(ListChange::Replace { at, entry })
        }
        Entry::Bay(at) => {
            let bay = wall.bays.get(at)?;
            let entry = BayException { at: bay.at + by.x, ..bay.clone() };
            WallChange::Bays(ListChange::Replace { at, entry })
        }
        Entry::Hole(at) => {
            let hole = *wall.drilling.holes.get(at)?;
            // What is drilled stays where it was drilled.
            if matches!(hole.state, OwnState::Drilled | OwnState::Patched) {
                return None;
            }
            let state = if hole.state == OwnState::Marked { OwnState::Set } else { hole.state };
            let entry =
                OwnHole { state, at: Point::new(hole.at.x + by.x, hole.at.y + by.y), ..hole };
            WallChange::Holes(ListChange::Replace { at, entry })
        }
        Entry::Extra(at) => {
            let extra = *wall.studs.extra.get(at)?;
            let entry = ExtraStud { centre: extra.centre + by.x, ..extra };
            WallChange::Extra(ListChange::Replace { at, entry })
        }
        Entry::Stud(idx) => stud(wall, idx, by.x)?,
        Entry::Top | Entry::Bottom => {
            let mut outline = Outline::of(wall);
            let pulled = match entry {
                Entry::Bottom => outline.bottom.as_mut()?,
                _ => &mut outline.top,
            };
            edge(pulled, grip, by);
            WallChange::Outline(outline)
        }
    })
}

fn remove(scene: Scene<'_>, entry: Entry) -> Option<WallChange> {
    let wall = scene.wall;
    Some(match entry {
        Entry::Opening(at) => WallChange::Openings(ListChange::Remove { at }),
        Entry::Block(at) => WallChange::Blocks(ListChange::Remove { at }),
        Entry::Brace(at) => WallChange::Braces(ListChange::Remove { at }),
        Entry::Thing(at) => WallChange::Things(ListChange::Remove { at }),
        Entry::Zone(at) => WallChange::Zones(ListChange::Remove { at }),
        Entry::Bay(at) => WallChange::Bays(ListChange::Remove { at }),
        Entry::Extra(at) => WallChange::Extra(ListChange::Remove { at }),
        Entry::Hole(at) => WallChange::Holes(ListChange::Remove { at }),
        Entry::Stud(idx) => {
            let found = *studs::layout(wall).get(idx)?;
            let missing = StudCorrection::Missing { stud: named(wall, found) };
            match (found.correction, &wall.studs.layout) {
                (Some(at), _) => {
                    WallChange::Corrections(ListChange::Replace { at, entry: missing })
                }
                (None, StudLayout::Regular { .. }) => {
                    let at = wall.studs.corrections.len();
                    WallChange::Corrections(ListChange::Insert { at, entry: missing })
                }
                (None, StudLayout::Measured { centres }) => {
                    let mut centres = centres.clone();
                    centres.remove(idx);
                    WallChange::Layout(StudLayout::Measured { centres })
                }
            }
        }
        Entry::Top | Entry::Bottom => return None,
    })
}

/// Where a double may go: to the right, to the left, and further off until it finds room.
fn offsets(scene: Scene<'_>, entry: Entry) -> Vec<Point> {
    let Some(figure) = figure::figure(scene, entry) else { return Vec::new() };
    let wide = figure.bounds().x.length();
    let first = match entry {
        // Kings and trimmers stand between two openings.
        Entry::Opening(_) => wide + inches(6.0),
        Entry::Block(_) | Entry::Bay(_) | Entry::Thing(_) | Entry::Hole(_) => {
            studs::spacing(scene.wall)
        }
        Entry::Brace(_) => inches(12.0),
        _ => wide,
    };
    let aside = |x: Length| Point::new(x, inches(0.0));
    let mut offsets = Vec::new();
    for step in 0..50_i32 {
        let x = first + inches(6.0) * f64::from(step);
        offsets.extend([aside(x), aside(-x)]);
    }
    offsets
}

fn double_hole(wall: &Wall, idx: usize, by: Point) -> Option<(WallChange, Entry)> {
    let hole = *wall.drilling.holes.get(idx)?;
    let place = Point::new(hole.at.x + by.x, hole.at.y + by.y);
    let entry = OwnHole { state: OwnState::Set, at: place, mark: None };
    let at = wall.drilling.holes.len();
    Some((WallChange::Holes(ListChange::Insert { at, entry }), Entry::Hole(at)))
}

fn double(wall: &Wall, entry: Entry, by: Point) -> Option<(WallChange, Entry)> {
    fn end<T>(list: &[T], entry: T) -> ListChange<T> {
        ListChange::Insert { at: list.len(), entry }
    }
    let whole = Grip::Whole;
    Some(match entry {
        Entry::Opening(idx) => {
            let double = opening(wall.openings.get(idx)?, whole, by);
            let double = Opening { name: None, ..double };
            let change = WallChange::Openings(end(&wall.openings, double));
            (change, Entry::Opening(wall.openings.len()))
        }
        Entry::Block(idx) => {
            let block = *wall.blocks.get(idx)?;
            let to = block.to.map(|to| to + by.x);
            let double = Block { from: block.from + by.x, to, ..block };
            let change = WallChange::Blocks(end(&wall.blocks, double));
            (change, Entry::Block(wall.blocks.len()))
        }
        Entry::Brace(idx) => {
            let double = brace(*wall.braces.get(idx)?, whole, by);
            let change = WallChange::Braces(end(&wall.braces, double));
            (change, Entry::Brace(wall.braces.len()))
        }
        Entry::Thing(idx) => {
            let double = thing(wall.things.get(idx)?, whole, by);
            let change = WallChange::Things(end(&wall.things, double));
            (change, Entry::Thing(wall.things.len()))
        }
        Entry::Zone(idx) => {
            let double = zone(*wall.zones.get(idx)?, whole, by);
            let change = WallChange::Zones(end(&wall.zones, double));
            (change, Entry::Zone(wall.zones.len()))
        }
        Entry::Bay(idx) => {
            let bay = wall.bays.get(idx)?;
            let double = BayException { at: bay.at + by.x, ..bay.clone() };
            let change = WallChange::Bays(end(&wall.bays, double));
            (change, Entry::Bay(wall.bays.len()))
        }
        Entry::Hole(idx) => double_hole(wall, idx, by)?,
        Entry::Extra(_) | Entry::Stud(_) => {
            let double = match entry {
                Entry::Extra(idx) => *wall.studs.extra.get(idx)?,
                _ => ExtraStud { kind: ExtraKind::Stud, centre: inches(0.0), width: None },
            };
            let stands = match entry {
                Entry::Stud(idx) => studs::layout(wall).get(idx)?.stands?,
                _ => double.centre,
            };
            let double = ExtraStud { centre: stands + by.x, ..double };
            let change = WallChange::Extra(end(&wall.studs.extra, double));
            (change, Entry::Extra(wall.studs.extra.len()))
        }
        Entry::Top | Entry::Bottom => return None,
    })
}

/// An upright rectangle as entries give it: left, up, width, height.
struct Sized {
    left: Length,
    up: Length,
    width: Length,
    height: Length,
}

impl Sized {
    /// Never turned inside out: an edge stops before the one across.
    fn pulled(self, grip: Grip, by: Point) -> Self {
        let least = limits::EXTENT.min;
        let Self { left, up, width, height } = self;
        match grip {
            Grip::Whole | Grip::Point(_) => {
                Self { left: left + by.x, up: up + by.y, width, height }
            }
            Grip::Left => {
                let by = shorter(by.x, width - least);
                Self { left: left + by, up, width: width - by, height }
            }
            Grip::Right => Self { left, up, width: longer(width + by.x, least), height },
            Grip::Low => {
                let by = shorter(by.y, height - least);
                Self { left, up: up + by, width, height: height - by }
            }
            Grip::High => Self { left, up, width, height: longer(height + by.y, least) },
        }
    }
}

fn opening(opening: &Opening, grip: Grip, by: Point) -> Opening {
    // A door stays on the floor.
    let on_floor = opening.kind == OpeningKind::Door && matches!(grip, Grip::Whole | Grip::Low);
    let by = if on_floor { Point::new(by.x, inches(0.0)) } else { by };
    let (left, width, height) = (opening.left, opening.width, opening.height);
    let up = opening.sill.unwrap_or(inches(0.0));
    let Sized { left, up, width, height } = Sized { left, up, width, height }.pulled(grip, by);
    Opening { left, width, height, sill: opening.sill.map(|_| up), ..opening.clone() }
}

fn zone(zone: Zone, grip: Grip, by: Point) -> Zone {
    let Zone { left, up, width, height, .. } = zone;
    let Sized { left, up, width, height } = Sized { left, up, width, height }.pulled(grip, by);
    Zone { left, up, width, height, ..zone }
}

fn thing(thing: &Thing, grip: Grip, by: Point) -> Thing {
    let at = match &thing.at {
        ThingShape::Box { left, up, width, height } => {
            let sized = Sized { left: *left, up: *up, width: *width, height: *height };
            let Sized { left, up, width, height } = sized.pulled(grip, by);
            ThingShape::Box { left, up, width, height }
        }
        ThingShape::Round { centre, diameter } => round((*centre, *diameter), grip, by),
        ThingShape::Run { points, diameter } => {
            let gripped = |idx: usize| grip == Grip::Point(idx) || grip == Grip::Whole;
            let point = |(idx, point): (usize, &Point)| {
                if gripped(idx) { plus(*point, by) } else { *point }
            };
            ThingShape::Run {
                points: points.iter().enumerate().map(point).collect(),
                diameter: *diameter,
            }
        }
    };
    Thing { at, ..thing.clone() }
}

/// A circle moves as a whole; pulled at a side it grows from the side across.
fn round((centre, diameter): (Point, Length), grip: Grip, by: Point) -> ThingShape {
    let half = diameter / 2.0;
    let sized =
        Sized { left: centre.x - half, up: centre.y - half, width: diameter, height: diameter };
    let pulled = sized.pulled(grip, by);
    let middle = Point::new(pulled.left + pulled.width / 2.0, pulled.up + pulled.height / 2.0);
    let upright = same(pulled.width, diameter);
    ThingShape::Round {
        centre: middle,
        diameter: if upright { pulled.height } else { pulled.width },
    }
}

/// A block reaches into bays; its ends are pulled from where it was framed.
fn block(block: Block, framed: Rect, grip: Grip, by: Point) -> Block {
    let limit = limits::BLOCK_HEIGHT;
    let height = block.height.or(limit.default).unwrap_or(limit.min);
    let sized = |height: Length| Some(longer(limit.min, shorter(height, limit.max)));
    match grip {
        Grip::Whole | Grip::Point(_) => Block {
            from: block.from + by.x,
            to: block.to.map(|to| to + by.x),
            up: block.up + by.y,
            ..block
        },
        Grip::Left => Block {
            from: longer(inches(0.0), shorter(framed.x.from + by.x, framed.x.to)),
            to: Some(block.to.unwrap_or(block.from)),
            ..block
        },
        Grip::Right => Block { to: Some(longer(framed.x.to + by.x, block.from)), ..block },
        Grip::Low => {
            let by = longer(shorter(by.y, height - limit.min), height - limit.max);
            Block { up: block.up + by, height: Some(height - by), ..block }
        }
        Grip::High => Block { height: sized(height + by.y), ..block },
    }
}

fn brace(brace: Brace, grip: Grip, by: Point) -> Brace {
    let (from, to) = (plus(brace.from, by), plus(brace.to, by));
    match grip {
        Grip::Point(0) => Brace { from, ..brace },
        Grip::Point(_) => Brace { to, ..brace },
        _ => Brace { from, to, ..brace },
    }
}

fn stud(wall: &Wall, idx: usize, by: Length) -> Option<WallChange> {
    let stud = *studs::layout(wall).get(idx)?;
    let found = stud.stands? + by;
    let entry = StudCorrection::Moved { stud: named(wall, stud), found };
    let as_laid_out = same(found, stud.layout);
    Some(match (stud.correction, &wall.studs.layout) {
        // Where it stands as the layout has it, nothing is to be corrected.
        (Some(at), _) if as_laid_out => WallChange::Corrections(ListChange::Remove { at }),
        (None, StudLayout::Regular { .. }) if as_laid_out => return None,
        (Some(at), _) => WallChange::Corrections(ListChange::Replace { at, entry }),
        (None, StudLayout::Regular { .. }) => {
            let at = wall.studs.corrections.len();
            WallChange::Corrections(ListChange::Insert { at, entry })
        }
        (None, StudLayout::Measured { centres }) => {
            let mut centres = centres.clone();
            *centres.get_mut(idx)? = found;
            WallChange::Layout(StudLayout::Measured { centres })
        }
    })
}

/// The place by which a correction names its stud.
fn named(wall: &Wall, stud: studs::Stud) -> Length {
    let correction = stud.correction.and_then(|idx| wall.studs.corrections.get(idx));
    match correction {
        Some(StudCorrection::Moved { stud, .. } | StudCorrection::Missing { stud }) => *stud,
        None => stud.layout,
    }
}

fn edge(edge: &mut Edge, grip: Grip, by: Point) {
    let whole = grip == Grip::Whole;
    let gripped = |idx: usize| whole || grip == Grip::Point(idx);
    match edge {
        Edge::Level { height } => *height += by.y,
        Edge::Raked { left, right } => {
            for (idx, height) in [left, right].into_iter().enumerate() {
                if gripped(idx) {
                    *height += by.y;
                }
            }
        }
        Edge::Gable { left, ridge_at, ridge, right } => {
            if grip == Grip::Point(1) {
                *ridge_at += by.x;
            }
            for (idx, height) in [left, ridge, right].into_iter().enumerate() {
                if gripped(idx) {
                    *height += by.y;
                }
            }
        }
        Edge::Points { points } => chain(points, grip, by),
    }
}

/// The ends of a chain stay at the ends of the wall, and no point passes another.
fn chain(points: &mut [Point], grip: Grip, by: Point) {
    if grip == Grip::Whole {
        points.iter_mut().for_each(|point| point.y += by.y);
        return;
    }
    let Grip::Point(idx) = grip else { return };
    let before = idx.checked_sub(1).and_then(|before| points.get(before)).map(|point| point.x);
    let after = points.get(idx + 1).map(|point| point.x);
    let Some(point) = points.get_mut(idx) else { return };
    if let (Some(before), Some(after)) = (before, after) {
        point.x = longer(before, shorter(point.x + by.x, after));
    }
    point.y += by.y;
}

fn plus(point: Point, by: Point) -> Point {
    Point::new(point.x + by.x, point.y + by.y)
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "both sides are rounded to a millionth of an inch")]
mod tests;
