//! The rows of a brick wall: every height of the marking step, or its bed joints alone.

use crate::{
    drilling::{brick::plane::Row, legal::Ground, near::Near},
    framing::Joints,
    quantity::{Length, at_step, to_whole},
};

/// The rows of a compartment on which holes may be, from the bottom up.
pub(super) fn rows(ground: &Ground<'_>, near: &Near<'_>) -> Vec<Row> {
    let step = ground.rules.marking_step;
    let bounds = near.compartment.polygon.bounds();
    let (first, last) = (ground.rows(bounds.y.from), ground.rows(bounds.y.to));
    let (first, last) = (to_whole(first.floor()), to_whole(last.ceil()));
    let heights: Vec<i64> = match ground.frame.joints {
        None => (first..=last).collect(),
        Some(joints) => {
            let beds = grid((joints.bed - ground.origin, joints.course), step, (first, last));
            beds.into_iter().filter(|up| (first..=last).contains(up)).collect()
        }
    };
    let row = |up: i64| {
        let free = near.free(ground.height(up), bounds.x);
        let mut free: Vec<(i64, i64)> =
            free.into_iter().map(|span| ground.marks(span)).filter(|(a, b)| a <= b).collect();
        crate::order::sort(&mut free);
        if let Some(joints) = ground.frame.joints {
            free = at_perpends(&free, joints, step);
        }
        (!free.is_empty()).then_some(Row { up, free })
    };
    heights.into_iter().filter_map(row).collect()
}

/// The free marks at which an upright joint meets a bed joint, from above or from below.
fn at_perpends(free: &[(i64, i64)], joints: Joints, step: Length) -> Vec<(i64, i64)> {
    let mut at = Vec::new();
    for &(from, to) in free {
        let perpends = grid((joints.perpend, joints.half_brick), step, (from, to));
        at.extend(
            perpends.into_iter().filter(|mark| (from..=to).contains(mark)).map(|mark| (mark, mark)),
        );
    }
    at
}

/// The marks nearest to what repeats itself from a place on, about from one mark to another.
fn grid((start, pitch): (Length, Length), step: Length, (from, to): (i64, i64)) -> Vec<i64> {
    let index = |mark: i64| ((at_step(mark, step) - start) / pitch).value;
    let (first, last) = (to_whole(index(from).floor()), to_whole(index(to).ceil()));
    let mut marks: Vec<i64> = (first..=last)
        .map(|idx| to_whole(((start + at_step(idx, pitch)) / step).value.round()))
        .collect();
    marks.dedup();
    marks
}
