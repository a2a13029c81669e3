//! What no order of the shots can cost less than.
//!
//! Every schedule visits each wall in some number of visits, and each visit falls into runs between
//! fresh nozzles. For every number of visits and runs of a wall there is a least stay, and carts and
//! nozzles between; the cheapest choice over all walls bounds the cost. The stay is at least
//! - work and ways: no set of paths over the holes is shorter than their prices allow
//!   (Held and Karp's bound, with as many paths as visits);
//! - work in between settings: one gun, each shot with what must come before and after it in its
//!   column (Jackson's bound), where every visit but the first gives one setting of each column away;
//! - what visits can hold: a visit that gives some columns several shots lasts as many settings.
//!
//! A run is like a visit, but its gaps are at most the idle limit, which bounds the runs from below.

use super::problem::{Problem, longer};
use crate::quantity::count;

/// Rounds in which prices of holes are bettered, and the work all of them may take.
const ROUNDS: usize = 80;
const WORK: usize = 12_000_000;
/// Above so many shots of a wall, what takes the square of their number is left out.
const MANY: usize = 1_500;
/// What sums of hundreds of figures may be off by.
const ROUNDING: f64 = 1e-6;

/// Seconds, with what nozzles are worth, that no order can cost less than.
pub(super) fn bound(problem: &Problem) -> f64 {
    if problem.spots.is_empty() {
        return 0.0;
    }
    let walls = walls(problem);
    let most_visits = walls.iter().map(|wall| wall.longest).max().unwrap_or(1);
    let n_tables = walls.iter().map(|wall| most_visits.min(wall.shots.len())).sum();
    let share = WORK / walls.len().max(1) / usize::max(n_tables, 1) * walls.len().max(1);
    let tables: Vec<Vec<Stay>> = walls
        .iter()
        .map(|wall| table(problem, wall, most_visits.min(wall.shots.len()), share))
        .collect();
    let best = longer(visits(problem, &tables), with_kits(problem, &tables));
    longer(best - ROUNDING, 0.0)
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

/// The least of a wall for some number of visits.
#[derive(Clone, Copy)]
struct Stay {
    /// Seconds at the wall, with what its nozzles are worth, one for every run.
    cost: f64,
    /// The least work and ways.
    serial: f64,
    /// The least number of runs.
    runs: usize,
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

/// The least of a wall by its number of visits, from one.
fn table(problem: &Problem, wall: &Wall, most_visits: usize, share: usize) -> Vec<Stay> {
    let times = &problem.times;
    let n_shots = wall.shots.len();
    let carts_cost = problem.carts_cost_a_nozzle();
    let mut paths = Paths::new(problem, wall, share);
    let serials: Vec<f64> =
        (1..=most_visits).map(|n_visits| wall.work + paths.least(n_visits)).collect();
    let most_pieces = most_visits.max(wall.longest).min(n_shots);
    let spread: Vec<f64> = (1..=most_pieces).map(|pieces| spread(problem, wall, pieces)).collect();
    let fewest = if carts_cost { fewest_runs(problem, wall, &spread) } else { 1 };
    let gap = longer(wall.way + times.change, times.idle);
    (1..=most_visits)
        .map(|n_visits| {
            let serial = serials[n_visits - 1];
            if !carts_cost {
                let cost = longer(serial, spread[n_visits - 1]);
                return Stay { cost, serial, runs: 0 };
            }
            let least_runs = n_visits.max(fewest);
            let costs = (least_runs..=most_pieces.max(least_runs)).map(|n_runs| {
                let more = count(n_runs - n_visits);
                let runs = spread[n_runs.min(most_pieces) - 1] + more * gap;
                let stay = longer(serial + more * times.change, runs);
                longer(stay, spread[n_visits - 1]) + times.nozzle * count(n_runs)
            });
            let cost = costs.min_by(f64::total_cmp).unwrap_or(serial);
            Stay { cost, serial, runs: least_runs }
        })
        .collect()
}

/// The least that all pieces of a wall's work last together, when each is made without going away.
fn spread(problem: &Problem, wall: &Wall, n_pieces: usize) -> f64 {
    if MANY < wall.shots.len() {
        return longest_column(problem, wall, n_pieces);
    }
    longer(jackson(problem, wall, n_pieces), capacity(problem, wall, n_pieces))
}

fn longest_column(problem: &Problem, wall: &Wall, n_pieces: usize) -> f64 {
    let lasts = wall.columns.iter().map(|column| {
        let work: f64 = column.iter().map(|shot| problem.spots[*shot].spray).sum();
        work + problem.times.setting * count(column.len().saturating_sub(n_pieces))
    });
    lasts.max_by(f64::total_cmp).unwrap_or(0.0)
}

/// Jackson's bound: of the shots with a long enough way before and after them, all the work between
/// the shortest of both. Pieces follow one another after the shortest way.
fn jackson(problem: &Problem, wall: &Wall, n_pieces: usize) -> f64 {
    let given = n_pieces - 1;
    let setting = |n_gaps: usize| {
        let waits = n_gaps.saturating_sub(given);
        problem.times.setting * count(waits)
            + wall.way.min(problem.times.setting) * count(n_gaps - waits)
    };
    let mut jobs: Vec<[f64; 3]> = Vec::with_capacity(wall.shots.len());
    for column in &wall.columns {
        let sprays: Vec<f64> = column.iter().map(|shot| problem.spots[*shot].spray).collect();
        let whole: f64 = sprays.iter().sum();
        let mut before = 0.0;
        for (step, spray) in sprays.iter().enumerate() {
            let head = before + setting(step);
            let tail = whole - before - spray + setting(column.len() - 1 - step);
            jobs.push([head, spray + wall.way, tail]);
            before += spray;
        }
    }
    most_loaded(jobs) - wall.way * count(n_pieces)
}

/// The greatest sum of the least head, all work and the least tail over all sets of jobs.
fn most_loaded(mut jobs: Vec<[f64; 3]>) -> f64 {
    crate::order::sort_by(&mut jobs, |a, b| b[0].total_cmp(&a[0]));
    let mut tails: Vec<f64> = jobs.iter().map(|job| job[2]).collect();
    tails.sort_by(f64::total_cmp);
    tails.dedup();
    let mut most = 0.0;
    for tail in tails {
        let mut work = 0.0;
        for job in jobs.iter().filter(|job| tail <= job[2]) {
            work += job[1];
            most = longer(most, job[0] + work + tail);
        }
    }
    most
}

/// The least that pieces last together which hold all shots: to give several columns as many shots
/// each, the last of them to begin has to wait for the first shots of the others, and then for
/// every setting.
fn capacity(problem: &Problem, wall: &Wall, n_pieces: usize) -> f64 {
    let n_shots = wall.shots.len();
    let offers = offers(problem, wall);
    // For each number of shots, the least that the pieces so far last.
    let mut least = vec![f64::INFINITY; n_shots + 1];
    least[0] = 0.0;
    for _ in 0..n_pieces {
        let mut next = vec![f64::INFINITY; n_shots + 1];
        for (made, lasted) in least.iter().enumerate().filter(|(_, lasted)| lasted.is_finite()) {
            for (holds, lasts) in &offers {
                let all = n_shots.min(made + holds);
                next[all] = next[all].min(lasted + lasts);
            }
        }
        least = next;
    }
    least[n_shots]
}

/// How many shots a piece can hold, and how long it then lasts, where that changes.
fn offers(problem: &Problem, wall: &Wall) -> Vec<(usize, f64)> {
    let spray = |shot: &usize| problem.spots[*shot].spray;
    let mut all: Vec<f64> = wall.shots.iter().map(spray).collect();
    all.sort_by(f64::total_cmp);
    let least = |column: &Vec<usize>| column.iter().map(spray).min_by(f64::total_cmp);
    let mut firsts: Vec<f64> = wall.columns.iter().filter_map(least).collect();
    firsts.sort_by(f64::total_cmp);
    let sums = |sprays: &[f64]| {
        let ends = sprays.iter().scan(0.0, |sum, spray| {
            *sum += spray + wall.way;
            Some(*sum - wall.way)
        });
        ends.collect::<Vec<f64>>()
    };
    let (work, rounds) = (sums(&all), sums(&firsts));
    let cycle = problem.times.setting + all.first().copied().unwrap_or(0.0);
    let mut lengths: Vec<f64> = work.clone();
    for step in 0..wall.longest {
        lengths.extend(rounds.iter().map(|round| round + cycle * count(step)));
    }
    lengths.sort_by(f64::total_cmp);
    let holds = |length: f64| {
        let fits = |ends: &[f64], length: f64| ends.partition_point(|end| *end <= length + 1e-9);
        let by_columns: usize = (0..wall.longest)
            .map(|step| {
                let n_columns = wall.columns.iter().filter(|column| step < column.len()).count();
                fits(&rounds, length - cycle * count(step)).min(n_columns)
            })
            .sum();
        by_columns.min(fits(&work, length))
    };
    let mut offers: Vec<(usize, f64)> = Vec::new();
    for length in lengths {
        let held = holds(length);
        if offers.last().is_none_or(|(most, _)| *most < held) {
            offers.push((held, length));
        }
    }
    offers
}

/// The least number of runs at a wall: a setting in a run is filled by at most one shot of every
/// other column, and a run has no gap over the idle limit.
fn fewest_runs(problem: &Problem, wall: &Wall, spread: &[f64]) -> usize {
    let by_columns = (0..wall.columns.len()).map(|own| runs_of_column(problem, wall, own)).max();
    let n_shots = wall.shots.len();
    let fits = |n_runs: usize| {
        let most = wall.work + count(n_shots - n_runs) * problem.times.idle;
        spread.get(n_runs - 1).is_none_or(|least| *least <= most + ROUNDING)
    };
    let by_time = (1..=n_shots).find(|n_runs| fits(*n_runs));
    by_columns.unwrap_or(1).max(by_time.unwrap_or(1))
}

fn runs_of_column(problem: &Problem, wall: &Wall, own: usize) -> usize {
    let idle = problem.times.idle;
    let needed = problem.times.setting - idle;
    let others = wall.columns.iter().enumerate().filter(|(idx, _)| *idx != own);
    // What each other column can fill, the most first.
    let fills: Vec<Vec<f64>> = others
        .map(|(_, column)| {
            let mut fills: Vec<f64> =
                column.iter().map(|shot| problem.spots[*shot].spray + idle).collect();
            fills.sort_by(|a, b| b.total_cmp(a));
            fills
        })
        .collect();
    let mut largest: Vec<f64> = fills.iter().map(|fills| fills[0]).collect();
    largest.sort_by(|a, b| b.total_cmp(a));
    // So many other columns have to take part in every setting that is filled.
    let mut filled = 0.0;
    let mut n_needed = 0;
    while filled < needed - ROUNDING && n_needed < largest.len() {
        filled += largest[n_needed];
        n_needed += 1;
    }
    let n_shots = wall.columns[own].len();
    if filled < needed - ROUNDING {
        return n_shots;
    }
    let can_fill = |n_settings: usize| {
        let n_shots: usize = fills.iter().map(|fills| fills.len().min(n_settings)).sum();
        let seconds: f64 = fills.iter().flat_map(|fills| fills.iter().take(n_settings)).sum();
        n_settings * n_needed <= n_shots && count(n_settings) * needed <= seconds + ROUNDING
    };
    let n_filled = (1..n_shots).take_while(|n_settings| can_fill(*n_settings)).count();
    n_shots - n_filled
}

/// The cheapest number of visits to each wall. Between two visits to a wall another is visited.
fn visits(problem: &Problem, tables: &[Vec<Stay>]) -> f64 {
    let times = &problem.times;
    let between =
        times.set_up + times.cart + if problem.carts_cost_a_nozzle() { times.change } else { 0.0 };
    let first = if problem.carts_cost_a_nozzle() { times.nozzle } else { 0.0 };
    let longest = tables.iter().map(Vec::len).max().unwrap_or(1);
    let mut best = f64::INFINITY;
    for most in 1..=longest {
        // With fewer visits in all, no wall can have that many.
        let enough = 2 * most - 1;
        let mut costs = vec![0.0];
        for table in tables {
            let mut next = vec![f64::INFINITY; costs.len().min(enough) + most];
            for (made, cost) in costs.iter().enumerate() {
                for (idx, stay) in table.iter().take(most).enumerate() {
                    let all = (made + idx + 1).min(next.len() - 1);
                    let with = cost + stay.cost + between * count(idx + 1);
                    next[all] = next[all].min(with);
                }
            }
            costs = next;
        }
        let fits = costs.iter().skip(enough);
        best = fits.fold(best, |best, cost| best.min(*cost));
    }
    best - between - first
}

/// With the changes of kits that the foam needs; they may fall on settings and on carts.
fn with_kits(problem: &Problem, tables: &[Vec<Stay>]) -> f64 {
    let times = &problem.times;
    let spray: f64 = problem.spots.iter().map(|spot| spot.spray).sum();
    // A shot that is longer than a kit lasts still takes one kit alone.
    let n_kits = crate::quantity::to_whole((spray / times.kit_lasts - ROUNDING).ceil());
    let n_changes =
        crate::quantity::from_whole(n_kits - 1).clamp(0.0, count(problem.n_shots() - 1));
    if n_changes <= 0.0 {
        return 0.0;
    }
    let carts = times.set_up + times.cart;
    let serial: f64 = tables
        .iter()
        .map(|table| {
            let serials = table.iter().enumerate();
            let costs = serials.map(|(idx, stay)| stay.serial + carts * count(idx));
            costs.min_by(f64::total_cmp).unwrap_or(0.0)
        })
        .sum();
    let runs: usize = tables.iter().map(|table| table.first().map_or(0, |stay| stay.runs)).sum();
    let n_nozzles = longer(n_changes, count(runs.saturating_sub(1)));
    serial
        + carts * count(tables.len() - 1)
        + n_changes * (times.kit_change - times.change)
        + n_nozzles * (times.change + times.nozzle)
}

/// Paths over the shots of a wall, bounded by prices on the holes that make branching dear and
/// ends cheap.
struct Paths {
    places: Vec<[f64; 2]>,
    prices: Vec<f64>,
    set_up: f64,
    per_metre: f64,
    n_rounds: usize,
}

impl Paths {
    fn new(problem: &Problem, wall: &Wall, share: usize) -> Self {
        let n_shots = wall.shots.len();
        let place = |shot: &usize| [problem.spots[*shot].x, problem.spots[*shot].y];
        Self {
            places: wall.shots.iter().map(place).collect(),
            prices: vec![0.0; n_shots],
            set_up: problem.times.set_up,
            per_metre: problem.times.per_metre,
            n_rounds: (share / (n_shots * n_shots + 1)).min(ROUNDS),
        }
    }

    /// The least of all ways, in so many paths; prices are kept for the next number.
    fn least(&mut self, n_paths: usize) -> f64 {
        let n_shots = self.places.len();
        let ways = self.set_up * count(n_shots - n_paths);
        let (mut best, mut degrees) = self.forest(n_paths);
        let mut kept = self.prices.clone();
        let mut step = 0.25 * best / count(n_shots);
        for _ in 0..self.n_rounds {
            let mut loose = false;
            for (price, degree) in self.prices.iter_mut().zip(&degrees) {
                *price += step * (degree - 2.0);
                loose |= degree.total_cmp(&2.0).is_ne();
            }
            if !loose {
                break;
            }
            let (found, next) = self.forest(n_paths);
            if best < found {
                best = found;
                kept.clone_from(&self.prices);
            } else {
                step *= 0.9;
            }
            degrees = next;
        }
        self.prices = kept;
        ways + longer(best, 0.0)
    }

    /// The cheapest forest of so many trees by the prices, less what the prices paid; and the
    /// degree of every shot, where the cheapest of them are ends.
    fn forest(&self, n_trees: usize) -> (f64, Vec<f64>) {
        let n_shots = self.places.len();
        let mut edges = self.tree();
        crate::order::sort_by(&mut edges, |a, b| a.0.total_cmp(&b.0));
        edges.truncate(n_shots - n_trees);
        let mut degrees = vec![0.0; n_shots];
        let mut sum = 0.0;
        for (length, a, b) in &edges {
            sum += length;
            degrees[*a] += 1.0;
            degrees[*b] += 1.0;
        }
        let mut by_price: Vec<usize> = (0..n_shots).collect();
        crate::order::sort_by(&mut by_price, |a, b| self.prices[*a].total_cmp(&self.prices[*b]));
        for shot in by_price.into_iter().take(n_trees) {
            sum += 2.0 * self.prices[shot];
            degrees[shot] += 2.0;
        }
        (sum - 2.0 * self.prices.iter().sum::<f64>(), degrees)
    }

    /// The cheapest tree over all shots: Prim's.
    fn tree(&self) -> Vec<(f64, usize, usize)> {
        let n_shots = self.places.len();
        let mut edges = Vec::with_capacity(n_shots);
        let mut least = vec![(f64::INFINITY, 0); n_shots];
        let mut open: Vec<usize> = (1..n_shots).collect();
        let mut last = 0;
        while !open.is_empty() {
            let mut best = (f64::INFINITY, 0);
            for (at, &shot) in open.iter().enumerate() {
                let [x, y] = self.places[last];
                let [other_x, other_y] = self.places[shot];
                let (across, up) = (x - other_x, y - other_y);
                let way = (across * across + up * up).sqrt() * self.per_metre
                    + self.prices[last]
                    + self.prices[shot];
                if way < least[shot].0 {
                    least[shot] = (way, last);
                }
                if least[shot].0 < best.0 {
                    best = (least[shot].0, at);
                }
            }
            let shot = open.swap_remove(best.1);
            edges.push((least[shot].0, least[shot].1, shot));
            last = shot;
        }
        edges
    }
}
