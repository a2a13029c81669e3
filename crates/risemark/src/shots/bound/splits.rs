//! What visits last by where they part the columns.
//!
//! Of visits that are together no deeper than the longest columns it is known which shots of these each
//! gets. Every other column is parted somehow: its shots follow one another, and no visit gets more of
//! them than it is deep. A visit lasts at least as long as all that is made in it, with the ways; and it
//! lasts at least as long as the longest columns that take turns in it, with a shot of every other column
//! that gets as many. Both are sums over the columns. So whichever of the two stands for each visit, the
//! sum of all visits is no less than where every column is parted as is cheapest for it alone. That holds
//! for the dearest choice of sums, and for the cheapest depths of the visits.

use super::{
    super::problem::{Problem, longer},
    WORK, Wall,
    turns::in_turns,
};
use crate::quantity::count;

/// Up to how many shots in the longest column all depths of visits are tried.
const DEEP: usize = 10;

/// The least that so many visits last together that are no deeper than the longest columns, by their
/// number from one; nothing where that would be too much work.
pub(super) fn by_splits(problem: &Problem, wall: &Wall, most_visits: usize) -> Vec<f64> {
    if DEEP < wall.longest {
        return Vec::new();
    }
    let splits = Splits::new(problem, wall);
    (1..=most_visits).map(|n_visits| splits.least(n_visits)).collect()
}

/// The columns of a wall.
struct Splits<'a> {
    problem: &'a Problem,
    wall: &'a Wall,
    /// The longest.
    long: Vec<&'a Vec<usize>>,
    others: Vec<&'a Vec<usize>>,
}

/// A visit that gives the longest columns their shots from one step up to another.
#[derive(Clone, Copy)]
struct Visit {
    depth: usize,
    sum: Sum,
    /// What the longest columns come to.
    lasts: f64,
}

/// What stands for a visit.
#[derive(Clone, Copy)]
enum Sum {
    /// All that is made in it, with the ways.
    Work,
    /// What the columns with most shots take in turns.
    Turns,
}

impl<'a> Splits<'a> {
    fn new(problem: &'a Problem, wall: &'a Wall) -> Self {
        let is_long = |column: &&Vec<usize>| column.len() == wall.longest;
        let (long, others) = wall.columns.iter().partition(is_long);
        Self { problem, wall, long, others }
    }

    /// The least over all depths of so many visits.
    fn least(&self, n_visits: usize) -> f64 {
        let longest = self.wall.longest;
        let n_parts = 1_usize << (longest - 1);
        let n_choices = 1_usize << n_visits.min(longest.saturating_sub(n_visits));
        let n_shots: usize = self.others.iter().map(|column| column.len()).sum();
        if WORK < (n_parts * n_choices * longest).saturating_mul(n_shots) {
            return 0.0;
        }
        // One bit for every step behind which a visit may end.
        let all = (0..n_parts).filter_map(|ends| {
            let ends = (1..longest).filter(|step| ends & (1 << (step - 1)) != 0).chain([longest]);
            let ends: Vec<usize> = ends.collect();
            (ends.len() == n_visits).then(|| self.dearest(&ends))
        });
        all.fold(f64::INFINITY, f64::min)
    }

    /// What visits last with these ends, by the dearest choice of sums.
    fn dearest(&self, ends: &[usize]) -> f64 {
        let mut choices: Vec<Vec<Visit>> = vec![Vec::new()];
        let mut from = 0;
        for &to in ends {
            let sums: &[Sum] = if to - from == 1 { &[Sum::Work] } else { &[Sum::Work, Sum::Turns] };
            let visit = |sum: &Sum| {
                let lasts = self.lasts(*sum, (from, to));
                Visit { depth: to - from, sum: *sum, lasts }
            };
            let visits: Vec<Visit> = sums.iter().map(visit).collect();
            let more = choices.iter().flat_map(|choice| {
                visits.iter().map(|visit| choice.iter().copied().chain([*visit]).collect())
            });
            choices = more.collect();
            from = to;
        }
        choices.iter().map(|visits| self.sum_of(visits)).fold(0.0, longer)
    }

    fn sum_of(&self, visits: &[Visit]) -> f64 {
        let long: f64 = visits.iter().map(|visit| visit.lasts).sum();
        long + self.others.iter().map(|column| self.parted(column, visits)).sum::<f64>()
    }

    /// What the longest columns come to in a visit that gives them some steps.
    fn lasts(&self, sum: Sum, (from, to): (usize, usize)) -> f64 {
        let (long, way) = (&self.long, self.wall.way);
        let depth = to - from;
        match sum {
            Sum::Work => {
                let shots = long.iter().flat_map(|column| &column[from..to]);
                let work: f64 = shots.map(|shot| self.spray(*shot)).sum();
                work + way * count(long.len() * depth - 1)
            }
            Sum::Turns => {
                let able = self.others.iter().filter(|column| depth <= column.len());
                let shots = able.copied().flatten();
                let shortest = shots.map(|shot| self.spray(*shot)).fold(f64::INFINITY, f64::min);
                let columns: Vec<Vec<usize>> =
                    long.iter().map(|column| column[from..to].to_vec()).collect();
                in_turns(self.problem, way, &columns, shortest)
            }
        }
    }

    /// The least that a column adds to visits, wherever it is parted.
    fn parted(&self, column: &[usize], visits: &[Visit]) -> f64 {
        // By how many of its shots are made.
        let none = vec![f64::INFINITY; column.len() + 1];
        let mut least = none.clone();
        least[0] = 0.0;
        for visit in visits {
            let mut next = none.clone();
            for (had, added) in least.iter().enumerate().filter(|(_, added)| added.is_finite()) {
                for to in had..=column.len().min(had + visit.depth) {
                    next[to] = next[to].min(added + self.adds(&column[had..to], visit));
                }
            }
            least = next;
        }
        least[column.len()]
    }

    /// What shots of a column add to a visit.
    fn adds(&self, shots: &[usize], visit: &Visit) -> f64 {
        let sprays = shots.iter().map(|shot| self.spray(*shot));
        match visit.sum {
            Sum::Work => sprays.sum::<f64>() + self.wall.way * count(shots.len()),
            // It takes its turns with the longest columns.
            Sum::Turns if shots.len() == visit.depth => {
                self.wall.way + sprays.fold(f64::INFINITY, f64::min)
            }
            Sum::Turns => 0.0,
        }
    }

    fn spray(&self, shot: usize) -> f64 {
        self.problem.spots[shot].spray
    }
}
