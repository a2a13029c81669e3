//! The rule for vertical distances, held on every plumb line of an air space.
//!
//! A hole counts on the plumb lines within its reach: there its foam drops, and rises to it. Which holes
//! count changes only at the ends of their reach, and the stretch of air space only at corners; so the
//! lines beside those places stand for all others.

use crate::drilling::brick::{
    demands::{Demand, even},
    gaps::SLACK,
    plane::{Plane, Rise, Spot},
};

/// A vertical distance that is too long, with the holes at its ends; without one at the bottom or the top.
#[derive(Debug, Clone, Copy)]
pub(super) struct TooFar {
    pub(super) below: Option<Spot>,
    pub(super) above: Option<Spot>,
    pub(super) distance: i64,
    pub(super) most: i64,
    /// What a hole has to meet so that it is no longer too long.
    pub(super) demand: Demand,
}

/// Beside an edge, in micrometres.
const HAIR: i64 = 5;

/// Distances that are longer than the rule lets them be, near a stretch across; none where it is kept.
pub(super) fn too_far(
    plane: &Plane,
    holes: &[Spot],
    (left, right): (i64, i64),
) -> impl Iterator<Item = TooFar> {
    let far = plane.reach + SLACK;
    let near = |hole: &&Spot| left - far <= hole.x && hole.x <= right + far;
    let mut holes: Vec<Spot> = holes.iter().filter(near).copied().collect();
    crate::order::sort(&mut holes);
    let rises = plane.rise.into_iter();
    rises.flat_map(move |rise| {
        let lines = lines(plane, &holes, (left, right));
        let holes = holes.clone();
        lines.into_iter().flat_map(move |x| {
            let line = Line { rise, x, aside: far };
            let beside = holes.iter().filter(|hole| (hole.x - x).abs() <= far);
            let beside: Vec<Spot> = beside.copied().collect();
            plane.runs(x).flat_map(move |run| line.too_far(run, &beside)).collect::<Vec<_>>()
        })
    })
}

/// What the rule asks of holes that lie on certain heights alone, on lines at a pitch.
///
/// Rows are at most one distance apart just when every stretch of one distance over the bottom or over a
/// height that can bear a row has a row in it.
pub(super) fn demands(plane: &Plane, pitch: i64, heights: &[i64]) -> Vec<Demand> {
    let mut demands = Vec::new();
    let Some(rise) = plane.rise else { return demands };
    for x in at_pitch(plane, pitch) {
        let line = Line { rise, x, aside: plane.reach + SLACK };
        for (bottom, top) in plane.runs(x) {
            let last = line.last((bottom, top));
            demands.push(line.demand(last, top));
            if bottom + rise.most < last {
                demands.push(line.demand(bottom, bottom + rise.most));
            }
            let first = heights.partition_point(|&height| height < bottom);
            let between = heights[first..].iter().take_while(|&&height| height < last);
            demands.extend(between.map(|height| line.above(*height, top)));
        }
    }
    demands.retain(|demand| demand.has_room(plane));
    demands
}

/// A plumb line on which the rule is asked.
#[derive(Debug, Clone, Copy)]
struct Line {
    rise: Rise,
    x: i64,
    /// How far aside a hole counts.
    aside: i64,
}

impl Line {
    /// The distances in a stretch of the line that are too long, with the holes that count.
    fn too_far(self, (bottom, top): (i64, i64), holes: &[Spot]) -> Vec<TooFar> {
        let (rise, last) = (self.rise, self.last((bottom, top)));
        let (mut from, mut below) = (bottom, None);
        let mut found = Vec::new();
        for hole in holes.iter().filter(|hole| bottom <= hole.y && hole.y <= top) {
            if rise.most < hole.y - from {
                let demand = match below {
                    None => self.demand(bottom, bottom + rise.most),
                    Some(_) => self.above(from, top),
                };
                let (above, distance, most) = (Some(*hole), hole.y - from, rise.most);
                found.push(TooFar { below, above, distance, most, demand });
            }
            (from, below) = (hole.y, Some(*hole));
        }
        let (distance, most) = (top - from, rise.top_reach);
        if most < distance {
            let demand = self.demand(last, top);
            found.push(TooFar { below, above: None, distance, most, demand });
        }
        found
    }

    /// The lowest height from which foam rises to the top of a stretch.
    fn last(self, (bottom, top): (i64, i64)) -> i64 {
        (top - self.rise.top_reach).max(bottom)
    }

    /// A hole in the distance over a height.
    fn above(self, height: i64, top: i64) -> Demand {
        self.demand(height + 1, (height + self.rise.most).min(top))
    }

    fn demand(self, from: i64, to: i64) -> Demand {
        Demand::row(self.x, (from, to), self.aside)
    }
}

/// The lines on both sides of every place where something changes.
fn lines(plane: &Plane, holes: &[Spot], (left, right): (i64, i64)) -> Vec<i64> {
    let [first, last, ..] = plane.bounds();
    let far = plane.reach + SLACK;
    let mut lines = vec![left, right, first + HAIR, last - HAIR];
    lines.extend(plane.corners().flat_map(|corner| [corner.x - HAIR, corner.x + HAIR]));
    lines.extend(holes.iter().flat_map(|hole| [hole.x - far - 1, hole.x + far + 1]));
    if plane.is_raked() {
        // Under a slope a line with more holes may be the taller one.
        lines.extend(holes.iter().flat_map(|hole| [hole.x - far, hole.x + far]));
    }
    lines.retain(|x| left <= *x && *x <= right && first < *x && *x < last);
    crate::order::sort(&mut lines);
    lines.dedup();
    lines
}

/// Lines all over an air space.
fn at_pitch(plane: &Plane, pitch: i64) -> Vec<i64> {
    let [left, right, ..] = plane.bounds();
    let mut lines = even(left + HAIR, right - HAIR, pitch);
    lines.extend(plane.corners().flat_map(|corner| [corner.x - HAIR, corner.x + HAIR]));
    lines.retain(|x| left < *x && *x < right);
    crate::order::sort(&mut lines);
    lines.dedup();
    lines
}
