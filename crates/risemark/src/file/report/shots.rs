//! The order of the shots as plain data.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Number;

use super::{FindingReport, finding_report};
use crate::{
    file::notation::number,
    finding::Staged,
    language::Speech,
    plan::Plan,
    quantity::{Time, round_to},
    shots::{PlannedShot, ShotPlan},
};

/// The order of the shots, and the rules by which it costs what it costs.
///
/// The cost is the end of the last shot and, for every change of the nozzle, what a nozzle is worth.
/// A gap over the idle limit costs a nozzle, and so does every change of a kit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ShotsReport {
    /// Placing the tube in a hole.
    #[schemars(with = "f64")]
    pub set_up_s: Number,
    /// Walking a metre, from hole to hole in a straight line.
    #[schemars(with = "f64")]
    pub walk_s_per_m: Number,
    /// From one wall to another; the set-up comes on top.
    #[schemars(with = "f64")]
    pub cart_s: Number,
    /// From the end of a shot to the next one in its column.
    #[schemars(with = "f64")]
    pub setting_s: Number,
    /// A longer gap costs a nozzle.
    #[schemars(with = "f64")]
    pub idle_limit_s: Number,
    /// Changing a nozzle, on top of way and set-up; it may be done while foam sets.
    #[schemars(with = "f64")]
    pub nozzle_change_s: Number,
    /// How many seconds a nozzle is worth.
    #[schemars(with = "f64")]
    pub nozzle_weight_s: Number,
    /// How long a kit sprays; `null` where that is not known.
    #[schemars(with = "Option<f64>")]
    pub kit_lasts_s: Option<Number>,
    /// How long each of the next kits sprays, where they differ; all others last like the first.
    #[schemars(with = "Vec<f64>")]
    pub next_kits_last_s: Vec<Number>,
    /// Changing a kit with its nozzle and purge, on top of way and set-up.
    #[schemars(with = "Option<f64>")]
    pub kit_change_s: Option<Number>,
    /// The shots, in the order in which they are made.
    pub order: Vec<ShotReport>,
    /// The end of the last shot.
    #[schemars(with = "f64")]
    pub end_s: Number,
    /// The end, with what the changed nozzles are worth.
    #[schemars(with = "f64")]
    pub cost_s: Number,
    /// No order by these rules costs less.
    #[schemars(with = "f64")]
    pub bound_s: Number,
    /// How far the cost may lie above the least, in percent.
    #[schemars(with = "f64")]
    pub within_percent: Number,
    /// How many nozzles are used, with the first.
    pub nozzles: usize,
    /// How many kits are used, with the first.
    pub kits: usize,
    /// What there is to say of the order.
    pub findings: Vec<FindingReport>,
}

/// One shot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ShotReport {
    /// The id of the wall.
    pub wall: String,
    /// The name of the hole on that wall: the compartment and its position in the chain.
    pub hole: String,
    /// The number of the hole on that wall.
    pub mark: usize,
    /// Which of the shots through the hole, from 1.
    pub piece: usize,
    /// When it starts, from the start of the first.
    #[schemars(with = "f64")]
    pub start_s: Number,
    /// How long the gun sprays.
    #[schemars(with = "f64")]
    pub duration_s: Number,
    /// From the end of the shot before it.
    #[schemars(with = "f64")]
    pub gap_s: Number,
    /// The nozzle it is made with, from 1.
    pub nozzle: usize,
    /// The kit it is made with, from 1.
    pub kit: usize,
}

pub(super) fn shots_report(plan: &Plan, staged: &Staged<ShotPlan>, speech: Speech) -> ShotsReport {
    let shots = &staged.product;
    let crew = &shots.crew;
    ShotsReport {
        set_up_s: exact(crew.set_up),
        walk_s_per_m: exact(crew.per_metre),
        cart_s: exact(crew.cart),
        setting_s: exact(crew.setting),
        idle_limit_s: exact(crew.idle_limit),
        nozzle_change_s: exact(crew.nozzle_change),
        nozzle_weight_s: exact(crew.nozzle_weight),
        kit_lasts_s: crew.kit.map(|kit| exact(kit.lasts)),
        next_kits_last_s: crew.next_kits.iter().copied().map(exact).collect(),
        kit_change_s: crew.kit.map(|kit| exact(kit.change)),
        order: shots.order.iter().map(|shot| shot_report(plan, shot)).collect(),
        end_s: exact(shots.end),
        cost_s: exact(shots.cost),
        bound_s: exact(shots.bound),
        within_percent: number(shots.within_percent()),
        nozzles: shots.n_nozzles,
        kits: shots.n_kits,
        findings: staged
            .findings
            .iter()
            .map(|finding| finding_report(finding, speech.units))
            .collect(),
    }
}

fn shot_report(plan: &Plan, shot: &PlannedShot) -> ShotReport {
    let wall = &plan.walls[shot.wall];
    let hole = wall.hole(shot.hole);
    ShotReport {
        wall: wall.wall.id.clone(),
        hole: hole.map(|hole| format!("{}.{}", hole.compartment, hole.step)).unwrap_or_default(),
        mark: shot.hole,
        piece: shot.piece,
        start_s: exact(shot.start),
        duration_s: exact(shot.duration),
        gap_s: exact(shot.gap),
        nozzle: shot.nozzle,
        kit: shot.kit,
    }
}

/// Seconds to a millionth, so that sums and differences come out by the same rules.
fn exact(time: Time) -> Number {
    number(round_to(time.value, 1e6))
}
