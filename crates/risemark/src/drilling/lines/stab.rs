//! Lines that meet every window: from the bottom up or from the top down, each where it serves most.

use crate::{
    drilling::lines::{kinds::Kind, rows::Rows},
    random::Random,
};

/// From where windows are met.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// From the bottom up, each hole as high as it can be.
    Up,
    /// From the top down, each hole as low as it can be.
    Down,
}

/// How a line is chosen within the most pressing window.
#[derive(Debug)]
pub(super) enum Choice<'a> {
    /// As far on as the window allows.
    Furthest,
    /// Where it meets the most windows, with some chance.
    Busiest(&'a mut Random),
}

/// A chain while it grows.
#[derive(Debug, Clone, Copy)]
struct Growing {
    /// How many of its holes are chosen.
    n_chosen: usize,
    /// The last one chosen.
    last: usize,
}

/// Adds lines to those there are until every kind has a chain of the fewest holes.
pub(super) fn stab(kinds: &[&Kind], lines: &mut Rows, way: Way, mut choice: Choice<'_>) {
    let mut chains = vec![Growing { n_chosen: 0, last: 0 }; kinds.len()];
    let mut unfinished: Vec<usize> = (0..kinds.len()).collect();
    let mut open = Vec::with_capacity(kinds.len());
    loop {
        // A chain that is complete stays so.
        open.clear();
        unfinished.retain(|&idx| {
            let window = grown(kinds[idx], &mut chains[idx], lines, way);
            open.extend(window.map(|window| (idx, window)));
            window.is_some()
        });
        let pressing = match way {
            Way::Up => open.iter().min_by_key(|(_, (_, high))| *high),
            Way::Down => open.iter().max_by_key(|(_, (low, _))| *low),
        };
        let Some(&(kind, window)) = pressing else {
            return;
        };
        let line = match &mut choice {
            Choice::Furthest => furthest(window, way),
            Choice::Busiest(random) => busiest(kinds, &open, (kind, window), way, random),
        };
        lines.insert(line);
    }
}

/// Grows a chain along the lines there are; the window of the next hole that has none.
fn grown(kind: &Kind, chain: &mut Growing, lines: &Rows, way: Way) -> Option<(usize, usize)> {
    loop {
        let window = window(kind, chain, way)?;
        let on_line = match way {
            Way::Up => kind.legal.highest_common(lines, window.0, window.1),
            Way::Down => kind.legal.lowest_common(lines, window.0, window.1),
        };
        let Some(line) = on_line else {
            return Some(window);
        };
        *chain = Growing { n_chosen: chain.n_chosen + 1, last: line };
    }
}

/// From the lowest to the highest legal row of a chain's next hole; `None` when it is complete.
fn window(kind: &Kind, chain: &Growing, way: Way) -> Option<(usize, usize)> {
    let n_left = kind.levels.len() - chain.n_chosen;
    let is_first = chain.n_chosen == 0;
    let (low, high) = match way {
        Way::Up => {
            let level = kind.levels.get(chain.n_chosen)?;
            let high = if is_first { level.high } else { level.high.min(chain.last + kind.spread) };
            (if is_first { level.low } else { level.low.max(chain.last + 1) }, high)
        }
        Way::Down => {
            let level = &kind.levels[n_left.checked_sub(1)?];
            let low = chain.last.saturating_sub(kind.spread);
            let low = if is_first { level.low } else { level.low.max(low) };
            (low, if is_first { level.high } else { level.high.min(chain.last - 1) })
        }
    };
    Some((kind.legal.lowest(low, high)?, kind.legal.highest(low, high)?))
}

fn furthest((low, high): (usize, usize), way: Way) -> usize {
    match way {
        Way::Up => high,
        Way::Down => low,
    }
}

/// The row of a window that lies in the most windows; among equals the furthest, with some chance.
fn busiest(
    kinds: &[&Kind],
    open: &[(usize, (usize, usize))],
    (pressing, (low, high)): (usize, (usize, usize)),
    way: Way,
    random: &mut Random,
) -> usize {
    let legal = &kinds[pressing].legal;
    let mut met = vec![0_u64; high + 1 - low];
    for &(idx, (from, to)) in open {
        let rows = from.max(low)..(to + 1).min(high + 1);
        rows.filter(|&row| kinds[idx].legal.contains(row)).for_each(|row| met[row - low] += 1);
    }
    // A window more weighs as much as a half of chance, but now and then chance alone decides.
    let chance = if random.below(4) == 0 { u64::MAX >> 1 } else { 512 };
    let score = |row: usize, random: &mut Random| {
        let further = match way {
            Way::Up => row - low,
            Way::Down => high - row,
        };
        (met[row - low] * 1_024 + random.next() % chance, further)
    };
    let rows = (low..=high).filter(|&row| legal.contains(row));
    let scored = rows.map(|row| (score(row, random), row));
    scored.max().map_or(furthest((low, high), way), |(_, row)| row)
}
