//! The scales that drawings of walls are made to.

use risemark::{language::Text, quantity::Units};

use crate::words;

/// A standard scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Standard {
    /// Millimetres of wall a millimetre of paper.
    pub(super) ratio: f64,
    /// The scale in words, as it stands on the sheet.
    pub(super) words: Text,
}

/// Scales of building drawings at which sheets can be read at the wall, large to small.
///
/// Smaller ones leave no room for numbers of 5 mm between studs at 16 in on centre.
pub(super) fn standard(units: Units) -> [Standard; 4] {
    let [a, b, c, d] = words::scales(units);
    let list = match units {
        Units::Metric => [(10.0, a), (20.0, b), (25.0, c), (30.0, d)],
        Units::FeetInches => [(12.0, a), (16.0, b), (24.0, c), (32.0, d)],
    };
    list.map(|(ratio, words)| Standard { ratio, words })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inches_a_foot_are_ratios() {
        // 12 in of wall over the inches of paper that the words name.
        let paper = [1.0, 0.75, 0.5, 0.375];
        for (scale, inches) in standard(Units::FeetInches).iter().zip(paper) {
            assert!((scale.ratio - 12.0 / inches).abs() < 1e-9, "{:?}", scale.words);
        }
    }
}
