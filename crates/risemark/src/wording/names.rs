//! The words for members, things, finishes and entries.

use crate::{
    finding::{Avoided, Noun},
    framing::MemberKind,
    job::{Material, OpeningKind, SkipReason, ThingKind, ZoneKind},
    language::{Text, text},
};

/// The word for an entry of a wall.
pub fn noun(noun: Noun) -> Text {
    match noun {
        Noun::Opening => text("opening", "abertura"),
        Noun::HeadOfOpening => text("head of the opening", "parte alta de la abertura"),
        // unsure: "antepecho" for a sill.
        Noun::Sill => text("sill", "antepecho"),
        Noun::Block => text("block", "bloque"),
        Noun::Brace => text("brace", "riostra"),
        Noun::Thing => text("thing", "objeto"),
        // unsure: "tendido" for a run of cable or pipe.
        Noun::Run => text("run", "tendido"),
        Noun::Zone => text("zone", "zona"),
        // unsure: "espacio" for a bay.
        Noun::Bay => text("bay", "espacio"),
        Noun::Stud => text("stud", "montante"),
        Noun::FirstStud => text("first stud", "primer montante"),
        Noun::MeasuredStud => text("measured stud", "montante medido"),
        Noun::StudCorrection => text("stud correction", "corrección de montante"),
        Noun::ExtraStud => text("extra stud", "montante adicional"),
        Noun::Hole => text("own hole", "agujero propio"),
        // unsure: "sondeo" for a probe.
        Noun::Probe => text("probe", "sondeo"),
        Noun::Liked => text("liked height", "altura preferida"),
        Noun::Band => text("band without holes", "franja sin agujeros"),
        // unsure: "inyección" for a shot of foam, here and elsewhere; "tiro" is the flue.
        Noun::TestShot => text("test shot", "inyección de prueba"),
    }
}

/// The words for a property that a stage has something to say about, where its name is a path.
pub(super) fn field(path: &str) -> Option<Text> {
    Some(match path {
        "crew.first" => text("shot to begin with", "inyección con que se empieza"),
        "crew.walls" => text("order of the walls", "orden de las paredes"),
        "crew.sequence" => text("kept sequence", "secuencia fijada"),
        "rules.top_reach" => text("top reach", "alcance hasta arriba"),
        "studs.layout.first" => text("first stud", "primer montante"),
        _ => return None,
    })
}

/// The word for something that was avoided.
pub fn avoided_word(what: Avoided) -> Text {
    match what {
        Avoided::Thing(kind) => thing(kind),
        Avoided::Zone(kind) => zone(kind),
        Avoided::Band => text("a band without holes", "una franja sin agujeros"),
        Avoided::Timber => text("timber", "madera"),
    }
}

/// The word for an opening.
pub const fn opening(kind: OpeningKind) -> Text {
    match kind {
        OpeningKind::Door => text("door", "puerta"),
        OpeningKind::Window => text("window", "ventana"),
    }
}

/// The word for a thing in the wall.
pub const fn thing(kind: ThingKind) -> Text {
    match kind {
        ThingKind::ElectricalBox => text("electrical box", "caja eléctrica"),
        ThingKind::Cable => text("cable", "cable"),
        ThingKind::Pipe => text("pipe", "tubo"),
        ThingKind::Duct => text("duct", "ducto"),
        ThingKind::Vent => text("vent", "respiradero"),
        // unsure: "tiro de chimenea" for a flue of any appliance.
        ThingKind::Flue => text("flue", "tiro de chimenea"),
        ThingKind::MedicineCabinet => text("medicine cabinet", "botiquín"),
    }
}

/// The word for a thing on the wall.
pub const fn zone(kind: ZoneKind) -> Text {
    match kind {
        ZoneKind::Trim => text("trim", "moldura"),
        ZoneKind::Baseboard => text("baseboard", "zócalo"),
        // unsure: "cornisa" for a crown moulding.
        ZoneKind::Crown => text("crown", "cornisa"),
        // unsure: "cubierta" for a counter.
        ZoneKind::Counter => text("counter", "cubierta"),
        ZoneKind::Radiator => text("radiator", "radiador"),
        ZoneKind::Panel => text("panel", "panel"),
        // unsure: "barrera contra la humedad" for a damp course, "desagües" for weep holes.
        ZoneKind::DampCourse => text("damp course", "barrera contra la humedad"),
        ZoneKind::WeepHoles => text("weep holes", "desagües"),
    }
}

/// The word for a finish.
pub fn material(material: Material) -> Text {
    match material {
        // Crews also say "tablaroca" or "drywall".
        Material::Board => text("board", "panel de yeso"),
        // unsure: "enlucido" for plaster on lath.
        Material::Plaster => text("plaster", "enlucido"),
        Material::Wood => text("wood", "madera"),
        // unsure: "forro exterior" for siding.
        Material::Siding => text("siding", "forro exterior"),
        Material::Stucco => text("stucco", "estuco"),
        Material::Brick => text("brick", "ladrillo"),
    }
}

/// Why a bay is left out, in words.
pub fn skip_reason(reason: SkipReason) -> Text {
    match reason {
        SkipReason::AlreadyInsulated => {
            text("left out: insulated already", "se omite: ya está aislado")
        }
        // unsure: "ducto de instalaciones" for a chase.
        SkipReason::Chase => text("left out: a chase", "se omite: ducto de instalaciones"),
        SkipReason::KnobAndTube => {
            text("left out: knob-and-tube wiring", "se omite: cableado de perilla y tubo")
        }
        SkipReason::LeftOut => text("left out by you", "usted lo omitió"),
    }
}

/// The word for a member.
pub fn member(kind: MemberKind) -> Text {
    match kind {
        MemberKind::BottomPlate => text("bottom plate", "solera inferior"),
        MemberKind::TopPlate => text("top plate", "solera superior"),
        MemberKind::Stud => text("stud", "montante"),
        // unsure: the names of the studs beside, over and under an opening.
        MemberKind::KingStud => text("king stud", "montante principal"),
        MemberKind::Trimmer => text("trimmer", "montante de apoyo"),
        MemberKind::Cripple => text("cripple", "montante corto"),
        MemberKind::Header => text("header", "cabezal"),
        MemberKind::SolidHeader => text("solid header", "cabezal macizo"),
        MemberKind::RoughSill => text("rough sill", "antepecho"),
        MemberKind::CornerPost => text("corner post", "poste de esquina"),
        // unsure: "poste de tabique" for a partition channel.
        MemberKind::PartitionChannel => text("partition channel", "poste de tabique"),
        MemberKind::Block => text("block", "bloque"),
        MemberKind::FlatBlock => text("flat block", "bloque plano"),
        // unsure: "embutida" for let in, "intercalada" for cut in.
        MemberKind::LetInBrace => text("let-in brace", "riostra embutida"),
        MemberKind::CutInBrace => text("cut-in brace", "riostra intercalada"),
        MemberKind::ClosingThing => text("closing thing", "objeto que cierra"),
    }
}
