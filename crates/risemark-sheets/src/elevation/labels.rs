//! Words and numbers on the wall: what each says, and the places that would suit it.

use risemark::{
    compartments::Compartment,
    drilling::Hole,
    finding::{Avoided, Finding, Part, Severity},
    geometry::Polygon,
    plan::WallPlan,
    quantity::count,
    wording,
};

use super::{
    Crowding, Draft, Layer, holes,
    placing::{self, Label, Spot, Stands},
    spaces,
};
use crate::{
    drawing::{Area, Item, Tag},
    ink::Ink,
    text::{self, Face},
    words,
};

/// The usual way from hole to hole, in millimetres.
const BAY: f64 = 406.4;
/// How wide a bay is, in sizes of the type, in which numbers may stand far off.
const ROOM: f64 = 2.0;

/// How far from its thing a label may stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Reach {
    Beside,
    Near,
    Off,
    Far,
}

impl Reach {
    /// How many places there are round a hole, at most.
    const fn most_places(self) -> usize {
        let (n_far, n_sideways) = self.off();
        8 + 2 * n_far * n_sideways
    }

    /// How many steps off there are, and how many places beside each other at each.
    ///
    /// Long lines are worth their ink only where every number must stand.
    const fn off(self) -> (usize, usize) {
        match self {
            Self::Beside => (0, 0),
            Self::Near => (1, 3),
            Self::Off => (2, 5),
            Self::Far => (4, 7),
        }
    }
}

/// Places the numbers of holes and the words on the wall among what is drawn already.
pub(super) fn labels(draft: &Draft<'_>, drawn: &[Item]) -> Vec<Item> {
    let mut wanted = Vec::new();
    if draft.subject.layers.contains(&Layer::Holes) {
        wanted.extend(holes::seen(draft).map(|hole| number(draft, hole)));
    }
    wanted.extend(draft.subject.plan.frame.openings.iter().filter_map(|opening| {
        let kind = wording::opening(opening.kind).of(draft.subject.speech.language);
        word(draft, &opening.polygon, opening.name.as_deref().unwrap_or(kind))
    }));
    if draft.subject.layers.contains(&Layer::Framing) {
        wanted.extend(things(draft));
    }
    if draft.subject.layers.contains(&Layer::Compartments) {
        let named = draft.subject.plan.compartments.iter();
        let named = named.filter(|compartment| is_spoken_of(draft.subject.plan, compartment));
        wanted.extend(named.filter_map(|compartment| name(draft, compartment)));
    }
    placing::place(draft, drawn, &wanted)
}

fn number(draft: &Draft<'_>, hole: &Hole) -> Label {
    let chosen = draft.subject.selected == Some(hole.mark);
    let ink = if chosen { Ink::HoleNumberChosen } else { Ink::HoleNumber };
    let (content, size) = (hole.mark.to_string(), draft.manner.number);
    let ((rx, ry), centre) = (holes::half_size(draft, &hole.slope), draft.scale.at(hole.centre));
    let ring = Area {
        left: centre.x - rx,
        right: centre.x + rx,
        top: centre.y - ry,
        bottom: centre.y + ry,
    };
    let must = chosen || draft.manner.crowding == Crowding::Keep;
    // Where bays are no wider than numbers, lines to those that stand far off would cross all others.
    let roomy = ROOM * size <= BAY * draft.scale.per_mm;
    let reach = match (must, roomy) {
        (true, _) => Reach::Far,
        (false, true) => Reach::Off,
        (false, false) => Reach::Near,
    };
    let spots =
        round_about(ring, sized(&content, size, chosen), draft.manner.height() * 0.3, reach);
    let clear = draft.manner.height() * 0.35;
    Label { ink, size, content, tag: Some(Tag::Hole(hole.mark)), must, own: ring, clear, spots }
}

fn sized(content: &str, size: f64, bold: bool) -> (f64, f64) {
    let face = if bold { Face::Bold } else { Face::Regular };
    let (above, below) = text::reach(content, size);
    (text::width(content, size, face), above + below)
}

/// Eight places round a hole, then places further off that need a line.
fn round_about(ring: Area, (w, h): (f64, f64), gap: f64, reach: Reach) -> Vec<Spot> {
    let (centre, rx, ry) = (ring.middle(), ring.width() / 2.0, ring.height() / 2.0);
    let (over, under) = (centre.y - ry - gap - h, centre.y + ry + gap);
    let beside = [centre.x - w / 2.0, centre.x + rx * 0.6, centre.x - rx * 0.6 - w];
    let mut spots = Vec::with_capacity(reach.most_places());
    for (rank, left) in beside.into_iter().enumerate() {
        for (side, top) in [over, under].into_iter().enumerate() {
            let cost = count(rank) * 0.6 + count(side) * 0.4;
            spots.push(Spot { area: Area::new(left, top, w, h), stands: Stands::Beside, cost });
        }
    }
    let level = centre.y - h / 2.0;
    for left in [centre.x + rx + gap, centre.x - rx - gap - w] {
        spots.push(Spot { area: Area::new(left, level, w, h), stands: Stands::Beside, cost: 1.5 });
    }
    let (n_far, n_sideways) = reach.off();
    for (steps_up, far) in [1.0, 1.7, 2.6, 3.8].into_iter().take(n_far).enumerate() {
        for sideways in [0.0, 0.75, -0.75, 1.3, -1.3, 1.9, -1.9].into_iter().take(n_sideways) {
            for up in [-1.0, 1.0] {
                let middle = centre.moved(sideways * w, up * (ry + gap + h * (far + 0.1)));
                let area = Area::new(middle.x - w / 2.0, middle.y - h / 2.0, w, h);
                let cost = 2.5 + count(steps_up) * 0.5 + f64::abs(sideways) * 0.5;
                spots.push(Spot { area, stands: Stands::Off, cost });
            }
        }
    }
    spots
}

/// The name of an opening, in it.
fn word(draft: &Draft<'_>, polygon: &Polygon, name: &str) -> Option<Label> {
    let pieces: Vec<Area> =
        draft.clipped(polygon).iter().map(|piece| draft.area_of(piece.bounds())).collect();
    let room = pieces.into_iter().reduce(Area::with)?;
    let size = draft.manner.text;
    let content = text::fitted(name, room.width() - draft.manner.gap * 2.0, size, Face::Regular);
    let spots = inside(room, sized(&content, size, false), draft.manner.gap);
    let legible = content == name || 8 <= content.chars().count();
    legible.then(|| wall_word(draft, (content, None), room, spots)).flatten()
}

/// Places inside a room, from its middle outwards.
fn inside(room: Area, (w, h): (f64, f64), gap: f64) -> Vec<Spot> {
    let free = room.height() - h - gap;
    if room.width() < w + gap || free < 0.0 {
        return Vec::new();
    }
    let shares = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9];
    let places = shares.into_iter().enumerate().map(|(rank, share)| {
        let top = room.top + gap / 2.0 + free * share;
        Spot {
            area: Area::new(room.middle().x - w / 2.0, top, w, h),
            stands: Stands::Beside,
            cost: count(rank) * 0.1,
        }
    });
    places.collect()
}

fn things(draft: &Draft<'_>) -> Vec<Label> {
    let all = draft.subject.plan.frame.obstacles.iter();
    let labelled = all.filter_map(|obstacle| {
        let word = words::on_the_wall(obstacle.what)?;
        let content = word.of(draft.subject.speech.language).to_owned();
        let pieces = obstacle.pieces.iter().flat_map(|piece| draft.clipped(piece));
        let areas: Vec<Area> = pieces.map(|piece| core(draft, &piece)).collect();
        let around = areas
            .iter()
            .copied()
            .max_by(|a, b| (a.width() * a.height()).total_cmp(&(b.width() * b.height())))?;
        let size = draft.manner.text;
        let extent = sized(&content, size, false);
        let mut spots = inside(around, extent, draft.manner.gap);
        if matches!(obstacle.what, Avoided::Thing(_)) {
            spots.extend(round_about(around, extent, draft.manner.height() * 0.3, Reach::Beside));
        }
        wall_word(draft, (content, None), around, spots)
    });
    labelled.collect()
}

/// The upright area of a thing; of a sloping run the middle alone, where its word is not misread.
fn core(draft: &Draft<'_>, piece: &Polygon) -> Area {
    let bounds = piece.bounds();
    let area = draft.area_of(bounds);
    let sloping = piece.area() < bounds.x.length() * bounds.y.length() / 2.0;
    if sloping { Area::of(area.middle()).widened(draft.manner.height() * 0.4) } else { area }
}

/// Whether something is said about a compartment that people must find.
fn is_spoken_of(plan: &WallPlan, compartment: &Compartment) -> bool {
    let part = Part::Compartment(compartment.id);
    let is_said = |finding: &Finding| {
        finding.place.part == part && finding.problem.severity() != Severity::Note
    };
    spaces::stays_empty(plan, compartment) || plan.findings.iter().any(is_said)
}

/// The name of a compartment, so that what is said about it can be found.
fn name(draft: &Draft<'_>, compartment: &Compartment) -> Option<Label> {
    let (content, size) = (compartment.id.to_string(), draft.manner.text);
    let pieces = draft.clipped(&compartment.polygon);
    let room = pieces.iter().map(|piece| draft.area_of(piece.bounds())).reduce(Area::with)?;
    let spots = inside(room, sized(&content, size, false), draft.manner.gap);
    let tag = Some(Tag::Compartment(compartment.id.0));
    wall_word(draft, (content, tag), room, spots)
}

/// A word that is left out where it finds no place.
fn wall_word(
    draft: &Draft<'_>,
    (content, tag): (String, Option<Tag>),
    own: Area,
    spots: Vec<Spot>,
) -> Option<Label> {
    let (size, clear) = (draft.manner.text, draft.manner.height() * 0.35);
    let label = Label { ink: Ink::WallWord, size, content, tag, must: false, own, clear, spots };
    (!label.spots.is_empty()).then_some(label)
}
