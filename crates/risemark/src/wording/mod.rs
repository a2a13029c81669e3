//! Every sentence the planner says, in every language: findings, cautions, and why a hole is where it is.
//!
//! Form: lower case, no full stop, "expected X, found Y" where something was expected.
//! What has figures takes the [`Speech`]; what has none is a [`Text`].

mod caution;
pub mod foam;
mod hole;
mod names;
mod problem;

use crate::{
    finding::{Finding, Part, Place, Severity},
    framing::AssumedValue,
    language::{Language, Speech, Text, text},
    limits::Begins,
    quantity::{NotALength, Units, to_degrees},
    rules::RuleValue,
    say,
    tape::size,
};

pub use caution::caution;
pub use hole::{may_move, why};
pub use names::{avoided_word, material, member, noun, opening, skip_reason, thing, zone};
pub use problem::{hint, message};

/// The word for a severity.
pub fn severity(severity: Severity) -> Text {
    match severity {
        Severity::Stop => text("stop", "alto"),
        Severity::Warning => text("warning", "advertencia"),
        Severity::Note => text("note", "nota"),
    }
}

/// A finding as the command line prints it: `place: message, hint`.
pub fn line(finding: &Finding, speech: Speech) -> String {
    let Finding { place: at, problem } = finding;
    let hint = hint(problem).of(speech.language);
    format!("{}: {}; {hint}", place(at, speech.language), message(problem, speech))
}

/// A place in the users' words; a property by the name it has in job files, unless that is a path.
pub fn place(place: &Place, language: Language) -> String {
    let mut parts = Vec::new();
    if let Some(wall) = &place.wall {
        let number = wall.number;
        let name =
            if wall.name.is_empty() { String::new() } else { format!(" “{}”", wall.name) };
        parts.push(say!(language, "wall {number}{name}", "pared {number}{name}"));
    }
    match &place.part {
        Part::Whole => {}
        Part::Entry { noun: what, number } => {
            parts.push(format!("{} {number}", noun(*what).of(language)));
        }
        Part::Compartment(id) => {
            parts.push(say!(language, "compartment {id}", "compartimiento {id}"));
        }
    }
    let words = |field: &String| {
        names::field(field).map_or_else(|| field.clone(), |word| word.of(language).to_owned())
    };
    parts.extend(place.field.as_ref().map(words));
    if parts.is_empty() { say!(language, "job", "trabajo") } else { parts.join(", ") }
}

/// Why a text was not taken as a length, with an example of what would be.
pub fn not_a_length(refused: &NotALength, language: Language) -> String {
    let found = &refused.found;
    let expected = match refused.units {
        Units::FeetInches => {
            text("7' 10-1/2\", 94 1/2 or 2400 mm", "7' 10-1/2\", 94 1/2 o 2400 mm")
        }
        Units::Metric => text("2400, 240 cm, 2.4 m or 7' 10\"", "2400, 240 cm, 2.4 m o 7' 10\""),
    };
    let expected = expected.of(language);
    say!(
        language,
        "cannot read “{found}” as a length, expected for example {expected}",
        "no se puede leer “{found}” como medida, se espera por ejemplo {expected}"
    )
}

/// An assumed value with its unit.
pub fn assumed_value(value: AssumedValue, units: Units) -> String {
    match value {
        AssumedValue::Length(length) => size(length, units),
        AssumedValue::Count(count) => count.to_string(),
    }
}

/// What a rule says, with its unit.
pub fn rule_value(value: RuleValue, speech: Speech) -> String {
    match value {
        RuleValue::Length(length) => size(length, speech.units),
        RuleValue::Angle(angle) => format!("{}°", to_degrees(angle)),
        RuleValue::Spacing(row) => {
            let (most, depth) = (size(row.most, speech.units), size(row.from_depth, speech.units));
            match row.begins {
                Begins::At => say!(
                    speech.language,
                    "{most} from a depth of {depth}",
                    "{most} desde un fondo de {depth}"
                ),
                Begins::Over => say!(
                    speech.language,
                    "{most} over a depth of {depth}",
                    "{most} con más de {depth} de fondo"
                ),
            }
        }
    }
}

#[cfg(test)]
mod tests;
