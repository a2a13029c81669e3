//! A problem, and what was found for it, as rows of plain numbers: for a search that runs elsewhere.
//!
//! Every figure is passed on as it is, so that a search gives the same order wherever it runs.

use super::{
    problem::{Problem, Spot, Times},
    search::Found,
};
use crate::quantity::{count, to_whole};

/// How many numbers come before the shots.
const HEAD: usize = 13;

/// How many numbers a shot has.
const SPOT: usize = 7;

/// How many numbers come before the order that was found.
const FOUND: usize = 2;

/// Stands where there is no shot.
const NONE: f64 = -1.0;

impl Problem {
    /// The problem as a row of numbers.
    pub fn to_numbers(&self) -> Vec<f64> {
        let Times { set_up, per_metre, cart, setting, idle, change, nozzle, kit_lasts, kit_change } =
            self.times;
        let mut numbers =
            vec![set_up, per_metre, cart, setting, idle, change, nozzle, kit_lasts, kit_change];
        let also_below = (0..self.n_shots()).flat_map(|shot| {
            self.also_below(shot).iter().flat_map(move |below| [count(shot), count(*below)])
        });
        let also_below: Vec<f64> = also_below.collect();
        let first = from_place(self.first);
        let n_also = count(also_below.len());
        numbers.extend([first, yes(self.walls_in_turn), count(self.next_kits.len()), n_also]);
        numbers.extend(&self.next_kits);
        numbers.extend(also_below);
        for spot in &self.spots {
            let Spot { x, y, spray, wall, turn, after, pinned_after } = *spot;
            let (wall, turn) = (count(wall), count(turn));
            numbers.extend([x, y, spray, wall, turn, from_place(after), from_place(pinned_after)]);
        }
        numbers
    }

    /// The problem of a row of numbers; nothing where that is no row of a problem.
    pub fn of_numbers(numbers: &[f64]) -> Option<Self> {
        let (head, rest) = numbers.split_first_chunk::<HEAD>()?;
        let &[
            set_up,
            per_metre,
            cart,
            setting,
            idle,
            change,
            nozzle,
            kit_lasts,
            kit_change,
            first,
            in_turn,
            n_kits,
            n_also,
        ] = head;
        let times =
            Times { set_up, per_metre, cart, setting, idle, change, nozzle, kit_lasts, kit_change };
        let (next_kits, rest) = rest.split_at_checked(place(n_kits)?)?;
        let (also, rest) = rest.split_at_checked(place(n_also)?)?;
        let (spots, left) = rest.as_chunks::<SPOT>();
        let spots: Option<Vec<Spot>> = spots.iter().map(spot).collect();
        let (spots, first) = (spots?, place(first));
        let n_shots = spots.len();
        let also_below = also_below(also, n_shots)?;
        let is_there = |shot: Option<usize>| shot.is_none_or(|shot| shot < n_shots);
        let is_sound = |(idx, spot): (usize, &Spot)| {
            spot.after.is_none_or(|below| below < idx) && is_there(spot.pinned_after)
        };
        let sound = left.is_empty() && is_there(first) && spots.iter().enumerate().all(is_sound);
        sound.then(|| {
            let mut problem = Self::of_spots(spots, also_below, times);
            problem.first = first;
            problem.next_kits = next_kits.to_vec();
            problem.walls_in_turn = 0.0 < in_turn;
            problem
        })
    }
}

impl Found {
    /// What was found as a row of numbers.
    pub fn to_numbers(&self) -> Vec<f64> {
        let mut numbers = vec![self.cost, self.end];
        let shots = self.order.iter().zip(&self.starts).zip(&self.fresh);
        for ((shot, start), fresh) in shots {
            numbers.extend([count(*shot), *start, yes(*fresh)]);
        }
        numbers
    }

    /// What was found of a row of numbers; nothing where that is no such row.
    pub fn of_numbers(numbers: &[f64]) -> Option<Self> {
        let (&[cost, end], rest) = numbers.split_first_chunk::<FOUND>()?;
        let (shots, []) = rest.as_chunks::<3>() else { return None };
        Some(Self {
            order: shots.iter().map(|[shot, ..]| place(*shot)).collect::<Option<_>>()?,
            starts: shots.iter().map(|[_, start, _]| *start).collect(),
            fresh: shots.iter().map(|[.., fresh]| 0.0 < *fresh).collect(),
            end,
            cost,
        })
    }
}

fn spot(&[x, y, spray, wall, turn, after, pinned_after]: &[f64; SPOT]) -> Option<Spot> {
    let (wall, turn) = (place(wall)?, place(turn)?);
    Some(Spot { x, y, spray, wall, turn, after: place(after), pinned_after: place(pinned_after) })
}

/// What else each shot waits for, of pairs of a shot and one before it.
fn also_below(pairs: &[f64], n_shots: usize) -> Option<Vec<Vec<usize>>> {
    let (pairs, []) = pairs.as_chunks::<2>() else { return None };
    let mut also_below = vec![Vec::new(); n_shots];
    for [shot, below] in pairs {
        let (shot, below) = (place(*shot)?, place(*below)?);
        if shot <= below {
            return None;
        }
        also_below.get_mut(shot)?.push(below);
    }
    Some(also_below)
}

fn from_place(place: Option<usize>) -> f64 {
    place.map_or(NONE, count)
}

fn place(number: f64) -> Option<usize> {
    usize::try_from(to_whole(number)).ok()
}

fn yes(yes: bool) -> f64 {
    f64::from(u8::from(yes))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        quantity::{millimeters, seconds},
        shots::{Crew, Kit, Search, Shot, Wishes},
    };

    fn problem() -> Problem {
        let shot = |idx: usize| Shot {
            wall: idx / 6,
            across: millimeters(407.3 * count(idx % 3)),
            up: millimeters(900.1 * count(idx / 3 % 2)),
            duration: seconds(20.0 + count(idx)),
            // The upper ones wait for the one below them and for the one beside it.
            after: (idx % 6).checked_sub(3).map_or(Vec::new(), |_| {
                std::iter::once(idx - 3).chain((idx % 3).checked_sub(1).map(|_| idx - 4)).collect()
            }),
        };
        let shots: Vec<Shot> = (0..12).map(shot).collect();
        let crew = Crew {
            set_up: seconds(6.0),
            per_metre: seconds(1.0 / 0.7),
            cart: seconds(45.0),
            setting: seconds(300.0),
            idle_limit: seconds(30.0),
            nozzle_change: seconds(20.0),
            nozzle_weight: seconds(60.0),
            kit: Some(Kit { lasts: seconds(250.0), change: seconds(310.0) }),
            next_kits: vec![seconds(90.0)],
        };
        let wishes = Wishes { first: Some(7), walls: vec![1], sequence: vec![8, 6, 1] };
        Problem::new(&shots, &crew, &wishes)
    }

    fn found(problem: Problem) -> (Found, f64) {
        let mut search = Search::new(problem);
        while !search.advance(1_000) {}
        (search.best().cloned().expect("an order"), search.bound())
    }

    #[test]
    fn a_problem_that_was_sent_gives_the_same_order() {
        let here = problem();
        let numbers = here.to_numbers();
        let there = Problem::of_numbers(&numbers).expect("a row of a problem");
        assert_eq!(there.to_numbers(), numbers, "nothing is lost");
        let (found, bound) = found(there);
        assert_eq!((found.order[0], found.order.len()), (7, 12), "the wishes are sent too");
        assert_eq!((&found, bound), (&self::found(here).0, self::found(problem()).1), "the same");
        assert_eq!(Found::of_numbers(&found.to_numbers()), Some(found), "and is sent back");
    }

    #[test]
    fn what_is_no_row_of_a_problem_is_refused() {
        let numbers = problem().to_numbers();
        for n_left in [0, HEAD - 1, numbers.len() - 1] {
            assert!(Problem::of_numbers(&numbers[..n_left]).is_none(), "{n_left} numbers");
        }
        let n_also = 8;
        assert_eq!(place(numbers[HEAD - 1]), Some(n_also), "four shots wait for two");
        let spots = HEAD + 1 + n_also;
        let faults = [
            (spots + 5, 0.0),
            (spots + 6, 12.0),
            (spots + 3, -1.0),
            (9, 12.0),
            (HEAD - 1, 1e9),
            (HEAD - 1, 7.0),
            (HEAD - 2, 1e9),
            (HEAD + 1, 12.0),
            (HEAD + 2, 11.0),
        ];
        for (at, wrong) in faults {
            let mut numbers = numbers.clone();
            numbers[at] = wrong;
            assert!(Problem::of_numbers(&numbers).is_none(), "{wrong} at {at}");
        }
        assert!(Found::of_numbers(&[1.0, 2.0, 3.0]).is_none(), "a part of a shot");
    }
}
