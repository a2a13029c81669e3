//! Every sentence the planner says, in one place: findings, cautions, and why a hole is where it is.
//!
//! Form: lower case, no full stop, "expected X, found Y" where something was expected.

use crate::{
    cautions::Caution,
    drilling::{Hole, Reach},
    finding::{Avoided, Finding, Problem, Severity},
    framing::{AssumedValue, MemberKind},
    job::{Material, SkipReason, ThingKind, ZoneKind},
    quantity::{Length, SAME, Units},
    tape::{reading, size},
};

/// The word for a severity.
pub fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Stop => "stop",
        Severity::Warning => "warning",
        Severity::Note => "note",
    }
}

/// What is wrong, with both numbers.
pub fn message(problem: &Problem, units: Units) -> String {
    file_message(problem, units)
        .or_else(|| framing_message(problem, units))
        .or_else(|| filling_message(problem, units))
        .unwrap_or_else(|| remark_message(problem, units))
}

/// What to do about it.
pub fn hint(problem: &Problem) -> &'static str {
    match problem {
        Problem::NotJson { .. } => {
            "use a file that this program saved, or mend the text at that place"
        }
        Problem::FileTooLarge { .. } | Problem::TooMany { .. } => "split the job into several",
        Problem::Unexpected { .. }
        | Problem::NumberOutOfRange { .. }
        | Problem::LengthOutOfRange { .. } => {
            "give a value that fits, or leave it out where it may be left out"
        }
        Problem::UnknownField { .. } => "remove it, or check its spelling",
        Problem::MissingField { .. } => "add it",
        Problem::RepeatedField { .. } | Problem::RepeatedId { .. } => "keep one of the two",
        Problem::BadText { .. } => "use 1 to 200 characters on one line",
        Problem::OpeningsOverlap { .. } => "check left edge, width, sill and height of both",
        Problem::OutsideWall { .. } => "check the reading, or make the wall larger",
        Problem::BadChain { .. } => {
            "list the points from the left end to the right end, the first at 0, the last at the wall's width"
        }
        Problem::NoHeight { .. } => "raise the upper edge or lower the lower edge there",
        Problem::NoLength => "move one of its ends",
        Problem::StudInOpening { .. } => {
            "check the reading; a king stud or a cripple may have been found"
        }
        Problem::NothingThere { .. } => "check the reading, or remove the entry",
        Problem::MembersOverlap { .. } => "check its centre and width",
        Problem::HeaderCut { .. } => "measure the header, or choose solid timber up to the plate",
        Problem::BrickWall => {
            "plan it as a stud wall only if it has studs; leave it out of this job otherwise"
        }
        Problem::TooShallow { .. } => "accept the void, or open the wall",
        Problem::TooNarrow { .. } => "use a smaller bit, accept the void, or open the wall",
        Problem::TooLow { .. } => {
            "lower the top clearance for this job, accept the void, or open the wall"
        }
        Problem::StaysEmpty { .. } => "leave it empty; ask the code official what may go there",
        Problem::Skipped { reason: SkipReason::KnobAndTube } => {
            "stop until a licensed electrician has cleared the wiring"
        }
        Problem::Skipped { .. } => "nothing to drill here",
        Problem::NoHoleFits { .. } => {
            "remove what is in the way or allow less distance to it, drill from the other side, or open the wall"
        }
        Problem::StepTooCoarse { .. } => "use a finer marking step for this job",
        Problem::WeakPractice { .. } => {
            "probe after the first shots, and drill between the holes where foam does not show"
        }
        Problem::ProbeFirst { .. } => "probe it before you drill it",
        Problem::ThinFinish { .. } => "smaller lifts, and brace the board while the foam rises",
        Problem::OpenBays => {
            "look from the basement and the attic whether the bays are blocked, and block those that are not"
        }
        Problem::MaybeLead { .. } => {
            "test the paint, or work by the lead rule; it counts the disturbed area a room"
        }
    }
}

/// A finding as the command line prints it: `place: message, hint`.
pub fn line(finding: &Finding, units: Units) -> String {
    format!("{}: {}; {}", finding.place, message(&finding.problem, units), hint(&finding.problem))
}

fn file_message(problem: &Problem, units: Units) -> Option<String> {
    let text = match problem {
        Problem::NotJson { what, line, column } => {
            format!("found {what} at line {line}, column {column}, expected a job file")
        }
        Problem::FileTooLarge { found, most } => {
            format!("found {found} bytes, expected at most {most}")
        }
        Problem::Unexpected { found, expected } => format!("found {found}, expected {expected}"),
        Problem::UnknownField { found, expected } => {
            format!("found the field “{found}”, expected one of {expected}")
        }
        Problem::MissingField { name } => format!("found nothing, expected the field “{name}”"),
        Problem::RepeatedField { name } => {
            format!("found the field “{name}” twice, expected it once")
        }
        Problem::LengthOutOfRange { name, found, min, max } => format!(
            "found {name} {}, expected {} to {}",
            reading(*found, units),
            reading(*min, units),
            reading(*max, units)
        ),
        Problem::NumberOutOfRange { name, found, min, max } => {
            format!("found {name} {found}, expected {min} to {max}")
        }
        Problem::TooMany { what, found, most } => {
            format!("found {found} {what}, expected at most {most}")
        }
        Problem::BadText { found } => format!("found “{found}”, expected a short text"),
        Problem::RepeatedId { id } => {
            format!("found the id “{id}” on two walls, expected an id of its own for each")
        }
        Problem::OpeningsOverlap { other } => {
            format!("found it overlapping opening {other}, expected openings apart from each other")
        }
        Problem::OutsideWall { what, found, limit } => {
            format!(
                "found the {what} at {}, expected nothing beyond {}",
                reading(*found, units),
                reading(*limit, units)
            )
        }
        Problem::BadChain { what } => {
            format!("found {what}, expected a chain of points from the left end to the right end")
        }
        Problem::NoHeight { at } => format!(
            "found no height at {} across, expected the upper edge above the lower edge",
            reading(*at, units)
        ),
        Problem::NoLength => "found both ends at one place, expected two places".to_owned(),
        _ => return None,
    };
    Some(text)
}

fn framing_message(problem: &Problem, units: Units) -> Option<String> {
    let r = |length: &Length| reading(*length, units);
    let s = |length: &Length| size(*length, units);
    let text = match problem {
        Problem::StudInOpening { centre } => {
            format!("a stud found at {} stands in an opening and is left out", r(centre))
        }
        Problem::NothingThere { what, at } => format!("there is no {what} at {}", r(at)),
        Problem::MembersOverlap { what, at } => {
            format!("the {what} at {} stands in another member and is cut back", r(at))
        }
        Problem::HeaderCut { depth, room } => {
            format!("the header is {} deep, but there is room for {}", s(depth), s(room))
        }
        Problem::BrickWall => {
            "a brick wall with an air space has no bays; its holes are not planned".to_owned()
        }
        _ => return None,
    };
    Some(text)
}

fn filling_message(problem: &Problem, units: Units) -> Option<String> {
    let r = |length: &Length| reading(*length, units);
    let s = |length: &Length| size(*length, units);
    let text = match problem {
        Problem::TooShallow { depth, least } => {
            format!("{} deep, foam needs at least {}", s(depth), s(least))
        }
        Problem::TooNarrow { width, least } => {
            format!("{} wide, the bit with its clearance needs {}", s(width), s(least))
        }
        Problem::TooLow { height, least } => {
            format!("{} high, a hole with its clearance needs {}", s(height), s(least))
        }
        Problem::StaysEmpty { thing: what, keep_off } => {
            format!("lies within {} of a {} and must stay empty", s(keep_off), thing(*what))
        }
        Problem::Skipped { reason } => skip_reason(*reason).to_owned(),
        Problem::NoHoleFits { blocked_by, from, to } if blocked_by.is_empty() => {
            format!("no hole fits from {} to {} up", r(from), r(to))
        }
        Problem::NoHoleFits { blocked_by, from, to } => {
            format!(
                "no hole fits from {} to {} up because of {}",
                r(from),
                r(to),
                avoided_list(blocked_by)
            )
        }
        Problem::StepTooCoarse { step, room } => {
            format!(
                "the centre of a hole has {} of room, and no mark of the {} step falls there",
                s(room),
                s(step)
            )
        }
        Problem::WeakPractice { depth, most } => {
            format!(
                "{} deep: holes {} apart are weak practice, no standard was found",
                s(depth),
                s(most)
            )
        }
        Problem::ProbeFirst { height, width } => {
            format!("{} high and {} wide: often closed by hidden timber", s(height), s(width))
        }
        _ => return None,
    };
    Some(text)
}

fn remark_message(problem: &Problem, units: Units) -> String {
    let s = |length: &Length| size(*length, units);
    match problem {
        Problem::ThinFinish { material: of, thickness, least, bay } => format!(
            "{} {} thick over bays {} wide may bow, {} carries the filling",
            material(*of),
            s(thickness),
            s(bay),
            s(least)
        ),
        Problem::OpenBays => {
            "balloon framing: bays may be open to the basement and the attic, and foam runs away"
                .to_owned()
        }
        Problem::MaybeLead { year: Some(year) } => {
            format!("built in {year}, before 1978: the paint may hold lead")
        }
        Problem::MaybeLead { year: None } => {
            "year built unknown: the paint may hold lead".to_owned()
        }
        other => other.code().to_owned(),
    }
}

/// What a caution says.
pub fn caution(caution: Caution) -> &'static str {
    match caution {
        Caution::LocalCode => "Local code and licensed practice come first.",
        Caution::Protection => "Respirator, goggles and gloves on before a valve is opened.",
        Caution::KeepOut => "Nobody else in the space. Come back when the maker's sheet says so.",
        Caution::Ignition => "Ignition sources off.",
        Caution::ThermalBarrier => {
            "Foam needs a thermal barrier to the room: 1/2 in gypsum board or what the code accepts."
        }
        Caution::Heat => {
            "Thick pours and scraps heat up. Keep lifts small, spread scraps, extinguisher at hand."
        }
        Caution::Services => {
            "Power off. Find wires and pipes first. Anything but air behind the board: stop."
        }
        Caution::KnobAndTube => "Knob-and-tube wiring: stop. It may not be buried in foam.",
        Caution::BundledCables => "More than two cables in foam: ask an electrician first.",
        Caution::Flue => "Clearances of chimneys and appliances stay empty.",
        Caution::Lead => "Paint from before 1978: work by the lead rule.",
        Caution::Asbestos => {
            "Plaster, textured coats and vermiculite: test for asbestos before drilling."
        }
        Caution::Bowing => "Thin or loose board bows: smaller lifts, brace it.",
        Caution::Draught => "Fires and boilers: test the draught after the house is tighter.",
    }
}

/// Why a hole is where it is, in plain sentences.
pub fn why(hole: &Hole, units: Units) -> Vec<String> {
    let why = &hole.why;
    let s = |length: Length| size(length, units);
    let mut sentences = vec![
        format!(
            "Bay {} wide, {} deep: at most {} from hole to hole.",
            s(why.bay_width),
            s(why.depth),
            s(why.row.most)
        ),
        format!(
            "{} above {}, {} below {}.",
            s(why.below.distance),
            foot(&why.below),
            s(why.above.distance),
            head(&why.above)
        ),
    ];
    sentences.push(match why.shared_with {
        0 => "On a line of its own.".to_owned(),
        1 => "On one line with 1 other compartment.".to_owned(),
        others => format!("On one line with {others} other compartments."),
    });
    if !why.avoided.is_empty() {
        let side = if why.off_centre < why.off_centre * 0.0 { "left" } else { "right" };
        sentences.push(format!(
            "{} {side} of the middle, clear of {}.",
            s(why.off_centre.abs()),
            avoided_list(&why.avoided)
        ));
    }
    sentences
}

/// How far a hole may move while every rule still holds, the other holes staying.
pub fn may_move(hole: &Hole, units: Units) -> String {
    let (upright, across) = (hole.why.may_move_up, hole.why.may_move_across);
    let distances = [
        ("up", upright.to - hole.up),
        ("down", hole.up - upright.from),
        ("left", hole.centre.x - across.from),
        ("right", across.to - hole.centre.x),
    ];
    let some = distances.into_iter().filter(|(_, distance)| SAME < *distance);
    let parts: Vec<String> =
        some.map(|(side, distance)| format!("{side} {}", size(distance, units))).collect();
    if parts.is_empty() { "nowhere".to_owned() } else { parts.join(", ") }
}

fn foot(reach: &Reach) -> String {
    reach
        .hole
        .map_or_else(|| "the bottom of its compartment".to_owned(), |mark| format!("hole {mark}"))
}

fn head(reach: &Reach) -> String {
    reach
        .hole
        .map_or_else(|| "the top of its compartment".to_owned(), |mark| format!("hole {mark}"))
}

fn avoided_list(avoided: &[Avoided]) -> String {
    let words: Vec<&str> = avoided.iter().map(|what| avoided_word(*what)).collect();
    match words.as_slice() {
        [] => "nothing".to_owned(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// The word for something that was avoided.
pub fn avoided_word(what: Avoided) -> &'static str {
    match what {
        Avoided::Thing(kind) => thing(kind),
        Avoided::Zone(kind) => zone(kind),
        Avoided::Timber => "timber",
    }
}

/// The word for a thing in the wall.
pub fn thing(kind: ThingKind) -> &'static str {
    match kind {
        ThingKind::ElectricalBox => "electrical box",
        ThingKind::Cable => "cable",
        ThingKind::Pipe => "pipe",
        ThingKind::Duct => "duct",
        ThingKind::Vent => "vent",
        ThingKind::Flue => "flue",
        ThingKind::MedicineCabinet => "medicine cabinet",
    }
}

/// The word for a thing on the wall.
pub fn zone(kind: ZoneKind) -> &'static str {
    match kind {
        ZoneKind::Trim => "trim",
        ZoneKind::Baseboard => "baseboard",
        ZoneKind::Crown => "crown",
        ZoneKind::Counter => "counter",
        ZoneKind::Radiator => "radiator",
        ZoneKind::Panel => "panel",
    }
}

/// The word for a finish.
pub fn material(material: Material) -> &'static str {
    match material {
        Material::Board => "board",
        Material::Plaster => "plaster",
        Material::Wood => "wood",
        Material::Siding => "siding",
        Material::Stucco => "stucco",
        Material::Brick => "brick",
    }
}

/// Why a bay is left out, in words.
pub fn skip_reason(reason: SkipReason) -> &'static str {
    match reason {
        SkipReason::AlreadyInsulated => "left out: insulated already",
        SkipReason::Chase => "left out: a chase",
        SkipReason::KnobAndTube => "left out: knob-and-tube wiring",
        SkipReason::LeftOut => "left out by you",
    }
}

/// The word for a member.
pub fn member(kind: MemberKind) -> &'static str {
    match kind {
        MemberKind::BottomPlate => "bottom plate",
        MemberKind::TopPlate => "top plate",
        MemberKind::Stud => "stud",
        MemberKind::KingStud => "king stud",
        MemberKind::Trimmer => "trimmer",
        MemberKind::Cripple => "cripple",
        MemberKind::Header => "header",
        MemberKind::SolidHeader => "solid header",
        MemberKind::RoughSill => "rough sill",
        MemberKind::CornerPost => "corner post",
        MemberKind::PartitionChannel => "partition channel",
        MemberKind::Block => "block",
        MemberKind::FlatBlock => "flat block",
        MemberKind::LetInBrace => "let-in brace",
        MemberKind::CutInBrace => "cut-in brace",
        MemberKind::ClosingThing => "closing thing",
    }
}

/// An assumed value with its unit.
pub fn assumed_value(value: AssumedValue, units: Units) -> String {
    match value {
        AssumedValue::Length(length) => size(length, units),
        AssumedValue::Count(count) => count.to_string(),
    }
}
