//! What stands in words on a sheet: how to drill, what was found, what was assumed, cautions.

use risemark::{
    drilling::Slope,
    finding::{Finding, Part, Place, Severity},
    quantity::{Units, inches, same, to_degrees},
    tape::size,
    wording,
};

use super::{
    Wanted,
    block::{Block, Head, PITCH, Piece, base, plain},
};
use crate::{
    drawing::{Anchor, At, Item, Shape},
    elevation::mark,
    ink::Ink,
    svg::number,
    text::{self, Face},
};

/// Width of the drawing of the angle.
const SKETCH: f64 = 30.0;
/// What stands in a list begins this far from the edge.
const INDENT: f64 = 6.0;

/// How to drill: the angle as a drawing, in degrees and in twelve; bit and drill stop.
pub(super) fn drilling(wanted: &Wanted<'_>, width: f64) -> Block {
    let (slope, units) = (&wanted.plan.drill.slope, wanted.rules.units);
    let degrees = number(to_degrees(slope.angle));
    let mut items = angle(slope);
    let drop = items.iter().map(|item| item.area().bottom).fold(0.0, f64::max);
    let left = SKETCH + 6.0;
    let title = format!("Drill down {degrees}°, {} in 12", in_twelve(slope, units));
    let bit = format!("{} bit. {}", size(wanted.rules.bit, units), stop(wanted));
    let empty = wanted.plan.compartments.iter().any(|each| wanted.plan.why_empty(each).is_some());
    let legend = if empty { " Cross-hatched spaces stay empty." } else { "" };
    let rest = format!("{bit} Across along the floor, up from the finished floor.{legend}");
    let mut down = 0.0;
    let wrap = |content: &str, face| text::wrapped(content, width - left, plain(), face);
    let lines = wrap(&title, Face::Bold).into_iter().map(|line| (Ink::Heading, line));
    for (ink, line) in
        lines.chain(wrap(&rest, Face::Regular).into_iter().map(|line| (Ink::Text, line)))
    {
        items.push(Item::text(ink, (At::new(left, down + base()), Anchor::Start), plain(), line));
        down += PITCH;
    }
    let piece = Piece { height: down.max(drop + 1.0), items };
    Block { head: Piece::none(), head_is: Head::StandsOnce, pieces: vec![piece] }
}

/// What was found that matters at the wall; what stops the work or only what warns.
pub(super) fn findings(wanted: &Wanted<'_>, severity: Severity, width: f64) -> Option<Block> {
    let title = match severity {
        Severity::Stop => "Stop",
        Severity::Warning => "Look out",
        Severity::Note => "Notes",
    };
    let findings =
        wanted.plan.findings.iter().filter(|finding| finding.problem.severity() == severity);
    let pieces: Vec<Piece> = findings
        .map(|finding| {
            let sign = mark(severity, At::new(2.0, base() - text::height(plain()) / 2.0), 3.6);
            Piece::paragraph(&sentence(finding, wanted.rules.units), (INDENT, width), Some(sign))
        })
        .collect();
    list(title, pieces)
}

/// Why the work goes on in spite of what stops it, in the user's words.
pub(super) fn acknowledged(wanted: &Wanted<'_>, width: f64) -> Option<Block> {
    let reason = Piece::paragraph(wanted.acknowledged?, (INDENT, width), None);
    list("Known, and the work goes on because", vec![reason])
}

/// What was not measured, to be verified at the wall.
pub(super) fn assumed(wanted: &Wanted<'_>, width: f64) -> Option<Block> {
    let assumed = wanted.plan.frame.assumed.iter();
    let pieces = assumed.map(|assumed| {
        let value = wording::assumed_value(assumed.value, wanted.rules.units);
        let words = format!("{}: {value} — {}", assumed.what, assumed.origin.words());
        Piece::paragraph(&words, (INDENT, width), Some(tick()))
    });
    list("Assumed, not measured: verify", pieces.collect())
}

/// What the people at the wall must know.
pub(super) fn cautions(wanted: &Wanted<'_>, width: f64) -> Option<Block> {
    let cautions = wanted.plan.cautions.iter();
    let pieces = cautions.map(|caution| {
        let words = format!("{} — {}", wording::caution(*caution), caution.source());
        Piece::paragraph(&words, (INDENT, width), Some(dash()))
    });
    list("Cautions", pieces.collect())
}

fn list(title: &str, pieces: Vec<Piece>) -> Option<Block> {
    let head = Piece::lines(&[title.to_owned()], Ink::Heading, 0.0);
    let head = Piece { height: head.height + 0.8, ..head };
    (!pieces.is_empty()).then_some(Block { head, head_is: Head::StandsOnce, pieces })
}

/// A finding as a sentence for the wall it is on.
fn sentence(finding: &Finding, units: Units) -> String {
    let place = Place { wall: None, ..finding.place.clone() };
    let (message, hint) =
        (wording::message(&finding.problem, units), wording::hint(&finding.problem));
    if place.part == Part::Whole && place.field.is_none() {
        return format!("{message}; {hint}");
    }
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

/// Where the drill stop is set, where that is one place for all holes.
fn stop(wanted: &Wanted<'_>) -> String {
    let travel = wanted.plan.drill.slope.travel;
    if wanted.plan.drill.holes.iter().all(|hole| same(hole.slope.travel, travel)) {
        return format!("Drill stop at {} along the bit.", size(travel, wanted.rules.units));
    }
    "Drill stop as the table says, measured along the bit.".to_owned()
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
