//! Which hole lies below which, so that its foam must have set.

use crate::drilling::Hole;

/// For each hole the one below it in its column, by their positions in the list; holes that begin a
/// column have none.
pub(super) fn below(holes: &[Hole]) -> Vec<Option<usize>> {
    let position = |mark: usize| holes.iter().position(|hole| hole.mark == mark);
    holes.iter().map(|hole| hole.why.below.hole.and_then(position)).collect()
}

/// The holes from the bottom up, by their positions in the list: marks that were on the wall before
/// need not follow the rows.
pub(super) fn from_below(holes: &[Hole]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..holes.len()).collect();
    crate::order::sort_by(&mut order, |a, b| holes[*a].up.value.total_cmp(&holes[*b].up.value));
    order
}
