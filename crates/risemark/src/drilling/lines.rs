//! The heights of the holes: as few holes as can be, then as few snap lines, then even distances.
//!
//! A chain of a column is its holes from the bottom up: the lowest at most one distance above the
//! bottom, the next at most one distance apart, the last in the window under the top.

use std::collections::BTreeMap;

use crate::drilling::legal::Column;

/// Columns that may have holes at just the same rows.
#[derive(Debug, Clone)]
struct Kind<'a> {
    /// One of them stands for all.
    column: &'a Column,
    /// The fewest holes that fill it.
    n_holes: usize,
    /// For each hole the lowest and the highest row it can have in a shortest chain.
    levels: Vec<(i64, i64)>,
    /// How many columns are of the kind.
    n_columns: usize,
}

/// Chooses the rows of the holes of every column.
///
/// Each chain has the fewest holes that fill its column. `None` where no chain does.
pub(super) fn choose(columns: &[Column]) -> Vec<Option<Vec<i64>>> {
    let (kinds, of_column) = kinds(columns);
    let starts = [from_below(&kinds), from_above(&kinds), each_highest(&kinds)];
    let pruned = starts.into_iter().map(|lines| without_superfluous(&kinds, lines));
    let lines = pruned.min_by_key(Vec::len).unwrap_or_default();
    let lines = evened(&kinds, lines);
    let chains: Vec<Option<Vec<i64>>> = kinds.iter().map(|kind| chain_on(kind, &lines)).collect();
    of_column.into_iter().map(|kind| kind.and_then(|kind| chains[kind].clone())).collect()
}

/// The shortest chain of a column by the furthest reach: each hole as high as the one below allows.
///
/// # Errors
/// Where the foam stops: the height reached, and the height up to which a hole was looked for.
pub(super) fn shortest(column: &Column) -> Result<Vec<i64>, (i64, i64)> {
    let mut rows = Vec::new();
    let (mut floor, mut limit) = (column.first, column.start);
    loop {
        let Some(row) = column.highest(floor, limit) else {
            return Err((floor, limit));
        };
        rows.push(row);
        if column.window <= row {
            return Ok(rows);
        }
        (floor, limit) = (row + 1, row + column.spread);
    }
}

fn kinds(columns: &[Column]) -> (Vec<Kind<'_>>, Vec<Option<usize>>) {
    let mut kinds: Vec<Kind<'_>> = Vec::new();
    let mut seen: BTreeMap<(Vec<bool>, [i64; 4]), usize> = BTreeMap::new();
    let mut of_column = Vec::with_capacity(columns.len());
    for column in columns {
        let legal = column.across.iter().map(Option::is_some).collect();
        let key = (legal, [column.first, column.window, column.start, column.spread]);
        if let Some(&known) = seen.get(&key) {
            kinds[known].n_columns += 1;
            of_column.push(Some(known));
            continue;
        }
        let Ok(highest) = shortest(column) else {
            of_column.push(None);
            continue;
        };
        seen.insert(key, kinds.len());
        of_column.push(Some(kinds.len()));
        let levels = levels(column, &highest);
        kinds.push(Kind { column, n_holes: highest.len(), levels, n_columns: 1 });
    }
    (kinds, of_column)
}

/// Backward from the window: the lowest row of each hole from which the rest still reaches the top.
fn levels(column: &Column, highest: &[i64]) -> Vec<(i64, i64)> {
    let mut lowest = column.window;
    let mut levels: Vec<(i64, i64)> = highest
        .iter()
        .rev()
        .map(|&high| {
            let low = column.lowest(lowest, high).unwrap_or(high);
            lowest = low - column.spread;
            (low, high)
        })
        .collect();
    levels.reverse();
    levels
}

/// Stabs the windows of the next holes from the bottom up, each as high as the most pressing allows.
fn from_below(kinds: &[Kind<'_>]) -> Vec<i64> {
    let mut chains: Vec<Vec<i64>> = vec![Vec::new(); kinds.len()];
    let mut lines = Vec::new();
    loop {
        let open = |idx: usize| {
            let (kind, chain) = (&kinds[idx], &chains[idx]);
            let &(low, high) = kind.levels.get(chain.len())?;
            let reach = chain.last().map_or(kind.column.start, |last| last + kind.column.spread);
            let low = chain.last().map_or(low, |last| low.max(last + 1));
            Some((idx, low, kind.column.highest(low, high.min(reach))?))
        };
        let windows: Vec<(usize, i64, i64)> = (0..kinds.len()).filter_map(open).collect();
        let Some(line) = windows.iter().map(|&(_, _, high)| high).min() else {
            return lines;
        };
        for &(idx, low, _) in &windows {
            if low <= line && kinds[idx].column.legal(line) {
                chains[idx].push(line);
            }
        }
        lines.push(line);
    }
}

/// Stabs the windows of the last holes from the top down, each as low as the most pressing allows.
fn from_above(kinds: &[Kind<'_>]) -> Vec<i64> {
    let mut chains: Vec<Vec<i64>> = vec![Vec::new(); kinds.len()];
    let mut lines = Vec::new();
    loop {
        let open = |idx: usize| {
            let (kind, chain) = (&kinds[idx], &chains[idx]);
            let next = kind.n_holes.checked_sub(chain.len() + 1)?;
            let &(low, high) = kind.levels.get(next)?;
            let reach = chain.last().map_or(kind.column.window, |last| last - kind.column.spread);
            let high = chain.last().map_or(high, |last| high.min(last - 1));
            Some((idx, kind.column.lowest(low.max(reach), high)?, high))
        };
        let windows: Vec<(usize, i64, i64)> = (0..kinds.len()).filter_map(open).collect();
        let Some(line) = windows.iter().map(|&(_, low, _)| low).max() else {
            return lines;
        };
        for &(idx, _, high) in &windows {
            if line <= high && kinds[idx].column.legal(line) {
                chains[idx].push(line);
            }
        }
        lines.push(line);
    }
}

fn each_highest(kinds: &[Kind<'_>]) -> Vec<i64> {
    let mut lines: Vec<i64> =
        kinds.iter().flat_map(|kind| kind.levels.iter().map(|&(_, high)| high)).collect();
    lines.sort_unstable();
    lines.dedup();
    lines
}

fn without_superfluous(kinds: &[Kind<'_>], mut lines: Vec<i64>) -> Vec<i64> {
    lines.sort_unstable();
    lines.dedup();
    // Lines that serve few columns are the likeliest to be spared.
    let mut order = lines.clone();
    let uses = |line: i64| -> usize {
        let used = kinds
            .iter()
            .filter(|kind| kind.levels.iter().any(|&(low, high)| low <= line && line <= high));
        used.map(|kind| kind.n_columns).sum()
    };
    order.sort_by_key(|&line| (uses(line), line));
    for line in order {
        let rest: Vec<i64> = lines.iter().copied().filter(|&other| other != line).collect();
        if kinds.iter().all(|kind| chain_on(kind, &rest).is_some()) {
            lines = rest;
        }
    }
    lines
}

/// Moves single lines as long as that makes the distances more even.
fn evened(kinds: &[Kind<'_>], mut lines: Vec<i64>) -> Vec<i64> {
    let mut cost = unevenness(kinds, &lines);
    for _ in 0..MOST_ROUNDS {
        let before = cost;
        for idx in 0..lines.len() {
            for shift in [-16, -4, -1, 1, 4, 16] {
                let mut moved = lines.clone();
                moved[idx] += shift;
                if moved.iter().filter(|&&line| line == moved[idx]).count() == 1 {
                    let moved_cost = unevenness(kinds, &moved);
                    if moved_cost < cost {
                        (lines, cost) = (moved, moved_cost);
                    }
                }
            }
        }
        if before == cost {
            break;
        }
    }
    lines
}

/// Enough for lines to come to rest; a bound so that no wall can take long.
const MOST_ROUNDS: usize = 40;

/// How far the holes lie from even distances, in rows times the holes of each kind; `i64::MAX` when a kind has no chain.
fn unevenness(kinds: &[Kind<'_>], lines: &[i64]) -> i64 {
    let mut sorted = lines.to_vec();
    sorted.sort_unstable();
    let mut sum = 0;
    for kind in kinds {
        let Some((_, cost)) = best_chain(kind, &sorted) else {
            return i64::MAX;
        };
        sum += cost * i64::try_from(kind.n_columns).unwrap_or(1);
    }
    sum
}

fn chain_on(kind: &Kind<'_>, lines: &[i64]) -> Option<Vec<i64>> {
    let mut sorted = lines.to_vec();
    sorted.sort_unstable();
    best_chain(kind, &sorted).map(|(chain, _)| chain)
}

/// The most even chain of a kind on given lines, with its cost; a shortest path over the lines.
fn best_chain(kind: &Kind<'_>, sorted: &[i64]) -> Option<(Vec<i64>, i64)> {
    let column = kind.column;
    // The best chain that ends at each line after k holes: its cost and its line before.
    let mut ends: Vec<Vec<Option<(i64, usize)>>> = Vec::with_capacity(kind.n_holes);
    for (hole, &(low, high)) in kind.levels.iter().enumerate() {
        let wanted = even_row(kind, hole);
        let fits = |line: i64| low <= line && line <= high && column.legal(line);
        let at = |idx: usize| -> Option<(i64, usize)> {
            let line = sorted[idx];
            if !fits(line) {
                return None;
            }
            let own = (line * 2 - wanted).abs();
            if hole == 0 {
                return Some((own, 0));
            }
            let below = (0..idx).rev().take_while(|&before| line - column.spread <= sorted[before]);
            let best = below
                .filter_map(|before| ends[hole - 1][before].map(|(cost, _)| (cost, before)))
                .min();
            best.map(|(cost, before)| (cost + own, before))
        };
        let row: Vec<_> = (0..sorted.len()).map(at).collect();
        ends.push(row);
    }
    let last = ends.last()?;
    let (cost, mut idx) =
        (0..sorted.len()).filter_map(|idx| last[idx].map(|(cost, _)| (cost, idx))).min()?;
    let mut chain = Vec::with_capacity(kind.n_holes);
    for hole in (0..kind.n_holes).rev() {
        chain.push(sorted[idx]);
        idx = ends[hole][idx].map_or(0, |(_, before)| before);
    }
    chain.reverse();
    Some((chain, cost))
}

/// Twice the row at which a hole would be for even distances from the bottom to the middle of the top window.
fn even_row(kind: &Kind<'_>, hole: usize) -> i64 {
    let column = kind.column;
    let (bottom, top) = (column.start - column.spread, column.window + column.last_legal());
    let share = i64::try_from(hole + 1).unwrap_or(1);
    let n_holes = i64::try_from(kind.n_holes).unwrap_or(1).max(1);
    bottom * 2 + (top - bottom * 2) * share / n_holes
}
