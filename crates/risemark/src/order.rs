//! One sort for every kind of list.
//!
//! The standard library's sort is compiled anew for each type and each comparison, some kilobytes at a
//! time, which a phone has to load. Here it sorts positions alone and so exists once.

use std::{cmp::Ordering, collections::BinaryHeap};

/// Sorts a list of which equal entries cannot be told apart. A heap does that in little code.
pub fn sort<T: Ord>(list: &mut Vec<T>) {
    *list = BinaryHeap::from(std::mem::take(list)).into_sorted_vec();
}

/// Sorts numbers, the least first.
pub fn sort_numbers(numbers: &mut [f64]) {
    numbers.sort_by(f64::total_cmp);
}

/// Sorts a list; equal entries keep their order.
pub fn sort_by<T>(list: &mut Vec<T>, compare: impl Fn(&T, &T) -> Ordering) {
    let mut order: Vec<usize> = (0..list.len()).collect();
    sort_positions(&mut order, &|a, b| compare(&list[a], &list[b]));
    let mut entries: Vec<Option<T>> = list.drain(..).map(Some).collect();
    list.extend(order.into_iter().filter_map(|at| entries[at].take()));
}

/// Sorts a list by a key of each entry; entries of one key keep their order.
pub fn sort_by_key<T, K: Ord>(list: &mut Vec<T>, key: impl Fn(&T) -> K) {
    sort_by(list, |a, b| key(a).cmp(&key(b)));
}

fn sort_positions(order: &mut [usize], compare: &dyn Fn(usize, usize) -> Ordering) {
    order.sort_by(|a, b| compare(*a, *b));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_lists_are_sorted_as_the_standard_library_sorts_them() {
        let list: Vec<u32> = (0..200).map(|idx: u32| idx * 7919 % 83).collect();
        let (mut ours, mut theirs) = (list.clone(), list);
        sort(&mut ours);
        theirs.sort_unstable();
        assert_eq!(ours, theirs, "with entries that are there several times");
    }

    #[test]
    fn lists_are_sorted_as_the_standard_library_sorts_them() {
        let list: Vec<(u32, String)> =
            (0..200).map(|idx: u32| (idx * 7919 % 23, format!("entry {idx}"))).collect();
        let (mut ours, mut theirs) = (list.clone(), list);
        sort_by_key(&mut ours, |entry| entry.0);
        theirs.sort_by_key(|entry| entry.0);
        assert_eq!(ours, theirs, "the order of equals as well");
        sort_by(&mut ours, |a, b| b.1.cmp(&a.1));
        theirs.sort_by(|a, b| b.1.cmp(&a.1));
        assert_eq!(ours, theirs, "by a comparison");
    }
}
