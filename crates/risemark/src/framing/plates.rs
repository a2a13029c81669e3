//! Plates along the lower and the upper edge.

use uom::ConstZero;

use crate::{
    framing::{
        MemberKind,
        measured::Measured,
        profile::{Edges, Profile, between},
        site::Site,
    },
    geometry::Polygon,
    job::{self, Wall},
    limits,
    quantity::Length,
};

/// How many plates there are, and how thick one is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plates {
    n_bottom: u8,
    n_top: u8,
    thickness: Length,
}

impl Plates {
    /// The plates as they were measured.
    pub(super) fn of(plates: &job::Plates, measured: &mut Measured) -> Self {
        Self {
            n_bottom: measured.count(plates.bottom, &limits::BOTTOM_PLATES),
            n_top: measured.count(plates.top, &limits::TOP_PLATES),
            thickness: measured.length(plates.thickness, &limits::PLATE_THICKNESS),
        }
    }

    /// The plates of a wall that has none but those that were entered.
    pub(super) fn entered(plates: &job::Plates, measured: &mut Measured) -> Self {
        let (n_bottom, n_top) = (plates.bottom.unwrap_or(0), plates.top.unwrap_or(0));
        let thickness = if n_bottom + n_top == 0 {
            Length::ZERO
        } else {
            measured.length(plates.thickness, &limits::PLATE_THICKNESS)
        };
        Self { n_bottom, n_top, thickness }
    }

    /// The empty site of a wall of brick.
    pub(super) fn brick_site(self, wall: &Wall, edges: &Edges, measured: &mut Measured) -> Site {
        let depth = measured.length(wall.depth, &limits::AIR_SPACE);
        self.bare_site(wall, edges, (depth, limits::STUD_THICKNESS.min))
    }

    /// The empty site between the plates.
    pub(super) fn site(self, wall: &Wall, edges: &Edges, measured: &mut Measured) -> Site {
        let depth = measured.length(wall.depth, &limits::DEPTH);
        let stud = measured.length(wall.studs.thickness, &limits::STUD_THICKNESS);
        self.bare_site(wall, edges, (depth, stud))
    }

    fn bare_site(self, wall: &Wall, edges: &Edges, (depth, stud): (Length, Length)) -> Site {
        Site {
            width: wall.width,
            depth,
            stud,
            floor: edges.floor.clone(),
            lower: edges.floor.thickened(self.thickness * f64::from(self.n_bottom)),
            upper: edges.ceiling.thickened(-self.thickness * f64::from(self.n_top)),
            members: Vec::new(),
            openings: Vec::new(),
            findings: Vec::new(),
        }
    }

    /// Puts plates along both edges; a door cuts the bottom plates.
    pub(super) fn put_up(self, site: &mut Site, ceiling: &Profile) {
        for layer in 0..self.n_bottom {
            let from = site.floor.thickened(self.thickness * f64::from(layer));
            let to = site.floor.thickened(self.thickness * f64::from(layer + 1));
            strip(site, MemberKind::BottomPlate, &from, &to);
        }
        for layer in (0..self.n_top).rev() {
            let from = ceiling.thickened(-self.thickness * f64::from(layer + 1));
            let to = ceiling.thickened(-self.thickness * f64::from(layer));
            strip(site, MemberKind::TopPlate, &from, &to);
        }
    }
}

fn strip(site: &mut Site, kind: MemberKind, from: &Profile, to: &Profile) {
    if let Some(plate) = between(from, to, site.whole()).filter(Polygon::is_real) {
        site.put(kind, plate);
    }
}
