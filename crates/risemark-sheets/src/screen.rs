//! The elevation as it is looked at and edited on a screen.

use std::collections::BTreeSet;

use risemark::{
    geometry::Point,
    plan::WallPlan,
    quantity::{Units, millimeters, to_mm},
    tape::reading,
};

use crate::{
    drawing::{Drawing, Unit},
    elevation::{Crowding, Elevation, Layer, Manner, Subject, lay_out, sides, whole},
    svg::svg,
};

/// How a wall is shown on a screen. All sizes are CSS pixels.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// The room there is.
    pub fit: Fit,
    /// Mark of the hole that is selected: it is filled and its readings are bold.
    pub selected: Option<usize>,
    /// What is drawn beside the outline.
    pub layers: BTreeSet<Layer>,
    /// Size of the type.
    pub text: f64,
    /// The least room between two texts.
    pub gap: f64,
}

/// The room a picture has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fit {
    /// As wide as this; as high as the wall then needs.
    Width(f64),
    /// The largest that is no wider and no higher than this.
    Inside {
        /// Width of the room.
        width: f64,
        /// Height of the room.
        height: f64,
    },
}

/// A picture for the screen, and where the wall lies in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// The drawing: one `<svg>` element whose user unit is a CSS pixel.
    ///
    /// Every part has a class; holes carry `data-mark`, compartments `data-compartment`, and the
    /// marks of findings `data-finding`, which counts from 0 in the plan's list.
    pub svg: String,
    /// Width in pixels.
    pub width: f64,
    /// Height in pixels.
    pub height: f64,
    /// Pixels a millimetre of wall.
    pub scale: f64,
    /// Where the wall's origin, its left end at the finished floor, lies in the picture.
    pub origin: (f64, f64),
}

impl View {
    /// Everything shown, in a room of some width.
    pub fn wide(width: f64) -> Self {
        Self {
            fit: Fit::Width(width),
            selected: None,
            layers: Layer::ALL.into(),
            text: 13.0,
            gap: 6.0,
        }
    }
}

impl Picture {
    /// Where a place on the wall lies in the picture, right and down.
    pub fn at(&self, place: Point) -> (f64, f64) {
        (self.origin.0 + to_mm(place.x) * self.scale, self.origin.1 - to_mm(place.y) * self.scale)
    }

    /// The place on the wall that lies at a point of the picture.
    pub fn place(&self, (right, down): (f64, f64)) -> Point {
        let length = |pixels: f64| millimeters(pixels / self.scale);
        Point::new(length(right - self.origin.0), length(self.origin.1 - down))
    }
}

/// Draws one wall for the screen.
pub fn screen(plan: &WallPlan, units: Units, view: &View) -> Picture {
    let manner = manner(view);
    let subject =
        Subject { plan, units, window: whole(plan), selected: view.selected, layers: &view.layers };
    let elevation = fitted(subject, view, manner);
    let area = elevation.area.widened(EDGE);
    let (width, height) = match view.fit {
        Fit::Width(width) => (width, area.height()),
        Fit::Inside { width, height } => (width, height),
    };
    // What is left of the room lies evenly on both sides.
    let (right, down) =
        ((width - area.width()) / 2.0 - area.left, (height - area.height()) / 2.0 - area.top);
    let Elevation { mut items, scale, .. } = elevation;
    items.iter_mut().for_each(|item| item.shift(right, down));
    let (title, about) = (name(plan), about(plan, units));
    let drawing = Drawing { unit: Unit::Pixel, width, height, margin: 0.0, title, about, items };
    let origin = scale.origin.moved(right, down);
    Picture { svg: svg(&drawing), width, height, scale: scale.per_mm, origin: (origin.x, origin.y) }
}

/// What the wall is called.
pub(crate) fn name(plan: &WallPlan) -> String {
    if plan.wall.name.is_empty() {
        format!("wall {}", plan.wall.number)
    } else {
        plan.wall.name.clone()
    }
}

/// What the elevation shows, in one sentence.
pub(crate) fn about(plan: &WallPlan, units: Units) -> String {
    let (n_holes, n_lines) = (plan.drill.holes.len(), plan.drill.snap_lines.len());
    format!("Elevation, {}: {n_holes} holes on {n_lines} snap lines.", about_size(plan, units))
}

/// Width and height of the wall.
pub(crate) fn about_size(plan: &WallPlan, units: Units) -> String {
    let (width, height) = (plan.frame.width, plan.frame.face.bounds().y.length());
    format!("{} × {}", reading(width, units), reading(height, units))
}

/// Room for the width of lines at the edge of the picture.
const EDGE: f64 = 2.0;

fn manner(view: &View) -> Manner {
    Manner {
        unit: Unit::Pixel,
        text: view.text,
        number: view.text,
        gap: view.gap,
        ring: view.text * 0.27,
        hatch: view.text * 0.42,
        division: 3.0,
        rows: 3,
        crowding: Crowding::Thin,
    }
}

/// The elevation at the largest scale at which it fits the room.
fn fitted(subject: Subject<'_>, view: &View, manner: Manner) -> Elevation {
    let (Fit::Width(width) | Fit::Inside { width, .. }) = view.fit;
    let sides = sides(&subject, &manner);
    let room = width - 2.0 * EDGE - sides.left - sides.right;
    let wall =
        (to_mm(subject.window.x.length()).max(1.0), to_mm(subject.window.y.length()).max(1.0));
    // Never so small that nothing is left of the wall.
    let by_width = room.max(MIN_WALL) / wall.0;
    let elevation = lay_out(subject, by_width, manner);
    let Fit::Inside { height, .. } = view.fit else { return elevation };
    let spare = height - 2.0 * EDGE - elevation.area.height();
    if 0.0 <= spare {
        return elevation;
    }
    // The rows under the tape change little with the scale; what they take now they take at most.
    let by_height = (wall.1 * by_width + spare).max(MIN_WALL) / wall.1;
    lay_out(subject, by_height.min(by_width), manner)
}

/// A wall is drawn at least this wide and high.
const MIN_WALL: f64 = 8.0;
