//! The rules of a job, each at its default or as the user set it.

use crate::{
    job::Job,
    language::{Text, text},
    limits::{self, Bounds, Limit, Origin, SPACING, SpacingRow},
    quantity::{Angle, Length, Units, degrees, inches, millimeters, shorter},
};

/// Every rule that decides where holes go.
#[derive(Debug, Clone, PartialEq)]
pub struct Rules {
    /// How lengths are shown.
    pub units: Units,
    /// Diameter of the bit.
    pub bit: Length,
    /// How far holes drop into the wall, below level.
    pub angle: Angle,
    /// Grid on which holes are marked, from the datum and from the finished floor.
    pub marking_step: Length,
    /// From the edge of a hole to a member.
    pub side_clearance: Length,
    /// The top hole stays at least this far below the top of its compartment.
    pub top_clearance: Length,
    /// The top hole lies at most this far below the highest corner of its compartment.
    pub top_reach: Length,
    /// A bay wider than this gets more than one column of holes.
    pub wide_bay: Length,
    /// The tip of the bit stays at most this far behind the finish.
    pub tip: Length,
    /// How far foam reaches from a hole in the air space of a brick wall.
    pub brick_reach: Length,
    /// The top row of an air space lies at most this far below its top: foam rises over it as far as it
    /// reaches to the sides, unless the user has set how far it rises.
    pub brick_top_reach: Length,
    /// Vertical distances by cavity depth, shallow to deep.
    pub spacing: [SpacingRow; 4],
    /// Each rule by its name, with its origin.
    pub listed: Vec<RuleLine>,
}

/// One rule as it is listed.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleLine {
    /// What it is.
    pub name: Text,
    /// What it says.
    pub value: RuleValue,
    /// Where it comes from.
    pub origin: Origin,
}

/// What a rule says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RuleValue {
    /// A length.
    Length(Length),
    /// An angle.
    Angle(Angle),
    /// A vertical distance by cavity depth.
    Spacing(SpacingRow),
}

impl Rules {
    /// The next finer marks of a tape, for walls that would take more holes otherwise; `None` where the
    /// marking step is as fine already.
    pub fn finer_step(&self) -> Option<Length> {
        let finer = match self.units {
            Units::FeetInches => inches(0.125),
            Units::Metric => millimeters(1.0),
        };
        (finer < self.marking_step).then_some(finer)
    }

    /// The rules of a job: the user's settings, and the defaults of the table for the rest.
    pub fn of(job: &Job) -> Self {
        let set = &job.rules;
        let step = match job.units {
            Units::FeetInches => &limits::MARKING_STEP,
            Units::Metric => &limits::METRIC_MARKING_STEP,
        };
        let mut list = Listing::default();
        let bit = list.length(&limits::BIT, set.bit);
        let angle = list.angle(&limits::ANGLE, set.angle);
        let marking_step = list.length(step, set.marking_step);
        let side_clearance = list.length(&limits::SIDE_CLEARANCE, set.side_clearance);
        let top_clearance = list.length(&limits::TOP_CLEARANCE, set.top_clearance);
        let top_reach = list.length(&limits::TOP_REACH, set.top_reach);
        let wide_bay = list.length(&limits::WIDE_BAY, set.wide_bay);
        let tip = list.length(&limits::TIP, set.tip);
        let brick_reach = list.length(&limits::BRICK_REACH, set.brick_reach);
        Self {
            units: job.units,
            bit,
            angle,
            marking_step,
            side_clearance,
            top_clearance,
            top_reach,
            wide_bay,
            tip,
            brick_reach,
            brick_top_reach: set.top_reach.map_or(brick_reach, |set| shorter(set, brick_reach)),
            spacing: list.spacing(),
            listed: list.lines,
        }
    }

    /// From the centre of a hole to any member: half the bit and the clearance.
    pub fn edge_distance(&self) -> Length {
        self.bit / 2.0 + self.side_clearance
    }

    /// The rule for vertical distances in a cavity; `None` where it is too shallow to inject.
    pub fn spacing_at(&self, depth: Length) -> Option<SpacingRow> {
        self.spacing.iter().rev().find(|row| row.begins_at(depth)).copied()
    }

    /// The least depth that can be filled.
    pub fn least_depth(&self) -> Length {
        self.spacing[0].from_depth
    }
}

#[derive(Debug, Default)]
struct Listing {
    lines: Vec<RuleLine>,
}

impl Listing {
    fn length(&mut self, limit: &'static Limit, set: Option<Length>) -> Length {
        let (value, origin) = match (set, limit.default) {
            (Some(set), _) => (set, Origin::Yours),
            (None, Some(default)) => (default, limit.origin),
            (None, None) => (limit.min, limit.origin),
        };
        self.lines.push(RuleLine { name: limit.name, value: RuleValue::Length(value), origin });
        value
    }

    fn angle(&mut self, bounds: &'static Bounds, set: Option<f64>) -> Angle {
        let (value, origin) =
            set.map_or((bounds.default, bounds.origin), |set| (set, Origin::Yours));
        let angle = degrees(value);
        self.lines.push(RuleLine { name: bounds.name, value: RuleValue::Angle(angle), origin });
        angle
    }

    fn spacing(&mut self) -> [SpacingRow; 4] {
        self.lines.extend(SPACING.map(|row| RuleLine {
            name: text("vertical distance, at most", "distancia vertical, a lo más"),
            value: RuleValue::Spacing(row),
            origin: Origin::CommonPractice,
        }));
        SPACING
    }
}
