//! What the order of the shots is to be found for: the shots, the crew's times, the user's wishes.
//!
//! From here inwards every figure is a plain number of seconds or metres: the search turns over
//! millions of them, and no other unit comes near.

use crate::quantity::{Length, Time};

/// One shot, as far as its place in the order goes.
#[derive(Debug, Clone, PartialEq)]
pub struct Shot {
    /// The wall, by its position in the list.
    pub wall: usize,
    /// The hole, from the left end.
    pub across: Length,
    /// The hole, above the floor.
    pub up: Length,
    /// How long the gun sprays.
    pub duration: Time,
    /// The shots on whose foam its own falls, which must have set before, the nearest first; they stand
    /// earlier in the list.
    pub after: Vec<usize>,
}

/// The times of a crew with one gun.
#[derive(Debug, Clone, PartialEq)]
pub struct Crew {
    /// Placing the tube in a hole.
    pub set_up: Time,
    /// Walking a metre along the wall.
    pub per_metre: Time,
    /// Taking the gun from one wall to another; the set-up comes on top.
    pub cart: Time,
    /// From the end of a shot to one over it.
    pub setting: Time,
    /// The longest pause in which foam does not set in the nozzle.
    pub idle_limit: Time,
    /// Changing the nozzle, on top of walking and set-up; it may be done while foam sets.
    pub nozzle_change: Time,
    /// How many seconds a nozzle is worth.
    pub nozzle_weight: Time,
    /// What the first kit holds; `None` for one that never runs empty.
    pub kit: Option<Kit>,
    /// How long each of the next kits sprays, none longer than the first; all others last like the first.
    pub next_kits: Vec<Time>,
}

/// A kit, as far as the order of shots goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kit {
    /// How long it sprays.
    pub lasts: Time,
    /// Changing it, with its nozzle and the purge, on top of walking and set-up.
    pub change: Time,
}

/// What the user has fixed; the rest is planned.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Wishes {
    /// The shot to begin with.
    pub first: Option<usize>,
    /// Walls to be finished one after the other, before all walls that are not named.
    pub walls: Vec<usize>,
    /// Shots to be made in this sequence; others may come between.
    pub sequence: Vec<usize>,
}

/// A wish that contradicts foam that must set first, or another wish.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refused {
    /// The first shot.
    First(usize),
    /// A shot that cannot come after the one before it in the sequence.
    Sequence(usize),
}

/// The shots of a job, ready to be put in order.
#[derive(Debug, Clone)]
pub struct Problem {
    /// The shots.
    pub(super) spots: Vec<Spot>,
    /// The shot above each in its column; of several, the first.
    pub(super) above: Vec<Option<usize>>,
    /// The next shot that waits for the same one.
    beside: Vec<Option<usize>>,
    /// What else each shot waits for, where some lie over several columns; empty where none does, as in
    /// most jobs, so that the search need not look.
    also_below: Vec<Vec<usize>>,
    /// The same from below.
    also_above: Vec<Vec<usize>>,
    /// The crew's times.
    pub(super) times: Times,
    /// How long each kit after the first sprays, where that is not as long.
    pub(super) next_kits: Vec<f64>,
    /// The shot to begin with.
    pub(super) first: Option<usize>,
    /// Whether the walls have an order.
    pub(super) walls_in_turn: bool,
    /// Shots in the same wall that lie near each, the nearest first.
    pub(super) near: Vec<Vec<usize>>,
    /// What could not be granted.
    pub(super) refused: Vec<Refused>,
}

/// A shot in metres and seconds.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) spray: f64,
    pub(super) wall: usize,
    pub(super) turn: usize,
    pub(super) after: Option<usize>,
    pub(super) pinned_after: Option<usize>,
}

/// The crew's times in seconds.
#[derive(Debug, Clone, Copy)]
pub(super) struct Times {
    pub(super) set_up: f64,
    pub(super) per_metre: f64,
    pub(super) cart: f64,
    pub(super) setting: f64,
    pub(super) idle: f64,
    pub(super) change: f64,
    pub(super) nozzle: f64,
    pub(super) kit_lasts: f64,
    pub(super) kit_change: f64,
}

/// How many neighbours of a shot the search looks at.
const NEAR: usize = 10;
/// How far to either side, in shots along the wall, neighbours are looked for.
const WINDOW: usize = 60;

impl Problem {
    /// Puts shots, times and wishes together; what contradicts is left out and told.
    pub fn new(shots: &[Shot], crew: &Crew, wishes: &Wishes) -> Self {
        let spots = shots.iter().map(|shot| spot(shot, wishes)).collect();
        let also_below = shots.iter().map(|shot| shot.after.iter().skip(1).copied().collect());
        let mut problem = Self::of_spots(spots, also_below.collect(), times(crew));
        let lasts = problem.times.kit_lasts;
        problem.next_kits = crew.next_kits.iter().map(|next| next.value.min(lasts)).collect();
        problem.walls_in_turn = !wishes.walls.is_empty();
        problem.grant_first(wishes);
        problem.grant_sequence(wishes);
        problem
    }

    /// A problem without wishes.
    pub(super) fn of_spots(spots: Vec<Spot>, also_below: Vec<Vec<usize>>, times: Times) -> Self {
        let (mut above, mut beside) = (vec![None; spots.len()], vec![None; spots.len()]);
        for (idx, spot) in spots.iter().enumerate().rev() {
            if let Some(below) = spot.after {
                beside[idx] = above[below].replace(idx);
            }
        }
        let (mut also_below, mut also_above) = (also_below, Vec::new());
        if also_below.iter().all(Vec::is_empty) {
            also_below.clear();
        } else {
            also_above.resize(spots.len(), Vec::new());
        }
        for (shot, below) in also_below.iter().enumerate() {
            below.iter().for_each(|below| also_above[*below].push(shot));
        }
        let mut problem = Self {
            near: Vec::new(),
            spots,
            above,
            beside,
            also_below,
            also_above,
            times,
            next_kits: Vec::new(),
            first: None,
            walls_in_turn: false,
            refused: Vec::new(),
        };
        problem.near = problem.neighbours();
        problem
    }

    /// Each wall as a problem of its own, in their turn, with the shots that it is made of; wishes that
    /// concern several walls are left out.
    pub(super) fn apart(&self) -> Vec<(Self, Vec<usize>)> {
        let mut by_wall: Vec<usize> = (0..self.spots.len()).collect();
        let turn = |shot: usize| {
            let Spot { turn, wall, .. } = self.spots[shot];
            (turn, self.first.is_some_and(|first| self.spots[first].wall != wall), wall)
        };
        crate::order::sort_by(&mut by_wall, |a, b| turn(*a).cmp(&turn(*b)));
        let mut place = vec![None; self.spots.len()];
        let walls = by_wall.chunk_by(|a, b| self.spots[*a].wall == self.spots[*b].wall);
        let alone = walls.map(|shots| {
            shots.iter().enumerate().for_each(|(at, shot)| place[*shot] = Some((shots[0], at)));
            let at =
                |other: usize| place[other].filter(|(wall, _)| *wall == shots[0]).map(|(_, at)| at);
            let spot = |shot: &usize| {
                let spot = self.spots[*shot];
                Spot {
                    wall: 0,
                    after: spot.after.and_then(at),
                    pinned_after: spot.pinned_after.and_then(at),
                    ..spot
                }
            };
            let also = |shot: &usize| self.also_below(*shot).iter().copied().filter_map(at);
            let also_below = shots.iter().map(|shot| also(shot).collect()).collect();
            let mut problem =
                Self::of_spots(shots.iter().map(spot).collect(), also_below, self.times);
            problem.first = self.first.and_then(at);
            (problem, shots.to_vec())
        });
        alone.collect()
    }

    /// A wall alone with so many breaks, which may come anywhere: shots of walls of their own that take as
    /// long as foam to set. Going there takes no longer than to the next hole, and no kit runs empty.
    pub(super) fn with_breaks(&self, n_breaks: usize) -> Self {
        if n_breaks == 0 {
            return self.clone();
        }
        let n_walls = self.spots.iter().map(|spot| spot.wall + 1).max().unwrap_or(0);
        let away = |at: usize| Spot {
            x: 0.0,
            y: 0.0,
            spray: self.times.setting,
            wall: n_walls + at,
            turn: 0,
            after: None,
            pinned_after: None,
        };
        let spots = self.spots.iter().copied().chain((0..n_breaks).map(away));
        let also_below = (0..self.n_shots() + n_breaks).map(|shot| self.also_below(shot).to_vec());
        let times = Times { cart: 0.0, kit_lasts: f64::INFINITY, ..self.times };
        let mut problem = Self::of_spots(spots.collect(), also_below.collect(), times);
        problem.first = self.first;
        problem
    }

    /// How long a kit sprays that comes after so many.
    pub(super) fn kit_lasts(&self, n_before: usize) -> f64 {
        let next = n_before.checked_sub(1).and_then(|next| self.next_kits.get(next));
        next.copied().unwrap_or(self.times.kit_lasts)
    }

    /// How many shots the longest column has.
    pub(super) fn longest_column(&self) -> usize {
        let mut n_below = vec![0; self.spots.len()];
        for (shot, spot) in self.spots.iter().enumerate() {
            n_below[shot] = spot.after.map_or(1, |below| n_below[below] + 1);
        }
        n_below.into_iter().max().unwrap_or(0)
    }

    /// How many shots there are.
    pub fn n_shots(&self) -> usize {
        self.spots.len()
    }

    /// The wishes that could not be granted.
    pub fn refused(&self) -> &[Refused] {
        &self.refused
    }

    /// The shots that wait for one to set.
    pub(super) fn all_above(&self, shot: usize) -> impl Iterator<Item = usize> {
        let column = std::iter::successors(self.above[shot], |above| self.beside[*above]);
        column.chain(self.also_above.get(shot).into_iter().flatten().copied())
    }

    /// The shots that must have set before one.
    pub(super) fn all_below(&self, shot: usize) -> impl Iterator<Item = usize> {
        self.spots[shot].after.into_iter().chain(self.also_below(shot).iter().copied())
    }

    /// What a shot waits for beside the one below it in its column.
    pub(super) fn also_below(&self, shot: usize) -> &[usize] {
        self.also_below.get(shot).map_or(&[], Vec::as_slice)
    }

    /// From the end of a shot to the start of another, when nothing else is in the way.
    pub(super) fn way(&self, from: usize, to: usize) -> f64 {
        let (a, b) = (&self.spots[from], &self.spots[to]);
        if a.wall != b.wall {
            return self.times.set_up + self.times.cart;
        }
        self.times.set_up + self.walk(a, b)
    }

    /// Whether a gap of that way costs a nozzle whatever is done.
    pub(super) fn carts_cost_a_nozzle(&self) -> bool {
        self.times.idle < self.times.set_up + self.times.cart
    }

    /// Whether a part of an order, from one position up to another, keeps the wishes and what must
    /// set first; `place` has the position of every shot.
    pub(super) fn keeps(
        &self,
        order: &[usize],
        place: &[usize],
        (from, to): (usize, usize),
    ) -> bool {
        let kept = (from..to).all(|at| {
            let early = |before: usize| place[before] < at;
            let spot = &self.spots[order[at]];
            spot.after.is_none_or(early)
                && spot.pinned_after.is_none_or(early)
                && self.also_below(order[at]).iter().all(|before| early(*before))
        });
        kept && self.first.is_none_or(|first| order[0] == first)
            && (!self.walls_in_turn || self.in_turn(order, from, to))
    }

    fn in_turn(&self, order: &[usize], from: usize, to: usize) -> bool {
        let last = to.min(order.len() - 1);
        let turn = |at: usize| self.spots[order[at]].turn;
        (from.max(1)..=last).all(|at| turn(at - 1) <= turn(at))
    }

    pub(super) fn walk(&self, a: &Spot, b: &Spot) -> f64 {
        let (x, y) = (a.x - b.x, a.y - b.y);
        (x * x + y * y).sqrt() * self.times.per_metre
    }

    fn grant_first(&mut self, wishes: &Wishes) {
        let Some(first) = wishes.first.filter(|first| *first < self.spots.len()) else {
            return;
        };
        let early = self.spots.iter().all(|spot| self.spots[first].turn <= spot.turn);
        if self.spots[first].after.is_none() && early {
            self.first = Some(first);
        } else {
            self.refused.push(Refused::First(first));
        }
    }

    fn grant_sequence(&mut self, wishes: &Wishes) {
        let n_shots = self.spots.len();
        let mut last: Option<usize> = None;
        for &shot in wishes.sequence.iter().filter(|shot| **shot < n_shots) {
            let fits = last.is_none_or(|before| self.may_follow(before, shot));
            if !fits {
                self.refused.push(Refused::Sequence(shot));
                continue;
            }
            self.spots[shot].pinned_after = last;
            last = Some(shot);
        }
    }

    /// Whether a shot may be held to come after another.
    fn may_follow(&self, before: usize, shot: usize) -> bool {
        let (a, b) = (&self.spots[before], &self.spots[shot]);
        a.turn <= b.turn
            && b.pinned_after.is_none()
            && self.first != Some(shot)
            && !self.comes_before(shot, before)
    }

    /// Whether a shot must come before another, or is the same.
    fn comes_before(&self, shot: usize, other: usize) -> bool {
        let mut seen = vec![false; self.spots.len()];
        let mut open = vec![other];
        while let Some(at) = open.pop() {
            if at == shot {
                return true;
            }
            if !seen[at] {
                seen[at] = true;
                open.extend(self.all_below(at));
                open.extend(self.spots[at].pinned_after);
            }
        }
        false
    }

    fn neighbours(&self) -> Vec<Vec<usize>> {
        let mut along: Vec<usize> = (0..self.spots.len()).collect();
        let spots = &self.spots;
        crate::order::sort_by(&mut along, |a, b| {
            let (a, b) = (&spots[*a], &spots[*b]);
            a.wall.cmp(&b.wall).then(a.x.total_cmp(&b.x)).then(a.y.total_cmp(&b.y))
        });
        let mut near = vec![Vec::new(); spots.len()];
        for (at, &shot) in along.iter().enumerate() {
            let around = at.saturating_sub(WINDOW)..(at + WINDOW).min(along.len());
            let others = along[around].iter().copied();
            let mut found: Vec<usize> = others
                .filter(|other| *other != shot && spots[*other].wall == spots[shot].wall)
                .collect();
            let far = |other: usize| self.walk(&spots[shot], &spots[other]);
            crate::order::sort_by(&mut found, |a, b| far(*a).total_cmp(&far(*b)));
            found.truncate(NEAR);
            near[shot] = found;
        }
        near
    }
}

fn spot(shot: &Shot, wishes: &Wishes) -> Spot {
    let turn = wishes.walls.iter().position(|wall| *wall == shot.wall);
    Spot {
        x: shot.across.value,
        y: shot.up.value,
        spray: shot.duration.value,
        wall: shot.wall,
        turn: turn.unwrap_or(wishes.walls.len()),
        after: shot.after.first().copied(),
        pinned_after: None,
    }
}

fn times(crew: &Crew) -> Times {
    let kit = crew.kit.map(|kit| (kit.lasts.value, kit.change.value));
    let (kit_lasts, kit_change) = kit.unwrap_or((f64::INFINITY, 0.0));
    Times {
        set_up: crew.set_up.value,
        per_metre: crew.per_metre.value,
        cart: crew.cart.value,
        setting: crew.setting.value,
        idle: crew.idle_limit.value,
        change: crew.nozzle_change.value,
        nozzle: crew.nozzle_weight.value,
        kit_lasts,
        kit_change: longer(kit_change, crew.nozzle_change.value),
    }
}

/// The larger of two figures.
pub(super) fn longer(a: f64, b: f64) -> f64 {
    if a < b { b } else { a }
}
