//! How long the work of a wall lasts at least that is made in so many visits or runs.

use super::{
    super::problem::{Problem, longer},
    MANY, ROUNDING, Wall,
    kits::kits_of,
    runs::Filling,
    turns::in_turns,
};
use crate::quantity::count;

/// What the work at a wall falls into.
#[derive(Clone, Copy)]
pub(super) enum Piece<'a> {
    /// Between coming and going.
    Visit,
    /// A visit of so many runs: one fewer of its gaps may be over the idle limit.
    Runs(&'a Filling<'a>, usize),
}

/// The least that all pieces of a wall's work last together, when each is made without going away, by
/// their number from one.
pub(super) fn spreads(
    problem: &Problem,
    wall: &Wall,
    most_pieces: usize,
    piece: Piece<'_>,
) -> Vec<f64> {
    if MANY < wall.shots.len() {
        return (1..=most_pieces).map(|n_pieces| longest_column(problem, wall, n_pieces)).collect();
    }
    let capacities = capacities(problem, wall, most_pieces, &[piece]).into_iter().enumerate();
    let by_lifts = Lifts::new(problem, wall);
    let all = capacities.map(|(at, lasts)| {
        let n_pieces = at + 1;
        longer(longer(jackson(problem, wall, n_pieces), by_lifts.least(n_pieces)), lasts[0])
    });
    let mut all: Vec<f64> = all.collect();
    if let Some(one) = all.first_mut() {
        let is_long = |column: &&Vec<usize>| column.len() == wall.longest;
        let longest: Vec<Vec<usize>> = wall.columns.iter().filter(is_long).cloned().collect();
        *one = longer(*one, in_turns(problem, wall.way, &longest, f64::INFINITY));
    }
    all
}

pub(super) fn longest_column(problem: &Problem, wall: &Wall, n_pieces: usize) -> f64 {
    let lasts = wall.columns.iter().map(|column| {
        let work: f64 = column.iter().map(|shot| problem.spots[*shot].spray).sum();
        work + problem.times.setting * count(column.len().saturating_sub(n_pieces))
    });
    lasts.max_by(f64::total_cmp).unwrap_or(0.0)
}

/// Jackson's bound: of the shots with a long enough way before and after them, all the work between
/// the shortest of both. Pieces follow one another after the shortest way.
pub(super) fn jackson(problem: &Problem, wall: &Wall, n_pieces: usize) -> f64 {
    let jobs = jobs(problem, wall, n_pieces);
    most_loaded(jobs, |_| 0.0) - wall.way * count(n_pieces)
}

/// The same for visits in which kits are changed: shots that take several kits have a change between each
/// two of them, but for those that may be made while going to the wall again.
pub(super) fn with_changes(problem: &Problem, wall: &Wall, n_visits: usize) -> f64 {
    let jobs = jobs(problem, wall, n_visits);
    let changes = |sprayed: f64| {
        let n_kits = kits_of(sprayed, problem.times.kit_lasts);
        problem.times.kit_change * count(n_kits.saturating_sub(n_visits))
    };
    most_loaded(jobs, changes) - wall.way * count(n_visits)
}

/// What comes before each shot, how long it takes with the way after it, what comes then, and how much of
/// a kit it takes.
fn jobs(problem: &Problem, wall: &Wall, n_pieces: usize) -> Vec<[f64; 4]> {
    let given = n_pieces - 1;
    let setting = |n_gaps: usize| {
        let waits = n_gaps.saturating_sub(given);
        problem.times.setting * count(waits)
            + wall.way.min(problem.times.setting) * count(n_gaps - waits)
    };
    let mut jobs: Vec<[f64; 4]> = Vec::with_capacity(wall.shots.len());
    for column in &wall.columns {
        let sprays: Vec<f64> = column.iter().map(|shot| problem.spots[*shot].spray).collect();
        let whole: f64 = sprays.iter().sum();
        let mut before = 0.0;
        for (step, spray) in sprays.iter().enumerate() {
            let head = before + setting(step);
            let tail = whole - before - spray + setting(column.len() - 1 - step);
            jobs.push([head, spray + wall.way, tail, spray.min(problem.times.kit_lasts)]);
            before += spray;
        }
    }
    jobs
}

/// The greatest sum of the least head, all work, what comes on top of it for what is sprayed, and the
/// least tail over all sets of jobs.
fn most_loaded(mut jobs: Vec<[f64; 4]>, more: impl Fn(f64) -> f64) -> f64 {
    crate::order::sort_by(&mut jobs, |a, b| b[0].total_cmp(&a[0]));
    let mut tails: Vec<f64> = jobs.iter().map(|job| job[2]).collect();
    crate::order::sort_numbers(&mut tails);
    tails.dedup();
    let mut most = 0.0;
    for tail in tails {
        let (mut work, mut sprayed) = (0.0, 0.0);
        for job in jobs.iter().filter(|job| tail <= job[2]) {
            work += job[1];
            sprayed += job[3];
            most = longer(most, job[0] + work + more(sprayed) + tail);
        }
    }
    most
}

/// The least that pieces last together which hold all shots: to give several columns as many shots
/// each, the last of them to begin has to wait for the first shots of the others, and then for
/// every setting. By the number of pieces from one, and then of what they have more than the first
/// kind, of which each next one has one more.
pub(super) fn capacities(
    problem: &Problem,
    wall: &Wall,
    most_pieces: usize,
    kinds: &[Piece<'_>],
) -> Vec<Vec<f64>> {
    let n_shots = wall.shots.len();
    let offers: Vec<Vec<(usize, f64)>> =
        kinds.iter().map(|kind| offers(problem, wall, *kind)).collect();
    // For each number of shots, the least that the pieces so far last.
    let none = vec![vec![f64::INFINITY; n_shots + 1]; kinds.len()];
    let mut least = none.clone();
    least[0][0] = 0.0;
    let mut lasts = Vec::with_capacity(most_pieces);
    for _ in 0..most_pieces {
        let mut next = none.clone();
        for (had, least) in least.iter().enumerate() {
            for (next, offers) in next[had..].iter_mut().zip(&offers) {
                add(next, least, offers);
            }
        }
        least = next;
        lasts.push(least.iter().map(|least| least[n_shots]).collect());
    }
    lasts
}

/// Lets one more piece follow, by the number of shots that are made.
fn add(next: &mut [f64], least: &[f64], offers: &[(usize, f64)]) {
    let n_shots = least.len() - 1;
    for (made, lasted) in least.iter().enumerate().filter(|(_, lasted)| lasted.is_finite()) {
        for (holds, lasts) in offers {
            let all = n_shots.min(made + holds);
            next[all] = next[all].min(lasted + lasts);
        }
    }
}

/// What pieces last by how often they go over the wall.
///
/// A piece has as many lifts as the column that gets most in it. A column can miss a lift only where all
/// pieces together have more of them than it has shots; in all other pieces it is among those that get
/// most. The last of these to begin waits for the first shots of the others, and then for every setting.
struct Lifts {
    /// For each column what its shortest shots take together, by their number from none.
    shortest: Vec<Vec<f64>>,
    /// How many shots the longest column has.
    longest: usize,
    /// A setting and the shot after it.
    lift: f64,
    way: f64,
}

impl Lifts {
    fn new(problem: &Problem, wall: &Wall) -> Self {
        let mut shortest_spray = f64::INFINITY;
        let shortest = wall.columns.iter().map(|column| {
            let mut sprays: Vec<f64> =
                column.iter().map(|shot| problem.spots[*shot].spray).collect();
            crate::order::sort_numbers(&mut sprays);
            shortest_spray = shortest_spray.min(sprays[0]);
            let sums = sprays.iter().scan(0.0, |sum, spray| {
                *sum += spray;
                Some(*sum)
            });
            std::iter::once(0.0).chain(sums).collect()
        });
        let shortest: Vec<Vec<f64>> = shortest.collect();
        let longest = shortest.iter().map(Vec::len).max().unwrap_or(1) - 1;
        Self { shortest, longest, lift: problem.times.setting + shortest_spray, way: wall.way }
    }

    /// The least that so many pieces last together.
    fn least(&self, n_pieces: usize) -> f64 {
        // With more lifts than this every column may miss one in every piece.
        let enough = self.longest + n_pieces;
        let all = (self.longest.max(n_pieces)..=enough).map(|n_lifts| {
            let (mut n_firsts, mut firsts) = (0, 0.0);
            for sums in &self.shortest {
                let missed = n_lifts + 1 - sums.len();
                let n = n_pieces.saturating_sub(missed);
                n_firsts += n;
                firsts += sums[n];
            }
            let ways = self.way * count(n_firsts.saturating_sub(n_pieces));
            firsts + ways + self.lift * count(n_lifts - n_pieces)
        });
        all.fold(f64::INFINITY, f64::min)
    }
}

/// How many shots a piece can hold, and how long it then lasts, where that changes.
fn offers(problem: &Problem, wall: &Wall, piece: Piece<'_>) -> Vec<(usize, f64)> {
    let spray = |shot: &usize| problem.spots[*shot].spray;
    let mut all: Vec<f64> = wall.shots.iter().map(spray).collect();
    crate::order::sort_numbers(&mut all);
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
    crate::order::sort_numbers(&mut lengths);
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
pub(super) fn lengths_of_step(
    problem: &Problem,
    wall: &Wall,
    step: usize,
    piece: Piece<'_>,
) -> Vec<f64> {
    let most_shots = |idx: usize| match piece {
        Piece::Visit => wall.longest,
        Piece::Runs(filling, n_runs) => filling.most_shots(idx, n_runs),
    };
    let columns = wall.columns.iter().enumerate();
    let columns: Vec<&Vec<usize>> = columns
        .filter(|(idx, column)| step < column.len().min(most_shots(*idx)))
        .map(|(_, column)| column)
        .collect();
    let mut given: Vec<Given> =
        columns.iter().map(|column| Given::new(problem, column, step)).collect();
    crate::order::sort_by(&mut given, |a, b| a.first.total_cmp(&b.first));
    let spaced = match piece {
        Piece::Visit => vec![0.0; columns.len()],
        Piece::Runs(filling, n_runs) => filling.lengths(&columns, step, n_runs),
    };
    let mut lengths: Vec<f64> = Vec::new();
    let mut firsts = 0.0;
    // The column that takes least beyond its first shot, of those that are among the first.
    let mut least_beyond = f64::INFINITY;
    for (at, column) in given.iter().enumerate() {
        // The last column to begin waits for the first shots of the others.
        firsts += column.first;
        least_beyond = least_beyond.min(column.lasts - column.first);
        let among = firsts + least_beyond;
        let others = given[at..].iter().map(|last| firsts - column.first + last.lasts);
        let begun = others.fold(among, f64::min) + wall.way * count(at);
        let length = longer(begun, spaced[at]);
        lengths.push(lengths.last().map_or(length, |last| longer(*last, length)));
    }
    lengths
}

/// A column that gets some shots in a piece.
struct Given {
    /// The least that the first of them lasts.
    first: f64,
    /// The least that all of them last, with the settings between.
    lasts: f64,
}

impl Given {
    fn new(problem: &Problem, column: &[usize], step: usize) -> Self {
        let windows = || column.windows(step + 1);
        let spray = |shot: &usize| problem.spots[*shot].spray;
        let firsts = windows().map(|shots| spray(&shots[0]));
        let sprays = windows().map(|shots| shots.iter().map(spray).sum());
        Self {
            first: firsts.fold(f64::INFINITY, f64::min),
            lasts: sprays.fold(f64::INFINITY, f64::min) + problem.times.setting * count(step),
        }
    }
}
