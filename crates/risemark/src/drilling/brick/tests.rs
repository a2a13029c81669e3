//! Covering alone, without the rule for vertical distances.

use super::{
    cover::{Cover, cover},
    gaps::gaps,
    plane::{Plane, Row, Spot, microns},
};
use crate::{
    geometry::{Point, Polygon, Rect, Span, difference},
    quantity::{at_step, from_whole, inches, millimeters, to_whole},
};

/// A wall with openings; holes may be everywhere outside them, on a step in inches.
fn plane((width, height): (f64, f64), step: f64, openings: &[Polygon], reach: f64) -> Plane {
    let step = inches(step);
    let whole = Rect::from_corner(inches(0.0), inches(0.0), inches(width), inches(height));
    let area = difference(&[whole.polygon()], openings);
    let area = area.into_iter().next().expect("a wall is left");
    let last = to_whole((inches(height) / step).value.round());
    let rows = (0..=last).map(|up| {
        let y = at_step(up, step);
        let end = Span { from: inches(0.0), to: inches(width) };
        let hair = millimeters(0.001);
        let taken: Vec<Span> =
            openings.iter().flat_map(|o| o.across(y)).map(|s| s.widened(-hair)).collect();
        let marks = |span: Span| {
            (to_whole((span.from / step).value.ceil()), to_whole((span.to / step).value.floor()))
        };
        let free = end.without(&taken).into_iter().map(marks).filter(|(from, to)| from <= to);
        Row { up, free: free.collect() }
    });
    Plane {
        rows: rows.collect(),
        area,
        reach: microns(inches(reach)),
        step,
        origin: inches(0.0),
        rise: None,
        given: Vec::new(),
        liked: Vec::new(),
    }
}

fn opening(left: f64, bottom: f64, width: f64, height: f64) -> Polygon {
    Rect::from_corner(inches(left), inches(bottom), inches(width), inches(height)).polygon()
}

/// The place that lies farthest from any hole, of a sample of one centimetre, with its distance.
fn farthest(plane: &Plane, found: &Cover) -> (Spot, f64) {
    let holes: Vec<Spot> = found.marks.iter().map(|&mark| plane.spot(mark)).collect();
    let [left, right, bottom, top] = plane.bounds();
    let (mut worst, mut far) = (Spot { x: 0, y: 0 }, 0);
    let pitch = 10_000;
    for row in 0..=(top - bottom) / pitch {
        let y = (bottom + row * pitch).min(top - 1).max(bottom + 1);
        for (from, to) in plane.stretches(y) {
            for column in (from.max(left) / pitch)..=(to.min(right) / pitch + 1) {
                let spot = Spot { x: (column * pitch).clamp(from, to), y };
                let near = holes.iter().map(|hole| hole.squared(spot)).min().unwrap_or(i64::MAX);
                if far < near {
                    (worst, far) = (spot, near);
                }
            }
        }
    }
    (worst, from_whole(far).sqrt() / 25_400.0)
}

/// A round opening as a polygon of many sides.
fn round(x: f64, y: f64, diameter: f64) -> Polygon {
    let corner = |idx: u32| {
        let angle = std::f64::consts::TAU * f64::from(idx) / 48.0;
        let (across, up) = (libm::cos(angle), libm::sin(angle));
        Point::new(inches(x + diameter / 2.0 * across), inches(y + diameter / 2.0 * up))
    };
    Polygon::simple((0..48).map(corner).collect())
}

/// Covers a wall, tests every centimetre of it, and returns how many holes it takes.
fn covered(plane: &Plane, rounds: usize) -> usize {
    let found = cover(plane, rounds);
    assert!(found.missed.is_empty(), "nothing is out of reach");
    let (worst, far) = farthest(plane, &found);
    let reach = from_whole(plane.reach) / 25_400.0;
    assert!(far < reach + 0.001, "{worst:?} lies {far} in from the nearest hole, at most {reach}");
    for mark in &found.marks {
        let free = plane.row_at(mark.up).and_then(|row| row.nearest(mark.across));
        assert_eq!(free, Some(mark.across), "{mark:?} lies where a hole may be");
    }
    found.marks.len()
}

/// How many holes the better of fitted staggered and square rows takes on a rectangle, by the
/// formulas as they are stated: staggered rows of n and n + 1 holes cover when
/// (k - 1)(r + e) + 2 e reaches the height, square rows when 2 e k does.
fn fitted(width: f64, height: f64, reach: f64) -> u32 {
    let one = |width: f64, height: f64| {
        let fits = (1..100_u32).filter_map(|n| {
            let pitch = width / f64::from(n);
            let band = (reach * reach - pitch * pitch / 4.0).max(0.0).sqrt();
            let (mut k, mut l) = (1_u32, 1_u32);
            if band < 0.01 {
                return None;
            }
            while f64::from(k - 1) * (reach + band) + 2.0 * band < height {
                k += 1;
            }
            while f64::from(l) * 2.0 * band < height {
                l += 1;
            }
            Some((k.div_ceil(2) * n + k / 2 * (n + 1)).min(l * n))
        });
        fits.min().unwrap_or(u32::MAX)
    };
    one(width, height).min(one(height, width))
}

const ROUNDS: usize = 600;

#[test]
fn plain_walls_take_no_more_holes_than_fitted_rows() {
    // Figures computed apart from this code, by several methods of covering; feet, reach in inches.
    let table = [
        (8.0, 8.0, [32, 16, 9]),
        (12.0, 8.0, [44, 21, 13]),
        (20.0, 8.0, [71, 34, 19]),
        (40.0, 8.0, [137, 66, 37]),
        (40.0, 12.0, [202, 92, 54]),
    ];
    for (width, height, counts) in table {
        for (reach, most) in [12.0, 18.0, 24.0].into_iter().zip(counts) {
            let (width, height) = (width * 12.0, height * 12.0);
            assert_eq!(fitted(width, height, reach), most, "{width} by {height}, {reach}");
            // On a coarser step a layout that just fits loses holes to rounding.
            let plane = plane((width, height), 0.0625, &[], reach);
            let n = covered(&plane, 0);
            let found = u32::try_from(n).expect("a few hundred holes");
            assert!(found <= most, "{width} by {height} in, {reach}: {found} holes, {most} fit");
        }
    }
    for (width, most) in [(96.0, 4), (480.0, 18)] {
        let n = covered(&plane((width, 96.0), 0.25, &[], 36.0), ROUNDS);
        assert!(n <= most, "{width}: {n} holes, {most} fit");
    }
}

#[test]
fn walls_with_openings_come_near_the_best_that_were_found() {
    // Best found by several methods, computed apart from this code; the openings have the areas of
    // those there, their places are ours.
    let (window, door) = (opening(90.0, 36.0, 60.0, 44.0), opening(24.0, 0.0, 40.0, 84.0));
    let small = |x| opening(x, 36.0, 48.0, 44.0);
    let long = [door.clone(), small(120.0), small(240.0), small(360.0)];
    let walls: [(f64, f64, &[Polygon], [usize; 3]); 3] = [
        (240.0, 96.0, std::slice::from_ref(&window), [67, 32, 19]),
        (240.0, 96.0, &[window.clone(), door], [62, 31, 19]),
        (480.0, 108.0, &long, [152, 75, 42]),
    ];
    for (width, height, openings, best) in walls {
        for (reach, best) in [12.0, 18.0, 24.0].into_iter().zip(best) {
            let n = covered(&plane((width, height), 0.25, openings, reach), ROUNDS);
            let most = (best + 1).max(best + best / 20);
            assert!(n <= most, "{width} by {height} in, {reach}: {n} holes, best found {best}");
        }
    }
}

#[test]
fn round_openings_are_covered_around() {
    let openings =
        [round(60.0, 60.0, 30.0), round(110.0, 40.0, 8.0), opening(0.0, 0.0, 20.0, 50.0)];
    let plane = plane((160.0, 100.0), 0.25, &openings, 18.0);
    let quick = covered(&plane, 0);
    let thorough = covered(&plane, ROUNDS);
    assert!(thorough <= quick, "{thorough} holes, {quick} at once");
}

#[test]
fn a_gap_of_a_tenth_of_an_inch_is_found() {
    // Four holes at the corners of a square of 24 in reach its middle from 16.97 in.
    let corners = [(0.0, 0.0), (24.0, 0.0), (0.0, 24.0), (24.0, 24.0)];
    let spots = corners.map(|(x, y)| Spot::of(Point::new(inches(x), inches(y))));
    let open = |reach: f64| {
        let plane = plane((24.0, 24.0), 0.25, &[], reach);
        !gaps(&plane, &spots, plane.bounds()).is_empty()
    };
    assert!(!open(16.98), "the middle is reached");
    assert!(open(16.87), "the middle is not");
}
