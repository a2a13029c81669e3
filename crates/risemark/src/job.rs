//! The job as it was measured: what a job file holds and what the app edits.
//!
//! Everything optional was not measured: the framing stage assumes the default from
//! [`crate::limits`] and says so. These are the only types of the domain that are written to files.

mod crew;
mod drilling;
mod foam;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{
    file::{mm, points},
    geometry::Point,
    quantity::{Length, Units},
};

pub use crew::{CrewSettings, HoleName};
pub use drilling::{Band, Drilling, Liked, OwnHole, OwnState, RowsFrom};
pub use foam::{FoamSettings, Kit, Prices, Scatter, ShotSpace, TestShot, Work};

/// A whole job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Job {
    /// What the job is called.
    pub name: String,
    /// Where it is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "String")]
    pub place: Option<String>,
    /// The date on the sheets, as the user writes it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "String")]
    pub date: Option<String>,
    /// How lengths are typed and shown.
    #[serde(default)]
    pub units: Units,
    /// The year the house was built; left out when unknown.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "i32", extend("limit" = "year built"))]
    pub year_built: Option<i32>,
    /// What the user set otherwise than the defaults.
    #[serde(default, skip_serializing_if = "RuleSettings::is_empty")]
    pub rules: RuleSettings,
    /// What the user knows and wants of the foam.
    #[serde(default, skip_serializing_if = "FoamSettings::is_empty")]
    pub foam: FoamSettings,
    /// How the crew works with its gun, and what is fixed of the order.
    #[serde(default, skip_serializing_if = "CrewSettings::is_empty")]
    pub crew: CrewSettings,
    /// The walls, in the order of the list.
    pub walls: Vec<Wall>,
}

/// Rules of the job that differ from the defaults.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RuleSettings {
    /// Diameter of the bit.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "bit diameter"))]
    pub bit: Option<Length>,
    /// How far holes drop into the wall, in degrees below level.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "drill angle in degrees"))]
    pub angle: Option<f64>,
    /// Grid on which holes are marked.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "marking step"))]
    pub marking_step: Option<Length>,
    /// From the edge of a hole to a member.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "clearance to members"))]
    pub side_clearance: Option<Length>,
    /// The top hole stays at least this far below the top of its compartment.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "top clearance"))]
    pub top_clearance: Option<Length>,
    /// The top hole lies at most this far below the highest corner of its compartment. Unset it is not
    /// asked of an air space of brick, where foam rises as far as it reaches.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "top reach"))]
    pub top_reach: Option<Length>,
    /// A bay wider than this gets more than one column of holes.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "widest bay for one column"))]
    pub wide_bay: Option<Length>,
    /// The tip of the bit stays at most this far behind the finish.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "bit tip behind the finish"))]
    pub tip: Option<Length>,
    /// How far foam reaches from a hole in the air space of a brick wall.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "reach in an air space"))]
    pub brick_reach: Option<Length>,
}

/// One wall, seen from the side that is drilled.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Wall {
    /// Names the wall inside the job; unique.
    pub id: String,
    /// What people call the wall.
    pub name: String,
    /// The room it belongs to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "String")]
    pub room: Option<String>,
    /// How it is built.
    #[serde(default)]
    pub construction: Construction,
    /// The end that readings across are taken from.
    #[serde(default)]
    pub datum: End,
    /// The side that is drilled.
    #[serde(default)]
    pub side: Side,
    /// Wall from end to end.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "wall width"))]
    pub width: Length,
    /// The upper edge of the finish.
    pub top: Edge,
    /// The lower edge of the finish; level with the finished floor when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Edge")]
    pub bottom: Option<Edge>,
    /// Clear depth of the cavity.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "cavity depth"))]
    pub depth: Option<Length>,
    /// The lumber it is presumed to be framed of; its sizes stand in for what was not measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Lumber")]
    pub lumber: Option<Lumber>,
    /// What is drilled through.
    #[serde(default)]
    pub finish: Finish,
    /// Plates, and what lies between them and the finish.
    #[serde(default)]
    pub plates: Plates,
    /// Studs.
    #[serde(default)]
    pub studs: Studs,
    /// Doors and windows.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub openings: Vec<Opening>,
    /// Blocks between the studs.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub blocks: Vec<Block>,
    /// Diagonal braces.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub braces: Vec<Brace>,
    /// Things in the wall.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub things: Vec<Thing>,
    /// Things on the wall, where nothing is drilled.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub zones: Vec<Zone>,
    /// Bays that differ from the wall.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub bays: Vec<BayException>,
    /// Wishes for the holes, and what has become of them at the wall.
    #[serde(default, skip_serializing_if = "Drilling::is_empty")]
    pub drilling: Drilling,
}

/// How a wall is built.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Construction {
    /// Studs that end at plates in each storey.
    #[default]
    PlatformFrame,
    /// Studs that run on past the floor: bays may be open below and above.
    BalloonFrame,
    /// Two leaves of brick with an air space.
    BrickAirSpace {
        /// Thickness of the leaf that is drilled.
        #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "f64", extend("limit" = "leaf thickness"))]
        leaf: Option<Length>,
        /// Height of one course with its joint.
        #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "f64", extend("limit" = "course height"))]
        course: Option<Length>,
        /// Length of one brick with its joint.
        #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "f64", extend("limit" = "brick length"))]
        brick: Option<Length>,
        /// Where holes may be between the courses.
        #[serde(default, skip_serializing_if = "Coursing::is_free")]
        holes: Coursing,
        /// A bed joint above the finished floor.
        #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "f64", extend("limit" = "height of a bed joint"))]
        bed: Option<Length>,
        /// An upright joint from the end that readings are taken from.
        #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "f64", extend("limit" = "place of an upright joint"))]
        perpend: Option<Length>,
    },
}

impl Construction {
    /// Whether it is two leaves of brick with an air space between them, which has no studs.
    pub const fn is_brick(&self) -> bool {
        matches!(self, Self::BrickAirSpace { .. })
    }
}

/// Where holes of a brick wall may be.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Coursing {
    /// Anywhere.
    #[default]
    Anywhere,
    /// In bed joints, where an upright joint meets them.
    TJoints,
}

/// Framing lumber of a period, by its nominal size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum Lumber {
    /// Rough two by fours, mostly before the 1920s.
    #[serde(rename = "rough-2x4")]
    Rough2x4,
    /// Rough two by sixes, mostly before the 1920s.
    #[serde(rename = "rough-2x6")]
    Rough2x6,
    /// Two by fours of the 1920s to the 1960s.
    #[serde(rename = "early-2x4")]
    Early2x4,
    /// Two by sixes of the 1920s to the 1960s.
    #[serde(rename = "early-2x6")]
    Early2x6,
    /// Two by fours since about 1970.
    #[serde(rename = "dressed-2x4")]
    Dressed2x4,
    /// Two by sixes since about 1970.
    #[serde(rename = "dressed-2x6")]
    Dressed2x6,
}

/// An end of the wall.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum End {
    /// The left end, seen from the side that is drilled.
    #[default]
    Left,
    /// The right end.
    Right,
}

/// A side of the wall.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// From the room.
    #[default]
    Inside,
    /// From outdoors.
    Outside,
}

/// The upper or lower edge of a wall.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "shape", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Edge {
    /// One height.
    Level {
        /// Height above the finished floor.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "level"))]
        height: Length,
    },
    /// A straight slope.
    Raked {
        /// Height at the left end.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "level"))]
        left: Length,
        /// Height at the right end.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "level"))]
        right: Length,
    },
    /// Two slopes that meet.
    Gable {
        /// Height at the left end.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "level"))]
        left: Length,
        /// Where the slopes meet.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "position across"))]
        ridge_at: Length,
        /// Height where the slopes meet.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "level"))]
        ridge: Length,
        /// Height at the right end.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "level"))]
        right: Length,
    },
    /// Any chain of points from the left end to the right end; two points at one place make a step.
    Points {
        /// The points, left to right, each as `[across, up]`.
        #[serde(with = "points")]
        #[schemars(with = "Vec<[f64; 2]>", extend("limit" = "level"))]
        points: Vec<Point>,
    },
}

/// What is drilled through.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Finish {
    /// What it is.
    #[serde(default)]
    pub material: Material,
    /// How thick it is; by material when left out.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "finish thickness"))]
    pub thickness: Option<Length>,
}

/// What a finish is made of.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Material {
    /// Gypsum board.
    #[default]
    Board,
    /// Plaster on wood or metal lath.
    Plaster,
    /// Wood panels or boards.
    Wood,
    /// Siding over sheathing.
    Siding,
    /// Stucco.
    Stucco,
    /// A leaf of brick.
    Brick,
}

/// Plates, and what lies between them and the finish.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Plates {
    /// How many bottom plates.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u8", extend("limit" = "bottom plates"))]
    pub bottom: Option<u8>,
    /// How many top plates.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u8", extend("limit" = "top plates"))]
    pub top: Option<u8>,
    /// Thickness of one plate.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "plate thickness"))]
    pub thickness: Option<Length>,
    /// From the finished floor down to the underside of the bottom plate.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "floor covering"))]
    pub floor_covering: Option<Length>,
    /// From the ceiling up to the top of the top plate.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "ceiling drop"))]
    pub ceiling_drop: Option<Length>,
}

/// Studs: a layout, what differs from it, and what was added to it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Studs {
    /// Face width of a stud.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "stud thickness"))]
    pub thickness: Option<Length>,
    /// Where the studs stand.
    #[serde(default)]
    pub layout: StudLayout,
    /// Single studs that are not where the layout has them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub corrections: Vec<StudCorrection>,
    /// Members beside the layout.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub extra: Vec<ExtraStud>,
}

/// Where the studs between the two end studs stand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum StudLayout {
    /// One spacing on centre.
    Regular {
        /// On centre.
        #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "f64", extend("limit" = "stud spacing"))]
        spacing: Option<Length>,
        /// Centre of the first stud past the end stud, from the end the layout starts at; one spacing when left out.
        #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "f64", extend("limit" = "position across"))]
        first: Option<Length>,
        /// The end the layout starts at.
        #[serde(default)]
        from: End,
    },
    /// The centres as they were found, from the left end.
    Measured {
        /// The centres.
        #[serde(with = "mm::list")]
        #[schemars(with = "Vec<f64>", extend("limit" = "position across"))]
        centres: Vec<Length>,
    },
}

impl Default for StudLayout {
    fn default() -> Self {
        Self::Regular { spacing: None, first: None, from: End::Left }
    }
}

/// A single stud that is not where the layout has it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum StudCorrection {
    /// The stud nearest to a place stands elsewhere.
    Moved {
        /// Centre of the stud in the layout, about, from the left end.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "position across"))]
        stud: Length,
        /// Centre where it was found, from the left end.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "position across"))]
        found: Length,
    },
    /// The stud nearest to a place is not there.
    Missing {
        /// Centre of the stud in the layout, about, from the left end.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "position across"))]
        stud: Length,
    },
}

/// A full-height member beside the layout.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExtraStud {
    /// What it is.
    pub kind: ExtraKind,
    /// Its centre, from the left end.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "position across"))]
    pub centre: Length,
    /// Its face width; one stud, or 3 in for posts and channels, when left out.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "post width"))]
    pub width: Option<Length>,
}

/// What a member beside the layout is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ExtraKind {
    /// A stud more, as beside another one.
    Stud,
    /// The post of a corner.
    CornerPost,
    /// What the framing has where a partition meets the wall.
    PartitionChannel,
}

/// A door or a window.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Opening {
    /// What it is.
    pub kind: OpeningKind,
    /// What people call it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "String")]
    pub name: Option<String>,
    /// Left edge of the rough opening, from the left end.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "position across"))]
    pub left: Length,
    /// Width of the rough opening.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "size"))]
    pub width: Length,
    /// Height of the rough opening; of a door from the finished floor.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "size"))]
    pub height: Length,
    /// Top of the rough sill above the finished floor; windows only.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "position up"))]
    pub sill: Option<Length>,
    /// King studs on each side.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u8", extend("limit" = "king studs a side"))]
    pub kings: Option<u8>,
    /// Trimmers on each side.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u8", extend("limit" = "trimmers a side"))]
    pub trimmers: Option<u8>,
    /// The header.
    #[serde(default)]
    pub header: Header,
    /// Thickness of the rough sill; windows only.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "rough sill thickness"))]
    pub sill_thickness: Option<Length>,
}

/// What an opening is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OpeningKind {
    /// Reaches the floor.
    Door,
    /// Stands on a rough sill.
    Window,
}

/// The header over an opening.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Header {
    /// Fills the depth of the wall.
    Full {
        /// Its depth, seen from the face.
        #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "f64", extend("limit" = "header depth"))]
        depth: Option<Length>,
    },
    /// Leaves a shallow space beside it.
    Shallow {
        /// Its depth, seen from the face.
        #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "f64", extend("limit" = "header depth"))]
        depth: Option<Length>,
        /// How deep the space beside it is.
        #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "f64", extend("limit" = "space beside the header"))]
        beside: Option<Length>,
    },
    /// Timber up to the plate: nothing to fill over the opening.
    Solid,
}

impl Default for Header {
    fn default() -> Self {
        Self::Full { depth: None }
    }
}

/// Blocking between studs, stud to stud in every bay it touches.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Block {
    /// How it lies.
    #[serde(default)]
    pub kind: BlockKind,
    /// A place in the first bay it is in, from the left end.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "position across"))]
    pub from: Length,
    /// A place in the last bay it is in; the first bay alone when left out.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "position across"))]
    pub to: Option<Length>,
    /// Its underside above the finished floor.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "position up"))]
    pub up: Length,
    /// Its height, seen from the face.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "block height"))]
    pub height: Option<Length>,
}

/// How a block lies.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BlockKind {
    /// As deep as the wall: closes the bay.
    #[default]
    Full,
    /// Laid flat behind the finish: narrows the bay.
    Flat,
}

/// A diagonal brace.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Brace {
    /// How it is fixed.
    pub kind: BraceKind,
    /// One end of its centre line, as `[across, up]`.
    #[serde(with = "points::one")]
    #[schemars(with = "[f64; 2]", extend("limit" = "level"))]
    pub from: Point,
    /// The other end of its centre line.
    #[serde(with = "points::one")]
    #[schemars(with = "[f64; 2]", extend("limit" = "level"))]
    pub to: Point,
    /// Its width, seen from the face.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "let-in brace width"))]
    pub width: Option<Length>,
}

/// How a brace is fixed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BraceKind {
    /// Let into the face of the studs: narrows the bays.
    LetIn,
    /// Cut between the studs: closes the bays.
    CutIn,
}

/// A thing in the wall.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Thing {
    /// What it is.
    pub kind: ThingKind,
    /// Where it is.
    pub at: ThingShape,
    /// Distance that holes keep from it; by kind when left out.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "keep-off distance"))]
    pub keep_off: Option<Length>,
    /// What it does to the bay; by kind when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Effect")]
    pub effect: Option<Effect>,
}

/// What a thing in the wall is.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum ThingKind {
    /// A switch, outlet or junction box.
    ElectricalBox,
    /// A cable.
    Cable,
    /// A water, waste or gas pipe.
    Pipe,
    /// An air duct.
    Duct,
    /// A plumbing vent or a louvre.
    Vent,
    /// A chimney, a flue or a vent of an appliance.
    Flue,
    /// A cabinet let into the wall.
    MedicineCabinet,
}

/// Where a thing in the wall is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "shape", rename_all = "kebab-case", deny_unknown_fields)]
pub enum ThingShape {
    /// An upright rectangle.
    Box {
        /// Left edge, from the left end.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "position across"))]
        left: Length,
        /// Lower edge above the finished floor.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "position up"))]
        up: Length,
        /// Width.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "size"))]
        width: Length,
        /// Height.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "size"))]
        height: Length,
    },
    /// A round thing that passes through the wall, such as the sleeve of a vent.
    Round {
        /// Its centre, as `[across, up]`.
        #[serde(with = "points::one")]
        #[schemars(with = "[f64; 2]", extend("limit" = "level"))]
        centre: Point,
        /// Its diameter.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "size"))]
        diameter: Length,
    },
    /// A cable or pipe along straight stretches.
    Run {
        /// Its centre line, each point as `[across, up]`.
        #[serde(with = "points")]
        #[schemars(with = "Vec<[f64; 2]>", extend("limit" = "level"))]
        points: Vec<Point>,
        /// Its diameter.
        #[serde(with = "mm")]
        #[schemars(with = "f64", extend("limit" = "diameter"))]
        diameter: Length,
    },
}

/// What a thing does to the bay it is in.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Effect {
    /// Takes volume; foam flows past it.
    TakesVolume {
        /// How far it reaches into the cavity; a run takes its own diameter when left out, a box the cavity.
        #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "f64", extend("limit" = "depth of the thing"))]
        depth: Option<Length>,
    },
    /// As deep as the cavity: foam does not pass it.
    ClosesBay,
    /// Every compartment within its keep-off distance stays empty.
    ForbidsFilling,
}

/// A thing on the wall, where nothing is drilled.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Zone {
    /// What it is.
    pub kind: ZoneKind,
    /// Left edge, from the left end.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "position across"))]
    pub left: Length,
    /// Lower edge above the finished floor.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "position up"))]
    pub up: Length,
    /// Width.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "size"))]
    pub width: Length,
    /// Height.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "size"))]
    pub height: Length,
    /// Distance that the edge of a hole keeps from it; by kind when left out.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "keep-off distance"))]
    pub keep_off: Option<Length>,
}

/// What a thing on the wall is.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum ZoneKind {
    /// Casing or other trim.
    Trim,
    /// A baseboard.
    Baseboard,
    /// A crown moulding.
    Crown,
    /// A counter.
    Counter,
    /// A radiator.
    Radiator,
    /// A panel or something else that stays.
    Panel,
    /// A damp-proof course.
    DampCourse,
    /// Weep holes, which drain the air space.
    WeepHoles,
}

/// A bay that differs from the wall.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BayException {
    /// A place in the bay, from the left end.
    #[serde(with = "mm")]
    #[schemars(with = "f64", extend("limit" = "position across"))]
    pub at: Length,
    /// Its own clear depth.
    #[serde(with = "mm::optional", default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "f64", extend("limit" = "cavity depth"))]
    pub depth: Option<Length>,
    /// Why it is left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "SkipReason")]
    pub skip: Option<SkipReason>,
}

/// Why a bay is left out.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum SkipReason {
    /// It is insulated already.
    AlreadyInsulated,
    /// A chase for ducts or pipes.
    Chase,
    /// Knob-and-tube wiring runs in it.
    KnobAndTube,
    /// The user's own reason.
    LeftOut,
}

impl Coursing {
    /// Whether holes may be anywhere.
    pub fn is_free(&self) -> bool {
        *self == Self::Anywhere
    }
}

impl RuleSettings {
    /// Whether everything is left at its default.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

impl Wall {
    /// How many studs, openings, blocks, braces, things, zones and exceptions were entered.
    pub fn n_entries(&self) -> usize {
        let measured = match &self.studs.layout {
            StudLayout::Measured { centres } => centres.len(),
            StudLayout::Regular { .. } => 0,
        };
        let studs = measured + self.studs.corrections.len() + self.studs.extra.len();
        let rest = self.openings.len() + self.blocks.len() + self.braces.len();
        let drilling = &self.drilling;
        let heights = drilling.liked.len() + drilling.barred.len();
        let holes = drilling.holes.len() + drilling.probed.len() + heights;
        studs + rest + self.things.len() + self.zones.len() + self.bays.len() + holes
    }
}
