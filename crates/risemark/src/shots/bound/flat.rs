//! What visits last that are together no deeper than the longest columns.
//!
//! Each of the longest columns then gets as many shots in every visit as that is deep, so that it is
//! known which: where one visit ends in the column, the next begins. All shots of the other columns are
//! made in some of these visits, where they take time and fill settings; no column gets more than the
//! visit is deep. How the depths and the number of those shots fall to the visits is chosen at least cost.

use super::{
    super::problem::{Problem, longer},
    WORK, Wall,
    pieces::{Piece, jackson},
    turns::in_turns,
};
use crate::quantity::count;

/// The least that so many visits last together, by their number from one, and then of what they have more
/// than the first kind, of which each next one has one more; nothing where that would be too much work.
pub(super) fn flat(
    problem: &Problem,
    wall: &Wall,
    most_visits: usize,
    kinds: &[Piece<'_>],
) -> Vec<Vec<f64>> {
    let columns = Columns::new(problem, wall);
    let width = columns.sprays.len();
    let n_states = (wall.longest + 1) * width;
    let n_pairs = kinds.len() * (kinds.len() + 1) / 2;
    if WORK < (n_states * n_states / 2 * n_pairs).saturating_mul(most_visits) {
        return Vec::new();
    }
    let offers: Vec<Vec<Offer>> = kinds.iter().map(|kind| columns.offers(*kind)).collect();
    // By how deep the visits so far are, and then by how many shots of other columns they have.
    let none = vec![vec![f64::INFINITY; n_states]; kinds.len()];
    let mut all = none.clone();
    all[0][0] = 0.0;
    let mut lasts = Vec::with_capacity(most_visits);
    for _ in 0..most_visits {
        let mut next = none.clone();
        for (had, before) in all.iter().enumerate() {
            for (next, offers) in next[had..].iter_mut().zip(&offers) {
                add(next, before, offers, width);
            }
        }
        all = next;
        lasts.push(all.iter().map(|least| least[n_states - 1]).collect());
    }
    lasts
}

/// A visit that gives the longest columns their shots from one step up to another.
struct Offer {
    from: usize,
    to: usize,
    /// What it lasts at least, by how many shots of other columns are made in it.
    lasts: Vec<f64>,
}

/// The columns of a wall.
struct Columns<'a> {
    problem: &'a Problem,
    wall: &'a Wall,
    /// The longest.
    long: Vec<&'a Vec<usize>>,
    others: Vec<&'a Vec<usize>>,
    /// What the shortest shots of the others take together, by their number from none.
    sprays: Vec<f64>,
}

impl<'a> Columns<'a> {
    fn new(problem: &'a Problem, wall: &'a Wall) -> Self {
        let is_long = |column: &&Vec<usize>| column.len() == wall.longest;
        let (long, others): (Vec<_>, Vec<_>) = wall.columns.iter().partition(is_long);
        let shots = others.iter().copied().flatten();
        let mut sprays: Vec<f64> = shots.map(|shot| problem.spots[*shot].spray).collect();
        crate::order::sort_numbers(&mut sprays);
        let sums = sprays.iter().scan(0.0, |sum, spray| {
            *sum += spray;
            Some(*sum)
        });
        let sprays = std::iter::once(0.0).chain(sums).collect();
        Self { problem, wall, long, others, sprays }
    }

    fn offers(&self, kind: Piece<'_>) -> Vec<Offer> {
        let longest = self.wall.longest;
        let steps = (0..longest).flat_map(|from| (from + 1..=longest).map(move |to| (from, to)));
        steps.map(|(from, to)| self.offer(kind, (from, to))).collect()
    }

    fn offer(&self, kind: Piece<'_>, steps: (usize, usize)) -> Offer {
        let depth = steps.1 - steps.0;
        let long: Vec<Vec<usize>> =
            self.long.iter().map(|column| column[steps.0..steps.1].to_vec()).collect();
        let visit = Visit::new(self, long, depth);
        let most: usize = self.others.iter().map(|column| column.len().min(depth)).sum();
        let lasts = (0..=most).map(|n_others| {
            // Of so many shots, some columns have as many as the visit is deep.
            let shallow = self.others.iter().map(|column| column.len().min(depth - 1));
            let fewest = n_others.saturating_sub(shallow.sum());
            let n_full = fewest..=visit.n_able.min(n_others / depth);
            n_full.map(|n_full| visit.lasts(kind, n_others, n_full)).fold(f64::INFINITY, f64::min)
        });
        Offer { from: steps.0, to: steps.1, lasts: lasts.collect() }
    }
}

/// A visit that gives all of the longest columns as many shots.
struct Visit<'a> {
    columns: &'a Columns<'a>,
    depth: usize,
    long: Vec<Vec<usize>>,
    /// What the longest columns take.
    work: f64,
    /// What they take with waiting, whatever the others do.
    waits: f64,
    /// What they take when they take turns.
    turns: f64,
    /// How many other columns have as many shots.
    n_able: usize,
    /// The least that the first shots of the longest columns take, and what has to follow upon them.
    firsts: f64,
    follows: f64,
    /// The shortest shot of the other columns.
    shortest: f64,
}

impl<'a> Visit<'a> {
    fn new(columns: &'a Columns<'a>, long: Vec<Vec<usize>>, depth: usize) -> Self {
        let spray = |shot: &usize| columns.problem.spots[*shot].spray;
        let shots: Vec<usize> = long.iter().flatten().copied().collect();
        let work = shots.iter().map(spray).sum();
        let alone = Wall { longest: depth, way: columns.wall.way, work, columns: long, shots };
        let waits = jackson(columns.problem, &alone, 1);
        let shortest = columns.sprays.get(1).copied();
        let next = shortest.unwrap_or(f64::INFINITY);
        let turns = in_turns(columns.problem, columns.wall.way, &alone.columns, next);
        let long = alone.columns;
        let setting = columns.problem.times.setting;
        let follows = long
            .iter()
            .map(|column| column[1..].iter().map(|shot| spray(shot) + setting).sum::<f64>());
        Self {
            firsts: long.iter().map(|column| spray(&column[0])).sum(),
            follows: follows.fold(f64::INFINITY, f64::min),
            shortest: shortest.unwrap_or(0.0),
            n_able: columns.others.iter().filter(|column| depth <= column.len()).count(),
            columns,
            depth,
            long,
            work,
            waits,
            turns,
        }
    }

    /// What it lasts at least with so many shots of other columns, of which some get as many as the longest.
    fn lasts(&self, kind: Piece<'_>, n_others: usize, n_full: usize) -> f64 {
        let Columns { wall, others, sprays, .. } = self.columns;
        let n_given = self.long.len() * self.depth;
        let serial = self.work + sprays[n_others] + wall.way * count(n_given + n_others - 1);
        // Others with as many shots take their turns too.
        let turns = self.turns + count(n_full) * (wall.way + self.shortest);
        let least = longer(longer(serial, self.waits), longer(turns, self.begun(n_full)));
        let Piece::Runs(filling, n_runs) = kind else { return least };
        let able = others.iter().copied().filter(|column| 0 < n_full && self.depth <= column.len());
        let given: Vec<&Vec<usize>> = self.long.iter().chain(able).collect();
        let left = [others.len() - n_full, n_others - n_full * self.depth];
        let steps = (self.depth - 1, n_runs);
        longer(least, filling.length_of_all(&given, steps, &filling.others(), left))
    }

    /// What it lasts at least when the last column to begin waits for the first shots of the others.
    fn begun(&self, n_full: usize) -> f64 {
        let Columns { problem, wall, .. } = self.columns;
        let follows = count(self.depth - 1) * (problem.times.setting + self.shortest);
        let follows = if n_full == 0 { self.follows } else { self.follows.min(follows) };
        self.firsts
            + count(n_full) * self.shortest
            + wall.way * count(self.long.len() + n_full - 1)
            + follows
    }
}

/// Lets one more visit follow.
fn add(next: &mut [f64], before: &[f64], offers: &[Offer], width: usize) {
    for offer in offers {
        for had in 0..width {
            let lasted = before[offer.from * width + had];
            if lasted.is_infinite() {
                continue;
            }
            let to = &mut next[offer.to * width + had..(offer.to + 1) * width];
            for (least, lasts) in to.iter_mut().zip(&offer.lasts) {
                *least = least.min(lasted + lasts);
            }
        }
    }
}
