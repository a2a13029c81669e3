//! What people say about single holes and spaces: keep it here, leave it out, it is drilled, it is clear.

use risemark::{
    compartments::Compartment,
    drilling::{Hole, HoleState},
    geometry::Point,
    job::{Block, BlockKind, Drilling, Liked, OwnHole, OwnState, Wall},
    plan::WallPlan,
    quantity::{Length, shorter},
};

use crate::command::WallChange;

/// A hole kept where it is, left out, drilled or patched; the other marks stay as they are once
/// something was drilled.
pub fn stated(wall: &Wall, plan: &WallPlan, mark: usize, state: OwnState) -> Option<WallChange> {
    let hole = plan.hole(mark)?;
    let is_fact = matches!(state, OwnState::Drilled | OwnState::Patched);
    let mut drilling = if is_fact { marked(wall, plan) } else { wall.drilling.clone() };
    let at = entry_of(&drilling, hole);
    let known = at.map(|at| drilling.holes[at]);
    let mark = known.and_then(|hole| hole.mark).filter(|_| state != OwnState::LeftOut);
    let entry = OwnHole { state, at: hole.centre, mark };
    match at {
        Some(at) => drilling.holes[at] = entry,
        None => drilling.holes.push(entry),
    }
    Some(WallChange::Drilling(drilling))
}

/// A hole given back to the planner.
pub fn given_back(wall: &Wall, plan: &WallPlan, mark: usize) -> Option<WallChange> {
    let HoleState::Own(at, _) = plan.hole(mark)?.state else {
        return None;
    };
    let mut drilling = wall.drilling.clone();
    (at < drilling.holes.len()).then(|| drilling.holes.remove(at))?;
    Some(WallChange::Drilling(drilling))
}

/// Every hole of the plan marked on the wall: what is found later changes the plan only where it must.
pub fn all_marked(wall: &Wall, plan: &WallPlan) -> WallChange {
    WallChange::Drilling(marked(wall, plan))
}

/// Marks that stand for nothing but the plan given back to the planner.
pub fn unmarked(wall: &Wall) -> WallChange {
    let mut drilling = wall.drilling.clone();
    drilling.holes.retain(|hole| hole.state != OwnState::Marked);
    WallChange::Drilling(drilling)
}

/// The rows of another wall as heights that are liked.
pub fn rows_of(wall: &Wall, other: &WallPlan) -> WallChange {
    let mut drilling = wall.drilling.clone();
    drilling.liked.retain(|liked| !matches!(liked, Liked::Height { .. }));
    drilling.liked.extend(other.drill.snap_lines.iter().map(|&up| Liked::Height { up }));
    WallChange::Drilling(drilling)
}

/// A space that was probed and is clear, or the same taken back.
pub fn probed(wall: &Wall, space: &Compartment, clear: bool) -> WallChange {
    let mut drilling = wall.drilling.clone();
    drilling.probed.retain(|place| !lies_in(space, *place));
    if clear {
        drilling.probed.push(inner_place(space, space.polygon.bounds().y.middle()));
    }
    WallChange::Drilling(drilling)
}

/// A block that probing met at a height of a space, and both parts of it probed; `None` outside the space.
pub fn block_found(wall: &Wall, space: &Compartment, up: Length) -> Option<WallChange> {
    let bounds = space.polygon.bounds();
    if !bounds.y.contains(up) {
        return None;
    }
    let height = risemark::limits::BLOCK_HEIGHT.default?;
    let block =
        Block { kind: BlockKind::Full, from: inner_place(space, up).x, to: None, up, height: None };
    let mut drilling = wall.drilling.clone();
    drilling.probed.retain(|place| !lies_in(space, *place));
    let halves =
        [(bounds.y.from + up) / 2.0, (shorter(up + height, bounds.y.to) + bounds.y.to) / 2.0];
    drilling.probed.extend(halves.map(|height| inner_place(space, height)));
    let at = wall.blocks.len();
    Some(WallChange::Several(vec![
        WallChange::Blocks(crate::command::ListChange::Insert { at, entry: block }),
        WallChange::Drilling(drilling),
    ]))
}

/// The holes of a plan as they stand marked on the wall, beside what was said of some before.
fn marked(wall: &Wall, plan: &WallPlan) -> Drilling {
    let mut drilling = wall.drilling.clone();
    for hole in &plan.drill.holes {
        let mark = u32::try_from(hole.mark).ok();
        match entry_of(&drilling, hole) {
            Some(at) => drilling.holes[at].mark = mark,
            None => {
                drilling.holes.push(OwnHole { state: OwnState::Marked, at: hole.centre, mark });
            }
        }
    }
    drilling
}

fn entry_of(drilling: &Drilling, hole: &Hole) -> Option<usize> {
    match hole.state {
        HoleState::Own(at, _) => (at < drilling.holes.len()).then_some(at),
        HoleState::Planned => drilling
            .holes
            .iter()
            .position(|own| own.at == hole.centre && own.state == OwnState::Marked),
    }
}

fn lies_in(space: &Compartment, place: Point) -> bool {
    space.polygon.across(place.y).iter().any(|span| span.contains(place.x))
}

/// A place in a space at a height, in the middle of its widest stretch there.
fn inner_place(space: &Compartment, up: Length) -> Point {
    let spans = space.polygon.across(up).into_iter();
    let widest = spans.max_by(|a, b| a.length().value.total_cmp(&b.length().value));
    Point::new(widest.map_or(space.lowest.x, |span| span.middle()), up)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::tests::planned;
    use risemark::quantity::inches;

    fn changed(
        id: &str,
        change: impl FnOnce(&Wall, &WallPlan) -> Option<WallChange>,
    ) -> (Wall, WallPlan, WallPlan) {
        let (wall, before) = planned(id, |_| ());
        let change = change(&wall, &before).expect("it can be done");
        let (wall, after) = planned(id, |wall| {
            change.apply(wall).expect("the wall has what it names");
        });
        (wall, before, after)
    }

    #[test]
    fn a_drilled_hole_keeps_its_number_and_so_do_all_others() {
        let (wall, before, after) =
            changed("workshop-street", |wall, plan| stated(wall, plan, 5, OwnState::Drilled));
        assert_eq!(wall.drilling.holes.len(), before.drill.holes.len(), "all are marked");
        let places = |plan: &WallPlan| -> Vec<_> {
            plan.drill.holes.iter().map(|hole| (hole.mark, hole.centre)).collect()
        };
        assert_eq!(places(&before), places(&after), "nothing moves");
        let fifth = after.hole(5).map(|hole| hole.state);
        assert!(matches!(fifth, Some(HoleState::Own(_, OwnState::Drilled))), "{fifth:?}");
    }

    #[test]
    fn a_hole_that_is_kept_can_be_given_back() {
        let (wall, before, kept) =
            changed("workshop-street", |wall, plan| stated(wall, plan, 3, OwnState::Set));
        let back = given_back(&wall, &kept, 3).expect("it is somebody's own");
        let mut wall = wall;
        back.apply(&mut wall).expect("the entry is there");
        assert!(wall.drilling.is_empty(), "nothing is left of it");
        assert_eq!(before.drill.holes.len(), kept.drill.holes.len(), "kept where it was");
        assert_eq!(given_back(&wall, &before, 3), None, "the planner's own");
    }

    #[test]
    fn a_block_met_by_the_wire_parts_the_space_and_both_parts_are_probed() {
        let (_, before, after) = changed("workshop-street", |wall, plan| {
            let space = plan
                .compartments
                .iter()
                .max_by(|a, b| a.volume.value.total_cmp(&b.volume.value))?;
            block_found(wall, space, inches(50.0))
        });
        assert_eq!(before.compartments.len() + 1, after.compartments.len(), "one space more");
        let probed = after.compartments.iter().filter(|space| space.probed).count();
        assert_eq!(probed, 2, "under the block and over it");
    }
}
