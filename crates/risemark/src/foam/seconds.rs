//! Seconds: how long each hole is shot, and in how many shots.

use uom::ConstZero;

use crate::{
    drilling::Hole,
    finding::{Finding, Place, Problem},
    foam::{
        lifts::Lift,
        rules::FoamRules,
        test_shots::{Flow, Within},
    },
    plan::WallPlan,
    quantity::{Length, SAME, Time, Volume, seconds},
};

/// What is shot through the holes of one wall.
#[derive(Debug, Clone, PartialEq)]
pub struct WallPour {
    /// One entry a hole, in the order of the plan's holes.
    pub holes: Vec<HolePour>,
    /// What all of them take that are not filled already.
    pub volume: Volume,
    /// How long all shots take together.
    pub time: Time,
}

/// What is shot through one hole.
#[derive(Debug, Clone, PartialEq)]
pub struct HolePour {
    /// The mark of the hole.
    pub hole: usize,
    /// What its lift takes; never negative.
    pub volume: Volume,
    /// How long, in whole seconds; the sum of its shots.
    pub time: Time,
    /// How long it may have to be at the job's confidence; `None` where nothing tells.
    pub range: Option<Within<Time>>,
    /// Its shots one after the other, each in whole seconds; between them is the pause of the rules.
    /// None where its lift is filled already.
    pub shots: Vec<Time>,
    /// What split it.
    pub split: Option<Split>,
}

/// What splits a lift into several shots.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Split {
    /// It would take longer than a shot may.
    TooLong,
    /// It would rise more than a shot may.
    TooHigh,
    /// It would fill more than a shot may.
    TooMuch,
}

impl HolePour {
    /// The same hole once it is filled: nothing is left to shoot.
    fn done(self) -> Self {
        Self { time: Time::ZERO, range: None, shots: Vec::new(), split: None, ..self }
    }
}

/// The shots of a wall.
pub(super) fn wall_pour(wall: &WallPlan, flow: &Flow, rules: &FoamRules) -> WallPour {
    let deviations = flow.fit().map(|fit| fit.tail().within(rules.confidence));
    let pour = |(hole, lift): (&Hole, &Lift)| {
        let full = hole_pour(lift, (flow, deviations), rules);
        if hole.is_filled() { full.done() } else { full }
    };
    let holes: Vec<HolePour> = wall.drill.holes.iter().zip(&wall.lifts).map(pour).collect();
    let to_fill = holes.iter().filter(|hole| !hole.shots.is_empty());
    WallPour {
        volume: to_fill.fold(Volume::ZERO, |sum, hole| sum + hole.volume),
        time: holes.iter().fold(Time::ZERO, |sum, hole| sum + hole.time),
        holes,
    }
}

fn hole_pour(lift: &Lift, (flow, deviations): (&Flow, Option<f64>), rules: &FoamRules) -> HolePour {
    let volume = if lift.volume < Volume::ZERO { Volume::ZERO } else { lift.volume };
    let exact: Time = volume / flow.rate;
    // Who pulls the trigger at all pulls it for a second.
    let whole = if volume <= Volume::ZERO { 0.0 } else { exact.value.round().max(1.0) };
    let range =
        flow.fit().zip(deviations).and_then(|(fit, deviations)| fit.seconds_at(volume, deviations));
    let (n_shots, split) = n_shots(lift, volume, seconds(whole), rules);
    HolePour {
        hole: lift.hole,
        volume,
        time: seconds(whole),
        range,
        shots: in_parts(seconds(whole), n_shots),
        split,
    }
}

/// In how many shots a lift is filled, and what asks for the most.
fn n_shots(lift: &Lift, volume: Volume, time: Time, rules: &FoamRules) -> (f64, Option<Split>) {
    let by_time = (time / rules.longest_shot).value.ceil();
    let height = lift.to - lift.from;
    let by_height = rules.lift_height.map_or(1.0, |most| ((height - SAME) / most).value.ceil());
    // A hair over the limit is rounding.
    let by_volume = rules.shot_volume.map_or(1.0, |most| ((volume / most).value - 1e-9).ceil());
    let asked =
        [(by_time, Split::TooLong), (by_height, Split::TooHigh), (by_volume, Split::TooMuch)];
    let most = asked.into_iter().reduce(|a, b| if a.0 < b.0 { b } else { a });
    match most {
        // No shot is shorter than a second.
        Some((n_shots, split)) if 1.0 < n_shots => (n_shots.min(time.value.max(1.0)), Some(split)),
        _ => (1.0, None),
    }
}

/// Whole seconds shared as evenly as can be, the longer shots first.
pub(crate) fn in_parts(time: Time, n_shots: f64) -> Vec<Time> {
    let mut shots = Vec::new();
    let (mut left, mut to_come) = (time.value, n_shots);
    while 1.0 <= to_come {
        let share = (left / to_come).ceil();
        shots.push(seconds(share));
        left -= share;
        to_come -= 1.0;
    }
    shots
}

/// What is worth knowing of the shots of a wall.
pub(super) fn remarks(wall: &WallPlan, pour: &WallPour, rules: &FoamRules) -> Vec<Finding> {
    let marks = |which: &dyn Fn(&HolePour) -> bool| -> Vec<usize> {
        pour.holes.iter().filter(|hole| which(hole)).map(|hole| hole.hole).collect()
    };
    let split_by = |split: Split| marks(&|hole| hole.split == Some(split));
    let shots = |hole: &HolePour| hole.shots.iter().any(|shot| *shot < rules.shortest_shot);
    let height = rules.lift_height.unwrap_or(Length::ZERO);
    let volume = rules.shot_volume.unwrap_or(Volume::ZERO);
    let found = [
        Problem::ShortShots { holes: marks(&shots), least: rules.shortest_shot },
        Problem::LongShots { holes: split_by(Split::TooLong), most: rules.longest_shot },
        Problem::LiftsTooHigh { holes: split_by(Split::TooHigh), most: height },
        Problem::LiftsTooLarge { holes: split_by(Split::TooMuch), most: volume },
    ];
    let said = found.into_iter().filter(|problem| match problem {
        Problem::ShortShots { holes, .. }
        | Problem::LongShots { holes, .. }
        | Problem::LiftsTooHigh { holes, .. }
        | Problem::LiftsTooLarge { holes, .. } => !holes.is_empty(),
        _ => false,
    });
    said.map(|problem| Finding::new(Place::default(), problem).on(&wall.wall)).collect()
}

/// How many shots there are.
pub(super) fn n_shots_of(pours: &[WallPour]) -> usize {
    pours.iter().flat_map(|pour| &pour.holes).map(|hole| hole.shots.len()).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shared_seconds_are_whole_and_sum_up() {
        for (whole, n_shots) in [(61.0, 2.0), (7.0, 3.0), (5.0, 5.0), (121.0, 3.0)] {
            let shots = in_parts(seconds(whole), n_shots);
            let sum = shots.iter().fold(0.0, |sum, shot| sum + shot.value);
            assert!((sum - whole).abs() < 1e-9, "{shots:?} of {whole} in {n_shots}");
            let (first, last) = (shots[0], shots[shots.len() - 1]);
            assert!(first - last <= seconds(1.0), "even: {shots:?}");
            assert!(shots.iter().all(|shot| shot.value.fract().abs() < 1e-12), "whole: {shots:?}");
        }
    }
}
