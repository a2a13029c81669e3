//! What no order of the shots can cost less than.
//!
//! Every schedule visits each wall in some number of visits, and each visit falls into runs between
//! fresh nozzles. For every number of visits and runs of a wall there is a least stay, and carts and
//! nozzles between; the cheapest choice over all walls bounds the cost. The stay is at least
//! - work and ways: no set of paths over the holes is shorter than their prices allow
//!   (Held and Karp's bound, with as many paths as visits);
//! - work in between settings: one gun, each shot with what must come before and after it in its
//!   column (Jackson's bound), where every visit but the first gives one setting of each column away;
//! - what visits can hold: a visit that gives some columns several shots lasts as many settings;
//! - what columns take that have equally many shots in a visit: each waits for every other one before its
//!   first shot or after its last;
//! - how often visits go over the wall: a column misses a lift only where there are more of them than it
//!   has shots, and what fills the settings of one visit fills none of another;
//! - where visits part columns: each shot is made in one of them, after those below it;
//! - work and the walking that settings force: the ends of a wall are left and come back to.
//!
//! A run is like a visit, but its gaps are at most the idle limit: the settings in it must be filled,
//! which bounds the number of runs from below and makes each visit last longer. Whatever the visits, the
//! end is no sooner than Jackson's bound of all columns together.

mod crossings;
mod depths;
mod flat;
mod kits;
mod paths;
mod pieces;
mod runs;
mod splits;
mod turns;

use self::{
    crossings::Crossings,
    depths::by_depths,
    kits::with_kits,
    paths::Paths,
    pieces::{Piece, capacities, longest_column, spreads, with_changes},
    runs::Filling,
};
use super::problem::{Problem, Spot, longer};
use crate::quantity::count;

/// The work that each part of the bound may take, in steps.
const WORK: usize = 12_000_000;
/// Above so many shots of a wall, what takes the square of their number is left out.
const MANY: usize = 1_500;
/// Up to so many walls, the numbers of visits of all of them are weighed together.
const WALLS: usize = 12;
/// What sums of hundreds of figures may be off by.
const ROUNDING: f64 = 1e-6;

/// Seconds, with what nozzles are worth, that no order can cost less than.
pub(super) fn bound(problem: &Problem) -> f64 {
    if problem.spots.is_empty() {
        return 0.0;
    }
    let walls = walls(problem);
    // A wall alone is never left for another.
    let longest = walls.iter().map(|wall| wall.longest).max().unwrap_or(1);
    let few = visits_are_few(problem, &walls);
    let most_visits = if walls.len() == 1 { 1 } else { longest + usize::from(!few) };
    let n_tables: usize = walls.iter().map(|wall| most_visits.min(wall.shots.len())).sum();
    let share = WORK / n_tables.max(1);
    let end = end_of_columns(problem, &walls);
    let tables: Option<Vec<Table>> = walls
        .iter()
        .map(|wall| {
            let n_visits = most_visits.min(wall.shots.len());
            let table = Table::new(problem, wall, n_visits, share);
            if few || n_visits < most_visits {
                Some(table)
            } else {
                table.with_more_visits(problem)
            }
        })
        .collect();
    let Some(tables) = tables else {
        return longer(end - ROUNDING, 0.0);
    };
    let by_visits = if tables.len() <= WALLS {
        visits(problem, &tables, end)
    } else {
        each_wall(problem, &tables, end)
    };
    let best = longer(by_visits, with_kits(problem, &walls, &tables, end));
    longer(best - ROUNDING, 0.0)
}

/// Whether it never pays to come to a wall more often than its longest column has shots, because no walk
/// along a wall takes longer than leaving it.
fn visits_are_few(problem: &Problem, walls: &[Wall]) -> bool {
    let times = &problem.times;
    let longest_walk = |wall: &Wall| {
        let spread = |at: &dyn Fn(&Spot) -> f64| {
            let all = wall.shots.iter().map(|shot| at(&problem.spots[*shot]));
            let (least, most) = all
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), at| {
                    (least.min(at), most.max(at))
                });
            most - least
        };
        let (across, up) = (spread(&|spot| spot.x), spread(&|spot| spot.y));
        (across * across + up * up).sqrt() * times.per_metre
    };
    let pays_off = |wall: &Wall| {
        let walk = longest_walk(wall);
        // Where a walk may cost a nozzle too, leaving costs none on top of it.
        let walks_cost = times.idle < times.set_up + walk;
        let nozzle = if problem.carts_cost_a_nozzle() && !walks_cost {
            times.change + times.nozzle
        } else {
            0.0
        };
        times.cart + nozzle < walk
    };
    walls.len() < 2 || !walls.iter().any(pays_off)
}

/// The shots of a wall.
struct Wall {
    shots: Vec<usize>,
    /// The columns, each from below.
    columns: Vec<Vec<usize>>,
    /// How many shots the longest column has.
    longest: usize,
    /// No way between two shots is shorter.
    way: f64,
    work: f64,
}

/// What a wall takes at least.
struct Table {
    /// Work and ways, by the number of visits from one.
    serials: Vec<f64>,
    /// What settings make visits last, by their number from one.
    settings: Vec<f64>,
    in_runs: InRuns,
    /// No way between two shots is shorter.
    way: f64,
    /// The least stay by the number of visits, and then of runs, each from one; never for fewer runs
    /// than there can be.
    stays: Vec<Vec<f64>>,
    /// What every further visit saves of the ways at most, the tube not counted.
    saving: f64,
}

/// What is known of the runs at a wall; nothing where a cart costs no nozzle.
struct InRuns {
    /// What all runs take together, by their number from one.
    runs: Vec<f64>,
    /// The least number of runs.
    fewest: usize,
    /// What visits of several runs last, each by the number of visits from one, and then of runs more.
    together: Vec<Vec<Vec<f64>>>,
}

fn walls(problem: &Problem) -> Vec<Wall> {
    let n_walls = problem.spots.iter().map(|spot| spot.wall + 1).max().unwrap_or(0);
    let mut by_wall: Vec<Vec<usize>> = vec![Vec::new(); n_walls];
    for (shot, spot) in problem.spots.iter().enumerate() {
        by_wall[spot.wall].push(shot);
    }
    by_wall.retain(|shots| !shots.is_empty());
    by_wall.into_iter().map(|shots| wall(problem, shots)).collect()
}

fn wall(problem: &Problem, shots: Vec<usize>) -> Wall {
    // Where several shots wait for one, all but the first count as if they had not to.
    let is_lowest = |shot: &&usize| {
        let below = problem.spots[**shot].after;
        below.is_none_or(|below| problem.above[below] != Some(**shot))
    };
    let lowest = shots.iter().filter(is_lowest);
    let columns: Vec<Vec<usize>> = lowest
        .map(|lowest| std::iter::successors(Some(*lowest), |shot| problem.above[*shot]).collect())
        .collect();
    Wall {
        longest: columns.iter().map(Vec::len).max().unwrap_or(1),
        way: least_way(problem, &shots),
        work: shots.iter().map(|shot| problem.spots[*shot].spray).sum(),
        columns,
        shots,
    }
}

fn least_way(problem: &Problem, shots: &[usize]) -> f64 {
    if MANY < shots.len() {
        return problem.times.set_up;
    }
    let mut least = f64::INFINITY;
    for (at, a) in shots.iter().enumerate() {
        for b in &shots[at + 1..] {
            least = least.min(problem.way(*a, *b));
        }
    }
    if least.is_finite() { least } else { problem.times.set_up }
}

impl Table {
    fn new(problem: &Problem, wall: &Wall, most_visits: usize, share: usize) -> Self {
        let mut paths = Paths::new(problem, wall, share);
        let serials: Vec<f64> =
            (1..=most_visits).map(|n_visits| wall.work + paths.least(n_visits)).collect();
        let saving = paths.saving(most_visits);
        let settings = by_settings(problem, wall, most_visits);
        if !problem.carts_cost_a_nozzle() {
            let stays = serials.iter().zip(&settings).map(|(a, b)| vec![longer(*a, *b)]).collect();
            let in_runs = InRuns { runs: Vec::new(), fewest: 0, together: Vec::new() };
            return Self { serials, settings, in_runs, way: wall.way, stays, saving };
        }
        let in_runs = InRuns::new(problem, wall, most_visits);
        let mut table =
            Self { serials, settings, in_runs, way: wall.way, stays: Vec::new(), saving };
        let n_runs = 1..=table.in_runs.runs.len();
        table.stays = (1..=most_visits)
            .map(|n_visits| {
                n_runs.clone().map(|n_runs| table.stay(problem, [n_visits, n_runs, 0])).collect()
            })
            .collect();
        table
    }

    /// The least stay in so many visits and runs, between which so many kits are changed; the last number
    /// of runs stands for all that follow.
    fn stay(&self, problem: &Problem, [n_visits, n_runs, n_kits]: [usize; 3]) -> f64 {
        let (times, last) = (&problem.times, self.in_runs.runs.len());
        if n_runs < n_visits.max(self.in_runs.fewest) {
            return f64::INFINITY;
        }
        let n_breaks = n_runs - n_visits;
        if n_runs < last && n_breaks < n_kits {
            return f64::INFINITY;
        }
        let with_kits = times.kit_change * count(n_kits);
        let nozzles = count(n_breaks.saturating_sub(n_kits));
        let serial = self.serials[n_visits - 1] + nozzles * times.change + with_kits;
        // Where more kits are changed than there are breaks, ways to shots make up for the breaks.
        let ways = self.way * count(n_breaks.min(n_kits));
        let gap = longer(self.way + times.change, times.idle);
        let gap = if n_kits == 0 { gap } else { gap.min(self.way + times.kit_change) };
        let in_runs = self.in_runs.runs[n_runs - 1] + nozzles * gap + (ways + with_kits);
        let least = longer(longer(serial, in_runs), self.settings[n_visits - 1]);
        if last <= n_runs {
            return least;
        }
        let together = self.in_runs.together.iter().filter_map(|lasts| {
            lasts.get(n_visits - 1).and_then(|lasts| lasts.get(n_runs - n_visits))
        });
        together.copied().fold(least, longer)
    }

    /// Lets the most visits stand for all that are more. Of a stay with so many, work and ways alone are
    /// kept; each further visit takes at least its cart and saves no more than that, or nothing is known.
    fn with_more_visits(mut self, problem: &Problem) -> Option<Self> {
        let times = &problem.times;
        if times.cart < self.saving {
            return None;
        }
        let n_visits = self.serials.len();
        let change = if problem.carts_cost_a_nozzle() { times.change } else { 0.0 };
        let serial = self.serials[n_visits - 1];
        let fewest = n_visits.max(self.in_runs.fewest);
        let stays = self.stays[n_visits - 1].iter_mut().enumerate();
        for (run, stay) in stays.filter(|(run, _)| fewest <= run + 1 || change <= 0.0) {
            *stay = stay.min(serial + change * count((run + 1).saturating_sub(n_visits)));
        }
        Some(self)
    }
}

impl InRuns {
    fn new(problem: &Problem, wall: &Wall, most_visits: usize) -> Self {
        let n_shots = wall.shots.len();
        let most_runs = most_visits.max(wall.longest).min(n_shots);
        let filling = Filling::new(problem, wall);
        let mut runs = spreads(problem, wall, most_runs, Piece::Runs(&filling, 1));
        let fewest = filling.fewest_runs(&runs);
        let n_kinds = n_kinds(wall, most_visits);
        let kinds: Vec<Piece<'_>> =
            (1..=n_kinds).map(|n_runs| Piece::Runs(&filling, n_runs)).collect();
        let together = if kinds.is_empty() {
            Vec::new()
        } else {
            let by_shots = capacities(problem, wall, most_visits, &kinds);
            vec![by_shots, by_depths(problem, wall, most_visits, &kinds)]
        };
        // With more runs than steps nothing need set in any of them.
        let apart = |n_runs: usize| wall.work + wall.way * count(n_shots - n_runs);
        runs.extend((most_runs + 1..=fewest).map(apart));
        Self { runs, fewest, together }
    }
}

/// What settings make visits last, by their number from one.
fn by_settings(problem: &Problem, wall: &Wall, most_visits: usize) -> Vec<f64> {
    let mut visits = spreads(problem, wall, most_visits, Piece::Visit);
    let crossings = Crossings::new(problem, wall);
    for (at, visits) in visits.iter_mut().enumerate() {
        let tubes = problem.times.set_up * count(wall.shots.len() - at - 1);
        *visits = longer(*visits, wall.work + tubes + crossings.least(at + 1));
    }
    visits
}

/// Up to how many runs of a visit are told apart: in as many as the longest column has shots nothing need
/// be filled, and all pairs of numbers of runs are tried with all pairs of numbers of shots.
fn n_kinds(wall: &Wall, most_visits: usize) -> usize {
    let n_shots = wall.shots.len();
    let work = |n_kinds: usize| most_visits * n_shots * n_shots * n_kinds * (n_kinds + 1) / 2;
    let useful = 1..wall.longest.max(2);
    useful.take_while(|n_kinds| work(*n_kinds) <= WORK).count()
}

/// The end of all columns together: Jackson's bound, with the shortest way between any two shots.
fn end_of_columns(problem: &Problem, walls: &[Wall]) -> f64 {
    let cart = problem.times.set_up + problem.times.cart;
    let way = walls.iter().map(|wall| wall.way).fold(cart, f64::min);
    if MANY < problem.spots.len() {
        let ends = walls.iter().map(|wall| longest_column(problem, wall, 1));
        return ends.max_by(f64::total_cmp).unwrap_or(0.0);
    }
    let all = Wall {
        shots: (0..problem.spots.len()).collect(),
        columns: walls.iter().flat_map(|wall| wall.columns.iter().cloned()).collect(),
        longest: 0,
        way,
        work: 0.0,
    };
    with_changes(problem, &all, 1)
}

/// The cheapest numbers of visits and runs. Between two visits to a wall another is visited.
fn visits(problem: &Problem, tables: &[Table], end: f64) -> f64 {
    let times = &problem.times;
    let carts_cost = problem.carts_cost_a_nozzle();
    let change = if carts_cost { times.change } else { 0.0 };
    let nozzle = if carts_cost { times.nozzle } else { 0.0 };
    let between = times.set_up + times.cart + change;
    let longest = tables.iter().map(|table| table.stays.len()).max().unwrap_or(1);
    let mut best = f64::INFINITY;
    for most in 1..=longest {
        // With fewer visits in all, no wall can have that many.
        let enough = 2 * most - 1;
        for (n_visits, n_runs, stay) in least_stays(tables, most, enough) {
            if enough <= n_visits {
                let last = longer(stay + between * count(n_visits - 1), end);
                best = best.min(last + nozzle * count(n_runs.saturating_sub(1)));
            }
        }
    }
    best
}

/// The least stay at all walls together for each number of visits and of runs, as far as it can
/// matter; more runs than the last count as the last.
fn least_stays(tables: &[Table], most: usize, enough: usize) -> Vec<(usize, usize, f64)> {
    let sum_of = |sizes: &dyn Fn(&Table) -> usize| tables.iter().map(sizes).sum::<usize>();
    let last_visits = sum_of(&|table| table.stays.len().min(most)).max(enough);
    let last_runs = sum_of(&|table| table.stays[0].len());
    let width = last_runs + 1;
    let mut least = vec![f64::INFINITY; (last_visits + 1) * width];
    least[0] = 0.0;
    let (mut n_visits, mut n_runs) = (0, 0);
    for table in tables {
        let mut next = vec![f64::INFINITY; least.len()];
        for at in (0..=n_visits).flat_map(|v| (0..=n_runs).map(move |r| v * width + r)) {
            if least[at].is_infinite() {
                continue;
            }
            for (visits, runs) in table.stays.iter().take(most).enumerate() {
                for (run, stay) in runs.iter().enumerate() {
                    let to = at + (visits + 1) * width + run + 1;
                    next[to] = next[to].min(least[at] + stay);
                }
            }
        }
        n_visits += table.stays.len().min(most);
        n_runs += table.stays[0].len();
        least = next;
    }
    let stays = least.iter().enumerate().filter(|(_, stay)| stay.is_finite());
    stays.map(|(at, stay)| (at / width, at % width, *stay)).collect()
}

/// The same for jobs of many walls, each wall by itself.
fn each_wall(problem: &Problem, tables: &[Table], end: f64) -> f64 {
    let times = &problem.times;
    let carts_cost = problem.carts_cost_a_nozzle();
    let change = if carts_cost { times.change } else { 0.0 };
    let nozzle = if carts_cost { times.nozzle } else { 0.0 };
    let between = times.set_up + times.cart + change;
    let cost = |visits: usize, run: usize, stay: f64| {
        stay + between * count(visits + 1) + nozzle * count(run + 1)
    };
    let costs = tables.iter().map(|table| {
        let all = table.stays.iter().enumerate().flat_map(|(visits, runs)| {
            runs.iter().enumerate().map(move |(run, stay)| cost(visits, run, *stay))
        });
        all.min_by(f64::total_cmp).unwrap_or(0.0)
    });
    let fewest: usize = tables.iter().map(|table| table.in_runs.fewest).sum();
    let by_end = end + nozzle * count(fewest.saturating_sub(1));
    longer(costs.sum::<f64>() - between - nozzle, by_end)
}
