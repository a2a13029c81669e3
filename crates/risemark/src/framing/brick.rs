//! Walls of two leaves of brick: what is drilled through, the air space, the joints.

use uom::ConstZero;

use crate::{
    framing::{
        blocking, measured::Measured, openings, plates::Plates, profile::Edges, site::Site, studs,
    },
    job::{Construction, Coursing, Material, Wall},
    limits,
    quantity::Length,
};

/// Where the joints of the leaf that is drilled lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joints {
    /// From bed joint to bed joint.
    pub course: Length,
    /// From one upright joint that meets a bed joint to the next: half a brick, from above and from below in turn.
    pub half_brick: Length,
    /// A bed joint above the finished floor.
    pub bed: Length,
    /// An upright joint from the datum end.
    pub perpend: Length,
}

/// What a brick wall has beside its edges, things and openings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Brickwork {
    /// The leaf that is drilled.
    pub(super) leaf: Length,
    /// Where holes must lie; `None` where they may lie anywhere.
    pub(super) joints: Option<Joints>,
}

impl Brickwork {
    /// The brickwork as it was measured; `None` for a wall of studs.
    pub(super) fn of(wall: &Wall, measured: &mut Measured) -> Option<Self> {
        let Construction::BrickAirSpace { leaf, course, brick, holes, bed, perpend } =
            wall.construction
        else {
            return None;
        };
        let leaf = measured.length(leaf, &limits::LEAF_THICKNESS);
        let joints = (holes == Coursing::TJoints).then(|| Joints {
            course: measured.length(course, &limits::COURSE_HEIGHT),
            half_brick: measured.length(brick, &limits::BRICK_LENGTH) / 2.0,
            bed: measured.length(bed, &limits::BED_JOINT),
            perpend: measured.length(perpend, &limits::PERPEND),
        });
        Some(Self { leaf, joints })
    }

    /// What is drilled through: the leaf, and a finish on it that is no brick.
    pub(super) fn drilled(self, wall: &Wall, measured: &mut Measured) -> Length {
        let coat = match wall.finish.material {
            Material::Brick => Length::ZERO,
            _ => super::finish(wall, measured),
        };
        self.leaf + coat
    }
}

/// Puts up what was entered: openings, plates, members that close the air space.
pub(super) fn put_up(
    site: &mut Site,
    wall: &Wall,
    (edges, plates): (&Edges, Plates),
    measured: &mut Measured,
) {
    openings::leave_open(site, &wall.openings, &edges.face_floor);
    plates.put_up(site, &edges.ceiling);
    studs::extra_studs(site, &wall.studs.extra, measured);
    blocking::blocks(site, &wall.blocks, measured);
}
