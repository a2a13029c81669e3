//! Which hole lies below which, so that its foam must have set.

use crate::drilling::Hole;

/// For each hole the one below it in its column, by their positions in the list; holes that begin a
/// column have none.
///
/// In a wide compartment the columns are told apart by how near the holes lie to one another across;
/// in staggered rows two holes may stand over one.
pub(super) fn below(holes: &[Hole]) -> Vec<Option<usize>> {
    (0..holes.len()).map(|idx| nearest_below(holes, idx)).collect()
}

fn nearest_below(holes: &[Hole], idx: usize) -> Option<usize> {
    let hole = &holes[idx];
    let is_below = |other: &usize| {
        let other = &holes[*other];
        other.compartment == hole.compartment && other.step + 1 == hole.step
    };
    let far = |other: usize| (holes[other].centre.x - hole.centre.x).abs();
    // Holes are numbered from the bottom up.
    (0..idx).filter(is_below).min_by(|a, b| far(*a).value.total_cmp(&far(*b).value))
}
