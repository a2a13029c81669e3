//! Entries put where somebody touched the wall.

use risemark::{
    geometry::{Point, Rect},
    job::{
        BayException, Block, Brace, ExtraStud, Opening, OpeningKind, OwnHole, OwnState, Thing,
        ThingKind, ThingShape, Wall, Zone, ZoneKind,
    },
    quantity::{Length, inches, longer, shorter},
};

use super::{
    Entry, Grip, Scene,
    change::{self, Edited},
    figure,
    snap::{self, Hold},
};
use crate::{
    command::{ListChange, WallChange},
    fresh,
    shape::set_opening_kind,
};

/// What can be added by touching the wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A door.
    Door,
    /// A window.
    Window,
    /// A block.
    Block,
    /// A brace.
    Brace,
    /// An electrical box.
    Box,
    /// A cable.
    Cable,
    /// A panel on the wall.
    Panel,
    /// A stud beside the layout.
    Stud,
    /// A bay that differs.
    Bay,
    /// A hole where people want it.
    Hole,
}

impl Kind {
    /// Whether a wall of brick may have it between its leaves or on it.
    pub const fn is_in_brick(self) -> bool {
        !matches!(self, Self::Stud | Self::Brace)
    }
}

/// A wall with a new entry about a place, at rest there as if it had been dragged, and what is new.
///
/// `None` only when the place is no place at all.
pub fn added(scene: Scene<'_>, kind: Kind, at: Point, hold: Hold) -> Option<(Edited, Entry)> {
    let (change, entry) = fresh_at(scene.wall, kind, at);
    let mut wall = scene.wall.clone();
    change.clone().apply(&mut wall)?;
    let here = Scene { wall: &wall, ..scene };
    let still = Point::new(inches(0.0), inches(0.0));
    let readings = snap::moving(here, entry, Grip::Whole);
    let by = snap::rest(&readings, &snap::beside(here, &[entry]), still, hold).by;
    // What lies from stud to stud has no reading of its own across; the place that names its bay has.
    let x = if readings.across.is_empty() { hold.across.nearest(at.x) } else { at.x + by.x };
    let there = Point::new(x, at.y + by.y);
    let (rested, _) = fresh_at(scene.wall, kind, there);
    let mut at_rest = scene.wall.clone();
    rested.clone().apply(&mut at_rest)?;
    // Where it cannot rest it stays where it was put.
    Some(match change::is_usable(&at_rest) {
        true => (Edited { change: rested, wall: at_rest }, entry),
        false => (Edited { change, wall }, entry),
    })
}

/// A new entry about a place, kept inside the wall, and what it is.
fn fresh_at(wall: &Wall, kind: Kind, at: Point) -> (WallChange, Entry) {
    fn end<T>(list: &[T], entry: T) -> ListChange<T> {
        ListChange::Insert { at: list.len(), entry }
    }
    match kind {
        Kind::Door | Kind::Window => {
            let entry = Entry::Opening(wall.openings.len());
            (WallChange::Openings(end(&wall.openings, opening(wall, kind, at))), entry)
        }
        Kind::Block => {
            let block = Block { from: at.x, up: at.y, ..fresh::block(wall) };
            (WallChange::Blocks(end(&wall.blocks, block)), Entry::Block(wall.blocks.len()))
        }
        Kind::Brace => {
            let corner = corner(wall, at, inches(48.0), inches(48.0));
            let to = Point::new(corner.x.to, corner.y.to);
            let from = Point::new(corner.x.from, corner.y.from);
            let brace = Brace { from, to, ..fresh::brace(wall) };
            (WallChange::Braces(end(&wall.braces, brace)), Entry::Brace(wall.braces.len()))
        }
        Kind::Box | Kind::Cable => {
            let entry = Entry::Thing(wall.things.len());
            (WallChange::Things(end(&wall.things, thing(wall, kind, at))), entry)
        }
        Kind::Panel => {
            let Rect { x, y } = corner(wall, at, inches(24.0), inches(24.0));
            let (left, up, width, height) = (x.from, y.from, x.length(), y.length());
            let zone = Zone { kind: ZoneKind::Panel, left, up, width, height, ..fresh::zone(wall) };
            (WallChange::Zones(end(&wall.zones, zone)), Entry::Zone(wall.zones.len()))
        }
        Kind::Stud => {
            let extra = ExtraStud { centre: at.x, ..fresh::extra(wall) };
            (WallChange::Extra(end(&wall.studs.extra, extra)), Entry::Extra(wall.studs.extra.len()))
        }
        Kind::Hole => {
            let hole = OwnHole { state: OwnState::Set, at: inside(wall, at), mark: None };
            let entry = Entry::Hole(wall.drilling.holes.len());
            (WallChange::Holes(end(&wall.drilling.holes, hole)), entry)
        }
        Kind::Bay => {
            let bay = BayException { at: at.x, ..fresh::bay(wall) };
            (WallChange::Bays(end(&wall.bays, bay)), Entry::Bay(wall.bays.len()))
        }
    }
}

/// A place moved into the wall.
fn inside(wall: &Wall, at: Point) -> Point {
    let x = longer(inches(0.0), shorter(at.x, wall.width));
    Point::new(x, shorter(at.y, height(wall, x)))
}

fn opening(wall: &Wall, kind: Kind, at: Point) -> Opening {
    let mut opening = fresh::opening(wall);
    if kind == Kind::Door {
        set_opening_kind(&mut opening, OpeningKind::Door);
        opening.height = shorter(inches(80.0), height(wall, at.x));
    }
    let Rect { x, y } = corner(wall, at, opening.width, opening.height);
    (opening.left, opening.width) = (x.from, x.length());
    if kind == Kind::Window {
        (opening.sill, opening.height) = (Some(y.from), y.length());
    }
    opening
}

fn thing(wall: &Wall, kind: Kind, at: Point) -> Thing {
    let thing = fresh::thing(wall);
    if kind == Kind::Box {
        let Rect { x, y } = corner(wall, at, inches(2.0), inches(3.0));
        let (left, up, width, height) = (x.from, y.from, x.length(), y.length());
        return Thing { at: ThingShape::Box { left, up, width, height }, ..thing };
    }
    let Rect { y, .. } = corner(wall, at, inches(0.5), inches(24.0));
    let points = vec![Point::new(at.x, y.from), Point::new(at.x, y.to)];
    Thing { kind: ThingKind::Cable, at: ThingShape::Run { points, diameter: inches(0.5) }, ..thing }
}

/// A rectangle about a place, moved and at last cut so that it lies inside the wall.
fn corner(wall: &Wall, at: Point, width: Length, height_wanted: Length) -> Rect {
    let inside = |middle: Length, size: Length, room: Length| {
        let size = shorter(size, room);
        let from = longer(inches(0.0), shorter(middle - size / 2.0, room - size));
        (from, size)
    };
    let (left, width) = inside(at.x, width, wall.width);
    let (up, height) = inside(at.y, height_wanted, height(wall, at.x));
    Rect::from_corner(left, up, width, height)
}

/// The height of the wall at a place, where its upper edge is at its lowest thereabouts.
fn height(wall: &Wall, x: Length) -> Length {
    let chain = figure::chain(&wall.top, wall.width);
    let near = chain.windows(2).filter(|pair| pair[0].x <= x && x <= pair[1].x);
    let lower = near.map(|pair| {
        let (a, b) = (pair[0], pair[1]);
        let run = b.x - a.x;
        if run <= inches(0.0) { shorter(a.y, b.y) } else { a.y + (b.y - a.y) * ((x - a.x) / run) }
    });
    lower.reduce(shorter).unwrap_or(inches(96.0))
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "both sides are rounded to a millionth of an inch")]
mod tests {
    use risemark::quantity::to_inches;

    use super::*;
    use crate::edit::{change::is_usable, tests::planned};

    const KINDS: [Kind; 9] = [
        Kind::Door,
        Kind::Window,
        Kind::Block,
        Kind::Brace,
        Kind::Box,
        Kind::Cable,
        Kind::Panel,
        Kind::Stud,
        Kind::Bay,
    ];

    #[test]
    fn whatever_is_added_anywhere_on_the_wall_can_be_planned() {
        let (wall, plan) = planned("workshop-north", |_| ());
        let scene = Scene { wall: &wall, frame: &plan.frame };
        let hold = Hold::of(&wall, inches(1.0), inches(0.25));
        for kind in KINDS {
            for (x, y) in [(90.0, 50.0), (0.0, 0.0), (192.0, 97.0), (191.0, 1.0), (2.0, 90.0)] {
                let at = Point::new(inches(x), inches(y));
                let Some((edited, entry)) = added(scene, kind, at, hold) else {
                    panic!("{kind:?} at {x}, {y}")
                };
                assert!(entry.is_on(&edited.wall) && !entry.is_on(&wall), "{entry:?} is new");
                assert!(is_usable(&edited.wall), "{kind:?} at {x}, {y}");
                let mut replayed = wall.clone();
                assert!(edited.change.apply(&mut replayed).is_some(), "{kind:?} at {x}, {y}");
                assert_eq!(replayed, edited.wall, "{kind:?} at {x}, {y}");
            }
        }
    }

    #[test]
    fn a_window_stands_about_the_place_that_was_touched() {
        let (wall, _) = planned("workshop-north", |_| ());
        let window = opening(&wall, Kind::Window, Point::new(inches(100.0), inches(60.0)));
        assert_eq!(to_inches(window.left + window.width / 2.0), 100.0, "across");
        let up = window.sill.map(|sill| to_inches(sill + window.height / 2.0));
        assert_eq!(up, Some(60.0), "up");
    }

    #[test]
    fn a_door_fits_under_a_low_slope() {
        let (wall, _) = planned("attic-east", |_| ());
        for x in [20.0, 60.0, 100.0] {
            let at = Point::new(inches(x), inches(10.0));
            let door = opening(&wall, Kind::Door, at);
            assert!(door.height <= height(&wall, at.x), "{} in at {x} in", to_inches(door.height));
        }
    }
}
