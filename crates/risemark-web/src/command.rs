//! Everything that can be done to a job: small values that are applied, undone, stored and replayed.

use risemark::{
    geometry::Point,
    job::{
        Band, BayException, Block, Brace, Construction, CrewSettings, Drilling, End, ExtraStud,
        Finish, FoamSettings, Job, Liked, Lumber, Opening, OwnHole, Plates, RowsFrom, RuleSettings,
        Side, StudCorrection, StudLayout, Thing, Wall, Zone,
    },
    quantity::{Length, Units},
};

use crate::{shape::Outline, words::Word};

/// One step of the user.
#[derive(Debug, Clone, PartialEq)]
pub enum Command {
    /// What the job is called.
    Name(String),
    /// Where it is.
    Place(Option<String>),
    /// The date on the sheets.
    Date(Option<String>),
    /// How lengths are typed and shown.
    Units(Units),
    /// The year the house was built.
    YearBuilt(Option<i32>),
    /// The settings of the rules.
    Rules(RuleSettings),
    /// What is known and wanted of the foam.
    Foam(Box<FoamSettings>),
    /// How the crew works, and what is fixed of the order of shots.
    Crew(CrewSettings),
    /// The list of walls.
    Walls(ListChange<Box<Wall>>),
    /// One wall.
    Wall {
        /// Which one.
        id: String,
        /// What of it.
        change: WallChange,
    },
    /// Walls as a whole, each in place of the one that bears its id.
    Whole {
        /// What was done to them, in a few words.
        what: Word,
        /// The walls as they are afterwards.
        walls: Vec<Wall>,
    },
}

/// A change of one wall, with the new value of what changes.
#[derive(Debug, Clone, PartialEq)]
pub enum WallChange {
    /// What people call the wall.
    Name(String),
    /// The room it belongs to.
    Room(Option<String>),
    /// How it is built.
    Construction(Construction),
    /// The end that readings across are taken from.
    Datum(End),
    /// The side that is drilled.
    Side(Side),
    /// Its width and its edges.
    Outline(Outline),
    /// Depth of the cavity.
    Depth(Option<Length>),
    /// The lumber it is presumed to be framed of.
    Lumber(Option<Lumber>),
    /// What is drilled through.
    Finish(Finish),
    /// Plates.
    Plates(Plates),
    /// Thickness of the studs.
    StudThickness(Option<Length>),
    /// Where the studs stand.
    Layout(StudLayout),
    /// Studs that are not where the layout has them.
    Corrections(ListChange<StudCorrection>),
    /// Members beside the layout.
    Extra(ListChange<ExtraStud>),
    /// Doors and windows.
    Openings(ListChange<Opening>),
    /// Blocks.
    Blocks(ListChange<Block>),
    /// Braces.
    Braces(ListChange<Brace>),
    /// Things in the wall.
    Things(ListChange<Thing>),
    /// Things on the wall.
    Zones(ListChange<Zone>),
    /// Bays that differ.
    Bays(ListChange<BayException>),
    /// Where the heights of rows are measured from.
    RowsFrom(RowsFrom),
    /// Heights at which rows are liked.
    Liked(ListChange<Liked>),
    /// Bands without holes.
    Barred(ListChange<Band>),
    /// Holes that are not the planner's to choose.
    Holes(ListChange<OwnHole>),
    /// Everything that is wanted of the holes, and what has become of them.
    Drilling(Drilling),
    /// Places that were probed.
    Probed(ListChange<Point>),
    /// Changes that belong together, one after the other.
    Several(Vec<Self>),
}

/// A change of a list; positions count from 0.
#[derive(Debug, Clone, PartialEq)]
pub enum ListChange<T> {
    /// Puts an entry before the one that stands at a position.
    Insert {
        /// The position.
        at: usize,
        /// The entry.
        entry: T,
    },
    /// Puts an entry in place of another.
    Replace {
        /// The position.
        at: usize,
        /// The entry.
        entry: T,
    },
    /// Takes an entry out.
    Remove {
        /// The position.
        at: usize,
    },
    /// Moves an entry to another position.
    Move {
        /// Where it stands.
        from: usize,
        /// Where it stands afterwards.
        to: usize,
    },
}

impl Command {
    /// Does the step and returns the one that takes it back.
    ///
    /// `None`, and an unchanged job, when the step names something the job does not have.
    #[must_use]
    pub fn apply(self, job: &mut Job) -> Option<Self> {
        Some(match self {
            Self::Name(new) => Self::Name(std::mem::replace(&mut job.name, new)),
            Self::Place(new) => Self::Place(std::mem::replace(&mut job.place, new)),
            Self::Date(new) => Self::Date(std::mem::replace(&mut job.date, new)),
            Self::Units(new) => Self::Units(std::mem::replace(&mut job.units, new)),
            Self::YearBuilt(new) => Self::YearBuilt(std::mem::replace(&mut job.year_built, new)),
            Self::Rules(new) => Self::Rules(std::mem::replace(&mut job.rules, new)),
            Self::Foam(mut new) => {
                std::mem::swap(&mut job.foam, &mut new);
                Self::Foam(new)
            }
            Self::Crew(new) => Self::Crew(std::mem::replace(&mut job.crew, new)),
            Self::Walls(change) => Self::Walls(change.apply_boxed(&mut job.walls)?),
            Self::Wall { id, change } => {
                let wall = job.walls.iter_mut().find(|wall| wall.id == id)?;
                let change = change.apply(wall)?;
                Self::Wall { id, change }
            }
            Self::Whole { what, walls } => Self::Whole { what, walls: exchange(job, walls)? },
        })
    }
}

fn exchange(job: &mut Job, walls: Vec<Wall>) -> Option<Vec<Wall>> {
    let place = |wall: &Wall| job.walls.iter().position(|other| other.id == wall.id);
    let places: Option<Vec<usize>> = walls.iter().map(place).collect();
    let pairs = places?.into_iter().zip(walls);
    Some(pairs.map(|(at, wall)| std::mem::replace(&mut job.walls[at], wall)).collect())
}

impl WallChange {
    /// Does the change and returns the one that takes it back.
    ///
    /// `None`, and an unchanged wall, when the change names something the wall does not have.
    #[must_use]
    pub fn apply(self, wall: &mut Wall) -> Option<Self> {
        Some(match self {
            Self::Name(new) => Self::Name(std::mem::replace(&mut wall.name, new)),
            Self::Room(new) => Self::Room(std::mem::replace(&mut wall.room, new)),
            Self::Construction(new) => {
                Self::Construction(std::mem::replace(&mut wall.construction, new))
            }
            Self::Datum(new) => Self::Datum(std::mem::replace(&mut wall.datum, new)),
            Self::Side(new) => Self::Side(std::mem::replace(&mut wall.side, new)),
            Self::Outline(new) => Self::Outline(new.put(wall)),
            Self::Depth(new) => Self::Depth(std::mem::replace(&mut wall.depth, new)),
            Self::Lumber(new) => Self::Lumber(std::mem::replace(&mut wall.lumber, new)),
            Self::Finish(new) => Self::Finish(std::mem::replace(&mut wall.finish, new)),
            Self::Plates(new) => Self::Plates(std::mem::replace(&mut wall.plates, new)),
            Self::StudThickness(new) => {
                Self::StudThickness(std::mem::replace(&mut wall.studs.thickness, new))
            }
            Self::Layout(new) => Self::Layout(std::mem::replace(&mut wall.studs.layout, new)),
            Self::Corrections(change) => {
                Self::Corrections(change.apply(&mut wall.studs.corrections)?)
            }
            Self::Extra(change) => Self::Extra(change.apply(&mut wall.studs.extra)?),
            Self::Openings(change) => Self::Openings(change.apply(&mut wall.openings)?),
            Self::Blocks(change) => Self::Blocks(change.apply(&mut wall.blocks)?),
            Self::Braces(change) => Self::Braces(change.apply(&mut wall.braces)?),
            Self::Things(change) => Self::Things(change.apply(&mut wall.things)?),
            Self::Zones(change) => Self::Zones(change.apply(&mut wall.zones)?),
            Self::Bays(change) => Self::Bays(change.apply(&mut wall.bays)?),
            Self::RowsFrom(new) => {
                Self::RowsFrom(std::mem::replace(&mut wall.drilling.rows_from, new))
            }
            Self::Liked(change) => Self::Liked(change.apply(&mut wall.drilling.liked)?),
            Self::Barred(change) => Self::Barred(change.apply(&mut wall.drilling.barred)?),
            Self::Holes(change) => Self::Holes(change.apply(&mut wall.drilling.holes)?),
            Self::Drilling(new) => Self::Drilling(std::mem::replace(&mut wall.drilling, new)),
            Self::Probed(change) => Self::Probed(change.apply(&mut wall.drilling.probed)?),
            Self::Several(changes) => Self::Several(apply_all(changes, wall)?),
        })
    }
}

/// Does changes one after the other, all of them or none; what takes them back comes in reverse.
fn apply_all(changes: Vec<WallChange>, wall: &mut Wall) -> Option<Vec<WallChange>> {
    let mut back = Vec::new();
    for change in changes {
        let Some(inverse) = change.apply(wall) else {
            // The inverse of a change that was just done always applies.
            let undo = |inverse: WallChange| drop(inverse.apply(wall));
            back.into_iter().rev().for_each(undo);
            return None;
        };
        back.push(inverse);
    }
    back.reverse();
    Some(back)
}

impl<T> ListChange<T> {
    fn apply(self, list: &mut Vec<T>) -> Option<Self> {
        let n_entries = list.len();
        match self {
            Self::Insert { at, entry } if at <= n_entries => {
                list.insert(at, entry);
                Some(Self::Remove { at })
            }
            Self::Replace { at, entry } if at < n_entries => {
                Some(Self::Replace { at, entry: std::mem::replace(&mut list[at], entry) })
            }
            Self::Remove { at } if at < n_entries => {
                Some(Self::Insert { at, entry: list.remove(at) })
            }
            Self::Move { from, to } if from < n_entries && to < n_entries => {
                let entry = list.remove(from);
                list.insert(to, entry);
                Some(Self::Move { from: to, to: from })
            }
            Self::Insert { .. }
            | Self::Replace { .. }
            | Self::Remove { .. }
            | Self::Move { .. } => None,
        }
    }
}

impl<T> ListChange<Box<T>> {
    /// The entry is boxed only to keep commands small; the list holds it plain.
    fn apply_boxed(self, list: &mut Vec<T>) -> Option<Self> {
        let plain = match self {
            Self::Insert { at, entry } => ListChange::Insert { at, entry: *entry },
            Self::Replace { at, entry } => ListChange::Replace { at, entry: *entry },
            Self::Remove { at } => ListChange::Remove { at },
            Self::Move { from, to } => ListChange::Move { from, to },
        };
        Some(match plain.apply(list)? {
            ListChange::Insert { at, entry } => Self::Insert { at, entry: Box::new(entry) },
            ListChange::Replace { at, entry } => Self::Replace { at, entry: Box::new(entry) },
            ListChange::Remove { at } => Self::Remove { at },
            ListChange::Move { from, to } => Self::Move { from, to },
        })
    }
}
