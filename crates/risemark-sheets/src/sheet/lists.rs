//! What stands in words on a sheet: how to drill, what was found, what was assumed, cautions.

use risemark::{
    drilling::Slope,
    finding::{Finding, Part, Place, Problem, Severity},
    language::{Speech, Text},
    limits::Origin,
    quantity::{Units, inches, to_degrees},
    tape::size,
    wording,
};

use super::{
    Wanted,
    block::{Block, Flowing, Head, Lies, PITCH, Piece, base, paragraph, plain},
    table::one_stop,
};
use crate::{
    drawing::{Anchor, At, Item, Shape},
    elevation::mark,
    ink::Ink,
    svg::number,
    text::{self, Face, Paragraph},
    words,
};

/// Width of the drawing of the angle.
const SKETCH: f64 = 30.0;
/// The least width for words beside it.
const LEAST_WORDS: f64 = 60.0;
/// What stands in a list begins this far from the edge.
const INDENT: f64 = 6.0;

/// How to drill: the angle as a drawing, in degrees and in twelve; bit and drill stop.
#[derive(Debug)]
pub(super) struct Drilling {
    slope: Slope,
    title: Paragraph,
    rest: Paragraph,
}

/// A heading and paragraphs under it.
#[derive(Debug)]
pub(super) struct List {
    title: Paragraph,
    entries: Vec<(Paragraph, Option<Item>)>,
    lies: Lies,
}

impl Drilling {
    pub(super) fn of(wanted: &Wanted<'_>) -> Self {
        let (plan, speech) = (wanted.plan, wanted.speech());
        let slope = plan.drill.slope;
        let degrees = number(to_degrees(slope.angle));
        let in_twelve = in_twelve(&slope, speech.units);
        let stop = one_stop(wanted).then_some(slope.travel);
        let empty = plan.compartments.iter().any(|each| plan.why_empty(each).is_some());
        let mut rest = words::drilling(wanted.rules.bit, stop, empty, speech);
        if !wanted.shots.shots.is_empty() {
            let by = wanted.shots.by;
            rest.push(' ');
            rest.push_str(&words::shooting(by, wanted.shots.has_turns(), speech.language));
        }
        let title = words::slope(&degrees, &in_twelve, speech.language);
        let title = paragraph(&title, Face::Bold);
        Self { slope, title, rest: paragraph(&rest, Face::Regular) }
    }
}

impl Flowing for Drilling {
    fn lies(&self) -> Lies {
        Lies::Across
    }

    fn block(&self, width: f64, _from: usize) -> Block<'_> {
        let mut items = angle(&self.slope);
        let drop = items.iter().map(|item| item.area().bottom).fold(0.0, f64::max);
        // Where it is narrow, the words stand under the drawing.
        let beside = SKETCH + 6.0 + LEAST_WORDS <= width;
        let (left, mut down) = if beside { (SKETCH + 6.0, 0.0) } else { (0.0, drop + 1.0) };
        let title = self.title.lines(width - left).map(|line| (Ink::Heading, line));
        let rest = self.rest.lines(width - left).map(|line| (Ink::Text, line));
        for (ink, line) in title.chain(rest) {
            let at = At::new(left, down + base());
            items.push(Item::text(ink, (at, Anchor::Start), plain(), line));
            down += PITCH;
        }
        let piece = Piece { height: down.max(drop + 1.0), items, n_entries: 1 };
        let pieces = Box::new(std::iter::once(piece));
        Block { head: Piece::none(), head_is: Head::StandsOnce, pieces }
    }
}

impl Flowing for List {
    fn lies(&self) -> Lies {
        self.lies
    }

    fn block(&self, width: f64, from: usize) -> Block<'_> {
        let head = Piece::lines(self.title.lines(width), Ink::Heading, 0.0);
        let head = Piece { height: head.height + 0.4, n_entries: 0, ..head };
        let rest = self.entries.get(from..).unwrap_or_default().iter();
        let pieces =
            rest.map(move |(words, sign)| Piece::paragraph(words, (INDENT, width), sign.clone()));
        Block { head, head_is: Head::StandsOnce, pieces: Box::new(pieces) }
    }
}

/// What was found that matters at the wall; what stops the work or only what warns.
pub(super) fn findings(wanted: &Wanted<'_>, severity: Severity) -> Option<List> {
    let lies = match severity {
        Severity::Stop => Lies::Across,
        Severity::Warning | Severity::Note => Lies::InColumns,
    };
    // What is only worth knowing of one space stands in the table.
    let of_wall = wanted.plan.findings.iter();
    let of_wall =
        of_wall.filter(|finding| severity != Severity::Note || is_of_all(&finding.problem));
    let findings = of_wall.chain(&wanted.shots.findings);
    let findings = findings.filter(|finding| finding.problem.severity() == severity);
    let sign = || mark(severity, At::new(2.0, base() - text::height(plain()) / 2.0), 3.6);
    let entries = findings.map(|finding| (sentence(finding, wanted.speech()), Some(sign())));
    list(words::heading(severity).of(wanted.language), entries.collect(), lies)
}

/// Whether something worth knowing concerns the whole wall.
fn is_of_all(problem: &Problem) -> bool {
    matches!(problem, Problem::WeakReach { .. } | Problem::Ties { .. } | Problem::FinerMarks { .. })
}

/// Why the work goes on in spite of what stops it, in the user's words.
pub(super) fn acknowledged(wanted: &Wanted<'_>) -> Option<List> {
    let entry = (wanted.acknowledged?.to_owned(), None);
    list(words::ACKNOWLEDGED.of(wanted.language), vec![entry], Lies::Across)
}

/// What was not measured, to be verified at the wall.
pub(super) fn assumed(wanted: &Wanted<'_>) -> Option<List> {
    let entries = wanted.plan.frame.assumed.iter().map(|assumed| {
        let value = wording::assumed_value(assumed.value, wanted.rules.units);
        let words = format!("{}: {value}", assumed.what.of(wanted.language));
        (words, assumed.origin.words(), tick())
    });
    let entries = sourced(wanted, entries.collect());
    list(words::ASSUMED.of(wanted.language), entries, Lies::InColumns)
}

/// What the people at the wall must know.
pub(super) fn cautions(wanted: &Wanted<'_>) -> Option<List> {
    let cautions = wanted.plan.cautions.iter();
    let entries = cautions.map(|caution| {
        let words = wording::caution(*caution).of(wanted.language);
        (words.to_owned(), caution.source(), dash())
    });
    let entries = sourced(wanted, entries.collect());
    list(words::CAUTIONS.of(wanted.language), entries, Lies::InColumns)
}

/// Entries with their sources; that many have none is said once.
fn sourced(wanted: &Wanted<'_>, entries: Vec<(String, Text, Item)>) -> Vec<(String, Option<Item>)> {
    let language = wanted.language;
    let none = Origin::CommonPractice.words();
    let unsourced = entries.iter().any(|(_, source, _)| *source == none);
    let written = entries.into_iter().map(|(words, source, sign)| {
        let source = (source != none).then(|| format!(" — {}", source.of(language)));
        let words = words + &source.unwrap_or_default();
        (words, Some(sign))
    });
    let rest = unsourced.then(|| (words::NO_SOURCE.of(language).to_owned(), None));
    written.chain(rest).collect()
}

fn list(title: &'static str, entries: Vec<(String, Option<Item>)>, lies: Lies) -> Option<List> {
    if entries.is_empty() {
        return None;
    }
    let entries = entries.into_iter().map(|(words, sign)| (paragraph(&words, Face::Regular), sign));
    Some(List { title: paragraph(title, Face::Bold), entries: entries.collect(), lies })
}

/// A finding as a sentence for the wall it is on.
fn sentence(finding: &Finding, speech: Speech) -> String {
    // Nothing is to be done about these; the room of a sheet is dear.
    if is_of_all(&finding.problem) {
        return wording::message(&finding.problem, speech);
    }
    let place = Place { wall: None, ..finding.place.clone() };
    let message = wording::message(&finding.problem, speech);
    let hint = wording::hint(&finding.problem).of(speech.language);
    if place.part == Part::Whole && place.field.is_none() {
        return format!("{message}; {hint}");
    }
    let place = wording::place(&place, speech.language);
    format!("{place}: {message}; {hint}")
}

/// A ring to tick where something was verified.
fn tick() -> Item {
    let centre = At::new(2.0, base() - text::height(plain()) / 2.0);
    Item::new(Ink::Tick, Shape::Ellipse { centre, rx: 1.6, ry: 1.6 })
}

fn dash() -> Item {
    let y = base() - text::height(plain()) * 0.4;
    Item::line(Ink::Sketch, At::new(1.0, y), At::new(3.6, y))
}

/// The drop in twelve of run: in eighths as framing squares carry them, or in tenths.
fn in_twelve(slope: &Slope, units: Units) -> String {
    match units {
        Units::Metric => format!("{:.1}", slope.in_twelve),
        Units::FeetInches => {
            let eighths = inches((slope.in_twelve * 8.0).round() / 8.0);
            // The text of a size without its sign: the ratio has no unit.
            size(eighths, units).trim_end_matches('"').to_owned()
        }
    }
}

/// The finish cut through, and the bit that goes down behind it from a level line.
fn angle(slope: &Slope) -> Vec<Item> {
    const N_STEPS: u8 = 12;
    let radians = slope.angle.value;
    let (front, back) = (3.0, 5.4);
    let apex = At::new(front, 4.0);
    let on =
        |length: f64, turn: f64| apex.moved(length * libm::cos(turn), length * libm::sin(turn));
    let arc =
        (0..=N_STEPS).map(|step| on(SKETCH * 0.5, radians * f64::from(step) / f64::from(N_STEPS)));
    let reach = SKETCH - front;
    let bottom = on(reach, radians).y.max(apex.y + 8.0) + 0.5;
    let face = |x: f64| Item::line(Ink::Sketch, At::new(x, 0.4), At::new(x, bottom));
    vec![
        face(front),
        face(back),
        Item::line(Ink::OpeningCross, apex, on(reach, 0.0)),
        Item::line(
            Ink::Rule,
            on((0.5 - front) / libm::cos(radians).max(0.1), radians),
            on(reach, radians),
        ),
        Item::new(Ink::Sketch, Shape::Chains(vec![arc.collect()])),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use risemark::{
        drilling::slope,
        quantity::{degrees, to_inches},
    };

    #[test]
    fn the_slope_reads_as_on_a_framing_square() {
        let of =
            |angle| slope(degrees(angle), inches(1.0), (inches(0.5), inches(3.5)), inches(1.25));
        // 12 tan 25 degrees = 5.5957, nearest eighth 5 5/8; 12 tan 20 = 4.3676, 4 3/8.
        assert_eq!(in_twelve(&of(25.0), Units::FeetInches), "5 5/8", "25 degrees");
        assert_eq!(in_twelve(&of(20.0), Units::FeetInches), "4 3/8", "20 degrees");
        assert_eq!(in_twelve(&of(25.0), Units::Metric), "5.6", "tenths");
        assert!(to_inches(of(25.0).ellipse_height) < 1.2, "an ellipse, not a slot");
    }
}
