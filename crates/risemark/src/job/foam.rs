//! What the user knows and wants of the foam: test shots, kits, prices, how people work.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{file::mm, quantity::Length};

/// What the user set or measured of the foam; everything else is a default of [`crate::limits`].
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FoamSettings {
    /// Shots that were tried, and how far they rose.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub test_shots: Vec<TestShot>,
    /// How the rise of test shots scatters.
    #[serde(default, skip_serializing_if = "Scatter::is_even")]
    pub scatter: Scatter,
    /// How sure ranges are, in percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "confidence in percent"))]
    pub confidence: Option<f64>,
    /// Shots shorter than this are noted, in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "shortest shot in seconds"))]
    pub shortest_shot: Option<f64>,
    /// Shots longer than this are split, in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "longest shot in seconds"))]
    pub longest_shot: Option<f64>,
    /// From one shot to the next through one hole, in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "seconds between shots through one hole"))]
    pub pause: Option<f64>,
    /// The most that one shot may rise; no limit when left out.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "lift height"))]
    pub lift_height: Option<Length>,
    /// The most that one shot may fill, in board feet; no limit when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "board feet a shot, at most"))]
    pub shot_volume: Option<f64>,
    /// The kits that can be bought; three usual sizes when left out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub kits: Vec<Kit>,
    /// How much of the nominal yield comes out, in percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "usable percent of the nominal yield"))]
    pub usable: Option<f64>,
    /// How far that differs, as a standard deviation in percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "spread of the usable percent"))]
    pub usable_spread: Option<f64>,
    /// Temperature of the components in degrees Celsius.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "component temperature in °C"))]
    pub temperature: Option<f64>,
    /// What escapes, in percent of what is filled; by kind of wall when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "waste in percent"))]
    pub waste: Option<f64>,
    /// Nozzles that are bought beyond those of the plan, in percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "spare nozzles in percent"))]
    pub spare_nozzles: Option<f64>,
    /// How people work.
    #[serde(default, skip_serializing_if = "Work::is_empty")]
    pub work: Work,
    /// What things cost, as the user was told; none is assumed.
    #[serde(default, skip_serializing_if = "Prices::is_empty")]
    pub prices: Prices,
}

/// One shot that was tried.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TestShot {
    /// How long was sprayed, in seconds.
    #[schemars(extend("limit" = "seconds sprayed"))]
    pub seconds: f64,
    /// How long was waited before the rise was read, in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "seconds waited before the rise is read"))]
    pub waited: Option<f64>,
    /// How far the foam rose from the bottom.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "rise of a test shot"))]
    pub rise: Length,
    /// What it rose in.
    pub space: ShotSpace,
    /// The number of the nozzle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u32", extend("limit" = "number of the nozzle"))]
    pub nozzle: Option<u32>,
    /// Temperature of the components in degrees Celsius.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "component temperature in °C"))]
    pub temperature: Option<f64>,
}

/// What a test shot rose in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum ShotSpace {
    /// A bay of the job, whose width and depth are known; its lowest compartment.
    Bay {
        /// The id of the wall.
        wall: String,
        /// A place in the bay, from the left end of the wall.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "position across"))]
        at: Length,
    },
    /// An upright box of any size.
    Box {
        /// Its clear width.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "size"))]
        width: Length,
        /// Its clear depth.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "size"))]
        depth: Length,
    },
}

/// How the volumes of test shots scatter about the flow.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Scatter {
    /// By as much for long shots as for short ones.
    #[default]
    Even,
    /// By more the longer the shot.
    Growing,
}

/// A size of kits that can be bought.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Kit {
    /// Nominal board feet, free rise.
    #[schemars(extend("limit" = "nominal board feet of a kit"))]
    pub board_feet: f64,
    /// What one costs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "price"))]
    pub price: Option<f64>,
    /// How many are there already.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u32", extend("limit" = "kits at hand"))]
    pub at_hand: Option<u32>,
}

/// How people work.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Work {
    /// How many work.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u32", extend("limit" = "people"))]
    pub people: Option<u32>,
    /// Marking one hole, in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "seconds to mark a hole"))]
    pub marking: Option<f64>,
    /// Drilling one hole, in seconds; by finish when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "seconds to drill a hole"))]
    pub drilling: Option<f64>,
    /// Closing one hole, in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "seconds to close a hole"))]
    pub patching: Option<f64>,
    /// Setting up and cleaning, for the whole job, in minutes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "minutes to set up and clean"))]
    pub cleaning: Option<f64>,
}

/// What things cost, each in the user's own money.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Prices {
    /// The sign of the money, printed before an amount.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "String")]
    pub currency: Option<String>,
    /// One nozzle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "price"))]
    pub nozzle: Option<f64>,
    /// One tube.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "price"))]
    pub tube: Option<f64>,
    /// One jar of petroleum jelly.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "price"))]
    pub jelly: Option<f64>,
    /// One plug.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "price"))]
    pub plug: Option<f64>,
    /// One tub of patching compound.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "price"))]
    pub compound: Option<f64>,
    /// One mask.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "price"))]
    pub mask: Option<f64>,
    /// One pair of cartridges for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "price"))]
    pub cartridges: Option<f64>,
    /// One drop cloth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "price"))]
    pub drop_cloth: Option<f64>,
    /// One drill bit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "price"))]
    pub bit: Option<f64>,
    /// One hour of one person's work.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "price"))]
    pub hour: Option<f64>,
    /// Coming back when the foam has run short.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "price"))]
    pub return_trip: Option<f64>,
}

impl FoamSettings {
    /// Whether nothing was set or measured.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

impl Scatter {
    /// Whether it is the usual one.
    pub fn is_even(&self) -> bool {
        *self == Self::Even
    }
}

impl Work {
    /// Whether everything is left at its default.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

impl Prices {
    /// Whether no price is known.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}
