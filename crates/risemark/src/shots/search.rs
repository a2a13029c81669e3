//! The search for the order of the shots, in slices that can be stopped after each.

use super::{
    anneal::{Anneal, HOT, WARM, places},
    apart::Apart,
    bound::bound,
    exact::{FEW, try_all},
    problem::Problem,
    retiming::Sequence,
    starts::{Start, order, starts},
    timing::{SAME, Timing},
};

/// The order of the shots, with the times of each.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The shots, by their position in the problem, in the order in which they are made.
    pub order: Vec<usize>,
    /// When each starts, in seconds, in the same order.
    pub starts: Vec<f64>,
    /// Whether each comes with a fresh nozzle, in the same order.
    pub fresh: Vec<bool>,
    /// The end of the last shot, in seconds.
    pub end: f64,
    /// Seconds, with what the changed nozzles are worth.
    pub cost: f64,
}

/// A search that is under way.
#[derive(Debug, Clone)]
pub struct Search {
    problem: Problem,
    stage: Stage,
    /// The best beginnings, the cheapest first.
    beginnings: Vec<(f64, Vec<usize>)>,
    /// How many of the first of them are good for each wall.
    n_good: usize,
    best: Option<Found>,
    bound: f64,

    n_done: usize,
    n_moves: usize,
}

#[derive(Debug, Clone)]
enum Stage {
    Begin { starts: Vec<Start>, next: usize },
    Apart(Box<Apart>),
    Anneal { run: usize, anneal: Box<Anneal> },
    TryAll,
    Done,
}

/// In a job of more shots the walls are not searched one by one.
const MANY: usize = 600;
/// To search the walls one by one takes about as long as so many runs.
const APART: usize = 4;
/// The seed of the first run.
const SEED: u64 = 0x5eed;

impl Search {
    /// A search that has not begun.
    pub fn new(problem: Problem) -> Self {
        let starts = starts(&problem);
        let n_apart = if walls_matter(&problem) { APART } else { 0 };
        let n_runs = n_runs(&problem) + n_apart;
        let n_moves = n_runs * n_moves(problem.n_shots());
        Self {
            bound: bound(&problem),
            problem,
            stage: Stage::Begin { starts, next: 0 },
            beginnings: Vec::new(),
            n_good: 0,
            best: None,

            n_done: 0,
            n_moves,
        }
    }

    /// Goes on for so many changes of the order; whether the search is finished.
    pub fn advance(&mut self, n_moves: usize) -> bool {
        let mut left = n_moves.max(1);
        while 0 < left && !matches!(self.stage, Stage::Done) {
            left = self.step(left);
        }
        matches!(self.stage, Stage::Done)
    }

    /// How much of the search is done, from 0 to 1.
    pub fn share_done(&self) -> f64 {
        if matches!(self.stage, Stage::Done) {
            return 1.0;
        }
        let all = crate::quantity::count(self.n_moves.max(1));
        (crate::quantity::count(self.n_done) / all).min(1.0)
    }

    /// The best order so far, from the first slice on.
    pub fn best(&self) -> Option<&Found> {
        self.best.as_ref()
    }

    /// Seconds, with what nozzles are worth, that no order can cost less than.
    pub fn bound(&self) -> f64 {
        self.bound
    }

    /// Whether all changes are made; what may be left is to try every order.
    pub(super) fn is_changed(&self) -> bool {
        matches!(self.stage, Stage::TryAll | Stage::Done)
    }

    fn step(&mut self, n_moves: usize) -> usize {
        match std::mem::replace(&mut self.stage, Stage::Done) {
            Stage::Begin { starts, next } => {
                let left = self.begin(&starts, next, n_moves);
                let n_begun = next + 1;
                self.stage = if n_begun < starts.len() {
                    Stage::Begin { starts, next: n_begun }
                } else {
                    self.apart()
                };
                left
            }
            Stage::Apart(mut apart) => {
                self.n_done += apart.advance(n_moves) / self.problem.n_shots();
                self.stage = if apart.is_done() {
                    self.begin_apart(apart.orders(&self.problem));
                    self.run(0)
                } else {
                    Stage::Apart(apart)
                };
                0
            }
            Stage::Anneal { run, mut anneal } => {
                let before = n_moves;
                let n_left = anneal.advance(&self.problem, n_moves);
                self.n_done += before.min(self.n_moves);
                if 0 < n_left {
                    self.take(anneal.best());
                    self.stage = Stage::Anneal { run, anneal };
                    return 0;
                }
                self.take(anneal.best());
                self.stage = self.run(run + 1);
                0
            }
            Stage::TryAll => {
                self.try_all();
                0
            }
            Stage::Done => n_moves,
        }
    }

    fn begin(&mut self, starts: &[Start], next: usize, n_moves: usize) -> usize {
        let Some(start) = starts.get(next) else { return n_moves };
        self.begin_with(order(&self.problem, *start));
        n_moves.saturating_sub(self.problem.n_shots())
    }

    /// Takes an order over as a beginning.
    fn begin_with(&mut self, order: Vec<usize>) {
        let timing = Timing::of(&self.problem, &order, &places(&order));
        let cost = timing.cost(&self.problem);
        if self.best.as_ref().is_none_or(|best| cost + SAME < best.cost) {
            self.best = Some(found(&self.problem, order.clone(), timing));
        }
        let new = self.beginnings.iter().all(|(known, _)| SAME < (cost - known).abs());
        if new {
            let at = self.beginnings.partition_point(|(known, _)| *known < cost);
            self.beginnings.insert(at, (cost, order));
            self.beginnings.truncate(n_runs(&self.problem));
        }
    }

    /// Takes over as first beginnings the best of some orders and the last, in which every wall is visited
    /// once; the others are too much like these to be gone on from.
    fn begin_apart(&mut self, orders: Vec<Vec<usize>>) {
        let before = std::mem::take(&mut self.beginnings);
        let once = orders.last().cloned();
        for order in orders {
            self.begin_with(order);
        }
        self.beginnings.truncate(1);
        if let Some(once) = once {
            self.begin_with(once);
        }
        self.n_good = self.beginnings.len();
        self.beginnings.extend(before);
    }

    /// Each wall alone, where there are several.
    fn apart(&mut self) -> Stage {
        if !walls_matter(&self.problem) || self.is_reached() {
            return self.run(0);
        }
        Stage::Apart(Box::new(Apart::new(&self.problem)))
    }

    fn is_reached(&self) -> bool {
        self.best.as_ref().is_some_and(|best| best.cost <= self.bound + REACHED)
    }

    /// The next run of changes, from the next best beginning.
    fn run(&mut self, run: usize) -> Stage {
        let reached = self.is_reached();
        if reached || n_runs(&self.problem) <= run || self.problem.n_shots() < 2 {
            return if self.problem.n_shots() <= FEW && !reached {
                Stage::TryAll
            } else {
                Stage::Done
            };
        }
        let at = run.min(self.beginnings.len().saturating_sub(1));
        let Some((_, order)) = self.beginnings.get(at) else { return Stage::Done };
        let n_moves = n_moves(self.problem.n_shots());
        // What is good for each wall is not to be taken apart again.
        let heat = if run < self.n_good { WARM } else { HOT };
        let kind = (heat, SEED + run as u64);
        let anneal = Anneal::new(&self.problem, order.clone(), n_moves, kind);
        Stage::Anneal { run, anneal: Box::new(anneal) }
    }

    /// Takes an order over, with the best nozzles for it, where it is the best so far.
    fn take(&mut self, order: &[usize]) {
        let place = places(order);
        let timing = Timing::of(&self.problem, order, &place);
        let timing = Sequence::new(&self.problem, order, &place).improved(&timing);
        let better = |best: &Found| timing.cost(&self.problem) + SAME < best.cost;
        if self.best.as_ref().is_none_or(better) {
            self.best = Some(found(&self.problem, order.to_vec(), timing));
        }
    }

    fn try_all(&mut self) {
        let limit = self.best.as_ref().map_or(f64::INFINITY, |best| best.cost);
        let tried = try_all(&self.problem, limit);
        if let Some((order, timing)) = tried.better {
            self.best = Some(found(&self.problem, order, timing));
        }
        if tried.complete
            && let Some(best) = &self.best
        {
            self.bound = best.cost;
        }
    }
}

/// An order as good as the bound to a hundredth of a second is the best.
const REACHED: f64 = 0.01;

fn found(problem: &Problem, order: Vec<usize>, timing: Timing) -> Found {
    Found {
        cost: timing.cost(problem),
        order,
        starts: timing.starts,
        fresh: timing.fresh,
        end: timing.end,
    }
}

/// Whether the walls are searched one by one first: there are several, and time for it.
fn walls_matter(problem: &Problem) -> bool {
    1 < n_walls(problem) && problem.n_shots() <= MANY
}

fn n_walls(problem: &Problem) -> usize {
    problem.spots.iter().map(|spot| spot.wall + 1).max().unwrap_or(0)
}

/// How often the search begins anew: more where it matters when a wall is left.
fn n_runs(problem: &Problem) -> usize {
    if n_walls(problem) < 2 || 250 < problem.n_shots() { 1 } else { 3 }
}

/// How many changes a run makes: fewer where each takes longer.
fn n_moves(n_shots: usize) -> usize {
    match n_shots {
        0..=8 => 5_000,
        9..=20 => 60_000,
        21..=100 => 100_000,
        101..=250 => 65_000,
        251..=600 => 110_000,
        601..=5_000 => 20_000,
        // Each takes as long as the whole of a small job; the beginnings are nearly as good.
        _ => 4_000,
    }
}
