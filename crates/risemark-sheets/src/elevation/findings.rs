//! Small marks where findings belong: filled triangle, open triangle, open diamond.

use risemark::{
    compartments::Compartment,
    finding::{Avoided, Finding, Noun, Part, Problem, Severity},
    geometry::{Point, Polygon},
    quantity::Length,
};

use super::{Draft, holes};
use crate::{
    drawing::{Area, At, Item, Shape, Tag},
    ink::Ink,
};

pub(super) fn marks(draft: &Draft<'_>) -> Vec<Item> {
    let findings = draft.subject.plan.findings.iter().enumerate();
    let size = draft.manner.height() * 1.1;
    let rings = holes::seen(draft).map(|hole| {
        let ((rx, ry), at) = (holes::half_size(draft, &hole.slope), draft.scale.at(hole.centre));
        Area { left: at.x - rx, right: at.x + rx, top: at.y - ry, bottom: at.y + ry }
    });
    let mut taken: Vec<Area> = rings.collect();
    let mut items = Vec::new();
    for (idx, finding) in findings.filter(|(_, finding)| shown(draft, finding)) {
        let severity = finding.problem.severity();
        let places = places(draft, finding).filter(|place| draft.sees(*place));
        let mut places = places.map(|place| draft.scale.at(place)).peekable();
        let room = |at: At| Area::of(at).widened(size * 0.55);
        // What is only worth knowing is left out where it would cover something.
        let spare = places.peek().copied().filter(|_| severity != Severity::Note);
        let free = places.find(|at| !taken.iter().any(|other| other.overlaps(room(*at))));
        if let Some(at) = free.or(spare) {
            taken.push(room(at));
            items.push(mark(severity, at, size).tagged(Tag::Finding(idx)));
        }
    }
    items
}

/// The mark of a severity round a place.
pub(crate) fn mark(severity: Severity, at: At, size: f64) -> Item {
    let half = size / 2.0;
    let triangle =
        vec![at.moved(0.0, -half), at.moved(half, half * 0.8), at.moved(-half, half * 0.8)];
    let (ink, ring) = match severity {
        Severity::Stop => (Ink::FindingStop, triangle),
        Severity::Warning => (Ink::FindingWarning, triangle),
        Severity::Note => {
            let half = half * 0.85;
            let corners = [(0.0, -half), (half, 0.0), (0.0, half), (-half, 0.0)];
            (Ink::FindingNote, corners.into_iter().map(|(x, y)| at.moved(x, y)).collect())
        }
    };
    Item::new(ink, Shape::Rings(vec![ring]))
}

/// On paper, what is only worth knowing stands in the tables.
fn shown(draft: &Draft<'_>, finding: &Finding) -> bool {
    let paper = draft.manner.unit == crate::drawing::Unit::Millimetre;
    !paper || finding.problem.severity() != Severity::Note
}

/// Where on the wall a finding may be marked, the best place first; none for what concerns all of it.
fn places<'a>(draft: &Draft<'a>, finding: &'a Finding) -> Box<dyn Iterator<Item = Point> + 'a> {
    match &finding.place.part {
        Part::Compartment(id) => {
            let compartment = draft.subject.plan.compartment(*id).into_iter();
            Box::new(compartment.flat_map(|compartment| inside(compartment, &finding.problem)))
        }
        Part::Entry { noun, number } => Box::new(
            entry(draft, *noun, *number).or_else(|| on_top(draft, &finding.problem)).into_iter(),
        ),
        Part::Whole => Box::new(on_top(draft, &finding.problem).into_iter()),
    }
}

fn inside(compartment: &Compartment, problem: &Problem) -> impl Iterator<Item = Point> {
    let bounds = compartment.polygon.bounds();
    let asked = match problem {
        Problem::NoHoleFits { from, to, .. } => Some((*from + *to) / 2.0),
        _ => None,
    };
    let heights =
        [0.5, 0.36, 0.64, 0.22, 0.78].map(|share| bounds.y.from + bounds.y.length() * share);
    let rows = asked.into_iter().chain(heights).filter_map(|up| {
        let spans = compartment.polygon.across(up).into_iter();
        spans.max_by(|a, b| a.length().value.total_cmp(&b.length().value)).map(|span| (up, span))
    });
    rows.flat_map(|(up, span)| {
        [0.5, 0.24, 0.76, 0.12, 0.88].map(|share| Point::new(span.from + span.length() * share, up))
    })
}

fn entry(draft: &Draft<'_>, noun: Noun, number: usize) -> Option<Point> {
    let frame = &draft.subject.plan.frame;
    let middle = |polygon: &Polygon| {
        let bounds = polygon.bounds();
        Point::new(bounds.x.middle(), bounds.y.middle())
    };
    let obstacle = |thing: bool| {
        let same_kind = |what| matches!(what, Avoided::Thing(_)) == thing;
        let mut list = frame.obstacles.iter();
        let found = list.find(|obstacle| obstacle.number == number && same_kind(obstacle.what))?;
        found.pieces.first().map(middle)
    };
    match noun {
        Noun::Opening => {
            frame.openings.get(number.checked_sub(1)?).map(|opening| middle(&opening.polygon))
        }
        Noun::Thing => obstacle(true),
        Noun::Zone => obstacle(false),
        _ => None,
    }
}

/// On the upper edge of the wall, where the problem names a place across.
fn on_top(draft: &Draft<'_>, problem: &Problem) -> Option<Point> {
    let across: Length = match problem {
        Problem::StudInOpening { centre } => *centre,
        Problem::NothingThere { at, .. } | Problem::MembersOverlap { at, .. } => *at,
        _ => return None,
    };
    let spans = draft.subject.plan.frame.outline.along(across);
    spans.last().map(|span| Point::new(across, span.from + span.length() * 0.93))
}
