//! Labels find the places where they touch nothing.

use risemark::quantity::{count, to_whole};

use super::Draft;
use crate::{
    drawing::{Anchor, Area, At, Item, Shape, Tag, Unit, is_straight},
    ink::Ink,
    text,
};

/// What it costs to touch a line, such as the edge of a stud.
const LINE: f64 = 6.0;
/// What it costs to touch no more than half the width of a line: dearer than another place, and yet better
/// than none.
const GRAZED: f64 = 3.0;
/// What it costs to touch a hole, a mark or another label.
const BODY: f64 = 100.0;
/// What it costs to stand so near to another hole that the label could be taken for its own.
const NEAR: f64 = 12.0;
/// What it costs when the lines to two labels cross.
const CROSSED: f64 = 20.0;
/// What it costs to leave the room of the drawing.
const OUTSIDE: f64 = 200.0;
/// Width of a strip in sizes of the type: about that of the places which one label may take.
const STRIP: f64 = 5.0;
/// A level line is listed in every strip, so that a drawing that is much enlarged has no more than these.
const MOST_STRIPS: f64 = 64.0;
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
    pub(super) stands: Stands,
    pub(super) cost: f64,
}

/// Whether a label needs a line to what it names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stands {
    Beside,
    Off,
}

/// A label that looks for its place.
#[derive(Debug)]
struct Seeking<'a> {
    label: &'a Label,
    drawn: &'a Drawn,
    /// What is near enough to matter to a place beside what is named.
    beside: Taken,
    /// And to those further off, once one of them is asked for: few labels look so far.
    off: Option<Taken>,
    /// The room that the label must not leave.
    room: Area,
    /// Each place with what it costs whatever the other labels do, once that has been asked for.
    known: Vec<Option<Seat>>,
}

/// The place that a label has for now.
#[derive(Debug, Clone, Copy)]
struct Seat {
    area: Area,
    leader: Option<(At, At)>,
    cost: f64,
}

/// What is drawn already, in upright strips: a label looks only at those beside it.
#[derive(Debug)]
struct Drawn {
    left: f64,
    /// Width of a strip.
    width: f64,
    /// What lies in each strip; what is wider lies in several.
    strips: Vec<Taken>,
}

/// What labels must not touch.
#[derive(Debug, Clone, Default)]
struct Taken {
    lines: Vec<Line>,
    bodies: Vec<Area>,
    /// Those of the bodies that are holes.
    rings: Vec<Area>,
}

/// A straight line.
#[derive(Debug, Clone, Copy)]
struct Line {
    /// Its room, with its width.
    around: Area,
    from: At,
    to: At,
}

/// Places labels among what is drawn already.
pub(super) fn place(draft: &Draft<'_>, drawn: &[Item], wanted: &[Label]) -> Vec<Item> {
    let room = draft.room();
    let drawn = Drawn::new(&Taken::by(drawn, draft.manner.unit), room, draft.manner.text * STRIP);
    let seeking = |label| Seeking::new(label, &drawn, room);
    let mut labels: Vec<Seeking<'_>> = wanted.iter().map(seeking).collect();
    let seats = choose(&mut labels).into_iter();
    let seated = wanted.iter().zip(seats).filter_map(|(label, seat)| Some((label, seat?)));
    let kept = seated.filter(|(label, seat)| label.must || seat.cost < LINE);
    kept.flat_map(|(label, seat)| written(label, seat)).collect()
}

impl Drawn {
    /// Strips of a width, or wider ones where those would be too many.
    fn new(taken: &Taken, room: Area, width: f64) -> Self {
        let width = width.max(room.width() / MOST_STRIPS);
        let n_strips = usize::try_from(to_whole(room.width() / width)).unwrap_or(0) + 1;
        let strips = vec![Taken::default(); n_strips];
        let mut drawn = Self { left: room.left, width, strips };
        for line in &taken.lines {
            drawn.each_strip(line.around, |strip| strip.lines.push(*line));
        }
        for body in &taken.bodies {
            drawn.each_strip(*body, |strip| strip.bodies.push(*body));
        }
        for ring in &taken.rings {
            drawn.each_strip(*ring, |strip| strip.rings.push(*ring));
        }
        drawn
    }

    fn each_strip(&mut self, area: Area, mut put: impl FnMut(&mut Taken)) {
        let range = self.strip(area.left)..=self.strip(area.right);
        self.strips[range].iter_mut().for_each(&mut put);
    }

    /// The strip with a place; what lies beside all of them counts to the outer ones.
    fn strip(&self, x: f64) -> usize {
        let before = to_whole((x - self.left) / self.width).max(0);
        usize::try_from(before).unwrap_or(0).min(self.strips.len() - 1)
    }

    /// What is near enough to matter.
    fn near(&self, area: Area) -> Taken {
        let (first, last) = (self.strip(area.left), self.strip(area.right));
        let most = |of: fn(&Taken) -> usize| self.strips[first..=last].iter().map(of).sum();
        let mut near = Taken {
            lines: Vec::with_capacity(most(|strip| strip.lines.len())),
            bodies: Vec::with_capacity(most(|strip| strip.bodies.len())),
            rings: Vec::with_capacity(most(|strip| strip.rings.len())),
        };
        for strip in first..=last {
            // What lies in several of the strips is taken from the first of them.
            let is_new =
                |around: Area| around.overlaps(area) && self.strip(around.left).max(first) == strip;
            let Taken { lines, bodies, rings } = &self.strips[strip];
            near.lines.extend(lines.iter().filter(|line| is_new(line.around)));
            near.bodies.extend(bodies.iter().filter(|body| is_new(**body)));
            near.rings.extend(rings.iter().filter(|ring| is_new(**ring)));
        }
        near
    }
}

impl Taken {
    fn by(items: &[Item], unit: Unit) -> Self {
        let mut taken = Self::default();
        for item in items {
            taken.take(item, item.ink.line_width(unit) / 2.0);
            if matches!(item.ink, Ink::Hole | Ink::HoleChosen) {
                taken.rings.push(item.area());
            }
        }
        taken
    }

    /// Takes an item whose lines are twice as wide as `half`.
    fn take(&mut self, item: &Item, half: f64) {
        match (&item.shape, item.ink) {
            // Hatching and dots are a ground on which a label with its halo stays legible.
            (
                _,
                Ink::Hatch | Ink::EmptyHatch | Ink::ZoneDots | Ink::OpeningCross | Ink::Compartment,
            )
            // The ruler that they are on is a body itself.
            | (_, Ink::Division | Ink::StudMark
            ) => {}
            (Shape::Line(a, b), _) => self.lines.push(Line::new(*a, *b, half)),
            (Shape::Lines(lines), _) => {
                self.lines.extend(lines.iter().map(|(a, b)| Line::new(*a, *b, half)));
            }
            (Shape::Chains(chains), _) => {
                let pairs = chains.iter().flat_map(|chain| chain.windows(2));
                self.lines.extend(pairs.map(|pair| Line::new(pair[0], pair[1], half)));
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
                    (0..ring.len())
                        .map(|idx| Line::new(ring[idx], ring[(idx + 1) % ring.len()], half))
                });
                self.lines.extend(edges);
            }
        }
    }

    fn cost(&self, seat: &Seat, own: Area, close: f64) -> f64 {
        let near = self.lines.iter().filter(|line| line.around.overlaps(seat.area));
        let lines: f64 = near.map(|line| line.cost(seat.area)).sum();
        let bodies = self.bodies.iter().filter(|body| body.overlaps(seat.area)).count();
        let crossed = seat.leader.map_or(0, |(a, b)| {
            let crossed = |body: &&Area| body.meets_line(a, b) && !own.holds(**body);
            self.bodies.iter().filter(crossed).count()
        });
        let round = seat.area.widened(close);
        let near = self.rings.iter().filter(|ring| ring.overlaps(round) && !own.holds(**ring));
        lines + count(bodies + crossed) * BODY + count(near.count()) * NEAR
    }
}

impl Line {
    fn new(from: At, to: At, half: f64) -> Self {
        // What is not drawn has no width, and still a place.
        let around = Area::of(from).with(Area::of(to)).widened(half.max(1e-6));
        Self { around, from, to }
    }

    /// What it costs a place to lie in the room of the line.
    fn cost(&self, place: Area) -> f64 {
        if place.meets_line(self.from, self.to) {
            return LINE;
        }
        // The room of a sloped line is wider than the line.
        if is_straight(self.from, self.to) { GRAZED } else { 0.0 }
    }
}

impl Label {
    /// The room of all the places that it may take, with its own.
    fn around(&self) -> Area {
        self.spots.iter().map(|spot| spot.area).fold(self.own, Area::with)
    }

    /// The room of the places beside what it names.
    fn around_beside(&self) -> Area {
        let beside = self.spots.iter().filter(|spot| spot.stands == Stands::Beside);
        beside.map(|spot| spot.area).fold(self.own, Area::with)
    }

    /// How near a ring is that the label could be taken for.
    fn close(&self) -> f64 {
        self.clear * 1.4
    }

    /// The place as a seat that costs nothing yet.
    fn seat(&self, spot: &Spot) -> Seat {
        let leader = match spot.stands {
            Stands::Beside => None,
            Stands::Off => Some(led(self.own, spot.area)),
        };
        Seat { area: spot.area, leader, cost: 0.0 }
    }
}

impl<'a> Seeking<'a> {
    fn new(label: &'a Label, drawn: &'a Drawn, room: Area) -> Self {
        let known = vec![None; label.spots.len()];
        let beside = drawn.near(label.around_beside().widened(label.close()));
        Self { label, drawn, beside, off: None, room, known }
    }

    /// A place with what it costs whatever the other labels do.
    fn seat(&mut self, idx: usize) -> Seat {
        if let Some(known) = self.known[idx] {
            return known;
        }
        let spot = &self.label.spots[idx];
        let seat = self.label.seat(spot);
        let outside = if self.room.holds(seat.area) { 0.0 } else { OUTSIDE };
        let taken = match spot.stands {
            Stands::Beside => &self.beside,
            Stands::Off => self.off.get_or_insert_with(|| {
                self.drawn.near(self.label.around().widened(self.label.close()))
            }),
        };
        let near = taken.cost(&seat, self.label.own.widened(1e-6), self.label.close());
        *self.known[idx].insert(Seat { cost: spot.cost + near + outside, ..seat })
    }

    /// The best place among others that have theirs.
    fn best(&mut self, others: &[Seat]) -> Option<Seat> {
        let mut best: Option<Seat> = None;
        for (idx, spot) in self.label.spots.iter().enumerate() {
            let most = best.map_or(f64::INFINITY, |best| best.cost);
            // What is too dear by itself needs no look at what is round it.
            if most <= spot.cost {
                continue;
            }
            let seat = self.seat(idx);
            if most <= seat.cost {
                continue;
            }
            let cost = seat.cost + crowding(&seat, others, self.label.clear, most);
            if cost < most {
                best = Some(Seat { cost, ..seat });
            }
        }
        best
    }
}

/// For each label its place and what that costs.
///
/// Who chooses first matters: where it is tight, both those with few good places and those with
/// many are tried.
fn choose(labels: &mut [Seeking<'_>]) -> Vec<Option<Seat>> {
    let near = neighbours(labels);
    let alone: Vec<f64> = labels.iter_mut().map(|label| cost(label.best(&[]).as_ref())).collect();
    let mut order: Vec<usize> = (0..labels.len()).collect();
    risemark::order::sort_by(&mut order, |a, b| alone[*b].total_cmp(&alone[*a]));
    let hard_first = chosen_in(labels, &near, &order);
    let total = |seats: &[Option<Seat>]| seats.iter().map(|seat| cost(seat.as_ref())).sum::<f64>();
    // Nobody stands better than alone.
    if total(&hard_first) <= alone.iter().sum::<f64>() {
        return hard_first;
    }
    order.reverse();
    let easy_first = chosen_in(labels, &near, &order);
    if total(&easy_first) < total(&hard_first) { easy_first } else { hard_first }
}

fn cost(seat: Option<&Seat>) -> f64 {
    seat.map_or(f64::INFINITY, |seat| seat.cost)
}

/// For each label those that may come to stand near it.
fn neighbours(labels: &[Seeking<'_>]) -> Vec<Vec<usize>> {
    let around = labels.iter().map(|seeking| seeking.label.around().widened(seeking.label.clear));
    let around: Vec<Area> = around.collect();
    let near = |idx: usize| {
        let others =
            (0..labels.len()).filter(|other| *other != idx && around[*other].overlaps(around[idx]));
        others.collect()
    };
    (0..labels.len()).map(near).collect()
}

fn chosen_in(
    labels: &mut [Seeking<'_>],
    near: &[Vec<usize>],
    order: &[usize],
) -> Vec<Option<Seat>> {
    let mut chosen: Vec<Option<Seat>> = vec![None; labels.len()];
    // Who has chosen and sees nobody move has nothing to choose again.
    let mut unsettled = vec![true; labels.len()];
    let mut others = Vec::new();
    for _ in 0..N_ROUNDS {
        for idx in order.iter().copied() {
            if !std::mem::take(&mut unsettled[idx]) {
                continue;
            }
            others.clear();
            others.extend(near[idx].iter().filter_map(|other| chosen[*other]));
            let best = labels[idx].best(&others);
            let area = |seat: Option<Seat>| seat.map(|seat| seat.area);
            if area(best) != area(chosen[idx]) {
                near[idx].iter().for_each(|other| unsettled[*other] = true);
            }
            chosen[idx] = best;
        }
    }
    chosen
}

/// What a place costs because of the places that the others have; not all of it where it is too dear
/// already.
fn crowding(seat: &Seat, others: &[Seat], clear: f64, most: f64) -> f64 {
    let apart = Area { left: seat.area.left - clear, right: seat.area.right + clear, ..seat.area };
    let runs_through =
        |area: Area, leader: Option<(At, At)>| leader.is_some_and(|(a, b)| area.meets_line(a, b));
    let mut cost = 0.0;
    for other in others {
        let touches = apart.overlaps(other.area)
            || runs_through(seat.area, other.leader)
            || runs_through(other.area, seat.leader);
        let crossed = seat.leader.zip(other.leader).is_some_and(|(one, two)| cross(one, two));
        cost += f64::from(u8::from(touches)) * BODY + f64::from(u8::from(crossed)) * CROSSED;
        if most <= seat.cost + cost {
            break;
        }
    }
    cost
}

/// A line from the edge of a ring to the nearest place of an area.
fn led(ring: Area, area: Area) -> (At, At) {
    let (centre, rx, ry) = (ring.middle(), ring.width() / 2.0, ring.height() / 2.0);
    let to = At::new(centre.x.clamp(area.left, area.right), centre.y.clamp(area.top, area.bottom));
    let (dx, dy) = ((to.x - centre.x) / rx, (to.y - centre.y) / ry);
    let far = libm::sqrt(dx * dx + dy * dy).max(1e-9);
    (centre.moved(dx / far * rx, dy / far * ry), to)
}

/// Whether two lines cross.
fn cross((a, b): (At, At), (c, d): (At, At)) -> bool {
    let side = |from: At, to: At, at: At| {
        (to.x - from.x) * (at.y - from.y) - (to.y - from.y) * (at.x - from.x)
    };
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

fn written(label: &Label, seat: Seat) -> Vec<Item> {
    let size = label.size;
    let (above, _) = text::reach(&label.content, size);
    let base = At::new(seat.area.middle().x, seat.area.top + above);
    let mut text = Item::text(label.ink, (base, Anchor::Middle), size, label.content.clone());
    text.tag = label.tag;
    let leader = seat.leader.map(|(from, to)| Item::line(Ink::Leader, from, to));
    leader.into_iter().chain([text]).collect()
}
