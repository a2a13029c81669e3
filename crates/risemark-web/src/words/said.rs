//! Sentences with figures, and what is said about findings, files and what is kept.

use risemark::{
    compartments::Compartment,
    drilling::Hole,
    finding::{Finding, Noun, Part, Place, Severity},
    foam::{Advice, Consumables, Total},
    found::{FoundStud, Standing},
    job::Wall,
    language::{Language, alike, counted, text},
    limits::{Bounds, Origin},
    quantity::{
        Length, NotALength, Time, Units, Volume, VolumeRate, round_to, seconds, to_board_feet,
        to_cubic_feet, to_cubic_inches, to_liters, to_seconds, to_whole,
    },
    say,
    shots::{PlannedShot, ShotPlan},
    tape::{reading, size},
    wording,
};

use super::{
    BLOCKED, CLOSED, DENIED, DUPLICATE, ELSEWHERE, FAILED, FEWEST_LINES, FULL, HOLE, KEEPING, KEPT,
    KEPT_FOR_NOW, LINK_DAMAGED, LINK_TOO_LARGE, REMOVE, SHARED, WALL, language, speech,
};
use crate::{
    link,
    store::{Fault, keeper::Status},
};

/// What a length or count that was not given rests on.
pub fn assumed(origin: Origin) -> String {
    let origin = origin.words().of(language());
    say!(language(), "assumed · {origin}", "supuesto · {origin}")
}

/// What changed, for people who do not see the drawing.
pub fn holes_changed(wall: &str, earlier: usize, now: usize) -> String {
    say!(language(), "{wall}: holes {earlier} to {now}", "{wall}: agujeros, de {earlier} a {now}")
}

/// A number that is none, or lies outside its range.
pub fn not_a_number(found: &str, bounds: &Bounds) -> String {
    let found = found.trim();
    let Bounds { name, min, max, .. } = bounds;
    let name = name.of(language());
    say!(
        language(),
        "cannot take “{found}” as {name}, expected {min} to {max}",
        "no se puede tomar “{found}” como {name}, se espera de {min} a {max}"
    )
}

/// A part of a wall by its number, and by its name where it has one.
pub fn part_of(wall: &Wall, place: &Place) -> String {
    let place = Place { wall: None, ..place.clone() };
    let name = match place.part {
        Part::Entry { noun: Noun::Opening | Noun::HeadOfOpening | Noun::Sill, number } => {
            wall.openings.get(number.saturating_sub(1)).and_then(|opening| opening.name.as_deref())
        }
        Part::Entry { .. } | Part::Compartment(_) | Part::Whole => None,
    };
    let said = wording::place(&place, language());
    name.map_or_else(|| said.clone(), |name| format!("{said} “{name}”"))
}

/// Everything that speaks against a change, in one text.
pub fn all_messages(findings: &[Finding], units: Units) -> String {
    let messages = findings.iter().map(|finding| {
        let part = Place { wall: None, field: None, ..finding.place.clone() };
        let speech = speech(units);
        let message = wording::message(&finding.problem, speech);
        match part.part {
            Part::Whole => message,
            Part::Entry { .. } | Part::Compartment(_) => {
                format!("{}: {message}", wording::place(&part, speech.language))
            }
        }
    });
    messages.collect::<Vec<_>>().join("; ")
}

/// How many holes on how many snap lines.
pub fn holes_and_lines(n_holes: usize, n_lines: usize) -> String {
    let holes = [text("hole", "agujero"), text("holes", "agujeros")];
    let lines = [text("line", "línea"), text("lines", "líneas")];
    let holes = counted(n_holes, holes, language());
    let lines = counted(n_lines, lines, language());
    say!(language(), "{holes} on {lines}", "{holes} en {lines}")
}

/// How far the number of lines may be from the fewest possible.
pub fn lines_proof(n_lines: usize, bound: usize) -> String {
    match n_lines.saturating_sub(bound) {
        0 => FEWEST_LINES.text().to_owned(),
        n => say!(language(), "within {n} of the fewest possible", "a {n} de las menos posibles"),
    }
}

/// Foam and time of the job in a line.
pub fn foam_summary(volume: &str, with_waste: &str, time: Time) -> String {
    let time = hours(time);
    say!(
        language(),
        "{volume} to fill, {with_waste} with waste; {time} of spraying",
        "{volume} por llenar, {with_waste} con desperdicio; {time} de inyección"
    )
}

/// A time in hours and minutes, or in minutes and seconds where it is short: `1 h 05 min`, `4 min 30 s`.
pub fn hours(time: Time) -> String {
    let whole = to_whole(to_seconds(time).round());
    if whole < 3600 {
        return format!("{} min {:02} s", whole / 60, whole % 60);
    }
    format!("{} h {:02} min", whole / 3600, whole % 3600 / 60)
}

/// A time since the first shot, as a clock shows it: `12:05`.
pub fn clock(time: Time) -> String {
    let whole = to_whole(to_seconds(time).round());
    format!("{}:{:02}", whole / 60, whole % 60)
}

/// A kit by its nominal board feet.
pub fn kit_of(size: f64) -> String {
    say!(language(), "Kit of {size} board ft", "Kit de {size} pies tabla")
}

/// What the plot of chances counts.
pub fn chance_by_kits(size: &str) -> String {
    say!(
        language(),
        "Chance of finishing by the number of kits of {size}:",
        "Probabilidad de terminar según el número de kits de {size}:"
    )
}

/// One kit more that is worth its price.
pub fn kit_advice(advice: &Advice, sign: &str) -> String {
    let percent = |share: f64| to_whole((share * 100.0).round());
    let size = wording::foam::board_feet(advice.kit.nominal, language());
    let (price, risk) = (format!("{sign}{:.2}", advice.price), format!("{sign}{:.2}", advice.risk));
    say!(
        language(),
        "One kit more of {} costs {} and takes away a risk worth {}: the chance goes from {} to {} %.",
        "Un kit más de {} cuesta {} y quita un riesgo que vale {}: la probabilidad pasa de {} a {} %.",
        size,
        price,
        risk,
        percent(advice.without),
        percent(advice.with)
    )
}

/// What a list of things and hours costs, as far as prices are known.
pub fn costs(bought: &Consumables, sign: &str) -> String {
    let total = |total: &Total| {
        let missing = total.n_unknown;
        let known = format!("{sign}{:.2}", total.known);
        match missing {
            0 => known,
            _ => say!(
                language(),
                "{known} and {missing} without a price",
                "{known} y {missing} sin precio"
            ),
        }
    };
    let (material, work) = (total(&bought.material), total(&bought.work));
    say!(
        language(),
        "Material: {material}. Work: {work}.",
        "Material: {material}. Trabajo: {work}."
    )
}

/// What a button beside a test shot does.
pub fn remove_test_shot(number: usize) -> String {
    say!(language(), "Remove test shot {number}", "Quitar inyección de prueba {number}")
}

/// A test shot by its number, as findings name it.
pub fn test_shot(number: usize) -> String {
    say!(language(), "Test shot {number}", "Inyección de prueba {number}")
}

/// What takes a size of kits off the list.
pub fn remove_kit(number: usize) -> String {
    say!(language(), "Remove size {number}", "Quitar tamaño {number}")
}

/// A bay of a wall as what is sprayed into.
pub fn bay_of(wall: &str) -> String {
    say!(language(), "a bay of {wall}", "un espacio de {wall}")
}

/// A bay by its name, its middle from the left end, its clear width and depth.
pub fn bay_to_spray(bay: &Compartment, units: Units) -> String {
    let (id, at) = (bay.id, reading(bay.polygon.bounds().x.middle(), units));
    let (width, depth) = (size(bay.clear_width, units), size(bay.depth, units));
    say!(language(), "{id} at {at}: {width} × {depth}", "{id} en {at}: {width} × {depth}")
}

/// A place at which there is no bay.
pub fn no_bay_at(at: Length, units: Units) -> String {
    let at = reading(at, units);
    say!(language(), "no bay at {at}", "ningún espacio en {at}")
}

/// The holes whose sequence is kept, each by its wall and number.
pub fn sequence_kept(holes: &str) -> String {
    say!(
        language(),
        "Kept in this sequence, others may come between: {holes}",
        "En esta secuencia fija, con otros entre ellos si conviene: {holes}"
    )
}

/// A shot by its place in the order.
pub fn shot_title(number: usize) -> String {
    say!(language(), "Shot {number}", "Inyección {number}")
}

/// An order in a line: time, nozzles, kits, and how far it may be from the best.
pub fn order_summary(plan: &ShotPlan) -> String {
    let (time, above) = (hours(plan.end), plan.within_percent());
    let nozzle = [text("nozzle", "boquilla"), text("nozzles", "boquillas")];
    let nozzles = counted(plan.n_nozzles, nozzle, language());
    let kits = counted(plan.n_kits, [alike("kit"), alike("kits")], language());
    say!(
        language(),
        "{time} in all, {nozzles}, {kits}; within {above} % of the best possible",
        "{time} en total, {nozzles}, {kits}; a {above} % del mejor posible"
    )
}

/// What is to be done before a shot.
pub fn shot_note(before: Option<&PlannedShot>, shot: &PlannedShot) -> String {
    let Some(before) = before else { return String::new() };
    if before.kit != shot.kit {
        return say!(language(), "new kit and nozzle first", "antes, kit y boquilla nuevos");
    }
    if before.nozzle != shot.nozzle {
        return say!(language(), "new nozzle first", "antes, boquilla nueva");
    }
    String::new()
}

/// What takes over the rows of another wall.
pub fn rows_of(name: &str) -> String {
    say!(language(), "Take the rows of {name}", "Tomar las filas de {name}")
}

/// What a button beside an entry does.
pub fn remove_entry(noun: &str, number: usize) -> String {
    format!("{} {noun} {number}", REMOVE.text())
}

/// What a button beside an entry does.
pub fn duplicate_entry(noun: &str, number: usize) -> String {
    format!("{} {noun} {number}", DUPLICATE.text())
}

/// What a new wall is called until somebody names it.
pub fn new_wall(number: usize) -> String {
    format!("{} {number}", WALL.text())
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

/// Whose hours are listed.
pub fn hours_of(people: u32) -> String {
    say!(language(), "Hours of {people} people together", "Horas de {people} personas juntas")
}

/// Numbers of findings by severity; those that are not there are left out.
pub fn counts(counts: &[(Severity, usize)]) -> String {
    let count = |(severity, count): &(Severity, usize)| {
        (0 < *count).then(|| of_severity(*count, *severity))
    };
    counts.iter().filter_map(count).collect::<Vec<_>>().join("  ")
}

/// A volume as it stands in figures of the flow: cubic inches or litres.
pub fn amount(volume: Volume, units: Units) -> f64 {
    match units {
        Units::FeetInches => to_cubic_inches(volume),
        Units::Metric => to_liters(volume),
    }
}

/// The unit of [`amount`].
pub fn unit_of_amount(units: Units) -> &'static str {
    match (units, language()) {
        (Units::FeetInches, Language::English) => "cu in",
        (Units::FeetInches, Language::Spanish) => "pulg cúb",
        (Units::Metric, _) => "L",
    }
}

/// A volume with the figures that tell shots apart.
pub fn exact_amount(volume: Volume, units: Units) -> String {
    let figures = match units {
        Units::FeetInches => 1,
        Units::Metric => 3,
    };
    format!("{:.figures$} {}", amount(volume, units), unit_of_amount(units))
}

/// A flow with the figures that tell shots apart.
pub fn exact_flow(flow: VolumeRate, units: Units) -> String {
    let figures = match units {
        Units::FeetInches => 2,
        Units::Metric => 4,
    };
    format!("{:.figures$} {}/s", amount(flow * seconds(1.0), units), unit_of_amount(units))
}

/// How much foam goes into a wall or a job.
pub fn volume(volume: Volume, units: Units) -> String {
    match units {
        // unsure: "pies tabla" or "pies tablares" for board feet.
        Units::FeetInches => say!(
            language(),
            "{} board feet ({} cu ft)",
            "{} pies tabla ({} pies cúbicos)",
            round_to(to_board_feet(volume), 1.0),
            round_to(to_cubic_feet(volume), 10.0)
        ),
        Units::Metric => format!("{} L", round_to(to_liters(volume), 1.0)),
    }
}

/// How many walls have another value than they start with.
pub fn walls_differ(count: usize) -> String {
    let words =
        [text("wall differs", "pared es distinta"), text("walls differ", "paredes son distintas")];
    format!("{}:", counted(count, words, language()))
}

/// What a new wall takes over from another of its room.
pub fn taken_over_from(wall: &str) -> String {
    say!(
        language(),
        "All else that is left open: as {wall}.",
        "Todo lo demás que quede sin dar: como {wall}."
    )
}

/// What the button says that gives a wall's settings to its room.
pub fn give_to_room(room: &str) -> String {
    say!(
        language(),
        "Give this wall's settings to all of {room}",
        "Dar los ajustes de esta pared a todo {room}"
    )
}

/// The layout that fits a run.
pub fn layout_that_fits(
    spacing: Length,
    first: Length,
    (n_on, of): (usize, usize),
    units: Units,
) -> String {
    let (spacing, first) = (size(spacing, units), reading(first, units));
    if of == 1 {
        return say!(
            language(),
            "One reading fits any layout; {spacing} on centre is assumed, first centre at {first}.",
            "Una lectura queda en cualquier distribución; se supone {spacing} centro a centro, primer centro en {first}."
        );
    }
    say!(
        language(),
        "Fits {spacing} on centre, first centre at {first}: {n_on} of {of} readings.",
        "Queda a {spacing} centro a centro, primer centro en {first}: {n_on} de {of} lecturas."
    )
}

/// A stud that was called out, and where it stands.
pub fn found_stud(read: Length, stud: &FoundStud, units: Units) -> (String, String) {
    let (warning, stop) = (sign(Severity::Warning), sign(Severity::Stop));
    let standing = match stud.place {
        Standing::OnLayout => say!(language(), "on the layout", "en la distribución"),
        Standing::Off { place } => {
            let off = size((stud.centre - place).abs(), units);
            let past = place < stud.centre;
            let place = reading(place + read - stud.centre, units);
            if past {
                say!(
                    language(),
                    "{warning} off: {off} past {place}",
                    "{warning} fuera: {off} después de {place}"
                )
            } else {
                say!(
                    language(),
                    "{warning} off: {off} short of {place}",
                    "{warning} fuera: {off} antes de {place}"
                )
            }
        }
        Standing::Beside => say!(
            language(),
            "{warning} off: none in the layout",
            "{warning} fuera: ninguno en la distribución"
        ),
        Standing::AtTheEnd => say!(language(), "the end stud", "el montante del extremo"),
        Standing::AtAnOpening => {
            say!(language(), "framing of an opening", "armazón de una abertura")
        }
        Standing::Outside => {
            say!(language(), "{stop} outside the wall", "{stop} fuera de la pared")
        }
    };
    (reading(read, units), standing)
}

/// A reading that is no length.
pub fn unread(refused: &NotALength) -> String {
    format!("{} {}", sign(Severity::Stop), wording::not_a_length(refused, language()))
}

/// A stud of the layout that nobody called out.
pub fn stud_not_called(place: Length, units: Units) -> (String, String) {
    let sign = sign(Severity::Warning);
    let standing = say!(
        language(),
        "{sign} in the layout, not called out",
        "{sign} en la distribución, no dictado"
    );
    (reading(place, units), standing)
}

/// How many notes are folded.
pub fn notes(count: usize) -> String {
    of_severity(count, Severity::Note)
}

fn of_severity(count: usize, severity: Severity) -> String {
    let many = match severity {
        Severity::Stop => text("stops", "altos"),
        Severity::Warning => text("warnings", "advertencias"),
        Severity::Note => text("notes", "notas"),
    };
    let words = [wording::severity(severity), many];
    format!("{} {}", sign(severity), counted(count, words, language()))
}

/// Width and height of a wall, and the room it stands in.
pub fn wall_size(width: Length, height: Length, units: Units) -> String {
    format!("{} × {}", reading(width, units), reading(height, units))
}

/// The heading of a hole.
pub fn hole_title(mark: usize) -> String {
    format!("{} {mark}", HOLE.text())
}

/// A reading along the floor.
pub fn across(length: Length, units: Units) -> String {
    say!(language(), "{} across", "{} horizontal", reading(length, units))
}

/// A reading up from the floor.
pub fn up(length: Length, units: Units) -> String {
    say!(language(), "{} up", "{} de altura", reading(length, units))
}

/// A height as it is read from the ceiling.
pub fn down(length: Length, units: Units) -> String {
    say!(language(), "{} down", "{} hacia abajo", reading(length, units))
}

/// A free stretch beside something.
pub fn gap(length: Length, units: Units) -> String {
    size(length, units)
}

/// What a hole fills.
pub fn fills(hole: &Hole, units: Units) -> String {
    let below = match hole.why.below.hole {
        None => say!(language(), "the bottom of its compartment", "su parte baja"),
        Some(mark) => say!(language(), "hole {mark}", "el agujero {mark}"),
    };
    let above = match hole.why.above.hole {
        None => {
            let above = size(hole.why.above.distance, units);
            say!(language(), ", and {above} above to the top", ", y {above} más hasta arriba")
        }
        Some(_) => String::new(),
    };
    let (compartment, distance) = (hole.compartment, size(hole.why.below.distance, units));
    say!(
        language(),
        "Compartment {compartment}, from {below} up to here: {distance}{above}.",
        "Compartimiento {compartment}, desde {below} hasta aquí: {distance}{above}."
    )
}

/// How the bit is set for a hole.
pub fn bit_travel(hole: &Hole, units: Units) -> String {
    let travel = size(hole.slope.travel, units);
    say!(
        language(),
        "Bit stop at {travel} along the axis.",
        "Tope de la broca a {travel}, medido sobre el eje."
    )
}

/// The name of a sheet's file.
pub fn sheet_file(wall: &str, number: usize, of: usize) -> String {
    let wall = file_stem(wall);
    say!(language(), "{wall}-sheet-{number}-of-{of}.svg", "{wall}-hoja-{number}-de-{of}.svg")
}

/// The name of a job's file.
pub fn job_file(job: &str) -> String {
    format!("{}.json", file_stem(job))
}

/// What a sheet is called where it is only heard.
pub fn sheet_label(wall: &str, number: usize, of: usize) -> String {
    say!(language(), "{wall}, sheet {number} of {of}", "{wall}, hoja {number} de {of}")
}

/// Whether what was done is kept, and where.
pub fn status(status: Status, is_lasting: bool) -> &'static str {
    let word = match status {
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
    };
    word.text()
}

/// Why a link does not open.
pub fn link_refused(refusal: link::Refusal) -> &'static str {
    let word = match refusal {
        link::Refusal::Damaged => LINK_DAMAGED,
        link::Refusal::TooLarge => LINK_TOO_LARGE,
    };
    word.text()
}

/// How long a link is.
pub fn link_size(n_signs: usize) -> String {
    say!(language(), "{n_signs} characters.", "{n_signs} caracteres.")
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
    if parts.is_empty() { say!(language(), "job", "trabajo") } else { parts.join("-") }
}
