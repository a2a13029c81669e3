//! What the changes of kits take that the foam needs.
//!
//! All shots together take so many kits at least, so that there is one change fewer. Each is made at a cart
//! between walls or in a gap of a visit; there it takes a way and the change, and begins a run. A stay in so
//! many visits and runs with so many changes is therefore at least
//! - work and ways, with a change of the kit instead of a nozzle's for each of them;
//! - what the runs take, and the gaps between them, of which so many are changes of kits;
//! - what pieces take that are parted by going away and by changes of kits alone, whatever the nozzles do,
//!   with the gaps of those changes;
//! - what settings make the visits last, whatever is changed.
//!
//! The shots of a wall take so many kits too. Each visit and each change in one begins another at most, so
//! that few visits have many changes in them. Of the carts each has one change at most. Whoever changes more
//! kits than are needed has them count as nozzles, which take no longer. The cheapest choice of visits and
//! changes over all walls bounds the cost.
//!
//! Kits may be used up better by going to a wall more often than settings make worth while. One visit more
//! than are told apart stands for all such; each further one has its cart, which takes no less than it saves
//! of the ways, and is paid only where the carts are too few for the changes at them.

use super::{
    super::problem::{Problem, longer},
    MANY, ROUNDING, Table, WORK, Wall,
    pieces::{Piece, spreads, with_changes},
};
use crate::quantity::{count, to_whole};

/// What one wall costs at least by the number of visits from one, and then of changes of kits in them; with
/// its nozzles, but without carts.
type Costs = Vec<Vec<f64>>;

/// The costs of all walls.
struct Choices {
    costs: Vec<Costs>,
    /// Up to so many visits to each wall are told apart; the next stands for more.
    most_visits: usize,
    n_changes: usize,
    /// What each visit more takes at least.
    more: f64,
}

/// Seconds, with what nozzles are worth and the changes of kits that the foam needs.
pub(super) fn with_kits(problem: &Problem, walls: &[Wall], tables: &[Table], end: f64) -> f64 {
    let by_wall: Vec<usize> = walls.iter().map(|wall| fewest_kits(problem, &wall.shots)).collect();
    let all: Vec<usize> = (0..problem.n_shots()).collect();
    let n_kits = fewest_kits(problem, &all).max(fewest_in_turn(problem, &all));
    let n_kits = by_wall.iter().copied().fold(n_kits, usize::max);
    let n_changes = n_kits - 1;
    if n_changes == 0 {
        return 0.0;
    }
    let by_end = end + problem.times.nozzle * count(n_changes);
    let least = longer(by_end, serial(problem, walls, tables, n_changes));
    let saving = |table: &Table| longer(problem.times.set_up + table.saving, table.way);
    let more = cart(problem) - tables.iter().map(saving).fold(0.0, f64::max);
    let more_pay_off = 1 < walls.len() && more < 0.0;
    if more_pay_off || WORK < work(tables, n_changes) {
        return least;
    }
    let costs = walls.iter().zip(tables).zip(&by_wall);
    let costs = costs.map(|((wall, table), n_kits)| {
        let mut costs = costs_of(problem, wall, table, [*n_kits, n_changes]);
        if 1 < walls.len() && costs.len() < wall.shots.len() {
            costs.push(costs_of_more(problem, wall, table, n_changes));
        }
        costs
    });
    let most_visits = tables.iter().map(|table| table.serials.len()).max().unwrap_or(1);
    let choices = Choices { costs: costs.collect(), most_visits, n_changes, more };
    longer(least, choices.cheapest(problem))
}

/// How many kits so many seconds take at least.
pub(super) fn kits_of(sprayed: f64, kit_lasts: f64) -> usize {
    let n_kits = to_whole((sprayed / kit_lasts - ROUNDING).ceil());
    usize::try_from(n_kits).unwrap_or(0)
}

/// How many kits some shots take at least: a shot that is longer than a kit lasts takes one alone; the
/// others take as many as their seconds do, and of those from some length on, a kit has no more than of the
/// shortest of them.
fn fewest_kits(problem: &Problem, shots: &[usize]) -> usize {
    let lasts = problem.times.kit_lasts;
    let mut sprays: Vec<f64> = shots.iter().map(|shot| problem.spots[*shot].spray).collect();
    crate::order::sort_numbers(&mut sprays);
    let n_fit = sprays.partition_point(|spray| *spray <= lasts);
    let n_alone = sprays.len() - n_fit;
    let sums: Vec<f64> = std::iter::once(0.0)
        .chain(sprays[..n_fit].iter().scan(0.0, |sum, spray| {
            *sum += spray;
            Some(*sum)
        }))
        .collect();
    let by_length = (0..n_fit).map(|at| {
        let most = sums.partition_point(|sum| *sum <= sums[at] + lasts + ROUNDING) - 1 - at;
        (n_fit - at).div_ceil(most.max(1))
    });
    n_alone + by_length.fold(kits_of(sums[n_fit], lasts), usize::max)
}

/// How many kits the shots of a job take at least, where kits of several sizes take turns: with those that
/// are longer than the largest each in a kit of its own, which may be the smallest, the others have to go
/// into the rest. No kit sprays more of them than it holds, or than one of them takes.
fn fewest_in_turn(problem: &Problem, shots: &[usize]) -> usize {
    if problem.next_kits.is_empty() {
        return 0;
    }
    let sprays = shots.iter().map(|shot| problem.spots[*shot].spray);
    let (fit, alone): (Vec<f64>, Vec<f64>) =
        sprays.partition(|spray| *spray <= problem.times.kit_lasts);
    let longest = fit.iter().copied().fold(0.0, longer);
    let sprayed: f64 = fit.iter().sum();
    let mut held = Vec::new();
    // A kit for each shot is enough.
    for n_kits in 1..=shots.len() {
        held.push(longer(problem.kit_lasts(n_kits - 1), longest));
        crate::order::sort_numbers(&mut held);
        let rest: f64 = held.iter().skip(alone.len()).sum();
        if alone.len() <= n_kits && sprayed <= rest + ROUNDING {
            return n_kits;
        }
    }
    shots.len()
}

/// Work and ways alone, where changes of kits may fall on settings and carts.
fn serial(problem: &Problem, walls: &[Wall], tables: &[Table], n_changes: usize) -> f64 {
    let times = &problem.times;
    let carts = times.set_up + times.cart;
    let least_of = |(table, wall): (&Table, &Wall)| {
        let serials = table.serials.iter().enumerate();
        let costs = serials.map(|(at, serial)| serial + carts * count(at));
        // A cart that takes less than it saves is worth while as often as there are shots.
        let saved = if walls.len() == 1 { 0.0 } else { longer(table.saving - times.cart, 0.0) };
        let n_more = wall.shots.len() - table.serials.len();
        costs.min_by(f64::total_cmp).unwrap_or(0.0) - saved * count(n_more)
    };
    let serial: f64 = tables.iter().zip(walls).map(least_of).sum();
    let runs: usize = tables.iter().map(|table| table.in_runs.fewest).sum();
    let n_nozzles = count(n_changes.max(runs.saturating_sub(1)));
    serial
        + carts * count(tables.len() - 1)
        + count(n_changes) * (times.kit_change - times.change)
        + n_nozzles * (times.change + times.nozzle)
}

/// What a cart takes, with the nozzle that it costs.
fn cart(problem: &Problem) -> f64 {
    let times = &problem.times;
    let fresh = if problem.carts_cost_a_nozzle() { times.change + times.nozzle } else { 0.0 };
    times.set_up + times.cart + fresh
}

/// How many steps choosing takes.
fn work(tables: &[Table], n_changes: usize) -> usize {
    let most_visits = tables.iter().map(|table| table.serials.len()).max().unwrap_or(1);
    let n_visits = tables.len() * (most_visits + 1);
    let n_choices = most_visits + tables.len();
    (n_visits * n_visits * n_choices).saturating_mul((n_changes + 1) * (n_changes + 1))
}

fn costs_of(
    problem: &Problem,
    wall: &Wall,
    table: &Table,
    [n_kits, n_changes]: [usize; 2],
) -> Costs {
    let n_shots = wall.shots.len();
    let n_visits = table.serials.len();
    // With as many pieces as the longest column has shots nothing need set in them.
    let most_pieces = (n_visits + n_changes).min(wall.longest.max(n_visits)).min(n_shots);
    let pieces = spreads(problem, wall, most_pieces, Piece::Visit);
    let gap = wall.way + problem.times.kit_change;
    let costs_of_visits = |n_visits: usize| {
        let visits = if n_shots <= MANY { with_changes(problem, wall, n_visits) } else { 0.0 };
        let cost = |changes: usize| {
            // Between two shots there is one change at most, and another kit needs one.
            if n_shots - n_visits < changes || changes + n_visits < n_kits {
                return f64::INFINITY;
            }
            let parted = pieces.get(n_visits + changes - 1);
            let parted = parted.map_or(0.0, |pieces| pieces + gap * count(changes));
            table.cost(problem, [n_visits, changes], longer(visits, parted))
        };
        (0..=n_changes).map(cost).collect()
    };
    (1..=n_visits).map(costs_of_visits).collect()
}

/// The costs of one visit more than are told apart: work and ways alone.
fn costs_of_more(problem: &Problem, wall: &Wall, table: &Table, n_changes: usize) -> Vec<f64> {
    let times = &problem.times;
    let (n_shots, n_visits) = (wall.shots.len(), table.serials.len() + 1);
    let saved = times.set_up + table.saving;
    let serial = longer(
        table.serials[n_visits - 2] - saved,
        wall.work + wall.way * count(n_shots - n_visits),
    );
    let n_first = if problem.carts_cost_a_nozzle() { n_visits } else { 0 };
    let cost = |changes: usize| {
        serial + times.kit_change * count(changes) + times.nozzle * count(n_first + changes)
    };
    (0..=n_changes).map(cost).collect()
}

impl Table {
    /// The least cost of so many visits with so many changes of kits in them, where these take a time at
    /// least.
    fn cost(&self, problem: &Problem, [n_visits, n_changes]: [usize; 2], least: f64) -> f64 {
        let times = &problem.times;
        if !problem.carts_cost_a_nozzle() {
            let serial = self.serials[n_visits - 1] + times.kit_change * count(n_changes);
            let stay = longer(longer(serial, self.settings[n_visits - 1]), least);
            return stay + times.nozzle * count(n_changes);
        }
        let costs = (1..=self.in_runs.runs.len()).map(|n_runs| {
            let stay = longer(self.stay(problem, [n_visits, n_runs, n_changes]), least);
            stay + times.nozzle * count(n_runs.max(n_visits + n_changes))
        });
        costs.fold(f64::INFINITY, f64::min)
    }
}

impl Choices {
    /// The cheapest choice over all walls. Between two visits to a wall another is visited.
    fn cheapest(&self, problem: &Problem) -> f64 {
        let mut best = f64::INFINITY;
        for most in 1..=self.most_visits {
            // With fewer visits in all, no wall can have that many.
            let all = self.together(most, None);
            best = best.min(self.with_carts(problem, &all, 2 * most - 1, f64::INFINITY));
        }
        // One wall at least has more visits than are told apart.
        for (at, costs) in self.costs.iter().enumerate() {
            if self.most_visits < costs.len() {
                let all = self.together(costs.len(), Some(at));
                best = best.min(self.with_carts(problem, &all, 1, self.more));
            }
        }
        if best.is_finite() { best } else { 0.0 }
    }

    /// The same with the carts and the changes at them, for so many visits at least; where the carts are
    /// too few, each further one takes so long.
    fn with_carts(&self, problem: &Problem, costs: &[Vec<f64>], enough: usize, more: f64) -> f64 {
        let times = &problem.times;
        let fresh = problem.carts_cost_a_nozzle();
        let first = if fresh { times.nozzle } else { 0.0 };
        let cart = cart(problem) - first;
        // Where a cart costs no nozzle, a change of the kit at it does.
        let change =
            if fresh { times.kit_change - times.change } else { times.kit_change + times.nozzle };
        let mut best = f64::INFINITY;
        for (n_visits, costs) in costs.iter().enumerate().skip(enough) {
            for (in_visits, cost) in costs.iter().enumerate() {
                let (at_carts, n_carts) = (self.n_changes - in_visits, n_visits - 1);
                let carts = cart * count(n_carts) + change * count(at_carts) - first;
                let missing = at_carts.saturating_sub(n_carts);
                let missing = if missing == 0 { 0.0 } else { more * count(missing) };
                best = best.min(cost + carts + missing);
            }
        }
        best
    }

    /// The least cost of all walls by the number of visits, of which none has more than so many, and of
    /// changes in them; more changes than are needed count as these. One wall may have to have most.
    fn together(&self, most: usize, forced: Option<usize>) -> Vec<Vec<f64>> {
        let none = vec![f64::INFINITY; self.n_changes + 1];
        let mut least = vec![none.clone()];
        least[0][0] = 0.0;
        for (at, costs) in self.costs.iter().enumerate() {
            let costs = &costs[..costs.len().min(most)];
            let fewest = if forced == Some(at) { costs.len() - 1 } else { 0 };
            let mut next = vec![none.clone(); least.len() + costs.len()];
            for (had, before) in least.iter().enumerate() {
                for (visits, costs) in costs.iter().enumerate().skip(fewest) {
                    add(&mut next[had + visits + 1], before, costs);
                }
            }
            least = next;
        }
        least
    }
}

/// Lets the changes of one wall come to those of the walls before it.
fn add(next: &mut [f64], before: &[f64], costs: &[f64]) {
    let last = next.len() - 1;
    for (had, before) in before.iter().enumerate().filter(|(_, cost)| cost.is_finite()) {
        for (changes, cost) in costs.iter().enumerate() {
            let all = last.min(had + changes);
            next[all] = next[all].min(before + cost);
        }
    }
}
