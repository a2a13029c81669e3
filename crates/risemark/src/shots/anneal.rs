//! Betters an order by small changes, of which it also takes bad ones while it is hot.

use super::{
    problem::Problem,
    timing::{SAME, Timing},
};
use crate::random::Random;

/// Seconds that a change may cost at first, and at last.
pub(super) const HOT: f64 = 15.0;
const COLD: f64 = 0.2;
/// Seconds that a change may cost at first where the order is good in its parts.
pub(super) const WARM: f64 = 2.0;
/// After so many changes it gets cooler.
const STEP: usize = 64;
/// The times of the first shots are kept for every so many.
const STRIDE: usize = 16;
/// The longest stretches that are moved at once.
const STRETCHES: [usize; 4] = [1, 3, 8, 24];

/// One search by small changes.
#[derive(Debug, Clone)]
pub(super) struct Anneal {
    order: Vec<usize>,
    place: Vec<usize>,
    cost: f64,
    best: Vec<usize>,
    best_cost: f64,
    /// The times of the first shots, up to every `STRIDE`th.
    kept: Vec<Timing>,
    /// The least that the shots from each place on take.
    rest: Vec<f64>,
    /// The least that each shot takes, with its way.
    least: Vec<f64>,
    trial: Timing,
    /// The changed stretch as it was.
    old: Vec<usize>,
    random: Random,
    heat: f64,
    cooling: f64,
    n_made: usize,
    n_moves: usize,
}

impl Anneal {
    pub(super) fn new(
        problem: &Problem,
        order: Vec<usize>,
        n_moves: usize,
        (heat, seed): (f64, u64),
    ) -> Self {
        let n_shots = order.len();
        let least = (0..n_shots).map(|shot| least(problem, shot)).collect();
        let n_steps = crate::quantity::count(n_moves / STEP + 1);
        let mut anneal = Self {
            place: places(&order),
            best: order.clone(),
            order,
            cost: 0.0,
            best_cost: 0.0,
            kept: vec![Timing::default(); n_shots / STRIDE + 1],
            rest: vec![0.0; n_shots + 1],
            least,
            trial: Timing::default(),
            old: Vec::new(),
            random: Random::new(seed),
            heat,
            cooling: libm::exp(libm::log(COLD / heat) / n_steps),
            n_made: 0,
            n_moves,
        };
        anneal.keep(problem, 0);
        anneal.best_cost = anneal.cost;
        anneal
    }

    /// Makes some of its changes; how many of them are left.
    pub(super) fn advance(&mut self, problem: &Problem, n_moves: usize) -> usize {
        let last = self.n_moves.min(self.n_made + n_moves);
        // With fewer than three shots there is nothing to change that the starts did not try.
        if self.order.len() < 3 {
            self.n_made = self.n_moves;
        }
        while self.n_made < last {
            self.n_made += 1;
            if self.n_made.is_multiple_of(STEP) {
                self.heat *= self.cooling;
            }
            self.change(problem);
        }
        self.n_moves - self.n_made
    }

    /// The best order found so far.
    pub(super) fn best(&self) -> &[usize] {
        &self.best
    }

    fn change(&mut self, problem: &Problem) {
        let n_shots = self.order.len();
        let from_first = usize::from(problem.first.is_some());
        let at = from_first + self.random.below(n_shots - from_first);
        let range = match self.random.below(100) {
            0..=64 => self.move_stretch(problem, at),
            65..=79 => self.swap(problem, at),
            80..=84 => self.turn_round(at),
            _ => self.move_visit(problem, at),
        };
        let Some((from, to)) = range.filter(|(from, _)| from_first <= *from) else {
            self.put_back(range);
            return;
        };
        self.mark_places(from, to);
        let kept = problem.keeps(&self.order, &self.place, (from, to));
        if kept && self.accepted(problem, from) {
            self.keep(problem, from / STRIDE);
            if self.cost + SAME < self.best_cost {
                self.best_cost = self.cost;
                self.best.clone_from(&self.order);
            }
            return;
        }
        self.put_back(range);
        self.mark_places(from, to);
    }

    /// Moves some shots that follow one another to where a neighbour of theirs is.
    fn move_stretch(&mut self, problem: &Problem, at: usize) -> Option<(usize, usize)> {
        let n_shots = self.order.len();
        let most = STRETCHES[self.random.below(STRETCHES.len())];
        let to = n_shots.min(at + 1 + self.random.below(most));
        let before = self.random.below(2) == 0;
        let end = if before { self.order[to - 1] } else { self.order[at] };
        let near = &problem.near[end];
        let goal = if near.is_empty() || self.random.below(4) == 0 {
            self.random.below(n_shots)
        } else {
            self.place[near[self.random.below(near.len())]]
        };
        self.carry(at, to, goal, before)
    }

    /// Carries a stretch in front of a place outside it, or behind it.
    fn carry(&mut self, at: usize, to: usize, goal: usize, before: bool) -> Option<(usize, usize)> {
        if goal < at {
            let from = if before { goal } else { goal + 1 };
            if from == at {
                return None;
            }
            self.remember(from, to);
            self.order[from..to].rotate_right(to - at);
            return Some((from, to));
        }
        if goal < to {
            return None;
        }
        let end = if before { goal } else { goal + 1 };
        if end == to {
            return None;
        }
        self.remember(at, end);
        self.order[at..end].rotate_left(to - at);
        Some((at, end))
    }

    fn swap(&mut self, problem: &Problem, at: usize) -> Option<(usize, usize)> {
        let near = &problem.near[self.order[at]];
        let other = if near.is_empty() || self.random.below(4) == 0 {
            self.random.below(self.order.len())
        } else {
            self.place[near[self.random.below(near.len())]]
        };
        if other == at {
            return None;
        }
        let (from, to) = (at.min(other), at.max(other) + 1);
        self.remember(from, to);
        self.order.swap(at, other);
        Some((from, to))
    }

    fn turn_round(&mut self, at: usize) -> Option<(usize, usize)> {
        let most = STRETCHES[1 + self.random.below(STRETCHES.len() - 1)];
        let to = self.order.len().min(at + 2 + self.random.below(most));
        if to < at + 2 {
            return None;
        }
        self.remember(at, to);
        self.order[at..to].reverse();
        Some((at, to))
    }

    /// Moves what is made at a wall in one visit, or the first or last part of it, to another visit.
    fn move_visit(&mut self, problem: &Problem, at: usize) -> Option<(usize, usize)> {
        let wall = |at: usize| problem.spots[self.order[at]].wall;
        let n_shots = self.order.len();
        let (mut from, mut to) = (at, at + 1);
        let part = self.random.below(3);
        while part != 0 && 0 < from && wall(from - 1) == wall(at) {
            from -= 1;
        }
        while part != 1 && to < n_shots && wall(to) == wall(at) {
            to += 1;
        }
        if to - from == n_shots {
            return None;
        }
        let mut goal = self.random.below(n_shots);
        let before = self.random.below(2) == 0;
        let same = self.random.below(2) == 0;
        // Half of the time to a visit of the same wall, the other half between any two.
        let fits = |goal: usize| {
            let edge = if before {
                goal == 0 || wall(goal - 1) != wall(goal)
            } else {
                goal + 1 == n_shots || wall(goal + 1) != wall(goal)
            };
            edge && (goal < from || to <= goal) && (!same || wall(goal) == wall(at))
        };
        let mut n_tried = 0;
        while !fits(goal) {
            goal = (goal + 1) % n_shots;
            n_tried += 1;
            if n_tried == n_shots {
                return None;
            }
        }
        self.carry(from, to, goal, before)
    }

    fn remember(&mut self, from: usize, to: usize) {
        self.old.clear();
        self.old.extend_from_slice(&self.order[from..to]);
    }

    fn put_back(&mut self, range: Option<(usize, usize)>) {
        if let Some((from, to)) = range {
            self.order[from..to].copy_from_slice(&self.old);
        }
    }

    fn mark_places(&mut self, from: usize, to: usize) {
        for at in from..to {
            self.place[self.order[at]] = at;
        }
    }

    /// Times the changed order, as far as it may still be taken.
    fn accepted(&mut self, problem: &Problem, from: usize) -> bool {
        let chance = 1.0 - self.random.share();
        let limit = self.cost - self.heat * libm::log(chance);
        let kept = from / STRIDE;
        self.trial.copy_from(&self.kept[kept]);
        let mut rest = self.rest[kept * STRIDE];
        for at in kept * STRIDE..self.order.len() {
            self.trial.push(problem, &self.order, &self.place, at);
            rest -= self.least[self.order[at]];
            if limit < self.trial.cost(problem) + rest {
                return false;
            }
        }
        self.trial.cost(problem) <= limit
    }

    /// Keeps the times of the order, from one of the kept ones on.
    fn keep(&mut self, problem: &Problem, from: usize) {
        self.trial.copy_from(&self.kept[from]);
        let first = from * STRIDE;
        for at in first..self.order.len() {
            if first < at && at.is_multiple_of(STRIDE) {
                self.kept[at / STRIDE].copy_from(&self.trial);
            }
            self.trial.push(problem, &self.order, &self.place, at);
        }
        if first < self.order.len() && self.order.len().is_multiple_of(STRIDE) {
            self.kept[self.order.len() / STRIDE].copy_from(&self.trial);
        }
        for at in (first..self.order.len()).rev() {
            self.rest[at] = self.rest[at + 1] + self.least[self.order[at]];
        }
        // A change keeps the set of shots behind it, but its sum may differ in the last digit.
        for at in (0..first).rev() {
            self.rest[at] = self.rest[at + 1] + self.least[self.order[at]];
        }
        self.cost = self.trial.cost(problem);
    }
}

/// The place of each shot in an order.
pub(super) fn places(order: &[usize]) -> Vec<usize> {
    let mut place = vec![0; order.len()];
    for (at, shot) in order.iter().enumerate() {
        place[*shot] = at;
    }
    place
}

/// The least that a shot takes, with the way to it.
pub(super) fn least(problem: &Problem, shot: usize) -> f64 {
    let times = &problem.times;
    let near = problem.near[shot].first().map(|near| problem.way(*near, shot));
    let cart = times.set_up + times.cart;
    let way = near.filter(|way| *way < cart).unwrap_or(cart);
    problem.spots[shot].spray + way
}
