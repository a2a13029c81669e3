//! A wall seen from its other side: left and right change places.

use crate::{
    geometry::Point,
    job::{
        BayException, Block, Brace, Drilling, Edge, End, ExtraStud, Opening, OwnHole,
        StudCorrection, StudLayout, Studs, Thing, ThingShape, Wall, Zone,
    },
    quantity::Length,
};

impl Wall {
    /// The wall with left and right changed, the datum on its other end.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let width = self.width;
        let turn = Turn { width };
        Self {
            datum: other_end(self.datum),
            top: turn.edge(&self.top),
            bottom: self.bottom.as_ref().map(|edge| turn.edge(edge)),
            studs: turn.studs(&self.studs),
            openings: self.openings.iter().map(|opening| turn.opening(opening)).collect(),
            blocks: self.blocks.iter().map(|block| turn.block(*block)).collect(),
            braces: self.braces.iter().map(|brace| turn.brace(*brace)).collect(),
            things: self.things.iter().map(|thing| turn.thing(thing)).collect(),
            zones: self.zones.iter().map(|zone| turn.zone(*zone)).collect(),
            bays: self.bays.iter().map(|bay| turn.bay(bay)).collect(),
            drilling: turn.drilling(&self.drilling),
            ..self.clone()
        }
    }
}

struct Turn {
    width: Length,
}

impl Turn {
    fn x(&self, x: Length) -> Length {
        self.width - x
    }

    fn point(&self, point: Point) -> Point {
        Point::new(self.x(point.x), point.y)
    }

    fn edge(&self, edge: &Edge) -> Edge {
        match edge {
            Edge::Level { height } => Edge::Level { height: *height },
            Edge::Raked { left, right } => Edge::Raked { left: *right, right: *left },
            Edge::Gable { left, ridge_at, ridge, right } => Edge::Gable {
                left: *right,
                ridge_at: self.x(*ridge_at),
                ridge: *ridge,
                right: *left,
            },
            Edge::Points { points } => Edge::Points {
                points: points.iter().rev().map(|point| self.point(*point)).collect(),
            },
        }
    }

    fn studs(&self, studs: &Studs) -> Studs {
        let layout = match &studs.layout {
            StudLayout::Regular { spacing, first, from } => {
                StudLayout::Regular { spacing: *spacing, first: *first, from: other_end(*from) }
            }
            StudLayout::Measured { centres } => StudLayout::Measured {
                centres: centres.iter().rev().map(|centre| self.x(*centre)).collect(),
            },
        };
        let correction = |correction: &StudCorrection| match *correction {
            StudCorrection::Moved { stud, found } => {
                StudCorrection::Moved { stud: self.x(stud), found: self.x(found) }
            }
            StudCorrection::Missing { stud } => StudCorrection::Missing { stud: self.x(stud) },
        };
        Studs {
            thickness: studs.thickness,
            layout,
            corrections: studs.corrections.iter().map(correction).collect(),
            extra: studs
                .extra
                .iter()
                .map(|e| ExtraStud { centre: self.x(e.centre), ..*e })
                .collect(),
        }
    }

    fn opening(&self, opening: &Opening) -> Opening {
        Opening { left: self.x(opening.left + opening.width), ..opening.clone() }
    }

    fn block(&self, block: Block) -> Block {
        Block { from: self.x(block.from), to: block.to.map(|to| self.x(to)), ..block }
    }

    fn brace(&self, brace: Brace) -> Brace {
        Brace { from: self.point(brace.from), to: self.point(brace.to), ..brace }
    }

    fn thing(&self, thing: &Thing) -> Thing {
        let at = match &thing.at {
            ThingShape::Box { left, up, width, height } => ThingShape::Box {
                left: self.x(*left + *width),
                up: *up,
                width: *width,
                height: *height,
            },
            ThingShape::Round { centre, diameter } => {
                ThingShape::Round { centre: self.point(*centre), diameter: *diameter }
            }
            ThingShape::Run { points, diameter } => ThingShape::Run {
                points: points.iter().map(|point| self.point(*point)).collect(),
                diameter: *diameter,
            },
        };
        Thing { at, ..thing.clone() }
    }

    fn zone(&self, zone: Zone) -> Zone {
        Zone { left: self.x(zone.left + zone.width), ..zone }
    }

    fn drilling(&self, drilling: &Drilling) -> Drilling {
        let hole = |hole: &OwnHole| OwnHole { at: self.point(hole.at), ..*hole };
        Drilling {
            holes: drilling.holes.iter().map(hole).collect(),
            probed: drilling.probed.iter().map(|place| self.point(*place)).collect(),
            ..drilling.clone()
        }
    }

    fn bay(&self, bay: &BayException) -> BayException {
        BayException { at: self.x(bay.at), ..bay.clone() }
    }
}

fn other_end(end: End) -> End {
    match end {
        End::Left => End::Right,
        End::Right => End::Left,
    }
}
