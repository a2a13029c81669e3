//! Holes over and under each other share a reading across, where that moves them little.

use crate::{
    drilling::legal::{Column, Ground},
    geometry::Span,
    quantity::{Length, inches},
};

/// Where one hole may be across, in marking steps from the datum.
#[derive(Debug, Clone, Copy)]
struct Room {
    from: i64,
    to: i64,
    /// Where it would be on its own.
    wanted: i64,
}

/// How far a hole leaves its best place to share a reading: a decision of this project, so that the
/// foam still falls about the middle of the bay.
const ASIDE: Length = inches(2.0);

/// The readings of holes, each given by its column and row, as few different ones as can be.
///
/// `taken` are readings of holes that stay where they are. The holes of a reading lie as near to
/// their best places as they can together.
pub(super) fn shared(
    ground: &Ground<'_>,
    columns: &[Column],
    holes: &[(usize, i64)],
    taken: &[i64],
) -> Vec<i64> {
    let rooms: Vec<Room> =
        holes.iter().map(|&(column, row)| room(ground, &columns[column], row)).collect();
    let mut readings: Vec<i64> = Vec::with_capacity(rooms.len());
    let mut open: Vec<usize> = Vec::new();
    for (at, room) in rooms.iter().enumerate() {
        let known = on_taken(*room, taken);
        readings.push(known.unwrap_or(room.wanted));
        if known.is_none() {
            open.push(at);
        }
    }
    crate::order::sort_by_key(&mut open, |&at| (rooms[at].to, rooms[at].from));
    // By their far ends: the classic way to meet all stretches with the fewest points.
    while let Some(&first) = open.first() {
        let point = rooms[first].to;
        let (group, rest): (Vec<usize>, Vec<usize>) =
            open.into_iter().partition(|&at| rooms[at].from <= point);
        let reading = together(&rooms, &group);
        group.into_iter().for_each(|at| readings[at] = reading);
        open = rest;
    }
    readings
}

fn room(ground: &Ground<'_>, column: &Column, row: i64) -> Room {
    let wanted = column.at(row).unwrap_or(0);
    let place = ground.turned(crate::quantity::at_step(wanted, ground.rules.marking_step));
    let near = Span { from: place, to: place }.widened(ASIDE);
    let within = near.common(column.within).unwrap_or(near);
    let free = ground.near[column.compartment].open(ground.height(row), within);
    let mut marks = free.into_iter().map(|span| ground.marks(span));
    let mine = marks.find(|&(from, to)| from <= wanted && wanted <= to);
    let (from, to) = mine.unwrap_or((wanted, wanted));
    Room { from, to, wanted }
}

/// The reading of another hole that is nearest, if one lies in the room.
fn on_taken(room: Room, taken: &[i64]) -> Option<i64> {
    let inside = taken.iter().copied().filter(|&mark| room.from <= mark && mark <= room.to);
    inside.min_by_key(|mark| ((mark - room.wanted).abs(), *mark))
}

/// The reading nearest to all of a group: the middle of what they want, within what all allow.
fn together(rooms: &[Room], group: &[usize]) -> i64 {
    let rooms = group.iter().map(|&at| rooms[at]);
    let from = rooms.clone().map(|room| room.from).max().unwrap_or(0);
    let to = rooms.clone().map(|room| room.to).min().unwrap_or(from);
    let mut wanted: Vec<i64> = rooms.map(|room| room.wanted).collect();
    crate::order::sort(&mut wanted);
    let middle = wanted.get((wanted.len().max(1) - 1) / 2).copied().unwrap_or(from);
    middle.clamp(from, to.max(from))
}
