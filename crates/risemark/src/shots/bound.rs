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
//! A run is like a visit, but its gaps are at most the idle limit: the settings in it must be filled,
//! which bounds the number of runs from below and makes each last longer. Whatever the visits, the
//! end is no sooner than Jackson's bound of all columns together.

use super::problem::{Problem, longer};
use crate::quantity::count;

/// Rounds in which prices of holes are bettered, and the work all of them may take.
const ROUNDS: usize = 80;
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
    let most_visits = walls.iter().map(|wall| wall.longest).max().unwrap_or(1);
    let n_tables: usize = walls.iter().map(|wall| most_visits.min(wall.shots.len())).sum();
    let share = WORK / n_tables.max(1);
    let tables: Vec<Table> = walls
        .iter()
        .map(|wall| Table::new(problem, wall, most_visits.min(wall.shots.len()), share))
        .collect();
    let end = end_of_columns(problem, &walls);
    let by_visits = if tables.len() <= WALLS {
        visits(problem, &tables, end)
    } else {
        each_wall(problem, &tables, end)
    };
    let best = longer(by_visits, with_kits(problem, &tables));
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

/// What a wall takes at least.
struct Table {
    /// Work and ways, by the number of visits from one.
    serials: Vec<f64>,
    /// The least number of runs.
    fewest: usize,
    /// The least stay by the number of visits, and then of runs, each from one; never for fewer runs
    /// than there can be.
    stays: Vec<Vec<f64>>,
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
        let times = &problem.times;
        let n_shots = wall.shots.len();
        let mut paths = Paths::new(problem, wall, share);
        let serials: Vec<f64> =
            (1..=most_visits).map(|n_visits| wall.work + paths.least(n_visits)).collect();
        let visits: Vec<f64> =
            (1..=most_visits).map(|n| spread(problem, wall, n, Piece::Visit)).collect();
        if !problem.carts_cost_a_nozzle() {
            let stays = serials.iter().zip(&visits).map(|(a, b)| vec![longer(*a, *b)]).collect();
            return Self { serials, fewest: 0, stays };
        }
        let most_runs = most_visits.max(wall.longest).min(n_shots);
        let runs: Vec<f64> =
            (1..=most_runs).map(|n| spread(problem, wall, n, Piece::Run)).collect();
        let fewest = fewest_runs(problem, wall, &runs);
        let gap = longer(wall.way + times.change, times.idle);
        let stay = |n_visits: usize, n_runs: usize| {
            if n_runs < n_visits.max(fewest) {
                return f64::INFINITY;
            }
            let more = count(n_runs - n_visits);
            let serial = serials[n_visits - 1] + more * times.change;
            let in_runs = runs[n_runs.min(most_runs) - 1] + more * gap;
            longer(longer(serial, in_runs), visits[n_visits - 1])
        };
        let most_runs = most_runs.max(fewest);
        let stays = (1..=most_visits)
            .map(|n_visits| (1..=most_runs).map(|n_runs| stay(n_visits, n_runs)).collect())
            .collect();
        Self { serials, fewest, stays }
    }
}

/// What the work at a wall falls into.
#[derive(Clone, Copy, PartialEq)]
enum Piece {
    /// Between coming and going.
    Visit,
    /// Without a gap over the idle limit.
    Run,
}

/// The least that all pieces of a wall's work last together, when each is made without going away.
fn spread(problem: &Problem, wall: &Wall, n_pieces: usize, piece: Piece) -> f64 {
    if MANY < wall.shots.len() {
        return longest_column(problem, wall, n_pieces);
    }
    longer(jackson(problem, wall, n_pieces), capacity(problem, wall, n_pieces, piece))
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
    jackson(problem, &all, 1)
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
fn capacity(problem: &Problem, wall: &Wall, n_pieces: usize, piece: Piece) -> f64 {
    let n_shots = wall.shots.len();
    let offers = offers(problem, wall, piece);
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
fn offers(problem: &Problem, wall: &Wall, piece: Piece) -> Vec<(usize, f64)> {
    let spray = |shot: &usize| problem.spots[*shot].spray;
    let mut all: Vec<f64> = wall.shots.iter().map(spray).collect();
    all.sort_by(f64::total_cmp);
    let work: Vec<f64> = all
        .iter()
        .scan(-wall.way, |sum, spray| {
            *sum += spray + wall.way;
            Some(*sum)
        })
        .collect();
    let steps: Vec<Vec<f64>> =
        (0..wall.longest).map(|step| lengths_of_step(problem, wall, step, piece)).collect();
    let mut lengths: Vec<f64> = work.iter().chain(steps.iter().flatten()).copied().collect();
    lengths.sort_by(f64::total_cmp);
    let fits =
        |ends: &[f64], length: f64| ends.partition_point(|end| *end <= length + ROUNDING / 10.0);
    let mut offers: Vec<(usize, f64)> = Vec::new();
    for length in lengths {
        let by_columns: usize = steps.iter().map(|step| fits(step, length)).sum();
        let held = by_columns.min(fits(&work, length));
        if offers.last().is_none_or(|(most, _)| *most < held) {
            offers.push((held, length));
        }
    }
    offers
}

/// How long a piece lasts at least that gives one column, two columns and so on a shot of some step,
/// counted from zero.
fn lengths_of_step(problem: &Problem, wall: &Wall, step: usize, piece: Piece) -> Vec<f64> {
    let spray = |shot: &usize| problem.spots[*shot].spray;
    let idle = problem.times.idle;
    let least = |column: &Vec<usize>| column.iter().map(spray).min_by(f64::total_cmp);
    let most = |column: &Vec<usize>| column.iter().map(spray).max_by(f64::total_cmp);
    let mut firsts: Vec<f64> = wall.columns.iter().filter_map(least).collect();
    firsts.sort_by(f64::total_cmp);
    let mut longest: Vec<f64> = wall.columns.iter().filter_map(most).collect();
    longest.sort_by(|a, b| b.total_cmp(a));
    let shortest = firsts.first().copied().unwrap_or(0.0);
    let cycle = problem.times.setting + shortest;
    let n_columns = wall.columns.iter().filter(|column| step < column.len()).count();
    let mut before = 0.0;
    let mut lengths: Vec<f64> = Vec::new();
    for n_given in 1..=n_columns {
        // The last column to begin waits for the first shots of the others.
        let begun = before + firsts[n_given - 1];
        before = begun + wall.way;
        // In a run nothing but first shots of the other columns stands between its first shot and the
        // first second shot of any column, which a setting holds back; so it cannot be early.
        let others = wall.columns.len() - n_given;
        let between: f64 = longest.iter().take(others).map(|spray| spray + idle).sum();
        let held_back = match piece {
            Piece::Run if 0 < step => cycle - idle - between,
            Piece::Run | Piece::Visit => 0.0,
        };
        let length = longer(begun, held_back) + cycle * count(step);
        lengths.push(lengths.last().map_or(length, |last| longer(*last, length)));
    }
    lengths
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
    let fewest: usize = tables.iter().map(|table| table.fewest).sum();
    let by_end = end + nozzle * count(fewest.saturating_sub(1));
    longer(costs.sum::<f64>() - between - nozzle, by_end)
}

/// With the changes of kits that the foam needs; they may fall on settings and on carts.
fn with_kits(problem: &Problem, tables: &[Table]) -> f64 {
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
            let serials = table.serials.iter().enumerate();
            let costs = serials.map(|(idx, serial)| serial + carts * count(idx));
            costs.min_by(f64::total_cmp).unwrap_or(0.0)
        })
        .sum();
    let runs: usize = tables.iter().map(|table| table.fewest).sum();
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
