//! The one table of limits and defaults: what is accepted, what is assumed, and where it comes from.
//!
//! The reader of job files, the schema, the forms and the list of assumed values all use it.

use crate::{
    job::Lumber,
    quantity::{Length, inches, millimeters},
};

/// Where a default or a rule comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// What people of the trade do; no standard was found.
    CommonPractice,
    /// A published document, named with its section.
    Published(&'static str),
    /// A published document as it was remembered; check it before you quote it.
    FromMemory(&'static str),
    /// A choice of this project, to keep figures sane.
    Project,
    /// The user's own setting for the job.
    Yours,
}

impl Origin {
    /// The origin in words, as it stands beside a figure.
    pub fn words(self) -> &'static str {
        match self {
            Self::CommonPractice => "common practice, no source",
            Self::Published(source) | Self::FromMemory(source) => source,
            Self::Project => "project decision",
            Self::Yours => "your setting",
        }
    }
}

/// The range of one length, and what is assumed when it was not measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// What it measures, in the users' words.
    pub name: &'static str,
    /// The least that is accepted.
    pub min: Length,
    /// The most that is accepted.
    pub max: Length,
    /// What is assumed when nothing is given; `None` where it must be given.
    pub default: Option<Length>,
    /// Where the default comes from.
    pub origin: Origin,
}

/// The range of one count, angle or year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// What it counts, in the users' words.
    pub name: &'static str,
    /// The least that is accepted.
    pub min: f64,
    /// The most that is accepted.
    pub max: f64,
    /// What is assumed when nothing is given.
    pub default: f64,
    /// Where the default comes from.
    pub origin: Origin,
}

const DRESSED: Origin = Origin::Published("PS 20, dressed sizes of lumber");
const PRACTICE: Origin = Origin::CommonPractice;
const LONGEST: Length = millimeters(100_000.0);

const fn given(name: &'static str, min: Length, max: Length) -> Limit {
    Limit { name, min, max, default: None, origin: Origin::Project }
}

const fn assumed(name: &'static str, range: (f64, f64), default: f64, origin: Origin) -> Limit {
    let (min, max) = (inches(range.0), inches(range.1));
    Limit { name, min, max, default: Some(inches(default)), origin }
}

/// Wall from end to end.
pub const WALL_WIDTH: Limit = given("wall width", inches(4.0), LONGEST);
/// A level of an outline above the finished floor.
pub const LEVEL: Limit = given("level", millimeters(-100_000.0), LONGEST);
/// A position along the wall.
pub const ACROSS: Limit = given("position across", millimeters(0.0), LONGEST);
/// A height above the finished floor.
pub const UP: Limit = given("position up", millimeters(-100_000.0), LONGEST);
/// The extent of an opening, a thing or a zone.
pub const EXTENT: Limit = given("size", inches(0.125), LONGEST);
/// Clear depth of the cavity behind the finish.
pub const DEPTH: Limit = assumed("cavity depth", (0.125, 36.0), 3.5, DRESSED);
/// Face width of a stud.
pub const STUD_THICKNESS: Limit = assumed("stud thickness", (0.5, 12.0), 1.5, DRESSED);
/// Studs on centre.
pub const STUD_SPACING: Limit = assumed("stud spacing", (4.0, 96.0), 16.0, PRACTICE);
/// One plate.
pub const PLATE_THICKNESS: Limit = assumed("plate thickness", (0.5, 12.0), 1.5, DRESSED);
/// From the finished floor down to the underside of the bottom plate.
pub const FLOOR_COVERING: Limit = assumed("floor covering", (0.0, 12.0), 0.0, Origin::Project);
/// From the ceiling up to the top of the top plate.
pub const CEILING_DROP: Limit = assumed("ceiling drop", (0.0, 120.0), 0.0, Origin::Project);
/// Depth of a header, seen from the face.
pub const HEADER_DEPTH: Limit = assumed("header depth", (0.0, 48.0), 7.25, PRACTICE);
/// Space left beside a header that does not fill the wall.
pub const BESIDE_HEADER: Limit = assumed("space beside the header", (0.125, 36.0), 2.0, PRACTICE);
/// Rough sill of a window.
pub const SILL_THICKNESS: Limit = assumed("rough sill thickness", (0.0, 12.0), 1.5, DRESSED);
/// Height of a block, seen from the face.
pub const BLOCK_HEIGHT: Limit = assumed("block height", (0.25, 48.0), 1.5, DRESSED);
/// How deep flat blocking is.
pub const FLAT_BLOCK_DEPTH: Limit = assumed("flat block depth", (0.25, 24.0), 1.5, DRESSED);
/// How deep a let-in brace lies in the studs.
pub const LET_IN_DEPTH: Limit = assumed(
    "let-in brace depth",
    (0.25, 6.0),
    0.75,
    Origin::FromMemory("IRC R602.10.4, let-in bracing (from memory)"),
);
/// Width of a let-in brace, seen from the face.
pub const LET_IN_WIDTH: Limit = assumed(
    "let-in brace width",
    (0.5, 16.0),
    3.5,
    Origin::FromMemory("IRC R602.10.4, let-in bracing (from memory)"),
);
/// Width of a cut-in brace, seen from the face.
pub const CUT_IN_WIDTH: Limit = assumed("cut-in brace width", (0.5, 16.0), 1.5, DRESSED);
/// Width of a corner post or a partition channel.
pub const POST_WIDTH: Limit = assumed("post width", (0.5, 24.0), 3.0, PRACTICE);
/// How far a thing reaches into the cavity.
pub const THING_DEPTH: Limit = given("depth of the thing", inches(0.0), inches(36.0));
/// Diameter of a cable or a pipe.
pub const RUN_DIAMETER: Limit = given("diameter", inches(0.0625), inches(24.0));
/// Distance that holes keep from a thing.
pub const KEEP_OFF: Limit = given("keep-off distance", inches(0.0), inches(48.0));
/// Thickness of the finish that is drilled.
pub const FINISH_THICKNESS: Limit = assumed("finish thickness", (0.0, 24.0), 0.5, PRACTICE);
/// One leaf of a brick wall.
pub const LEAF_THICKNESS: Limit = assumed("leaf thickness", (1.0, 24.0), 3.625, PRACTICE);
/// Height of one course with its joint.
pub const COURSE_HEIGHT: Limit = assumed("course height", (1.0, 24.0), 8.0 / 3.0, PRACTICE);

/// Diameter of the bit.
pub const BIT: Limit = assumed("bit diameter", (0.25, 3.0), 1.0, PRACTICE);
/// Grid on which holes are marked, in feet and inches.
pub const MARKING_STEP: Limit = assumed("marking step", (0.0625, 2.0), 0.25, PRACTICE);
/// Grid on which holes are marked, in metric.
pub const METRIC_MARKING_STEP: Limit = Limit { default: Some(millimeters(5.0)), ..MARKING_STEP };
/// From the edge of the hole to a member.
pub const SIDE_CLEARANCE: Limit = assumed("clearance to members", (0.0, 4.0), 0.25, PRACTICE);
/// The top hole stays at least this far below the top of its compartment.
pub const TOP_CLEARANCE: Limit = assumed("top clearance", (0.5, 12.0), 3.0, PRACTICE);
/// The top hole lies at most this far below the highest corner of its compartment.
pub const TOP_REACH: Limit = assumed("top reach", (1.0, 24.0), 6.0, PRACTICE);
/// A bay wider than this gets more than one column of holes.
pub const WIDE_BAY: Limit = assumed("widest bay for one column", (6.0, 60.0), 24.0, PRACTICE);
/// The tip of the bit stays at most this far behind the finish.
pub const TIP: Limit = assumed(
    "bit tip behind the finish",
    (0.25, 6.0),
    1.25,
    Origin::FromMemory("NEC 300.4, cables lie 1-1/4 in back from the stud face (from memory)"),
);

/// How far holes drop into the wall.
pub const ANGLE: Bounds =
    Bounds { name: "drill angle in degrees", min: 0.0, max: 45.0, default: 25.0, origin: PRACTICE };
/// Bottom plates.
pub const BOTTOM_PLATES: Bounds =
    Bounds { name: "bottom plates", min: 0.0, max: 6.0, default: 1.0, origin: PRACTICE };
/// Top plates.
pub const TOP_PLATES: Bounds = Bounds {
    name: "top plates",
    min: 0.0,
    max: 6.0,
    default: 2.0,
    origin: Origin::Published("IRC R602.3.2, two top plates"),
};
/// King studs on each side of an opening.
pub const KINGS: Bounds =
    Bounds { name: "king studs a side", min: 0.0, max: 6.0, default: 1.0, origin: PRACTICE };
/// Trimmers on each side of an opening.
pub const TRIMMERS: Bounds =
    Bounds { name: "trimmers a side", min: 0.0, max: 6.0, default: 1.0, origin: PRACTICE };
/// The year the house was built.
pub const YEAR_BUILT: Bounds =
    Bounds { name: "year built", min: 1500.0, max: 2100.0, default: 0.0, origin: Origin::Project };

/// Every length in the table.
pub const LENGTHS: &[&Limit] = &[
    &WALL_WIDTH,
    &LEVEL,
    &ACROSS,
    &UP,
    &EXTENT,
    &DEPTH,
    &STUD_THICKNESS,
    &STUD_SPACING,
    &PLATE_THICKNESS,
    &FLOOR_COVERING,
    &CEILING_DROP,
    &HEADER_DEPTH,
    &BESIDE_HEADER,
    &SILL_THICKNESS,
    &BLOCK_HEIGHT,
    &FLAT_BLOCK_DEPTH,
    &LET_IN_DEPTH,
    &LET_IN_WIDTH,
    &CUT_IN_WIDTH,
    &POST_WIDTH,
    &THING_DEPTH,
    &RUN_DIAMETER,
    &KEEP_OFF,
    &FINISH_THICKNESS,
    &LEAF_THICKNESS,
    &COURSE_HEIGHT,
    &BIT,
    &MARKING_STEP,
    &SIDE_CLEARANCE,
    &TOP_CLEARANCE,
    &TOP_REACH,
    &WIDE_BAY,
    &TIP,
];

/// Every count, angle and year in the table.
pub const BOUNDS: &[&Bounds] =
    &[&ANGLE, &BOTTOM_PLATES, &TOP_PLATES, &KINGS, &TRIMMERS, &YEAR_BUILT];

/// One row of the rule for vertical distances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpacingRow {
    /// The row holds for cavities at least this deep, up to the next row.
    pub from_depth: Length,
    /// Holes are at most this far apart, and the lowest at most this far above the bottom.
    pub most: Length,
    /// Closer than this is seldom worth a hole.
    pub preferred: Length,
}

/// Vertical distances by cavity depth, shallow to deep: common practice, no source.
pub const SPACING: [SpacingRow; 4] = [
    SpacingRow { from_depth: inches(1.0), most: inches(12.0), preferred: inches(12.0) },
    // Between 2 and 2-1/2 in the practice is weak; it is interpolated.
    SpacingRow { from_depth: inches(2.0), most: inches(24.0), preferred: inches(18.0) },
    SpacingRow { from_depth: inches(2.5), most: inches(36.0), preferred: inches(24.0) },
    SpacingRow { from_depth: inches(3.5), most: inches(48.0), preferred: inches(36.0) },
];

/// Spacings on centre that a layout is likely to have: common practice, no source.
pub const COMMON_SPACINGS: [Length; 4] =
    [inches(16.0), inches(24.0), millimeters(400.0), millimeters(600.0)];

/// Real sizes of the lumber of a period.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Stock {
    thickness: Length,
    width: Length,
    origin: Origin,
}

fn stock(lumber: Lumber) -> Stock {
    let (thickness, width, origin) = match lumber {
        Lumber::Rough2x4 => (2.0, 4.0, ROUGH),
        Lumber::Rough2x6 => (2.0, 6.0, ROUGH),
        Lumber::Early2x4 => (1.625, 3.625, EARLY),
        Lumber::Early2x6 => (1.625, 5.625, EARLY),
        Lumber::Dressed2x4 => (1.5, 3.5, DRESSED),
        Lumber::Dressed2x6 => (1.5, 5.5, DRESSED),
    };
    Stock { thickness: inches(thickness), width: inches(width), origin }
}

const ROUGH: Origin = Origin::FromMemory("rough lumber, mostly before the 1920s");
const EARLY: Origin = Origin::FromMemory("lumber of the 1920s to the 1960s");

/// What is assumed for a length that was not measured: a size of the lumber, or else the default.
pub fn assumption(limit: &Limit, lumber: Option<Lumber>) -> Option<(Length, Origin)> {
    let stock = lumber.map(stock);
    let of_stock = stock.and_then(|stock| match limit {
        _ if *limit == DEPTH => Some((stock.width, stock.origin)),
        _ if AS_THICK_AS_STUDS.contains(&limit) => Some((stock.thickness, stock.origin)),
        _ => None,
    });
    of_stock.or_else(|| limit.default.map(|default| (default, limit.origin)))
}

/// What is cut from the same lumber as the studs.
const AS_THICK_AS_STUDS: [&Limit; 6] = [
    &STUD_THICKNESS,
    &PLATE_THICKNESS,
    &SILL_THICKNESS,
    &BLOCK_HEIGHT,
    &FLAT_BLOCK_DEPTH,
    &CUT_IN_WIDTH,
];

/// The most walls in a job.
pub const WALLS: usize = 5_000;
/// The most studs, openings, blocks, braces, things and zones in a job.
pub const MEMBERS: usize = 100_000;
/// The longest text of a name or a note, in characters.
pub const TEXT: usize = 200;
/// The largest job file that is read, in bytes.
pub const FILE_BYTES: usize = 40_000_000;

/// The length of the table that bears a name.
pub fn length(name: &str) -> Option<&'static Limit> {
    LENGTHS.iter().copied().find(|limit| limit.name == name)
}

/// The bounds of the table that bear a name.
pub fn bounds(name: &str) -> Option<&'static Bounds> {
    BOUNDS.iter().copied().find(|bounds| bounds.name == name)
}
