//! Labels find the places where they touch nothing.

use risemark::quantity::count;

use super::Draft;
use crate::{
    drawing::{Anchor, Area, At, Item, Shape, Tag},
    ink::Ink,
    text,
};

/// What it costs to touch a line, such as the edge of a stud.
const LINE: f64 = 6.0;
/// What it costs to touch a hole, a mark or another label.
const BODY: f64 = 100.0;
/// What it costs to stand so near to another hole that the label could be taken for its own.
const NEAR: f64 = 12.0;
/// What it costs when the lines to two labels cross.
const CROSSED: f64 = 20.0;
/// What it costs to leave the room of the drawing.
const OUTSIDE: f64 = 200.0;
/// How often labels look again for a better place once all have one.
const N_ROUNDS: usize = 4;

/// A text that wants a place.
#[derive(Debug, Clone)]
pub(super) struct Label {
    pub(super) ink: Ink,
    pub(super) size: f64,
    pub(super) content: String,
    pub(super) tag: Option<Tag>,
    /// Drawn even where it touches something.
    pub(super) must: bool,
    /// The room of what it names.
    pub(super) own: Area,
    /// Room to keep from other labels on its line and from other holes.
    pub(super) clear: f64,
    /// Places it may take, the best first.
    pub(super) spots: Vec<Spot>,
}

/// A place for a label.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    pub(super) area: Area,
    /// Where the line to the label starts, where one is needed.
    pub(super) leader: Option<(At, At)>,
    pub(super) cost: f64,
}

/// What labels must not touch.
#[derive(Debug, Default)]
struct Taken {
    lines: Vec<(At, At)>,
    bodies: Vec<Area>,
    /// Those of the bodies that are holes.
    rings: Vec<Area>,
}

/// Labels that have been placed.
#[derive(Debug)]
pub(super) struct Labelled {
    pub(super) items: Vec<Item>,
    /// How many stand off what they name, at the end of a line.
    pub(super) n_led: usize,
}

/// Places labels among what is drawn already.
pub(super) fn place(draft: &Draft<'_>, drawn: &[Item], wanted: Vec<Label>) -> Labelled {
    let taken = Taken::by(drawn);
    let labels: Vec<Label> = wanted.into_iter().map(|label| priced(draft, label, &taken)).collect();
    let places = choose(&labels);
    let kept = labels.iter().zip(places).filter(|(label, (_, cost))| label.must || *cost < LINE);
    let kept: Vec<(&Label, &Spot)> =
        kept.filter_map(|(label, (spot, _))| Some((label, label.spots.get(spot)?))).collect();
    Labelled {
        n_led: kept.iter().filter(|(_, spot)| spot.leader.is_some()).count(),
        items: kept.into_iter().flat_map(|(label, spot)| written(label, spot)).collect(),
    }
}

impl Taken {
    fn by(items: &[Item]) -> Self {
        let mut taken = Self::default();
        for item in items {
            taken.take(item);
            if matches!(item.ink, Ink::Hole | Ink::HoleChosen) {
                taken.rings.push(item.area());
            }
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
            rings: self.rings.iter().filter(|ring| ring.overlaps(area)).copied().collect(),
        }
    }

    fn cost(&self, spot: &Spot, own: Area, clear: f64) -> f64 {
        let lines = self.lines.iter().filter(|(a, b)| spot.area.meets_line(*a, *b)).count();
        let bodies = self.bodies.iter().filter(|body| body.overlaps(spot.area)).count();
        let crossed = self.bodies.iter().filter(|body| {
            let others = !own.holds(**body);
            others && spot.leader.is_some_and(|(a, b)| body.meets_line(a, b))
        });
        let close = spot.area.widened(clear * 1.4);
        let near = self.rings.iter().filter(|ring| !own.holds(**ring) && ring.overlaps(close));
        count(lines) * LINE + count(bodies + crossed.count()) * BODY + count(near.count()) * NEAR
    }
}

impl Label {
    /// The room of all the places that it may take, with its own.
    fn around(&self) -> Area {
        self.spots.iter().map(|spot| spot.area).fold(self.own, Area::with)
    }

    fn cheapest(&self) -> f64 {
        self.spots.iter().map(|spot| spot.cost).fold(f64::INFINITY, f64::min)
    }
}

/// The label with what each of its places costs, whatever the other labels do.
fn priced(draft: &Draft<'_>, mut label: Label, taken: &Taken) -> Label {
    let around = label.around();
    let near = taken.near(around);
    let (own, clear) = (label.own.widened(1e-6), label.clear);
    for spot in &mut label.spots {
        let outside = if draft.room().holds(spot.area) { 0.0 } else { OUTSIDE };
        spot.cost += near.cost(spot, own, clear) + outside;
    }
    label
}

/// For each label the position of its place in its list, and what that costs.
///
/// Who chooses first matters: both those with few good places and those with many are tried.
fn choose(labels: &[Label]) -> Vec<(usize, f64)> {
    let near = neighbours(labels);
    let mut order: Vec<usize> = (0..labels.len()).collect();
    order.sort_by(|a, b| labels[*b].cheapest().total_cmp(&labels[*a].cheapest()));
    let hard_first = chosen_in(labels, &near, &order);
    order.reverse();
    let easy_first = chosen_in(labels, &near, &order);
    let total = |places: &[(usize, f64)]| places.iter().map(|(_, cost)| cost).sum::<f64>();
    if total(&easy_first) < total(&hard_first) { easy_first } else { hard_first }
}

/// For each label those that may come to stand near it.
fn neighbours(labels: &[Label]) -> Vec<Vec<usize>> {
    let around: Vec<Area> =
        labels.iter().map(|label| label.around().widened(label.clear)).collect();
    let near = |idx: usize| {
        let others =
            (0..labels.len()).filter(|other| *other != idx && around[*other].overlaps(around[idx]));
        others.collect()
    };
    (0..labels.len()).map(near).collect()
}

fn chosen_in(labels: &[Label], near: &[Vec<usize>], order: &[usize]) -> Vec<(usize, f64)> {
    let mut chosen: Vec<(usize, f64)> = vec![(usize::MAX, f64::INFINITY); labels.len()];
    for _ in 0..N_ROUNDS {
        for idx in order.iter().copied() {
            let others =
                near[idx].iter().filter_map(|other| labels[*other].spots.get(chosen[*other].0));
            let others: Vec<&Spot> = others.collect();
            let costs = labels[idx].spots.iter();
            let costs = costs.map(|spot| spot.cost + crowding(spot, &others, labels[idx].clear));
            let best = costs.enumerate().min_by(|(_, a), (_, b)| a.total_cmp(b));
            chosen[idx] = best.unwrap_or((0, f64::INFINITY));
        }
    }
    chosen
}

/// What a place costs because of the places that the others have.
fn crowding(spot: &Spot, others: &[&Spot], clear: f64) -> f64 {
    let apart = Area { left: spot.area.left - clear, right: spot.area.right + clear, ..spot.area };
    let runs_through =
        |area: Area, leader: Option<(At, At)>| leader.is_some_and(|(a, b)| area.meets_line(a, b));
    let cost = |other: &&Spot| {
        let touches = apart.overlaps(other.area)
            || runs_through(spot.area, other.leader)
            || runs_through(other.area, spot.leader);
        let crossed = spot.leader.zip(other.leader).is_some_and(|(one, two)| cross(one, two));
        f64::from(u8::from(touches)) * BODY + f64::from(u8::from(crossed)) * CROSSED
    };
    others.iter().map(cost).sum()
}

/// Whether two lines cross.
fn cross((a, b): (At, At), (c, d): (At, At)) -> bool {
    let side = |from: At, to: At, at: At| {
        (to.x - from.x) * (at.y - from.y) - (to.y - from.y) * (at.x - from.x)
    };
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
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
