//! The heights of the holes: as few holes as can be, then as few snap lines, then even distances.
//!
//! A chain of a column is its holes from the bottom up: the lowest at most one distance above the
//! bottom, the next at most one distance apart, the last in the window under the top.

use crate::drilling::legal::Column;

/// Columns that may have holes at just the same rows.
#[derive(Debug, Clone)]
struct Kind<'a> {
    /// One of them stands for all.
    column: &'a Column,
    /// The fewest holes that fill it.
    n_holes: usize,
    /// For each hole the rows it can have in a shortest chain.
    levels: Vec<Level>,
    /// How many columns are of the kind.
    n_columns: usize,
}

/// The rows that one hole of a shortest chain can have.
#[derive(Debug, Clone, Copy)]
struct Level {
    low: i64,
    high: i64,
    /// Twice the row at which it would be for even distances from the bottom to the middle of the top window.
    even: i64,
}

/// The best chain that ends on a line.
#[derive(Debug, Clone, Copy)]
struct End {
    line: i64,
    /// How far its holes lie from even distances.
    cost: i64,
    /// The position of the end that it goes on from, among those of the hole below.
    below: usize,
}

impl Kind<'_> {
    /// Whether a hole of a shortest chain can be on a line.
    fn can_use(&self, line: i64) -> bool {
        let in_level = |level: &Level| level.low <= line && line <= level.high;
        self.levels.iter().any(in_level) && self.column.legal(line)
    }

    /// For each hole the lines it can be on, from the bottom up; `None` when no chain fits the lines.
    fn ends(&self, sorted: &[i64]) -> Option<Vec<Vec<End>>> {
        let mut ends: Vec<Vec<End>> = Vec::with_capacity(self.n_holes);
        for level in &self.levels {
            let from = sorted.partition_point(|&line| line < level.low);
            let to = sorted.partition_point(|&line| line <= level.high);
            let legal = sorted[from..to.max(from)].iter().filter(|&&line| self.column.legal(line));
            let at = |&line: &i64| self.end(ends.last().map(Vec::as_slice), line, level.even);
            let row: Vec<End> = legal.filter_map(at).collect();
            if row.is_empty() {
                return None;
            }
            ends.push(row);
        }
        (!ends.is_empty()).then_some(ends)
    }

    /// The best chain that ends on a line, from those of the hole below; `None` when none reaches it.
    fn end(&self, below: Option<&[End]>, line: i64, even: i64) -> Option<End> {
        let own = (line * 2 - even).abs();
        let Some(below) = below else {
            return Some(End { line, cost: own, below: 0 });
        };
        let reaches = |end: &End| line - self.column.spread <= end.line && end.line < line;
        let near = below.iter().enumerate().filter(|(_, end)| reaches(end));
        let (cost, below) = near.map(|(idx, end)| (end.cost, idx)).min()?;
        Some(End { line, cost: cost + own, below })
    }

    /// The most even chain on given lines; a shortest path over them.
    fn chain(&self, sorted: &[i64]) -> Option<Vec<i64>> {
        let ends = self.ends(sorted)?;
        let last = ends.last()?.iter().enumerate();
        let (_, mut idx) = last.map(|(idx, end)| (end.cost, idx)).min()?;
        let mut chain = Vec::with_capacity(ends.len());
        for row in ends.iter().rev() {
            chain.push(row[idx].line);
            idx = row[idx].below;
        }
        chain.reverse();
        Some(chain)
    }

    /// How far the holes of all its columns lie from even distances, in half rows.
    fn unevenness(&self, sorted: &[i64]) -> Option<i64> {
        let cost = self.ends(sorted)?.last()?.iter().map(|end| end.cost).min()?;
        Some(cost * i64::try_from(self.n_columns).unwrap_or(1))
    }
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
    let chains: Vec<Option<Vec<i64>>> = kinds.iter().map(|kind| kind.chain(&lines)).collect();
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
    let mut of_column = Vec::with_capacity(columns.len());
    for column in columns {
        if let Some(known) = kinds.iter().position(|kind| are_alike(kind.column, column)) {
            kinds[known].n_columns += 1;
            of_column.push(Some(known));
            continue;
        }
        let Ok(highest) = shortest(column) else {
            of_column.push(None);
            continue;
        };
        of_column.push(Some(kinds.len()));
        let levels = levels(column, &highest);
        kinds.push(Kind { column, n_holes: highest.len(), levels, n_columns: 1 });
    }
    (kinds, of_column)
}

/// Whether two columns may have holes at just the same rows.
fn are_alike(a: &Column, b: &Column) -> bool {
    let limits = |column: &Column| [column.first, column.window, column.start, column.spread];
    let legal = a.across.iter().zip(&b.across).all(|(a, b)| a.is_some() == b.is_some());
    limits(a) == limits(b) && a.across.len() == b.across.len() && legal
}

/// Backward from the window: the lowest row of each hole from which the rest still reaches the top.
fn levels(column: &Column, highest: &[i64]) -> Vec<Level> {
    let (bottom, top) = (column.start - column.spread, column.window + column.last_legal());
    let whole = |count: usize| i64::try_from(count).unwrap_or(1).max(1);
    let even = |idx: usize| bottom * 2 + (top - bottom * 2) * whole(idx + 1) / whole(highest.len());
    let mut lowest = column.window;
    let mut levels: Vec<Level> = highest
        .iter()
        .enumerate()
        .rev()
        .map(|(idx, &high)| {
            let low = column.lowest(lowest, high).unwrap_or(high);
            lowest = low - column.spread;
            Level { low, high, even: even(idx) }
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
            let &Level { low, high, .. } = kind.levels.get(chain.len())?;
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
            let &Level { low, high, .. } = kind.levels.get(next)?;
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
        kinds.iter().flat_map(|kind| kind.levels.iter().map(|level| level.high)).collect();
    lines.sort_unstable();
    lines.dedup();
    lines
}

fn without_superfluous(kinds: &[Kind<'_>], mut lines: Vec<i64>) -> Vec<i64> {
    lines.sort_unstable();
    lines.dedup();
    let fills = |kind: &Kind<'_>, lines: &[i64]| kind.ends(lines).is_some();
    if !kinds.iter().all(|kind| fills(kind, &lines)) {
        return lines;
    }
    // Lines that serve few columns are the likeliest to be spared.
    let mut order = lines.clone();
    let uses = |line: i64| -> usize {
        let in_level = |level: &Level| level.low <= line && line <= level.high;
        let used = kinds.iter().filter(|kind| kind.levels.iter().any(in_level));
        used.map(|kind| kind.n_columns).sum()
    };
    crate::order::sort_by_key(&mut order, |&line| (uses(line), line));
    for line in order {
        let rest: Vec<i64> = lines.iter().copied().filter(|&other| other != line).collect();
        // Who cannot use the line does not miss it.
        let mut users = kinds.iter().filter(|kind| kind.can_use(line));
        if users.all(|kind| fills(kind, &rest)) {
            lines = rest;
        }
    }
    lines
}

/// Moves single lines as long as that makes the distances more even; returns them sorted.
fn evened(kinds: &[Kind<'_>], mut lines: Vec<i64>) -> Vec<i64> {
    let costs = kinds.iter().map(|kind| kind.unevenness(&lines)).collect::<Option<Vec<i64>>>();
    let Some(mut costs) = costs else {
        return lines;
    };
    for _ in 0..MOST_ROUNDS {
        let mut moved_any = false;
        for idx in 0..lines.len() {
            for shift in [-16, -4, -1, 1, 4, 16] {
                let moved = lines[idx] + shift;
                if lines.contains(&moved) {
                    continue;
                }
                if let Some(changed) = gain(kinds, &costs, &lines, (idx, moved)) {
                    lines[idx] = moved;
                    changed.into_iter().for_each(|(kind, cost)| costs[kind] = cost);
                    moved_any = true;
                }
            }
        }
        if !moved_any {
            break;
        }
    }
    lines.sort_unstable();
    lines
}

/// Enough for lines to come to rest; a bound so that no wall can take long.
const MOST_ROUNDS: usize = 40;

/// The new unevenness of the kinds that feel a line move, when the move makes all together more even.
fn gain(
    kinds: &[Kind<'_>],
    costs: &[i64],
    lines: &[i64],
    (idx, moved): (usize, i64),
) -> Option<Vec<(usize, i64)>> {
    let mut sorted = lines.to_vec();
    sorted[idx] = moved;
    sorted.sort_unstable();
    let feels = |kind: &Kind<'_>| kind.can_use(lines[idx]) || kind.can_use(moved);
    let felt = kinds.iter().enumerate().filter(|(_, kind)| feels(kind));
    let changed = felt.map(|(at, kind)| kind.unevenness(&sorted).map(|cost| (at, cost)));
    let changed = changed.collect::<Option<Vec<(usize, i64)>>>()?;
    let more: i64 = changed.iter().map(|&(at, cost)| cost - costs[at]).sum();
    (more < 0).then_some(changed)
}
