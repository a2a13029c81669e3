//! Why a hole is where it is, and how far it may move.

use crate::{
    drilling::{Hole, HoleState, Reach, Space},
    finding::Avoided,
    job::OwnState,
    language::{Language, Speech, Text, text},
    quantity::{Length, SAME},
    say,
    tape::size,
    wording::names::avoided_word,
};

/// Why a hole is where it is, in plain sentences.
pub fn why(hole: &Hole, speech: Speech) -> Vec<String> {
    let (why, language) = (&hole.why, speech.language);
    let s = |length: Length| size(length, speech.units);
    let own = own_state(hole.state).map(|said| said.of(language).to_owned());
    let mut sentences: Vec<String> = own.into_iter().collect();
    sentences.extend([
        space(hole, speech),
        say!(
            language,
            "{} above {}, {} below {}.",
            "{} arriba {}, {} debajo {}.",
            s(why.below.distance),
            foot(&why.below, language),
            s(why.above.distance),
            head(&why.above, language)
        ),
    ]);
    // Rows of an air space are its own.
    if let Space::AirSpace { .. } = why.space {
        return sentences;
    }
    sentences.push(match why.shared_with {
        0 => say!(language, "On a line of its own.", "En una línea propia."),
        1 => say!(
            language,
            "On one line with 1 other compartment.",
            "En una misma línea con 1 compartimiento más."
        ),
        others => say!(
            language,
            "On one line with {others} other compartments.",
            "En una misma línea con {others} compartimientos más."
        ),
    });
    let left = why.off_centre < why.off_centre * 0.0;
    let side = if left { text("left", "a la izquierda") } else { text("right", "a la derecha") };
    if why.avoided.is_empty() && SAME < why.off_centre.abs() && hole.state == HoleState::Planned {
        sentences.push(say!(
            language,
            "{} {} of the middle, on one reading with the holes above or below.",
            "{} {} del centro, en una misma lectura con los agujeros de arriba o de abajo.",
            s(why.off_centre.abs()),
            side.of(language)
        ));
    }
    if !why.avoided.is_empty() {
        sentences.push(say!(
            language,
            "{} {} of the middle, clear of {}.",
            "{} {} del centro, libre de {}.",
            s(why.off_centre.abs()),
            side.of(language),
            avoided_list(&why.avoided, language)
        ));
    }
    sentences
}

/// Who chose a hole that is not the planner's, and what became of it.
pub(super) const fn own_state(state: HoleState) -> Option<Text> {
    match state {
        HoleState::Planned | HoleState::Own(_, OwnState::LeftOut) => None,
        HoleState::Own(_, OwnState::Marked) => {
            Some(text("Marked on the wall already.", "Ya está marcado en la pared."))
        }
        HoleState::Own(_, OwnState::Set) => Some(text("Set by hand.", "Puesto a mano.")),
        HoleState::Own(_, OwnState::Drilled) => Some(text("Drilled.", "Taladrado.")),
        HoleState::Own(_, OwnState::Patched) => {
            Some(text("Filled and patched over.", "Rellenado y resanado."))
        }
    }
}

/// What the hole fills, and the rule for it.
fn space(hole: &Hole, speech: Speech) -> String {
    let (why, language) = (&hole.why, speech.language);
    let s = |length: Length| size(length, speech.units);
    match why.space {
        Space::Bay { width } => say!(
            language,
            "Bay {} wide, {} deep: at most {} from hole to hole.",
            "Espacio de {} de ancho y {} de fondo: a lo más {} de agujero a agujero.",
            s(width),
            s(why.depth),
            s(why.row.most)
        ),
        Space::AirSpace { reach, farthest } => say!(
            language,
            "Air space {} deep: foam reaches {} around, rows at most {} apart. This hole alone serves places up to {} away.",
            "Cámara de aire de {} de fondo: la espuma alcanza {} a la redonda, filas a lo más cada {}. Solo este agujero sirve lugares hasta a {}.",
            s(why.depth),
            s(reach),
            s(why.row.most),
            s(farthest)
        ),
    }
}

/// How far a hole may move while every rule still holds, the other holes staying.
pub fn may_move(hole: &Hole, speech: Speech) -> String {
    let language = speech.language;
    if matches!(hole.state, HoleState::Own(_, OwnState::Drilled | OwnState::Patched)) {
        return say!(
            language,
            "drilled: it stays where it is",
            "ya está hecho: se queda donde está"
        );
    }
    let (upright, across) = (hole.why.may_move_up, hole.why.may_move_across);
    let distances = [
        (text("up", "arriba"), upright.to - hole.up),
        (text("down", "abajo"), hole.up - upright.from),
        (text("left", "izquierda"), hole.centre.x - across.from),
        (text("right", "derecha"), across.to - hole.centre.x),
    ];
    let some = distances.into_iter().filter(|(_, distance)| SAME < *distance);
    let parts: Vec<String> = some
        .map(|(side, distance)| format!("{} {}", side.of(language), size(distance, speech.units)))
        .collect();
    if parts.is_empty() {
        return say!(language, "nowhere", "a ningún lado");
    }
    parts.join(", ")
}

/// Words in a row, the last two joined by a word.
pub(super) fn avoided_list(avoided: &[Avoided], language: Language) -> String {
    let words: Vec<&str> = avoided.iter().map(|what| avoided_word(*what).of(language)).collect();
    match words.as_slice() {
        [] => say!(language, "nothing", "nada"),
        [one] => (*one).to_owned(),
        [first @ .., last] => {
            let first = first.join(", ");
            say!(language, "{first} and {last}", "{first} y {last}")
        }
    }
}

/// What a hole is above; in Spanish with the preposition, which grows together with the article.
fn foot(reach: &Reach, language: Language) -> String {
    match reach.hole {
        Some(mark) => say!(language, "hole {mark}", "del agujero {mark}"),
        None => {
            say!(language, "the bottom of its compartment", "de la parte baja de su compartimiento")
        }
    }
}

/// What a hole is below.
fn head(reach: &Reach, language: Language) -> String {
    match reach.hole {
        Some(mark) => say!(language, "hole {mark}", "del agujero {mark}"),
        None => {
            say!(language, "the top of its compartment", "de la parte alta de su compartimiento")
        }
    }
}
