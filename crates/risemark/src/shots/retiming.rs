//! The best times of an order: which gaps had better cost a nozzle.
//!
//! With the fresh nozzles chosen, the earliest times follow from differences alone: every shot after
//! the one before it and its way, after the one below it and its setting, and no sooner than lets
//! the next one come within the idle limit.

use super::{
    problem::{Problem, longer},
    timing::{SAME, Timing},
};
use crate::quantity::count;

/// An order with its places, and the least a gap may be with the old and with a fresh nozzle.
pub(super) struct Sequence<'a> {
    problem: &'a Problem,
    order: &'a [usize],
    place: &'a [usize],
    /// The least of the gap before each shot.
    way: Vec<f64>,
    /// The same with a fresh nozzle.
    way_fresh: Vec<f64>,
    /// Whether a nozzle is needed whatever is done.
    forced: Vec<bool>,
}

impl<'a> Sequence<'a> {
    pub(super) fn new(problem: &'a Problem, order: &'a [usize], place: &'a [usize]) -> Self {
        let (times, n_shots) = (&problem.times, order.len());
        let mut sequence = Self {
            problem,
            order,
            place,
            way: vec![0.0; n_shots],
            way_fresh: vec![0.0; n_shots],
            forced: vec![false; n_shots],
        };
        let (mut sprayed, mut n_kits) = (0.0, 0);
        for at in 0..n_shots {
            let spray = problem.spots[order[at]].spray;
            if at == 0 {
                sprayed = spray;
                continue;
            }
            let way = problem.way(order[at - 1], order[at]);
            let empty = problem.kit_lasts(n_kits) < sprayed + spray;
            n_kits += usize::from(empty);
            sequence.way[at] = way;
            sequence.way_fresh[at] = way + if empty { times.kit_change } else { times.change };
            sequence.forced[at] = empty || times.idle < way;
            sprayed = if empty { spray } else { sprayed + spray };
        }
        sequence
    }

    /// The earliest times with given fresh nozzles; `None` when there are none, or none that cost
    /// less than a limit.
    pub(super) fn timed(&self, fresh: &[bool], limit: f64) -> Option<Timing> {
        let (problem, n_shots) = (self.problem, self.order.len());
        let n_changes = fresh.iter().filter(|fresh| **fresh).count();
        let most = limit - problem.times.nozzle * count(n_changes) - SAME;
        let mut starts = vec![0.0; n_shots];
        // As many rounds as there are shots settle every chain of differences.
        for _ in 0..=n_shots {
            let end = self.forwards(&mut starts, fresh);
            if most <= end {
                return None;
            }
            if !self.backwards(&mut starts, fresh) {
                return Some(Timing::settled(starts, fresh.to_vec(), end));
            }
        }
        None
    }

    /// Fewer or other nozzles, one at a time, as long as that lowers the cost.
    pub(super) fn improved(&self, timing: &Timing) -> Timing {
        let mut best = timing.clone();
        let mut fresh = best.fresh.clone();
        // Gaps that just fit may have been spread further than needed.
        if let Some(found) = self.timed(&fresh, best.cost(self.problem)) {
            best = found;
        }
        while let Some(found) = self.better(&mut fresh, &best) {
            best = found;
            fresh.clone_from(&best.fresh);
        }
        best
    }

    fn better(&self, fresh: &mut [bool], best: &Timing) -> Option<Timing> {
        let cost = best.cost(self.problem);
        let changed: Vec<usize> =
            (1..fresh.len()).filter(|at| fresh[*at] && !self.forced[*at]).collect();
        for &at in &changed {
            fresh[at] = false;
            if let Some(found) = self.timed(fresh, cost) {
                return Some(found);
            }
            let around = at.saturating_sub(SHIFT).max(1)..(at + SHIFT + 1).min(fresh.len());
            for other in around {
                if fresh[other] || other == at {
                    continue;
                }
                fresh[other] = true;
                let found = self.timed(fresh, cost);
                if found.is_some() {
                    return found;
                }
                fresh[other] = false;
            }
            fresh[at] = true;
        }
        None
    }

    /// The least cost over all choices of nozzles, where it is below a limit.
    pub(super) fn best(&self, limit: f64) -> Option<Timing> {
        let mut fresh = self.forced.clone();
        let (mut best, mut limit) = (None, limit);
        self.choose(1, &mut fresh, &mut best, &mut limit);
        best
    }

    fn choose(&self, at: usize, fresh: &mut Vec<bool>, best: &mut Option<Timing>, limit: &mut f64) {
        // Gaps without a limit are the least that any choice of the rest can give.
        let mut starts = vec![0.0; fresh.len()];
        let n_changes = fresh.iter().filter(|fresh| **fresh).count();
        let end = self.forwards(&mut starts, fresh);
        if *limit - SAME <= end + self.problem.times.nozzle * count(n_changes) {
            return;
        }
        if at == fresh.len() {
            if let Some(found) = self.timed(fresh, *limit) {
                *limit = found.cost(self.problem);
                *best = Some(found);
            }
            return;
        }
        self.choose(at + 1, fresh, best, limit);
        if !fresh[at] {
            fresh[at] = true;
            self.choose(at + 1, fresh, best, limit);
            fresh[at] = false;
        }
    }

    /// No shot before what it must wait for; the end of the last.
    fn forwards(&self, starts: &mut [f64], fresh: &[bool]) -> f64 {
        let mut end = 0.0;
        for at in 0..starts.len() {
            let shot = self.order[at];
            if 0 < at {
                let least = if fresh[at] { self.way_fresh[at] } else { self.way[at] };
                starts[at] = longer(starts[at], end + least);
            }
            for below in self.problem.all_below(shot) {
                let sprayed = starts[self.place[below]] + self.problem.spots[below].spray;
                starts[at] = longer(starts[at], sprayed + self.problem.times.setting);
            }
            end = starts[at] + self.problem.spots[shot].spray;
        }
        end
    }

    /// No gap over the idle limit but before a fresh nozzle; whether anything moved.
    fn backwards(&self, starts: &mut [f64], fresh: &[bool]) -> bool {
        let mut moved = false;
        for at in (1..starts.len()).rev() {
            if fresh[at] {
                continue;
            }
            let spray = self.problem.spots[self.order[at - 1]].spray;
            let least = starts[at] - self.problem.times.idle - spray;
            if starts[at - 1] + SAME < least {
                starts[at - 1] = least;
                moved = true;
            }
        }
        moved
    }
}

/// How far a nozzle is tried from where the quick rule changed it.
const SHIFT: usize = 8;
