//! Editing on the drawing: what can be taken hold of on a wall, and what comes of moving it.
//!
//! Nothing here knows the screen: places are readings on the wall, and every edit is a change that
//! the history can take back.

pub mod add;
pub mod change;
pub mod figure;
pub mod holes;
pub mod snap;
pub mod studs;

use risemark::{
    finding::{Noun, Part, Place},
    framing::Frame,
    job::{StudLayout, Wall},
};

/// Something on a wall that can be picked, by its position in its list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Entry {
    /// A door or a window.
    Opening(usize),
    /// A block.
    Block(usize),
    /// A brace.
    Brace(usize),
    /// A thing in the wall.
    Thing(usize),
    /// A thing on the wall.
    Zone(usize),
    /// A bay that differs.
    Bay(usize),
    /// A member beside the layout.
    Extra(usize),
    /// A hole that is not the planner's to choose.
    Hole(usize),
    /// A stud of the layout, counted before any correction.
    Stud(usize),
    /// The upper edge of the wall.
    Top,
    /// The lower edge of the wall.
    Bottom,
}

/// The part of an entry that is taken hold of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grip {
    /// All of it.
    Whole,
    /// Its left edge.
    Left,
    /// Its right edge.
    Right,
    /// Its lower edge.
    Low,
    /// Its upper edge.
    High,
    /// One of its points, counted from 0.
    Point(usize),
}

/// A wall with its framing.
#[derive(Debug, Clone, Copy)]
pub struct Scene<'a> {
    /// The wall as it was measured.
    pub wall: &'a Wall,
    /// What the planner made of it.
    pub frame: &'a Frame,
}

impl Entry {
    /// The entry that a place names, if it is one that can be picked.
    pub fn of(wall: &Wall, place: &Place) -> Option<Self> {
        let (noun, idx) = match &place.part {
            Part::Entry { noun, number } => (*noun, number.checked_sub(1)?),
            Part::Whole => {
                return match place.field.as_deref() {
                    Some("top") => Some(Self::Top),
                    Some("bottom") => wall.bottom.as_ref().map(|_| Self::Bottom),
                    _ => None,
                };
            }
            Part::Compartment(_) => return None,
        };
        let entry = match noun {
            Noun::Opening => Self::Opening(idx),
            Noun::Block => Self::Block(idx),
            Noun::Brace => Self::Brace(idx),
            Noun::Thing => Self::Thing(idx),
            Noun::Zone => Self::Zone(idx),
            Noun::Bay => Self::Bay(idx),
            Noun::ExtraStud => Self::Extra(idx),
            Noun::Hole => Self::Hole(idx),
            Noun::MeasuredStud => Self::Stud(idx),
            Noun::StudCorrection => {
                let corrected = |stud: &studs::Stud| stud.correction == Some(idx);
                Self::Stud(studs::layout(wall).iter().position(corrected)?)
            }
            _ => return None,
        };
        entry.is_on(wall).then_some(entry)
    }

    /// The place of an entry in the words of the forms; `None` for a stud that nobody entered.
    pub fn place(self, wall: &Wall) -> Option<Place> {
        Some(match self {
            Self::Opening(idx) => Place::entry(Noun::Opening, idx),
            Self::Block(idx) => Place::entry(Noun::Block, idx),
            Self::Brace(idx) => Place::entry(Noun::Brace, idx),
            Self::Thing(idx) => Place::entry(Noun::Thing, idx),
            Self::Zone(idx) => Place::entry(Noun::Zone, idx),
            Self::Bay(idx) => Place::entry(Noun::Bay, idx),
            Self::Extra(idx) => Place::entry(Noun::ExtraStud, idx),
            Self::Hole(idx) => Place::entry(Noun::Hole, idx),
            Self::Stud(idx) => match (studs::layout(wall).get(idx)?.correction, &wall.studs.layout)
            {
                (Some(correction), _) => Place::entry(Noun::StudCorrection, correction),
                (None, StudLayout::Measured { .. }) => Place::entry(Noun::MeasuredStud, idx),
                (None, StudLayout::Regular { .. }) => return None,
            },
            Self::Top => Place::default().field("top"),
            Self::Bottom => Place::default().field("bottom"),
        })
    }

    /// Whether the wall has it; after a step was taken back it may be gone.
    pub fn is_on(self, wall: &Wall) -> bool {
        match self {
            Self::Opening(idx) => idx < wall.openings.len(),
            Self::Block(idx) => idx < wall.blocks.len(),
            Self::Brace(idx) => idx < wall.braces.len(),
            Self::Thing(idx) => idx < wall.things.len(),
            Self::Zone(idx) => idx < wall.zones.len(),
            Self::Bay(idx) => idx < wall.bays.len(),
            Self::Extra(idx) => idx < wall.studs.extra.len(),
            Self::Hole(idx) => idx < wall.drilling.holes.len(),
            Self::Stud(idx) => {
                studs::layout(wall).get(idx).is_some_and(|stud| stud.stands.is_some())
            }
            Self::Top => true,
            Self::Bottom => wall.bottom.is_some(),
        }
    }
}

/// The entries of a wall in the order they are gone through: from the left, then from the bottom.
pub fn entries(scene: Scene<'_>) -> Vec<Entry> {
    let corner = |entry: Entry| {
        let bounds = figure::figure(scene, entry).map(|figure| figure.bounds());
        bounds.map(|bounds| (entry, bounds.x.from.value, bounds.y.from.value))
    };
    let mut placed: Vec<_> = all(scene.wall).into_iter().filter_map(corner).collect();
    risemark::order::sort_by(&mut placed, |a, b| {
        a.1.total_cmp(&b.1).then(a.2.total_cmp(&b.2)).then(a.0.cmp(&b.0))
    });
    placed.into_iter().map(|(entry, _, _)| entry).collect()
}

/// A kind of entry, to be told its position.
type EntryAt = fn(usize) -> Entry;

fn all(wall: &Wall) -> Vec<Entry> {
    let lists: [(EntryAt, usize); 9] = [
        (Entry::Opening, wall.openings.len()),
        (Entry::Block, wall.blocks.len()),
        (Entry::Brace, wall.braces.len()),
        (Entry::Thing, wall.things.len()),
        (Entry::Zone, wall.zones.len()),
        (Entry::Bay, wall.bays.len()),
        (Entry::Extra, wall.studs.extra.len()),
        (Entry::Hole, wall.drilling.holes.len()),
        (Entry::Stud, studs::layout(wall).len()),
    ];
    let mut all = vec![Entry::Top];
    all.extend(wall.bottom.as_ref().map(|_| Entry::Bottom));
    all.extend(lists.into_iter().flat_map(|(entry, len)| (0..len).map(entry)));
    all
}

#[cfg(test)]
pub(crate) mod tests {
    use risemark::{
        job::{Job, StudCorrection},
        plan::{WallPlan, plan},
        quantity::inches,
    };

    use super::*;
    use crate::sample;

    /// A wall of the sample job, changed, with its plan.
    pub(crate) fn planned(id: &str, change: impl FnOnce(&mut Wall)) -> (Wall, WallPlan) {
        let job = sample::job();
        let mut wall = job.walls.iter().find(|wall| wall.id == id).cloned();
        let wall = wall.as_mut().unwrap_or_else(|| panic!("the sample has a wall {id}"));
        change(wall);
        let alone = Job { walls: vec![wall.clone()], ..job };
        (wall.clone(), plan(&alone).walls.remove(0))
    }

    #[test]
    fn an_entry_is_found_again_by_its_place() {
        for id in ["workshop-street", "drying-west", "attic-east"] {
            let (wall, plan) = planned(id, |wall| {
                let moved = StudCorrection::Moved { stud: inches(48.0), found: inches(49.0) };
                wall.studs.corrections.push(moved);
            });
            let scene = Scene { wall: &wall, frame: &plan.frame };
            let mut n_placed = 0;
            for entry in entries(scene) {
                let Some(place) = entry.place(&wall) else { continue };
                assert_eq!(Entry::of(&wall, &place), Some(entry), "{place:?}");
                n_placed += 1;
            }
            assert!(1 < n_placed, "{id} has entries");
        }
    }

    #[test]
    fn entries_are_gone_through_from_the_left() {
        let (wall, plan) = planned("workshop-street", |_| ());
        let scene = Scene { wall: &wall, frame: &plan.frame };
        let entries = entries(scene);
        let lefts: Vec<f64> = entries
            .iter()
            .filter_map(|entry| figure::figure(scene, *entry))
            .map(|figure| figure.bounds().x.from.value)
            .collect();
        assert_eq!(lefts.len(), entries.len(), "each has a figure");
        assert!(lefts.is_sorted(), "{lefts:?}");
        for opening in 0..wall.openings.len() {
            assert!(entries.contains(&Entry::Opening(opening)), "opening {opening}");
        }
    }
}
