//! Holes of a wall of brick that are not the planner's to choose.

use crate::{
    compartments::Compartment,
    drilling::{
        brick::{
            cover::Cover,
            plane::{Mark, Plane, Spot, microns},
        },
        given::too_near,
        legal::Ground,
        near::Near,
    },
    finding::Avoided,
    geometry::Point,
    job::{OwnHole, OwnState},
};

/// A hole that people have set or drilled.
#[derive(Debug, Clone)]
pub(super) struct GivenHole {
    /// Its position in the wall's list.
    pub(super) number: usize,
    /// Its centre on the finish.
    pub(super) at: Point,
    /// The same, from the datum end.
    pub(super) spot: Spot,
    /// What it is nearer to than the rules let it be.
    pub(super) too_near: Vec<Avoided>,
}

/// What people have left out of a cover.
#[derive(Debug, Default)]
pub(super) struct LeftOut {
    /// Whether a place of the compartment was named at all.
    pub(super) any_named: bool,
    /// The holes that were taken out.
    pub(super) marks: Vec<Mark>,
}

/// The holes that people have set or drilled into a compartment.
///
/// A hole that the plan had marked is given up where the rules no longer let it be.
pub(super) fn given(ground: &Ground<'_>, near: &Near<'_>, own: &[OwnHole]) -> Vec<GivenHole> {
    let mine = own.iter().enumerate().filter(|(_, hole)| is_in(near.compartment, hole.at));
    let holes = mine.filter(|(_, hole)| hole.state != OwnState::LeftOut).map(|(number, hole)| {
        let too_near = too_near(near, hole.at);
        (hole.state, GivenHole { number, at: hole.at, spot: spot(ground, hole.at), too_near })
    });
    let stays = |(state, hole): &(OwnState, GivenHole)| {
        *state != OwnState::Marked || hole.too_near.is_empty()
    };
    holes.filter(stays).map(|(_, hole)| hole).collect()
}

/// Takes the planner's holes that people have left out of a compartment out of its cover, each the nearest
/// to its place if it is still about there; whether any place was named.
pub(super) fn leave_out(
    ground: &Ground<'_>,
    (compartment, plane): (&Compartment, &Plane),
    own: &[OwnHole],
    cover: &mut Cover,
) -> LeftOut {
    let mine = |hole: &&OwnHole| hole.state == OwnState::LeftOut && is_in(compartment, hole.at);
    let mut left_out = LeftOut::default();
    for hole in own.iter().filter(mine) {
        left_out.any_named = true;
        let place = spot(ground, hole.at);
        let far = |at: &usize| plane.spot(cover.marks[*at]).squared(place);
        let nearest = (0..cover.marks.len()).min_by_key(far);
        let near = plane.reach / 2;
        if let Some(at) = nearest.filter(|at| far(at) <= near * near) {
            left_out.marks.push(cover.marks.remove(at));
        }
    }
    left_out
}

/// Whether a place lies in a compartment.
pub(super) fn is_in(compartment: &Compartment, at: Point) -> bool {
    compartment.polygon.across(at.y).iter().any(|span| span.contains(at.x))
}

/// A place on the finish, from the datum end.
pub(super) fn spot(ground: &Ground<'_>, at: Point) -> Spot {
    Spot { x: microns(ground.turned(at.x)), y: microns(at.y) }
}
