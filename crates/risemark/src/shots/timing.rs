//! When each shot of an order starts, and what that costs.

use super::problem::{Problem, longer};

/// Two times closer than this are the same time.
pub(super) const SAME: f64 = 1e-9;

/// The times of the first shots of an order.
#[derive(Debug, Clone, Default)]
pub(super) struct Timing {
    /// When each starts, by its place in the order.
    pub(super) starts: Vec<f64>,
    /// Whether each comes with a fresh nozzle.
    pub(super) fresh: Vec<bool>,
    /// How many nozzles were changed.
    pub(super) n_changes: usize,
    /// What the kit has sprayed.
    pub(super) sprayed: f64,
    /// How many kits came before it.
    n_kits: usize,
    /// The end of the last shot.
    pub(super) end: f64,
    /// What was moved by the wait at hand, for taking it back.
    moved: Vec<(usize, f64)>,
}

impl Timing {
    /// The whole order, by the quick rule: wait, spread a wait over the gaps before it, or else
    /// change the nozzle.
    pub(super) fn of(problem: &Problem, order: &[usize], place: &[usize]) -> Self {
        let mut timing = Self::default();
        for at in 0..order.len() {
            timing.push(problem, order, place, at);
        }
        timing
    }

    /// Times that were found otherwise.
    pub(super) fn settled(starts: Vec<f64>, fresh: Vec<bool>, end: f64) -> Self {
        let n_changes = fresh.iter().filter(|fresh| **fresh).count();
        Self { starts, fresh, n_changes, end, ..Self::default() }
    }

    /// Seconds, with what the nozzles are worth.
    pub(super) fn cost(&self, problem: &Problem) -> f64 {
        self.end + problem.times.nozzle * crate::quantity::count(self.n_changes)
    }

    pub(super) fn copy_from(&mut self, other: &Self) {
        self.starts.clear();
        self.starts.extend_from_slice(&other.starts);
        self.fresh.clear();
        self.fresh.extend_from_slice(&other.fresh);
        self.n_changes = other.n_changes;
        self.sprayed = other.sprayed;
        self.n_kits = other.n_kits;
        self.end = other.end;
    }

    /// The next shot of the order.
    pub(super) fn push(&mut self, problem: &Problem, order: &[usize], place: &[usize], at: usize) {
        let (times, shot) = (&problem.times, order[at]);
        let spot = &problem.spots[shot];
        if at == 0 {
            self.starts.push(0.0);
            self.fresh.push(false);
            self.sprayed = spot.spray;
            self.end = spot.spray;
            return;
        }
        let way = problem.way(order[at - 1], shot);
        let set_at =
            |below: usize| self.starts[place[below]] + problem.spots[below].spray + times.setting;
        let mut set = spot.after.map_or(0.0, set_at);
        for &below in problem.also_below(shot) {
            set = longer(set, set_at(below));
        }
        let empty = problem.kit_lasts(self.n_kits) < self.sprayed + spot.spray;
        let (start, fresh) = if empty {
            (longer(self.end + way + times.kit_change, set), true)
        } else {
            let start = longer(self.end + way, set);
            let gap = start - self.end;
            let may_stay = gap <= times.idle
                || (way <= times.idle && self.spread(problem, order, place, start - times.idle));
            if may_stay {
                (start, false)
            } else {
                (longer(self.end + way + times.change, set), true)
            }
        };
        self.sprayed = if empty { spot.spray } else { self.sprayed + spot.spray };
        self.n_kits += usize::from(empty);
        self.n_changes += usize::from(fresh);
        self.starts.push(start);
        self.fresh.push(fresh);
        self.end = start + spot.spray;
    }

    /// Moves the last shots later, so that the last ends no sooner than a time, without a gap
    /// that costs a nozzle; changes nothing and says so where that cannot be done.
    fn spread(&mut self, problem: &Problem, order: &[usize], place: &[usize], end: f64) -> bool {
        let n_timed = self.starts.len();
        let mut end = end;
        self.moved.clear();
        for at in (0..n_timed).rev() {
            let shot = order[at];
            let start = end - problem.spots[shot].spray;
            if start <= self.starts[at] {
                break;
            }
            // A shot above is what the wait is for, or must not be overtaken by its setting.
            let hinders = |above: usize| {
                let next = place[above];
                next == n_timed
                    || (next < n_timed && self.starts[next] + SAME < end + problem.times.setting)
            };
            if problem.all_above(shot).any(hinders) {
                self.take_back();
                return false;
            }
            self.moved.push((at, self.starts[at]));
            self.starts[at] = start;
            // A gap that has cost a nozzle may grow.
            if self.fresh[at] {
                break;
            }
            end = start - problem.times.idle;
        }
        if let Some(last) = n_timed.checked_sub(1) {
            self.end = self.starts[last] + problem.spots[order[last]].spray;
        }
        true
    }

    fn take_back(&mut self) {
        for (at, start) in self.moved.drain(..) {
            self.starts[at] = start;
        }
    }
}
