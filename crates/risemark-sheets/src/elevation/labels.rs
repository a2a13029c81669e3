//! Words and numbers on the wall, each where it touches nothing.

use risemark::{
    compartments::Compartment, drilling::Hole, finding::Avoided, geometry::Polygon, quantity::count,
};

use super::{Crowding, Draft, Layer, holes, obstacles, spaces};
use crate::{
    drawing::{Anchor, Area, At, Item, Shape, Tag},
    ink::Ink,
    text::{self, Face},
};

/// What it costs to touch a line, such as the edge of a stud.
const LINE: f64 = 6.0;
/// What it costs to touch a hole, a mark or another label.
const BODY: f64 = 100.0;
/// What it costs to leave the room of the drawing.
const OUTSIDE: f64 = 200.0;
/// How often labels look again for a better place once all have one.
const N_ROUNDS: usize = 4;

/// A text that wants a place.
#[derive(Debug, Clone)]
struct Label {
    ink: Ink,
    size: f64,
    content: String,
    tag: Option<Tag>,
    /// Drawn even where it touches something.
    must: bool,
    /// Places it may take, the best first.
    spots: Vec<Spot>,
}

/// A place for a label.
#[derive(Debug, Clone, Copy)]
struct Spot {
    area: Area,
    /// Where the line to the label starts, where one is needed.
    leader: Option<(At, At)>,
    cost: f64,
}

/// How far from its thing a label may stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Reach {
    Beside,
    Near,
    Far,
}

/// What labels must not touch.
#[derive(Debug, Default)]
struct Taken {
    lines: Vec<(At, At)>,
    bodies: Vec<Area>,
}

/// Places the numbers of holes and the words on the wall among what is drawn already.
pub(super) fn labels(draft: &Draft<'_>, drawn: &[Item]) -> Vec<Item> {
    let taken = Taken::by(drawn);
    let mut wanted = Vec::new();
    if draft.subject.layers.contains(&Layer::Holes) {
        wanted.extend(holes::seen(draft).map(|hole| number(draft, hole)));
    }
    wanted.extend(draft.subject.plan.frame.openings.iter().filter_map(|opening| {
        (!opening.name.is_empty()).then(|| word(draft, &opening.polygon, &opening.name)).flatten()
    }));
    if draft.subject.layers.contains(&Layer::Framing) {
        wanted.extend(things(draft));
    }
    if draft.subject.layers.contains(&Layer::Compartments) {
        let empty = draft.subject.plan.compartments.iter();
        let empty =
            empty.filter(|compartment| spaces::stays_empty(draft.subject.plan, compartment));
        wanted.extend(empty.filter_map(|compartment| name(draft, compartment)));
    }
    let mut labels: Vec<Label> =
        wanted.into_iter().map(|label| priced(draft, label, &taken)).collect();
    // Who has the fewest good places chooses first.
    labels.sort_by(|a, b| b.cheapest().total_cmp(&a.cheapest()));
    let places = choose(&labels);
    let drawn = labels.iter().zip(places).filter(|(label, (_, cost))| label.must || *cost < LINE);
    drawn.flat_map(|(label, (spot, _))| written(label, &label.spots[spot])).collect()
}

impl Taken {
    fn by(items: &[Item]) -> Self {
        let mut taken = Self::default();
        for item in items {
            taken.take(item);
        }
        taken
    }

    fn take(&mut self, item: &Item) {
        match (&item.shape, item.ink) {
            // Hatching and dots are a ground on which a label with its halo stays legible.
            (
                _,
                Ink::Hatch | Ink::EmptyHatch | Ink::ZoneDots | Ink::OpeningCross | Ink::Compartment,
            ) => {}
            (Shape::Line(a, b), _) => self.lines.push((*a, *b)),
            (Shape::Chains(chains), _) => {
                self.lines.extend(
                    chains.iter().flat_map(|chain| chain.windows(2)).map(|pair| (pair[0], pair[1])),
                );
            }
            (
                Shape::Rings(_),
                Ink::FindingStop
                | Ink::FindingWarning
                | Ink::FindingNote
                | Ink::Pointer
                | Ink::PointerChosen,
            )
            | (Shape::Ellipse { .. } | Shape::Rect(_) | Shape::Text(_), _) => {
                self.bodies.push(item.area());
            }
            (Shape::Rings(rings), _) => {
                let edges = rings.iter().flat_map(|ring| {
                    (0..ring.len()).map(|idx| (ring[idx], ring[(idx + 1) % ring.len()]))
                });
                self.lines.extend(edges);
            }
        }
    }

    /// What is near enough to matter.
    fn near(&self, area: Area) -> Self {
        let meets =
            |(a, b): &(At, At)| Area::of(*a).with(Area::of(*b)).widened(1e-6).overlaps(area);
        Self {
            lines: self.lines.iter().filter(|line| meets(line)).copied().collect(),
            bodies: self.bodies.iter().filter(|body| body.overlaps(area)).copied().collect(),
        }
    }

    fn cost(&self, spot: &Spot, own: Area) -> f64 {
        let lines = self.lines.iter().filter(|(a, b)| spot.area.meets_line(*a, *b)).count();
        let bodies = self.bodies.iter().filter(|body| body.overlaps(spot.area)).count();
        let crossed = self.bodies.iter().filter(|body| {
            let others = !own.holds(**body);
            others && spot.leader.is_some_and(|(a, b)| body.meets_line(a, b))
        });
        count(lines) * LINE + count(bodies + crossed.count()) * BODY
    }
}

impl Label {
    fn cheapest(&self) -> f64 {
        self.spots.iter().map(|spot| spot.cost).fold(f64::INFINITY, f64::min)
    }
}

/// The label with what each of its places costs, whatever the other labels do.
fn priced(draft: &Draft<'_>, mut label: Label, taken: &Taken) -> Label {
    let around = label
        .spots
        .iter()
        .map(|spot| spot.area)
        .reduce(Area::with)
        .unwrap_or(Area::of(At::new(0.0, 0.0)));
    let near = taken.near(around);
    let own = label
        .spots
        .iter()
        .find_map(|spot| spot.leader)
        .map_or(around, |(from, _)| Area::of(from).widened(draft.manner.height()));
    for spot in &mut label.spots {
        let outside = if draft.room().holds(spot.area) { 0.0 } else { OUTSIDE };
        spot.cost += near.cost(spot, own) + outside;
    }
    label
}

/// For each label the position of its place in its list, and what that costs.
fn choose(labels: &[Label]) -> Vec<(usize, f64)> {
    let mut chosen: Vec<(usize, f64)> = vec![(usize::MAX, f64::INFINITY); labels.len()];
    for _ in 0..N_ROUNDS {
        for idx in 0..labels.len() {
            let costs = labels[idx]
                .spots
                .iter()
                .map(|spot| spot.cost + crowding(labels, &chosen, (idx, spot)));
            let best = costs.enumerate().min_by(|(_, a), (_, b)| a.total_cmp(b));
            chosen[idx] = best.unwrap_or((0, f64::INFINITY));
        }
    }
    chosen
}

/// What a place costs because of the places that the others have.
fn crowding(labels: &[Label], chosen: &[(usize, f64)], (own, spot): (usize, &Spot)) -> f64 {
    let others = labels.iter().zip(chosen).enumerate().filter(|(idx, _)| *idx != own);
    let places = others.filter_map(|(_, (label, (place, _)))| label.spots.get(*place));
    let crosses =
        |area: Area, leader: Option<(At, At)>| leader.is_some_and(|(a, b)| area.meets_line(a, b));
    let touching = places.filter(|other| {
        spot.area.overlaps(other.area)
            || crosses(spot.area, other.leader)
            || crosses(other.area, spot.leader)
    });
    count(touching.count()) * BODY
}

fn written(label: &Label, spot: &Spot) -> Vec<Item> {
    let size = label.size;
    let (above, _) = text::reach(&label.content, size);
    let base = At::new(spot.area.middle().x, spot.area.top + above);
    let mut text = Item::text(label.ink, (base, Anchor::Middle), size, label.content.clone());
    text.tag = label.tag;
    let leader = spot.leader.map(|(from, to)| Item::line(Ink::Leader, from, to));
    leader.into_iter().chain([text]).collect()
}

fn number(draft: &Draft<'_>, hole: &Hole) -> Label {
    let chosen = draft.subject.selected == Some(hole.mark);
    let ink = if chosen { Ink::HoleNumberChosen } else { Ink::HoleNumber };
    let (content, size) = (hole.mark.to_string(), draft.manner.number);
    let ((rx, ry), centre) = (holes::half_size(draft, hole), draft.scale.at(hole.centre));
    let ring = Area {
        left: centre.x - rx,
        right: centre.x + rx,
        top: centre.y - ry,
        bottom: centre.y + ry,
    };
    let must = chosen || draft.manner.crowding == Crowding::Keep;
    let reach = if must { Reach::Far } else { Reach::Near };
    let spots =
        round_about(ring, sized(&content, size, chosen), draft.manner.height() * 0.3, reach);
    Label { ink, size, content, tag: Some(Tag::Hole(hole.mark)), must, spots }
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
    let mut spots = Vec::new();
    for (rank, left) in beside.into_iter().enumerate() {
        for (side, top) in [over, under].into_iter().enumerate() {
            let cost = count(rank) * 0.6 + count(side) * 0.4;
            spots.push(Spot { area: Area::new(left, top, w, h), leader: None, cost });
        }
    }
    let level = centre.y - h / 2.0;
    for left in [centre.x + rx + gap, centre.x - rx - gap - w] {
        spots.push(Spot { area: Area::new(left, level, w, h), leader: None, cost: 1.5 });
    }
    // Long lines are worth their ink only where every number must stand.
    let (n_far, n_sideways) = match reach {
        Reach::Beside => return spots,
        Reach::Near => (1, 3),
        Reach::Far => (4, 7),
    };
    for (steps_up, far) in [1.0, 1.7, 2.6, 3.8].into_iter().take(n_far).enumerate() {
        for sideways in [0.0, 0.75, -0.75, 1.3, -1.3, 1.9, -1.9].into_iter().take(n_sideways) {
            for up in [-1.0, 1.0] {
                let middle = centre.moved(sideways * w, up * (ry + gap + h * (far + 0.1)));
                let area = Area::new(middle.x - w / 2.0, middle.y - h / 2.0, w, h);
                let cost = 2.5 + count(steps_up) * 0.5 + f64::abs(sideways) * 0.5;
                spots.push(Spot { area, leader: Some(led(centre, (rx, ry), area)), cost });
            }
        }
    }
    spots
}

/// A line from the edge of a ring to the nearest place of an area.
fn led(centre: At, (rx, ry): (f64, f64), area: Area) -> (At, At) {
    let to = At::new(centre.x.clamp(area.left, area.right), centre.y.clamp(area.top, area.bottom));
    let (dx, dy) = ((to.x - centre.x) / rx, (to.y - centre.y) / ry);
    let far = libm::sqrt(dx * dx + dy * dy).max(1e-9);
    (centre.moved(dx / far * rx, dy / far * ry), to)
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
    (legible && !spots.is_empty()).then_some(Label {
        ink: Ink::WallWord,
        size,
        content,
        tag: None,
        must: false,
        spots,
    })
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
            leader: None,
            cost: count(rank) * 0.1,
        }
    });
    places.collect()
}

fn things(draft: &Draft<'_>) -> Vec<Label> {
    let all = draft.subject.plan.frame.obstacles.iter();
    let labelled = all.filter_map(|obstacle| {
        let content = obstacles::word(obstacle.what)?.to_owned();
        let pieces = obstacle.pieces.iter().flat_map(|piece| draft.clipped(piece));
        let areas: Vec<Area> = pieces.map(|piece| draft.area_of(piece.bounds())).collect();
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
        (!spots.is_empty()).then_some(Label {
            ink: Ink::WallWord,
            size,
            content,
            tag: None,
            must: false,
            spots,
        })
    });
    labelled.collect()
}

/// The name of a compartment that stays empty, so that what is said about it can be found.
fn name(draft: &Draft<'_>, compartment: &Compartment) -> Option<Label> {
    let (content, size) = (compartment.id.to_string(), draft.manner.text);
    let pieces = draft.clipped(&compartment.polygon);
    let room = pieces.iter().map(|piece| draft.area_of(piece.bounds())).reduce(Area::with)?;
    let spots = inside(room, sized(&content, size, false), draft.manner.gap);
    let tag = Some(Tag::Compartment(compartment.id.0));
    (!spots.is_empty()).then_some(Label {
        ink: Ink::WallWord,
        size,
        content,
        tag,
        must: false,
        spots,
    })
}
