//! Every word on the screen that is not the domain's, in one place, so that another language can stand beside it.

use risemark::{
    drilling::Hole,
    finding::{Finding, Severity},
    found::{FoundStud, ReadAt, Standing},
    geometry::Rect,
    job::{
        BayException, Block, BlockKind, Brace, BraceKind, End, ExtraKind, ExtraStud, Header, Job,
        Lumber, Material, Opening, OpeningKind, Side, SkipReason, StudCorrection, Thing, ThingKind,
        ThingShape, Wall, Zone, ZoneKind,
    },
    language::Language,
    language::Speech,
    limits::{Bounds, Origin},
    quantity::{
        Length, NotALength, Units, Volume, round_to, to_board_feet, to_cubic_feet, to_liters,
    },
    tape::{reading, size},
    wording,
};
use risemark_sheets::{Layer, Orientation, Paper};

use crate::{
    command::{Command, ListChange, WallChange},
    edit::{Entry, Grip, Scene, add::Kind, figure, studs},
    link,
    shape::{ConstructionKind, EdgeKind, EffectKind, HeaderKind, LayoutKind, ThingShapeKind},
    store::{Fault, keeper::Status},
};

/// A choice and its word.
pub type Choices<T> = &'static [(T, &'static str)];

/// Declares texts that say for themselves where they stand.
macro_rules! texts {
    ($($name:ident = $text:literal;)*) => {
        $(#[doc = concat!("“", $text, "”")] pub const $name: &str = $text;)*
    };
}

texts! {
    APP = "Risemark";
    SKIP_TO_CONTENT = "Skip to the content";
    PLACES = "Places";
    JOB = "Job";
    WALL = "Wall";
    SHEETS = "Sheets";
    UNDO = "Undo";
    REDO = "Redo";
    REMOVE = "Remove";
    NEEDED = "this must be given";
    UNKNOWN = "unknown";
    OPENS_OFFLINE = "Opens without a network too.";
    NEW_VERSION = "A new version is ready. What you have open stays as it is until you take it.";
    TAKE_NEW_VERSION = "Take the new version";

    SAMPLE_NOTICE = "This is a sample job, finished for you to look around in.";
    NEW_JOB = "New empty job";
    SAMPLE_JOB = "Sample job";
    OPEN_JOB = "Open job…";
    SAVE_JOB = "Save job";
    JOBS_HERE = "Jobs on this device";
    OPEN = "Open";
    OPEN_NOW = "open now";
    REMOVED_JOBS = "Removed jobs";
    BRING_BACK = "Bring back";
    CLEAR_REMOVED = "Delete removed jobs for good";
    READ_ONLY = "Nothing can be changed here at the moment";
    WHAT_IS_KEPT = "Whether this job is kept";
    TRY_AGAIN = "Try again";
    KEPT = "Kept on this device.";
    KEPT_FOR_NOW = "Kept on this device, as long as the browser has room.";
    KEEPING = "Keeping…";
    ELSEWHERE = "Open in another tab: read only here, until that tab is closed.";
    SHARED = "This job came with a link. You look at it; it is not kept.";
    KEEP_COPY = "Keep a copy";
    SEND_AS_LINK = "Send as a link";
    LINK = "Link to this job";
    LINK_HINT = "The whole job is in the link. Whoever has the link can read it; nothing is sent by itself.";
    LINK_TOO_LONG = "This job is too long for a link that arrives whole. Save it as a file and send that.";
    NO_LINK = "This browser cannot make links. Save the job as a file and send that.";
    CODE_HINT = "A phone's camera opens the job from this code.";
    COPY_LINK = "Copy the link";
    COPIED = "Copied.";
    LINK_REFUSED = "The link was not opened";
    LINK_DAMAGED = "It was cut or changed on its way. Ask for it again, or for the job as a file.";
    LINK_TOO_LARGE = "It stands for more than any job needs.";
    DENIED = "Not kept: this browser gives the planner no storage. Save the job as a file.";
    FULL = "Not kept: there is no room left. Save the job as a file.";
    BLOCKED = "Not kept: an older planner is open in another tab. Save the job as a file, close that tab, load this page again.";
    CLOSED = "Read only: a newer planner keeps the jobs now. Load this page again to get it.";
    FAILED = "Not kept: the browser could not write. Save the job as a file.";
    DAMAGED = "Some of what was kept is damaged. What could be read is here; the rest can be saved as it is.";
    NEWER = "A newer planner kept jobs that this one cannot read. Load the page again, or save them as they are.";
    GAP = "Some earlier steps of this job could not be read; the job itself is whole.";
    SAVE_RECORDS = "Save as they are";
    CLEAR_DAMAGED = "Delete the damaged records";
    NO_WALLS = "No walls yet. Three answers give a first plan.";
    FILE_REFUSED = "The file was not opened";
    JOB_NAME = "Job";
    PLACE = "Place";
    DATE = "Date on the sheets";
    UNITS = "Lengths in";
    YEAR_BUILT = "Year built";
    ABOUT_JOB = "About the job";
    RULES = "Rules of this job";
    WALLS = "Walls";
    ADD_WALL = "Add a wall";
    HOW_WIDE = "How wide?";
    HOW_HIGH = "How high?";
    HOW_DEEP = "How deep is the cavity?";
    ANSWERS_NEEDED = "How wide and how high must be given.";
    FRAMED_OF = "Framed of";
    ROOM_AND_LUMBER = "Room and lumber";
    HOLES = "Holes";
    LINES = "Snap lines";
    TO_FILL = "To fill";
    WALL_SETTINGS = "What walls start with";
    COPY = "Copy";
    COPY_SUFFIX = "copy";
    MIRROR = "Mirror";
    MIRROR_SUFFIX = "mirrored";
    EARLIER = "Earlier";
    LATER = "Later";

    BIT = "Bit diameter";
    ANGLE = "Drill angle, below level";
    MARKING_STEP = "Marking step";
    SIDE_CLEARANCE = "Hole edge to timber";
    TOP_CLEARANCE = "Below the top, at least";
    TOP_REACH = "Below the top, at most";
    WIDE_BAY = "Widest bay for one column";
    TIP = "Bit tip behind the finish, at most";
    SPACING = "Between holes, at most";

    NO_SUCH_WALL = "This job has no such wall.";
    TO_THE_JOB = "To the job";
    ALL_WALLS = "Walls of this job";
    ELEVATION = "Elevation";
    HOLES_TABLE = "All holes in a table";
    HOLE = "Hole";
    COMPARTMENT = "Compartment";
    ACROSS = "Across";
    UP = "Up";
    WHY = "Why";
    FILLS = "Fills";
    WHY_HERE = "Why here";
    MAY_MOVE = "May move";
    CHOOSE_A_HOLE = "Touch a hole to see its readings and why it is there.";
    NO_HOLES = "There is nothing to drill in this wall.";
    FINDINGS = "Findings";
    NO_FINDINGS = "Nothing to say against this plan.";
    THE_WALL = "The wall as measured";
    PANEL = "Hole, findings and measurements";

    ADD = "Add";
    WHERE_TO_ADD = "Touch the wall where it belongs, or press Enter for the middle.";
    SEVERAL = "Several";
    SHOW = "Show";
    SIZE_OF_DRAWING = "Size of the drawing";
    SMALLER = "Smaller";
    LARGER = "Larger";
    FIT = "Fit";
    FIT_HINT = "Fit: the whole wall";
    KEYS = "Keys";
    KEYS_HINT = "Page Up and Page Down, or [ and ], go from thing to thing. Arrow keys move it by a step, with Shift by a foot or 100 mm; E takes one of its edges. Enter opens its measurements, Delete removes it, Ctrl D duplicates it, Escape lets go. With nothing picked the arrow keys go from hole to hole. Plus, minus and 0 change the size; Space and a drag move the paper.";
    PICKED = "What is picked";
    DUPLICATE = "Duplicate";
    MEASUREMENTS = "Measurements";
    NO_ROOM = "there is no room for another one";
    NOT_HERE = "not here";
    NOTHING_PICKED = "Nothing picked";
    UPPER_EDGE = "Upper edge of the wall";
    LOWER_EDGE = "Lower edge of the wall";
    GIVE_TO_ROOM = "settings of the room";
    GIVE_HINT = "Depth, lumber, finish, plates, studs, construction, side and datum; one step, to be undone.";
    FOUND_STUDS = "Studs as called out";
    FOUND_HINT = "Read the tape from the datum end: 14-1/2, 30 3/4, 47. Commas, new lines or two spaces between.";
    READ_AT = "The tape is read at";
    READINGS = "Readings";
    READING_KEYS = "Keys for readings";
    NEXT_READING = "next";
    TAKE_KEY_BACK = "take the last key back";
    TAKE_REGULAR = "Take as a regular layout, corrected";
    TAKE_MEASURED = "Take one by one, as read";

    SIZE_AND_SHAPE = "Size and shape";
    STUDS = "Studs";
    PLATES = "Plates";
    OPENINGS = "Openings";
    BLOCKS_AND_BRACES = "Blocks and braces";
    IN_THE_WALL = "In the wall";
    ON_THE_WALL = "On the wall";
    DEPTH_AND_FINISH = "Depth and finish";
    BAYS = "Bays that differ";
    MARKING = "Marking and construction";

    NAME = "Name";
    ROOM = "Room";
    KIND = "Kind";
    WIDTH = "Width";
    HEIGHT = "Height";
    TOP_EDGE = "Upper edge";
    BOTTOM_EDGE = "Lower edge";
    HEIGHT_LEFT = "Height, left end";
    HEIGHT_RIGHT = "Height, right end";
    RIDGE_AT = "Ridge, across";
    RIDGE_HEIGHT = "Ridge, height";
    POINT = "point";
    ADD_POINT = "Add a point";
    STUD = "stud";
    STUD_THICKNESS = "Stud thickness";
    LAYOUT = "Layout";
    STUD_SPACING = "Spacing, on centre";
    FIRST_STUD = "Centre of the first stud";
    ONE_SPACING = "one spacing";
    LAYOUT_FROM = "Layout starts at";
    CENTRE = "Centre";
    ADD_STUD = "Add a stud";
    CORRECTIONS = "Studs found elsewhere";
    ADD_CORRECTION = "Add a correction";
    STUD_NEAR = "Stud of the layout, near";
    FOUND_AT = "Found at";
    EXTRA_STUDS = "Studs beside the layout";
    ADD_EXTRA = "Add a stud or post";
    FACE_WIDTH = "Face width";
    BOTTOM_PLATES = "Bottom plates";
    TOP_PLATES = "Top plates";
    PLATE_THICKNESS = "Plate thickness";
    FLOOR_COVERING = "Finished floor to underside of plate";
    CEILING_DROP = "Ceiling to top of plate";
    ADD_OPENING = "Add a door or window";
    LEFT = "Left edge";
    ROUGH_WIDTH = "Rough width";
    ROUGH_HEIGHT = "Rough height";
    SILL = "Top of the rough sill";
    SILL_THICKNESS = "Sill thickness";
    KINGS = "King studs, each side";
    TRIMMERS = "Trimmers, each side";
    HEADER = "Header";
    HEADER_DEPTH = "Header depth";
    BESIDE_HEADER = "Space beside the header";
    ADD_BLOCK = "Add blocking";
    FIRST_BAY = "In the bay at";
    LAST_BAY = "To the bay at";
    SAME_BAY = "that bay alone";
    UNDERSIDE = "Lower edge";
    BLOCK_HEIGHT = "Height of the block";
    ADD_BRACE = "Add a brace";
    ONE_END = "One end";
    OTHER_END = "Other end";
    BRACE_WIDTH = "Width of the brace";
    ADD_THING = "Add a thing in the wall";
    SHAPE = "Shape";
    DIAMETER = "Diameter";
    KEEP_OFF = "Holes keep off";
    BY_KIND = "by kind";
    EFFECT = "What it does to the bay";
    THING_DEPTH = "Reaches into the cavity";
    ITS_OWN_DEPTH = "its own depth";
    ADD_ZONE = "Add a thing on the wall";
    CAVITY_DEPTH = "Cavity depth";
    FINISH = "Finish";
    FINISH_THICKNESS = "Finish thickness";
    BY_MATERIAL = "by material";
    ADD_BAY = "Add a bay";
    IN_BAY = "The bay at";
    OWN_DEPTH = "Its own depth";
    AS_THE_WALL = "as the wall";
    FILLING = "Filling";
    DATUM = "Mark from";
    SIDE = "Drilled from";
    CONSTRUCTION = "Construction";
    LEAF = "Leaf that is drilled";
    COURSE = "Course with its joint";

    PAPER = "Paper";
    ORIENTATION = "Paper lies";
    WHICH_WALL = "Sheets of";
    EVERY_WALL = "all walls";
    PRINT = "Print";
    PRINT_HINT = "Print at 100 %, not fitted to the page; then measure the bar on each sheet.";
    DOWNLOAD_SVG = "Save as SVG";
    STOPPED = "These sheets are not printed yet: something on the wall stops the work.";
    I_KNOW = "I know. My reason, printed on the sheet:";
    NOTHING_TO_PRINT = "There is no wall to print.";
}

/// What can be added by touching the wall.
pub const KINDS: Choices<Kind> = &[
    (Kind::Window, "window"),
    (Kind::Door, "door"),
    (Kind::Block, "block"),
    (Kind::Brace, "brace"),
    (Kind::Stud, "stud"),
    (Kind::Box, "box"),
    (Kind::Cable, "cable"),
    (Kind::Panel, "panel"),
    (Kind::Bay, "bay"),
];

/// What can be shown or hidden.
pub const LAYERS: Choices<Layer> = &[
    (Layer::Framing, "framing"),
    (Layer::Compartments, "compartments"),
    (Layer::Holes, "holes"),
    (Layer::Lines, "lines"),
    (Layer::Rulers, "dimensions"),
    (Layer::Findings, "findings"),
];
/// Lumber of a period.
pub const LUMBER: Choices<Option<Lumber>> = &[
    (None, "not known"),
    (Some(Lumber::Rough2x4), "2×4, rough, before the 1920s"),
    (Some(Lumber::Early2x4), "2×4, 1920s to 1960s"),
    (Some(Lumber::Dressed2x4), "2×4, since about 1970"),
    (Some(Lumber::Rough2x6), "2×6, rough, before the 1920s"),
    (Some(Lumber::Early2x6), "2×6, 1920s to 1960s"),
    (Some(Lumber::Dressed2x6), "2×6, since about 1970"),
];

/// What of a stud the tape is read at.
pub const READINGS_AT: Choices<ReadAt> =
    &[(ReadAt::Centre, "stud centres"), (ReadAt::NearEdge, "near edges")];

/// Shapes of an upper edge.
pub const EDGES: Choices<EdgeKind> = &[
    (EdgeKind::Level, "level"),
    (EdgeKind::Raked, "raked"),
    (EdgeKind::Gable, "gable"),
    (EdgeKind::Points, "points"),
];

/// Shapes of a lower edge.
pub const BOTTOM_EDGES: Choices<Option<EdgeKind>> = &[
    (None, "the finished floor"),
    (Some(EdgeKind::Level), "level"),
    (Some(EdgeKind::Raked), "raked"),
    (Some(EdgeKind::Gable), "two slopes"),
    (Some(EdgeKind::Points), "points"),
];

/// Ways to give the places of studs.
pub const LAYOUTS: Choices<LayoutKind> =
    &[(LayoutKind::Regular, "regular"), (LayoutKind::Measured, "found one by one")];

/// Ends of a wall.
pub const ENDS: Choices<End> = &[(End::Left, "left end"), (End::Right, "right end")];

/// Sides of a wall.
pub const SIDES: Choices<Side> = &[(Side::Inside, "inside"), (Side::Outside, "outside")];

/// Ways to build a wall.
pub const CONSTRUCTIONS: Choices<ConstructionKind> = &[
    (ConstructionKind::Platform, "platform frame"),
    (ConstructionKind::Balloon, "balloon frame"),
    (ConstructionKind::Brick, "brick, air space"),
];

/// Finishes.
pub const MATERIALS: Choices<Material> = &[
    (Material::Board, "gypsum board"),
    (Material::Plaster, "plaster on lath"),
    (Material::Wood, "wood"),
    (Material::Siding, "siding"),
    (Material::Stucco, "stucco"),
    (Material::Brick, "brick"),
];

/// Openings.
pub const OPENING_KINDS: Choices<OpeningKind> =
    &[(OpeningKind::Door, "door"), (OpeningKind::Window, "window")];

/// Headers.
pub const HEADERS: Choices<HeaderKind> = &[
    (HeaderKind::Full, "full depth"),
    (HeaderKind::Shallow, "space beside it"),
    (HeaderKind::Solid, "solid to the plate"),
];

/// Blocks.
pub const BLOCK_KINDS: Choices<BlockKind> =
    &[(BlockKind::Full, "closes the bay"), (BlockKind::Flat, "laid flat")];

/// Braces.
pub const BRACE_KINDS: Choices<BraceKind> =
    &[(BraceKind::LetIn, "let in"), (BraceKind::CutIn, "cut in")];

/// Things in the wall.
pub const THING_KINDS: Choices<ThingKind> = &[
    (ThingKind::ElectricalBox, "electrical box"),
    (ThingKind::Cable, "cable"),
    (ThingKind::Pipe, "pipe"),
    (ThingKind::Duct, "duct"),
    (ThingKind::Vent, "vent"),
    (ThingKind::Flue, "flue"),
    (ThingKind::MedicineCabinet, "medicine cabinet"),
];

/// Shapes of things in the wall.
pub const THING_SHAPES: Choices<ThingShapeKind> =
    &[(ThingShapeKind::Box, "rectangle"), (ThingShapeKind::Run, "run")];

/// What a thing does to its bay.
pub const EFFECTS: Choices<Option<EffectKind>> = &[
    (None, "by kind"),
    (Some(EffectKind::TakesVolume), "takes volume"),
    (Some(EffectKind::ClosesBay), "closes the bay"),
    (Some(EffectKind::ForbidsFilling), "bay stays empty"),
];

/// Things on the wall.
pub const ZONE_KINDS: Choices<ZoneKind> = &[
    (ZoneKind::Trim, "trim"),
    (ZoneKind::Baseboard, "baseboard"),
    (ZoneKind::Crown, "crown"),
    (ZoneKind::Counter, "counter"),
    (ZoneKind::Radiator, "radiator"),
    (ZoneKind::Panel, "panel"),
];

/// Whether a bay is filled.
pub const SKIP_REASONS: Choices<Option<SkipReason>> = &[
    (None, "filled"),
    (Some(SkipReason::AlreadyInsulated), "insulated already"),
    (Some(SkipReason::Chase), "a chase"),
    (Some(SkipReason::KnobAndTube), "knob-and-tube"),
    (Some(SkipReason::LeftOut), "left out"),
];

/// Corrections of a stud: whether it is missing.
pub const CORRECTION_KINDS: Choices<bool> = &[(false, "stands elsewhere"), (true, "is not there")];

/// Members beside the layout.
pub const EXTRA_KINDS: Choices<ExtraKind> = &[
    (ExtraKind::Stud, "stud"),
    (ExtraKind::CornerPost, "corner post"),
    (ExtraKind::PartitionChannel, "partition channel"),
];

/// Units of lengths.
pub const UNIT_SYSTEMS: Choices<Units> =
    &[(Units::FeetInches, "feet and inches"), (Units::Metric, "millimetres")];

/// Sizes of paper.
pub const PAPERS: Choices<Paper> = &[
    (Paper::Letter, "Letter"),
    (Paper::Legal, "Legal"),
    (Paper::Tabloid, "Tabloid"),
    (Paper::A4, "A4"),
    (Paper::A3, "A3"),
];

/// How paper lies.
pub const ORIENTATIONS: Choices<Orientation> = &[
    (Orientation::Auto, "as it fits best"),
    (Orientation::Portrait, "upright"),
    (Orientation::Landscape, "lying"),
];

/// The word of a choice.
pub fn word<T: PartialEq>(choices: Choices<T>, value: &T) -> &'static str {
    choices.iter().find(|(choice, _)| choice == value).map_or("", |(_, word)| word)
}

/// How the people at this screen are spoken to.
pub fn speech(units: Units) -> Speech {
    Speech::english(units)
}

/// What a length or count that was not given rests on.
pub fn assumed(origin: Origin) -> String {
    format!("assumed · {}", origin.words().english)
}

/// What changed, for people who do not see the drawing.
pub fn holes_changed(wall: &str, earlier: usize, now: usize) -> String {
    format!("{wall}: holes {earlier} to {now}")
}

/// A number that is none, or lies outside its range.
pub fn not_a_number(found: &str, bounds: &Bounds) -> String {
    let found = found.trim();
    let Bounds { name, min, max, .. } = bounds;
    format!("cannot take “{found}” as {}, expected {min} to {max}", name.english)
}

/// Everything that speaks against a change, in one text.
pub fn all_messages(findings: &[Finding], units: Units) -> String {
    let messages = findings.iter().map(|finding| {
        let part = risemark::finding::Place { wall: None, field: None, ..finding.place.clone() };
        let speech = speech(units);
        let message = wording::message(&finding.problem, speech);
        match part.part {
            risemark::finding::Part::Whole => message,
            risemark::finding::Part::Entry { .. } | risemark::finding::Part::Compartment(_) => {
                format!("{}: {message}", wording::place(&part, speech.language))
            }
        }
    });
    messages.collect::<Vec<_>>().join("; ")
}

/// How many of a thing there are: `1 hole`, `28 holes`.
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// How many holes on how many snap lines.
pub fn holes_and_lines(n_holes: usize, n_lines: usize) -> String {
    format!("{} on {}", counted(n_holes, "hole", "holes"), counted(n_lines, "line", "lines"))
}

/// What a button beside an entry does.
pub fn remove_entry(noun: &str, number: usize) -> String {
    format!("Remove {noun} {number}")
}

/// What a button beside an entry does.
pub fn duplicate_entry(noun: &str, number: usize) -> String {
    format!("{DUPLICATE} {noun} {number}")
}

/// What a button beside something does.
pub fn action_on(action: &str, name: &str) -> String {
    format!("{action}: {name}")
}

/// The sign of a severity: told by its shape, so that it needs no colour.
pub fn sign(severity: Severity) -> &'static str {
    match severity {
        Severity::Stop => "■",
        Severity::Warning => "▲",
        Severity::Note => "○",
    }
}

/// How many findings of a severity there are.
pub fn n_findings(findings: &[Finding], severity: Severity) -> usize {
    findings.iter().filter(|finding| finding.problem.severity() == severity).count()
}

/// Findings of a wall, counted by severity.
pub fn findings_counted(findings: &[Finding]) -> String {
    let count = |severity| (severity, n_findings(findings, severity));
    counts(&[Severity::Stop, Severity::Warning, Severity::Note].map(count))
}

/// Numbers of findings by severity; those that are not there are left out.
pub fn counts(counts: &[(Severity, usize)]) -> String {
    let count = |(severity, count): &(Severity, usize)| {
        let (one, many) = match severity {
            Severity::Stop => ("stop", "stops"),
            Severity::Warning => ("warning", "warnings"),
            Severity::Note => ("note", "notes"),
        };
        (0 < *count).then(|| format!("{} {}", sign(*severity), counted(*count, one, many)))
    };
    counts.iter().filter_map(count).collect::<Vec<_>>().join("  ")
}

/// How much foam goes into a wall or a job.
pub fn volume(volume: Volume, units: Units) -> String {
    match units {
        Units::FeetInches => format!(
            "{} board feet ({} cu ft)",
            round_to(to_board_feet(volume), 1.0),
            round_to(to_cubic_feet(volume), 10.0)
        ),
        Units::Metric => format!("{} L", round_to(to_liters(volume), 1.0)),
    }
}

/// How many walls have another value than they start with.
pub fn walls_differ(count: usize) -> String {
    format!("{}:", counted(count, "wall differs", "walls differ"))
}

/// What a new wall takes over from another of its room.
pub fn taken_over_from(wall: &str) -> String {
    format!("All else that is left open: as {wall}.")
}

/// What the button says that gives a wall's settings to its room.
pub fn give_to_room(room: &str) -> String {
    format!("Give this wall's settings to all of {room}")
}

/// The layout that fits a run.
pub fn layout_that_fits(
    spacing: Length,
    first: Length,
    (n_on, of): (usize, usize),
    units: Units,
) -> String {
    format!(
        "Fits {} on centre, first centre at {}: {n_on} of {of} readings.",
        size(spacing, units),
        reading(first, units)
    )
}

/// A stud that was called out, and where it stands.
pub fn found_stud(read: Length, stud: &FoundStud, units: Units) -> (String, String) {
    let standing = match stud.place {
        Standing::OnLayout => "on the layout".to_owned(),
        Standing::Off { place } => {
            let (off, way) =
                (stud.centre - place, if place < stud.centre { "past" } else { "short of" });
            let place = reading(place + read - stud.centre, units);
            format!("{} off: {} {way} {place}", sign(Severity::Warning), size(off.abs(), units))
        }
        Standing::Beside => format!("{} off: none in the layout", sign(Severity::Warning)),
        Standing::AtTheEnd => "the end stud".to_owned(),
        Standing::AtAnOpening => "framing of an opening".to_owned(),
        Standing::Outside => format!("{} outside the wall", sign(Severity::Stop)),
    };
    (reading(read, units), standing)
}

/// A reading that is no length.
pub fn unread(refused: &NotALength) -> String {
    format!("{} {}", sign(Severity::Stop), wording::not_a_length(refused, Language::English))
}

/// A stud of the layout that nobody called out.
pub fn stud_not_called(place: Length, units: Units) -> (String, String) {
    (reading(place, units), format!("{} in the layout, not called out", sign(Severity::Warning)))
}

/// How many notes are folded.
pub fn notes(count: usize) -> String {
    format!("{} {}", sign(Severity::Note), counted(count, "note", "notes"))
}

/// Width and height of a wall, and the room it stands in.
pub fn wall_size(width: Length, height: Length, units: Units) -> String {
    format!("{} × {}", reading(width, units), reading(height, units))
}

/// The heading of a hole.
pub fn hole_title(mark: usize) -> String {
    format!("Hole {mark}")
}

/// A reading along the floor.
pub fn across(length: Length, units: Units) -> String {
    format!("{} across", reading(length, units))
}

/// A reading up from the floor.
pub fn up(length: Length, units: Units) -> String {
    format!("{} up", reading(length, units))
}

/// A free stretch beside something.
pub fn gap(length: Length, units: Units) -> String {
    size(length, units)
}

/// What a hole fills.
pub fn fills(hole: &Hole, units: Units) -> String {
    let below = match hole.why.below.hole {
        None => "the bottom of its compartment".to_owned(),
        Some(mark) => format!("hole {mark}"),
    };
    let above = match hole.why.above.hole {
        None => format!(", and {} above to the top", size(hole.why.above.distance, units)),
        Some(_) => String::new(),
    };
    format!(
        "Compartment {}, from {below} up to here: {}{above}.",
        hole.compartment,
        size(hole.why.below.distance, units)
    )
}

/// How the bit is set for a hole.
pub fn bit_travel(hole: &Hole, units: Units) -> String {
    format!("Bit stop at {} along the axis.", size(hole.slope.travel, units))
}

/// An opening in a few words.
pub fn opening(opening: &Opening, units: Units) -> String {
    let name = opening.name.clone().unwrap_or_else(|| capital(word(OPENING_KINDS, &opening.kind)));
    let solid = if opening.header == Header::Solid { ", solid above" } else { "" };
    format!(
        "{name} · {} × {} at {}{solid}",
        size(opening.width, units),
        size(opening.height, units),
        reading(opening.left, units)
    )
}

/// A block in a few words.
pub fn block(block: &Block, units: Units) -> String {
    let kind = match block.kind {
        BlockKind::Full => "Block",
        BlockKind::Flat => "Flat block",
    };
    let up = reading(block.up, units);
    match block.to {
        None => format!("{kind} · {up} up, at {}", reading(block.from, units)),
        Some(to) => {
            format!("{kind} · {up} up, {} to {}", reading(block.from, units), reading(to, units))
        }
    }
}

/// A brace in a few words.
pub fn brace(brace: &Brace, units: Units) -> String {
    let kind = match brace.kind {
        BraceKind::LetIn => "Let-in brace",
        BraceKind::CutIn => "Cut-in brace",
    };
    format!("{kind} · from {} to {}", reading(brace.from.x, units), reading(brace.to.x, units))
}

/// A thing in the wall in a few words.
pub fn thing(thing: &Thing, units: Units) -> String {
    let kind = capital(word(THING_KINDS, &thing.kind));
    let at = match &thing.at {
        ThingShape::Box { left, up, .. } => Some((*left, *up)),
        ThingShape::Run { points, .. } => points.first().map(|point| (point.x, point.y)),
    };
    match at {
        Some((across, up)) => {
            format!("{kind} · at {}, {} up", reading(across, units), reading(up, units))
        }
        None => kind,
    }
}

/// A thing on the wall in a few words.
pub fn zone(zone: &Zone, units: Units) -> String {
    let kind = capital(word(ZONE_KINDS, &zone.kind));
    format!(
        "{kind} · {} × {} at {}",
        size(zone.width, units),
        size(zone.height, units),
        reading(zone.left, units)
    )
}

/// A bay in a few words.
pub fn bay(bay: &BayException, units: Units) -> String {
    let depth = bay.depth.map(|depth| format!(", {} deep", size(depth, units))).unwrap_or_default();
    format!("Bay at {} · {}{depth}", reading(bay.at, units), word(SKIP_REASONS, &bay.skip))
}

/// A corrected stud in a few words.
pub fn correction(correction: &StudCorrection, units: Units) -> String {
    match correction {
        StudCorrection::Moved { stud, found } => {
            format!("Stud near {} · found at {}", reading(*stud, units), reading(*found, units))
        }
        StudCorrection::Missing { stud } => {
            format!("Stud near {} · is not there", reading(*stud, units))
        }
    }
}

/// A member beside the layout in a few words.
pub fn extra(extra: &ExtraStud, units: Units) -> String {
    format!("{} · at {}", capital(word(EXTRA_KINDS, &extra.kind)), reading(extra.centre, units))
}

/// What is picked, for people who do not see it.
pub fn picked(wall: &Wall, picked: &[Entry], units: Units) -> String {
    match picked {
        [] => NOTHING_PICKED.to_owned(),
        [entry] => entry_of(wall, *entry, units),
        [.., entry] => {
            format!("{} picked; {}", picked.len(), entry_of(wall, *entry, units))
        }
    }
}

fn entry_of(wall: &Wall, entry: Entry, units: Units) -> String {
    let text = match entry {
        Entry::Opening(idx) => wall.openings.get(idx).map(|entry| opening(entry, units)),
        Entry::Block(idx) => wall.blocks.get(idx).map(|entry| block(entry, units)),
        Entry::Brace(idx) => wall.braces.get(idx).map(|entry| brace(entry, units)),
        Entry::Thing(idx) => wall.things.get(idx).map(|entry| thing(entry, units)),
        Entry::Zone(idx) => wall.zones.get(idx).map(|entry| zone(entry, units)),
        Entry::Bay(idx) => wall.bays.get(idx).map(|entry| bay(entry, units)),
        Entry::Extra(idx) => wall.studs.extra.get(idx).map(|entry| extra(entry, units)),
        Entry::Stud(idx) => {
            let stands = studs::layout(wall).get(idx).and_then(|stud| stud.stands);
            stands.map(|stands| format!("{} · at {}", capital(STUD), reading(stands, units)))
        }
        Entry::Top => Some(UPPER_EDGE.to_owned()),
        Entry::Bottom => Some(LOWER_EDGE.to_owned()),
    };
    text.unwrap_or_default()
}

/// The part of an entry that arrow keys move.
pub fn grip(grip: Grip) -> &'static str {
    match grip {
        Grip::Whole => "all of it",
        Grip::Left => "left edge",
        Grip::Right => "right edge",
        Grip::Low => "lower edge",
        Grip::High => "upper edge",
        Grip::Point(_) => "next point",
    }
}

/// The readings of what is dragged, across from the datum.
pub fn told(scene: Scene<'_>, entry: Entry, grip: Grip, units: Units) -> Vec<String> {
    let Some(Rect { x, y }) = figure::figure(scene, entry).map(|figure| figure.bounds()) else {
        return Vec::new();
    };
    let wall = scene.wall;
    let from_datum = |place: Length| match wall.datum {
        End::Left => place,
        End::Right => wall.width - place,
    };
    let at_datum = match wall.datum {
        End::Left => x.from,
        End::Right => x.to,
    };
    let across = |place: Length| across(from_datum(place), units);
    let up = |height: Length| up(height, units);
    match (grip, entry) {
        (Grip::Left, _) => vec![across(x.from), wide(x.length(), units)],
        (Grip::Right, _) => vec![across(x.to), wide(x.length(), units)],
        (Grip::Low, _) => vec![up(y.from), high(y.length(), units)],
        (Grip::High, _) => vec![up(y.to), high(y.length(), units)],
        (Grip::Whole, Entry::Stud(_) | Entry::Extra(_) | Entry::Bay(_)) => vec![across(x.middle())],
        (Grip::Whole, Entry::Top | Entry::Bottom) => vec![up(y.to)],
        (Grip::Whole, _) => vec![across(at_datum), up(y.from)],
        (Grip::Point(_), _) => {
            let grips = figure::grips(scene, entry);
            let point = grips.into_iter().find(|(other, _)| *other == grip);
            point.map(|(_, point)| vec![across(point.x), up(point.y)]).unwrap_or_default()
        }
    }
}

fn wide(length: Length, units: Units) -> String {
    format!("{} wide", size(length, units))
}

fn high(length: Length, units: Units) -> String {
    format!("{} high", size(length, units))
}

/// The name of a sheet's file.
pub fn sheet_file(wall: &str, number: usize, of: usize) -> String {
    format!("{}-sheet-{number}-of-{of}.svg", file_stem(wall))
}

/// The name of a job's file.
pub fn job_file(job: &str) -> String {
    format!("{}.json", file_stem(job))
}

/// What a sheet is called where it is only heard.
pub fn sheet_label(wall: &str, number: usize, of: usize) -> String {
    format!("{wall}, sheet {number} of {of}")
}

/// Whether what was done is kept, and where.
pub fn status(status: Status, is_lasting: bool) -> &'static str {
    match status {
        Status::Keeping => KEEPING,
        Status::Kept if is_lasting => KEPT,
        Status::Kept => KEPT_FOR_NOW,
        Status::Elsewhere => ELSEWHERE,
        Status::Shared => SHARED,
        Status::NotKept(Fault::Denied) => DENIED,
        Status::NotKept(Fault::Full) => FULL,
        Status::NotKept(Fault::Blocked) => BLOCKED,
        Status::NotKept(Fault::Closed) => CLOSED,
        Status::NotKept(Fault::Failed) => FAILED,
    }
}

/// Why a link does not open.
pub fn link_refused(refusal: link::Refusal) -> &'static str {
    match refusal {
        link::Refusal::Damaged => LINK_DAMAGED,
        link::Refusal::TooLarge => LINK_TOO_LARGE,
    }
}

/// How long a link is.
pub fn link_size(n_signs: usize) -> String {
    format!("{n_signs} characters.")
}

/// A step in a few words, such as `width of Street wall`.
pub fn step(command: &Command, job: &Job) -> String {
    let label = match command {
        Command::Name(_) => NAME,
        Command::Place(_) => PLACE,
        Command::Date(_) => DATE,
        Command::Units(_) => UNITS,
        Command::YearBuilt(_) => YEAR_BUILT,
        Command::Rules(_) => RULES,
        Command::Walls(change) => return format!("wall {}", verb(change)),
        Command::Whole { what, .. } => what,
        Command::Wall { id, change } => {
            let wall = job.walls.iter().find(|wall| wall.id == *id);
            return wall.map(|wall| wall_step(change, wall)).unwrap_or_default();
        }
    };
    label.to_ascii_lowercase()
}

fn wall_step(change: &WallChange, wall: &Wall) -> String {
    let label = match change {
        WallChange::Name(_) => NAME,
        WallChange::Room(_) => ROOM,
        WallChange::Construction(_) => CONSTRUCTION,
        WallChange::Datum(_) => "Datum",
        WallChange::Side(_) => "Side",
        WallChange::Outline(outline) if outline.width != wall.width => WIDTH,
        WallChange::Outline(_) => "Edges",
        WallChange::Depth(_) => CAVITY_DEPTH,
        WallChange::Lumber(_) => FRAMED_OF,
        WallChange::Finish(_) => FINISH,
        WallChange::Plates(_) => PLATES,
        WallChange::StudThickness(_) => STUD_THICKNESS,
        WallChange::Layout(_) => LAYOUT,
        WallChange::Corrections(change) => return entry_step("stud correction", change, wall),
        WallChange::Extra(change) => return entry_step("extra stud", change, wall),
        WallChange::Openings(change) => return entry_step("opening", change, wall),
        WallChange::Blocks(change) => return entry_step("block", change, wall),
        WallChange::Braces(change) => return entry_step("brace", change, wall),
        WallChange::Things(change) => return entry_step("thing", change, wall),
        WallChange::Zones(change) => return entry_step("thing on it", change, wall),
        WallChange::Bays(change) => return entry_step("bay", change, wall),
        // Several changes are one step for one reason, which the first of them tells.
        WallChange::Several(changes) => {
            let first = changes.first().map(|change| wall_step(change, wall));
            return first.unwrap_or_default();
        }
    };
    format!("{} of {}", label.to_ascii_lowercase(), wall.name)
}

fn entry_step<T>(noun: &str, change: &ListChange<T>, wall: &Wall) -> String {
    format!("{}: {noun} {}", wall.name, verb(change))
}

fn verb<T>(change: &ListChange<T>) -> &'static str {
    match change {
        ListChange::Insert { .. } => "added",
        ListChange::Replace { .. } => "changed",
        ListChange::Remove { .. } => "removed",
        ListChange::Move { .. } => "moved",
    }
}

fn file_stem(name: &str) -> String {
    // Letters beyond ASCII stay as they are: the tables of their cases would be a burden to load.
    let plain = name.chars().map(|sign| match sign {
        _ if sign.is_ascii_alphanumeric() => sign.to_ascii_lowercase(),
        _ if sign.is_ascii() || sign.is_whitespace() || sign.is_control() => '-',
        _ => sign,
    });
    let stem: String = plain.collect();
    let parts: Vec<&str> = stem.split('-').filter(|part| !part.is_empty()).collect();
    if parts.is_empty() { "job".to_owned() } else { parts.join("-") }
}

fn capital(text: &str) -> String {
    let mut capital = text.to_owned();
    if let Some(first) = capital.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    capital
}
