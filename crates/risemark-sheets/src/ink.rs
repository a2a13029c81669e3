//! The roles of what is drawn, and how each looks in black on paper.
//!
//! A role carries a class as well, so that a screen can give it another colour; nothing is told by
//! colour alone.

use crate::drawing::Unit;

/// The role of an item.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ink {
    /// The edge of the wall.
    Outline,
    /// The edge of the finish, where the framing goes on behind floor or ceiling.
    Face,
    /// A member that closes the bay.
    Timber,
    /// The hatching of such a member.
    Hatch,
    /// A member that only narrows the bay.
    FlatTimber,
    /// A rough opening.
    Opening,
    /// The cross in an opening.
    OpeningCross,
    /// A compartment that is filled.
    Compartment,
    /// A compartment that stays empty.
    EmptyCompartment,
    /// The cross-hatching of such a compartment.
    EmptyHatch,
    /// A thing in the wall.
    Thing,
    /// A thing on the wall.
    Zone,
    /// The dots of a thing on the wall.
    ZoneDots,
    /// A snap line.
    SnapLine,
    /// The snap line of the hole that is selected.
    SnapLineChosen,
    /// A hole.
    Hole,
    /// A hole that is selected.
    HoleChosen,
    /// What tells in or round a hole what became of it.
    HoleSign,
    /// The dot of a hole that is drilled.
    HoleDot,
    /// The sign of a space that nobody has probed.
    Unprobed,
    /// A line from a thing to its label.
    Leader,
    /// The body of a tape or a pole.
    Ruler,
    /// Divisions on a tape or a pole.
    Division,
    /// Where a member stands, on a tape.
    StudMark,
    /// The pointer of a column or a line on a ruler.
    Pointer,
    /// Such a pointer, of the hole that is selected.
    PointerChosen,
    /// The corner that readings start from.
    Datum,
    /// The filled part of that mark.
    DatumFill,
    /// Where a drawing goes on, on another sheet.
    MatchLine,
    /// A finding that stops the work.
    FindingStop,
    /// A finding that warns.
    FindingWarning,
    /// A finding worth knowing.
    FindingNote,
    /// A heavy line between the parts of a sheet.
    Rule,
    /// A light line between the rows of a table.
    RowLine,
    /// A ring to tick.
    Tick,
    /// A line that explains, such as the arc of an angle.
    Sketch,
    /// A bar to check the scale of a print.
    CheckBar,
    /// Plain text.
    Text,
    /// Text of a heading.
    Heading,
    /// The number of a hole.
    HoleNumber,
    /// The number of the hole that is selected.
    HoleNumberChosen,
    /// A reading on a ruler.
    Reading,
    /// A reading of the hole that is selected.
    ReadingChosen,
    /// A figure on a ruler.
    RulerFigure,
    /// A word on the wall, such as the name of an opening.
    WallWord,
}

/// How dark something is on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Tone {
    Black,
    Grey,
    White,
}

/// Line widths of ISO 128-2.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Width {
    W13,
    W18,
    W25,
    W35,
    W50,
    W70,
}

/// Kinds of line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    Continuous,
    Dashed,
    DashDot,
    Dots,
}

/// How a role looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Look {
    pub(crate) class: &'static str,
    pub(crate) fill: Option<Tone>,
    pub(crate) line: Option<(Tone, Width, Kind)>,
}

impl Tone {
    pub(crate) fn colour(self) -> &'static str {
        match self {
            Self::Black => "#000",
            Self::Grey => "#555",
            Self::White => "#fff",
        }
    }
}

impl Width {
    pub(crate) fn of(self, unit: Unit) -> f64 {
        let (mm, px) = match self {
            Self::W13 => (0.13, 0.5),
            Self::W18 => (0.18, 0.75),
            Self::W25 => (0.25, 1.0),
            Self::W35 => (0.35, 1.25),
            Self::W50 => (0.5, 1.75),
            Self::W70 => (0.7, 2.25),
        };
        match unit {
            Unit::Millimetre => mm,
            Unit::Pixel => px,
        }
    }
}

impl Kind {
    /// Lengths of dashes and gaps, in the drawing's unit.
    pub(crate) fn dashes(self, unit: Unit) -> Option<&'static str> {
        match (self, unit) {
            (Self::Continuous | Self::Dots, _) => None,
            (Self::Dashed, Unit::Millimetre) => Some("2 1"),
            (Self::Dashed, Unit::Pixel) => Some("5 3"),
            (Self::DashDot, Unit::Millimetre) => Some("5 1 0.6 1"),
            (Self::DashDot, Unit::Pixel) => Some("12 3 2 3"),
        }
    }
}

impl Ink {
    pub(crate) fn is_bold(self) -> bool {
        matches!(self, Self::Heading | Self::HoleNumberChosen | Self::ReadingChosen)
    }

    /// Whether text of this role keeps what lies under it off its letters.
    pub(crate) fn has_halo(self) -> bool {
        matches!(self, Self::HoleNumber | Self::HoleNumberChosen | Self::WallWord)
    }

    pub(crate) fn line_width(self, unit: Unit) -> f64 {
        self.look().line.map_or(0.0, |(_, width, _)| width.of(unit))
    }

    pub(crate) fn look(self) -> Look {
        match self {
            Self::Text
            | Self::Heading
            | Self::HoleNumber
            | Self::HoleNumberChosen
            | Self::Reading
            | Self::ReadingChosen
            | Self::RulerFigure
            | Self::WallWord => self.words(),
            Self::Outline
            | Self::Face
            | Self::Timber
            | Self::Hatch
            | Self::FlatTimber
            | Self::Opening
            | Self::OpeningCross => self.framing(),
            Self::Compartment
            | Self::EmptyCompartment
            | Self::EmptyHatch
            | Self::Thing
            | Self::Zone
            | Self::ZoneDots => self.spaces(),
            Self::Rule
            | Self::RowLine
            | Self::Tick
            | Self::Sketch
            | Self::CheckBar
            | Self::MatchLine => self.sheet(),
            _ => self.marking(),
        }
    }

    fn words(self) -> Look {
        let class = match self {
            Self::Heading => "heading",
            Self::HoleNumber => "hole-number",
            Self::HoleNumberChosen => "hole-number chosen",
            Self::Reading => "reading",
            Self::ReadingChosen => "reading chosen",
            Self::RulerFigure => "ruler-figure",
            Self::WallWord => "wall-word",
            _ => "text",
        };
        Look { class, fill: Some(Tone::Black), line: None }
    }

    fn framing(self) -> Look {
        use Kind::{Continuous, Dashed};
        use Tone::{Black, Grey, White};
        match self {
            Self::Face => look("face", None, (Black, Width::W18, Continuous)),
            Self::Timber => look("timber", Some(White), (Black, Width::W25, Continuous)),
            Self::Hatch => look("hatch", None, (Grey, Width::W13, Continuous)),
            Self::FlatTimber => look("flat-timber", None, (Black, Width::W25, Dashed)),
            Self::Opening => look("opening", Some(White), (Black, Width::W50, Continuous)),
            Self::OpeningCross => look("opening-cross", None, (Grey, Width::W13, Dashed)),
            _ => look("outline", None, (Black, Width::W70, Continuous)),
        }
    }

    fn spaces(self) -> Look {
        use Kind::{Continuous, Dashed, Dots};
        use Tone::{Black, Grey, White};
        match self {
            Self::Compartment => Look { class: "compartment", fill: Some(White), line: None },
            Self::EmptyCompartment => {
                Look { class: "compartment empty", fill: Some(White), line: None }
            }
            Self::EmptyHatch => look("empty-hatch", None, (Grey, Width::W13, Continuous)),
            Self::Thing => look("thing", Some(White), (Black, Width::W25, Continuous)),
            Self::ZoneDots => look("zone-dots", None, (Black, Width::W35, Dots)),
            _ => look("zone", None, (Black, Width::W18, Dashed)),
        }
    }

    fn sheet(self) -> Look {
        use Kind::{Continuous, DashDot};
        use Tone::{Black, White};
        match self {
            Self::Rule => look("rule", None, (Black, Width::W50, Continuous)),
            Self::RowLine => look("row-line", None, (Black, Width::W13, Continuous)),
            Self::Tick => look("tick", Some(White), (Black, Width::W25, Continuous)),
            Self::Sketch => look("sketch", None, (Black, Width::W25, Continuous)),
            Self::CheckBar => look("check-bar", None, (Black, Width::W35, Continuous)),
            _ => look("match-line", None, (Black, Width::W70, DashDot)),
        }
    }

    fn marking(self) -> Look {
        use Kind::{Continuous, DashDot};
        use Tone::{Black, White};
        let filled = |class| Look { class, fill: Some(Black), line: None };
        match self {
            Self::SnapLine => look("snap-line", None, (Black, Width::W25, DashDot)),
            Self::SnapLineChosen => look("snap-line chosen", None, (Black, Width::W35, DashDot)),
            Self::Hole => look("hole", Some(White), (Black, Width::W50, Continuous)),
            Self::HoleChosen => look("hole chosen", Some(Black), (Black, Width::W50, Continuous)),
            Self::HoleSign => look("hole-sign", None, (Black, Width::W35, Continuous)),
            Self::HoleDot => filled("hole-dot"),
            Self::Unprobed => look("unprobed", Some(White), (Black, Width::W18, Continuous)),
            Self::Ruler => look("ruler", Some(White), (Black, Width::W25, Continuous)),
            Self::Division => look("division", None, (Black, Width::W18, Continuous)),
            Self::StudMark => filled("stud-mark"),
            Self::Pointer => filled("pointer"),
            Self::PointerChosen => filled("pointer chosen"),
            Self::Datum => look("datum", Some(White), (Black, Width::W35, Continuous)),
            Self::DatumFill => filled("datum-fill"),
            Self::FindingStop => look("finding stop", Some(Black), (Black, Width::W35, Continuous)),
            Self::FindingWarning => {
                look("finding warning", Some(White), (Black, Width::W35, Continuous))
            }
            Self::FindingNote => look("finding note", Some(White), (Black, Width::W25, Continuous)),
            _ => look("leader", None, (Black, Width::W18, Continuous)),
        }
    }
}

fn look(class: &'static str, fill: Option<Tone>, line: (Tone, Width, Kind)) -> Look {
    Look { class, fill, line: Some(line) }
}
