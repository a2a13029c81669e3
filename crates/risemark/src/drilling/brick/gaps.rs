//! Where an air space is not covered, found exactly rather than on a sample.
//!
//! What no hole reaches is bounded by circles of the reach and by the edges of the air space. So it
//! has a corner where two circles cross, where a circle crosses an edge, or at a corner of the air
//! space; where every such place lies within the reach of a further hole, all is covered.

use crate::{
    drilling::brick::plane::{Plane, Spot},
    quantity::{from_whole, to_whole},
};

/// Distances are compared with this slack, in micrometres: a hundredth of a millimetre.
pub(super) const SLACK: i64 = 10;

/// Places that no hole reaches, one or more for every gap within a rectangle; none when it is covered.
///
/// The rectangle is given by its left, right, lower and upper end.
pub(super) fn gaps(plane: &Plane, holes: &[Spot], within: [i64; 4]) -> Vec<Spot> {
    let [left, right, bottom, top] = within;
    let far = plane.reach + SLACK;
    let is_near = |hole: &&Spot| {
        left - far <= hole.x
            && hole.x <= right + far
            && bottom - far <= hole.y
            && hole.y <= top + far
    };
    let mut holes: Vec<Spot> = holes.iter().filter(is_near).copied().collect();
    crate::order::sort(&mut holes);
    let ground = Ground { plane, holes: &holes, within, edges: edges(plane, within) };
    let mut gaps: Vec<Spot> = plane.corners().filter(|&corner| ground.is_open(corner)).collect();
    for (idx, &hole) in holes.iter().enumerate() {
        for &edge in &ground.edges {
            gaps.extend(on_edge(hole, edge, plane.reach).filter(|&spot| ground.is_open(spot)));
        }
        let round = around(hole, plane.reach).into_iter();
        gaps.extend(round.filter(|&spot| ground.is_open(spot) && ground.is_inside(spot)));
        for &next in &holes[idx + 1..] {
            if hole.y + 2 * plane.reach < next.y {
                break;
            }
            for corner in crossings(hole, next, plane.reach).into_iter().flatten() {
                gaps.extend(ground.beside(corner, [hole, next]));
            }
        }
    }
    crate::order::sort(&mut gaps);
    gaps.dedup();
    gaps
}

/// What is looked at: the holes in order of height, and the edges that are near.
struct Ground<'a> {
    plane: &'a Plane,
    holes: &'a [Spot],
    within: [i64; 4],
    edges: Vec<(Spot, Spot)>,
}

impl Ground<'_> {
    /// Whether a place is looked at and no hole reaches it.
    fn is_open(&self, spot: Spot) -> bool {
        self.is_within(spot) && self.n_reaching(spot, 1) == 0
    }

    fn is_within(&self, spot: Spot) -> bool {
        let [left, right, bottom, top] = self.within;
        left <= spot.x && spot.x <= right && bottom <= spot.y && spot.y <= top
    }

    /// How many holes reach a place, counted up to a number.
    fn n_reaching(&self, spot: Spot, enough: usize) -> usize {
        let far = self.plane.reach + SLACK;
        let low = self.holes.partition_point(|hole| hole.y < spot.y - far);
        let near = self.holes[low..].iter().take_while(|hole| hole.y <= spot.y + far);
        near.filter(|hole| hole.squared(spot) <= far * far).take(enough).count()
    }

    /// An open place beside the crossing of two circles, on the side that looks away from both holes.
    fn beside(&self, corner: Spot, [a, b]: [Spot; 2]) -> Option<Spot> {
        // Both holes reach the crossing itself; with a third there is no gap beside it.
        if !self.is_within(corner) || self.n_reaching(corner, 3) == 3 {
            return None;
        }
        let (x, y) = (2 * corner.x - a.x - b.x, 2 * corner.y - a.y - b.y);
        let long = from_whole(x).abs().max(from_whole(y).abs()).max(1.0);
        let away = |far: f64| Spot {
            x: corner.x + to_whole((from_whole(x) / long * far).round()),
            y: corner.y + to_whole((from_whole(y) / long * far).round()),
        };
        let places = [100.0, 500.0, 2_000.0, 6_000.0].into_iter().map(away);
        places.into_iter().find(|&spot| self.n_reaching(spot, 1) == 0 && self.is_inside(spot))
    }

    /// Whether a place lies in the air space.
    fn is_inside(&self, spot: Spot) -> bool {
        self.plane.stretches(spot.y).any(|(from, to)| from <= spot.x && spot.x <= to)
    }
}

/// The edges of the air space that pass a rectangle.
fn edges(plane: &Plane, [left, right, bottom, top]: [i64; 4]) -> Vec<(Spot, Spot)> {
    let edges = plane.area.edges().map(|(a, b)| (Spot::of(a), Spot::of(b)));
    let passes = |(a, b): &(Spot, Spot)| {
        a.x.min(b.x) <= right
            && left <= a.x.max(b.x)
            && a.y.min(b.y) <= top
            && bottom <= a.y.max(b.y)
    };
    edges.filter(passes).collect()
}

/// Four places on the circle of a hole, for a hole whose circle meets nothing.
fn around(hole: Spot, reach: i64) -> [Spot; 4] {
    let reach = reach + 2 * SLACK;
    let at = |x, y| Spot { x: hole.x + x, y: hole.y + y };
    [at(reach, 0), at(-reach, 0), at(0, reach), at(0, -reach)]
}

/// Where the circles of two holes cross.
fn crossings(a: Spot, b: Spot, reach: i64) -> Option<[Spot; 2]> {
    let squared = a.squared(b);
    if squared == 0 || 4 * reach * reach < squared {
        return None;
    }
    let apart = from_whole(squared);
    let (x, y) = (from_whole(b.x - a.x), from_whole(b.y - a.y));
    let beside = (from_whole(reach * reach) / apart - 0.25).max(0.0).sqrt();
    let at = |side: f64| Spot {
        x: to_whole((from_whole(a.x + b.x) / 2.0 - side * y).round()),
        y: to_whole((from_whole(a.y + b.y) / 2.0 + side * x).round()),
    };
    Some([at(beside), at(-beside)])
}

/// The two places on an edge just past the circle of a hole.
fn on_edge(hole: Spot, (a, b): (Spot, Spot), reach: i64) -> impl Iterator<Item = Spot> {
    let (x, y) = (from_whole(b.x - a.x), from_whole(b.y - a.y));
    let long = (x * x + y * y).max(1.0);
    let (to_x, to_y) = (from_whole(hole.x - a.x), from_whole(hole.y - a.y));
    let along = (to_x * x + to_y * y) / long;
    let beside = (to_x * y - to_y * x) / long.sqrt();
    // So far past it that the hole no longer counts as reaching the place.
    let past = from_whole(reach + 2 * SLACK);
    let half = (past * past - beside * beside).max(-1.0);
    let shares = (0.0 <= half).then(|| (half / long).sqrt());
    let ends = shares.into_iter().flat_map(move |half| [along - half, along + half]);
    let at = move |share: f64| Spot {
        x: a.x + to_whole((x * share).round()),
        y: a.y + to_whole((y * share).round()),
    };
    ends.filter(|share| (0.0..=1.0).contains(share)).map(at)
}
