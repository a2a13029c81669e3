//! What a wall and each of its entries is when it is added: usable at once, and easy to correct.

use risemark::{
    geometry::{Point, Span},
    job::{
        Band, BayException, Block, BlockKind, Brace, BraceKind, Construction, CrewSettings,
        Drilling, Edge, End, ExtraKind, ExtraStud, Finish, FoamSettings, Header, Job, Liked,
        Opening, OpeningKind, OwnHole, OwnState, Plates, RuleSettings, Side, StudCorrection, Studs,
        Thing, ThingKind, ThingShape, Wall, Zone, ZoneKind,
    },
    quantity::{Length, Units, inches, shorter},
};

use crate::words;

/// A job without a wall.
pub fn job(units: Units) -> Job {
    Job {
        name: words::NEW_JOB_NAME.text().to_owned(),
        place: None,
        date: None,
        units,
        year_built: None,
        rules: RuleSettings::default(),
        foam: FoamSettings::default(),
        crew: CrewSettings::default(),
        walls: Vec::new(),
    }
}

/// A wall from three answers: how wide, how high, how deep.
pub fn wall(job: &Job, width: Length, height: Length, depth: Option<Length>) -> Wall {
    let number = job.walls.len() + 1;
    Wall {
        id: free_id(job, "wall"),
        name: words::new_wall(number),
        room: None,
        construction: Construction::default(),
        datum: End::default(),
        side: Side::default(),
        width,
        top: Edge::Level { height },
        bottom: None,
        depth,
        lumber: None,
        finish: Finish::default(),
        plates: Plates::default(),
        studs: Studs::default(),
        openings: Vec::new(),
        blocks: Vec::new(),
        braces: Vec::new(),
        things: Vec::new(),
        zones: Vec::new(),
        bays: Vec::new(),
        drilling: Drilling::default(),
    }
}

/// A copy of a wall under an id of its own.
pub fn copy(job: &Job, wall: &Wall, suffix: &str) -> Wall {
    let name: String = format!("{}, {suffix}", wall.name);
    Wall { id: free_id(job, "wall"), name, ..wall.clone() }
}

fn free_id(job: &Job, stem: &str) -> String {
    let taken = |id: &String| job.walls.iter().any(|wall| wall.id == *id);
    let mut ids = (1..).map(|number| format!("{stem}-{number}"));
    ids.find(|id| !taken(id)).unwrap_or_else(|| stem.to_owned())
}

/// A window where there is room for one.
pub fn opening(wall: &Wall) -> Opening {
    let width = shorter(inches(30.0), wall.width / 3.0);
    // The framing of an opening takes about this much on each side.
    let beside = inches(6.0);
    let taken: Vec<Span> =
        wall.openings.iter().map(|other| Span::new(other.left, other.left + other.width)).collect();
    let needed = width + beside + beside;
    let free = Span::new(inches(0.0), wall.width).without(&taken);
    let room = free.into_iter().find(|span| needed < span.length());
    let left = room.map_or((wall.width - width) / 2.0, |span| span.from + beside);
    Opening {
        kind: OpeningKind::Window,
        name: None,
        left: whole_inches(left),
        width: whole_inches(width),
        height: inches(36.0),
        sill: Some(inches(36.0)),
        kings: None,
        trimmers: None,
        header: Header::default(),
        sill_thickness: None,
    }
}

/// A block in the first bay, at half height.
pub fn block(wall: &Wall) -> Block {
    Block { kind: BlockKind::Full, from: first_bay(wall), to: None, up: inches(48.0), height: None }
}

/// A let-in brace from the lower left upwards.
pub fn brace(wall: &Wall) -> Brace {
    let run = shorter(wall.width / 2.0, inches(84.0));
    let from = Point::new(inches(0.0), inches(1.5));
    Brace {
        kind: BraceKind::LetIn,
        from,
        to: Point::new(whole_inches(run), inches(84.0)),
        width: None,
    }
}

/// An electrical box in the first bay, at the height of an outlet.
pub fn thing(wall: &Wall) -> Thing {
    let (left, up, width, height) = (first_bay(wall), inches(12.0), inches(2.0), inches(3.0));
    Thing {
        kind: ThingKind::ElectricalBox,
        at: ThingShape::Box { left, up, width, height },
        keep_off: None,
        effect: None,
    }
}

/// A baseboard along the whole wall.
pub fn zone(wall: &Wall) -> Zone {
    let (left, up) = (inches(0.0), inches(0.0));
    Zone {
        kind: ZoneKind::Baseboard,
        left,
        up,
        width: wall.width,
        height: inches(5.5),
        keep_off: None,
    }
}

/// The first bay, left out of nothing yet.
pub fn bay(wall: &Wall) -> BayException {
    BayException { at: first_bay(wall), depth: None, skip: None }
}

/// A height at which a row is liked, about the middle of a wall.
pub fn liked(_: &Wall) -> Liked {
    Liked::Height { up: inches(48.0) }
}

/// A band without holes, where a picture rail would be.
pub fn band(_: &Wall) -> Band {
    Band { from: inches(72.0), to: inches(75.0) }
}

/// A hole where somebody wants it, in the first bay.
pub fn own_hole(wall: &Wall) -> OwnHole {
    OwnHole { state: OwnState::Set, at: Point::new(first_bay(wall), inches(48.0)), mark: None }
}

/// A stud that was found elsewhere; for a start, where the layout has it.
pub fn correction(wall: &Wall) -> StudCorrection {
    let stud = shorter(inches(16.0), wall.width / 2.0);
    StudCorrection::Moved { stud, found: stud }
}

/// A stud more, beside the left end stud.
pub fn extra(_wall: &Wall) -> ExtraStud {
    ExtraStud { kind: ExtraKind::Stud, centre: inches(2.25), width: None }
}

fn first_bay(wall: &Wall) -> Length {
    shorter(inches(8.0), wall.width / 2.0)
}

fn whole_inches(length: Length) -> Length {
    inches((length / inches(1.0)).value.floor())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::{Command, ListChange, WallChange};
    use crate::history::History;

    fn check(change: fn(&Wall) -> WallChange) {
        for width in [12.0, 48.0, 192.0] {
            let mut job = job(Units::FeetInches);
            let wall = wall(&job, inches(width), inches(97.125), None);
            let change = change(&wall);
            let id = wall.id.clone();
            job.walls.push(wall);
            let mut history = History::new(&job).expect("a fresh wall is usable");
            let outcome = history.run(Command::Wall { id, change: change.clone() });
            assert_eq!(outcome, Ok(()), "{change:?} on a wall {width} in wide");
        }
    }

    #[test]
    fn everything_that_is_added_is_usable_at_once() {
        check(|wall| WallChange::Openings(ListChange::Insert { at: 0, entry: opening(wall) }));
        check(|wall| WallChange::Blocks(ListChange::Insert { at: 0, entry: block(wall) }));
        check(|wall| WallChange::Braces(ListChange::Insert { at: 0, entry: brace(wall) }));
        check(|wall| WallChange::Things(ListChange::Insert { at: 0, entry: thing(wall) }));
        check(|wall| WallChange::Zones(ListChange::Insert { at: 0, entry: zone(wall) }));
        check(|wall| WallChange::Bays(ListChange::Insert { at: 0, entry: bay(wall) }));
        check(|wall| {
            WallChange::Corrections(ListChange::Insert { at: 0, entry: correction(wall) })
        });
        check(|wall| WallChange::Extra(ListChange::Insert { at: 0, entry: extra(wall) }));
    }

    #[test]
    fn copies_bear_ids_of_their_own() {
        let mut job = job(Units::Metric);
        for _ in 0..3 {
            let wall = wall(&job, inches(96.0), inches(96.0), None);
            job.walls.push(wall);
            let copy = copy(&job, &job.walls[0], "copy");
            job.walls.push(copy);
        }
        assert_eq!(risemark::check(&job), [], "no id stands twice");
    }
}
