//! Things in the wall and on it, with the distance that holes keep.

use uom::ConstZero;

use crate::{
    finding::Avoided,
    framing::{FoamEffect, MemberKind, Obstacle, blocking::band, site::Site},
    geometry::{Point, Polygon, Rect, Span, intersection},
    job::{Band, Effect, Thing, ThingKind, ThingShape, Zone, ZoneKind},
    language::text,
    limits::Origin,
    quantity::{Length, inches},
};

const FLUE: Origin = Origin::Published(text(
    "IRC R1003.18, air space at a chimney",
    "IRC R1003.18, espacio de aire junto a una chimenea",
));

/// The distance that holes keep from a kind of thing, and where the figure comes from.
pub fn keep_off_thing(kind: ThingKind) -> (Length, Origin) {
    match kind {
        ThingKind::ElectricalBox => (inches(6.0), Origin::CommonPractice),
        ThingKind::Cable | ThingKind::Pipe => (inches(3.0), Origin::CommonPractice),
        ThingKind::Duct | ThingKind::Vent | ThingKind::MedicineCabinet => {
            (inches(2.0), Origin::CommonPractice)
        }
        ThingKind::Flue => (inches(2.0), FLUE),
    }
}

/// The distance that the edge of a hole keeps from a kind of thing on the wall.
pub fn keep_off_zone(kind: ZoneKind) -> (Length, Origin) {
    match kind {
        ZoneKind::Trim | ZoneKind::Crown => (inches(2.0), Origin::CommonPractice),
        ZoneKind::Baseboard | ZoneKind::Counter | ZoneKind::Radiator | ZoneKind::Panel => {
            (inches(1.0), Origin::CommonPractice)
        }
        // A course of brick: what is drilled beside it must neither pierce nor block it.
        ZoneKind::DampCourse | ZoneKind::WeepHoles => (inches(3.0), Origin::CommonPractice),
    }
}

/// What a kind of thing does to the bay unless the user says otherwise.
pub fn effect_of(kind: ThingKind) -> Effect {
    match kind {
        ThingKind::ElectricalBox | ThingKind::Cable | ThingKind::Pipe | ThingKind::Vent => {
            Effect::TakesVolume { depth: None }
        }
        ThingKind::Duct | ThingKind::MedicineCabinet => Effect::ClosesBay,
        ThingKind::Flue => Effect::ForbidsFilling,
    }
}

/// Settles what holes keep off, and puts up the things that close a bay.
pub(super) fn obstacles(
    site: &mut Site,
    things: &[Thing],
    zones: &[Zone],
    barred: &[Band],
    outline: &Polygon,
) -> Vec<Obstacle> {
    let mut obstacles = Vec::new();
    for (idx, thing) in things.iter().enumerate() {
        let pieces = pieces(&thing.at);
        let effect = thing.effect.unwrap_or_else(|| effect_of(thing.kind));
        if effect == Effect::ClosesBay {
            for piece in intersection(&pieces, std::slice::from_ref(outline)) {
                site.put(MemberKind::ClosingThing, piece);
            }
        }
        obstacles.push(Obstacle {
            what: Avoided::Thing(thing.kind),
            number: idx + 1,
            pieces,
            keep_off: thing.keep_off.unwrap_or_else(|| keep_off_thing(thing.kind).0),
            foam: foam_effect(thing, effect, site.depth),
        });
    }
    obstacles.extend(zones.iter().enumerate().map(|(idx, zone)| Obstacle {
        what: Avoided::Zone(zone.kind),
        number: idx + 1,
        pieces: vec![Rect::from_corner(zone.left, zone.up, zone.width, zone.height).polygon()],
        keep_off: zone.keep_off.unwrap_or_else(|| keep_off_zone(zone.kind).0),
        foam: FoamEffect::None,
    }));
    let across = outline.bounds().x;
    obstacles.extend(barred.iter().enumerate().map(|(idx, band)| Obstacle {
        what: Avoided::Band,
        number: idx + 1,
        pieces: vec![Rect { x: across, y: Span::new(band.from, band.to) }.polygon()],
        keep_off: Length::ZERO,
        foam: FoamEffect::None,
    }));
    obstacles
}

fn foam_effect(thing: &Thing, effect: Effect, cavity: Length) -> FoamEffect {
    let own_depth = match thing.at {
        // What passes through the wall is as deep as the cavity.
        ThingShape::Box { .. } | ThingShape::Round { .. } => cavity,
        // A round run takes a quarter pi of the square around it.
        ThingShape::Run { diameter, .. } => diameter * std::f64::consts::FRAC_PI_4,
    };
    match effect {
        Effect::TakesVolume { depth } => FoamEffect::TakesDepth(depth.unwrap_or(own_depth)),
        Effect::ClosesBay => FoamEffect::None,
        Effect::ForbidsFilling => FoamEffect::Forbids(thing.kind),
    }
}

fn pieces(shape: &ThingShape) -> Vec<Polygon> {
    match shape {
        ThingShape::Box { left, up, width, height } => {
            vec![Rect::from_corner(*left, *up, *width, *height).polygon()]
        }
        ThingShape::Round { centre, diameter } => vec![round(*centre, *diameter)],
        ThingShape::Run { points, diameter } => {
            points.windows(2).map(|pair| band(pair[0], pair[1], *diameter)).collect()
        }
    }
}

/// A regular polygon around a circle, which it touches with its sides.
fn round(centre: Point, diameter: Length) -> Polygon {
    let corner = |idx: u32| {
        let half = std::f64::consts::PI / f64::from(SIDES);
        let angle = half * f64::from(2 * idx + 1);
        let far = diameter / 2.0 / libm::cos(half);
        Point::new(centre.x + far * libm::cos(angle), centre.y + far * libm::sin(angle))
    };
    Polygon::simple((0..SIDES).map(corner).collect())
}

/// With so many sides a polygon around a circle is at most a hundredth larger in diameter.
const SIDES: u32 = 24;
