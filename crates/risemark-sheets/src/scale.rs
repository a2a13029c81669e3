//! The one bridge from the wall to the drawing.

use risemark::{
    geometry::Point,
    quantity::{Length, to_mm},
};

use crate::drawing::At;

/// Wall space to drawing space. Up on the wall is up in the drawing, where distances run down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Scale {
    /// Units of the drawing a millimetre of wall.
    pub(crate) per_mm: f64,
    /// Where the wall's origin lies in the drawing.
    pub(crate) origin: At,
}

impl Scale {
    pub(crate) fn size(&self, length: Length) -> f64 {
        to_mm(length) * self.per_mm
    }

    pub(crate) fn x(&self, across: Length) -> f64 {
        self.origin.x + self.size(across)
    }

    pub(crate) fn y(&self, up: Length) -> f64 {
        self.origin.y - self.size(up)
    }

    pub(crate) fn at(&self, place: Point) -> At {
        At::new(self.x(place.x), self.y(place.y))
    }
}
