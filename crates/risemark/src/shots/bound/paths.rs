//! The least of all ways at a wall.

use super::{
    super::problem::{Problem, longer},
    Wall,
};
use crate::quantity::count;

/// Rounds in which prices of holes are bettered.
const ROUNDS: usize = 80;

/// Paths over the shots of a wall, bounded by prices on the holes that make branching dear and
/// ends cheap.
pub(super) struct Paths {
    places: Vec<[f64; 2]>,
    prices: Vec<f64>,
    set_up: f64,
    per_metre: f64,
    n_rounds: usize,
}

impl Paths {
    pub(super) fn new(problem: &Problem, wall: &Wall, share: usize) -> Self {
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
    pub(super) fn least(&mut self, n_paths: usize) -> f64 {
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

    /// What every path more than so many saves at most, by the prices as they are: each leaves out a
    /// shorter edge and ends at dearer shots than the one before it.
    pub(super) fn saving(&self, n_paths: usize) -> f64 {
        let n_shots = self.places.len();
        if n_shots <= n_paths {
            return 0.0;
        }
        let mut lengths: Vec<f64> = self.tree().iter().map(|edge| edge.0).collect();
        crate::order::sort_numbers(&mut lengths);
        let mut prices = self.prices.clone();
        crate::order::sort_numbers(&mut prices);
        lengths[n_shots - n_paths - 1] - 2.0 * prices[n_paths]
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
