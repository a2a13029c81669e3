//! The heights of the holes: as few holes as can be, then as few snap lines, then even distances.
//!
//! A chain of a column is its holes from the bottom up: the lowest at most one distance above the
//! bottom, the next at most one distance apart, the last in the window under the top.

mod bound;
mod kinds;
mod rows;
mod search;
mod stab;

pub(super) use kinds::{PARTS, shortest};

use smallvec::SmallVec;

use crate::drilling::{
    legal::Column,
    lines::{
        kinds::kinds,
        rows::Rows,
        search::{Found, Wall, evener, fewer, start},
    },
};

/// A list that is short as a rule. The search makes some at every try, and asking for room would take a
/// good part of its time.
type Few<T> = SmallVec<[T; 32]>;

/// The heights of a wall's holes.
#[derive(Debug, Clone)]
pub(super) struct Heights {
    /// For each column the rows of its holes from the bottom up; `None` where no chain fills it.
    pub(super) chains: Vec<Option<Vec<i64>>>,
    /// No plan with as few holes has fewer lines than this.
    pub(super) bound: usize,
}

/// What is known of the lines before they are chosen.
#[derive(Debug, Clone, Default)]
pub(super) struct Wanted {
    /// Rows that have a hole already.
    pub(super) taken: Vec<i64>,
    /// Rows that are liked best.
    pub(super) preferred: Vec<i64>,
}

/// How lines are looked for.
#[derive(Debug, Clone)]
pub(super) enum Search {
    /// The best of a few quick ways.
    Quick,
    /// The same, from rows that were good before.
    Near(Vec<i64>),
    /// Until nothing better is to be expected.
    Thorough,
    /// Rows that such a search has found before, and its bound.
    Known(Vec<i64>, usize),
}

/// Chooses the rows of the holes of every column.
///
/// Each chain has the fewest holes that fill its column; together they lie on few lines.
pub(super) fn choose(columns: &[Column], wanted: &Wanted, search: &Search) -> Heights {
    let taken = wanted.taken.iter().copied();
    let base = columns.iter().map(|column| column.first).chain(taken.clone()).min().unwrap_or(0);
    let top = columns.iter().map(Column::last).chain(taken).max().unwrap_or(base);
    let n_rows = usize::try_from(top + 1 - base).unwrap_or(0);
    let (kinds, of_column) = kinds(columns, base, n_rows);
    let rows = |heights: &[i64]| {
        let mut rows = Rows::none(n_rows);
        let inside = heights.iter().filter_map(|row| usize::try_from(row - base).ok());
        inside.for_each(|row| rows.insert(row));
        rows
    };
    let preferred = (!wanted.preferred.is_empty()).then(|| rows(&wanted.preferred));
    let wall = Wall { kinds, n_rows, free: rows(&wanted.taken), preferred };

    let found = match search {
        Search::Quick => quick(&wall, None),
        Search::Near(heights) => quick(&wall, Some(rows(heights))),
        Search::Thorough => thorough(&wall),
        Search::Known(heights, bound) => known(&wall, rows(heights), *bound),
    };

    let sorted: Few<usize> = found.lines.iter().collect();
    let row = |line: &usize| i64::try_from(*line).unwrap_or(0) + base;
    let chain = |kind: usize| {
        let chain = wall.kinds[kind].chain(&sorted)?;
        Some(chain.iter().map(row).collect())
    };
    let chains = of_column.into_iter().map(|kind| kind.and_then(chain)).collect();
    Heights { chains, bound: found.bound }
}

fn quick(wall: &Wall, near: Option<Rows>) -> Found {
    let mut found = start(wall, near);
    evener(wall, &mut found, 0);
    found
}

fn thorough(wall: &Wall) -> Found {
    let mut found = start(wall, None);
    fewer(wall, &mut found, MOST_ROUNDS);
    let size = wall.kinds.len() * found.lines.len();
    evener(wall, &mut found, (size * MOVES_EACH).clamp(LEAST_MOVES, MOST_MOVES));
    found
}

fn known(wall: &Wall, lines: Rows, bound: usize) -> Found {
    let fits = wall.kinds.iter().all(|kind| kind.fits(&lines));
    if fits { Found { lines, bound } } else { quick(wall, None) }
}

/// Tries before a wall is left without proof.
const MOST_ROUNDS: usize = 4_000;
/// Moves for more even lines: so many at least,
const LEAST_MOVES: usize = 150;
/// and so many for each kind and line,
const MOVES_EACH: usize = 12;
/// but never more than these.
const MOST_MOVES: usize = 1_800;

#[cfg(test)]
mod tests;
