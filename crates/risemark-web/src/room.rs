//! Walls of one room: what one of them takes over from another, and what it gives to the others.

use risemark::{
    job::{Edge, Job, StudLayout, Wall},
    quantity::Length,
};

use crate::{command::Command, words};

/// The first wall of a room, leaving one out.
pub fn neighbour<'a>(job: &'a Job, room: &str, but: &str) -> Option<&'a Wall> {
    job.walls.iter().find(|wall| wall.room.as_deref() == Some(room) && wall.id != but)
}

/// The height of a wall, where it has but one.
pub fn height(wall: &Wall) -> Option<Length> {
    match wall.top {
        Edge::Level { height } => Some(height),
        Edge::Raked { .. } | Edge::Gable { .. } | Edge::Points { .. } => None,
    }
}

/// Takes over from a wall of the same room what was left open; what was measured stays.
pub fn take_over(wall: &mut Wall, from: &Wall) {
    fill(&mut wall.construction, &from.construction);
    fill(&mut wall.datum, &from.datum);
    fill(&mut wall.side, &from.side);
    fill(&mut wall.depth, &from.depth);
    fill(&mut wall.lumber, &from.lumber);
    fill(&mut wall.finish.material, &from.finish.material);
    fill(&mut wall.finish.thickness, &from.finish.thickness);
    fill(&mut wall.plates.bottom, &from.plates.bottom);
    fill(&mut wall.plates.top, &from.plates.top);
    fill(&mut wall.plates.thickness, &from.plates.thickness);
    fill(&mut wall.plates.floor_covering, &from.plates.floor_covering);
    fill(&mut wall.plates.ceiling_drop, &from.plates.ceiling_drop);
    fill(&mut wall.studs.thickness, &from.studs.thickness);
    if let Some((own, from)) = spacings(wall, from) {
        fill(own, &from);
    }
}

/// Puts a wall into a room, where it takes over what was left open.
pub fn enter(job: &Job, id: &str, room: Option<String>) -> Option<Command> {
    let mut wall = job.walls.iter().find(|wall| wall.id == id)?.clone();
    if let Some(from) = room.as_deref().and_then(|room| neighbour(job, room, id)) {
        take_over(&mut wall, from);
    }
    wall.room = room;
    Some(Command::Whole { what: words::ROOM, walls: vec![wall] })
}

/// Gives what a wall was measured with to all other walls of its room.
pub fn give(job: &Job, id: &str) -> Option<Command> {
    let from = job.walls.iter().find(|wall| wall.id == id)?;
    let room = from.room.as_ref()?;
    let others = job.walls.iter().filter(|wall| wall.room.as_ref() == Some(room) && wall.id != id);
    let walls = others.map(|wall| given(wall.clone(), from)).collect();
    Some(Command::Whole { what: words::GIVE_TO_ROOM, walls })
}

fn given(mut wall: Wall, from: &Wall) -> Wall {
    wall.construction = from.construction.clone();
    (wall.datum, wall.side) = (from.datum, from.side);
    (wall.depth, wall.lumber) = (from.depth, from.lumber);
    wall.finish = from.finish.clone();
    wall.plates = from.plates.clone();
    wall.studs.thickness = from.studs.thickness;
    if let Some((own, from)) = spacings(&mut wall, from) {
        *own = from;
    }
    wall
}

fn fill<T: Clone + Default + PartialEq>(own: &mut T, from: &T) {
    if *own == T::default() {
        own.clone_from(from);
    }
}

/// The spacings of two walls; where the studs begin is each wall's own.
fn spacings<'a>(
    wall: &'a mut Wall,
    from: &Wall,
) -> Option<(&'a mut Option<Length>, Option<Length>)> {
    match (&mut wall.studs.layout, &from.studs.layout) {
        (StudLayout::Regular { spacing: own, .. }, StudLayout::Regular { spacing, .. }) => {
            Some((own, *spacing))
        }
        (StudLayout::Measured { .. }, _) | (_, StudLayout::Measured { .. }) => None,
    }
}

#[cfg(test)]
mod tests {
    use risemark::{
        job::{End, Material},
        quantity::{Units, inches},
    };

    use super::*;
    use crate::fresh;

    fn job() -> Job {
        let mut job = fresh::job(Units::FeetInches);
        for width in [120.0, 96.0, 144.0] {
            let wall = fresh::wall(&job, inches(width), inches(97.125), None);
            job.walls.push(wall);
        }
        let first = &mut job.walls[0];
        first.room = Some("Kiln room".to_owned());
        first.depth = Some(inches(3.625));
        first.finish.material = Material::Plaster;
        first.plates.top = Some(1);
        first.datum = End::Right;
        job
    }

    fn apply(job: &mut Job, command: Option<Command>) -> Option<Command> {
        command.expect("a step").apply(job)
    }

    #[test]
    fn a_wall_takes_over_what_was_left_open_and_keeps_what_was_measured() {
        let mut job = job();
        job.walls[1].depth = Some(inches(5.5));
        let before = job.clone();
        let step = enter(&job, "wall-2", Some("Kiln room".to_owned()));
        let back = apply(&mut job, step);
        let wall = &job.walls[1];
        assert_eq!(wall.depth, Some(inches(5.5)), "the depth was measured");
        assert_eq!(wall.finish.material, Material::Plaster, "the finish is the room's");
        assert_eq!(wall.plates.top, Some(1), "so are the plates");
        assert_eq!(wall.datum, End::Right, "and the end that is measured from");
        assert_eq!(wall.width, inches(96.0), "the width is its own");
        assert!(apply(&mut job, back).is_some(), "taken back");
        assert_eq!(job, before, "as it was");
    }

    #[test]
    fn a_room_of_its_own_changes_nothing_else() {
        let mut job = job();
        let mut wanted = job.walls[1].clone();
        wanted.room = Some("Attic".to_owned());
        let step = enter(&job, "wall-2", wanted.room.clone());
        let _back = apply(&mut job, step);
        assert_eq!(job.walls[1], wanted, "nothing but the room");
    }

    #[test]
    fn all_walls_of_the_room_get_what_one_was_measured_with() {
        let mut job = job();
        job.walls[2].room = Some("Kiln room".to_owned());
        job.walls[2].depth = Some(inches(5.5));
        let (before, elsewhere) = (job.clone(), job.walls[1].clone());
        let step = give(&job, "wall-1");
        let back = apply(&mut job, step);
        assert_eq!(job.walls[2].depth, Some(inches(3.625)), "the depth is the first wall's");
        assert_eq!(job.walls[2].width, inches(144.0), "the width stays");
        assert_eq!(job.walls[1], elsewhere, "a wall of no room stays as it was");
        assert!(apply(&mut job, back).is_some(), "one step back");
        assert_eq!(job, before, "as it was");
    }
}
