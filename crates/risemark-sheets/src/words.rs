//! Every word on sheets and pictures that is not the planner's, in every language.

use risemark::{
    drilling::Hole,
    finding::{Avoided, Severity},
    job::{End, RowsFrom, Side, ThingKind},
    language::{Language, Speech, Text, alike, counted, text},
    quantity::{Length, Units},
    say,
    tape::size,
    wording::zone,
};

use crate::sheet::SecondsBy;

pub(crate) const ACKNOWLEDGED: Text =
    text("Known, and the work goes on because", "Se sabe, y el trabajo sigue porque");
pub(crate) const ASSUMED: Text =
    text("Assumed, not measured: verify", "Supuesto, no medido: verifique");
/// What the sign of a space that nobody has probed says.
pub(crate) const NOT_PROBED: Text = text("not probed", "sondear");
pub(crate) const CAUTIONS: Text = text("Cautions", "Precauciones");
pub(crate) const NO_SOURCE: Text =
    text("No source: common practice.", "Sin fuente: práctica común.");

/// Heads of the table of holes.
/// The head of the heights of rows.
pub(crate) const fn up(from: RowsFrom) -> Text {
    match from {
        RowsFrom::Floor => text("up", "altura"),
        RowsFrom::Ceiling => text("down from ceiling", "bajo el cielo raso"),
    }
}
pub(crate) const NUMBER: Text = text("no.", "n.º");
pub(crate) const ACROSS: Text = text("across", "horizontal");
// unsure: "tope" for how far the bit goes in up to the stop.
pub(crate) const TRAVEL: Text = text("travel", "tope");
pub(crate) const SECONDS: Text = text("sec.", "seg.");
// unsure: "turno" for the place of a shot in the order of all.
pub(crate) const TURN: Text = text("turn", "turno");
/// Stands for what there is none of.
pub(crate) const NONE: &str = "–";

pub(crate) const PROBE_FIRST: Text = text("probe first", "sondear primero");
pub(crate) const FOUR_INCHES: Text = text("4 in", "4 pulg");
/// What the check bars are for.
pub(crate) const CHECK: [Text; 2] = [
    text("Print at 100 %.", "Imprima al 100 %."),
    text("Measure both bars first.", "Mida antes las barras."),
];

/// Over the findings of a severity.
pub(crate) fn heading(severity: Severity) -> Text {
    match severity {
        Severity::Stop => text("Stop", "Alto"),
        Severity::Warning => text("Look out", "Atención"),
        Severity::Note => text("Notes", "Notas"),
    }
}

/// How far the bit goes down.
pub(crate) fn slope(degrees: &str, in_twelve: &str, language: Language) -> String {
    say!(
        language,
        "Drill down {degrees}°, {in_twelve} in 12",
        "Taladre hacia abajo {degrees}°, {in_twelve} en 12"
    )
}

/// How to drill: the bit, where its stop is set when one does for all holes, and what readings mean.
pub(crate) fn drilling(
    bit: Length,
    stop: Option<Length>,
    some_stay_empty: bool,
    speech: Speech,
) -> String {
    let language = speech.language;
    let bit = size(bit, speech.units);
    let stop = match stop {
        Some(travel) => say!(
            language,
            "Drill stop at {} along the bit.",
            "Tope del taladro a {}, medido sobre la broca.",
            size(travel, speech.units)
        ),
        None => say!(
            language,
            "Drill stop as the table says, measured along the bit.",
            "Tope del taladro según la tabla, medido sobre la broca."
        ),
    };
    let legend = text(
        " Cross-hatched spaces stay empty.",
        " Los espacios con rayas cruzadas se quedan vacíos.",
    );
    let legend = if some_stay_empty { legend.of(language) } else { "" };
    say!(
        language,
        "{bit} bit. {stop} Across along the floor, up from the finished floor.{legend}",
        "Broca de {bit}. {stop} Horizontal a lo largo del piso, altura desde el piso terminado.{legend}"
    )
}

/// What the seconds of the table rest on, and what its turns count.
pub(crate) fn shooting(by: SecondsBy, has_turns: bool, language: Language) -> String {
    let by = match by {
        SecondsBy::CommonPractice => text(
            "Seconds by common practice: test first.",
            "Segundos según la práctica común: pruebe primero.",
        ),
        SecondsBy::OneTestShot => text(
            "Seconds by one test shot: test again.",
            "Segundos según una sola inyección de prueba: pruebe otra vez.",
        ),
        SecondsBy::TestShots => {
            text("Seconds by test shots.", "Segundos según las inyecciones de prueba.")
        }
    };
    let turns = text(" Turns of the whole job.", " Turnos de todo el trabajo.");
    let turns = if has_turns { turns.of(language) } else { "" };
    format!("{}{turns}", by.of(language))
}

/// How a hole is filled in several shots, as a note of the table.
pub(crate) fn split(seconds: &str, turns: &str, language: Language) -> String {
    if turns.is_empty() {
        return say!(language, "shoot {seconds} s", "inyecte {seconds} s");
    }
    say!(language, "shoot {seconds} s, turns {turns}", "inyecte {seconds} s, turnos {turns}")
}

/// What a hole was moved clear of, as a note of the table.
pub(crate) fn clear_of(things: &str, language: Language) -> String {
    say!(language, "clear of {things}", "libre de {things}")
}

/// That the wall is not as deep at a hole as elsewhere.
pub(crate) fn deep_here(depth: Length, speech: Speech) -> String {
    let depth = size(depth, speech.units);
    say!(speech.language, "{depth} deep here", "aquí {depth} de fondo")
}

/// Which sheet of a set it is.
pub(crate) fn sheet_of(number: usize, of: usize, language: Language) -> String {
    say!(language, "sheet {number} of {of}", "hoja {number} de {of}")
}

/// The scale that an elevation is drawn to.
pub(crate) fn scale(words: Text, language: Language) -> String {
    let words = words.of(language);
    say!(language, "scale {words}", "escala {words}")
}

/// The names of the standard scales, large to small.
pub(crate) fn scales(units: Units) -> [Text; 4] {
    match units {
        Units::Metric => ["1:10", "1:20", "1:25", "1:30"].map(alike),
        Units::FeetInches => [
            text("1\" = 1 ft", "1\" = 1 pie"),
            text("3/4\" = 1 ft", "3/4\" = 1 pie"),
            text("1/2\" = 1 ft", "1/2\" = 1 pie"),
            text("3/8\" = 1 ft", "3/8\" = 1 pie"),
        ],
    }
}

/// The side that is drilled.
pub(crate) fn drilled_from(side: Side) -> Text {
    match side {
        Side::Inside => text("drilled from inside", "se taladra desde adentro"),
        Side::Outside => text("drilled from outside", "se taladra desde afuera"),
    }
}

/// Where marking starts.
pub(crate) fn mark_from(datum: End) -> Text {
    match datum {
        End::Left => {
            text("Mark from the lower left corner", "Marque desde la esquina inferior izquierda")
        }
        End::Right => {
            text("Mark from the lower right corner", "Marque desde la esquina inferior derecha")
        }
    }
}

/// The sheet on which the wall goes on to the side.
// unsure: "empalme" for a match line.
pub(crate) fn match_line(sheet: usize, language: Language) -> String {
    say!(language, "match line, sheet {sheet}", "empalme, hoja {sheet}")
}

/// The sheet on which the wall goes on above.
pub(crate) fn above(sheet: usize, language: Language) -> String {
    say!(language, "above, sheet {sheet}", "arriba, hoja {sheet}")
}

/// The sheet on which the wall goes on below.
pub(crate) fn below(sheet: usize, language: Language) -> String {
    say!(language, "below, sheet {sheet}", "abajo, hoja {sheet}")
}

/// What a wall without a name is called.
pub(crate) fn wall(number: usize, language: Language) -> String {
    say!(language, "wall {number}", "pared {number}")
}

/// What an elevation shows, in one sentence.
pub(crate) fn elevation(
    size: &str,
    holes: &[Hole],
    snap_lines: &[Length],
    language: Language,
) -> String {
    let holes =
        counted(holes.len(), [text("hole", "agujero"), text("holes", "agujeros")], language);
    // unsure: "línea de tiza" for a snap line; in Mexico also "línea de gis" or "reventón".
    let lines = [text("snap line", "línea de tiza"), text("snap lines", "líneas de tiza")];
    let lines = counted(snap_lines.len(), lines, language);
    say!(language, "Elevation, {size}: {holes} on {lines}.", "Alzado, {size}: {holes} en {lines}.")
}

/// What a thing is called where it is drawn: shorter than in sentences.
pub(crate) fn on_the_wall(what: Avoided) -> Option<Text> {
    match what {
        Avoided::Thing(kind) => Some(match kind {
            ThingKind::ElectricalBox => text("box", "caja"),
            ThingKind::Cable => text("cable", "cable"),
            ThingKind::Pipe => text("pipe", "tubo"),
            ThingKind::Duct => text("duct", "ducto"),
            ThingKind::Vent => text("vent", "ventila"),
            ThingKind::Flue => text("flue", "tiro"),
            ThingKind::MedicineCabinet => text("cabinet", "botiquín"),
        }),
        Avoided::Zone(kind) => Some(zone(kind)),
        Avoided::Band => Some(text("no holes", "sin agujeros")),
        Avoided::Timber => None,
    }
}
