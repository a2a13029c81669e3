//! What visits last by how deep they go.
//!
//! A visit is as deep as the column that gets most shots in it. All visits together are as deep as the
//! longest column at least, and each column gets less than the depth of a visit only as often as all of
//! them are deeper than it is long. So it is known how often columns are among those that get most, and
//! a visit lasts the longer the more of them there are. Of visits that are together no deeper than the
//! longest columns more is known.

use super::{
    super::problem::{Problem, longer},
    WORK, Wall,
    flat::flat,
    pieces::{Piece, lengths_of_step},
    splits::by_splits,
};

/// The least that visits last together which hold all columns, by the number of visits from one, and then
/// of what they have more than the first kind, of which each next one has one more; nothing where that
/// would be too much work.
pub(super) fn by_depths(
    problem: &Problem,
    wall: &Wall,
    most_visits: usize,
    kinds: &[Piece<'_>],
) -> Vec<Vec<f64>> {
    let n_columns = wall.columns.len();
    let deepest = wall.longest + most_visits;
    let n_counted = n_columns * most_visits + 1;
    let n_kept = kinds.len() * (deepest + 1) * n_counted;
    let n_choices = kinds.len() * wall.longest * n_columns;
    if WORK < n_kept.saturating_mul(n_choices).saturating_mul(most_visits) {
        return Vec::new();
    }
    let lengths = |kind: &Piece<'_>| -> Vec<Vec<f64>> {
        (0..wall.longest).map(|step| lengths_of_step(problem, wall, step, *kind)).collect()
    };
    let lengths: Vec<Vec<Vec<f64>>> = kinds.iter().map(lengths).collect();
    let flat = flat(problem, wall, most_visits, kinds);
    let splits = by_splits(problem, wall, most_visits);
    let none = vec![
        Depths { deepest, least: vec![f64::INFINITY; (deepest + 1) * n_counted] };
        kinds.len()
    ];
    let mut all = none.clone();
    all[0].least[0] = 0.0;
    let mut lasts = Vec::with_capacity(most_visits);
    for n_visits in 1..=most_visits {
        let mut next = none.clone();
        for (had, depths) in all.iter().enumerate() {
            for (next, lengths) in next[had..].iter_mut().zip(&lengths) {
                next.add(depths, lengths);
            }
        }
        all = next;
        let least = all.iter().enumerate().map(|(more, depths)| {
            let [flattest, deeper] = depths.least_of(wall, n_visits);
            let flat = flat.get(n_visits - 1).map_or(0.0, |lasts| lasts[more]);
            let split = splits.get(n_visits - 1).copied().unwrap_or(0.0);
            longer(longer(flattest, flat), split).min(deeper)
        });
        lasts.push(least.collect());
    }
    lasts
}

/// The least that the visits so far last, by how deep they are together and then by how many columns are
/// among those that get most, each counted in every visit.
#[derive(Clone)]
struct Depths {
    deepest: usize,
    least: Vec<f64>,
}

impl Depths {
    /// Lets one more visit follow.
    fn add(&mut self, before: &Self, lengths: &[Vec<f64>]) {
        let n_counted = self.least.len() / (self.deepest + 1);
        let lasted = before.least.iter().enumerate().filter(|(_, lasted)| lasted.is_finite());
        for (at, lasted) in lasted {
            let (depth, counted) = (at / n_counted, at % n_counted);
            for (step, lengths) in lengths.iter().enumerate() {
                let to = (depth + step + 1).min(self.deepest) * n_counted + counted + 1;
                for (least, lasts) in self.least[to..].iter_mut().zip(lengths) {
                    *least = least.min(lasted + lasts);
                }
            }
        }
    }

    /// The least with which so many visits hold all columns: no deeper than the longest, and deeper.
    fn least_of(&self, wall: &Wall, n_visits: usize) -> [f64; 2] {
        let n_counted = self.least.len() / (self.deepest + 1);
        let at_depth = |depth: usize| {
            let n_most = wall.columns.iter().map(|column| {
                // In so many visits it may get less.
                (n_visits + column.len()).saturating_sub(depth)
            });
            let n_most: usize = n_most.map(|n| n.min(n_visits)).sum();
            let held = &self.least[depth * n_counted + n_most..(depth + 1) * n_counted];
            held.iter().copied().fold(f64::INFINITY, f64::min)
        };
        let deeper = (wall.longest + 1..=self.deepest).map(at_depth);
        [at_depth(wall.longest), deeper.fold(f64::INFINITY, f64::min)]
    }
}
