//! What is wrong, with its figures, and what to do about it.

use crate::{
    finding::{ChainFault, Content, Counted, Problem},
    job::SkipReason,
    language::{Language, Speech, Text, text},
    quantity::Length,
    say,
    tape::{reading, size},
    wording::{
        foam,
        hole::avoided_list,
        names::{material, noun, skip_reason, thing},
    },
};

/// What is wrong, with both numbers.
#[expect(clippy::too_many_lines, reason = "a table; one match keeps it whole")]
pub fn message(problem: &Problem, speech: Speech) -> String {
    let Speech { units, language } = speech;
    let r = |length: &Length| reading(*length, units);
    let s = |length: &Length| size(*length, units);
    match problem {
        Problem::NotJson { what, line, column } => {
            let what = parser_words(what, language);
            say!(
                language,
                "found {what} at line {line}, column {column}, expected a job file",
                "hay {what} en la línea {line}, columna {column}, se espera un archivo de trabajo"
            )
        }
        Problem::FileTooLarge { found, most } => say!(
            language,
            "found {found} bytes, expected at most {most}",
            "hay {found} bytes, se esperan {most} como máximo"
        ),
        Problem::Unexpected { found, expected } => {
            let (found, expected) = (content(found, language), content(expected, language));
            say!(
                language,
                "found {found}, expected {expected}",
                "hay {found}, se espera {expected}"
            )
        }
        Problem::NewerFile { found, latest } => say!(
            language,
            "found version {found}, expected {latest} at most",
            "hay la versión {found}, se espera {latest} a lo más"
        ),
        Problem::UnknownField { found, expected } => say!(
            language,
            "found the field “{found}”, expected one of {expected}",
            "hay el campo “{found}”, se espera uno de {expected}"
        ),
        Problem::MissingField { name } => say!(
            language,
            "found nothing, expected the field “{name}”",
            "no hay nada, se espera el campo “{name}”"
        ),
        Problem::RepeatedField { name } => say!(
            language,
            "found the field “{name}” twice, expected it once",
            "hay dos veces el campo “{name}”, se espera una"
        ),
        Problem::LengthOutOfRange { name, found, min, max } => say!(
            language,
            "found {} {}, expected {} to {}",
            "{}: hay {}, se espera de {} a {}",
            name.of(language),
            r(found),
            r(min),
            r(max)
        ),
        Problem::NumberOutOfRange { name, found, min, max } => {
            let name = name.of(language);
            say!(
                language,
                "found {name} {found}, expected {min} to {max}",
                "{name}: hay {found}, se espera de {min} a {max}"
            )
        }
        Problem::TooMany { what, found, most } => {
            let what = counted(*what).of(language);
            say!(
                language,
                "found {found} {what}, expected at most {most}",
                "hay {found} {what}, se esperan {most} como máximo"
            )
        }
        Problem::BadText { found } => say!(
            language,
            "found “{found}”, expected 1 to 200 characters on one line",
            "hay “{found}”, se esperan de 1 a 200 letras en un renglón"
        ),
        Problem::RepeatedId { id } => say!(
            language,
            "found the id “{id}” on two walls, expected an id of its own for each",
            "hay dos paredes con el id “{id}”, se espera uno propio para cada una"
        ),
        Problem::More { count } => say!(
            language,
            "found {count} more findings, which are left out here",
            "hay {count} avisos más, que aquí se omiten"
        ),
        Problem::RepeatedMark { mark, other } => say!(
            language,
            "found the number {mark} on hole {other} of the list too, expected a number of its own for each",
            "el agujero {other} de la lista también tiene el número {mark}, se espera uno propio para cada uno"
        ),
        Problem::TopRulesClash { clearance, reach } => say!(
            language,
            "found at least {} from the top hole up and at most {}, expected the least to be less",
            "desde el agujero de arriba hay al menos {} y a lo más {}, se espera que lo menor sea menos",
            size(*clearance, units),
            size(*reach, units)
        ),
        Problem::MarkIsVoid { mark } => say!(
            language,
            "found the mark of hole {mark}, expected none: no hole goes there any more",
            "hay la marca del agujero {mark}, no se espera ninguna: ahí ya no va agujero"
        ),
        Problem::OpeningsOverlap { other, name } => say!(
            language,
            "found it overlapping {}, expected openings apart from each other",
            "se encima con {}, se esperan aberturas separadas",
            opening_named(*other, name.as_deref(), language)
        ),
        Problem::OutsideWall { what, found, limit } => say!(
            language,
            "found the {} at {}, expected nothing beyond {}",
            "hay {} en {}, no se espera nada más allá de {}",
            noun(*what).of(language),
            r(found),
            r(limit)
        ),
        Problem::BadChain { what } => {
            let what = chain_fault(*what).of(language);
            say!(
                language,
                "found {what}, expected a chain of points from the left end to the right end",
                "hay {what}, se espera una cadena de puntos del extremo izquierdo al derecho"
            )
        }
        Problem::NoHeight { at } => say!(
            language,
            "found no height at {} across, expected the upper edge above the lower edge",
            "no hay altura a {} del extremo, se espera el borde de arriba sobre el de abajo",
            r(at)
        ),
        Problem::NoLength => say!(
            language,
            "found both ends at one place, expected two places",
            "hay dos extremos en un mismo lugar, se esperan dos lugares"
        ),
        Problem::StudInOpening { centre } => say!(
            language,
            "a stud found at {} stands in an opening and is left out",
            "el montante hallado en {} cae dentro de una abertura y se omite",
            r(centre)
        ),
        Problem::NothingThere { what, at } => say!(
            language,
            "there is no {} at {}",
            "no hay {} en {}",
            noun(*what).of(language),
            r(at)
        ),
        Problem::MembersOverlap { what, at } => say!(
            language,
            "the {} at {} stands in another member and is cut back",
            "{} en {}: cae dentro de otra pieza y se recorta",
            noun(*what).of(language),
            r(at)
        ),
        Problem::HeaderCut { depth, room } => say!(
            language,
            "the header is {} deep, but there is room for {}",
            "el cabezal tiene {} de peralte, pero solo caben {}",
            s(depth),
            s(room)
        ),
        Problem::WeakReach { reach } => say!(
            language,
            "holes that reach {} around in an air space are weak practice, no standard was found",
            "agujeros que alcanzan {} a la redonda en una cámara de aire son práctica poco firme, no se halló norma",
            s(reach)
        ),
        // unsure: "amarres" for wall ties.
        Problem::Ties { up, across } => say!(
            language,
            "ties join the leaves, often {} apart upright and {} along the wall at most, closer beside openings",
            "hay amarres entre las hojas, muchas veces a lo más cada {} de altura y cada {} a lo largo, más juntos en las aberturas",
            s(up),
            s(across)
        ),
        Problem::FinerMarks { step } => say!(
            language,
            "holes lie on marks of {}, which takes fewer than the marking step",
            "los agujeros van en marcas de {}, y así hacen falta menos que con el paso de marcado",
            s(step)
        ),
        Problem::BitLength { leaf, needed, usual } if needed <= usual => say!(
            language,
            "{} to drill through: the bit must reach {} along its axis",
            "se taladran {}: la broca debe alcanzar {} sobre su eje",
            s(leaf),
            s(needed)
        ),
        Problem::BitLength { leaf, needed, usual } => say!(
            language,
            "{} to drill through: the bit must reach {} along its axis, ordinary bits reach {}",
            "se taladran {}: la broca debe alcanzar {} sobre su eje, las comunes alcanzan {}",
            s(leaf),
            s(needed),
            s(usual)
        ),
        Problem::NotReached { across, up, reach } => say!(
            language,
            "no hole reaches the air space at {} across and {} up, where one was left out; foam reaches {}",
            "ningún agujero alcanza la cámara de aire a {} en horizontal y {} de altura, donde se omitió uno; la espuma alcanza {}",
            r(across),
            r(up),
            s(reach)
        ),
        Problem::OutOfReach { across, up, reach, blocked_by } if blocked_by.is_empty() => say!(
            language,
            "the air space at {} across and {} up needs a hole where none may be; foam reaches {}",
            "la cámara de aire a {} en horizontal y {} de altura necesita un agujero donde no puede haberlo; la espuma alcanza {}",
            r(across),
            r(up),
            s(reach)
        ),
        Problem::OutOfReach { across, up, reach, blocked_by } => say!(
            language,
            "the air space at {} across and {} up needs a hole where none may be, because of {}; foam reaches {}",
            "la cámara de aire a {} en horizontal y {} de altura necesita un agujero donde no puede haberlo; estorba: {}; la espuma alcanza {}",
            r(across),
            r(up),
            avoided_list(blocked_by, language),
            s(reach)
        ),
        Problem::TooShallow { depth, least } => say!(
            language,
            "{} deep, foam needs at least {}",
            "{} de fondo, la espuma necesita al menos {}",
            s(depth),
            s(least)
        ),
        Problem::TooNarrow { width, least } => say!(
            language,
            "{} wide, the bit with its clearance needs {}",
            "{} de ancho, la broca con su distancia libre necesita {}",
            s(width),
            s(least)
        ),
        Problem::TooLow { height, least } => say!(
            language,
            "{} high, a hole with its clearance needs {}",
            "{} de alto, un agujero con su distancia libre necesita {}",
            s(height),
            s(least)
        ),
        Problem::StaysEmpty { thing: what, keep_off } => say!(
            language,
            "lies within {} of a {} and must stay empty",
            "está a menos de {} de un objeto ({}) y debe quedar vacío",
            s(keep_off),
            thing(*what).of(language)
        ),
        Problem::Skipped { reason } => skip_reason(*reason).of(language).to_owned(),
        Problem::NoHoleFits { blocked_by, from, to } if blocked_by.is_empty() => say!(
            language,
            "no hole fits from {} to {} up",
            "no cabe ningún agujero de {} a {} de altura",
            r(from),
            r(to)
        ),
        Problem::NoHoleFits { blocked_by, from, to } => say!(
            language,
            "no hole fits from {} to {} up because of {}",
            "no cabe ningún agujero de {} a {} de altura; estorba: {}",
            r(from),
            r(to),
            avoided_list(blocked_by, language)
        ),
        Problem::StepTooCoarse { step, room } => say!(
            language,
            "the centre of a hole has {} of room, and no mark of the {} step falls there",
            "el centro del agujero tiene {} de lugar, y ahí no cae ninguna marca del paso de {}",
            s(room),
            s(step)
        ),
        Problem::HoleTooNear { blocked_by, least } => say!(
            language,
            "the hole is too near: {}; its centre keeps {} from timber, and from other things their own distance",
            "el agujero está demasiado cerca: {}; su centro guarda {} de la madera, y de lo demás su propia distancia",
            avoided_list(blocked_by, language),
            s(least)
        ),
        Problem::HoleMissesSpaces => say!(
            language,
            "the hole opens no space that is to be filled",
            "el agujero no abre ningún espacio que se vaya a llenar"
        ),
        Problem::NoHoleLeft => say!(
            language,
            "every hole here was left out: it stays empty",
            "aquí se quitaron todos los agujeros: se queda vacío"
        ),
        Problem::HolesTooFarApart { below, above, distance, most } => say!(
            language,
            "{} from {} to {}, at most {}",
            "{} de {} a {}, a lo más {}",
            s(distance),
            end_of_gap(*below, text("the bottom", "la parte baja"), language),
            end_of_gap(*above, text("the top", "la parte alta"), language),
            s(most)
        ),
        Problem::NotProbed { count, of } => say!(
            language,
            "{count} of {of} spaces were not probed (small triangle at the foot); hidden blocks are the commonest surprise",
            "{count} de {of} espacios no se han sondeado (triángulo chico al pie); los bloques escondidos son la sorpresa más común"
        ),
        Problem::NoBand { from, to } => say!(
            language,
            "the band goes from {} up to {}",
            "la franja va de {} hasta {} de altura",
            r(from),
            r(to)
        ),
        Problem::WeakPractice { depth, most } => say!(
            language,
            "{} deep: holes {} apart are weak practice, no standard was found",
            "{} de fondo: agujeros cada {} son práctica poco firme, no se halló norma",
            s(depth),
            s(most)
        ),
        Problem::ProbeFirst { height, width } => say!(
            language,
            "{} high and {} wide: often closed by hidden timber",
            "{} de alto y {} de ancho: muchas veces lo cierra madera escondida",
            s(height),
            s(width)
        ),
        Problem::ThinFinish { material: of, thickness, least, bay } => say!(
            language,
            "{} {} thick over bays {} wide may bow, {} carries the filling",
            "{} de {} de espesor sobre espacios de {} de ancho puede pandearse, {} aguanta el relleno",
            material(*of).of(language),
            s(thickness),
            s(bay),
            s(least)
        ),
        // unsure: "tipo globo" for balloon framing.
        Problem::OpenBays => say!(
            language,
            "balloon framing: bays may be open to the basement and the attic, and foam runs away",
            "armazón tipo globo: los espacios pueden estar abiertos al sótano y al ático, y la espuma se escapa"
        ),
        Problem::MaybeLead { year: Some(year) } => say!(
            language,
            "built in {year}, before 1978: the paint may hold lead",
            "construida en {year}, antes de 1978: la pintura puede tener plomo"
        ),
        Problem::MaybeLead { year: None } => say!(
            language,
            "year built unknown: the paint may hold lead",
            "año de construcción desconocido: la pintura puede tener plomo"
        ),
        of_foam => foam_message(of_foam, speech),
    }
}

/// What is wrong with foam, test shots and kits.
#[expect(clippy::too_many_lines, reason = "a table; one match keeps it whole")]
fn foam_message(problem: &Problem, speech: Speech) -> String {
    let Speech { units, language } = speech;
    let s = |length: &Length| size(*length, units);
    match problem {
        Problem::FlowUntested { rate } => say!(
            language,
            "no test shot yet: seconds rest on the usual {}",
            "sin inyección de prueba: los segundos se basan en lo usual, {}",
            foam::flow(*rate, speech)
        ),
        Problem::OneTestShot { rate } => say!(
            language,
            "one test shot gives {}, but not how sure that is",
            "una inyección de prueba da {}, pero no qué tan seguro es",
            foam::flow(*rate, speech)
        ),
        Problem::FlowUnsure { rate, margin } => say!(
            language,
            "the test shots give {}, give or take {}: as good as no measurement",
            "las inyecciones de prueba dan {}, más o menos {}: como si no se hubiera medido",
            foam::flow(*rate, speech),
            foam::flow(*margin, speech)
        ),
        Problem::ReadTooSoon { waited, least } => say!(
            language,
            "read after {}, foam needs at least {} to rise",
            "se leyó a los {}, la espuma necesita al menos {} para subir",
            foam::seconds(*waited),
            foam::seconds(*least)
        ),
        Problem::RoseAboveHole { rise, hole } => say!(
            language,
            "rose {}, above the hole at {}: some of it ran out",
            "subió {}, más que el agujero a {}: parte se salió",
            s(rise),
            s(hole)
        ),
        Problem::ShotDisagrees { found, middle } => say!(
            language,
            "gave {}, the middle of all is {}",
            "dio {}, el valor de en medio es {}",
            foam::flow(*found, speech),
            foam::flow(*middle, speech)
        ),
        Problem::NozzleChanged { nozzle, first, shot } => say!(
            language,
            "made with nozzle {nozzle}, test shot {shot} with nozzle {first}",
            "se hizo con la boquilla {nozzle}, la inyección de prueba {shot} con la boquilla {first}"
        ),
        Problem::TemperatureChanged { found, first, shot } => say!(
            language,
            "made at {}, test shot {} at {}",
            "se hizo a {}, la inyección de prueba {} a {}",
            foam::temperature(*found, units),
            shot,
            foam::temperature(*first, units)
        ),
        Problem::ShortShots { holes, least } => say!(
            language,
            "shots under {} are hard to time, at holes: {}",
            "las inyecciones de menos de {} son difíciles de medir, en los agujeros: {}",
            foam::seconds(*least),
            foam::marks(holes, language)
        ),
        Problem::LongShots { holes, most } => say!(
            language,
            "shots over {} are split, at holes: {}",
            "las inyecciones de más de {} se dividen, en los agujeros: {}",
            foam::seconds(*most),
            foam::marks(holes, language)
        ),
        Problem::LiftsTooHigh { holes, most } => say!(
            language,
            "lifts over {} high are shot in several, at holes: {}",
            "las capas de más de {} de alto se inyectan en varias veces, en los agujeros: {}",
            s(most),
            foam::marks(holes, language)
        ),
        Problem::LiftsTooLarge { holes, most } => say!(
            language,
            "lifts over {} are shot in several, at holes: {}",
            "las capas de más de {} se inyectan en varias veces, en los agujeros: {}",
            foam::volume(*most, speech),
            foam::marks(holes, language)
        ),
        Problem::ColdFoam { found, least } => say!(
            language,
            "components at {}, expected at least {}: less foam, badly mixed",
            "componentes a {}, se espera al menos {}: menos espuma y mal mezclada",
            foam::temperature(*found, units),
            foam::temperature(*least, units)
        ),
        Problem::FoamRunsShort { nominal, chance, needed, asked } => say!(
            language,
            "the kits at hand, {} nominal, finish with a chance of {} %; {} nominal give {} %",
            "los kits disponibles, {} nominales, alcanzan con una probabilidad de {} %; {} nominales dan {} %",
            foam::board_feet(*nominal, language),
            chance,
            foam::board_feet(*needed, language),
            asked
        ),
        of_shots => shots_message(of_shots, language),
    }
}

/// What is wrong with the order of the shots.
fn shots_message(problem: &Problem, language: Language) -> String {
    match problem {
        Problem::NoSuchHole { wall, hole } => say!(
            language,
            "found no shot for hole {hole} of the wall “{wall}”",
            "no hay inyección para el agujero {hole} de la pared “{wall}”"
        ),
        Problem::NoSuchWall { id } => {
            say!(language, "found no wall “{id}”", "no hay pared “{id}”")
        }
        Problem::OutOfTurn { hole } => say!(
            language,
            "hole {hole} cannot be shot that early, what is fixed otherwise or must set comes before it",
            "el agujero {hole} no se puede inyectar tan pronto, antes va lo que se fijó aparte o lo que debe asentar"
        ),
        Problem::ShotsOutlastKits { n_shots, lasts } => say!(
            language,
            "shots that take longer than a kit lasts, which is {}: {n_shots}; each is shot in parts, with another kit for each",
            "inyecciones que tardan más de lo que dura un kit, que es {}: {n_shots}; cada una se hace por partes, con otro kit para cada parte",
            foam::seconds(crate::quantity::seconds(lasts.value.floor()))
        ),
        Problem::WaitsCostNozzles { n_waits, longest } => say!(
            language,
            "waiting for foam to set costs nozzles: {n_waits}; the longest wait is {}",
            "la espera para que asiente la espuma cuesta boquillas: {n_waits}; la espera más larga es de {}",
            foam::seconds(*longest)
        ),
        // Every other problem has its sentence above.
        _ => String::new(),
    }
}

/// What to do about it.
#[expect(clippy::too_many_lines, reason = "a table; one match keeps it whole")]
pub fn hint(problem: &Problem) -> Text {
    match problem {
        Problem::NotJson { .. } => text(
            "use a file that this program saved, or mend the text at that place",
            "use un archivo guardado por este programa, o corrija el texto en ese lugar",
        ),
        Problem::FileTooLarge { .. } | Problem::TooMany { .. } => {
            text("split the job into several", "divida el trabajo en varios")
        }
        Problem::NewerFile { .. } => text(
            "a newer planner wrote it: open it with that one, or bring this one up to date",
            "lo escribió un programa más nuevo: ábralo con ese, o actualice este",
        ),
        Problem::Unexpected { .. }
        | Problem::NumberOutOfRange { .. }
        | Problem::LengthOutOfRange { .. } => text(
            "give a value that fits, or leave it out where it may be left out",
            "dé un valor que quede, u omítalo donde se pueda omitir",
        ),
        Problem::UnknownField { .. } => {
            text("remove it, or check its spelling", "quítelo, o revise cómo está escrito")
        }
        Problem::MissingField { .. } => text("add it", "agréguelo"),
        Problem::RepeatedField { .. }
        | Problem::RepeatedId { .. }
        | Problem::RepeatedMark { .. } => text("keep one of the two", "deje uno de los dos"),
        Problem::More { .. } => text("mend these first", "corrija primero estos"),
        Problem::TopRulesClash { .. } => text(
            "make the top reach longer, or the top clearance shorter",
            "alargue el alcance hasta arriba, o acorte la distancia libre arriba",
        ),
        Problem::BadText { .. } => text("make it shorter", "acórtelo"),
        Problem::MarkIsVoid { .. } => text("cross it out on the wall", "táchela en la pared"),
        Problem::OpeningsOverlap { .. } => text(
            "check left edge, width, sill and height of both",
            "revise borde izquierdo, ancho, antepecho y altura de las dos",
        ),
        Problem::OutsideWall { .. } => text(
            "check the reading, or make the wall larger",
            "revise la lectura, o haga la pared más grande",
        ),
        Problem::BadChain { .. } => text(
            "list the points from the left end to the right end, the first at 0, the last at the wall's width",
            "anote los puntos del extremo izquierdo al derecho, el primero en 0, el último en el ancho de la pared",
        ),
        Problem::NoHeight { .. } => text(
            "raise the upper edge or lower the lower edge there",
            "suba ahí el borde de arriba o baje el de abajo",
        ),
        Problem::NoLength => text("move one of its ends", "mueva uno de sus extremos"),
        Problem::StudInOpening { .. } => text(
            "check the reading; a king stud or a cripple may have been found",
            "revise la lectura; pudo ser un montante principal o uno corto",
        ),
        Problem::NothingThere { .. } => {
            text("check the reading, or remove the entry", "revise la lectura, o quite el dato")
        }
        Problem::MembersOverlap { .. } => {
            text("check its centre and width", "revise su centro y su ancho")
        }
        Problem::HeaderCut { .. } => text(
            "measure the header, or choose solid timber up to the plate",
            "mida el cabezal, o elija madera maciza hasta la solera",
        ),
        Problem::WeakReach { .. } => text(
            "look into neighbouring holes after the first shots, and set a smaller reach where foam does not show",
            "mire en los agujeros vecinos tras las primeras inyecciones, y fije un alcance menor donde no se vea espuma",
        ),
        Problem::Ties { .. } => text(
            "where the bit meets a tie, stop and move the hole by the length of a bit",
            "donde la broca tope con un amarre, pare y corra el agujero un diámetro de broca",
        ),
        Problem::FinerMarks { .. } => text(
            "read the tape closely; these holes just fit, and one beside its mark leaves a gap",
            "lea la cinta con cuidado; estos agujeros caben justos, y uno fuera de su marca deja un hueco",
        ),
        Problem::BitLength { .. } => text(
            "measure the bit before the first hole, and set the drill stop",
            "mida la broca antes del primer agujero, y ponga el tope",
        ),
        Problem::NotReached { .. } => text(
            "give the hole back to the planner, or set another within the reach",
            "devuelva el agujero al programa, o ponga otro dentro del alcance",
        ),
        Problem::OutOfReach { .. } => text(
            "allow less distance to what is in the way, drill from the other side, or accept the void",
            "acepte menos distancia a lo que estorba, taladre del otro lado, o acepte el vacío",
        ),
        Problem::TooShallow { .. } => {
            text("accept the void, or open the wall", "acepte el vacío, o abra la pared")
        }
        Problem::TooNarrow { .. } => text(
            "use a smaller bit, accept the void, or open the wall",
            "use una broca más chica, acepte el vacío, o abra la pared",
        ),
        Problem::TooLow { .. } => text(
            "lower the top clearance for this job, accept the void, or open the wall",
            "baje la distancia libre arriba para este trabajo, acepte el vacío, o abra la pared",
        ),
        Problem::StaysEmpty { .. } => text(
            "leave it empty; ask the code official what may go there",
            "déjelo vacío; pregunte al inspector qué se permite ahí",
        ),
        Problem::Skipped { reason: SkipReason::KnobAndTube } => text(
            "stop until a licensed electrician has cleared the wiring",
            "alto hasta que un electricista con licencia dé el visto bueno al cableado",
        ),
        Problem::Skipped { .. } => text("nothing to drill here", "aquí no se taladra"),
        Problem::NoHoleFits { .. } => text(
            "remove what is in the way or allow less distance to it, drill from the other side, or open the wall",
            "quite lo que estorba o acepte menos distancia, taladre del otro lado, o abra la pared",
        ),
        Problem::StepTooCoarse { .. } => text(
            "use a finer marking step for this job",
            "use un paso de marcado más fino para este trabajo",
        ),
        Problem::HoleTooNear { .. } => {
            text("move it, or give it back to the planner", "muévalo o devuélvaselo al programa")
        }
        Problem::HoleMissesSpaces => text(
            "nothing is filled through it: patch it, or move it over a space",
            "por él no se llena nada: resánelo o muévalo sobre un espacio",
        ),
        Problem::NoHoleLeft => text(
            "give the holes back to the planner, or note the bay as left out",
            "devuélvale los agujeros al programa o anote el espacio como omitido",
        ),
        Problem::HolesTooFarApart { .. } => text(
            "set one more hole between, or give the holes back to the planner",
            "ponga un agujero más en medio o devuélvale los agujeros al programa",
        ),
        Problem::NotProbed { .. } => text(
            "drill one hole, push a stiff wire up and down, and note where it stops",
            "taladre un agujero, meta un alambre rígido hacia arriba y hacia abajo y anote dónde topa",
        ),
        Problem::NoBand { .. } => {
            text("give the lower edge first", "ponga primero el borde de abajo")
        }
        // unsure: "inyecciones" for shots, "sondear" for probing.
        Problem::WeakPractice { .. } => text(
            "probe after the first shots, and drill between the holes where foam does not show",
            "sondee tras las primeras inyecciones, y taladre entre los agujeros donde no se vea espuma",
        ),
        Problem::ProbeFirst { .. } => {
            text("probe it before you drill it", "sondéelo antes de taladrarlo")
        }
        Problem::ThinFinish { .. } => text(
            "smaller lifts, and brace the board while the foam rises",
            "capas más chicas, y apuntale el panel mientras sube la espuma",
        ),
        Problem::OpenBays => text(
            "look from the basement and the attic whether the bays are blocked, and block those that are not",
            "vea desde el sótano y el ático si los espacios están bloqueados, y bloquee los que no lo estén",
        ),
        Problem::MaybeLead { .. } => text(
            "test the paint, or work by the lead rule; it counts the disturbed area a room",
            "haga la prueba de la pintura, o trabaje según la regla del plomo; cuenta el área alterada por cuarto",
        ),
        Problem::FlowUntested { .. } | Problem::OneTestShot { .. } => text(
            "make three or more test shots of different lengths, wait 90 s, and enter how far each rose",
            "haga tres o más inyecciones de prueba de distinta duración, espere 90 s y anote cuánto subió cada una",
        ),
        Problem::FlowUnsure { .. } => text(
            "repeat the test shots with one nozzle and warm components",
            "repita las inyecciones de prueba con una boquilla y componentes tibios",
        ),
        Problem::ReadTooSoon { .. } => text(
            "read it again, or leave this shot out",
            "léala otra vez, o no cuente esta inyección",
        ),
        Problem::RoseAboveHole { .. } => text(
            "leave this shot out and make a shorter one",
            "no cuente esta inyección y haga una más corta",
        ),
        Problem::ShotDisagrees { .. } => text(
            "check its rise, seconds and bay; if they are right, repeat it",
            "revise su subida, segundos y espacio; si están bien, repítalo",
        ),
        Problem::NozzleChanged { .. } => text(
            "count shots of one nozzle only, or shoot again with a new one",
            "cuente solo inyecciones de una boquilla, o inyecte otra vez con una nueva",
        ),
        Problem::TemperatureChanged { .. } => text(
            "bring the components to one temperature and test again",
            "lleve los componentes a una misma temperatura y pruebe otra vez",
        ),
        Problem::ShortShots { .. } => text(
            "call the time aloud and rather stop early than late",
            "cante el tiempo en voz alta y pare antes que después",
        ),
        Problem::LongShots { .. }
        | Problem::LiftsTooHigh { .. }
        | Problem::LiftsTooLarge { .. } => text(
            "wait between the shots as planned; the maker's limit comes first",
            "espere entre las inyecciones según el plan; el límite del fabricante va primero",
        ),
        Problem::ColdFoam { .. } => text(
            "warm the cylinders by the maker's sheet, never with a flame",
            "entibie los cilindros según la hoja del fabricante, nunca con flama",
        ),
        Problem::FoamRunsShort { .. } => {
            text("have more at hand before you begin", "tenga más a la mano antes de empezar")
        }
        Problem::NoSuchHole { .. } | Problem::NoSuchWall { .. } => text(
            "name it as the plan does, or leave it to the planner",
            "nómbrelo como en el plan, o déjelo al programa",
        ),
        Problem::OutOfTurn { .. } => text(
            "it is planned without this wish; change one of the two",
            "se planea sin este deseo; cambie uno de los dos",
        ),
        Problem::ShotsOutlastKits { .. } => {
            text("use larger kits where you can", "use kits más grandes donde pueda")
        }
        Problem::WaitsCostNozzles { .. } => text(
            "shoot other walls of the house in between, or have the nozzles at hand",
            "inyecte mientras otras paredes de la casa, o tenga las boquillas a la mano",
        ),
    }
}

/// What the parser found; it speaks English alone, and the place says more than its words.
fn parser_words(what: &str, language: Language) -> String {
    if what.starts_with("EOF") {
        return say!(language, "a text that ends too soon", "un texto que termina antes de tiempo");
    }
    match language {
        Language::English => format!("a text that is no JSON ({what})"),
        Language::Spanish => "un texto que no es JSON".to_owned(),
    }
}

fn content(content: &Content, language: Language) -> String {
    match content {
        Content::Written(words) => words.clone(),
        Content::Nothing => say!(language, "nothing", "nada"),
        Content::Number => say!(language, "a number", "un número"),
        Content::WholeNumber => say!(language, "a whole number", "un número entero"),
        Content::Text => say!(language, "a text", "un texto"),
        Content::List => say!(language, "a list", "una lista"),
        Content::ListOf(count) => say!(language, "a list of {count}", "una lista de {count}"),
        Content::Object => say!(language, "an object", "un objeto"),
        Content::ObjectOf(count) => {
            say!(language, "an object of {count} fields", "un objeto de {count} campos")
        }
        Content::ObjectWith(field) => {
            say!(language, "an object with the field “{field}”", "un objeto con el campo “{field}”")
        }
        Content::Job => say!(language, "a job", "un trabajo"),
        Content::Sill => say!(language, "a sill", "un antepecho"),
        Content::NoSill => say!(language, "no sill on a door", "una puerta sin antepecho"),
    }
}

fn counted(counted: Counted) -> Text {
    match counted {
        Counted::Walls => text("walls", "paredes"),
        Counted::Members => text("members", "piezas"),
        Counted::Entries => text("entries", "datos"),
    }
}

fn chain_fault(fault: ChainFault) -> Text {
    match fault {
        ChainFault::NoPoints => text("no points", "cero puntos"),
        ChainFault::SinglePoint => text("a single point", "un solo punto"),
        ChainFault::StartsElsewhere => {
            text("a first point that is not at 0", "un primer punto que no está en 0")
        }
        ChainFault::EndsElsewhere => text(
            "a last point that is not at the wall's width",
            "un último punto que no está en el ancho de la pared",
        ),
        ChainFault::RunsBack => {
            text("points that run back to the left", "puntos que regresan a la izquierda")
        }
    }
}

/// A hole, or an end of its compartment.
fn end_of_gap(mark: Option<usize>, end: Text, language: Language) -> String {
    match mark {
        Some(mark) => say!(language, "hole {mark}", "el agujero {mark}"),
        None => end.of(language).to_owned(),
    }
}

fn opening_named(number: usize, name: Option<&str>, language: Language) -> String {
    match name {
        None => say!(language, "opening {number}", "la abertura {number}"),
        Some(name) => {
            say!(language, "“{name}” (opening {number})", "“{name}” (abertura {number})")
        }
    }
}
