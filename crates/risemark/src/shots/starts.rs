//! Orders to begin the search with: row by row, and by looking for the next shot that costs least.

use std::{cmp::Reverse, collections::BinaryHeap};

use super::problem::{Problem, longer};
use crate::random::Random;

/// What makes the next shot of a list attractive.
#[derive(Debug, Clone, Copy)]
pub(super) struct Taste {
    /// The weight of what is still to come in the column above a shot.
    column: f64,
    /// What a second of waiting for foam to set counts beside a second of work.
    patience: f64,
    /// The shot to begin with; `None` for the best by the same taste.
    first: Option<usize>,
}

/// One way to begin.
#[derive(Debug, Clone, Copy)]
pub(super) enum Start {
    /// Row by row from below, all in one direction.
    Rows { by_height: bool, backwards: bool, walls_together: bool },
    /// Wall by wall, row by row from below, to and fro.
    ToAndFro { backwards: bool },
    /// Always the shot that costs least.
    Nearest(Taste),
}

const COLUMNS: [f64; 6] = [0.0, 0.02, 0.05, 0.1, 0.2, 0.5];
const PATIENCES: [f64; 3] = [0.0, 0.5, 2.0];
/// Above so many shots only few of the ways are tried, and near shots alone are looked at.
const MANY: usize = 250;

/// All ways to begin with a job of this size.
pub(super) fn starts(problem: &Problem) -> Vec<Start> {
    let mut starts = Vec::new();
    for walls_together in [false, true] {
        for by_height in [false, true] {
            for backwards in [false, true] {
                starts.push(Start::Rows { by_height, backwards, walls_together });
            }
        }
    }
    starts.extend([false, true].map(|backwards| Start::ToAndFro { backwards }));
    let n_shots = problem.n_shots();
    let n_firsts = match n_shots {
        0..=120 => 12,
        121..=MANY => 6,
        _ => 2,
    };
    let few = 4 * MANY < n_shots;
    let firsts = firsts(problem, n_firsts);
    for column in if few { &COLUMNS[1..3] } else { &COLUMNS[..] } {
        for patience in if few { &PATIENCES[1..2] } else { &PATIENCES[..] } {
            let taste = Taste { column: *column, patience: *patience, first: None };
            starts.push(Start::Nearest(taste));
            starts.extend(
                firsts.iter().map(|first| Start::Nearest(Taste { first: Some(*first), ..taste })),
            );
        }
    }
    starts
}

/// The order of a way to begin.
pub(super) fn order(problem: &Problem, start: Start) -> Vec<usize> {
    match start {
        Start::Rows { by_height, backwards, walls_together } => {
            rows(problem, by_height, backwards, walls_together)
        }
        Start::ToAndFro { backwards } => granted(problem, &to_and_fro(problem, backwards)),
        Start::Nearest(taste) => List::new(problem, taste).order(),
    }
}

/// Shots that nothing has to precede: ends of walls first, then some of the rest.
fn firsts(problem: &Problem, most: usize) -> Vec<usize> {
    let mut free: Vec<usize> =
        (0..problem.n_shots()).filter(|shot| problem.spots[*shot].after.is_none()).collect();
    let across = |shot: usize| (problem.spots[shot].wall, problem.spots[shot].x);
    crate::order::sort_by(&mut free, |a, b| {
        let (a, b) = (across(*a), across(*b));
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    let wall = |at: usize| problem.spots[free[at]].wall;
    let is_end = |at: usize| {
        at == 0 || at + 1 == free.len() || wall(at - 1) != wall(at) || wall(at) != wall(at + 1)
    };
    let mut firsts: Vec<usize> =
        (0..free.len()).filter(|at| is_end(*at)).map(|at| free[at]).collect();
    let mut random = Random::new(1);
    while firsts.len() < most.min(free.len()) {
        let shot = free[random.below(free.len())];
        if !firsts.contains(&shot) {
            firsts.push(shot);
        }
    }
    firsts.truncate(most);
    firsts
}

/// Row by row; the wishes come before the rows.
fn rows(problem: &Problem, by_height: bool, backwards: bool, walls_together: bool) -> Vec<usize> {
    let steps = steps(problem);
    let key = |shot: usize| {
        let spot = &problem.spots[shot];
        let height = if by_height { spot.y } else { 0.0 };
        let across = if backwards { -spot.x } else { spot.x };
        let wall = if walls_together { 0 } else { spot.wall };
        (wall, height, steps[shot], spot.wall, across)
    };
    let mut wanted: Vec<usize> = (0..problem.n_shots()).collect();
    crate::order::sort_by(&mut wanted, |a, b| {
        let (a, b) = (key(*a), key(*b));
        a.0.cmp(&b.0)
            .then(a.1.total_cmp(&b.1))
            .then(a.2.cmp(&b.2))
            .then(a.3.cmp(&b.3))
            .then(a.4.total_cmp(&b.4))
    });
    granted(problem, &wanted)
}

/// The order that is nearest to a wanted one and keeps what must set first, and the wishes.
pub(super) fn granted(problem: &Problem, wanted: &[usize]) -> Vec<usize> {
    let mut rank = vec![0; wanted.len()];
    for (at, shot) in wanted.iter().enumerate() {
        rank[*shot] = at;
    }
    let mut open = Open::new(problem);
    let mut order = Vec::with_capacity(wanted.len());
    // Without wishes the least of those that may come next is on top of a heap.
    if problem.first.is_none() && !problem.walls_in_turn {
        let ranked = |shot: &usize| Reverse((rank[*shot], *shot));
        let mut next: BinaryHeap<_> = open.heads.iter().map(ranked).collect();
        while let Some(Reverse((_, shot))) = next.pop() {
            next.extend(open.make(shot).iter().map(ranked));
            order.push(shot);
        }
        return order;
    }
    while let Some(shot) = open.least(|shot| rank[shot]) {
        open.make(shot);
        order.push(shot);
    }
    order
}

/// To and fro along each wall: where a row ends, the next begins so far back that its foam has set,
/// goes to the end once more, and then on beyond where it began.
fn to_and_fro(problem: &Problem, backwards: bool) -> Vec<usize> {
    let steps = steps(problem);
    let mut along: Vec<usize> = (0..problem.n_shots()).collect();
    crate::order::sort_by(&mut along, |a, b| {
        let (a, b) = (&problem.spots[*a], &problem.spots[*b]);
        a.wall.cmp(&b.wall).then(a.x.total_cmp(&b.x))
    });
    let mut turn = Turn { problem, set: vec![0.0; along.len()], end: 0.0, order: Vec::new() };
    for wall in along.chunk_by(|a, b| problem.spots[*a].wall == problem.spots[*b].wall) {
        let n_rows = wall.iter().map(|shot| steps[*shot] + 1).max().unwrap_or(0);
        let mut backwards = backwards;
        for step in 0..n_rows {
            let mut row: Vec<usize> =
                wall.iter().copied().filter(|shot| steps[*shot] == step).collect();
            if backwards {
                row.reverse();
            }
            turn.row(&mut row);
            backwards = !backwards;
        }
    }
    turn.order
}

/// How far back a row is begun at most, in shots.
const BACK: usize = 80;

/// An order that grows by rows.
struct Turn<'a> {
    problem: &'a Problem,
    /// From when on each shot may be made.
    set: Vec<f64>,
    end: f64,
    order: Vec<usize>,
}

impl Turn<'_> {
    /// Makes a row, whose first shots are the nearest, from where it costs least.
    fn row(&mut self, row: &mut [usize]) {
        let mut best = (f64::INFINITY, 0);
        for back in 0..=row.len().min(BACK) {
            row[..back].reverse();
            let costs = self.costs(row);
            row[..back].reverse();
            if costs < best.0 {
                best = (costs, back);
            }
        }
        let (_, best) = best;
        row[..best].reverse();
        for &shot in &*row {
            (self.end, _) = self.step(self.order.last().copied(), self.end, shot);
            for above in self.problem.all_above(shot) {
                self.set[above] = self.end + self.problem.times.setting;
            }
            self.order.push(shot);
        }
    }

    /// The end of a row, with what its nozzles are worth.
    fn costs(&self, row: &[usize]) -> f64 {
        let (mut end, mut costs, mut last) = (self.end, 0.0, self.order.last().copied());
        for &shot in row {
            let (next, nozzle) = self.step(last, end, shot);
            (end, last, costs) = (next, Some(shot), costs + nozzle);
        }
        end + costs
    }

    /// When a shot ends, and what its nozzle costs.
    fn step(&self, last: Option<usize>, end: f64, shot: usize) -> (f64, f64) {
        let (start, costs) = last
            .map_or((0.0, 0.0), |last| started(self.problem, (last, end), shot, self.set[shot]));
        (start + self.problem.spots[shot].spray, costs)
    }
}

/// When a shot would start after another and its end, once it may, and what its gap would cost.
fn started(problem: &Problem, (last, end): (usize, f64), shot: usize, ready: f64) -> (f64, f64) {
    let (times, way) = (&problem.times, problem.way(last, shot));
    let start = longer(end + way, ready);
    if start - end <= times.idle {
        return (start, 0.0);
    }
    (longer(start, end + way + times.change), times.nozzle)
}

/// The position of each shot in its column.
fn steps(problem: &Problem) -> Vec<usize> {
    let mut steps = vec![0; problem.n_shots()];
    for shot in 0..steps.len() {
        steps[shot] = problem.all_below(shot).map(|below| steps[below] + 1).max().unwrap_or(0);
    }
    steps
}

/// The shots that may come next.
struct Open<'a> {
    problem: &'a Problem,
    /// Those, and some that were made since; they are cleared away from time to time, because there are
    /// thousands in a large job.
    heads: Vec<usize>,
    is_head: Vec<bool>,
    n_made: usize,
    /// How many shots must still come before each.
    waits_for: Vec<usize>,
    /// The shots that are held to come after each.
    pinned: Vec<Option<usize>>,
    begun: bool,
}

impl<'a> Open<'a> {
    fn new(problem: &'a Problem) -> Self {
        let n_shots = problem.n_shots();
        let mut pinned = vec![None; n_shots];
        let mut waits_for = vec![0; n_shots];
        for (shot, spot) in problem.spots.iter().enumerate() {
            waits_for[shot] = problem.all_below(shot).chain(spot.pinned_after).count();
            if let Some(before) = spot.pinned_after {
                pinned[before] = Some(shot);
            }
        }
        let is_head: Vec<bool> = waits_for.iter().map(|n_before| *n_before == 0).collect();
        let heads = (0..n_shots).filter(|shot| is_head[*shot]).collect();
        Self { problem, heads, is_head, n_made: 0, waits_for, pinned, begun: false }
    }

    /// The shots the wishes allow next.
    fn allowed(&self) -> impl Iterator<Item = usize> {
        let spots = &self.problem.spots;
        let heads = || self.heads.iter().copied().filter(|shot| self.is_head[*shot]);
        let turn = self.problem.walls_in_turn.then(|| heads().map(|shot| spots[shot].turn).min());
        let first = self.problem.first.filter(|_| !self.begun);
        heads().filter(move |shot| {
            turn.is_none_or(|turn| turn == Some(spots[*shot].turn))
                && first.is_none_or(|first| first == *shot)
        })
    }

    fn n_heads(&self) -> usize {
        self.heads.len() - self.n_made
    }

    fn least(&self, key: impl Fn(usize) -> usize) -> Option<usize> {
        self.allowed().min_by_key(|shot| key(*shot))
    }

    /// Makes a shot; those that may come next because of it.
    fn make(&mut self, shot: usize) -> &[usize] {
        self.begun = true;
        self.is_head[shot] = false;
        self.n_made += 1;
        if self.heads.len() < 2 * self.n_made {
            self.heads.retain(|head| self.is_head[*head]);
            self.n_made = 0;
        }
        let n_before = self.heads.len();
        for next in self.problem.all_above(shot).chain(self.pinned[shot]) {
            self.waits_for[next] -= 1;
            if self.waits_for[next] == 0 {
                self.is_head[next] = true;
                self.heads.push(next);
            }
        }
        &self.heads[n_before..]
    }
}

/// A list that grows by the shot that costs least.
struct List<'a> {
    problem: &'a Problem,
    open: Open<'a>,
    taste: Taste,
    /// From when on each shot may be made.
    ready: Vec<f64>,
    /// What follows in the column above each shot.
    tail: Vec<f64>,
    end: f64,
}

impl<'a> List<'a> {
    fn new(problem: &'a Problem, taste: Taste) -> Self {
        let n_shots = problem.n_shots();
        let mut tail = vec![0.0; n_shots];
        for shot in (0..n_shots).rev() {
            let spot = &problem.spots[shot];
            let with = tail[shot] + spot.spray + problem.times.setting;
            for below in problem.all_below(shot) {
                tail[below] = longer(tail[below], with);
            }
        }
        Self { problem, open: Open::new(problem), taste, ready: vec![0.0; n_shots], tail, end: 0.0 }
    }

    fn order(mut self) -> Vec<usize> {
        let mut order: Vec<usize> = Vec::with_capacity(self.problem.n_shots());
        while let Some(shot) = self.next(order.last().copied()) {
            let start = order.last().map_or(0.0, |last| {
                started(self.problem, (*last, self.end), shot, self.ready[shot]).0
            });
            self.end = start + self.problem.spots[shot].spray;
            for above in self.problem.all_above(shot) {
                self.ready[above] = self.end + self.problem.times.setting;
            }
            self.open.make(shot);
            order.push(shot);
        }
        order
    }

    fn next(&self, last: Option<usize>) -> Option<usize> {
        let Some(last) = last else {
            let wished = self.taste.first.filter(|first| self.open.allowed().any(|s| s == *first));
            return wished.or_else(|| self.open.least(|shot| shot));
        };
        if MANY < self.open.n_heads()
            && !self.problem.walls_in_turn
            && let Some(near) = self.near(last)
        {
            return Some(near);
        }
        self.best(last, self.open.allowed())
    }

    /// The best of the nearest, where one of them can be made without a wait.
    fn near(&self, last: usize) -> Option<usize> {
        let near = self.problem.near[last].iter().copied();
        let free = near.filter(|shot| {
            // A shot that was made is no head; its start is known to be past.
            self.open.is_head[*shot] && self.ready[*shot] <= self.end + self.problem.times.idle
        });
        self.best(last, free)
    }

    fn best(&self, last: usize, shots: impl Iterator<Item = usize>) -> Option<usize> {
        let mut best: Option<(f64, usize)> = None;
        for shot in shots {
            let (start, costs) = started(self.problem, (last, self.end), shot, self.ready[shot]);
            let added = start - self.end;
            let wait = added - self.problem.way(last, shot);
            let score =
                added + costs + self.taste.patience * wait - self.taste.column * self.tail[shot];
            if best.is_none_or(|(least, _)| score < least) {
                best = Some((score, shot));
            }
        }
        best.map(|(_, shot)| shot)
    }
}
