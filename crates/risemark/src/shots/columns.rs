//! Which holes lie below which, so that their foam must have set.

use std::collections::BTreeMap;

use crate::{
    drilling::{Hole, Space},
    finding::CompartmentId,
    foam::rows,
    quantity::Length,
};

/// For each hole those on whose foam its own falls, by their positions in the list; holes of the lowest
/// rows have none.
///
/// In a bay foam rises level, so that a row waits for all of the row below. In an air space a hole waits for
/// the lower ones within its reach to the side, but for those that lie under others of them anyway. The
/// first is the one of its column: the nearest that is not in the column of another.
pub(super) fn below(holes: &[Hole]) -> Vec<Vec<usize>> {
    let mut by_compartment: BTreeMap<CompartmentId, Vec<usize>> = BTreeMap::new();
    for idx in from_below(holes) {
        by_compartment.entry(holes[idx].compartment).or_default().push(idx);
    }
    let mut below = vec![Vec::new(); holes.len()];
    let mut begun = vec![false; holes.len()];
    for here in by_compartment.values() {
        let rows = rows(holes, here);
        for (at, row) in rows.iter().enumerate() {
            for &idx in row {
                let mut under = match holes[idx].why.space {
                    Space::Bay { .. } => {
                        at.checked_sub(1).map_or(Vec::new(), |at| rows[at].clone())
                    }
                    Space::AirSpace { reach, .. } => beside(holes, (idx, reach), &rows[..at]),
                };
                crate::order::sort_by(&mut under, |a, b| {
                    let far = |other: usize| (holes[other].across - holes[idx].across).abs().value;
                    begun[*a].cmp(&begun[*b]).then(far(*a).total_cmp(&far(*b))).then(a.cmp(b))
                });
                if let Some(&first) = under.first() {
                    begun[first] = true;
                }
                below[idx] = under;
            }
        }
    }
    below
}

/// The holes of lower rows on which foam from a hole falls first.
fn beside(holes: &[Hole], (idx, reach): (usize, Length), lower: &[Vec<usize>]) -> Vec<usize> {
    let is_over =
        |upper: usize, under: usize| (holes[upper].across - holes[under].across).abs() <= reach;
    let mut found: Vec<(usize, usize)> = Vec::new();
    for (row, under) in lower.iter().enumerate().rev() {
        for &under in under.iter().filter(|under| is_over(idx, **under)) {
            let is_covered = |(over, at): &(usize, usize)| row < *at && is_over(*over, under);
            if !found.iter().any(is_covered) {
                found.push((under, row));
            }
        }
    }
    found.into_iter().map(|(under, _)| under).collect()
}

/// The holes from the bottom up, by their positions in the list: marks that were on the wall before
/// need not follow the rows.
pub(super) fn from_below(holes: &[Hole]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..holes.len()).collect();
    crate::order::sort_by(&mut order, |a, b| holes[*a].up.value.total_cmp(&holes[*b].up.value));
    order
}
