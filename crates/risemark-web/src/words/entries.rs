//! What was entered, in a few words each, and what is picked and dragged of it.

use risemark::{
    geometry::Rect,
    job::{
        Band, BayException, Block, BlockKind, Brace, BraceKind, End, ExtraStud, Header, Liked,
        Opening, OwnHole, StudCorrection, Thing, ThingShape, Wall, Zone,
    },
    language::text,
    quantity::{Length, Units},
    say,
    tape::{reading, size},
};

use super::{
    EXTRA_KINDS, LOWER_EDGE, NOTHING_PICKED, OPENING_KINDS, OWN_STATES, SKIP_REASONS, STUD,
    THING_KINDS, UPPER_EDGE, ZONE_KINDS, across, capital, language, up, word_of,
};
use crate::edit::{Entry, Grip, Scene, figure, studs};

/// An opening in a few words.
pub fn opening(opening: &Opening, units: Units) -> String {
    let name =
        opening.name.clone().unwrap_or_else(|| capital(word_of(OPENING_KINDS, &opening.kind)));
    let solid = text(", solid above", ", macizo arriba");
    let solid = if opening.header == Header::Solid { solid.of(language()) } else { "" };
    say!(
        language(),
        "{} · {} × {} at {}{}",
        "{} · {} × {} en {}{}",
        name,
        size(opening.width, units),
        size(opening.height, units),
        reading(opening.left, units),
        solid
    )
}

/// A hole that people have set, in a few words.
pub fn own_hole(hole: &OwnHole, units: Units) -> String {
    let state = capital(word_of(OWN_STATES, &hole.state));
    let (across, up) = (reading(hole.at.x, units), reading(hole.at.y, units));
    say!(
        language(),
        "{state} · {across} across, {up} up",
        "{state} · en {across}, a {up} de altura"
    )
}

/// Heights at which rows are liked, in a few words.
pub fn liked(liked: &Liked, units: Units) -> String {
    let r = |length: Length| reading(length, units);
    match *liked {
        Liked::Height { up } => say!(language(), "Row at {}", "Fila a {}", r(up)),
        Liked::Band { from, to } => {
            say!(language(), "Rows from {} to {}", "Filas de {} a {}", r(from), r(to))
        }
        Liked::Laps { first, spacing } => say!(
            language(),
            "Laps every {}, the first at {}",
            "Traslapes cada {}, el primero a {}",
            size(spacing, units),
            r(first)
        ),
    }
}

/// A band without holes in a few words.
pub fn band(band: &Band, units: Units) -> String {
    let (from, to) = (reading(band.from, units), reading(band.to, units));
    say!(language(), "No holes from {from} to {to}", "Sin agujeros de {from} a {to}")
}

/// A block in a few words.
pub fn block(block: &Block, units: Units) -> String {
    let kind = match block.kind {
        BlockKind::Full => text("Block", "Bloque"),
        BlockKind::Flat => text("Flat block", "Bloque plano"),
    };
    let kind = kind.of(language());
    let (up, from) = (reading(block.up, units), reading(block.from, units));
    match block.to.map(|to| reading(to, units)) {
        None => {
            say!(language(), "{kind} · {up} up, at {from}", "{kind} · a {up} de altura, en {from}")
        }
        Some(to) => say!(
            language(),
            "{kind} · {up} up, {from} to {to}",
            "{kind} · a {up} de altura, de {from} a {to}"
        ),
    }
}

/// A brace in a few words.
pub fn brace(brace: &Brace, units: Units) -> String {
    let kind = match brace.kind {
        BraceKind::LetIn => text("Let-in brace", "Riostra embutida"),
        BraceKind::CutIn => text("Cut-in brace", "Riostra intercalada"),
    };
    let kind = kind.of(language());
    let (from, to) = (reading(brace.from.x, units), reading(brace.to.x, units));
    say!(language(), "{kind} · from {from} to {to}", "{kind} · de {from} a {to}")
}

/// A thing in the wall in a few words.
pub fn thing(thing: &Thing, units: Units) -> String {
    let kind = capital(word_of(THING_KINDS, &thing.kind));
    let at = match &thing.at {
        ThingShape::Box { left, up, .. } => Some((*left, *up)),
        ThingShape::Round { centre, .. } => Some((centre.x, centre.y)),
        ThingShape::Run { points, .. } => points.first().map(|point| (point.x, point.y)),
    };
    match at {
        Some((across, up)) => {
            let (across, up) = (reading(across, units), reading(up, units));
            say!(
                language(),
                "{kind} · at {across}, {up} up",
                "{kind} · en {across}, a {up} de altura"
            )
        }
        None => kind,
    }
}

/// A thing on the wall in a few words.
pub fn zone(zone: &Zone, units: Units) -> String {
    let kind = capital(word_of(ZONE_KINDS, &zone.kind));
    say!(
        language(),
        "{} · {} × {} at {}",
        "{} · {} × {} en {}",
        kind,
        size(zone.width, units),
        size(zone.height, units),
        reading(zone.left, units)
    )
}

/// A bay in a few words.
pub fn bay(bay: &BayException, units: Units) -> String {
    let depth =
        bay.depth.map(|depth| say!(language(), ", {} deep", ", {} de fondo", size(depth, units)));
    let (depth, skip) = (depth.unwrap_or_default(), word_of(SKIP_REASONS, &bay.skip));
    let at = reading(bay.at, units);
    say!(language(), "Bay at {at} · {skip}{depth}", "Espacio en {at} · {skip}{depth}")
}

/// A corrected stud in a few words.
pub fn correction(correction: &StudCorrection, units: Units) -> String {
    match correction {
        StudCorrection::Moved { stud, found } => say!(
            language(),
            "Stud near {} · found at {}",
            "Montante cerca de {} · hallado en {}",
            reading(*stud, units),
            reading(*found, units)
        ),
        StudCorrection::Missing { stud } => say!(
            language(),
            "Stud near {} · is not there",
            "Montante cerca de {} · no está",
            reading(*stud, units)
        ),
    }
}

/// A member beside the layout in a few words.
pub fn extra(extra: &ExtraStud, units: Units) -> String {
    let kind = capital(word_of(EXTRA_KINDS, &extra.kind));
    at(&kind, extra.centre, units)
}

/// What is picked, for people who do not see it.
pub fn picked(wall: &Wall, picked: &[Entry], units: Units) -> String {
    match picked {
        [] => NOTHING_PICKED.text().to_owned(),
        [entry] => entry_of(wall, *entry, units),
        [.., entry] => {
            let (n_picked, last) = (picked.len(), entry_of(wall, *entry, units));
            say!(language(), "{n_picked} picked; {last}", "{n_picked} elegidos; {last}")
        }
    }
}

fn entry_of(wall: &Wall, entry: Entry, units: Units) -> String {
    let text = match entry {
        Entry::Opening(idx) => wall.openings.get(idx).map(|entry| opening(entry, units)),
        Entry::Block(idx) => wall.blocks.get(idx).map(|entry| block(entry, units)),
        Entry::Brace(idx) => wall.braces.get(idx).map(|entry| brace(entry, units)),
        Entry::Thing(idx) => wall.things.get(idx).map(|entry| thing(entry, units)),
        Entry::Zone(idx) => wall.zones.get(idx).map(|entry| zone(entry, units)),
        Entry::Bay(idx) => wall.bays.get(idx).map(|entry| bay(entry, units)),
        Entry::Extra(idx) => wall.studs.extra.get(idx).map(|entry| extra(entry, units)),
        Entry::Hole(idx) => wall.drilling.holes.get(idx).map(|entry| own_hole(entry, units)),
        Entry::Stud(idx) => {
            let stands = studs::layout(wall).get(idx).and_then(|stud| stud.stands);
            stands.map(|stands| at(&capital(STUD.text()), stands, units))
        }
        Entry::Top => Some(UPPER_EDGE.text().to_owned()),
        Entry::Bottom => Some(LOWER_EDGE.text().to_owned()),
    };
    text.unwrap_or_default()
}

/// The part of an entry that arrow keys move.
pub fn grip(grip: Grip) -> &'static str {
    let part = match grip {
        Grip::Whole => text("all of it", "todo"),
        Grip::Left => text("left edge", "borde izquierdo"),
        Grip::Right => text("right edge", "borde derecho"),
        Grip::Low => text("lower edge", "borde inferior"),
        Grip::High => text("upper edge", "borde superior"),
        Grip::Point(_) => text("next point", "punto siguiente"),
    };
    part.of(language())
}

/// The readings of what is dragged, across from the datum.
pub fn told(scene: Scene<'_>, entry: Entry, grip: Grip, units: Units) -> Vec<String> {
    let Some(Rect { x, y }) = figure::figure(scene, entry).map(|figure| figure.bounds()) else {
        return Vec::new();
    };
    let wall = scene.wall;
    let from_datum = |place: Length| match wall.datum {
        End::Left => place,
        End::Right => wall.width - place,
    };
    let at_datum = match wall.datum {
        End::Left => x.from,
        End::Right => x.to,
    };
    let across = |place: Length| across(from_datum(place), units);
    let up = |height: Length| up(height, units);
    match (grip, entry) {
        (Grip::Left, _) => vec![across(x.from), wide(x.length(), units)],
        (Grip::Right, _) => vec![across(x.to), wide(x.length(), units)],
        (Grip::Low, _) => vec![up(y.from), high(y.length(), units)],
        (Grip::High, _) => vec![up(y.to), high(y.length(), units)],
        (Grip::Whole, Entry::Stud(_) | Entry::Extra(_) | Entry::Bay(_)) => vec![across(x.middle())],
        (Grip::Whole, Entry::Hole(_)) => vec![across(x.middle()), up(y.middle())],
        (Grip::Whole, Entry::Top | Entry::Bottom) => vec![up(y.to)],
        (Grip::Whole, _) => vec![across(at_datum), up(y.from)],
        (Grip::Point(_), _) => {
            let grips = figure::grips(scene, entry);
            let point = grips.into_iter().find(|(other, _)| *other == grip);
            point.map(|(_, point)| vec![across(point.x), up(point.y)]).unwrap_or_default()
        }
    }
}

fn at(kind: &str, centre: Length, units: Units) -> String {
    say!(language(), "{} · at {}", "{} · en {}", kind, reading(centre, units))
}

fn wide(length: Length, units: Units) -> String {
    say!(language(), "{} wide", "{} de ancho", size(length, units))
}

fn high(length: Length, units: Units) -> String {
    say!(language(), "{} high", "{} de alto", size(length, units))
}
