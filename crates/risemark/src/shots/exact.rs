//! Small jobs: every order that could still be better is tried, with its best times.

use super::{problem::Problem, retiming::Sequence, timing::Timing};

/// So many shots can be searched through.
pub(super) const FEW: usize = 10;
/// After so many beginnings the search is given up.
const BEGINNINGS: usize = 6_000;

/// What came of trying every order.
#[derive(Debug, Clone)]
pub(super) struct Tried {
    /// A better order and its times, where there is one.
    pub(super) better: Option<(Vec<usize>, Timing)>,
    /// Whether nothing was left untried.
    pub(super) complete: bool,
}

/// Tries every order that may cost less than a limit.
pub(super) fn try_all(problem: &Problem, limit: f64) -> Tried {
    let mut beginnings = Beginnings {
        problem,
        limit,
        order: Vec::new(),
        used: vec![false; problem.n_shots()],
        better: None,
        n_left: BEGINNINGS,
    };
    beginnings.go_on();
    Tried { complete: 0 < beginnings.n_left, better: beginnings.better }
}

struct Beginnings<'a> {
    problem: &'a Problem,
    limit: f64,
    order: Vec<usize>,
    used: Vec<bool>,
    better: Option<(Vec<usize>, Timing)>,
    n_left: usize,
}

impl Beginnings<'_> {
    fn go_on(&mut self) {
        let mut next: Vec<(f64, usize)> = (0..self.used.len())
            .filter(|shot| self.may_come(*shot))
            .map(|shot| (self.order.last().map_or(0.0, |last| self.problem.way(*last, shot)), shot))
            .collect();
        crate::order::sort_by(&mut next, |a, b| a.0.total_cmp(&b.0));
        for (_, shot) in next {
            if self.n_left == 0 {
                return;
            }
            self.n_left -= 1;
            self.order.push(shot);
            self.used[shot] = true;
            if let Some(timing) = self.timed() {
                if self.order.len() == self.used.len() {
                    self.limit = timing.cost(self.problem);
                    self.better = Some((self.order.clone(), timing));
                } else {
                    self.go_on();
                }
            }
            self.used[shot] = false;
            self.order.pop();
        }
    }

    fn may_come(&self, shot: usize) -> bool {
        let spot = &self.problem.spots[shot];
        let open = |other: usize| !self.used[other];
        let in_turn = !self.problem.walls_in_turn
            || (0..self.used.len())
                .filter(|other| open(*other))
                .all(|other| spot.turn <= self.problem.spots[other].turn);
        open(shot)
            && self.problem.all_below(shot).chain(spot.pinned_after).all(|before| self.used[before])
            && in_turn
            && (!self.order.is_empty() || self.problem.first.is_none_or(|first| first == shot))
    }

    /// The best times of the beginning, where the whole may still cost less than the limit.
    fn timed(&self) -> Option<Timing> {
        let place = places_of(&self.order, self.used.len());
        Sequence::new(self.problem, &self.order, &place).best(self.limit - self.rest())
    }

    /// The least that the other shots cost.
    fn rest(&self) -> f64 {
        let (problem, times) = (self.problem, &self.problem.times);
        let here = self.order.last().map(|last| problem.spots[*last].wall);
        let mut walls: Vec<usize> = Vec::new();
        let mut rest = 0.0;
        for (shot, spot) in problem.spots.iter().enumerate().filter(|(s, _)| !self.used[*s]) {
            rest += spot.spray + self.shortest_way(shot);
            if Some(spot.wall) != here && !walls.contains(&spot.wall) {
                walls.push(spot.wall);
                if problem.carts_cost_a_nozzle() {
                    rest += times.nozzle + times.change + times.set_up + times.cart
                        - self.longest_least(spot.wall);
                }
            }
        }
        rest
    }

    /// The shortest way to a shot from any other.
    fn shortest_way(&self, shot: usize) -> f64 {
        let others = (0..self.used.len()).filter(|other| *other != shot);
        let ways = others.map(|other| self.problem.way(other, shot));
        ways.min_by(f64::total_cmp).unwrap_or(0.0)
    }

    /// The longest of the shortest ways to what is left at a wall: one of them is a cart instead.
    fn longest_least(&self, wall: usize) -> f64 {
        let left = (0..self.used.len())
            .filter(|shot| !self.used[*shot] && self.problem.spots[*shot].wall == wall);
        left.map(|shot| self.shortest_way(shot)).max_by(f64::total_cmp).unwrap_or(0.0)
    }
}

/// The places of the shots of a beginning; what is not in it comes after.
fn places_of(order: &[usize], n_shots: usize) -> Vec<usize> {
    let mut place = vec![n_shots; n_shots];
    for (at, shot) in order.iter().enumerate() {
        place[*shot] = at;
    }
    place
}
