//! Why a hole is where it is, and what breaks where the rules were set aside.

use crate::{
    drilling::{
        Reach, Space, Spot, Why,
        legal::{Column, Ground},
        near::Near,
    },
    finding::Problem,
    geometry::{Point, Span},
    quantity::{Length, SAME, from_whole, to_whole},
};

/// The reasons for one hole's place.
pub(super) fn why(ground: &Ground<'_>, columns: &[Column], spots: &[Spot], idx: usize) -> Why {
    let spot = &spots[idx];
    let column = &columns[spot.column];
    let near = &ground.near[column.compartment];
    let compartment = near.compartment;
    let bay = compartment.polygon.across(spot.at.y);
    let bay = bay.into_iter().find(|span| span.contains(spot.at.x));
    let off_centre = spot.at.x - column.centre;
    let on_centre = off_centre.abs() <= ground.rules.marking_step / 2.0 + SAME;
    let avoided =
        if on_centre { Vec::new() } else { near.blocked_by(Point::new(column.centre, spot.at.y)) };
    let (below, above) = neighbours(spots, idx);
    let reach = |from: Option<&Spot>, end: Length| Reach {
        distance: (from.map_or(end, |other| other.at.y) - spot.at.y).abs(),
        hole: from.map(|other| other.mark),
    };
    let row = ground.rules.spacing_at(compartment.depth).unwrap_or(ground.rules.spacing[0]);
    Why {
        depth: compartment.depth,
        space: Space::Bay { width: bay.map_or(compartment.clear_width, Span::length) },
        row,
        below: reach(below, column.reach.from),
        above: reach(above, column.reach.to),
        shared_with: shared_with(columns, spots, idx),
        off_centre: if on_centre { off_centre * 0.0 } else { off_centre },
        avoided,
        may_move_up: may_move_up(ground, column, (below, spot, above)),
        may_move_across: may_move_across(near, spot.at),
    }
}

/// Distances in a column that are longer than the rules let them be, or that it has no hole left.
pub(super) fn gaps(
    ground: &Ground<'_>,
    (idx, column): (usize, &Column),
    spots: &[Spot],
) -> Vec<Problem> {
    let compartment = ground.near[column.compartment].compartment;
    let row = ground.rules.spacing_at(compartment.depth).unwrap_or(ground.rules.spacing[0]);
    let mut mine: Vec<&Spot> = spots.iter().filter(|spot| spot.column == idx).collect();
    crate::order::sort_by(&mut mine, |a, b| a.at.y.value.total_cmp(&b.at.y.value));
    if mine.is_empty() {
        return vec![Problem::NoHoleLeft];
    }
    let mut gaps = Vec::new();
    let mut check = |below: Option<&Spot>, above: Option<&Spot>| {
        let from = below.map_or(column.reach.from, |spot| spot.at.y);
        let to = above.map_or(column.reach.to, |spot| spot.at.y);
        let most = if above.is_some() { row.most } else { ground.rules.top_reach };
        let mark = |spot: Option<&Spot>| spot.map(|spot| spot.mark);
        if most + SAME < to - from {
            let (below, above) = (mark(below), mark(above));
            gaps.push(Problem::HolesTooFarApart { below, above, distance: to - from, most });
        }
    };
    let mut below = None;
    for spot in mine {
        check(below, Some(spot));
        below = Some(spot);
    }
    check(below, None);
    gaps
}

/// The next holes of the same column, below and above.
fn neighbours(spots: &[Spot], idx: usize) -> (Option<&Spot>, Option<&Spot>) {
    let spot = &spots[idx];
    let mine = || spots.iter().filter(|other| other.column == spot.column);
    let height = |other: &&Spot| other.at.y.value;
    let below = mine().filter(|other| other.at.y < spot.at.y);
    let above = mine().filter(|other| spot.at.y < other.at.y);
    let by_height = |a: &&Spot, b: &&Spot| height(a).total_cmp(&height(b));
    (below.max_by(by_height), above.min_by(by_height))
}

/// How many other compartments have a hole on the same line.
fn shared_with(columns: &[Column], spots: &[Spot], idx: usize) -> usize {
    let spot = &spots[idx];
    let home = columns[spot.column].compartment;
    let level = |other: &&Spot| (other.at.y - spot.at.y).abs() <= SAME;
    let others = spots.iter().filter(level).map(|other| columns[other.column].compartment);
    let mut others: Vec<usize> = others.filter(|compartment| *compartment != home).collect();
    crate::order::sort(&mut others);
    others.dedup();
    others.len()
}

/// The unbroken run of legal rows around a hole in which every rule holds, its neighbours staying.
fn may_move_up(
    ground: &Ground<'_>,
    column: &Column,
    (below, spot, above): (Option<&Spot>, &Spot, Option<&Spot>),
) -> Span {
    let spread = from_whole(column.spread);
    let rows = |other: &Spot| ground.rows(other.at.y);
    let slack = 1e-6;
    let lowest = above.map_or(from_whole(column.window), |above| rows(above) - spread);
    let lowest = below.map_or(lowest, |below| lowest.max(rows(below) + 0.5));
    let highest = below.map_or(from_whole(column.start), |below| rows(below) + spread);
    let highest = above.map_or(highest, |above| highest.min(rows(above) - 0.5));
    let lowest = to_whole((lowest - slack).ceil()).max(column.first);
    let highest = to_whole((highest + slack).floor()).min(column.last());
    let here = to_whole(rows(spot).round());
    let run = |rows: &mut dyn Iterator<Item = i64>| {
        rows.take_while(|&row| column.legal(row)).last().map(|row| ground.height(row))
    };
    let from = run(&mut (lowest..=here).rev()).unwrap_or(spot.at.y);
    let to = run(&mut (here..=highest)).unwrap_or(spot.at.y);
    Span { from, to }
}

fn may_move_across(near: &Near<'_>, centre: Point) -> Span {
    let bay = near.compartment.polygon.bounds().x;
    let free = near.open(centre.y, bay);
    let here = free.into_iter().find(|span| span.widened(SAME).contains(centre.x));
    here.unwrap_or(Span { from: centre.x, to: centre.x })
}
