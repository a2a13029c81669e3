//! What a stage has to say beside its product: where, how bad, what is wrong and what to do.
//!
//! A finding is data. Its wording is made in [`crate::wording`] alone, in the job's units and in the
//! language of whoever reads it.

use std::fmt;

use crate::{
    job::{Material, SkipReason, ThingKind, ZoneKind},
    language::Text,
    quantity::{Length, Time, Volume, VolumeRate},
};

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Must be dealt with before anything is drilled or printed.
    Stop,
    /// Something will not come out as it should.
    Warning,
    /// Worth knowing.
    Note,
}

/// Names a compartment of a wall: `C1` is the first from the datum end, from the bottom up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct CompartmentId(pub usize);

/// Which wall a place is on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WallRef {
    /// Its position in the list, from 1.
    pub number: usize,
    /// Its id, where it has one.
    pub id: String,
    /// Its name.
    pub name: String,
}

/// What an entry of a wall is, or a part of it that a finding speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Noun {
    /// A door or a window.
    Opening,
    /// The upper end of an opening.
    HeadOfOpening,
    /// The lower end of an opening.
    Sill,
    /// A block.
    Block,
    /// A brace.
    Brace,
    /// A thing in the wall.
    Thing,
    /// A cable or a pipe along straight stretches.
    Run,
    /// A thing on the wall.
    Zone,
    /// A bay.
    Bay,
    /// A stud.
    Stud,
    /// The first stud of a layout.
    FirstStud,
    /// A stud of a measured layout.
    MeasuredStud,
    /// A stud that is not where the layout has it.
    StudCorrection,
    /// A member beside the layout.
    ExtraStud,
    /// A hole that people have set, drilled or left out.
    Hole,
    /// A place that was probed.
    Probe,
    /// A height, or a band of them, at which rows are liked.
    Liked,
    /// A band without holes.
    Band,
    /// A shot of foam that was tried.
    TestShot,
}

/// What is counted where there can be too many.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Counted {
    /// Walls of a job.
    Walls,
    /// Everything entered in all walls.
    Members,
    /// Entries of one list.
    Entries,
}

/// What is wrong with a chain of points.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChainFault {
    /// It has none.
    NoPoints,
    /// It has one.
    SinglePoint,
    /// It does not start at the left end.
    StartsElsewhere,
    /// It does not end at the right end.
    EndsElsewhere,
    /// It turns back.
    RunsBack,
}

/// What stands in a file, or what should stand there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Content {
    /// A word, a number or a list of words, as it is written in the file.
    Written(String),
    /// No value.
    Nothing,
    /// Some number.
    Number,
    /// Some whole number.
    WholeNumber,
    /// Some text.
    Text,
    /// Some list.
    List,
    /// A list of so many.
    ListOf(usize),
    /// Some object.
    Object,
    /// An object of so many fields.
    ObjectOf(usize),
    /// An object that has a field.
    ObjectWith(String),
    /// A job.
    Job,
    /// A sill.
    Sill,
    /// A door without a sill.
    NoSill,
}

/// What a place is a part of.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Part {
    /// The wall, or the job, as a whole.
    #[default]
    Whole,
    /// An entry of one of the wall's lists: `opening 2`.
    Entry {
        /// What it is.
        noun: Noun,
        /// Its position in the list, from 1.
        number: usize,
    },
    /// A compartment.
    Compartment(CompartmentId),
}

/// A place in the users' words.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Place {
    /// The wall; `None` for the job as a whole.
    pub wall: Option<WallRef>,
    /// The part of it.
    pub part: Part,
    /// The property, as the job file names it, with dots between levels.
    pub field: Option<String>,
}

/// A thing that was avoided.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Avoided {
    /// A thing in the wall.
    Thing(ThingKind),
    /// A thing on the wall.
    Zone(ZoneKind),
    /// A band without holes.
    Band,
    /// A stud or another member, where the compartment is not upright.
    Timber,
}

/// What is wrong, with its numbers.
#[derive(Debug, Clone, PartialEq)]
pub enum Problem {
    /// The text is no JSON.
    NotJson {
        /// What the parser said.
        what: String,
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
    },
    /// The file is larger than what is read.
    FileTooLarge {
        /// Its size in bytes.
        found: usize,
        /// The most in bytes.
        most: usize,
    },
    /// The file is of a later version than is read.
    NewerFile {
        /// Its version.
        found: f64,
        /// The latest version that is read.
        latest: u32,
    },
    /// A value is of another type, or another word, than the field takes.
    Unexpected {
        /// What stands there.
        found: Content,
        /// What the field takes.
        expected: Content,
    },
    /// A field that no version of the format has.
    UnknownField {
        /// Its name.
        found: String,
        /// The names that may stand there.
        expected: String,
    },
    /// A field that must be given is not there.
    MissingField {
        /// Its name.
        name: String,
    },
    /// A field stands twice in one object.
    RepeatedField {
        /// Its name.
        name: String,
    },
    /// A length is outside its range.
    LengthOutOfRange {
        /// What it measures.
        name: Text,
        /// The value.
        found: Length,
        /// The least.
        min: Length,
        /// The most.
        max: Length,
    },
    /// A number without a unit is outside its range.
    NumberOutOfRange {
        /// What it counts.
        name: Text,
        /// The value.
        found: f64,
        /// The least.
        min: f64,
        /// The most.
        max: f64,
    },
    /// More entries than a job may have.
    TooMany {
        /// What is counted.
        what: Counted,
        /// How many there are.
        found: usize,
        /// The most.
        most: usize,
    },
    /// A text is empty, too long or holds control characters.
    BadText {
        /// What stands there, shortened.
        found: String,
    },
    /// Two walls bear one id.
    RepeatedId {
        /// The id.
        id: String,
    },
    /// So many more findings of a file are left out.
    More {
        /// How many.
        count: usize,
    },
    /// Two holes that people made bear one number.
    RepeatedMark {
        /// The number.
        mark: u32,
        /// The other hole, by its position in the wall's list, from 1.
        other: usize,
    },
    /// The top hole would have to be lower and higher at once.
    TopRulesClash {
        /// From the top hole up to the top of its compartment, at least.
        clearance: Length,
        /// And at most.
        reach: Length,
    },
    /// Two openings share an area.
    OpeningsOverlap {
        /// The number of the other opening.
        other: usize,
        /// What it is called, if it has a name.
        name: Option<String>,
    },
    /// Something reaches past the wall.
    OutsideWall {
        /// What it is.
        what: Noun,
        /// Where it reaches.
        found: Length,
        /// The nearest that is inside.
        limit: Length,
    },
    /// A chain of points does not run from the left end to the right end.
    BadChain {
        /// What is wrong with it.
        what: ChainFault,
    },
    /// The upper edge lies on or under the lower edge.
    NoHeight {
        /// Where, across.
        at: Length,
    },
    /// A brace or a run has no length.
    NoLength,

    /// A stud of the layout or a measured stud stands in an opening and is left out.
    StudInOpening {
        /// Its centre.
        centre: Length,
    },
    /// A correction or an exception names a place where there is nothing to correct.
    NothingThere {
        /// What was looked for.
        what: Noun,
        /// Where, across.
        at: Length,
    },
    /// Two members were entered at one place; the later one is cut back.
    MembersOverlap {
        /// What is cut back.
        what: Noun,
        /// Where, across.
        at: Length,
    },
    /// A header is deeper than the room over its opening.
    HeaderCut {
        /// Its depth.
        depth: Length,
        /// The room there is.
        room: Length,
    },
    /// The reach in the air space of a brick wall, on which practice is weak.
    WeakReach {
        /// The reach that was used.
        reach: Length,
    },
    /// Ties join the two leaves of a brick wall.
    Ties {
        /// At most this far apart upright.
        up: Length,
        /// At most this far apart along the wall.
        across: Length,
    },
    /// Holes lie on finer marks than the marking step, because that takes fewer.
    FinerMarks {
        /// The finer step.
        step: Length,
    },
    /// How long the bit must be for what is drilled through.
    BitLength {
        /// What is drilled through.
        leaf: Length,
        /// The length along the axis.
        needed: Length,
        /// How far an ordinary bit drills.
        usual: Length,
    },
    /// A part of an air space is out of reach where a hole was left out.
    NotReached {
        /// Where it is, from the datum end.
        across: Length,
        /// How high it is.
        up: Length,
        /// How far foam reaches.
        reach: Length,
    },
    /// A part of an air space needs a hole where none may be.
    OutOfReach {
        /// Where it is, from the datum end.
        across: Length,
        /// Where it is, above the finished floor.
        up: Length,
        /// How far foam reaches.
        reach: Length,
        /// What is in the way there.
        blocked_by: Vec<Avoided>,
    },

    /// Too shallow to inject.
    TooShallow {
        /// Its depth.
        depth: Length,
        /// The least that can be filled.
        least: Length,
    },
    /// Too narrow for the bit and its clearance.
    TooNarrow {
        /// Its clear width.
        width: Length,
        /// The least that can be drilled.
        least: Length,
    },
    /// Too low for the hole and its room above.
    TooLow {
        /// Its height.
        height: Length,
        /// The least that can be drilled.
        least: Length,
    },
    /// Within the clearance of a flue, or in a chase: stays empty.
    StaysEmpty {
        /// What forbids filling.
        thing: ThingKind,
        /// The clearance.
        keep_off: Length,
    },
    /// The user left the bay out.
    Skipped {
        /// Why.
        reason: SkipReason,
    },
    /// No legal set of holes fills the compartment.
    NoHoleFits {
        /// What is in the way.
        blocked_by: Vec<Avoided>,
        /// Between which heights a hole is missing: from.
        from: Length,
        /// Between which heights a hole is missing: to.
        to: Length,
    },
    /// No place of the marking step lies where a hole may be.
    StepTooCoarse {
        /// The marking step.
        step: Length,
        /// The width that is left for the centre of the hole.
        room: Length,
    },
    /// A hole that people have set is nearer to something than the rules let it be.
    HoleTooNear {
        /// What it is too near to.
        blocked_by: Vec<Avoided>,
        /// What the rules ask for, from the centre to timber.
        least: Length,
    },
    /// A hole that people have set or left out is where no space is to fill.
    HoleMissesSpaces,
    /// Every hole of a column was left out.
    NoHoleLeft,
    /// Two holes of a compartment, or a hole and an end of it, are too far apart.
    HolesTooFarApart {
        /// The mark of the lower hole; the bottom of the compartment without one.
        below: Option<usize>,
        /// The mark of the upper hole; the top of the compartment without one.
        above: Option<usize>,
        /// How far they are apart.
        distance: Length,
        /// How far they may be.
        most: Length,
    },
    /// Compartments that nobody has probed.
    NotProbed {
        /// How many.
        count: usize,
        /// Of how many that are to be filled.
        of: usize,
    },
    /// A band that ends below where it begins.
    NoBand {
        /// Where it begins.
        from: Length,
        /// Where it ends.
        to: Length,
    },
    /// A depth where the rule for distances is weak.
    WeakPractice {
        /// The depth.
        depth: Length,
        /// The distance that was used.
        most: Length,
    },
    /// A compartment over or under an opening, or a sliver, that hidden framing often closes.
    ProbeFirst {
        /// Its height.
        height: Length,
        /// Its clear width.
        width: Length,
    },
    /// Board that may bow when the bay is filled.
    ThinFinish {
        /// The material.
        material: Material,
        /// Its thickness.
        thickness: Length,
        /// The least for this spacing.
        least: Length,
        /// The widest clear bay.
        bay: Length,
    },
    /// Bays that may be open below and above.
    OpenBays,
    /// Painted before 1978, or the year is not known.
    MaybeLead {
        /// The year, where it is known.
        year: Option<i32>,
    },

    /// No test shot was made; the usual flow stands in for the real one.
    FlowUntested {
        /// The usual flow.
        rate: VolumeRate,
    },
    /// One test shot alone, which tells nothing of its scatter.
    OneTestShot {
        /// The flow it gave.
        rate: VolumeRate,
    },
    /// Test shots scatter so much that the flow could as well be nothing.
    FlowUnsure {
        /// The flow they gave.
        rate: VolumeRate,
        /// How far it may be off.
        margin: VolumeRate,
    },
    /// A test shot was read before the foam had risen.
    ReadTooSoon {
        /// How long was waited.
        waited: Time,
        /// The least.
        least: Time,
    },
    /// A test shot rose above the hole, where foam runs out.
    RoseAboveHole {
        /// How far it rose.
        rise: Length,
        /// The height of the hole over the bottom.
        hole: Length,
    },
    /// The flow of one test shot is far from that of the others.
    ShotDisagrees {
        /// Its flow.
        found: VolumeRate,
        /// The flow in the middle of all.
        middle: VolumeRate,
    },
    /// Test shots were made with different nozzles.
    NozzleChanged {
        /// The number of this one's nozzle.
        nozzle: u32,
        /// The number of the first nozzle.
        first: u32,
        /// The number of the test shot it was used for.
        shot: usize,
    },
    /// Test shots were made with components of different temperatures.
    TemperatureChanged {
        /// The temperature of this one, in degrees Celsius.
        found: f64,
        /// The first temperature, in degrees Celsius.
        first: f64,
        /// The number of the test shot that had it.
        shot: usize,
    },
    /// Shots too short to be timed between two breaths.
    ShortShots {
        /// The marks of their holes.
        holes: Vec<usize>,
        /// The least.
        least: Time,
    },
    /// Shots longer than one may be, which are split.
    LongShots {
        /// The marks of their holes.
        holes: Vec<usize>,
        /// The most.
        most: Time,
    },
    /// Lifts higher than the limit, which are shot in several.
    LiftsTooHigh {
        /// The marks of their holes.
        holes: Vec<usize>,
        /// The most.
        most: Length,
    },
    /// Lifts larger than the limit, which are shot in several.
    LiftsTooLarge {
        /// The marks of their holes.
        holes: Vec<usize>,
        /// The most.
        most: Volume,
    },
    /// Components are colder than foam likes.
    ColdFoam {
        /// Their temperature, in degrees Celsius.
        found: f64,
        /// The least, in degrees Celsius.
        least: f64,
    },
    /// The kits at hand may not finish the job.
    FoamRunsShort {
        /// Their nominal yield.
        nominal: Volume,
        /// The chance of finishing with them, in percent.
        chance: f64,
        /// The nominal yield that is wanted.
        needed: Volume,
        /// The chance it gives at least, in percent.
        asked: f64,
    },

    /// A hole that is named for the order of the shots is not in the plan, or takes no foam.
    NoSuchHole {
        /// The id of the wall.
        wall: String,
        /// The number of the hole.
        hole: u32,
    },
    /// A mark on the wall at which no hole is to be drilled any more.
    MarkIsVoid {
        /// The number at it.
        mark: u32,
    },
    /// A wall that is named for the order of the shots is not in the job.
    NoSuchWall {
        /// Its id.
        id: String,
    },
    /// A hole cannot be shot when the user wants it, because something else has to come before.
    OutOfTurn {
        /// The mark of the hole.
        hole: usize,
    },
    /// Shots take longer than a kit lasts.
    ShotsOutlastKits {
        /// How many.
        n_shots: usize,
        /// How long a kit lasts.
        lasts: Time,
    },
    /// Waiting for foam to set costs nozzles.
    WaitsCostNozzles {
        /// How many.
        n_waits: usize,
        /// The longest of the waits.
        longest: Time,
    },
}

/// One thing to say, with its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Where.
    pub place: Place,
    /// What.
    pub problem: Problem,
}

/// A stage's product with the stage's findings.
#[derive(Debug, Clone, PartialEq)]
pub struct Staged<T> {
    /// The product; complete and ready for the next stage.
    pub product: T,
    /// Everything the stage has to say, not just the first.
    pub findings: Vec<Finding>,
}

impl fmt::Display for CompartmentId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "C{}", self.0)
    }
}

impl Place {
    /// An entry of one of a wall's lists; `idx` counts from 0.
    pub fn entry(noun: Noun, idx: usize) -> Self {
        Self { part: Part::Entry { noun, number: idx + 1 }, ..Self::default() }
    }

    /// A compartment.
    pub fn compartment(id: CompartmentId) -> Self {
        Self { part: Part::Compartment(id), ..Self::default() }
    }

    /// The same place, of a property.
    #[must_use]
    pub fn field(self, name: &str) -> Self {
        Self { field: Some(name.to_owned()), ..self }
    }
}

impl Finding {
    /// A finding at a place.
    pub fn new(place: Place, problem: Problem) -> Self {
        Self { place, problem }
    }

    /// The same finding, on a wall.
    #[must_use]
    pub fn on(mut self, wall: &WallRef) -> Self {
        self.place.wall = Some(wall.clone());
        self
    }
}

impl Problem {
    /// A stable code for scripts and tests.
    #[expect(clippy::too_many_lines, reason = "one line a problem, and nothing else")]
    pub fn code(&self) -> &'static str {
        match self {
            Self::NotJson { .. } => "not-json",
            Self::FileTooLarge { .. } => "file-too-large",
            Self::NewerFile { .. } => "newer-file",
            Self::Unexpected { .. } => "unexpected",
            Self::UnknownField { .. } => "unknown-field",
            Self::MissingField { .. } => "missing-field",
            Self::RepeatedField { .. } => "repeated-field",
            Self::LengthOutOfRange { .. } | Self::NumberOutOfRange { .. } => "out-of-range",
            Self::TooMany { .. } => "too-many",
            Self::BadText { .. } => "bad-text",
            Self::RepeatedId { .. } => "repeated-id",
            Self::More { .. } => "more",
            Self::RepeatedMark { .. } => "repeated-mark",
            Self::TopRulesClash { .. } => "top-rules-clash",
            Self::OpeningsOverlap { .. } => "openings-overlap",
            Self::OutsideWall { .. } => "outside-wall",
            Self::BadChain { .. } => "bad-chain",
            Self::NoHeight { .. } => "no-height",
            Self::NoLength => "no-length",
            Self::StudInOpening { .. } => "stud-in-opening",
            Self::NothingThere { .. } => "nothing-there",
            Self::MembersOverlap { .. } => "members-overlap",
            Self::HeaderCut { .. } => "header-cut",
            Self::WeakReach { .. } => "weak-reach",
            Self::Ties { .. } => "ties",
            Self::FinerMarks { .. } => "finer-marks",
            Self::BitLength { .. } => "bit-length",
            Self::NotReached { .. } => "not-reached",
            Self::OutOfReach { .. } => "out-of-reach",
            Self::TooShallow { .. } => "too-shallow",
            Self::TooNarrow { .. } => "too-narrow",
            Self::TooLow { .. } => "too-low",
            Self::StaysEmpty { .. } => "stays-empty",
            Self::Skipped { .. } => "skipped",
            Self::NoHoleFits { .. } => "no-hole-fits",
            Self::StepTooCoarse { .. } => "step-too-coarse",
            Self::HoleTooNear { .. } => "hole-too-near",
            Self::HoleMissesSpaces => "hole-misses-spaces",
            Self::NoHoleLeft => "no-hole-left",
            Self::HolesTooFarApart { .. } => "holes-too-far-apart",
            Self::NotProbed { .. } => "not-probed",
            Self::NoBand { .. } => "no-band",
            Self::WeakPractice { .. } => "weak-practice",
            Self::ProbeFirst { .. } => "probe-first",
            Self::ThinFinish { .. } => "thin-finish",
            Self::OpenBays => "open-bays",
            Self::MaybeLead { .. } => "maybe-lead",
            Self::FlowUntested { .. } => "flow-untested",
            Self::OneTestShot { .. } => "one-test-shot",
            Self::FlowUnsure { .. } => "flow-unsure",
            Self::ReadTooSoon { .. } => "read-too-soon",
            Self::RoseAboveHole { .. } => "rose-above-hole",
            Self::ShotDisagrees { .. } => "shot-disagrees",
            Self::NozzleChanged { .. } => "nozzle-changed",
            Self::TemperatureChanged { .. } => "temperature-changed",
            Self::ShortShots { .. } => "short-shots",
            Self::LongShots { .. } => "long-shots",
            Self::LiftsTooHigh { .. } => "lifts-too-high",
            Self::LiftsTooLarge { .. } => "lifts-too-large",
            Self::ColdFoam { .. } => "cold-foam",
            Self::FoamRunsShort { .. } => "foam-runs-short",
            Self::NoSuchHole { .. } => "no-such-hole",
            Self::MarkIsVoid { .. } => "mark-is-void",
            Self::NoSuchWall { .. } => "no-such-wall",
            Self::OutOfTurn { .. } => "out-of-turn",
            Self::ShotsOutlastKits { .. } => "shots-outlast-kits",
            Self::WaitsCostNozzles { .. } => "waits-cost-nozzles",
        }
    }

    /// How bad it is.
    pub fn severity(&self) -> Severity {
        match self {
            Self::Skipped { reason: SkipReason::KnobAndTube } => Severity::Stop,
            Self::BitLength { needed, usual, .. } if needed <= usual => Severity::Note,
            Self::TooShallow { .. }
            | Self::TooNarrow { .. }
            | Self::TooLow { .. }
            | Self::StaysEmpty { .. }
            | Self::NoHoleFits { .. }
            | Self::OutOfReach { .. }
            | Self::NotReached { .. }
            | Self::BitLength { .. }
            | Self::StepTooCoarse { .. }
            | Self::HoleTooNear { .. }
            | Self::HoleMissesSpaces
            | Self::NoHoleLeft
            | Self::HolesTooFarApart { .. }
            | Self::StudInOpening { .. }
            | Self::NothingThere { .. }
            | Self::MembersOverlap { .. }
            | Self::HeaderCut { .. }
            | Self::ThinFinish { .. }
            | Self::OpenBays
            | Self::FlowUnsure { .. }
            | Self::ReadTooSoon { .. }
            | Self::RoseAboveHole { .. }
            | Self::ShotDisagrees { .. }
            | Self::NozzleChanged { .. }
            | Self::TemperatureChanged { .. }
            | Self::ColdFoam { .. }
            | Self::FoamRunsShort { .. }
            | Self::NoSuchHole { .. }
            | Self::MarkIsVoid { .. }
            | Self::NoSuchWall { .. }
            | Self::OutOfTurn { .. } => Severity::Warning,
            Self::Skipped { .. }
            | Self::WeakPractice { .. }
            | Self::WeakReach { .. }
            | Self::Ties { .. }
            | Self::FinerMarks { .. }
            | Self::ProbeFirst { .. }
            | Self::NotProbed { .. }
            | Self::MaybeLead { .. }
            | Self::FlowUntested { .. }
            | Self::OneTestShot { .. }
            | Self::ShortShots { .. }
            | Self::LongShots { .. }
            | Self::LiftsTooHigh { .. }
            | Self::LiftsTooLarge { .. }
            | Self::ShotsOutlastKits { .. }
            | Self::WaitsCostNozzles { .. } => Severity::Note,
            _ => Severity::Stop,
        }
    }
}
