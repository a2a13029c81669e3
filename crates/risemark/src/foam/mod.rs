//! Stage 4, pour: from holes to lifts, seconds, kits and what else to buy.
//!
//! The lifts belong to a wall and are part of its plan. Everything else needs the whole job: the flow
//! from its test shots, and the kits for all walls together.

mod chance;
mod consumables;
mod kits;
mod lifts;
mod rules;
mod seconds;
mod test_shots;

use uom::ConstZero;

use crate::{
    finding::{Finding, Staged},
    job::Job,
    plan::{Plan, WallPlan},
    quantity::{Time, Volume},
};

pub use chance::Tail;
pub use consumables::{
    Consumables, Item, ItemKind, ShotTotals, Task, TaskKind, Total, consumables,
};
pub use kits::{Advice, Buying, Chance, Choice};
pub(crate) use lifts::rows;
pub use lifts::{Lift, lifts};
pub use rules::{FoamRules, KitSize};
pub(crate) use seconds::in_parts;
pub use seconds::{HolePour, Split, WallPour};
pub use test_shots::{Fit, Flow, FlowBasis, Sprayed, Within, bay_at};

/// What is shot through every hole of a job, and the foam it takes.
#[derive(Debug, Clone, PartialEq)]
pub struct PourPlan {
    /// The rules that were used.
    pub rules: FoamRules,
    /// How much foam comes in a second.
    pub flow: Flow,
    /// One entry a wall, in the order of the plan.
    pub walls: Vec<WallPour>,
    /// What all lifts take that are not filled already.
    pub volume: Volume,
    /// How long all shots take together.
    pub time: Time,
    /// What those seconds may spray at the job's confidence; `None` where nothing tells.
    pub sprayed: Option<Within<Volume>>,
    /// What to buy.
    pub buying: Buying,
}

/// What is shot through the holes of one wall, and the flow it is reckoned with; the findings are those
/// of this wall alone.
///
/// Of the plan only those walls are asked that have bays of test shots, so that it need hold no other.
pub fn pour_wall(job: &Job, plan: &Plan, wall: &WallPlan) -> Staged<(Flow, WallPour)> {
    let rules = FoamRules::of(job);
    let flow = test_shots::flow(job, plan, &rules).product;
    let pour = seconds::wall_pour(wall, &flow, &rules);
    let findings = seconds::remarks(wall, &pour, &rules);
    Staged { product: (flow, pour), findings }
}

/// Plans what is shot through the holes of a job.
pub fn pour(job: &Job, plan: &Plan) -> Staged<PourPlan> {
    let rules = FoamRules::of(job);

    // Take the flow from the test shots.
    let Staged { product: flow, mut findings } = test_shots::flow(job, plan, &rules);

    // Turn the lift of each hole into whole seconds, in one shot or several.
    let walls: Vec<WallPour> =
        plan.walls.iter().map(|wall| seconds::wall_pour(wall, &flow, &rules)).collect();
    let remarks = |(wall, pour)| seconds::remarks(wall, pour, &rules);
    findings.extend(plan.walls.iter().zip(&walls).flat_map(remarks));

    // Find the kits that finish the job, with the chance that they do.
    let buying = kits::buying(job, &walls, &flow, &rules);
    findings.extend(kits::remarks(&buying, &rules));

    crate::order::sort_by_key(&mut findings, |finding: &Finding| finding.problem.severity());
    let time = walls.iter().fold(Time::ZERO, |sum, wall| sum + wall.time);
    let n_shots = seconds::n_shots_of(&walls);
    let product = PourPlan {
        sprayed: flow.fit().map(|fit| {
            let sprayed = fit.volume(n_shots, time, rules.confidence);
            // Shots that scatter widely tell little, but no gun takes foam back.
            let low = if sprayed.low < Volume::ZERO { Volume::ZERO } else { sprayed.low };
            Within { low, ..sprayed }
        }),
        volume: buying.volume,
        time,
        rules,
        flow,
        walls,
        buying,
    };
    Staged { product, findings }
}

impl PourPlan {
    /// How much foam a kit gives, as expected: usable share and temperature.
    pub fn yield_of(&self, kit: &KitSize) -> Volume {
        kit.nominal * self.buying.share
    }
}
