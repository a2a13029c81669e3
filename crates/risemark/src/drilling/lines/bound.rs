//! How many lines a wall needs at least, whatever is chosen.

use crate::drilling::lines::{kinds::Kind, rows::Rows};

/// Windows that have no row in common each need a line of their own.
///
/// Taken by their upper end, as many as there can be. A window that has a line for nothing counts for none.
pub(super) fn apart(kinds: &[Kind], free: &Rows) -> usize {
    let windows = kinds.iter().flat_map(|kind| kind.levels.iter().map(move |level| (kind, level)));
    let for_nothing =
        |kind: &Kind, (low, high)| kind.legal.lowest_common(free, low, high).is_some();
    let mut windows: Vec<(usize, usize)> = windows
        .filter(|(kind, level)| !for_nothing(kind, (level.low, level.high)))
        .map(|(_, level)| (level.high, level.low))
        .collect();
    crate::order::sort(&mut windows);
    let (mut count, mut beyond) = (0, 0);
    for (high, low) in windows {
        if count == 0 || beyond < low {
            (count, beyond) = (count + 1, high);
        }
    }
    count
}

/// A bound by prices.
///
/// Every line costs one and the kinds that use it share the cost. Whatever the shares are, what the
/// kinds pay together for their cheapest chains is never more than the lines of any plan cost; shares
/// that follow the demand raise it (Lagrangian relaxation).
#[derive(Debug, Clone)]
pub(super) struct Prices {
    /// For each kind the lowest row it can use, and its price of each row from there on.
    of_kind: Vec<(usize, Vec<f64>)>,
    best: f64,
    n_rounds: u32,
}

impl Prices {
    /// Equal shares to begin with; rows with a line already cost nothing.
    pub(super) fn new(kinds: &[Kind], free: &Rows, n_rows: usize) -> Self {
        let mut users = vec![0.0_f64; n_rows];
        for kind in kinds {
            kind.usable.iter().for_each(|row| users[row] += 1.0);
        }
        let priced = kinds.iter().map(|kind| {
            let (low, high) = reach(kind);
            let price = |row: usize| match kind.can_use(row) {
                true if !free.contains(row) => 1.0 / users[row],
                _ => 0.0,
            };
            (low, (low..=high).map(price).collect())
        });
        Self { of_kind: priced.collect(), best: 0.0, n_rounds: 0 }
    }

    /// The bound so far.
    pub(super) fn bound(&self) -> usize {
        // A hair is left for the rounding of the sums.
        let whole = (self.best - 1e-6).ceil().max(0.0);
        (0..).take_while(|&count| f64::from(count) < whole).count()
    }

    /// Pays once by the shares as they are, then shifts them towards those who paid.
    pub(super) fn advance(&mut self, kinds: &[Kind], n_rows: usize) {
        let mut total = 0.0;
        let mut sums = vec![0.0_f64; n_rows];
        self.n_rounds += 1;
        let raise = libm::exp(2.0 / libm::sqrt(f64::from(self.n_rounds)));
        for (kind, (low, prices)) in kinds.iter().zip(&mut self.of_kind) {
            let (cost, chain) = cheapest(kind, *low, prices);
            total += cost;
            chain.into_iter().for_each(|row| prices[row - *low] *= raise);
            prices.iter().enumerate().for_each(|(at, price)| sums[*low + at] += price);
        }
        for (low, prices) in &mut self.of_kind {
            for (price, sum) in prices.iter_mut().zip(&sums[*low..]) {
                if 0.0 < *price {
                    *price /= sum;
                }
            }
        }
        self.best = self.best.max(total);
    }
}

fn reach(kind: &Kind) -> (usize, usize) {
    let (first, last) = (kind.levels.first(), kind.levels.last());
    (first.map_or(0, |level| level.low), last.map_or(0, |level| level.high))
}

/// The cheapest chain at given prices: hole by hole, from the cheapest end within reach below.
fn cheapest(kind: &Kind, base: usize, prices: &[f64]) -> (f64, Vec<usize>) {
    let mut holes: Vec<(usize, Vec<(f64, usize)>)> = Vec::with_capacity(kind.levels.len());
    for level in &kind.levels {
        let before = holes.last();
        let mut queue = Queue::default();
        let row_cost = |row: usize| {
            let own = if kind.legal.contains(row) { prices[row - base] } else { f64::INFINITY };
            let Some((low, costs)) = before else {
                return (own, 0);
            };
            queue.admit(*low, costs, row);
            let (cost, from) = queue.least(costs, *low, row.saturating_sub(kind.spread));
            (cost + own, from)
        };
        holes.push((level.low, (level.low..=level.high).map(row_cost).collect()));
    }
    let mut chain = Vec::with_capacity(holes.len());
    let ends = holes.last().map_or(&[][..], |(_, costs)| costs);
    let best = (0..ends.len()).min_by(|&a, &b| ends[a].0.total_cmp(&ends[b].0)).unwrap_or(0);
    let cost = ends.get(best).map_or(0.0, |end| end.0);
    let mut row = holes.last().map_or(0, |(low, _)| low + best);
    for (low, costs) in holes.iter().rev() {
        chain.push(row);
        row = costs[row - low].1;
    }
    (cost, chain)
}

/// The least cost of the rows in reach, as the reach moves up.
#[derive(Debug, Default)]
struct Queue {
    rows: std::collections::VecDeque<usize>,
    next: usize,
}

impl Queue {
    /// Lets in every row below another.
    fn admit(&mut self, low: usize, costs: &[(f64, usize)], below: usize) {
        while low + self.next < below && self.next < costs.len() {
            let cost = costs[self.next].0;
            while self.rows.back().is_some_and(|&row| cost <= costs[row - low].0) {
                self.rows.pop_back();
            }
            self.rows.push_back(low + self.next);
            self.next += 1;
        }
    }

    /// The least cost from a row on, and where it is.
    fn least(&mut self, costs: &[(f64, usize)], low: usize, from: usize) -> (f64, usize) {
        while self.rows.front().is_some_and(|&row| row < from) {
            self.rows.pop_front();
        }
        self.rows.front().map_or((f64::INFINITY, low), |&row| (costs[row - low].0, row))
    }
}
