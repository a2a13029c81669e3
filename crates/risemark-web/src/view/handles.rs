//! What lies over the drawing: outlines and grips of what is picked, and the readings of a drag.

use std::fmt::Write;

use leptos::prelude::*;
use risemark::{
    drilling::{Hole, HoleState},
    geometry::{Point, Rect},
    plan::WallPlan,
    quantity::Units,
};

use super::board::{Board, Shown, Spot, Trial, apart, scene};
use crate::{
    edit::{
        Entry, Grip, Scene,
        figure::{Figure, figure, grips},
        snap,
    },
    words,
};

/// Grips across from each other stand at least this far apart, in pixels, so that a finger finds
/// each of them and what lies between.
const ASUNDER: f64 = 88.0;

/// From the edge of the picture to the middle of a grip, at least.
const ROOM: f64 = 8.0;

/// Half of what a finger needs.
const FINGER: f64 = 22.0;

/// The grip of one of the picked entries at a spot; all of the entry where it is met anywhere else.
pub fn gripped(
    scene: Scene<'_>,
    shown: &Shown,
    picked: &[Entry],
    at: Spot,
    reach: f64,
) -> Option<(Entry, Grip)> {
    if let [entry] = picked {
        let grips = grip_spots(scene, shown, *entry);
        let middle = figure(scene, *entry).map(|figure| shown.at(centre(figure.bounds())));
        let far = |spot: Spot| apart(spot, at);
        let nearest = grips.iter().min_by(|a, b| far(a.2).total_cmp(&far(b.2)));
        let whole = middle
            .filter(|_| matches!(entry, Entry::Opening(_) | Entry::Zone(_) | Entry::Thing(_)));
        let nearer = |spot: Spot| whole.is_none_or(|middle| far(spot) < far(middle));
        if let Some((grip, _, spot)) = nearest
            && far(*spot) <= reach
            && nearer(*spot)
        {
            return Some((*entry, *grip));
        }
    }
    let place = shown.place(at);
    let met = |entry: &&Entry| {
        let far = figure(scene, **entry).map(|figure| figure.distance(place));
        far.is_some_and(|far| far <= shown.length(reach))
    };
    picked.iter().rev().find(met).map(|entry| (*entry, Grip::Whole))
}

/// Outlines and grips of what is picked, as the content of an `<svg>` as large as the drawing.
pub fn at_rest(board: Board) -> String {
    let mut out = String::new();
    let Some(planned) = board.planned.get() else { return out };
    let (picked, scene) = (board.picked(), scene(&planned));
    board.shown.with(|shown| {
        let Some(shown) = shown else { return };
        for entry in &picked {
            outline(&mut out, scene, shown, *entry, "picked");
        }
        if let [entry] = picked[..] {
            grip_marks(&mut out, &grip_spots(scene, shown, entry), board.grip.get());
        }
    });
    out
}

/// What a drag shows while it goes on; nothing without one.
pub fn in_hand(board: Board) -> String {
    let mut out = String::new();
    let Some(planned) = board.planned.get() else { return out };
    let units = board.session.units.get();
    board.trial.with(|trial| {
        let Some(trial) = trial else { return };
        let scene = Scene { wall: trial.wall(&planned.wall), frame: &trial.plan.frame };
        board.shown.with(|shown| {
            shown.iter().for_each(|shown| dragged(&mut out, scene, shown, trial, units));
        });
    });
    out
}

/// Writes shapes; a string takes whatever is written to it.
macro_rules! put {
    ($out:expr, $($parts:tt)*) => { let _written = write!($out, $($parts)*); };
}

fn outline(out: &mut String, scene: Scene<'_>, shown: &Shown, entry: Entry, class: &str) {
    let Some(figure) = figure(scene, entry) else { return };
    let spots = |points: &[Point]| {
        let spots = points.iter().map(|point| shown.at(*point));
        spots.map(|(x, y)| format!("{x:.1} {y:.1}")).collect::<Vec<_>>().join("L")
    };
    let path = match &figure {
        Figure::Rects(rects) => {
            rects.iter().map(|rect| format!("M{}Z", spots(&rect.ring()))).collect::<String>()
        }
        Figure::Line { points, .. } => format!("M{}", spots(points)),
    };
    let kind = if matches!(figure, Figure::Rects(_)) { "area" } else { "line" };
    put!(out, "<path class=\"body {kind}\" d=\"{path}\"/><path class=\"{class}\" d=\"{path}\"/>");
}

/// Each grip, where it belongs and where it is drawn.
fn grip_spots(scene: Scene<'_>, shown: &Shown, entry: Entry) -> Vec<(Grip, Spot, Spot)> {
    let Some(Rect { x, y }) = figure(scene, entry).map(|figure| figure.bounds()) else {
        return Vec::new();
    };
    let missing = |size: f64| ((ASUNDER - size) / 2.0).max(0.0);
    let (low, high) = (shown.at(Point::new(x.from, y.from)), shown.at(Point::new(x.to, y.to)));
    let (aside, along) = (missing(high.0 - low.0), missing(low.1 - high.1));
    let spot = |(grip, place): (Grip, Point)| {
        let spot = shown.at(place);
        let drawn = match grip {
            Grip::Left => (spot.0 - aside, spot.1),
            Grip::Right => (spot.0 + aside, spot.1),
            Grip::Low => (spot.0, spot.1 + along),
            Grip::High => (spot.0, spot.1 - along),
            Grip::Whole | Grip::Point(_) => spot,
        };
        (grip, spot, inside(shown, drawn))
    };
    grips(scene, entry).into_iter().map(spot).collect()
}

/// A spot as near as the picture has it, with room for a grip.
fn inside(shown: &Shown, (x, y): Spot) -> Spot {
    let within = |at: f64, from: f64, size: f64| at.max(from + ROOM).min(from + size - ROOM);
    let (left, top) = shown.shift;
    (within(x, left, shown.picture.width), within(y, top, shown.picture.height))
}

fn grip_marks(out: &mut String, grips: &[(Grip, Spot, Spot)], chosen: Grip) {
    for (grip, from, to) in grips {
        if from != to {
            put!(
                out,
                "<path class=\"stem\" d=\"M{:.1} {:.1}L{:.1} {:.1}\"/>",
                from.0,
                from.1,
                to.0,
                to.1
            );
        }
        let (x, y) = to;
        let class = if *grip == chosen { "grip chosen" } else { "grip" };
        let name = match grip {
            Grip::Whole => "whole".to_owned(),
            Grip::Left => "left".to_owned(),
            Grip::Right => "right".to_owned(),
            Grip::Low => "low".to_owned(),
            Grip::High => "high".to_owned(),
            Grip::Point(idx) => format!("point-{idx}"),
        };
        put!(
            out,
            "<g class=\"{class}\" data-grip=\"{name}\"><circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{FINGER}\"/>\
             <rect x=\"{:.1}\" y=\"{:.1}\" width=\"9\" height=\"9\"/></g>",
            x - 4.5,
            y - 4.5
        );
    }
}

fn dragged(out: &mut String, scene: Scene<'_>, shown: &Shown, trial: &Trial, units: Units) {
    let (left, top) = shown.shift;
    let (right, bottom) = (left + shown.picture.width, top + shown.picture.height);
    if let Some(across) = trial.rest.across {
        let (x, _) = shown.at(Point::new(across, across));
        put!(out, "<path class=\"guide\" d=\"M{x:.1} {top:.1}V{bottom:.1}\"/>");
    }
    if let Some(up) = trial.rest.up {
        let (_, y) = shown.at(Point::new(up, up));
        put!(out, "<path class=\"guide\" d=\"M{left:.1} {y:.1}H{right:.1}\"/>");
    }
    let class = if trial.refused.is_some() { "picked refused" } else { "picked" };
    for entry in &trial.entries {
        outline(out, scene, shown, *entry, class);
    }
    let Some(entry) = trial.entries.first() else { return };
    if !matches!(trial.grip, Grip::Low | Grip::High) {
        gaps(out, scene, shown, *entry, units);
    }
    if let Entry::Hole(at) = entry {
        may_move(out, shown, &trial.plan, *at);
    }
    let mut lines = words::told(scene, *entry, trial.grip, units);
    lines.extend(trial.refused.as_ref().map(|_| words::NOT_HERE.text().to_owned()));
    label(out, shown, trial.pointer, &lines);
}

/// How far a hole may go while every rule holds.
fn may_move(out: &mut String, shown: &Shown, plan: &WallPlan, at: usize) {
    let own = |hole: &&Hole| matches!(hole.state, HoleState::Own(own, _) if own == at);
    let Some(hole) = plan.drill.holes.iter().find(own) else { return };
    let (x, y) = shown.at(hole.centre);
    let corner = |across, up| shown.at(Point::new(across, up));
    let (up, across) = (hole.why.may_move_up, hole.why.may_move_across);
    let ((left, low), (right, high)) = (corner(across.from, up.from), corner(across.to, up.to));
    put!(
        out,
        "<path class=\"range\" d=\"M{x:.1} {low:.1}V{high:.1}M{left:.1} {y:.1}H{right:.1}\"/>"
    );
}

/// Dimension lines to the neighbours.
fn gaps(out: &mut String, scene: Scene<'_>, shown: &Shown, entry: Entry, units: Units) {
    for (from, to) in snap::gaps(scene, entry) {
        let ((a, y), (b, _)) = (shown.at(from), shown.at(to));
        put!(
            out,
            "<path class=\"gap\" d=\"M{a:.1} {y:.1}H{b:.1}M{a:.1} {:.1}v10M{b:.1} {:.1}v10\"/>",
            y - 5.0,
            y - 5.0
        );
        let text = words::gap(to.x - from.x, units);
        put!(
            out,
            "<text class=\"gap\" x=\"{:.1}\" y=\"{:.1}\">{text}</text>",
            (a + b) / 2.0,
            y - 8.0
        );
    }
}

/// Readings beside the pointer, on the side that has room, above what a finger hides.
fn label(out: &mut String, shown: &Shown, (x, y): Spot, lines: &[String]) {
    let is_left = x < shown.shift.0 + shown.picture.width / 2.0;
    let (x, side) = if is_left { (x + 18.0, "start") } else { (x - 18.0, "end") };
    let first = (y - 40.0).max(20.0);
    let mut down = first;
    for line in lines {
        put!(
            out,
            "<text class=\"told\" x=\"{x:.1}\" y=\"{down:.1}\" text-anchor=\"{side}\">{line}</text>"
        );
        down += 20.0;
    }
}

fn centre(Rect { x, y }: Rect) -> Point {
    Point::new(x.middle(), y.middle())
}
