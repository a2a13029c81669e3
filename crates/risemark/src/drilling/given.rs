//! Holes that are not the planner's to choose, and what they leave it to fill.

use crate::{
    drilling::{
        clearance::SLACK,
        legal::{Column, Even, Ground},
        lines::PARTS,
        near::Near,
    },
    finding::Avoided,
    geometry::Point,
    job::{OwnHole, OwnState},
    quantity::{from_whole, to_whole},
};

/// A hole that is not the planner's to choose, in the column that it serves.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct GivenHole {
    /// Its position in the wall's list.
    pub(super) number: usize,
    /// The column it serves.
    pub(super) column: usize,
    pub(super) at: Point,
    /// What it is nearer to than the rules let it be.
    pub(super) too_near: Vec<Avoided>,
}

/// What people have said of the holes of a wall.
#[derive(Debug, Default)]
pub(super) struct Given {
    /// The holes that serve a column.
    pub(super) holes: Vec<GivenHole>,
    /// Places where the planner's hole is left out, each with its position in the list and its column.
    pub(super) left_out: Vec<(usize, usize, Point)>,
    /// Holes that no column has, by their position in the list.
    pub(super) strays: Vec<usize>,
}

/// Finds the column of every hole that people have set, drilled or left out.
///
/// A hole that the plan had marked is given up where the rules no longer let it be.
pub(super) fn given(ground: &Ground<'_>, columns: &[Column], own: &[OwnHole]) -> Given {
    let mut given = Given::default();
    for (number, hole) in own.iter().enumerate() {
        let column = columns.iter().position(|column| holds(ground, column, hole.at));
        let Some(column) = column else {
            if hole.state != OwnState::Marked {
                given.strays.push(number);
            }
            continue;
        };
        if hole.state == OwnState::LeftOut {
            given.left_out.push((number, column, hole.at));
            continue;
        }
        let too_near = too_near(&ground.near[columns[column].compartment], hole.at);
        if hole.state != OwnState::Marked || too_near.is_empty() {
            given.holes.push(GivenHole { number, column, at: hole.at, too_near });
        }
    }
    crate::order::sort_by(&mut given.holes, |a, b| {
        let height = |hole: &GivenHole| hole.at.y.value;
        a.column.cmp(&b.column).then(height(a).total_cmp(&height(b)))
    });
    given
}

/// What is left to the planner: each column, or where a hole is given, the stretches between.
pub(super) fn stretches(
    ground: &Ground<'_>,
    columns: &[Column],
    given: &[GivenHole],
) -> Vec<(usize, Column)> {
    let mut stretches = Vec::new();
    for (at, column) in columns.iter().enumerate() {
        let holes = given.iter().filter(|hole| hole.column == at);
        let heights: Vec<f64> = holes.map(|hole| ground.rows(hole.at.y)).collect();
        if heights.is_empty() {
            stretches.push((at, column.clone()));
        } else {
            stretches.extend(between(column, &heights).into_iter().map(|part| (at, part)));
        }
    }
    stretches
}

/// The rows that holes are on already.
pub(super) fn taken(ground: &Ground<'_>, given: &[GivenHole]) -> Vec<i64> {
    given.iter().map(|hole| to_whole(ground.rows(hole.at.y).round())).collect()
}

fn holds(ground: &Ground<'_>, column: &Column, at: Point) -> bool {
    let polygon = &ground.near[column.compartment].compartment.polygon;
    let inside = polygon.across(at.y).iter().any(|span| span.contains(at.x));
    inside && column.within.contains(at.x)
}

/// What a hole is nearer to than the rules let it be.
pub(super) fn too_near(near: &Near<'_>, at: Point) -> Vec<Avoided> {
    let free = near.open(at.y, near.compartment.polygon.bounds().x);
    if free.iter().any(|span| span.widened(SLACK).contains(at.x)) {
        return Vec::new();
    }
    let blocked = near.blocked_by(at);
    if blocked.is_empty() { vec![Avoided::Timber] } else { blocked }
}

/// The stretches of a column that its holes, at heights in rows, leave unfilled.
fn between(column: &Column, heights: &[f64]) -> Vec<Column> {
    let slack = 1e-6;
    let (start, window) = (from_whole(column.start), from_whole(column.window));
    let spread = from_whole(column.spread);
    let mut stretches = Vec::new();
    let mut below: Option<f64> = None;
    for &height in heights {
        let limit = below.map_or(start, |below| below + spread);
        if limit + slack < height {
            let last = height - spread - slack;
            stretches.push(stretch(column, (below, Some(height)), (limit, last)));
        }
        below = Some(height);
    }
    if below.is_none_or(|below| below + slack < window) {
        let limit = below.map_or(start, |below| below + spread);
        stretches.push(stretch(column, (below, None), (limit, window)));
    }
    stretches
}

/// The part of a column between two holes: the first of its own holes at a limit or lower, the last
/// at another or higher.
fn stretch(
    column: &Column,
    (below, above): (Option<f64>, Option<f64>),
    (start, window): (f64, f64),
) -> Column {
    let inside = |row: i64| {
        let row = from_whole(row);
        below.is_none_or(|below| below + 0.5 < row) && above.is_none_or(|above| row + 0.5 < above)
    };
    let rows = (column.first..).zip(&column.across);
    let across = rows.map(|(row, place)| place.filter(|_| inside(row))).collect();
    let parts = |row: f64| to_whole((row * from_whole(PARTS)).round());
    Column {
        across,
        start: to_whole((start + 1e-6).floor()),
        window: to_whole((window - 1e-6).ceil()),
        even: Even {
            from: below.map_or(column.even.from, parts),
            to: above.map_or(column.even.to, parts),
            n_given: usize::from(above.is_some()),
        },
        ..column.clone()
    }
}
