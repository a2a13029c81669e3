//! What steps are called, for the buttons that take them back and do them again.

use risemark::{
    finding::Noun,
    job::{Job, Wall},
    language::{Text, text},
    say,
    wording::noun,
};

use super::{
    CAVITY_DEPTH, CONSTRUCTION, CREW, DATE, FINISH, FOAM, FRAMED_OF, HOLES, LAYOUT, NAME, PLACE,
    PLATES, ROOM, ROWS_FROM, RULES, STUD_THICKNESS, UNITS, WIDTH, Word, YEAR_BUILT, language,
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
        Command::Units(_) => UNITS,
        Command::YearBuilt(_) => YEAR_BUILT,
        Command::Rules(_) => RULES,
        Command::Foam(_) => FOAM,
        Command::Crew(_) => CREW,
        Command::Walls(change) => {
            let verb = verb(change);
            return say!(language(), "wall {verb}", "{verb} pared");
        }
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
            return entry_step(noun(Noun::StudCorrection), change, wall);
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
        WallChange::Drilling(_) => HOLES,
        // Several changes are one step for one reason, which the first of them tells.
        WallChange::Several(changes) => {
            let first = changes.first().map(|change| wall_step(change, wall));
            return first.unwrap_or_default();
        }
    };
    let (label, wall) = (label.text().to_ascii_lowercase(), &wall.name);
    say!(language(), "{label} of {wall}", "{label} de {wall}")
}

fn entry_step<T>(noun: Text, change: &ListChange<T>, wall: &Wall) -> String {
    let (wall, noun, verb) = (&wall.name, noun.of(language()), verb(change));
    say!(language(), "{wall}: {noun} {verb}", "{wall}: {verb} {noun}")
}

fn verb<T>(change: &ListChange<T>) -> &'static str {
    // In Spanish what to do, not what was done, which would follow the gender of the noun.
    let verb = match change {
        ListChange::Insert { .. } => text("added", "agregar"),
        ListChange::Replace { .. } => text("changed", "cambiar"),
        ListChange::Remove { .. } => text("removed", "quitar"),
        ListChange::Move { .. } => text("moved", "mover"),
    };
    verb.of(language())
}
