//! How lengths and points stand in files: numbers of millimetres, rounded to a ten-thousandth.
//!
//! Hundreds of fields are written and read by these; a copy in each (hence `inline(never)`) would be a
//! good part of what a phone loads.

/// A length as a number of millimetres.
pub mod mm {
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    use crate::quantity::{Length, millimeters, round_to, to_mm};

    /// Writes a length.
    ///
    /// # Errors
    /// Those of the serializer.
    #[inline(never)]
    pub fn serialize<S: Serializer>(length: &Length, serializer: S) -> Result<S::Ok, S::Error> {
        number(*length).serialize(serializer)
    }

    /// Reads a length.
    ///
    /// # Errors
    /// When there is no number.
    #[inline(never)]
    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Length, D::Error> {
        f64::deserialize(deserializer).map(length)
    }

    /// Rounded as it is written, so that what is read comes back the same from its own file.
    pub(crate) fn length(number: f64) -> Length {
        millimeters(round_to(number, 1e4))
    }

    /// A whole number of millimetres is written without a point.
    pub(crate) fn number(length: Length) -> serde_json::Number {
        super::number(to_mm(length))
    }

    /// A length that may be left out.
    pub mod optional {
        use super::{Deserialize, Deserializer, Length, Serialize, Serializer, length, number};

        /// Writes a length.
        ///
        /// # Errors
        /// Those of the serializer.
        #[inline(never)]
        pub fn serialize<S: Serializer>(
            length: &Option<Length>,
            serializer: S,
        ) -> Result<S::Ok, S::Error> {
            length.map(number).serialize(serializer)
        }

        /// Reads a length.
        ///
        /// # Errors
        /// When there is no number.
        #[inline(never)]
        pub fn deserialize<'de, D: Deserializer<'de>>(
            deserializer: D,
        ) -> Result<Option<Length>, D::Error> {
            Ok(Option::<f64>::deserialize(deserializer)?.map(length))
        }
    }

    /// Several lengths.
    pub mod list {
        use super::{Deserialize, Deserializer, Length, Serialize, Serializer, length, number};

        /// Writes lengths.
        ///
        /// # Errors
        /// Those of the serializer.
        #[inline(never)]
        pub fn serialize<S: Serializer>(
            lengths: &[Length],
            serializer: S,
        ) -> Result<S::Ok, S::Error> {
            lengths.iter().copied().map(number).collect::<Vec<_>>().serialize(serializer)
        }

        /// Reads lengths.
        ///
        /// # Errors
        /// When there is no list of numbers.
        #[inline(never)]
        pub fn deserialize<'de, D: Deserializer<'de>>(
            deserializer: D,
        ) -> Result<Vec<Length>, D::Error> {
            Ok(Vec::<f64>::deserialize(deserializer)?.into_iter().map(length).collect())
        }
    }
}

/// Points as `[across, up]` in millimetres.
pub mod points {
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    use super::mm::{length, number};
    use crate::geometry::Point;

    /// Writes points.
    ///
    /// # Errors
    /// Those of the serializer.
    #[inline(never)]
    pub fn serialize<S: Serializer>(points: &[Point], serializer: S) -> Result<S::Ok, S::Error> {
        points.iter().map(pair).collect::<Vec<_>>().serialize(serializer)
    }

    /// Reads points.
    ///
    /// # Errors
    /// When there is no list of pairs of numbers.
    #[inline(never)]
    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Vec<Point>, D::Error> {
        Ok(Vec::<[f64; 2]>::deserialize(deserializer)?.into_iter().map(point).collect())
    }

    pub(crate) fn pair(point: &Point) -> [serde_json::Number; 2] {
        [number(point.x), number(point.y)]
    }

    fn point([x, y]: [f64; 2]) -> Point {
        Point::new(length(x), length(y))
    }

    /// One point.
    pub mod one {
        use super::{Deserialize, Deserializer, Point, Serialize, Serializer, pair, point};

        /// Writes a point.
        ///
        /// # Errors
        /// Those of the serializer.
        #[inline(never)]
        pub fn serialize<S: Serializer>(place: &Point, serializer: S) -> Result<S::Ok, S::Error> {
            pair(place).serialize(serializer)
        }

        /// Reads a point.
        ///
        /// # Errors
        /// When there is no pair of numbers.
        #[inline(never)]
        pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Point, D::Error> {
            <[f64; 2]>::deserialize(deserializer).map(point)
        }
    }
}

/// A figure as JSON: whole numbers without a point, so that files read as people would write them.
pub(crate) fn number(value: f64) -> serde_json::Number {
    let whole = crate::quantity::to_whole(value);
    let is_whole = (crate::quantity::from_whole(whole) - value).abs() < f64::EPSILON;
    if is_whole {
        return whole.into();
    }
    serde_json::Number::from_f64(value).unwrap_or_else(|| 0.into())
}
