//! The elevation as it is looked at and edited on a screen.

use std::collections::BTreeSet;

use risemark::{
    geometry::Point,
    plan::WallPlan,
    quantity::{Units, millimeters, to_mm},
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

/// A part of the drawing that can be left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// Members, things and zones.
    Framing,
    /// Compartments, plain and empty.
    Compartments,
    /// Holes and their numbers.
    Holes,
    /// Snap lines.
    Lines,
    /// The tape, the story pole and their readings.
    Rulers,
    /// Marks where a finding belongs.
    Findings,
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
        Self { fit: Fit::Width(width), selected: None, layers: Layer::ALL.into(), text: 13.0, gap: 6.0 }
    }
}

impl Layer {
    /// Every layer.
    pub const ALL: [Self; 6] =
        [Self::Framing, Self::Compartments, Self::Holes, Self::Lines, Self::Rulers, Self::Findings];
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
    let _ = (plan, units);
    let (Fit::Width(width) | Fit::Inside { width, .. }) = view.fit;
    Picture { svg: String::new(), width, height: width, scale: 1.0, origin: (0.0, 0.0) }
}
