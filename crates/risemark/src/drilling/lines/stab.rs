//! Lines that meet every window: from the bottom up or from the top down, each where it serves most.

use smallvec::SmallVec;

use crate::{
    drilling::lines::{Few, kinds::Kind, rows::Rows},
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

/// A kind, and from the lowest to the highest row that its next hole can have.
type Open = (usize, (usize, usize));

/// Adds lines to those there are until every kind has a chain of the fewest holes.
pub(super) fn stab(kinds: &[&Kind], lines: &mut Rows, way: Way, mut choice: Choice<'_>) {
    let mut chains = Few::from_elem(Growing { n_chosen: 0, last: 0 }, kinds.len());
    let mut unfinished: Few<usize> = (0..kinds.len()).collect();
    let mut open: Few<Open> = Few::new();
    loop {
        // A chain that is complete stays so.
        open.clear();
        unfinished.retain(|&mut idx| {
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
    open: &[Open],
    (pressing, (low, high)): Open,
    way: Way,
    random: &mut Random,
) -> usize {
    let legal = &kinds[pressing].legal;
    let mut met: SmallVec<[u64; 64]> = SmallVec::from_elem(0, high + 1 - low);
    for &(idx, (from, to)) in open {
        let shared = legal.common(&kinds[idx].legal, from.max(low), to.min(high));
        shared.for_each(|row| met[row - low] += 1);
    }
    // A window more weighs as much as a half of chance, but now and then chance alone decides.
    let chance = if random.below(4) == 0 { u64::MAX >> 1 } else { 511 };
    let mut best = None;
    for row in legal.common(legal, low, high) {
        let further = match way {
            Way::Up => row - low,
            Way::Down => high - row,
        };
        // A mask and no division: this is the inmost step of the search.
        let score = (met[row - low] * 1_024 + (random.next() & chance), further);
        if best.is_none_or(|(most, _)| most < score) {
            best = Some((score, row));
        }
    }
    best.map_or(furthest((low, high), way), |(_, row)| row)
}
