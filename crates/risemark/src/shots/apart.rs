//! Each wall searched alone, in one visit, in two and so on; and what they make together.
//!
//! A wall that is left until all of its foam has set has nothing to do with what is shot elsewhere in
//! the meantime. So its best order in some number of visits is looked for without the others, with breaks
//! in their place; the numbers of visits that cost least together are then woven into one order. To come
//! upon them by changing an order of all walls, many shots would have to move at once.

use super::{
    anneal::{Anneal, HOT, least, places},
    problem::Problem,
    retiming::Sequence,
    search::Search,
    starts::granted,
    timing::Timing,
};
use crate::quantity::count;

/// The walls of a job, as far as they have been searched.
#[derive(Debug, Clone)]
pub(super) struct Apart {
    /// What is left to be searched, the last first.
    left: Vec<Part>,
    /// What is searched.
    search: Option<Under>,
    /// The orders of each wall that were found, by the number of visits from one.
    found: Vec<Vec<Visits>>,
    /// How many changes a wall with breaks is searched with at most.
    n_moves: usize,
}

/// A wall to be made in one visit more than it has breaks.
#[derive(Debug, Clone)]
struct Part {
    problem: Problem,
    /// The shots of the job that it is made of.
    shots: Vec<usize>,
    n_breaks: usize,
}

/// A search that is under way.
#[derive(Debug, Clone)]
enum Under {
    Whole(Part, Box<Search>),
    Broken(Part, Box<Anneal>),
}

/// An order of a wall.
#[derive(Debug, Clone)]
struct Visits {
    /// What is made in each.
    shots: Vec<Vec<usize>>,
    /// What all of them take, with the nozzles changed in them.
    cost: f64,
}

/// How many changes a wall with breaks is searched with at most, for each of its shots and in all.
const MOVES_BY_SHOT: usize = 2_000;
const MOVES: usize = 100_000;
/// In a large job it is so many at most, divided by the number of its shots.
const MOVES_OF_JOB: usize = 11_000_000;
/// More breaks than this are not tried: a column of so many shots has been split.
const BREAKS: usize = 5;
/// The seed of those changes.
const SEED: u64 = 0xb4ea;
/// So many choices of visits are weighed at most.
const CHOICES: usize = 5_000;
/// So many of them are made into orders.
const ORDERS: usize = 12;

impl Apart {
    pub(super) fn new(problem: &Problem) -> Self {
        let alone = problem.apart();
        let found = vec![Vec::new(); alone.len()];
        let parts = alone.into_iter().flat_map(|(wall, shots)| {
            let n_breaks =
                if problem.walls_in_turn { 0 } else { wall.longest_column().saturating_sub(1) };
            (0..=n_breaks.min(BREAKS)).map(move |n_breaks| Part {
                problem: wall.with_breaks(n_breaks),
                shots: shots.clone(),
                n_breaks,
            })
        });
        let mut left: Vec<Part> = parts.collect();
        left.reverse();
        let n_moves = MOVES.min(MOVES_OF_JOB / problem.n_shots().max(1));
        Self { left, search: None, found, n_moves }
    }

    /// Whether nothing is left to be searched.
    pub(super) fn is_done(&self) -> bool {
        self.search.is_none() && self.left.is_empty()
    }

    /// Goes on for some changes of one wall; how many shots were changed at most.
    pub(super) fn advance(&mut self, n_moves: usize) -> usize {
        match self.search.take() {
            None => {
                self.search = self.left.pop().map(|part| Under::new(part, self.n_moves));
                0
            }
            Some(Under::Whole(part, mut search)) => {
                search.advance(n_moves);
                let n_shots = part.shots.len();
                // To try every order of a wall takes longer than its part of the whole is worth.
                if search.is_changed() {
                    let order = search.best().map(|found| found.order.clone());
                    self.take(&part, &order.unwrap_or_default());
                    self.leave_out_breaks(&part);
                } else {
                    self.search = Some(Under::Whole(part, search));
                }
                n_moves * n_shots
            }
            Some(Under::Broken(part, mut anneal)) => {
                let n_left = anneal.advance(&part.problem, n_moves);
                let n_changed = n_moves.min(self.n_moves) * part.shots.len();
                if n_left == 0 {
                    self.take(&part, anneal.best());
                } else {
                    self.search = Some(Under::Broken(part, anneal));
                }
                n_changed
            }
        }
    }

    /// Takes the order of a wall over.
    fn take(&mut self, part: &Part, order: &[usize]) {
        // The parts of a wall follow one another, the first without a break.
        if part.n_breaks == 0
            && let Some(place) = self.found.iter().position(Vec::is_empty)
        {
            self.found[place].push(part.visits(order));
        } else if let Some(found) = self.found.iter_mut().rfind(|found| !found.is_empty()) {
            found.push(part.visits(order));
        }
    }

    /// Leaves out the breaks of a wall that was searched without, where all that they can save is less than
    /// what the first costs.
    fn leave_out_breaks(&mut self, part: &Part) {
        let problem = &part.problem;
        let work: f64 = (0..problem.n_shots()).map(|shot| least(problem, shot)).sum();
        let found = self.found.iter().rfind(|found| !found.is_empty());
        let waits = found.and_then(|found| found.first()).map_or(0.0, |visits| visits.cost - work);
        // The first shot of each visit has its way in the price of the break.
        if waits + 2.0 * problem.times.set_up < price_of_break(problem) {
            while self.left.pop_if(|next| 0 < next.n_breaks).is_some() {}
        }
    }

    /// Orders of the whole job, the most promising first, and last the one that visits every wall once.
    pub(super) fn orders(&self, problem: &Problem) -> Vec<Vec<usize>> {
        let mut choices = self.choices(problem);
        choices.push(vec![0; self.found.len()]);
        let orders = choices.iter().map(|choice| {
            let visits = self.found.iter().zip(choice).filter_map(|(found, at)| found.get(*at));
            granted(problem, &woven(problem, &visits.collect::<Vec<_>>()))
        });
        orders.collect()
    }

    /// The cheapest choices of an order for each wall; where there are too many, the cheapest of each.
    fn choices(&self, problem: &Problem) -> Vec<Vec<usize>> {
        let between = price_of_break(problem);
        let cost = |visits: &Visits| visits.cost + between * count(visits.shots.len());
        let n_choices = self.found.iter().fold(1, |n: usize, of| n.saturating_mul(of.len()));
        if CHOICES < n_choices {
            let least = self.found.iter().map(|of| {
                let costs = of.iter().enumerate().map(|(at, visits)| (cost(visits), at));
                costs.min_by(|a, b| a.0.total_cmp(&b.0)).map_or(0, |(_, at)| at)
            });
            return vec![least.collect()];
        }
        let mut choices: Vec<(f64, Vec<usize>)> = vec![(0.0, Vec::new())];
        for found in &self.found {
            let with = |(sum, choice): &(f64, Vec<usize>)| {
                let more = found.iter().enumerate().map(|(at, visits)| {
                    let with: Vec<usize> = choice.iter().copied().chain([at]).collect();
                    (sum + cost(visits), with)
                });
                more.collect::<Vec<_>>()
            };
            choices = choices.iter().flat_map(with).collect();
        }
        choices.retain(|(_, choice)| self.can_take_turns(choice));
        crate::order::sort_by(&mut choices, |a, b| a.0.total_cmp(&b.0));
        choices.truncate(ORDERS);
        choices.into_iter().map(|(_, choice)| choice).collect()
    }

    /// Whether between two visits to a wall another can be visited.
    fn can_take_turns(&self, choice: &[usize]) -> bool {
        let n_visits = self.found.iter().zip(choice);
        let n_visits: Vec<usize> = n_visits.map(|(found, at)| found[*at].shots.len()).collect();
        let most = n_visits.iter().copied().max().unwrap_or(0);
        2 * most <= n_visits.iter().sum::<usize>() + 1
    }
}

impl Under {
    fn new(part: Part, n_moves: usize) -> Self {
        if part.n_breaks == 0 {
            let search = Box::new(Search::new(part.problem.clone()));
            return Self::Whole(part, search);
        }
        let all: Vec<usize> = (0..part.problem.n_shots()).collect();
        let order = granted(&part.problem, &all);
        let n_moves = n_moves.min(MOVES_BY_SHOT * part.shots.len());
        let anneal = Anneal::new(&part.problem, order, n_moves, (HOT, SEED));
        Self::Broken(part, Box::new(anneal))
    }
}

impl Part {
    /// An order of the wall, parted where it has breaks.
    fn visits(&self, order: &[usize]) -> Visits {
        let place = places(order);
        let timing = Timing::of(&self.problem, order, &place);
        let timing = Sequence::new(&self.problem, order, &place).improved(&timing);
        let is_break = |shot: &usize| self.shots.len() <= *shot;
        let visits = order.split(is_break).filter(|visit| !visit.is_empty());
        let visits = visits.map(|visit| visit.iter().map(|shot| self.shots[*shot]).collect());
        let away = self.problem.times.setting + 2.0 * self.problem.times.set_up;
        Visits {
            shots: visits.collect(),
            cost: timing.cost(&self.problem) - away * count(self.n_breaks),
        }
    }
}

/// What it costs to leave a wall once more.
fn price_of_break(problem: &Problem) -> f64 {
    let times = &problem.times;
    let fresh = problem.carts_cost_a_nozzle();
    let nozzle = if fresh { times.change + times.nozzle } else { 0.0 };
    times.set_up + times.cart + nozzle
}

/// The visits of all walls in one order: next is the wall with most visits left, of several the one that
/// was left longest ago. Where the user has named the shot to begin with, its wall is the first.
fn woven(problem: &Problem, walls: &[&Visits]) -> Vec<usize> {
    let mut made = vec![0; walls.len()];
    let mut last_at: Vec<Option<usize>> = vec![None; walls.len()];
    let n_visits: usize = walls.iter().map(|wall| wall.shots.len()).sum();
    let mut order = Vec::new();
    for at in 0..n_visits {
        let left = |wall: usize| walls[wall].shots.len() - made[wall];
        let may_come = |wall: &usize| {
            0 < left(*wall) && (at == 0 || last_at[*wall].is_none_or(|last| last + 1 < at))
        };
        let is_late = |wall: usize| at == 0 && problem.first.is_some() && 0 < wall;
        let by_need =
            |wall: &usize| (is_late(*wall), std::cmp::Reverse(left(*wall)), last_at[*wall], *wall);
        let next = (0..walls.len()).filter(may_come).min_by_key(by_need);
        let next = next.or_else(|| (0..walls.len()).find(|wall| 0 < left(*wall)));
        let Some(wall) = next else { break };
        order.extend(&walls[wall].shots[made[wall]]);
        made[wall] += 1;
        last_at[wall] = Some(at);
    }
    order
}
