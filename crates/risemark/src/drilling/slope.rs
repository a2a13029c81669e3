//! The geometry of a hole that drops into the wall.

use crate::quantity::{Angle, Length, shorter};

/// What a bit does that enters at an angle below level.
///
/// All distances follow from the bit's diameter, the finish's thickness and the cavity's depth,
/// measured square to the wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slope {
    /// Angle below level.
    pub angle: Angle,
    /// Drop in twelve of run.
    pub in_twelve: f64,
    /// Width of the ellipse on the finish: the bit's diameter.
    pub ellipse_width: Length,
    /// Height of the ellipse on the finish.
    pub ellipse_height: Length,
    /// How far the axis has dropped at the back of the finish.
    pub drop_behind_finish: Length,
    /// How far the axis has dropped where it meets the far face of the cavity.
    pub drop_at_far_face: Length,
    /// Length along the axis to the far face.
    pub length_to_far_face: Length,
    /// Travel of the bit along the axis with the drill stop set.
    pub travel: Length,
}

/// The slope of a hole through a finish into a cavity.
///
/// The drill stop lets the tip reach at most `tip` behind the finish, and never the far face.
pub fn slope(angle: Angle, bit: Length, (finish, depth): (Length, Length), tip: Length) -> Slope {
    let (tangent, cosine) = (libm::tan(angle.value), libm::cos(angle.value));
    Slope {
        angle,
        in_twelve: 12.0 * tangent,
        ellipse_width: bit,
        ellipse_height: bit / cosine,
        drop_behind_finish: finish * tangent,
        drop_at_far_face: (finish + depth) * tangent,
        length_to_far_face: (finish + depth) / cosine,
        travel: (finish + shorter(tip, depth)) / cosine,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{degrees, inches, to_inches};

    /// Values of the sloped-cylinder table, computed apart from this code and re-checked there by
    /// cutting a meshed cylinder with the two faces.
    fn check(finish: f64, depth: f64, angle: f64, expected: [f64; 4]) {
        let found =
            slope(degrees(angle), inches(1.0), (inches(finish), inches(depth)), inches(1.25));
        let figures = [
            found.drop_behind_finish,
            found.drop_at_far_face,
            found.length_to_far_face,
            found.travel,
        ];
        for (figure, expected) in figures.into_iter().zip(expected) {
            let figure = to_inches(figure);
            assert!(
                (figure - expected).abs() < 1e-4,
                "{finish} {depth} {angle}: {figure} is not {expected}"
            );
        }
    }

    #[test]
    fn sloped_holes_match_the_table() {
        check(0.5, 3.5, 20.0, [0.1820, 1.4559, 4.2567, 1.8623]);
        check(0.5, 3.5, 25.0, [0.2332, 1.8652, 4.4135, 1.9309]);
        check(0.5, 3.5, 30.0, [0.2887, 2.3094, 4.6188, 2.0207]);
        check(0.5, 5.5, 25.0, [0.2332, 2.7978, 6.6203, 1.9309]);
        check(0.875, 3.625, 25.0, [0.4080, 2.0984, 4.9652, 2.3447]);
        check(3.625, 2.0, 25.0, [1.6904, 2.6230, 6.2065, 5.3790]);
    }

    #[test]
    fn a_sloped_hole_leaves_an_ellipse() {
        let found = slope(degrees(25.0), inches(1.0), (inches(0.5), inches(3.5)), inches(1.25));
        assert!((to_inches(found.ellipse_height) - 1.10338).abs() < 1e-5, "1 / cos 25 degrees");
        assert!((found.in_twelve - 5.5957).abs() < 1e-4, "12 tan 25 degrees");
    }
}
