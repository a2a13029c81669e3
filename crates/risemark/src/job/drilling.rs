//! What people want of the holes of a wall, and what has been drilled.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{
    file::{mm, points},
    geometry::Point,
    quantity::Length,
};

/// Wishes for the holes of a wall, and what has become of them at the wall.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Drilling {
    /// Where the heights of rows are measured from.
    #[serde(default)]
    pub rows_from: RowsFrom,
    /// Heights at which rows are liked best, as long as that costs no hole and no snap line.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub liked: Vec<Liked>,
    /// Bands without holes over the whole wall.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub barred: Vec<Band>,
    /// Holes that are not the planner's to choose.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub holes: Vec<OwnHole>,
    /// Places, as `[across, up]`, around which the space was probed and found clear.
    #[serde(with = "points", default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(with = "Vec<[f64; 2]>", extend("limit" = "level"))]
    pub probed: Vec<Point>,
}

/// Where the heights of rows are measured from.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RowsFrom {
    /// Up from the finished floor.
    #[default]
    Floor,
    /// Down from the ceiling at the datum end, as where the floor is out of level.
    Ceiling,
}

/// Heights at which rows are liked.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Liked {
    /// One height, as that of a row on the next wall of the room.
    Height {
        /// Above the finished floor.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "position up"))]
        up: Length,
    },
    /// Any height of a band, as behind a chair rail that goes back on.
    Band {
        /// Its lower edge above the finished floor.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "position up"))]
        from: Length,
        /// Its upper edge above the finished floor.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "position up"))]
        to: Length,
    },
    /// Every lap of a siding.
    Laps {
        /// The lowest lap above the finished floor.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "position up"))]
        first: Length,
        /// From lap to lap.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "lap spacing"))]
        spacing: Length,
    },
}

/// A level stretch over the whole wall.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Band {
    /// Its lower edge above the finished floor.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "position up"))]
    pub from: Length,
    /// Its upper edge above the finished floor.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "position up"))]
    pub to: Length,
}

/// A hole that is not the planner's to choose.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OwnHole {
    /// What became of it.
    pub state: OwnState,
    /// Its centre, as `[across, up]`.
    #[serde(with = "points::one")]
    #[schemars(with = "[f64; 2]", extend("limit" = "level"))]
    pub at: Point,
    /// The number it has on the wall already.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u32", extend("limit" = "hole number"))]
    pub mark: Option<u32>,
}

/// What became of a hole that is not the planner's to choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OwnState {
    /// Marked on the wall by the plan; it stays as long as the rules let it.
    Marked,
    /// Set by hand; it stays whatever the rules say.
    Set,
    /// Drilled.
    Drilled,
    /// Drilled, filled and patched over.
    Patched,
    /// The planner's hole that was here is left out.
    LeftOut,
}

impl Drilling {
    /// Whether there is nothing that the planner would not do by itself.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}
