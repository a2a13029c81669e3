//! What steps are called, for the buttons that take them back and do them again.

use std::cmp::Ordering;

use risemark::{
    finding::Noun,
    job::{CrewSettings, Drilling, FoamSettings, Job, OwnHole, OwnState, StudCorrection, Wall},
    language::{Text, text},
    say,
    wording::noun,
};

use super::{
    CAVITY_DEPTH, CONSTRUCTION, CREW, DATE, FINISH, FOAM, FRAMED_OF, LAYOUT, NAME, ORDER, PLACE,
    PLATES, ROOM, ROWS_FROM, RULES, STUD_THICKNESS, WIDTH, Word, YEAR_BUILT, YOUR_PRICES, language,
};
use crate::command::{Command, ListChange, WallChange};

/// A step in a few words, such as `width of Street wall`.
///
/// It is kept with the step, in the language in which the step was done.
pub fn step(command: &Command, job: &Job) -> String {
    let label = match command {
        Command::Name(_) => NAME,
        Command::Place(_) => PLACE,
        Command::Date(_) => DATE,
        Command::Units(_) => Word::new(text("Units", "Unidades")),
        Command::YearBuilt(_) => YEAR_BUILT,
        Command::Rules(_) => RULES,
        Command::Foam(foam) => return foam_step(&job.foam, foam),
        Command::Crew(crew) => crew_label(&job.crew, crew),
        Command::Walls(change) => return walls_step(change, &job.walls),
        Command::Whole { what, .. } => *what,
        Command::Wall { id, change } => {
            let wall = job.walls.iter().find(|wall| wall.id == *id);
            return wall.map(|wall| wall_step(change, wall)).unwrap_or_default();
        }
    };
    label.text().to_ascii_lowercase()
}

fn wall_step(change: &WallChange, wall: &Wall) -> String {
    let label = match change {
        WallChange::Name(_) => NAME,
        WallChange::Room(_) => ROOM,
        WallChange::Construction(_) => CONSTRUCTION,
        WallChange::Datum(_) => Word::new(text("Datum", "Origen")),
        WallChange::Side(_) => Word::new(text("Side", "Lado")),
        WallChange::Outline(outline) if outline.width != wall.width => WIDTH,
        WallChange::Outline(_) => Word::new(text("Edges", "Bordes")),
        WallChange::Depth(_) => CAVITY_DEPTH,
        WallChange::Lumber(_) => FRAMED_OF,
        WallChange::Finish(_) => FINISH,
        WallChange::Plates(_) => PLATES,
        WallChange::StudThickness(_) => STUD_THICKNESS,
        WallChange::Layout(_) => LAYOUT,
        WallChange::Corrections(change) => {
            return format!("{}: {}", wall.name, stud_step(change).of(language()));
        }
        WallChange::Extra(change) => return entry_step(noun(Noun::ExtraStud), change, wall),
        WallChange::Openings(change) => return entry_step(noun(Noun::Opening), change, wall),
        WallChange::Blocks(change) => return entry_step(noun(Noun::Block), change, wall),
        WallChange::Braces(change) => return entry_step(noun(Noun::Brace), change, wall),
        WallChange::Things(change) => return entry_step(noun(Noun::Thing), change, wall),
        WallChange::Zones(change) => {
            return entry_step(text("thing on it", "objeto sobre ella"), change, wall);
        }
        WallChange::Bays(change) => return entry_step(noun(Noun::Bay), change, wall),
        WallChange::Liked(change) => return entry_step(noun(Noun::Liked), change, wall),
        WallChange::Barred(change) => return entry_step(noun(Noun::Band), change, wall),
        WallChange::Holes(change) => return entry_step(noun(Noun::Hole), change, wall),
        WallChange::Probed(change) => return entry_step(noun(Noun::Probe), change, wall),
        WallChange::RowsFrom(_) => ROWS_FROM,
        WallChange::Drilling(drilling) => {
            let (wall, did) = (&wall.name, drilling_step(&wall.drilling, drilling).of(language()));
            return format!("{wall}: {did}");
        }
        WallChange::Several(changes) => return several_step(changes, wall),
    };
    let (label, wall) = (label.text().to_ascii_lowercase(), &wall.name);
    say!(language(), "{label} of {wall}", "{label} de {wall}")
}

fn several_step(changes: &[WallChange], wall: &Wall) -> String {
    // With what is said about holes and spaces they have one reason, which the first of them tells.
    if let Some(first) = changes.first()
        && changes.iter().any(|change| matches!(change, WallChange::Drilling(_)))
    {
        return wall_step(first, wall);
    }
    let (wall, n_entries) = (&wall.name, changes.len());
    let all = |what: What| changes.iter().all(|change| what_of(change) == what);
    if all(What::Removed) {
        say!(language(), "{wall}: {n_entries} things removed", "{wall}: quitar {n_entries} cosas")
    } else if all(What::Added) {
        say!(language(), "{wall}: {n_entries} things added", "{wall}: agregar {n_entries} cosas")
    } else {
        say!(language(), "{wall}: {n_entries} things moved", "{wall}: mover {n_entries} cosas")
    }
}

/// What a change does to an entry.
#[derive(Clone, Copy, PartialEq, Eq)]
enum What {
    Added,
    Removed,
    Changed,
}

impl What {
    fn of<T>(change: &ListChange<T>) -> Self {
        match change {
            ListChange::Insert { .. } => Self::Added,
            ListChange::Remove { .. } => Self::Removed,
            ListChange::Replace { .. } | ListChange::Move { .. } => Self::Changed,
        }
    }
}

fn what_of(change: &WallChange) -> What {
    match change {
        WallChange::Corrections(change) => match change {
            ListChange::Insert { entry, .. } | ListChange::Replace { entry, .. } => match entry {
                StudCorrection::Missing { .. } => What::Removed,
                StudCorrection::Moved { .. } => What::Changed,
            },
            ListChange::Remove { .. } | ListChange::Move { .. } => What::Removed,
        },
        WallChange::Extra(change) => What::of(change),
        WallChange::Openings(change) => What::of(change),
        WallChange::Blocks(change) => What::of(change),
        WallChange::Braces(change) => What::of(change),
        WallChange::Things(change) => What::of(change),
        WallChange::Zones(change) => What::of(change),
        WallChange::Bays(change) => What::of(change),
        WallChange::Holes(change) => What::of(change),
        _ => What::Changed,
    }
}

fn stud_step(change: &ListChange<StudCorrection>) -> Text {
    match change {
        ListChange::Insert { entry, .. } | ListChange::Replace { entry, .. } => match entry {
            StudCorrection::Moved { .. } => text("stud moved", "mover montante"),
            StudCorrection::Missing { .. } => text("stud removed", "quitar montante"),
        },
        ListChange::Remove { .. } | ListChange::Move { .. } => {
            text("stud put back", "reponer montante")
        }
    }
}

fn walls_step(change: &ListChange<Box<Wall>>, walls: &[Wall]) -> String {
    let wall = match change {
        ListChange::Insert { entry, .. } | ListChange::Replace { entry, .. } => Some(&**entry),
        ListChange::Remove { at } | ListChange::Move { from: at, .. } => walls.get(*at),
    };
    let (wall, verb) = (wall.map_or("", |wall| &wall.name), verb(change));
    say!(language(), "{wall} {verb}", "{verb} {wall}")
}

fn foam_step(before: &FoamSettings, now: &FoamSettings) -> String {
    let of = |noun: Text, n_before: usize, n_now: usize| {
        let verb = match n_now.cmp(&n_before) {
            Ordering::Greater => ADDED,
            Ordering::Equal => CHANGED,
            Ordering::Less => REMOVED,
        };
        let (noun, verb) = (noun.of(language()), verb.of(language()));
        say!(language(), "{noun} {verb}", "{verb} {noun}")
    };
    if before.test_shots != now.test_shots {
        return of(noun(Noun::TestShot), before.test_shots.len(), now.test_shots.len());
    }
    if before.kits != now.kits {
        return of(text("kit size", "tamaño de kit"), before.kits.len(), now.kits.len());
    }
    let label = if before.prices == now.prices { FOAM } else { YOUR_PRICES };
    label.text().to_ascii_lowercase()
}

fn crew_label(before: &CrewSettings, now: &CrewSettings) -> Word {
    let wishes =
        |crew: &CrewSettings| (crew.first.clone(), crew.walls.clone(), crew.sequence.clone());
    if wishes(before) == wishes(now) { CREW } else { ORDER }
}

/// What was said about the holes, spaces or rows of a wall.
fn drilling_step(before: &Drilling, now: &Drilling) -> Text {
    if before.liked != now.liked {
        return text("heights of rows taken over", "alturas de filas adoptadas");
    }
    if before.probed.len() < now.probed.len() {
        return text("space probed", "espacio sondeado");
    }
    if before.probed != now.probed {
        return text("probe taken back", "sondeo deshecho");
    }
    let n_of = |drilling: &Drilling, state: OwnState| {
        let is_of = |hole: &&OwnHole| hole.state == state;
        drilling.holes.iter().filter(is_of).count()
    };
    let more = |state: OwnState| n_of(before, state) < n_of(now, state);
    if more(OwnState::Patched) {
        text("hole patched over", "agujero resanado")
    } else if more(OwnState::Drilled) {
        text("hole drilled", "agujero taladrado")
    } else if more(OwnState::LeftOut) {
        text("hole left out", "agujero omitido")
    } else if more(OwnState::Set) {
        text("hole kept", "agujero fijado")
    } else if more(OwnState::Marked) {
        text("holes marked", "agujeros marcados")
    } else {
        text("given back to the planner", "devuelto al programa")
    }
}

fn entry_step<T>(noun: Text, change: &ListChange<T>, wall: &Wall) -> String {
    let (wall, noun, verb) = (&wall.name, noun.of(language()), verb(change));
    say!(language(), "{wall}: {noun} {verb}", "{wall}: {verb} {noun}")
}

fn verb<T>(change: &ListChange<T>) -> &'static str {
    // In Spanish what to do, not what was done, which would follow the gender of the noun.
    let verb = match change {
        ListChange::Insert { .. } => ADDED,
        ListChange::Replace { .. } => CHANGED,
        ListChange::Remove { .. } => REMOVED,
        ListChange::Move { .. } => text("moved", "mover"),
    };
    verb.of(language())
}

const ADDED: Text = text("added", "agregar");
const CHANGED: Text = text("changed", "cambiar");
const REMOVED: Text = text("removed", "quitar");

#[cfg(test)]
mod tests {
    use risemark::plan::plan;

    use super::*;
    use crate::{edit::holes, sample};

    #[test]
    fn steps_say_what_was_done_to_what() {
        let job = sample::job();
        let wall = &job.walls[1];
        let added = ListChange::Insert {
            at: 2,
            entry: Box::new(Wall { name: "Copy".into(), ..wall.clone() }),
        };
        assert_eq!(step(&Command::Walls(added), &job), "Copy added");
        let removed = step(&Command::Walls(ListChange::Remove { at: 1 }), &job);
        assert_eq!(removed, format!("{} removed", wall.name));
        let mut foam = job.foam.clone();
        foam.kits.push(risemark::job::Kit { board_feet: 15.0, price: None, at_hand: None });
        assert_eq!(step(&Command::Foam(Box::new(foam)), &job), "kit size added");
        let foam = FoamSettings { usable: Some(90.0), ..job.foam.clone() };
        assert_eq!(step(&Command::Foam(Box::new(foam)), &job), FOAM.text().to_lowercase());
        let of_wall = |change: WallChange| {
            step(&Command::Wall { id: wall.id.clone(), change }, &job).replace(&wall.name, "")
        };
        let missing =
            || ListChange::Insert { at: 0, entry: StudCorrection::Missing { stud: wall.width } };
        assert_eq!(of_wall(WallChange::Corrections(missing())), ": stud removed");
        let opening = |at| WallChange::Openings(ListChange::Remove { at });
        let several = vec![opening(1), WallChange::Corrections(missing())];
        assert_eq!(of_wall(WallChange::Several(several)), ": 2 things removed");
        let width = WallChange::Layout(wall.studs.layout.clone());
        let several = vec![opening(1), width];
        assert_eq!(of_wall(WallChange::Several(several)), ": 2 things moved");
        let crew = CrewSettings { walls: vec![wall.id.clone()], ..job.crew.clone() };
        assert_eq!(step(&Command::Crew(crew), &job), ORDER.text().to_lowercase());
    }

    #[test]
    fn what_is_said_of_a_hole_is_named() {
        let mut job = sample::job();
        let said =
            |job: &mut Job,
             act: &dyn Fn(&Wall, &risemark::plan::WallPlan) -> Option<WallChange>| {
                let plan = plan(job);
                let change = act(&job.walls[0], &plan.walls[0]).expect("it can be said");
                let id = job.walls[0].id.clone();
                let name = step(&Command::Wall { id, change: change.clone() }, job);
                change.apply(&mut job.walls[0]).expect("it applies");
                name.split_once(": ")
                    .map(|(_, did)| did.to_owned())
                    .expect("the wall is named first")
            };
        let state = |mark: usize, state: OwnState| {
            move |wall: &Wall, plan: &risemark::plan::WallPlan| {
                holes::stated(wall, plan, mark, state)
            }
        };
        assert_eq!(said(&mut job, &state(2, OwnState::Set)), "hole kept");
        assert_eq!(said(&mut job, &state(3, OwnState::LeftOut)), "hole left out");
        assert_eq!(
            said(&mut job, &|wall, plan| holes::given_back(wall, plan, 2)),
            "given back to the planner"
        );
        assert_eq!(said(&mut job, &state(1, OwnState::Drilled)), "hole drilled");
        assert_eq!(said(&mut job, &state(1, OwnState::Patched)), "hole patched over");
        let probe = |clear: bool| {
            move |wall: &Wall, plan: &risemark::plan::WallPlan| {
                Some(holes::probed(wall, &plan.compartments[0], clear))
            }
        };
        assert_eq!(said(&mut job, &probe(true)), "space probed");
        assert_eq!(said(&mut job, &probe(false)), "probe taken back");
    }
}
