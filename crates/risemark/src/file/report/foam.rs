//! Foam and kits as plain data.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Number;

use super::{FindingReport, finding_report};
use crate::{
    file::notation::number,
    finding::Staged,
    foam::{Buying, Chance, Choice, FlowBasis, PourPlan, Sprayed},
    job::Scatter,
    language::Speech,
    quantity::{Time, Volume, round_to, to_board_feet, to_mm3, to_mm3_per_second, to_seconds},
};

/// The flow of foam, and what all holes take.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FoamReport {
    /// Cubic millimetres a second, cured.
    #[schemars(with = "f64")]
    pub flow_mm3_per_s: Number,
    /// What the flow rests on: `common practice`, `one test shot` or `test shots`.
    pub basis: String,
    /// How the rise of test shots is taken to scatter.
    pub scatter: Scatter,
    /// How many test shots count.
    pub n_shots: usize,
    /// The test shots that count.
    pub test_shots: Vec<SprayedReport>,
    /// Standard error of the flow; `null` for fewer than two shots.
    #[schemars(with = "Option<f64>")]
    pub standard_error_mm3_per_s: Option<Number>,
    /// Residual standard deviation; of a shot of one second where scatter grows with the shot.
    #[schemars(with = "Option<f64>")]
    pub residual_deviation_mm3: Option<Number>,
    /// Uncentred, as belongs to a line through the origin.
    #[schemars(with = "Option<f64>")]
    pub r_squared: Option<Number>,
    /// One less than there are shots.
    pub degrees_of_freedom: Option<u32>,
    /// How sure ranges are, in percent.
    #[schemars(with = "f64")]
    pub confidence_percent: Number,
    /// What all lifts take that are not filled already.
    #[schemars(with = "f64")]
    pub volume_mm3: Number,
    /// How long all shots take together.
    #[schemars(with = "f64")]
    pub seconds: Number,
    /// What those seconds may spray, at the confidence.
    #[schemars(with = "Option<[f64; 2]>")]
    pub sprayed_range_mm3: Option<[Number; 2]>,
    /// From the end of one shot to the next through one hole.
    #[schemars(with = "f64")]
    pub pause_s: Number,
    /// Everything there is to say of foam, shots and kits, worst first.
    pub findings: Vec<FindingReport>,
}

/// One test shot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SprayedReport {
    /// Its position in the job's list, from 1.
    pub number: usize,
    /// How long was sprayed.
    #[schemars(with = "f64")]
    pub seconds: Number,
    /// What was filled.
    #[schemars(with = "f64")]
    pub volume_mm3: Number,
}

/// What to buy.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct KitsReport {
    /// What all lifts take that are not filled already, with what escapes.
    #[schemars(with = "f64")]
    pub with_waste_mm3: Number,
    /// How much of a nominal yield is expected: usable share and temperature.
    #[schemars(with = "f64")]
    pub expected_share: Number,
    /// Kits for a chance of finishing of 50, 90 and 98 percent.
    pub choices: Vec<ChoiceReport>,
    /// Nominal board feet of the kits of the curve.
    #[schemars(with = "f64")]
    pub curve_size_board_feet: Number,
    /// The chance of finishing with so many kits of that size.
    pub curve: Vec<ChanceReport>,
    /// What the kits that are there already come to.
    pub at_hand: Option<ChanceReport>,
    /// Nominal board feet of a kit more that costs less than the risk it takes away.
    #[schemars(with = "Option<f64>")]
    pub worth_adding_board_feet: Option<Number>,
}

/// Kits that finish the job with some chance.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ChoiceReport {
    /// The chance that was asked for, in percent.
    #[schemars(with = "f64")]
    pub asked_percent: Number,
    /// How many kits of which size, the largest first.
    pub kits: Vec<KitCountReport>,
    /// Their nominal yield together.
    #[schemars(with = "f64")]
    pub nominal_board_feet: Number,
    /// The chance they give, in percent.
    #[schemars(with = "f64")]
    pub chance_percent: Number,
    /// What is expected to be left in the last kit.
    #[schemars(with = "f64")]
    pub left_mm3: Number,
    /// What they cost; `null` where a price is not known.
    #[schemars(with = "Option<f64>")]
    pub cost: Option<Number>,
}

/// So many kits of one size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct KitCountReport {
    /// Nominal board feet of one.
    #[schemars(with = "f64")]
    pub board_feet: Number,
    /// How many.
    pub n_kits: u32,
}

/// The chance of finishing with some kits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ChanceReport {
    /// How many kits.
    pub n_kits: u32,
    /// Their nominal yield together.
    #[schemars(with = "f64")]
    pub nominal_board_feet: Number,
    /// The chance, in percent.
    #[schemars(with = "f64")]
    pub chance_percent: Number,
}

pub(super) fn foam_report(poured: &Staged<PourPlan>, speech: Speech) -> FoamReport {
    let pour = &poured.product;
    let fit = pour.flow.fit();
    let basis = match pour.flow.basis {
        FlowBasis::Assumed => "common practice",
        FlowBasis::OneShot => "one test shot",
        FlowBasis::Fitted(_) => "test shots",
    };
    FoamReport {
        flow_mm3_per_s: number(to_mm3_per_second(pour.flow.rate)),
        basis: basis.to_owned(),
        scatter: pour.rules.scatter,
        n_shots: pour.flow.shots.len(),
        test_shots: pour.flow.shots.iter().map(sprayed).collect(),
        standard_error_mm3_per_s: fit.map(|fit| number(to_mm3_per_second(fit.standard_error))),
        residual_deviation_mm3: fit.map(|fit| fine(fit.spread)),
        r_squared: fit.map(|fit| number(round_to(fit.r_squared, 1e15))),
        degrees_of_freedom: fit.map(crate::foam::Fit::degrees),
        confidence_percent: percent(pour.rules.confidence),
        volume_mm3: number(to_mm3(pour.volume)),
        seconds: time(pour.time),
        sprayed_range_mm3: pour
            .sprayed
            .map(|range| [range.low, range.high].map(|volume| number(to_mm3(volume)))),
        pause_s: time(pour.rules.pause),
        findings: poured
            .findings
            .iter()
            .map(|finding| finding_report(finding, speech.units))
            .collect(),
    }
}

pub(super) fn kits_report(buying: &Buying) -> KitsReport {
    KitsReport {
        with_waste_mm3: number(to_mm3(buying.with_waste)),
        expected_share: number(round_to(buying.share, 1e6)),
        choices: buying.choices.iter().map(choice).collect(),
        curve_size_board_feet: board_feet(buying.curve_size.nominal),
        curve: buying.curve.iter().map(chance).collect(),
        at_hand: buying.at_hand.as_ref().map(chance),
        worth_adding_board_feet: buying.advice.map(|advice| board_feet(advice.kit.nominal)),
    }
}

pub(super) fn time(time: Time) -> Number {
    number(to_seconds(time))
}

fn sprayed(shot: &Sprayed) -> SprayedReport {
    SprayedReport {
        number: shot.number,
        seconds: time(shot.time),
        volume_mm3: number(to_mm3(shot.volume)),
    }
}

fn choice(choice: &Choice) -> ChoiceReport {
    let kits = choice.kits.iter().map(|(size, n_kits)| KitCountReport {
        board_feet: board_feet(size.nominal),
        n_kits: *n_kits,
    });
    ChoiceReport {
        asked_percent: percent(choice.asked),
        kits: kits.collect(),
        nominal_board_feet: board_feet(choice.chance.nominal),
        chance_percent: percent(choice.chance.chance),
        left_mm3: number(to_mm3(choice.left)),
        cost: choice.cost.map(|cost| number(round_to(cost, 100.0))),
    }
}

fn chance(chance: &Chance) -> ChanceReport {
    ChanceReport {
        n_kits: chance.n_kits,
        nominal_board_feet: board_feet(chance.nominal),
        chance_percent: percent(chance.chance),
    }
}

fn board_feet(volume: Volume) -> Number {
    number(round_to(to_board_feet(volume), 1e4))
}

/// With digits enough to check a standard deviation against a published one.
fn fine(volume: Volume) -> Number {
    number(round_to(volume.value * 1e9, 1e6))
}

fn percent(share: f64) -> Number {
    number(round_to(share * 100.0, 1e4))
}
