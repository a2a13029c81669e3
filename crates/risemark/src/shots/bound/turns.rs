//! How long a visit lasts in which columns with equally many shots take turns.
//!
//! Take one of the columns and any other. The other's first shot comes before the first of the one, or else
//! after it. Then either the other's last shot comes after the last of the one, or the other overtakes:
//! between two shots of the one that follow each other, it makes two. That is all longer than the setting
//! between the two shots of the one by what the other's first of these takes: the second of them has to
//! wait for the setting as well. So, whatever the order, every other column makes the visit longer than the
//! one column and its settings alone: by its first shot, or by its last, or by one in between. Others that
//! overtake at the same place add up in the same way, and the last of them to begin adds its next shot too.
//!
//! Let the columns be in the order of their first shots. The visit lasts for each of them at least as
//! long as the first shots of the columns before it, itself with its settings, and the last shots of those
//! after it; where a shot in between stands for the last one, it may be shorter, of which the next shot of a
//! column that overtakes makes up a part. The order for which the longest of these sums is least is that of
//! two machines with lags between them, which is known (Johnson and Mitten). The same holds backwards.

use super::super::problem::{Problem, longer};
use crate::quantity::count;

/// The least that a visit lasts that holds all of some columns, which have equally many shots. Others that
/// take turns too have no shorter shot than a given one, and each of them makes it longer by one.
pub(super) fn in_turns(
    problem: &Problem,
    way: f64,
    columns: &[Vec<usize>],
    shortest_of_others: f64,
) -> f64 {
    let spray = |shot: &usize| problem.spots[*shot].spray;
    let sprays: Vec<Vec<f64>> =
        columns.iter().map(|column| column.iter().map(spray).collect()).collect();
    let backwards: Vec<Vec<f64>> =
        sprays.iter().map(|sprays| sprays.iter().rev().copied().collect()).collect();
    let next = shortest_of_others + way;
    longer(
        by_first(problem.times.setting, way, &sprays, next),
        by_first(problem.times.setting, way, &backwards, next),
    )
}

/// A column that takes turns with others.
struct Column {
    first: f64,
    last: f64,
    /// With its settings.
    whole: f64,
}

impl Column {
    /// What there is between the first and the last shot.
    fn lag(&self) -> f64 {
        self.whole - self.first - self.last
    }
}

/// The least over all orders of the first shots; the last column that overtakes may be none of these, and
/// its next shot as short as is said.
fn by_first(setting: f64, way: f64, sprays: &[Vec<f64>], next: f64) -> f64 {
    let mut columns: Vec<Column> = Vec::with_capacity(sprays.len());
    let (mut missing, mut next) = (0.0, next);
    for sprays in sprays {
        let Some((last, before)) = sprays.split_last() else { return 0.0 };
        let least = before.iter().copied().fold(*last, f64::min);
        missing += last - least;
        next = sprays[1..].iter().map(|spray| spray + way).fold(next, f64::min);
        columns.push(Column {
            first: sprays[0] + way,
            last: last + way,
            whole: sprays.iter().sum::<f64>() + setting * count(before.len()),
        });
    }
    let all = least_of(&mut columns);
    if missing <= next { all } else { all - (missing - next) }
}

/// The least that the longest of the sums is for any order.
fn least_of(columns: &mut Vec<Column>) -> f64 {
    crate::order::sort_by(columns, |a, b| {
        let rises = |column: &Column| column.first <= column.last;
        let key = |column: &Column| {
            if rises(column) { column.first + column.lag() } else { -(column.last + column.lag()) }
        };
        rises(b).cmp(&rises(a)).then(key(a).total_cmp(&key(b)))
    });
    let mut after: f64 = columns.iter().map(|column| column.last).sum();
    let (mut before, mut most) = (0.0, 0.0);
    for column in &*columns {
        after -= column.last;
        most = longer(most, before + column.whole + after);
        before += column.first;
    }
    most
}
