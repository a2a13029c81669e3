//! Test shots: how much foam comes in a second, and how sure that is.
//!
//! A line through the origin is laid through seconds and volumes; its slope is the flow.

use uom::ConstZero;

use crate::{
    compartments::Compartment,
    finding::{Finding, Noun, Place, Problem, Staged},
    foam::{chance::Tail, lifts::volume_below, rules::FoamRules},
    job::{Job, Scatter, ShotSpace, TestShot},
    limits,
    plan::{Plan, WallPlan},
    quantity::{Length, Time, Volume, VolumeRate, count, millimeters, seconds},
};

/// How much foam comes in a second.
#[derive(Debug, Clone, PartialEq)]
pub struct Flow {
    /// The estimate that seconds are taken from.
    pub rate: VolumeRate,
    /// What it rests on.
    pub basis: FlowBasis,
    /// The test shots that count, in the order of the job.
    pub shots: Vec<Sprayed>,
}

/// What a flow rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FlowBasis {
    /// Common practice; nothing was tested.
    Assumed,
    /// A single test shot, which tells nothing of its scatter.
    OneShot,
    /// Several test shots.
    Fitted(Fit),
}

/// What came of spraying.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sprayed {
    /// Its position in the job's list, from 1.
    pub number: usize,
    /// How long was sprayed.
    pub time: Time,
    /// What was filled.
    pub volume: Volume,
}

/// A line through the origin, and how its points scatter about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// How they are taken to scatter.
    pub scatter: Scatter,
    /// How many points there are; at least two.
    pub n_shots: u32,
    /// Its slope.
    pub rate: VolumeRate,
    /// The standard error of the slope.
    pub standard_error: VolumeRate,
    /// The residual standard deviation; of a shot of one second where scatter grows with the shot.
    pub spread: Volume,
    /// One less the share of the squares that is left; uncentred, as belongs to a line through the origin.
    pub r_squared: f64,
    /// The sum of squared seconds; of plain seconds where scatter grows with the shot.
    sum: f64,
}

/// A range of a quantity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Within<T> {
    /// Not less than this.
    pub low: T,
    /// Not more than this.
    pub high: T,
}

impl Fit {
    /// Lays the line; `None` for fewer than two points, or for points without time or volume.
    ///
    /// Even scatter: least squares. Growing scatter: all volume by all time, which is least squares with
    /// weights of one over the time.
    pub fn through_origin(shots: &[Sprayed], scatter: Scatter) -> Option<Self> {
        let sum = |of: &dyn Fn(f64, f64) -> f64| {
            shots.iter().fold(0.0, |sum, shot| sum + of(shot.time.value, shot.volume.value))
        };
        let n_shots = u32::try_from(shots.len()).ok().filter(|n| 2 <= *n)?;
        let (times, both, volumes) = match scatter {
            Scatter::Even => (sum(&|x, _| x * x), sum(&|x, y| x * y), sum(&|_, y| y * y)),
            Scatter::Growing => (sum(&|x, _| x), sum(&|_, y| y), sum(&|x, y| y * y / x)),
        };
        if times <= 0.0 || volumes <= 0.0 {
            return None;
        }
        let slope = both / times;
        let left = match scatter {
            Scatter::Even => sum(&|x, y| (y - slope * x) * (y - slope * x)),
            Scatter::Growing => sum(&|x, y| (y - slope * x) * (y - slope * x) / x),
        };
        let variance = left / f64::from(n_shots - 1);
        let rate = |value: f64| VolumeRate { value, ..VolumeRate::ZERO };
        Some(Self {
            scatter,
            n_shots,
            rate: rate(slope),
            standard_error: rate((variance / times).sqrt()),
            spread: Volume { value: variance.sqrt(), ..Volume::ZERO },
            r_squared: 1.0 - left / volumes,
            sum: times,
        })
    }

    /// Degrees of freedom: one less than there are points.
    pub fn degrees(&self) -> u32 {
        self.n_shots - 1
    }

    /// How the estimates scatter, counted in deviations.
    pub fn tail(&self) -> Tail {
        Tail::Student { degrees: self.degrees() }
    }

    /// One deviation of the volume of several new shots of so long together.
    ///
    /// The error of the slope is common to all of them and does not average out.
    pub fn deviation(&self, n_shots: usize, together: Time) -> Volume {
        let (n_shots, together) = (count(n_shots), together.value);
        let own = match self.scatter {
            Scatter::Even => n_shots,
            Scatter::Growing => together,
        };
        self.spread * (own + together * together / self.sum).sqrt()
    }

    /// The volume of several new shots of so long together, at a confidence.
    pub fn volume(&self, n_shots: usize, together: Time, confidence: f64) -> Within<Volume> {
        let expected = self.rate * together;
        let margin = self.deviation(n_shots, together) * self.tail().within(confidence);
        Within { low: expected - margin, high: expected + margin }
    }

    /// The seconds that may be needed for a volume, at a confidence; `None` where the flow may as well
    /// be nothing. After E. C. Fieller: every time whose interval holds the volume.
    pub fn seconds(&self, volume: Volume, confidence: f64) -> Option<Within<Time>> {
        self.seconds_at(volume, self.tail().within(confidence))
    }

    /// The same, for a number of deviations.
    pub(super) fn seconds_at(&self, volume: Volume, deviations: f64) -> Option<Within<Time>> {
        let (slope, volume) = (self.rate.value, volume.value);
        let spread = deviations * self.spread.value;
        let spread = spread * spread;
        // The roots of (V - b x)^2 = t^2 s^2 (own + x^2 / sum), where own is 1 or x.
        let square = slope * slope - spread / self.sum;
        let (linear, constant) = match self.scatter {
            Scatter::Even => (2.0 * slope * volume, volume * volume - spread),
            Scatter::Growing => (2.0 * slope * volume + spread, volume * volume),
        };
        let inside = linear * linear - 4.0 * square * constant;
        if square <= 0.0 || inside < 0.0 {
            return None;
        }
        let high = (linear + inside.sqrt()) / (2.0 * square);
        // The product of the roots is exact where their difference would cancel.
        let low = if high <= 0.0 { 0.0 } else { (constant / (square * high)).max(0.0) };
        Some(Within { low: seconds(low), high: seconds(high) })
    }
}

impl Flow {
    /// The line through the test shots, where there are several.
    pub fn fit(&self) -> Option<&Fit> {
        match &self.basis {
            FlowBasis::Fitted(fit) => Some(fit),
            FlowBasis::Assumed | FlowBasis::OneShot => None,
        }
    }
}

/// The flow of a job: from its test shots, or the usual one until there are any.
pub(super) fn flow(job: &Job, plan: &Plan, rules: &FoamRules) -> Staged<Flow> {
    let mut findings = Vec::new();
    let mut shots = Vec::new();
    for (idx, shot) in job.foam.test_shots.iter().enumerate() {
        let say = |problem| Finding::new(Place::entry(Noun::TestShot, idx), problem);
        let Some(volume) = filled(shot, plan) else {
            findings.push(say(nothing_there(shot)));
            continue;
        };
        findings.extend(doubts(shot, plan).into_iter().map(say));
        shots.push(Sprayed { number: idx + 1, time: seconds(shot.seconds), volume });
    }
    findings.extend(changes(&job.foam.test_shots));
    findings.extend(disagreeing(&shots));
    let (rate, basis) = match (shots.as_slice(), Fit::through_origin(&shots, rules.scatter)) {
        (_, Some(fit)) => (fit.rate, FlowBasis::Fitted(fit)),
        ([shot, ..], None) => (shot.volume / shot.time, FlowBasis::OneShot),
        ([], None) => (limits::FLOW, FlowBasis::Assumed),
    };
    findings.extend(about(rate, &basis, rules));
    Staged { product: Flow { rate, basis, shots }, findings }
}

/// What a test shot filled; `None` where there is no such bay, or it rose past nothing.
fn filled(shot: &TestShot, plan: &Plan) -> Option<Volume> {
    let volume = match &shot.space {
        ShotSpace::Box { width, depth } => *width * *depth * shot.rise,
        ShotSpace::Bay { .. } => {
            let (compartment, _) = bay_of(shot, plan)?;
            volume_below(compartment, compartment.lowest.y + shot.rise)
        }
    };
    (Volume::ZERO < volume).then_some(volume)
}

/// The compartment in which a shot at a place from the left end rises: the lowest there.
pub fn bay_at(wall: &WallPlan, at: Length) -> Option<&Compartment> {
    let here = |compartment: &&Compartment| !compartment.polygon.along(at).is_empty();
    let lower = |a: &Compartment, b: &Compartment| a.lowest.y.value.total_cmp(&b.lowest.y.value);
    wall.compartments.iter().filter(here).min_by(|a, b| lower(a, b))
}

/// The compartment of a test shot, and how high its lowest hole lies over its bottom.
fn bay_of<'a>(shot: &TestShot, plan: &'a Plan) -> Option<(&'a Compartment, Option<Length>)> {
    let ShotSpace::Bay { wall, at } = &shot.space else { return None };
    let wall = plan.walls.iter().find(|plan| plan.wall.id == *wall)?;
    let compartment = bay_at(wall, *at)?;
    let holes = wall.drill.holes.iter().filter(|hole| hole.compartment == compartment.id);
    let lowest = holes.map(|hole| hole.up).reduce(crate::quantity::shorter);
    Some((compartment, lowest.map(|up| up - compartment.lowest.y)))
}

fn nothing_there(shot: &TestShot) -> Problem {
    let at = match shot.space {
        ShotSpace::Bay { at, .. } => at,
        ShotSpace::Box { width, .. } => width,
    };
    Problem::NothingThere { what: Noun::Bay, at }
}

/// What makes one test shot doubtful.
fn doubts(shot: &TestShot, plan: &Plan) -> Vec<Problem> {
    let mut problems = Vec::new();
    let least = seconds(limits::WAITED.default);
    if let Some(waited) = shot.waited.map(seconds).filter(|waited| *waited < least) {
        problems.push(Problem::ReadTooSoon { waited, least });
    }
    // A rise is read to the millimetre at best.
    if let Some((_, Some(hole))) = bay_of(shot, plan)
        && hole + millimeters(1.0) < shot.rise
    {
        problems.push(Problem::RoseAboveHole { rise: shot.rise, hole });
    }
    problems
}

/// A nozzle or a temperature that was not the same for all test shots.
fn changes(shots: &[TestShot]) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut say =
        |idx, problem| findings.push(Finding::new(Place::entry(Noun::TestShot, idx), problem));
    let mut nozzles = shots.iter().enumerate().filter_map(|(idx, shot)| Some((idx, shot.nozzle?)));
    if let Some((first, nozzle)) = nozzles.next()
        && let Some((idx, other)) = nozzles.find(|(_, other)| *other != nozzle)
    {
        say(idx, Problem::NozzleChanged { nozzle: other, first: nozzle, shot: first + 1 });
    }
    let mut temperatures =
        shots.iter().enumerate().filter_map(|(idx, shot)| Some((idx, shot.temperature?)));
    if let Some((first, temperature)) = temperatures.next() {
        let far =
            |(_, other): &(usize, f64)| limits::TEMPERATURE_CHANGE < (other - temperature).abs();
        if let Some((idx, other)) = temperatures.find(far) {
            say(
                idx,
                Problem::TemperatureChanged { found: other, first: temperature, shot: first + 1 },
            );
        }
    }
    findings
}

/// Shots whose own flow is far from the middle one.
fn disagreeing(shots: &[Sprayed]) -> Vec<Finding> {
    let flows: Vec<f64> = shots.iter().map(|shot| (shot.volume / shot.time).value).collect();
    let mut sorted = flows.clone();
    crate::order::sort_by(&mut sorted, f64::total_cmp);
    let (Some(low), Some(high)) =
        (sorted.get((sorted.len().max(1) - 1) / 2), sorted.get(sorted.len() / 2))
    else {
        return Vec::new();
    };
    let middle = (low + high) / 2.0;
    let far =
        |(_, flow): &(&Sprayed, &f64)| limits::DISAGREEMENT * middle < (**flow - middle).abs();
    let rate = |value: f64| VolumeRate { value, ..VolumeRate::ZERO };
    let finding = |(shot, flow): (&Sprayed, &f64)| {
        let problem = Problem::ShotDisagrees { found: rate(*flow), middle: rate(middle) };
        Finding::new(Place::entry(Noun::TestShot, shot.number - 1), problem)
    };
    shots.iter().zip(&flows).filter(far).map(finding).collect()
}

/// What is to be said of the flow as a whole.
fn about(rate: VolumeRate, basis: &FlowBasis, rules: &FoamRules) -> Option<Finding> {
    let problem = match basis {
        FlowBasis::Assumed => Problem::FlowUntested { rate },
        FlowBasis::OneShot => Problem::OneTestShot { rate },
        FlowBasis::Fitted(fit) => {
            let margin = fit.standard_error * fit.tail().within(rules.confidence);
            if margin < rate {
                return None;
            }
            Problem::FlowUnsure { rate, margin }
        }
    };
    Some(Finding::new(Place::default(), problem))
}
