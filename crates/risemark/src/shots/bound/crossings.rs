//! The walking that settings force.
//!
//! A line across a wall has columns on both sides. Where those of one side are too few to fill a
//! setting, the gun has to leave them for every lift and to come back, or to wait. Every move over the
//! line is as long as the gap between the columns beside it, whatever it does elsewhere; so moves over
//! different lines add up. What a side has to walk or wait by itself falls as it is left more often;
//! with what all other lines take at least, that tells how often it has to be left. A single visit begins
//! and ends in one place each, so that a line with both of them on one side is crossed to and fro.

use super::{
    super::problem::{Problem, longer},
    ROUNDING, Wall,
    pieces::{Piece, spreads},
};
use crate::quantity::count;

/// The lines of a wall between its columns, from one end to the other.
pub(super) struct Crossings {
    lines: Vec<Line>,
    /// What each shot walks at least where it follows another, for the shots up to each line.
    walked: Vec<f64>,
    /// How many shots stand before each line.
    n_before: Vec<usize>,
    /// What one shot walks at most of that.
    longest: f64,
    /// Whether what is walked between lines may begin or end at each: a move more over such a line
    /// takes no less than the shot that it may save a walk.
    is_end: Vec<bool>,
}

/// A line across the wall.
struct Line {
    /// How long a move over it takes, as far as it lies between the columns beside it.
    width: f64,
    /// For both sides, what moves and waits there take at least, by the number of stays from one.
    sides: [Vec<f64>; 2],
}

/// Where the first and the last shot of a visit may lie: each behind so many lines, from and to.
#[derive(Clone, Copy)]
struct Ends([[usize; 2]; 2]);

/// So many shots of a side are looked at; more can fill a setting.
const FEW: usize = 120;
/// Above so many shots, what takes the square of their number is left out.
const MANY: usize = 600;
/// Columns closer than this, in metres, stand in one line.
const LEVEL: f64 = 1e-3;
/// Into so many parts a wall falls, in which its first and its last shot may lie.
const PARTS: usize = 6;
/// Halvings of the time that is looked for.
const HALVINGS: usize = 24;

impl Crossings {
    pub(super) fn new(problem: &Problem, wall: &Wall) -> Self {
        let x = |shot: usize| problem.spots[shot].x;
        let mut along = if wall.shots.len() <= MANY { wall.shots.clone() } else { Vec::new() };
        crate::order::sort_by(&mut along, |a, b| x(*a).total_cmp(&x(*b)));
        let gaps = |at: &usize| LEVEL < x(along[*at]) - x(along[*at - 1]);
        let places: Vec<usize> = (1..along.len()).filter(gaps).collect();
        let lines = places.iter().map(|at| Line {
            width: (x(along[*at]) - x(along[*at - 1])) * problem.times.per_metre,
            sides: [
                excesses(problem, &side(problem, wall, &along[..*at])),
                excesses(problem, &side(problem, wall, &along[*at..])),
            ],
        });
        let lines: Vec<Line> = lines.collect();
        let mut widths: Vec<f64> = lines.iter().map(|line| line.width).collect();
        crate::order::sort_numbers(&mut widths);
        let usual = widths.get(widths.len() / 2).copied().unwrap_or(0.0);
        let walks = along.iter().map(|shot| least_walk(problem, &along, *shot).min(usual));
        let walks: Vec<f64> = walks.collect();
        let ends = || std::iter::once(0).chain(places.iter().copied()).chain([along.len()]);
        Self {
            is_end: lines.iter().map(|line| usual <= line.width).collect(),
            lines,
            walked: ends().map(|at| walks[..at].iter().sum()).collect(),
            n_before: ends().collect(),
            longest: walks.iter().copied().fold(0.0, f64::max),
        }
    }

    /// What moves and waits of all visits to the wall take at least, the tubes not counted.
    pub(super) fn least(&self, n_visits: usize) -> f64 {
        // With so much no line is ever held to be crossed more often. What is walked between lines
        // counts as well: where the sides of most lines are too large to be looked at, it is most of it.
        let most = |line: &Line| 2 * (line.sides.iter().map(Vec::len).max().unwrap_or(0) + 1);
        let most: Vec<usize> = self.lines.iter().map(most).collect();
        let mut least = self.least_of(&most, n_visits).all;
        for ends in self.ends(n_visits) {
            let is_too_little = |tried: f64| tried < self.forced(tried, n_visits, ends);
            // Other ends do with less.
            if is_too_little(least) {
                continue;
            }
            let (mut from, mut to) = (0.0, least);
            for _ in 0..HALVINGS {
                let tried = f64::midpoint(from, to);
                // No schedule that takes so little moves and waits so little.
                if is_too_little(tried) { from = tried } else { to = tried }
            }
            least = from;
        }
        least
    }

    /// All places of the first and the last shot, which are told apart for a single visit alone. Which of
    /// both is the first makes no difference.
    fn ends(&self, n_visits: usize) -> Vec<Ends> {
        let n_places = self.lines.len() + 1;
        let n_parts = if n_visits == 1 { PARTS.min(n_places) } else { 1 };
        let part = |at: usize| [at * n_places / n_parts, (at + 1) * n_places / n_parts - 1];
        let all = (0..n_parts).flat_map(|a| (a..n_parts).map(move |b| (a, b)));
        all.map(|(a, b)| Ends([part(a), part(b)])).collect()
    }

    /// What every schedule with such ends moves and waits that does so for no longer than a given time.
    fn forced(&self, allowed: f64, n_visits: usize, ends: Ends) -> f64 {
        let mut moves = vec![usize::from(n_visits == 1); self.lines.len()];
        loop {
            let least = self.least_of(&moves, n_visits);
            if allowed < least.all {
                return least.all;
            }
            let mut more = false;
            for (at, line) in self.lines.iter().enumerate() {
                let left = stays(&line.sides[0], allowed - least.from[at]);
                let right = stays(&line.sides[1], allowed - least.up_to[at]);
                let needed = if n_visits == 1 {
                    ends.moves(at, [left, right])
                } else {
                    moves_of(n_visits, [left, right])
                };
                more |= moves[at] < needed;
                moves[at] = moves[at].max(needed);
            }
            if !more {
                return least.all;
            }
        }
    }

    /// What so many moves over each line take at least; between two lines, moves from shot to shot may
    /// take more.
    fn least_of(&self, moves: &[usize], n_visits: usize) -> Least {
        let n_lines = self.lines.len();
        let over = |line: usize| self.lines[line].width * count(moves[line]);
        // The moves over the first lines.
        let mut first = vec![0.0; n_lines + 1];
        for line in 0..n_lines {
            first[line + 1] = first[line] + over(line);
        }
        let all_moves = first[n_lines];
        // Between the ends and lines, counted from the left end.
        let between = |from: usize, to: usize| {
            let n_moves =
                |end: usize| if end == 0 || end == n_lines + 1 { 0 } else { moves[end - 1] };
            let n_stays = n_moves(from) + n_moves(to) + n_visits;
            let n_shots = self.n_before[to] - self.n_before[from];
            if n_shots <= n_stays {
                return 0.0;
            }
            self.walked[to] - self.walked[from] - self.longest * count(n_stays)
        };
        // The end that is counted from the left: what lies before it, with the moves over it.
        let before = |end: usize| first[end.min(n_lines)];
        let behind = |end: usize| if end == 0 { all_moves } else { all_moves - first[end - 1] };
        let mut from: Vec<f64> = (0..n_lines).map(|line| behind(line + 1)).collect();
        let mut up_to: Vec<f64> = (0..n_lines).map(|line| before(line + 1)).collect();
        let mut all = all_moves;
        let is_end = |end: usize| end == 0 || end == n_lines + 1 || self.is_end[end - 1];
        for a in (0..=n_lines).filter(|a| is_end(*a)) {
            for b in (a + 1..=n_lines + 1).filter(|b| is_end(*b)) {
                let with = between(a, b);
                if with <= before(b - 1) - before(a) {
                    continue;
                }
                all = longer(all, before(a) + with + behind(b));
                // What lies at a line and behind it, or before it.
                if 0 < a {
                    let here = before(a) - before(a - 1) + with + behind(b);
                    from[a - 1] = longer(from[a - 1], here);
                }
                if b <= n_lines {
                    let here = before(a) + with + behind(b) - behind(b + 1);
                    up_to[b - 1] = longer(up_to[b - 1], here);
                }
            }
        }
        for line in (0..n_lines.saturating_sub(1)).rev() {
            from[line] = longer(from[line], over(line) + from[line + 1]);
        }
        for line in 1..n_lines {
            up_to[line] = longer(up_to[line], over(line) + up_to[line - 1]);
        }
        Least { all, from, up_to }
    }
}

/// What moves take at least.
struct Least {
    all: f64,
    /// Over each line and behind it.
    from: Vec<f64>,
    /// Up to each line and over it.
    up_to: Vec<f64>,
}

impl Ends {
    /// The fewest moves of a single visit over a line that has so many stays at each side: the sides take
    /// turns, and the side with both ends has one stay more than the other.
    fn moves(self, line: usize, [left, right]: [usize; 2]) -> usize {
        let Self(ends) = self;
        // How many of the ends lie left of the line, at least and at most.
        let fewest = ends.iter().filter(|[_, to]| *to <= line).count();
        let most = ends.iter().filter(|[from, _]| *from <= line).count();
        let moves = (fewest..=most).map(|n_left| match n_left {
            0 => 2 * left.max(right.saturating_sub(1)),
            1 => 2 * left.max(right) - 1,
            _ => 2 * right.max(left.saturating_sub(1)),
        });
        moves.min().unwrap_or(0)
    }
}

/// The fewest moves of several visits: in each of them the sides take turns.
fn moves_of(n_visits: usize, [left, right]: [usize; 2]) -> usize {
    let (left, right) =
        (left.max(right.saturating_sub(n_visits)), right.max(left.saturating_sub(n_visits)));
    (left + right).saturating_sub(n_visits)
}

/// The fewest stays at a side that do with so much.
fn stays(excesses: &[f64], allowed: f64) -> usize {
    let fits = excesses.iter().position(|excess| *excess <= allowed + ROUNDING);
    fits.map_or(excesses.len() + 1, |at| at + 1).max(1)
}

/// The shots of a wall on one side of a line.
fn side(problem: &Problem, wall: &Wall, shots: &[usize]) -> Wall {
    if FEW < shots.len() {
        return Wall { shots: Vec::new(), columns: Vec::new(), longest: 0, way: 0.0, work: 0.0 };
    }
    let of_column = |column: &Vec<usize>| -> Vec<usize> {
        column.iter().copied().filter(|shot| shots.contains(shot)).collect()
    };
    let columns: Vec<Vec<usize>> =
        wall.columns.iter().map(of_column).filter(|column| !column.is_empty()).collect();
    Wall {
        longest: columns.iter().map(Vec::len).max().unwrap_or(0),
        way: wall.way,
        work: shots.iter().map(|shot| problem.spots[*shot].spray).sum(),
        columns,
        shots: shots.to_vec(),
    }
}

/// What moves and waits take at least where the shots of a side are made in one stay, two and so on; with
/// as many stays as its longest column has shots there is no need to wait.
fn excesses(problem: &Problem, side: &Wall) -> Vec<f64> {
    let n_shots = side.shots.len();
    let most = side.longest.saturating_sub(1);
    let lasts = spreads(problem, side, most, Piece::Visit).into_iter().enumerate();
    let tubes = |at: usize| problem.times.set_up * count(n_shots - at - 1);
    lasts.map(|(at, lasts)| lasts - side.work - tubes(at)).collect()
}

/// The walk to the nearest other shot of a wall, or the least wait where only shots of its own column
/// that have to wait for it, or it for them, are nearer.
fn least_walk(problem: &Problem, shots: &[usize], shot: usize) -> f64 {
    let spots = &problem.spots;
    let waits = |other: usize| spots[shot].after == Some(other) || spots[other].after == Some(shot);
    let others = shots.iter().filter(|other| **other != shot);
    let wait = longer(problem.times.setting - problem.times.set_up, 0.0);
    others.fold(f64::INFINITY, |least, other| {
        let walk = problem.walk(&spots[shot], &spots[*other]);
        least.min(if waits(*other) { longer(walk, wait) } else { walk })
    })
}
