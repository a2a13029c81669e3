//! What can be chosen from lists.

use risemark::{
    found::ReadAt,
    job::{
        BlockKind, BraceKind, Coursing, End, ExtraKind, Lumber, Material, OpeningKind, OwnState,
        RowsFrom, Scatter, Side, SkipReason, ThingKind, ZoneKind,
    },
    language::{Language, alike, text},
    quantity::Units,
    wording,
};
use risemark_sheets::{Layer, Orientation, Paper};

use super::{Choices, Word};
use crate::{
    edit::add::Kind,
    shape::{
        ConstructionKind, EdgeKind, EffectKind, HeaderKind, LayoutKind, LikedKind, ThingShapeKind,
    },
};

const fn word(english: &'static str, spanish: &'static str) -> Word {
    Word::new(text(english, spanish))
}

const fn opening(kind: OpeningKind) -> (OpeningKind, Word) {
    (kind, Word::new(wording::opening(kind)))
}

const fn thing(kind: ThingKind) -> (ThingKind, Word) {
    (kind, Word::new(wording::thing(kind)))
}

const fn zone(kind: ZoneKind) -> (ZoneKind, Word) {
    (kind, Word::new(wording::zone(kind)))
}

/// What can be added by touching the wall.
pub const KINDS: Choices<Kind> = &[
    (Kind::Window, word("window", "ventana")),
    (Kind::Door, word("door", "puerta")),
    (Kind::Block, word("block", "bloque")),
    (Kind::Brace, word("brace", "riostra")),
    (Kind::Stud, word("stud", "montante")),
    (Kind::Box, word("box", "caja")),
    (Kind::Cable, word("cable", "cable")),
    (Kind::Panel, word("panel", "panel")),
    (Kind::Bay, word("bay", "espacio")),
    (Kind::Hole, word("hole", "agujero")),
];

/// How test shots scatter.
pub const SCATTERS: Choices<Scatter> = &[
    (Scatter::Even, word("even", "pareja")),
    (Scatter::Growing, word("grows with the shot", "crece con la duración")),
];

/// What became of a hole that is not the planner's to choose.
pub const OWN_STATES: Choices<OwnState> = &[
    (OwnState::Set, word("set by hand", "puesto a mano")),
    (OwnState::Marked, word("marked on the wall", "marcado en la pared")),
    (OwnState::Drilled, word("drilled", "taladrado")),
    (OwnState::Patched, word("patched over", "resanado")),
    (OwnState::LeftOut, word("left out", "omitido")),
];

/// Where the heights of rows are measured from.
pub const ROWS_FROM_CHOICES: Choices<RowsFrom> = &[
    (RowsFrom::Floor, word("up from the floor", "desde el piso hacia arriba")),
    // unsure: "cielo raso" or "plafón" for a ceiling.
    (RowsFrom::Ceiling, word("down from the ceiling", "desde el cielo raso hacia abajo")),
];

/// At which heights rows are liked.
pub const LIKED_KINDS: Choices<LikedKind> = &[
    (LikedKind::Height, word("one height", "una altura")),
    (LikedKind::Band, word("a band of heights", "una franja de alturas")),
    // unsure: "traslapes" for the laps of a siding.
    (LikedKind::Laps, word("laps of a siding", "traslapes del revestimiento")),
];

/// What can be shown or hidden.
pub const LAYERS: Choices<Layer> = &[
    (Layer::Framing, word("framing", "armazón")),
    (Layer::Compartments, word("compartments", "compartimientos")),
    (Layer::Holes, word("holes", "agujeros")),
    (Layer::Lines, word("lines", "líneas")),
    (Layer::Rulers, word("dimensions", "cotas")),
    (Layer::Findings, word("findings", "observaciones")),
];

/// Lumber of a period.
pub const LUMBER: Choices<Option<Lumber>> = &[
    (None, word("not known", "no se sabe")),
    (
        Some(Lumber::Rough2x4),
        word("2×4, rough, before the 1920s", "2×4, sin cepillar, antes de los años 20"),
    ),
    (Some(Lumber::Early2x4), word("2×4, 1920s to 1960s", "2×4, de los años 20 a los 60")),
    (Some(Lumber::Dressed2x4), word("2×4, since about 1970", "2×4, desde 1970 más o menos")),
    (
        Some(Lumber::Rough2x6),
        word("2×6, rough, before the 1920s", "2×6, sin cepillar, antes de los años 20"),
    ),
    (Some(Lumber::Early2x6), word("2×6, 1920s to 1960s", "2×6, de los años 20 a los 60")),
    (Some(Lumber::Dressed2x6), word("2×6, since about 1970", "2×6, desde 1970 más o menos")),
];

/// What of a stud the tape is read at.
pub const READINGS_AT: Choices<ReadAt> = &[
    (ReadAt::Centre, word("stud centres", "centros de montantes")),
    (ReadAt::NearEdge, word("near edges", "bordes cercanos")),
];

/// Shapes of an upper edge.
pub const EDGES: Choices<EdgeKind> = &[
    (EdgeKind::Level, word("level", "a nivel")),
    (EdgeKind::Raked, word("raked", "inclinado")),
    (EdgeKind::Gable, word("gable", "a dos aguas")),
    (EdgeKind::Points, word("points", "por puntos")),
];

/// Shapes of a lower edge.
pub const BOTTOM_EDGES: Choices<Option<EdgeKind>> = &[
    (None, word("the finished floor", "el piso terminado")),
    (Some(EdgeKind::Level), word("level", "a nivel")),
    (Some(EdgeKind::Raked), word("raked", "inclinado")),
    (Some(EdgeKind::Gable), word("two slopes", "dos pendientes")),
    (Some(EdgeKind::Points), word("points", "por puntos")),
];

/// Ways to give the places of studs.
pub const LAYOUTS: Choices<LayoutKind> = &[
    (LayoutKind::Regular, word("regular", "regular")),
    (LayoutKind::Measured, word("found one by one", "hallados uno por uno")),
];

/// Ends of a wall.
pub const ENDS: Choices<End> = &[
    (End::Left, word("left end", "extremo izquierdo")),
    (End::Right, word("right end", "extremo derecho")),
];

/// Sides of a wall.
pub const SIDES: Choices<Side> =
    &[(Side::Inside, word("inside", "adentro")), (Side::Outside, word("outside", "afuera"))];

/// Ways to build a wall.
// unsure: "tipo globo" for balloon framing.
pub const CONSTRUCTIONS: Choices<ConstructionKind> = &[
    (ConstructionKind::Platform, word("platform frame", "armazón de plataforma")),
    (ConstructionKind::Balloon, word("balloon frame", "armazón tipo globo")),
    (ConstructionKind::Brick, word("brick, air space", "ladrillo, cámara de aire")),
];

/// Finishes.
// unsure: "enlucido" for plaster, "forro exterior" for siding.
pub const MATERIALS: Choices<Material> = &[
    (Material::Board, word("gypsum board", "panel de yeso")),
    (Material::Plaster, word("plaster on lath", "enlucido sobre listones")),
    (Material::Wood, word("wood", "madera")),
    (Material::Siding, word("siding", "forro exterior")),
    (Material::Stucco, word("stucco", "estuco")),
    (Material::Brick, word("brick", "ladrillo")),
];

/// Openings.
pub const OPENING_KINDS: Choices<OpeningKind> =
    &[opening(OpeningKind::Door), opening(OpeningKind::Window)];

/// Headers.
// unsure: these three.
pub const HEADERS: Choices<HeaderKind> = &[
    (HeaderKind::Full, word("full depth", "de fondo completo")),
    (HeaderKind::Shallow, word("space beside it", "con espacio a un lado")),
    (HeaderKind::Solid, word("solid to the plate", "macizo hasta la solera")),
];

/// Blocks.
pub const BLOCK_KINDS: Choices<BlockKind> = &[
    (BlockKind::Full, word("closes the bay", "cierra el espacio")),
    (BlockKind::Flat, word("laid flat", "puesto de plano")),
];

/// Braces.
// unsure: "embutida" for let in, "intercalada" for cut in.
pub const BRACE_KINDS: Choices<BraceKind> = &[
    (BraceKind::LetIn, word("let in", "embutida")),
    (BraceKind::CutIn, word("cut in", "intercalada")),
];

/// Where holes of a brick wall may be.
pub const COURSINGS: Choices<Coursing> = &[
    (Coursing::Anywhere, word("anywhere", "en cualquier lugar")),
    (
        Coursing::TJoints,
        word(
            "where an upright joint meets a bed joint",
            "donde una junta vertical da con una horizontal",
        ),
    ),
];

/// Things in the wall.
pub const THING_KINDS: Choices<ThingKind> = &[
    thing(ThingKind::ElectricalBox),
    thing(ThingKind::Cable),
    thing(ThingKind::Pipe),
    thing(ThingKind::Duct),
    thing(ThingKind::Vent),
    thing(ThingKind::Flue),
    thing(ThingKind::MedicineCabinet),
];

/// Shapes of things in the wall.
pub const THING_SHAPES: Choices<ThingShapeKind> = &[
    (ThingShapeKind::Box, word("rectangle", "rectángulo")),
    (ThingShapeKind::Run, word("run", "tendido")),
    (ThingShapeKind::Round, word("circle", "círculo")),
];

/// What a thing does to its bay.
pub const EFFECTS: Choices<Option<EffectKind>> = &[
    (None, word("by kind", "según el tipo")),
    (Some(EffectKind::TakesVolume), word("takes volume", "ocupa volumen")),
    (Some(EffectKind::ClosesBay), word("closes the bay", "cierra el espacio")),
    (Some(EffectKind::ForbidsFilling), word("bay stays empty", "el espacio queda vacío")),
];

/// Things on the wall.
pub const ZONE_KINDS: Choices<ZoneKind> = &[
    zone(ZoneKind::Trim),
    zone(ZoneKind::Baseboard),
    zone(ZoneKind::Crown),
    zone(ZoneKind::Counter),
    zone(ZoneKind::Radiator),
    zone(ZoneKind::Panel),
    zone(ZoneKind::DampCourse),
    zone(ZoneKind::WeepHoles),
];

/// Whether a bay is filled.
pub const SKIP_REASONS: Choices<Option<SkipReason>> = &[
    (None, word("filled", "se rellena")),
    (Some(SkipReason::AlreadyInsulated), word("insulated already", "ya está aislado")),
    (Some(SkipReason::Chase), word("a chase", "ducto de instalaciones")),
    (Some(SkipReason::KnobAndTube), word("knob-and-tube", "perilla y tubo")),
    (Some(SkipReason::LeftOut), word("left out", "se omite")),
];

/// Corrections of a stud: whether it is missing.
pub const CORRECTION_KINDS: Choices<bool> = &[
    (false, word("stands elsewhere", "está en otro lugar")),
    (true, word("is not there", "no está")),
];

/// Members beside the layout.
pub const EXTRA_KINDS: Choices<ExtraKind> = &[
    (ExtraKind::Stud, word("stud", "montante")),
    (ExtraKind::CornerPost, word("corner post", "poste de esquina")),
    (ExtraKind::PartitionChannel, word("partition channel", "poste de tabique")),
];

/// Languages, each in its own words.
pub const LANGUAGES: Choices<Language> = &[
    (Language::English, Word::new(alike("English"))),
    (Language::Spanish, Word::new(alike("Español"))),
];

/// Units of lengths.
pub const UNIT_SYSTEMS: Choices<Units> = &[
    (Units::FeetInches, word("feet and inches", "pies y pulgadas")),
    (Units::Metric, word("millimetres", "milímetros")),
];

/// Sizes of paper.
pub const PAPERS: Choices<Paper> = &[
    (Paper::Letter, word("Letter", "Carta")),
    (Paper::Legal, word("Legal", "Legal")),
    (Paper::Tabloid, word("Tabloid", "Tabloide")),
    (Paper::A4, word("A4", "A4")),
    (Paper::A3, word("A3", "A3")),
];

/// How paper lies.
pub const ORIENTATIONS: Choices<Orientation> = &[
    (Orientation::Auto, word("as it fits best", "como mejor quede")),
    (Orientation::Portrait, word("upright", "vertical")),
    (Orientation::Landscape, word("lying", "horizontal")),
];
