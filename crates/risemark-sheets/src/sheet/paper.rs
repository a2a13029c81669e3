//! Sizes of paper, and what of it is used.

use crate::drawing::Area;

/// What stays clear along each edge, in millimetres: some printers reach no further at the foot.
pub(crate) const MARGIN: f64 = 12.7;

/// A size of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paper {
    /// 8.5 by 11 in.
    Letter,
    /// 8.5 by 14 in.
    Legal,
    /// 11 by 17 in.
    Tabloid,
    /// 210 by 297 mm.
    A4,
    /// 297 by 420 mm.
    A3,
}

/// How the paper lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Orientation {
    /// Whichever takes fewer sheets, then whichever allows the larger scale.
    Auto,
    /// Upright.
    Portrait,
    /// Lying.
    Landscape,
}

/// Width and height of a sheet in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Size {
    pub(super) width: f64,
    pub(super) height: f64,
}

impl Paper {
    /// Every size.
    pub const ALL: [Self; 5] = [Self::Letter, Self::Legal, Self::Tabloid, Self::A4, Self::A3];

    /// The sizes to try for an orientation, the preferred first.
    pub(super) fn sizes(self, orientation: Orientation) -> Vec<Size> {
        let (width, height) = self.upright_mm();
        let (portrait, landscape) = (Size { width, height }, Size { width: height, height: width });
        match orientation {
            Orientation::Auto => vec![landscape, portrait],
            Orientation::Portrait => vec![portrait],
            Orientation::Landscape => vec![landscape],
        }
    }

    /// Width and height in millimetres when it stands upright.
    pub fn upright_mm(self) -> (f64, f64) {
        match self {
            Self::Letter => (215.9, 279.4),
            Self::Legal => (215.9, 355.6),
            Self::Tabloid => (279.4, 431.8),
            Self::A4 => (210.0, 297.0),
            Self::A3 => (297.0, 420.0),
        }
    }
}

impl Size {
    /// The paper without its margins.
    pub(super) fn clear(self) -> Area {
        Area::new(0.0, 0.0, self.width, self.height).widened(-MARGIN)
    }
}
