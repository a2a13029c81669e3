//! The sheets that are taped beside a wall, to mark and drill from.

use risemark::{
    job::Job,
    language::{Language, Speech},
    plan::WallPlan,
    rules::Rules,
};

use crate::{drawing::Drawing, svg::svg};

mod block;
mod frame;
mod lists;
mod pages;
mod paper;
mod parts;
mod scales;
mod shots;
mod table;

pub use paper::{Orientation, Paper};
pub use shots::{HoleShot, OfNoWall, SecondsBy, WallShots};

/// What the sheets are printed on, and in which language.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetOptions {
    /// Size of the paper.
    pub paper: Paper,
    /// How the paper lies.
    pub orientation: Orientation,
    /// Why the work goes on in spite of what stops it, where the user said so; it is printed.
    pub acknowledged: Option<String>,
    /// The language of everything in words but what the user wrote.
    pub language: Language,
    /// What is shot through the holes of the wall; the sheets tell it where there is any.
    pub shots: WallShots,
}

/// One sheet, ready to be printed at 100 %.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Its number in the set of its wall, from 1.
    pub number: usize,
    /// How many sheets the wall has.
    pub of: usize,
    /// Width of the paper.
    pub width_mm: f64,
    /// Height of the paper.
    pub height_mm: f64,
    /// The drawing: an `<svg>` element sized in millimetres.
    pub svg: String,
}

/// What all parts of a set of sheets draw from.
#[derive(Debug, Clone, Copy)]
struct Wanted<'a> {
    job: &'a Job,
    plan: &'a WallPlan,
    rules: &'a Rules,
    acknowledged: Option<&'a str>,
    language: Language,
    shots: &'a WallShots,
}

impl Wanted<'_> {
    fn speech(&self) -> Speech {
        Speech { units: self.rules.units, language: self.language }
    }
}

/// Draws the sheets of one wall.
///
/// Guarantees: the elevation is to a standard scale; no text is lower than 3.5 mm; nothing lies in
/// the outer 12.7 mm of the paper; the same plan gives the same bytes.
pub fn sheets(job: &Job, plan: &WallPlan, rules: &Rules, options: &SheetOptions) -> Vec<Sheet> {
    let drawings = drawings(job, plan, rules, options);
    let of = drawings.len();
    let numbered = drawings.iter().enumerate();
    let sheets = numbered.map(|(idx, drawing)| Sheet {
        number: idx + 1,
        of,
        width_mm: drawing.width,
        height_mm: drawing.height,
        svg: svg(drawing),
    });
    sheets.collect()
}

/// The sheets of one wall as drawings, before they are written.
pub fn drawings(job: &Job, plan: &WallPlan, rules: &Rules, options: &SheetOptions) -> Vec<Drawing> {
    let SheetOptions { acknowledged, language, shots, .. } = options;
    let (acknowledged, language) = (acknowledged.as_deref(), *language);
    let wanted = Wanted { job, plan, rules, acknowledged, language, shots };
    pages::best(&wanted, &options.paper.sizes(options.orientation))
}

#[cfg(test)]
mod tests;
