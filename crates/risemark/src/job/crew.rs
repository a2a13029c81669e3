//! How the crew works with its gun, and what the user fixed of the order of the shots.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the user set of the crew and of the order; everything else is a default of
/// [`crate::limits`] or is planned.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CrewSettings {
    /// Placing the tube in a hole, in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "seconds to place the tube"))]
    pub set_up: Option<f64>,
    /// Walking along a wall, in metres a second.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "walking speed in metres a second"))]
    pub walking: Option<f64>,
    /// Taking the gun to another wall, in seconds; placing the tube comes on top.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "seconds to another wall"))]
    pub cart: Option<f64>,
    /// From a shot to the next one above it, in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "seconds to set between lifts"))]
    pub setting: Option<f64>,
    /// The longest pause a nozzle stands, in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "idle limit of a nozzle in seconds"))]
    pub idle_limit: Option<f64>,
    /// Changing a nozzle, in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "seconds to change a nozzle"))]
    pub nozzle_change: Option<f64>,
    /// How many seconds of work a nozzle is worth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "seconds that a nozzle is worth"))]
    pub nozzle_weight: Option<f64>,
    /// Changing a kit and bringing it to its temperature, in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "seconds to change a kit"))]
    pub kit_change: Option<f64>,
    /// Spraying a new kit into a bag until it runs evenly, in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "seconds to purge a new kit"))]
    pub purge: Option<f64>,
    /// The hole to begin with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "HoleName")]
    pub first: Option<HoleName>,
    /// Ids of walls to be finished one after the other, before all others.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub walls: Vec<String>,
    /// Holes to be shot in this sequence; others may come between.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sequence: Vec<HoleName>,
}

/// Names a hole of the plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HoleName {
    /// The id of its wall.
    pub wall: String,
    /// Its number on the wall.
    #[schemars(extend("limit" = "number of a hole"))]
    pub hole: u32,
}

impl CrewSettings {
    /// Whether everything is left at its default and to the planner.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}
