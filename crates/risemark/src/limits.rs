//! The one table of limits and defaults: what is accepted, what is assumed, and where it comes from.
//!
//! The reader of job files, the schema, the forms and the list of assumed values all use it.

use crate::{
    job::Lumber,
    language::{Text, text},
    quantity::{Length, SAME, VolumeRate, inches, millimeters},
};

/// Where a default or a rule comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// What people of the trade do; no standard was found.
    CommonPractice,
    /// What some people of the trade do; others do otherwise, and no standard was found.
    WeakPractice,
    /// A published document, named with its section.
    Published(Text),
    /// A published document as it was remembered; check it before you quote it.
    FromMemory(Text),
    /// A choice of this project, to keep figures sane.
    Project,
    /// The user's own setting for the job.
    Yours,
}

impl Origin {
    /// The origin in words, as it stands beside a figure.
    pub fn words(self) -> Text {
        match self {
            Self::CommonPractice => {
                text("common practice, no source", "práctica común, sin fuente")
            }
            Self::WeakPractice => {
                text("weak practice, no standard found", "práctica poco firme, sin norma")
            }
            Self::Published(source) | Self::FromMemory(source) => source,
            Self::Project => text("project decision", "decisión de este programa"),
            Self::Yours => text("your setting", "ajuste suyo"),
        }
    }
}

/// The range of one length, and what is assumed when it was not measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// What it measures, in the users' words.
    pub name: Text,
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
    pub name: Text,
    /// The least that is accepted.
    pub min: f64,
    /// The most that is accepted.
    pub max: f64,
    /// What is assumed when nothing is given.
    pub default: f64,
    /// Where the default comes from.
    pub origin: Origin,
}

const DRESSED: Origin = Origin::Published(text(
    "PS 20, dressed sizes of lumber",
    "PS 20, medidas de la madera cepillada",
));
const LET_IN: Origin = Origin::FromMemory(text(
    "IRC R602.10.4, let-in bracing (to be checked)",
    "IRC R602.10.4, riostras embutidas (por verificar)",
));
const PRACTICE: Origin = Origin::CommonPractice;
const LONGEST: Length = millimeters(100_000.0);

const fn given(name: Text, min: Length, max: Length) -> Limit {
    Limit { name, min, max, default: None, origin: Origin::Project }
}

const fn assumed(name: Text, range: (f64, f64), default: f64, origin: Origin) -> Limit {
    let (min, max) = (inches(range.0), inches(range.1));
    Limit { name, min, max, default: Some(inches(default)), origin }
}

/// Wall from end to end.
pub const WALL_WIDTH: Limit = given(text("wall width", "ancho de la pared"), inches(4.0), LONGEST);
/// A level of an outline above the finished floor.
pub const LEVEL: Limit = given(text("level", "nivel"), millimeters(-100_000.0), LONGEST);
/// A position along the wall.
pub const ACROSS: Limit =
    given(text("position across", "posición horizontal"), millimeters(0.0), LONGEST);
/// A height above the finished floor.
pub const UP: Limit = given(text("position up", "altura"), millimeters(-100_000.0), LONGEST);
/// The extent of an opening, a thing or a zone.
pub const EXTENT: Limit = given(text("size", "medida"), inches(0.125), LONGEST);
/// Clear depth of the cavity behind the finish.
pub const DEPTH: Limit =
    assumed(text("cavity depth", "fondo de la cavidad"), (0.125, 36.0), 3.5, DRESSED);
/// Face width of a stud.
pub const STUD_THICKNESS: Limit =
    assumed(text("stud thickness", "espesor del montante"), (0.5, 12.0), 1.5, DRESSED);
/// Studs on centre.
pub const STUD_SPACING: Limit =
    assumed(text("stud spacing", "separación de montantes"), (4.0, 96.0), 16.0, PRACTICE);
/// One plate.
pub const PLATE_THICKNESS: Limit =
    assumed(text("plate thickness", "espesor de la solera"), (0.5, 12.0), 1.5, DRESSED);
/// From the finished floor down to the underside of the bottom plate.
pub const FLOOR_COVERING: Limit =
    assumed(text("floor covering", "recubrimiento del piso"), (0.0, 12.0), 0.0, Origin::Project);
/// From the ceiling up to the top of the top plate.
// unsure: "cielo raso" or "plafón" for a ceiling.
pub const CEILING_DROP: Limit =
    assumed(text("ceiling drop", "bajada del cielo raso"), (0.0, 120.0), 0.0, Origin::Project);
/// Depth of a header, seen from the face.
pub const HEADER_DEPTH: Limit =
    assumed(text("header depth", "peralte del cabezal"), (0.0, 48.0), 7.25, PRACTICE);
/// Space left beside a header that does not fill the wall.
pub const BESIDE_HEADER: Limit = assumed(
    text("space beside the header", "espacio junto al cabezal"),
    (0.125, 36.0),
    2.0,
    PRACTICE,
);
/// Rough sill of a window.
// unsure: "antepecho" for a rough sill.
pub const SILL_THICKNESS: Limit =
    assumed(text("rough sill thickness", "espesor del antepecho"), (0.0, 12.0), 1.5, DRESSED);
/// Height of a block, seen from the face.
pub const BLOCK_HEIGHT: Limit =
    assumed(text("block height", "altura del bloque"), (0.25, 48.0), 1.5, DRESSED);
/// How deep flat blocking is.
pub const FLAT_BLOCK_DEPTH: Limit =
    assumed(text("flat block depth", "fondo del bloque plano"), (0.25, 24.0), 1.5, DRESSED);
/// How deep a let-in brace lies in the studs.
pub const LET_IN_DEPTH: Limit =
    assumed(text("let-in brace depth", "fondo de la riostra embutida"), (0.25, 6.0), 0.75, LET_IN);
/// Width of a let-in brace, seen from the face.
pub const LET_IN_WIDTH: Limit =
    assumed(text("let-in brace width", "ancho de la riostra embutida"), (0.5, 16.0), 3.5, LET_IN);
/// Width of a cut-in brace, seen from the face.
// unsure: "riostra intercalada" for a cut-in brace.
pub const CUT_IN_WIDTH: Limit = assumed(
    text("cut-in brace width", "ancho de la riostra intercalada"),
    (0.5, 16.0),
    1.5,
    DRESSED,
);
/// Width of a corner post or a partition channel.
pub const POST_WIDTH: Limit =
    assumed(text("post width", "ancho del poste"), (0.5, 24.0), 3.0, PRACTICE);
/// How far a thing reaches into the cavity.
pub const THING_DEPTH: Limit =
    given(text("depth of the thing", "fondo del objeto"), inches(0.0), inches(36.0));
/// Diameter of a cable or a pipe.
pub const RUN_DIAMETER: Limit = given(text("diameter", "diámetro"), inches(0.0625), inches(24.0));
/// Distance that holes keep from a thing.
pub const KEEP_OFF: Limit =
    given(text("keep-off distance", "distancia de resguardo"), inches(0.0), inches(48.0));
/// Thickness of the finish that is drilled.
pub const FINISH_THICKNESS: Limit =
    assumed(text("finish thickness", "espesor del acabado"), (0.0, 24.0), 0.5, PRACTICE);
/// One leaf of a brick wall.
pub const LEAF_THICKNESS: Limit =
    assumed(text("leaf thickness", "espesor de la hoja de ladrillo"), (1.0, 24.0), 3.625, PRACTICE);
/// Height of one course with its joint.
pub const COURSE_HEIGHT: Limit =
    assumed(text("course height", "altura de la hilada"), (1.0, 24.0), 8.0 / 3.0, PRACTICE);

/// From lap to lap of a siding.
pub const LAP_SPACING: Limit =
    given(text("lap spacing", "separación de traslapes"), inches(1.0), inches(48.0));
/// Length of one brick with its joint: modular brick of 7-5/8 in with a joint of 3/8 in.
pub const BRICK_LENGTH: Limit =
    assumed(text("brick length", "largo del ladrillo"), (2.0, 48.0), 8.0, PRACTICE);
/// A bed joint above the finished floor.
// unsure: "junta horizontal" and "junta vertical" for bed joints and upright joints.
pub const BED_JOINT: Limit = assumed(
    text("height of a bed joint", "altura de una junta horizontal"),
    (-48.0, 240.0),
    0.0,
    Origin::Project,
);
/// An upright joint from the end that readings are taken from.
pub const PERPEND: Limit = assumed(
    text("place of an upright joint", "lugar de una junta vertical"),
    (0.0, 240.0),
    0.0,
    Origin::Project,
);
/// Clear depth of the air space between two leaves of brick.
pub const AIR_SPACE: Limit =
    assumed(text("air space", "cámara de aire"), (0.125, 36.0), 2.0, PRACTICE);
/// How far foam reaches from a hole in an air space.
pub const BRICK_REACH: Limit = assumed(
    text("reach in an air space", "alcance en una cámara de aire"),
    (6.0, 60.0),
    18.0,
    Origin::WeakPractice,
);
/// How far an ordinary bit of an inch drills: common practice, no source.
pub const USUAL_BIT: Length = inches(6.0);
/// Ties between two leaves are at most this far apart upright, as a municipal code of 1994 has it.
pub const TIES_UP: Length = inches(24.0);
/// Ties between two leaves are at most this far apart along the wall, as a municipal code of 1994 has it.
pub const TIES_ACROSS: Length = inches(36.0);

/// Diameter of the bit.
pub const BIT: Limit =
    assumed(text("bit diameter", "diámetro de la broca"), (0.25, 3.0), 1.0, PRACTICE);
/// Grid on which holes are marked, in feet and inches.
pub const MARKING_STEP: Limit =
    assumed(text("marking step", "paso de marcado"), (0.0625, 2.0), 0.25, PRACTICE);
/// Grid on which holes are marked, in metric.
pub const METRIC_MARKING_STEP: Limit = Limit { default: Some(millimeters(5.0)), ..MARKING_STEP };
/// From the edge of the hole to a member.
pub const SIDE_CLEARANCE: Limit = assumed(
    text("clearance to members", "distancia libre a las piezas"),
    (0.0, 4.0),
    0.25,
    PRACTICE,
);
/// The top hole stays at least this far below the top of its compartment.
pub const TOP_CLEARANCE: Limit =
    assumed(text("top clearance", "distancia libre arriba"), (0.5, 12.0), 3.0, PRACTICE);
/// The top hole lies at most this far below the highest corner of its compartment.
pub const TOP_REACH: Limit =
    assumed(text("top reach", "alcance hasta arriba"), (1.0, 24.0), 6.0, PRACTICE);
/// A bay wider than this gets more than one column of holes.
// unsure: "espacio" for a bay, here and elsewhere.
pub const WIDE_BAY: Limit = assumed(
    text("widest bay for one column", "espacio más ancho con una sola columna"),
    (6.0, 60.0),
    24.0,
    PRACTICE,
);
/// The tip of the bit stays at most this far behind the finish.
pub const TIP: Limit = assumed(
    text("bit tip behind the finish", "punta de la broca detrás del acabado"),
    (0.25, 6.0),
    1.25,
    Origin::FromMemory(text(
        "NEC 300.4, cables lie 1-1/4 in back from the stud face (to be checked)",
        "NEC 300.4, cables a 1-1/4 pulg detrás de la cara del montante (por verificar)",
    )),
);

/// How far holes drop into the wall.
pub const ANGLE: Bounds = Bounds {
    name: text("drill angle in degrees", "ángulo de taladrado en grados"),
    min: 0.0,
    max: 45.0,
    default: 25.0,
    origin: PRACTICE,
};
/// Bottom plates.
pub const BOTTOM_PLATES: Bounds = Bounds {
    name: text("bottom plates", "soleras inferiores"),
    min: 0.0,
    max: 6.0,
    default: 1.0,
    origin: PRACTICE,
};
/// Top plates.
pub const TOP_PLATES: Bounds = Bounds {
    name: text("top plates", "soleras superiores"),
    min: 0.0,
    max: 6.0,
    default: 2.0,
    origin: Origin::Published(text(
        "IRC R602.3.2, two top plates",
        "IRC R602.3.2, dos soleras superiores",
    )),
};
/// King studs on each side of an opening.
// unsure: "montante principal" for a king stud.
pub const KINGS: Bounds = Bounds {
    name: text("king studs a side", "montantes principales por lado"),
    min: 0.0,
    max: 6.0,
    default: 1.0,
    origin: PRACTICE,
};
/// Trimmers on each side of an opening.
// unsure: "montante de apoyo" for a trimmer.
pub const TRIMMERS: Bounds = Bounds {
    name: text("trimmers a side", "montantes de apoyo por lado"),
    min: 0.0,
    max: 6.0,
    default: 1.0,
    origin: PRACTICE,
};
/// The year the house was built.
pub const YEAR_BUILT: Bounds = Bounds {
    name: text("year built", "año de construcción"),
    min: 1500.0,
    max: 2100.0,
    default: 0.0,
    origin: Origin::Project,
};

/// The number of a hole on its wall.
pub const HOLE_NUMBER: Bounds = Bounds {
    name: text("hole number", "número de agujero"),
    min: 1.0,
    max: 1_000_000.0,
    default: 1.0,
    origin: Origin::Project,
};

/// How far test shots rose.
pub const RISE: Limit = given(
    text("rise of a test shot", "subida de la inyección de prueba"),
    inches(0.125),
    inches(240.0),
);
/// The most that one shot may rise.
pub const LIFT_HEIGHT: Limit =
    given(text("lift height", "altura de capa"), inches(1.0), inches(240.0));
/// Holes of one compartment that lie this near in height fill side by side.
pub const SAME_ROW: Length = inches(3.0);
/// Holes of one compartment this near across stand over each other.
pub const SAME_COLUMN: Length = inches(2.0);

/// Flow until it is tested: common practice, no source. One second rises an inch in a bay of
/// 14-1/2 by 3-1/2 in.
pub const FLOW: VolumeRate = VolumeRate {
    dimension: std::marker::PhantomData,
    units: std::marker::PhantomData,
    value: 50.75 * 0.0254 * 0.0254 * 0.0254,
};
/// Spread of an untested flow, as a share of it: a project decision; two in three shots within it.
pub const UNTESTED_SPREAD: f64 = 0.1;
/// Test shots whose own flow differs more than this from the middle one, as a share of it, disagree:
/// a project decision.
pub const DISAGREEMENT: f64 = 0.25;
/// Components this many kelvins apart between test shots are not the same foam: a project decision.
pub const TEMPERATURE_CHANGE: f64 = 5.0;
/// Components colder than this give less foam and mix badly: common practice, no source (70 °F).
pub const COLD: f64 = 21.1;
/// Chances of finishing for which kits are counted, in percent.
pub const CHANCES: [f64; 3] = [50.0, 90.0, 98.0];
/// Nominal sizes of kits in board feet, free rise: common practice, no source.
pub const KIT_SIZES: [f64; 3] = [15.0, 150.0, 600.0];
/// What opening one kit more counts for in board feet, where prices do not tell: a project decision.
pub const KIT_OPENING: f64 = 30.0;
/// The most kits of one size whose chances are listed one by one from the first: a project decision.
pub const CURVE_KITS: u32 = 12;
/// The most kinds of kits in a job.
pub const KIT_KINDS: usize = 6;
/// The most test shots in a job.
pub const TEST_SHOTS: usize = 500;

const fn counted(name: Text, (min, max): (f64, f64), default: f64, origin: Origin) -> Bounds {
    Bounds { name, min, max, default, origin }
}

/// How long a test shot was sprayed.
pub const SPRAYED: Bounds =
    counted(text("seconds sprayed", "segundos inyectados"), (0.1, 600.0), 0.0, Origin::Project);
/// How long was waited before the rise of a test shot was read.
pub const WAITED: Bounds = counted(
    text("seconds waited before the rise is read", "segundos de espera antes de leer la subida"),
    (0.0, 86_400.0),
    90.0,
    PRACTICE,
);
/// The number of a nozzle.
pub const NOZZLE: Bounds = counted(
    text("number of the nozzle", "número de la boquilla"),
    (0.0, 9_999.0),
    0.0,
    Origin::Project,
);
/// Temperature of the components.
pub const COMPONENTS: Bounds = counted(
    text("component temperature in °C", "temperatura de los componentes en °C"),
    (-20.0, 60.0),
    27.8,
    PRACTICE,
);
/// The same in degrees Fahrenheit, as they are read; the usual one in whole degrees.
pub const COMPONENTS_FAHRENHEIT: Bounds = Bounds {
    name: text("component temperature in °F", "temperatura de los componentes en °F"),
    min: -4.0,
    max: 140.0,
    default: 82.0,
    ..COMPONENTS
};
/// How sure ranges are.
pub const CONFIDENCE: Bounds = counted(
    text("confidence in percent", "confianza en por ciento"),
    (50.0, 99.9),
    95.0,
    Origin::Project,
);
/// Shots shorter than this do not fit between two breaths.
pub const SHORTEST_SHOT: Bounds = counted(
    text("shortest shot in seconds", "inyección más corta en segundos"),
    (0.0, 60.0),
    3.0,
    PRACTICE,
);
/// Shots longer than this are too much for a nozzle, or for whoever holds it.
pub const LONGEST_SHOT: Bounds = counted(
    text("longest shot in seconds", "inyección más larga en segundos"),
    (1.0, 600.0),
    60.0,
    PRACTICE,
);
/// From one shot to the next through one hole.
pub const PAUSE: Bounds = counted(
    text(
        "seconds between shots through one hole",
        "segundos entre inyecciones por un mismo agujero",
    ),
    (0.0, 86_400.0),
    180.0,
    PRACTICE,
);
/// The most that one shot may fill.
pub const SHOT_VOLUME: Bounds = counted(
    text("board feet a shot, at most", "pies tabla por inyección, a lo más"),
    (0.1, 1_000.0),
    0.0,
    Origin::Project,
);
/// Nominal yield of a kit.
pub const KIT_SIZE: Bounds = counted(
    text("nominal board feet of a kit", "pies tabla nominales de un kit"),
    (5.0, 5_000.0),
    0.0,
    Origin::Project,
);
/// Kits that are there already.
pub const KITS_AT_HAND: Bounds =
    counted(text("kits at hand", "kits disponibles"), (0.0, 1_000.0), 0.0, Origin::Project);
/// How much of the nominal yield comes out, warm and sprayed without stops; 75 to 90 in practice.
pub const USABLE: Bounds = counted(
    text("usable percent of the nominal yield", "por ciento útil del rendimiento nominal"),
    (5.0, 150.0),
    85.0,
    PRACTICE,
);
/// How far the usable share differs from kit to kit; 75 to 90 percent holds most of them.
pub const USABLE_SPREAD: Bounds = counted(
    text("spread of the usable percent", "dispersión del por ciento útil"),
    (0.0, 40.0),
    4.0,
    Origin::Project,
);
/// What escapes of a usual wall.
pub const WASTE: Bounds =
    counted(text("waste in percent", "desperdicio en por ciento"), (0.0, 100.0), 10.0, PRACTICE);
/// What escapes of a wall of plaster on lath, in percent: common practice, no source.
pub const WASTE_LATH: f64 = 15.0;
/// What escapes of balloon framing and brick, in percent: common practice, no source.
pub const WASTE_OPEN: f64 = 20.0;
/// What something costs, in the user's own money; never assumed.
pub const PRICE: Bounds =
    // Below the range: no price is assumed.
    counted(text("price", "precio"), (0.0, 10_000_000.0), -1.0, Origin::Project);
/// People at work.
pub const PEOPLE: Bounds = counted(text("people", "personas"), (1.0, 20.0), 2.0, PRACTICE);
/// Marking one hole.
pub const MARKING: Bounds = counted(
    text("seconds to mark a hole", "segundos para marcar un agujero"),
    (0.0, 3_600.0),
    30.0,
    Origin::Project,
);
/// Drilling one hole.
pub const DRILLING: Bounds = counted(
    text("seconds to drill a hole", "segundos para taladrar un agujero"),
    (0.0, 3_600.0),
    45.0,
    Origin::Project,
);
/// Drilling one hole through masonry, in seconds: a project decision.
pub const DRILLING_MASONRY: f64 = 180.0;
/// Closing one hole.
pub const PATCHING: Bounds = counted(
    text("seconds to close a hole", "segundos para tapar un agujero"),
    (0.0, 3_600.0),
    120.0,
    Origin::Project,
);
/// Covering, warming kits and cleaning, for the whole job.
pub const CLEANING: Bounds = counted(
    text("minutes to set up and clean", "minutos para preparar y limpiar"),
    (0.0, 10_000.0),
    90.0,
    Origin::Project,
);
/// Nozzles that are bought beyond those of the plan.
pub const SPARE: Bounds = counted(
    text("spare nozzles in percent", "boquillas de reserva en por ciento"),
    (0.0, 500.0),
    20.0,
    Origin::Project,
);
/// Holes that a bit lasts in board and wood: a project decision.
pub const HOLES_A_BIT: usize = 150;
/// Holes that a bit lasts in masonry, stucco and plaster: a project decision.
pub const HOLES_A_MASONRY_BIT: usize = 40;
/// Holes that a jar of petroleum jelly lasts: a project decision.
pub const HOLES_A_JAR: usize = 250;
/// Holes that a tub of patching compound closes: a project decision.
pub const HOLES_A_TUB: usize = 100;
/// Length of wall that a drop cloth covers: a project decision.
pub const DROP_CLOTH: Length = inches(144.0);
/// The tube on a nozzle: common practice, no source (12 in of 1/4 in inner diameter).
pub const TUBE: Length = inches(12.0);
/// From one shot to the next where nothing else is planned, in seconds: placing the tube.
pub const PLACING: f64 = 6.0;

/// Placing the tube in a hole.
// unsure: "manguerita" for the tube at the nozzle.
pub const SET_UP: Bounds = counted(
    text("seconds to place the tube", "segundos para meter la manguerita"),
    (0.0, 600.0),
    6.0,
    Origin::Project,
);
/// Walking along a wall with the gun.
pub const WALKING: Bounds = counted(
    text("walking speed in metres a second", "metros por segundo al caminar"),
    (0.1, 3.0),
    1.0,
    Origin::Project,
);
/// Taking gun and kit to another wall; 30 to 60 s in practice.
pub const CART: Bounds = counted(
    text("seconds to another wall", "segundos hasta otra pared"),
    (0.0, 3_600.0),
    45.0,
    PRACTICE,
);
/// From a shot to the next one above it: foam has risen and holds.
pub const SETTING: Bounds = counted(
    text("seconds to set between lifts", "segundos para que asiente entre capas"),
    (90.0, 3_600.0),
    180.0,
    PRACTICE,
);
/// The longest pause after which a nozzle still runs; 30 to 45 s in practice.
pub const IDLE_LIMIT: Bounds = counted(
    text("idle limit of a nozzle in seconds", "pausa máxima de una boquilla en segundos"),
    (5.0, 45.0),
    30.0,
    PRACTICE,
);
/// Taking a nozzle off and putting a fresh one on.
pub const NOZZLE_CHANGE: Bounds = counted(
    text("seconds to change a nozzle", "segundos para cambiar una boquilla"),
    (0.0, 600.0),
    20.0,
    PRACTICE,
);
/// What a nozzle is worth in time, so that orders can be compared.
pub const NOZZLE_WEIGHT: Bounds = counted(
    text("seconds that a nozzle is worth", "segundos que vale una boquilla"),
    (0.0, 3_600.0),
    60.0,
    Origin::Project,
);
/// Hoses from the empty kit to the next one, which stood in the heater.
pub const KIT_CHANGE: Bounds = counted(
    text("seconds to change a kit", "segundos para cambiar un kit"),
    (30.0, 86_400.0),
    300.0,
    PRACTICE,
);
/// Spraying a new kit into a bag until both components run evenly.
pub const PURGE: Bounds = counted(
    text("seconds to purge a new kit", "segundos para purgar un kit nuevo"),
    (0.0, 600.0),
    10.0,
    PRACTICE,
);
/// The number of a hole on its wall.
pub const HOLE: Bounds =
    counted(text("number of a hole", "número del agujero"), (1.0, 100_000.0), 1.0, Origin::Project);
/// The most holes in a sequence that the user fixes.
pub const SEQUENCE: usize = 10_000;

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
    &LAP_SPACING,
    &BRICK_LENGTH,
    &BED_JOINT,
    &PERPEND,
    &AIR_SPACE,
    &BRICK_REACH,
    &BIT,
    &MARKING_STEP,
    &SIDE_CLEARANCE,
    &TOP_CLEARANCE,
    &TOP_REACH,
    &WIDE_BAY,
    &TIP,
    &RISE,
    &LIFT_HEIGHT,
];

/// Every count, angle and year in the table.
pub const BOUNDS: &[&Bounds] = &[
    &ANGLE,
    &BOTTOM_PLATES,
    &TOP_PLATES,
    &KINGS,
    &TRIMMERS,
    &YEAR_BUILT,
    &HOLE_NUMBER,
    &SPRAYED,
    &WAITED,
    &NOZZLE,
    &COMPONENTS,
    &CONFIDENCE,
    &SHORTEST_SHOT,
    &LONGEST_SHOT,
    &PAUSE,
    &SHOT_VOLUME,
    &KIT_SIZE,
    &KITS_AT_HAND,
    &USABLE,
    &USABLE_SPREAD,
    &WASTE,
    &PRICE,
    &PEOPLE,
    &MARKING,
    &DRILLING,
    &PATCHING,
    &CLEANING,
    &SPARE,
    &SET_UP,
    &WALKING,
    &CART,
    &SETTING,
    &IDLE_LIMIT,
    &NOZZLE_CHANGE,
    &NOZZLE_WEIGHT,
    &KIT_CHANGE,
    &PURGE,
    &HOLE,
];

/// Where a row of the rule for vertical distances begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Begins {
    /// At its least depth.
    At,
    /// Over its least depth, at which the row before it still holds.
    Over,
}

/// One row of the rule for vertical distances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpacingRow {
    /// The row holds for cavities from this depth on, up to the next row.
    pub from_depth: Length,
    /// Whether it holds at that depth itself.
    pub begins: Begins,
    /// Holes are at most this far apart, and the lowest at most this far above the bottom.
    pub most: Length,
    /// Closer than this is seldom worth a hole.
    pub preferred: Length,
}

/// Vertical distances by cavity depth, shallow to deep: common practice, no source.
pub const SPACING: [SpacingRow; 4] = [
    row(1.0, Begins::At, 12.0, 12.0),
    // Between 2 and 2-1/2 in the practice is weak; it is interpolated.
    row(2.0, Begins::Over, 24.0, 18.0),
    row(2.5, Begins::At, 36.0, 24.0),
    row(3.5, Begins::At, 48.0, 36.0),
];

/// A row from its figures in inches.
const fn row(from_depth: f64, begins: Begins, most: f64, preferred: f64) -> SpacingRow {
    SpacingRow {
        from_depth: inches(from_depth),
        begins,
        most: inches(most),
        preferred: inches(preferred),
    }
}

impl SpacingRow {
    /// Whether a cavity is deep enough for the row. A depth that was rounded on its way through a file
    /// still belongs to its row.
    pub fn begins_at(&self, depth: Length) -> bool {
        match self.begins {
            Begins::At => self.from_depth <= depth + SAME,
            Begins::Over => self.from_depth + SAME < depth,
        }
    }
}

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

const ROUGH: Origin = Origin::FromMemory(text(
    "rough lumber, mostly before the 1920s",
    "madera sin cepillar, casi siempre anterior a los años veinte",
));
const EARLY: Origin = Origin::FromMemory(text(
    "lumber of the 1920s to the 1960s",
    "madera de los años veinte a los sesenta",
));

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

/// The length of the table that bears a name, in English as schemas have it.
pub fn length(name: &str) -> Option<&'static Limit> {
    LENGTHS.iter().copied().find(|limit| limit.name.english == name)
}

/// The bounds of the table that bear a name, in English as schemas have it.
pub fn bounds(name: &str) -> Option<&'static Bounds> {
    BOUNDS.iter().copied().find(|bounds| bounds.name.english == name)
}
