//! The plan as plain data: what `plan --json` prints and what the JavaScript API returns.
//!
//! All lengths are millimetres, areas square millimetres, volumes cubic millimetres, angles degrees.

mod foam;
mod shots;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Number;

pub use shots::{ShotReport, ShotsReport};

pub use foam::{ChanceReport, ChoiceReport, FoamReport, KitCountReport, KitsReport, SprayedReport};

use crate::{
    compartments::Compartment,
    drilling::{Hole, HoleState, Slope},
    file::notation::{mm, number, points::pair},
    finding::{Finding, Staged},
    foam::{HolePour, Lift, PourPlan, WallPour},
    framing::{BayEffect, Member},
    geometry::{Polygon, Ring},
    job::{Construction, End, OpeningKind, OwnState},
    language::Speech,
    limits::Begins,
    plan::{Plan, WallPlan},
    quantity::{Length, Units, round_to, to_degrees, to_mm2, to_mm3, to_seconds},
    shots::ShotPlan,
    wording,
};

/// The plan of a job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PlanReport {
    /// Names the format: `risemark-plan`.
    pub format: String,
    /// The version of the format.
    pub version: u32,
    /// The rules that were used.
    pub rules: RuleReport,
    /// One entry a wall, in the order of the job.
    pub walls: Vec<WallReport>,
    /// The flow of foam, and what all holes take.
    pub foam: FoamReport,
    /// What to buy.
    pub kits: KitsReport,
    /// The order of the shots; left out where it was not planned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "ShotsReport")]
    pub shots: Option<ShotsReport>,
}

/// The rules that were used.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RuleReport {
    /// Diameter of the bit.
    #[schemars(with = "f64")]
    pub bit_mm: Number,
    /// How far holes drop into the wall.
    #[schemars(with = "f64")]
    pub angle_deg: Number,
    /// Grid on which holes are marked.
    #[schemars(with = "f64")]
    pub marking_step_mm: Number,
    /// From the edge of a hole to a member.
    #[schemars(with = "f64")]
    pub side_clearance_mm: Number,
    /// From the centre of a hole to a member: half the bit and the clearance.
    #[schemars(with = "f64")]
    pub edge_distance_mm: Number,
    /// The top hole stays at least this far below the top of its compartment.
    #[schemars(with = "f64")]
    pub top_clearance_mm: Number,
    /// The top hole of a bay lies at most this far below the highest corner of its compartment.
    #[schemars(with = "f64")]
    pub top_reach_mm: Number,
    /// A bay wider than this gets more than one column of holes.
    #[schemars(with = "f64")]
    pub wide_bay_mm: Number,
    /// The tip of the bit stays at most this far behind the finish.
    #[schemars(with = "f64")]
    pub tip_mm: Number,
    /// How far foam reaches from a hole in the air space of a brick wall.
    #[schemars(with = "f64")]
    pub brick_reach_mm: Number,
    /// The top row of an air space of brick lies at most this far below its top: its reach, or the top
    /// reach where the user has set one.
    #[schemars(with = "f64")]
    pub brick_top_reach_mm: Number,
    /// Vertical distances by cavity depth, shallow to deep.
    pub spacing: Vec<SpacingReport>,
    /// Every rule in words with its origin.
    pub listed: Vec<RuleLineReport>,
}

/// One row of the rule for vertical distances.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SpacingReport {
    /// From this depth on.
    #[schemars(with = "f64")]
    pub from_depth_mm: Number,
    /// Whether it holds at that depth itself.
    pub includes_from_depth: bool,
    /// At most this far apart.
    #[schemars(with = "f64")]
    pub most_mm: Number,
    /// Closer is seldom worth a hole.
    #[schemars(with = "f64")]
    pub preferred_mm: Number,
}

/// One rule in words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RuleLineReport {
    /// What it is.
    pub name: String,
    /// Its value with its unit.
    pub value: String,
    /// Where it comes from.
    pub origin: String,
}

/// The plan of one wall.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WallReport {
    /// Its id in the job.
    pub id: String,
    /// Its name.
    pub name: String,
    /// How it is built.
    pub kind: String,
    /// The end that readings across are taken from.
    pub datum: End,
    /// Where the framing ends, counter-clockwise from the lowest, leftmost corner.
    #[schemars(with = "Vec<[f64; 2]>")]
    pub outline: Vec<[Number; 2]>,
    /// What is seen of the wall.
    #[schemars(with = "Vec<[f64; 2]>")]
    pub face: Vec<[Number; 2]>,
    /// Every member.
    pub members: Vec<MemberReport>,
    /// Every rough opening.
    pub openings: Vec<OpeningReport>,
    /// Every empty space.
    pub compartments: Vec<CompartmentReport>,
    /// Every hole.
    pub holes: Vec<HoleReport>,
    /// Heights of the snap lines.
    #[schemars(with = "Vec<f64>")]
    pub snap_lines_mm: Vec<Number>,
    /// No plan with as few holes has fewer snap lines than this.
    pub lines_bound: usize,
    /// Readings of the hole columns, from the datum end.
    #[schemars(with = "Vec<f64>")]
    pub columns_mm: Vec<Number>,
    /// The slope of the holes in the wall's own depth.
    pub slope: SlopeReport,
    /// Everything that had to be assumed, as text with its origin.
    pub assumed: Vec<String>,
    /// What the people at the wall must know, as text with its source.
    pub cautions: Vec<String>,
    /// Everything the stages had to say, worst first.
    pub findings: Vec<FindingReport>,
}

/// One piece of timber.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MemberReport {
    /// What it is.
    pub kind: String,
    /// Its face.
    #[schemars(with = "Vec<[f64; 2]>")]
    pub polygon: Vec<[Number; 2]>,
    /// How deep it reaches into the cavity.
    #[schemars(with = "f64")]
    pub depth_mm: Number,
    /// Whether it closes the bay or only narrows it.
    pub closes: bool,
}

/// One rough opening.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OpeningReport {
    /// What it is.
    pub kind: OpeningKind,
    /// What people call it.
    pub name: String,
    /// Its area.
    #[schemars(with = "Vec<[f64; 2]>")]
    pub polygon: Vec<[Number; 2]>,
}

/// One empty space.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CompartmentReport {
    /// Its name on this wall.
    pub id: String,
    /// Its face, counter-clockwise.
    #[schemars(with = "Vec<[f64; 2]>")]
    pub polygon: Vec<[Number; 2]>,
    /// What is cut out of the face, clockwise; left out where there is nothing.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(with = "Vec<Vec<[f64; 2]>>")]
    pub inner: Vec<Vec<[Number; 2]>>,
    /// Its clear depth.
    #[schemars(with = "f64")]
    pub depth_mm: Number,
    /// Area of its face.
    #[schemars(with = "f64")]
    pub area_mm2: Number,
    /// Area times depth, less what takes volume.
    #[schemars(with = "f64")]
    pub volume_mm3: Number,
    /// Clear width where it is widest.
    #[schemars(with = "f64")]
    pub clear_width_mm: Number,
    /// Its lowest point.
    #[schemars(with = "[f64; 2]")]
    pub lowest: [Number; 2],
    /// Its highest point.
    #[schemars(with = "[f64; 2]")]
    pub highest: [Number; 2],
    /// Whether it is filled.
    pub fillable: bool,
    /// Why it is not; `null` when it is.
    pub reason: Option<String>,
    /// Whether somebody has probed it and found it clear.
    pub probed: bool,
}

/// One hole.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HoleReport {
    /// Its name on this wall: the compartment and its position in the chain.
    pub id: String,
    /// Its number on the wall.
    pub mark: usize,
    /// Who chose it and what became of it: `planned`, `marked`, `set`, `drilled` or `patched`.
    pub state: String,
    /// The compartment it fills.
    pub compartment: String,
    /// Its centre from the left end.
    #[schemars(with = "f64")]
    pub x_mm: Number,
    /// Its centre above the finished floor.
    #[schemars(with = "f64")]
    pub y_mm: Number,
    /// Its reading from the datum end.
    #[schemars(with = "f64")]
    pub across_mm: Number,
    /// What the bit does there.
    pub slope: SlopeReport,
    /// What is filled through it, in cubic millimetres.
    #[schemars(with = "f64")]
    pub lift_mm3: Number,
    /// The level from which it fills.
    #[schemars(with = "f64")]
    pub lift_from_mm: Number,
    /// The level up to which it fills.
    #[schemars(with = "f64")]
    pub lift_to_mm: Number,
    /// How long foam is shot, in whole seconds; 0 where the lift is filled already.
    #[schemars(with = "f64")]
    pub seconds: Number,
    /// How long it may have to be, at the job's confidence; `null` where nothing tells.
    #[schemars(with = "Option<[f64; 2]>")]
    pub seconds_range: Option<[Number; 2]>,
    /// Its shots, each in whole seconds, with the pause of the foam between them.
    #[schemars(with = "Vec<f64>")]
    pub shots_s: Vec<Number>,
    /// Why it is where it is.
    pub why: String,
    /// How far it may move while every rule still holds.
    pub may_move: String,
}

/// The geometry of a sloped hole.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SlopeReport {
    /// Angle below level.
    #[schemars(with = "f64")]
    pub angle_deg: Number,
    /// Drop in twelve of run.
    #[schemars(with = "f64")]
    pub in_twelve: Number,
    /// Width of the ellipse on the finish.
    #[schemars(with = "f64")]
    pub ellipse_width_mm: Number,
    /// Height of the ellipse on the finish.
    #[schemars(with = "f64")]
    pub ellipse_height_mm: Number,
    /// Drop of the axis at the back of the finish.
    #[schemars(with = "f64")]
    pub drop_behind_finish_mm: Number,
    /// Drop of the axis at the far face.
    #[schemars(with = "f64")]
    pub drop_at_far_face_mm: Number,
    /// Length along the axis to the far face.
    #[schemars(with = "f64")]
    pub length_to_far_face_mm: Number,
    /// Travel of the bit with the drill stop set.
    #[schemars(with = "f64")]
    pub travel_mm: Number,
}

/// One thing to say.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct FindingReport {
    /// `stop`, `warning` or `note`.
    pub severity: String,
    /// A stable code.
    pub code: String,
    /// The place in the users' words; of a compartment it holds the id.
    pub place: String,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub hint: String,
}

/// The plan of a job, of its foam, and of the order of its shots where it was planned, as plain data.
pub fn report(
    plan: &Plan,
    poured: &Staged<PourPlan>,
    shot: Option<&Staged<ShotPlan>>,
) -> PlanReport {
    let speech = Speech::english(plan.rules.units);
    PlanReport {
        format: "risemark-plan".to_owned(),
        version: 1,
        rules: rules(plan),
        walls: plan
            .walls
            .iter()
            .zip(&poured.product.walls)
            .map(|(wall, pour)| wall_report(wall, pour, speech))
            .collect(),
        foam: foam::foam_report(poured, speech),
        kits: foam::kits_report(&poured.product.buying),
        shots: shot.map(|shot| shots::shots_report(plan, shot, speech)),
    }
}

/// A finding as plain data; in English, as everything that scripts read.
pub fn finding_report(finding: &Finding, units: Units) -> FindingReport {
    let (problem, speech) = (&finding.problem, Speech::english(units));
    FindingReport {
        severity: wording::severity(problem.severity()).english.to_owned(),
        code: problem.code().to_owned(),
        place: wording::place(&finding.place, speech.language),
        message: wording::message(problem, speech),
        hint: wording::hint(problem).english.to_owned(),
    }
}

fn rules(plan: &Plan) -> RuleReport {
    let rules = &plan.rules;
    let spacing = rules.spacing.iter().map(|row| SpacingReport {
        from_depth_mm: mm::number(row.from_depth),
        includes_from_depth: row.begins == Begins::At,
        most_mm: mm::number(row.most),
        preferred_mm: mm::number(row.preferred),
    });
    let listed = rules.listed.iter().map(|line| RuleLineReport {
        name: line.name.english.to_owned(),
        value: wording::rule_value(line.value, Speech::english(rules.units)),
        origin: line.origin.words().english.to_owned(),
    });
    RuleReport {
        bit_mm: mm::number(rules.bit),
        angle_deg: number(to_degrees(rules.angle)),
        marking_step_mm: mm::number(rules.marking_step),
        side_clearance_mm: mm::number(rules.side_clearance),
        edge_distance_mm: mm::number(rules.edge_distance()),
        top_clearance_mm: mm::number(rules.top_clearance),
        top_reach_mm: mm::number(rules.top_reach),
        wide_bay_mm: mm::number(rules.wide_bay),
        tip_mm: mm::number(rules.tip),
        brick_reach_mm: mm::number(rules.brick_reach),
        brick_top_reach_mm: mm::number(rules.brick_top_reach),
        spacing: spacing.collect(),
        listed: listed.collect(),
    }
}

fn wall_report(plan: &WallPlan, pour: &WallPour, speech: Speech) -> WallReport {
    let frame = &plan.frame;
    let readings = |lengths: &[Length]| lengths.iter().map(|length| mm::number(*length)).collect();
    let assumed = frame.assumed.iter().map(|assumed| {
        format!(
            "{}: {}, {}",
            assumed.what.english,
            wording::assumed_value(assumed.value, speech.units),
            assumed.origin.words().english
        )
    });
    WallReport {
        id: plan.wall.id.clone(),
        name: plan.wall.name.clone(),
        kind: construction(&frame.construction).to_owned(),
        datum: frame.datum,
        outline: ring(&frame.outline.outer),
        face: ring(&frame.face.outer),
        members: frame.members.iter().map(member).collect(),
        openings: frame
            .openings
            .iter()
            .map(|opening| OpeningReport {
                kind: opening.kind,
                name: opening
                    .name
                    .clone()
                    .unwrap_or_else(|| wording::opening(opening.kind).english.to_owned()),
                polygon: ring(&opening.polygon.outer),
            })
            .collect(),
        compartments: plan
            .compartments
            .iter()
            .map(|each| compartment(plan, each, speech))
            .collect(),
        holes: plan
            .drill
            .holes
            .iter()
            .zip(plan.lifts.iter().zip(&pour.holes))
            .map(|(each, filled)| hole(each, filled, speech))
            .collect(),
        snap_lines_mm: readings(&plan.drill.snap_lines),
        lines_bound: plan.drill.lines_bound,
        columns_mm: readings(&plan.drill.columns),
        slope: slope(&plan.drill.slope),
        assumed: assumed.collect(),
        cautions: plan
            .cautions
            .iter()
            .map(|each| format!("{} ({})", wording::caution(*each).english, each.source().english))
            .collect(),
        findings: plan
            .findings
            .iter()
            .map(|finding| finding_report(finding, speech.units))
            .collect(),
    }
}

fn construction(construction: &Construction) -> &'static str {
    match construction {
        Construction::PlatformFrame => "platform-frame",
        Construction::BalloonFrame => "balloon-frame",
        Construction::BrickAirSpace { .. } => "brick-air-space",
    }
}

fn member(member: &Member) -> MemberReport {
    MemberReport {
        kind: wording::member(member.kind).english.replace(' ', "-"),
        polygon: ring(&member.polygon.outer),
        depth_mm: mm::number(member.depth),
        closes: member.bay == BayEffect::Closes,
    }
}

fn compartment(plan: &WallPlan, compartment: &Compartment, speech: Speech) -> CompartmentReport {
    let Polygon { outer, inner } = &compartment.polygon;
    let reason = plan.why_empty(compartment).map(|problem| wording::message(problem, speech));
    CompartmentReport {
        id: compartment.id.to_string(),
        polygon: ring(outer),
        inner: inner.iter().map(ring).collect(),
        depth_mm: mm::number(compartment.depth),
        area_mm2: number(to_mm2(compartment.area)),
        volume_mm3: number(to_mm3(compartment.volume)),
        clear_width_mm: mm::number(compartment.clear_width),
        lowest: pair(&compartment.lowest),
        highest: pair(&compartment.highest),
        fillable: reason.is_none(),
        reason,
        probed: compartment.probed,
    }
}

fn state(state: HoleState) -> &'static str {
    match state {
        HoleState::Planned => "planned",
        HoleState::Own(_, state) => match state {
            OwnState::Marked => "marked",
            OwnState::Set => "set",
            OwnState::Drilled => "drilled",
            OwnState::Patched => "patched",
            OwnState::LeftOut => "left-out",
        },
    }
}

fn hole(hole: &Hole, (lift, pour): (&Lift, &HolePour), speech: Speech) -> HoleReport {
    HoleReport {
        id: format!("{}.{}", hole.compartment, hole.step),
        mark: hole.mark,
        state: state(hole.state).to_owned(),
        compartment: hole.compartment.to_string(),
        x_mm: mm::number(hole.centre.x),
        y_mm: mm::number(hole.centre.y),
        across_mm: mm::number(hole.across),
        slope: slope(&hole.slope),
        lift_mm3: number(to_mm3(pour.volume)),
        lift_from_mm: mm::number(lift.from),
        lift_to_mm: mm::number(lift.to),
        seconds: number(to_seconds(pour.time)),
        seconds_range: pour.range.map(|range| [range.low, range.high].map(foam::time)),
        shots_s: pour.shots.iter().copied().map(foam::time).collect(),
        why: wording::why(hole, speech).join(" "),
        may_move: wording::may_move(hole, speech),
    }
}

fn slope(slope: &Slope) -> SlopeReport {
    SlopeReport {
        angle_deg: number(to_degrees(slope.angle)),
        in_twelve: number(round_to(slope.in_twelve, 1e4)),
        ellipse_width_mm: mm::number(slope.ellipse_width),
        ellipse_height_mm: mm::number(slope.ellipse_height),
        drop_behind_finish_mm: mm::number(slope.drop_behind_finish),
        drop_at_far_face_mm: mm::number(slope.drop_at_far_face),
        length_to_far_face_mm: mm::number(slope.length_to_far_face),
        travel_mm: mm::number(slope.travel),
    }
}

/// A ring as numbers; corners that are one once they are rounded stand once.
fn ring(ring: &Ring) -> Vec<[Number; 2]> {
    let mut corners: Vec<[Number; 2]> = ring.iter().map(pair).collect();
    corners.dedup();
    while 1 < corners.len() && corners.first() == corners.last() {
        corners.pop();
    }
    corners
}
