//! Columns that may have holes at just the same rows, and the chains that fill them.

use crate::{
    drilling::{
        legal::Column,
        lines::{Few, rows::Rows},
    },
    quantity::whole,
};

/// Columns that may have holes at just the same rows.
#[derive(Debug, Clone)]
pub(super) struct Kind {
    /// The rows that a hole can be at, counted from the lowest row of the wall.
    pub(super) legal: Rows,
    /// Those of them that a hole of a shortest chain can be at.
    pub(super) usable: Rows,
    /// For each hole of a shortest chain the rows it can have, from the bottom up.
    pub(super) levels: Vec<Level>,
    /// The top hole lies at this row or above.
    pub(super) window: usize,
    /// Consecutive holes are at most this many rows apart.
    pub(super) spread: usize,
    /// How many columns are of the kind.
    pub(super) n_columns: i64,
}

/// The rows that one hole of a shortest chain can have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Level {
    pub(super) low: usize,
    pub(super) high: usize,
    /// Where it would be for even distances, in parts of a row.
    pub(super) even: i64,
}

/// The best chain that ends on a line.
#[derive(Debug, Clone, Copy)]
struct End {
    line: usize,
    /// How far its holes lie from even distances.
    cost: i64,
    /// The position of the end that it goes on from, among those of the hole below.
    below: usize,
}

/// Even distances are measured in this many parts of a row.
pub(in crate::drilling) const PARTS: i64 = 1_000;

impl Kind {
    /// Whether a chain of the fewest holes fits the lines.
    pub(super) fn fits(&self, lines: &Rows) -> bool {
        let (mut floor, mut limit) = (self.levels[0].low, self.levels[0].high);
        for _ in &self.levels {
            // The furthest reach is never worse than another.
            let Some(row) = self.legal.highest_common(lines, floor, limit) else {
                return false;
            };
            if self.window <= row {
                return true;
            }
            (floor, limit) = (row + 1, row + self.spread);
        }
        false
    }

    /// Whether a hole of a shortest chain can be on a line.
    pub(super) fn can_use(&self, line: usize) -> bool {
        self.usable.contains(line)
    }

    /// The most even chain on given lines, from the bottom up; a shortest path over them.
    pub(super) fn chain(&self, sorted: &[usize]) -> Option<Vec<usize>> {
        let mut ends = Few::new();
        let (cost, starts) = self.path(sorted, &mut ends)?;
        let last = ends[starts[starts.len() - 1]..].iter();
        let mut at = last.clone().position(|end| end.cost == cost)?;
        let mut chain = Vec::with_capacity(starts.len());
        for &start in starts.iter().rev() {
            let end: End = ends[start + at];
            chain.push(end.line);
            at = end.below;
        }
        chain.reverse();
        Some(chain)
    }

    /// How far the holes of all its columns lie from even distances, in parts of a row.
    pub(super) fn unevenness(&self, sorted: &[usize]) -> Option<i64> {
        let mut ends = Few::new();
        let (cost, _) = self.path(sorted, &mut ends)?;
        Some(cost * self.n_columns)
    }

    /// Fills in the best ends hole by hole; the least cost, and where the ends of each hole begin.
    fn path(&self, sorted: &[usize], ends: &mut Few<End>) -> Option<(i64, Few<usize>)> {
        let mut starts: Few<usize> = Few::new();
        let mut below = 0..0;
        for level in &self.levels {
            let start = ends.len();
            let from = sorted.partition_point(|&line| line < level.low);
            for &line in sorted[from..].iter().take_while(|&&line| line <= level.high) {
                if self.legal.contains(line) {
                    let before = (!starts.is_empty()).then(|| &ends[below.clone()]);
                    ends.extend(self.end(before, line, level.even));
                }
            }
            if ends.len() == start {
                return None;
            }
            starts.push(start);
            below = start..ends.len();
        }
        let cost = ends[below].iter().map(|end| end.cost).min()?;
        Some((cost, starts))
    }

    /// The best chain that ends on a line, from those of the hole below; `None` when none reaches it.
    fn end(&self, below: Option<&[End]>, line: usize, even: i64) -> Option<End> {
        let own = (whole(line) * PARTS - even).abs();
        let Some(below) = below else {
            return Some(End { line, cost: own, below: 0 });
        };
        let reaches = |end: &End| line <= end.line + self.spread && end.line < line;
        let near = below.iter().enumerate().filter(|(_, end)| reaches(end));
        let (cost, below) = near.map(|(idx, end)| (end.cost, idx)).min()?;
        Some(End { line, cost: cost + own, below })
    }
}

/// The shortest chain of a column by the furthest reach: each hole as high as the one below allows.
///
/// # Errors
/// Where the foam stops: the height reached, and the height up to which a hole was looked for.
pub(in crate::drilling) fn shortest(column: &Column) -> Result<Vec<i64>, (i64, i64)> {
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

/// The kinds of columns that can be filled, and for each column its kind.
pub(super) fn kinds(
    columns: &[Column],
    base: i64,
    n_rows: usize,
) -> (Vec<Kind>, Vec<Option<usize>>) {
    let mut kinds: Vec<(&Column, Kind)> = Vec::new();
    let mut of_column = Vec::with_capacity(columns.len());
    for column in columns {
        if let Some(known) = kinds.iter().position(|(other, _)| are_alike(other, column)) {
            kinds[known].1.n_columns += 1;
            of_column.push(Some(known));
            continue;
        }
        let Ok(highest) = shortest(column) else {
            of_column.push(None);
            continue;
        };
        of_column.push(Some(kinds.len()));
        kinds.push((column, kind(column, &highest, base, n_rows)));
    }
    (kinds.into_iter().map(|(_, kind)| kind).collect(), of_column)
}

fn kind(column: &Column, highest: &[i64], base: i64, n_rows: usize) -> Kind {
    let mut legal = Rows::none(n_rows);
    let rows = (column.first..).zip(&column.across).filter(|(_, place)| place.is_some());
    rows.for_each(|(row, _)| legal.insert(above(row, base)));
    let levels = levels(column, highest, base);
    let mut usable = Rows::none(n_rows);
    let in_levels = levels.iter().flat_map(|level| level.low..=level.high);
    in_levels.filter(|&row| legal.contains(row)).for_each(|row| usable.insert(row));
    Kind {
        legal,
        usable,
        levels,
        window: above(column.window, base),
        spread: usize::try_from(column.spread).unwrap_or(0),
        n_columns: 1,
    }
}

/// Whether two columns may have holes at just the same rows, and would have them at the same.
fn are_alike(a: &Column, b: &Column) -> bool {
    let limits = |column: &Column| [column.first, column.window, column.start, column.spread];
    let legal = a.across.iter().zip(&b.across).all(|(a, b)| a.is_some() == b.is_some());
    limits(a) == limits(b) && a.even == b.even && a.across.len() == b.across.len() && legal
}

/// Backward from the window: the lowest row of each hole from which the rest still reaches the top.
fn levels(column: &Column, highest: &[i64], base: i64) -> Vec<Level> {
    let n_holes = highest.len();
    let mut lowest = column.window;
    let mut levels: Vec<Level> = (0..n_holes)
        .rev()
        .map(|idx| {
            let high = highest[idx];
            let low = column.lowest(lowest, high).unwrap_or(high);
            lowest = low - column.spread;
            let even = column.even.at(idx + 1, n_holes) - base * PARTS;
            Level { low: above(low, base), high: above(high, base), even }
        })
        .collect();
    levels.reverse();
    levels
}

/// A row counted from the lowest one; rows below it do not occur.
fn above(row: i64, base: i64) -> usize {
    usize::try_from(row - base).unwrap_or(0)
}
