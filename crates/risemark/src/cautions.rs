//! What the people at a wall must know before they start: each caution with the section it rests on.
//!
//! Local code and licensed practice come first; these are reminders, not advice on a single house.

use crate::{
    compartments::{Compartment, State},
    finding::{Avoided, Finding, Place, Problem, Staged},
    framing::Frame,
    job::{Construction, Job, Material, SkipReason, ThingKind, Wall},
    language::{Text, alike, text},
    limits::Origin,
    quantity::{Length, SAME, inches},
};

/// One caution.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Caution {
    /// Local code and licensed practice come first.
    LocalCode,
    /// Respirator, goggles, gloves before a valve is opened.
    Protection,
    /// Nobody else in the space; re-entry by the maker's sheet.
    KeepOut,
    /// Ignition sources off.
    Ignition,
    /// A thermal barrier between foam and rooms.
    ThermalBarrier,
    /// Heat of thick pours and of scraps.
    Heat,
    /// Switch off and find wiring and pipes before drilling.
    Services,
    /// Knob-and-tube wiring: stop.
    KnobAndTube,
    /// More than two cables in foam: electrician.
    BundledCables,
    /// Clearances of chimneys and appliances stay empty.
    Flue,
    /// Painted before 1978.
    Lead,
    /// Test plaster, textured coats and vermiculite for asbestos.
    Asbestos,
    /// Thin or loose board bows.
    Bowing,
    /// Combustion appliances: test the draught after tightening.
    Draught,
}

/// The year from which paint with lead was no longer sold to households in the United States.
const LEAD_YEAR: i32 = 1978;

impl Caution {
    /// The section it rests on, or that it is common practice.
    pub fn source(self) -> Text {
        match self {
            Self::LocalCode | Self::Ignition | Self::Heat | Self::Services => {
                Origin::CommonPractice.words()
            }
            Self::Protection => {
                text("29 CFR 1910.134 (to be checked)", "29 CFR 1910.134 (por verificar)")
            }
            Self::KeepOut => text(
                "EPA, vacate and safe re-entry time",
                "EPA, desalojo y tiempo seguro para volver a entrar",
            ),
            Self::ThermalBarrier => {
                text("IRC R316.4 (to be checked)", "IRC R316.4 (por verificar)")
            }
            Self::KnobAndTube => alike("NEC 394.12(5)"),
            Self::BundledCables => alike("NEC 334.80"),
            Self::Flue => alike("IRC R1003.18"),
            Self::Lead => alike("40 CFR 745.83"),
            Self::Asbestos => text(
                "EPA vermiculite guidance; common practice",
                "EPA, guía sobre vermiculita; práctica común",
            ),
            // unsure: "climatización" for weatherization, "relleno denso" for dense pack.
            Self::Bowing => text(
                "State of Utah weatherization field guide, dense pack",
                "Estado de Utah, guía de campo de climatización, relleno denso",
            ),
            Self::Draught => text("ANSI/BPI-1200 (to be checked)", "ANSI/BPI-1200 (por verificar)"),
        }
    }
}

/// The cautions of a wall, and the findings that go with them.
pub fn cautions(
    job: &Job,
    wall: &Wall,
    frame: &Frame,
    compartments: &[Compartment],
) -> Staged<Vec<Caution>> {
    let mut cautions = vec![
        Caution::LocalCode,
        Caution::Protection,
        Caution::KeepOut,
        Caution::Ignition,
        Caution::Services,
        Caution::ThermalBarrier,
        Caution::Heat,
        Caution::Draught,
    ];
    let mut problems = Vec::new();
    let old = job.year_built.is_none_or(|year| year < LEAD_YEAR);
    if old {
        cautions.push(Caution::Lead);
        problems.push(Problem::MaybeLead { year: job.year_built });
    }
    if old || matches!(wall.finish.material, Material::Plaster | Material::Stucco) {
        cautions.push(Caution::Asbestos);
    }
    let knob_and_tube = wall.bays.iter().any(|bay| bay.skip == Some(SkipReason::KnobAndTube));
    if old || knob_and_tube {
        cautions.push(Caution::KnobAndTube);
    }
    if 2 < n_things(frame, ThingKind::Cable) {
        cautions.push(Caution::BundledCables);
    }
    if 0 < n_things(frame, ThingKind::Flue) {
        cautions.push(Caution::Flue);
    }
    if let Some(problem) = thin_finish(frame, compartments) {
        cautions.push(Caution::Bowing);
        problems.push(problem);
    }
    if wall.construction == Construction::BalloonFrame {
        problems.push(Problem::OpenBays);
    }
    crate::order::sort_by(&mut cautions, Ord::cmp);
    let findings =
        problems.into_iter().map(|problem| Finding::new(Place::default(), problem)).collect();
    Staged { product: cautions, findings }
}

fn n_things(frame: &Frame, kind: ThingKind) -> usize {
    frame.obstacles.iter().filter(|obstacle| obstacle.what == Avoided::Thing(kind)).count()
}

/// Board carries the filling from 1/2 in at 16 in and from 5/8 in at 24 in on centre.
fn thin_finish(frame: &Frame, compartments: &[Compartment]) -> Option<Problem> {
    if frame.material != Material::Board {
        return None;
    }
    let filled = compartments.iter().filter(|compartment| compartment.state == State::Fillable);
    let bay = filled.map(|compartment| compartment.clear_width).reduce(crate::quantity::longer)?;
    let least = if bay <= NARROW_BAY { inches(0.5) } else { inches(0.625) };
    let thin = frame.finish + SAME < least;
    thin.then_some(Problem::ThinFinish {
        material: frame.material,
        thickness: frame.finish,
        least,
        bay,
    })
}

/// A clear bay of studs at 16 in on centre, with room for older, thinner studs.
const NARROW_BAY: Length = inches(15.5);
