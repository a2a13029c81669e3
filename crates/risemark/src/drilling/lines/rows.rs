//! A set of rows of the marking grid, quick to search from either end.

use smallvec::SmallVec;

/// Rows counted from the lowest row that any column of the wall has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Rows {
    /// The rows of a wall up to ten feet high need no room elsewhere: a search copies sets all the time.
    words: SmallVec<[u64; 8]>,
}

const BITS: usize = 64;

impl Rows {
    /// No rows, with room for so many.
    pub(super) fn none(n_rows: usize) -> Self {
        Self { words: SmallVec::from_elem(0, n_rows.div_ceil(BITS).max(1)) }
    }

    /// Puts a row in.
    pub(super) fn insert(&mut self, row: usize) {
        if let Some(word) = self.words.get_mut(row / BITS) {
            *word |= 1 << (row % BITS);
        }
    }

    /// Takes a row out.
    pub(super) fn remove(&mut self, row: usize) {
        if let Some(word) = self.words.get_mut(row / BITS) {
            *word &= !(1 << (row % BITS));
        }
    }

    /// Whether a row is in it.
    pub(super) fn contains(&self, row: usize) -> bool {
        self.words.get(row / BITS).is_some_and(|word| word >> (row % BITS) & 1 == 1)
    }

    /// Whether both sets have a row.
    pub(super) fn meets(&self, other: &Self) -> bool {
        self.words.iter().zip(&other.words).any(|(a, b)| a & b != 0)
    }

    /// The rows that only one of two sets has.
    pub(super) fn differing(&self, other: &Self) -> Self {
        Self { words: self.words.iter().zip(&other.words).map(|(a, b)| a ^ b).collect() }
    }

    /// The rows that another set has not.
    pub(super) fn less(&self, other: &Self) -> Self {
        Self { words: self.words.iter().zip(&other.words).map(|(a, b)| a & !b).collect() }
    }

    /// The highest row from one to another that both sets have.
    pub(super) fn highest_common(&self, other: &Self, from: usize, to: usize) -> Option<usize> {
        let (first, last) = (from / BITS, (to / BITS).min(self.words.len() - 1));
        for at in (first..=last).rev() {
            let both = self.words[at] & other.words[at] & within(at, from, to);
            if both != 0 {
                return Some(at * BITS + BITS - 1 - zeros(both.leading_zeros()));
            }
        }
        None
    }

    /// The lowest row from one to another that both sets have.
    pub(super) fn lowest_common(&self, other: &Self, from: usize, to: usize) -> Option<usize> {
        let (first, last) = (from / BITS, (to / BITS).min(self.words.len() - 1));
        for at in first..=last {
            let both = self.words[at] & other.words[at] & within(at, from, to);
            if both != 0 {
                return Some(at * BITS + zeros(both.trailing_zeros()));
            }
        }
        None
    }

    /// The highest row from one to another.
    pub(super) fn highest(&self, from: usize, to: usize) -> Option<usize> {
        self.highest_common(self, from, to)
    }

    /// The lowest row from one to another.
    pub(super) fn lowest(&self, from: usize, to: usize) -> Option<usize> {
        self.lowest_common(self, from, to)
    }

    /// The rows from one to another that both sets have, from the bottom up.
    pub(super) fn common(
        &self,
        other: &Self,
        from: usize,
        to: usize,
    ) -> impl Iterator<Item = usize> {
        let (first, last) = (from / BITS, (to / BITS).min(self.words.len() - 1));
        (first..=last).flat_map(move |at| {
            rows_of(at, self.words[at] & other.words[at] & within(at, from, to))
        })
    }

    /// Its rows from the bottom up.
    pub(super) fn iter(&self) -> impl Iterator<Item = usize> {
        self.words.iter().enumerate().flat_map(|(at, &word)| rows_of(at, word))
    }

    /// How many rows it has.
    pub(super) fn len(&self) -> usize {
        self.words.iter().map(|word| zeros(word.count_ones())).sum()
    }
}

/// The rows that the bits of a word stand for.
fn rows_of(at: usize, word: u64) -> impl Iterator<Item = usize> {
    let mut rest = word;
    std::iter::from_fn(move || {
        (rest != 0).then(|| {
            let bit = zeros(rest.trailing_zeros());
            rest &= rest - 1;
            at * BITS + bit
        })
    })
}

/// The bits of a word that stand for rows from one to another.
fn within(at: usize, from: usize, to: usize) -> u64 {
    let start = at * BITS;
    let low = if start < from { u64::MAX << (from - start).min(BITS - 1) } else { u64::MAX };
    let high = if to < start + BITS - 1 { u64::MAX >> (start + BITS - 1 - to) } else { u64::MAX };
    if to < from { 0 } else { low & high }
}

fn zeros(count: u32) -> usize {
    usize::try_from(count).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_found_from_either_end() {
        let (mut a, mut b) = (Rows::none(200), Rows::none(200));
        let (fives, sevens) = ((0..200).step_by(5), (0..200).step_by(7));
        fives.for_each(|row| a.insert(row));
        sevens.for_each(|row| b.insert(row));
        for from in 0..200 {
            for to in from..200 {
                let both = (from..=to).filter(|row| row % 35 == 0);
                assert_eq!(a.lowest_common(&b, from, to), both.clone().min(), "{from} to {to}");
                assert_eq!(a.highest_common(&b, from, to), both.max(), "{from} to {to}");
            }
        }
        assert_eq!(a.lowest_common(&b, 10, 9), None, "an empty stretch");
        assert_eq!((a.len(), a.iter().last()), (40, Some(195)), "all of them");
        a.remove(195);
        assert!(!a.contains(195) && a.contains(190), "one was taken out");
    }
}
