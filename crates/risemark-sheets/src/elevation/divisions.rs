//! The divisions of rulers, which thin out as the scale gets smaller.

use risemark::{
    geometry::Span,
    quantity::{Length, Units, at_step, inches, millimeters, steps},
};

use crate::text::{self, Face};

/// One division of a ruler.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Division {
    /// Its reading.
    pub(super) at: Length,
    /// Length of its line, as a share of the longest.
    pub(super) share: f64,
}

/// A figure on a ruler.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Figure {
    /// Its reading.
    pub(super) at: Length,
    pub(super) text: String,
}

/// Steps of the divisions from coarse to fine, each a whole part of the one before, with the length
/// of their lines.
fn ladder(units: Units) -> [(Length, f64); 7] {
    match units {
        Units::FeetInches => [
            (inches(12.0), 1.0),
            (inches(6.0), 0.75),
            (inches(3.0), 0.55),
            (inches(1.0), 0.4),
            (inches(0.5), 0.3),
            (inches(0.25), 0.22),
            (inches(0.125), 0.16),
        ],
        Units::Metric => [
            (millimeters(1000.0), 1.0),
            (millimeters(500.0), 0.8),
            (millimeters(100.0), 0.6),
            (millimeters(50.0), 0.45),
            (millimeters(10.0), 0.32),
            (millimeters(5.0), 0.24),
            (millimeters(1.0), 0.16),
        ],
    }
}

/// Steps of the figures from fine to coarse.
fn figure_steps(units: Units) -> [Length; 9] {
    match units {
        Units::FeetInches => [1.0, 3.0, 6.0, 12.0, 24.0, 60.0, 120.0, 240.0, 600.0].map(inches),
        Units::Metric => {
            [10.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0].map(millimeters)
        }
    }
}

/// The divisions of a stretch, none closer than a pitch in the drawing.
pub(super) fn divisions(span: Span, units: Units, (per_mm, pitch): (f64, f64)) -> Vec<Division> {
    let size = |length: Length| risemark::quantity::to_mm(length) * per_mm;
    let ladder: Vec<(Length, f64)> = ladder(units)
        .into_iter()
        .enumerate()
        .filter(|(idx, (step, _))| *idx == 0 || pitch <= size(*step))
        .map(|(_, rung)| rung)
        .collect();
    let Some((finest, _)) = ladder.last().copied() else { return Vec::new() };
    let readings = along(span, finest);
    let divided = readings.map(|at| {
        let whole = |step: Length| risemark::quantity::same(at_step(steps(at, step), step), at);
        let share = ladder.iter().find(|(step, _)| whole(*step)).map_or(0.0, |(_, share)| *share);
        Division { at, share }
    });
    divided.collect()
}

/// The figures of a stretch, as close as they can be read at a size of type.
pub(super) fn figures(span: Span, units: Units, (per_mm, type_size): (f64, f64)) -> Vec<Figure> {
    let room = |step: Length| risemark::quantity::to_mm(step) * per_mm;
    let widest = along(span, figure_steps(units)[8]).last().unwrap_or(span.to);
    let widest = [figure(span.to, units), figure(widest, units), "10\"".to_owned()];
    let need =
        widest.iter().map(|text| text::width(text, type_size, Face::Regular)).fold(0.0, f64::max);
    let need = need + text::height(type_size) * 0.9;
    let Some(step) = figure_steps(units).into_iter().find(|step| need <= room(*step)) else {
        return Vec::new();
    };
    let readings = along(span, step).filter(|at| !risemark::quantity::same(*at, millimeters(0.0)));
    readings.map(|at| Figure { at, text: figure(at, units) }).collect()
}

/// The multiples of a step in a stretch.
fn along(span: Span, step: Length) -> impl DoubleEndedIterator<Item = Length> {
    let (first, last) = (steps(span.from, step) - 1, steps(span.to, step) + 1);
    let within = span.widened(risemark::quantity::SAME);
    (first..=last).map(move |idx| at_step(idx, step)).filter(move |at| within.contains(*at))
}

/// A figure as tapes carry it: feet, or the inches of a begun foot; millimetres.
fn figure(at: Length, units: Units) -> String {
    match units {
        Units::Metric => steps(at, millimeters(1.0)).to_string(),
        Units::FeetInches => {
            let whole = steps(at, inches(1.0));
            if whole % 12 == 0 {
                format!("{}'", whole / 12)
            } else {
                format!("{}\"", whole.rem_euclid(12))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn span(to: f64) -> Span {
        Span::new(inches(0.0), inches(to))
    }

    #[test]
    fn divisions_thin_out_with_the_scale() {
        let n = |per_mm| divisions(span(24.0), Units::FeetInches, (per_mm, 1.0)).len();
        // Two feet in eighths, in inches, in quarters of a foot, in feet.
        assert_eq!(
            [n(1.0), n(0.04), n(0.02), n(0.001)],
            [193, 25, 9, 3],
            "eighths, inches, threes, feet"
        );
    }

    #[test]
    fn feet_have_the_longest_lines() {
        let all = divisions(span(24.0), Units::FeetInches, (0.04, 1.0));
        let longest: Vec<usize> = (0..all.len()).filter(|idx| 0.99 < all[*idx].share).collect();
        assert_eq!(longest, [0, 12, 24], "at each foot");
    }

    #[test]
    fn figures_keep_apart() {
        let texts = |per_mm| -> Vec<String> {
            figures(span(48.0), Units::FeetInches, (per_mm, 4.8))
                .into_iter()
                .map(|figure| figure.text)
                .collect()
        };
        assert_eq!(texts(0.042), ["1'", "2'", "3'", "4'"], "feet at 1:24");
        assert_eq!(texts(0.02), ["2'", "4'"], "every other foot");
        assert_eq!(texts(0.5).len(), 48, "every inch");
    }
}
