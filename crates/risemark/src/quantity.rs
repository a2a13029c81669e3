//! Quantities with their units, and the notation of a tape measure.
//!
//! Inside the domain every figure that has a unit is a `uom` quantity.
//! The names of units appear here, in [`crate::file`], and where paper or pixels begin.

use std::marker::PhantomData;

pub use uom::si::f64::{Angle, Area, Length, ThermodynamicTemperature, Time, Volume, VolumeRate};
use uom::si::{
    angle::degree,
    area::square_millimeter,
    length::millimeter,
    thermodynamic_temperature::{degree_celsius, kelvin},
    time::second,
    volume::cubic_millimeter,
    volume_rate::cubic_meter_per_second,
};

/// Millimetres in an inch, by definition.
pub const MM_PER_INCH: f64 = 25.4;

/// Cubic millimetres in a board foot.
const MM3_PER_BOARD_FOOT: f64 = 144.0 * MM_PER_INCH * MM_PER_INCH * MM_PER_INCH;

/// Two lengths closer than this are the same length.
pub const SAME: Length = millimeters(0.01);

/// How lengths are typed and shown in a job.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    Default,
    serde::Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Units {
    /// Feet, inches and fractions of an inch: `7' 10 1/2"`.
    #[default]
    FeetInches,
    /// Whole and tenth millimetres: `2400 mm`.
    Metric,
}

/// What was wrong with a length somebody typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotALength {
    /// The text as it was typed.
    pub found: String,
    /// The units of the job, in which a bare number would be read.
    pub units: Units,
}

/// A length given in millimetres.
pub const fn millimeters(value: f64) -> Length {
    Length { dimension: PhantomData, units: PhantomData, value: value / 1000.0 }
}

/// A length given in inches.
pub const fn inches(value: f64) -> Length {
    millimeters(value * MM_PER_INCH)
}

/// An angle given in degrees.
pub fn degrees(value: f64) -> Angle {
    Angle::new::<degree>(value)
}

/// A time given in seconds.
pub fn seconds(value: f64) -> Time {
    Time::new::<second>(value)
}

/// A volume given in board feet: one is a square foot an inch thick, 144 cubic inches.
pub fn board_feet(value: f64) -> Volume {
    Volume::new::<cubic_millimeter>(value * MM3_PER_BOARD_FOOT)
}

/// A flow given in cubic inches a second.
pub fn cubic_inches_per_second(value: f64) -> VolumeRate {
    board_feet(value / 144.0) / seconds(1.0)
}

/// A temperature given in degrees Celsius.
pub fn celsius(value: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(value)
}

/// How many times as hot one temperature is as another, both counted from absolute zero.
pub fn times_as_hot(temperature: ThermodynamicTemperature, other: ThermodynamicTemperature) -> f64 {
    temperature.get::<kelvin>() / other.get::<kelvin>()
}

/// A temperature as a number of degrees Celsius, rounded to a tenth.
pub fn to_celsius(temperature: ThermodynamicTemperature) -> f64 {
    round_to(temperature.get::<degree_celsius>(), 10.0)
}

/// A time as a number of seconds, rounded to a thousandth.
pub fn to_seconds(time: Time) -> f64 {
    round_to(time.get::<second>(), 1e3)
}

/// A flow as a number of cubic millimetres a second, rounded to a millionth.
pub fn to_mm3_per_second(flow: VolumeRate) -> f64 {
    round_to(flow.get::<cubic_meter_per_second>() * 1e9, 1e6)
}

/// A flow in cubic inches a second.
pub fn to_cubic_inches_per_second(flow: VolumeRate) -> f64 {
    flow.get::<cubic_meter_per_second>() * 1e9 / (MM_PER_INCH * MM_PER_INCH * MM_PER_INCH)
}

/// A volume in cubic inches.
pub fn to_cubic_inches(volume: Volume) -> f64 {
    to_liters(volume) * 1e6 / (MM_PER_INCH * MM_PER_INCH * MM_PER_INCH)
}

/// A flow in litres a second.
pub fn to_liters_per_second(flow: VolumeRate) -> f64 {
    flow.get::<cubic_meter_per_second>() * 1e3
}

/// A length as a number of millimetres, rounded to a ten-thousandth, as files and drawings carry it.
pub fn to_mm(length: Length) -> f64 {
    round_to(length.get::<millimeter>(), 1e4)
}

/// A length as a number of inches, rounded to a millionth.
pub fn to_inches(length: Length) -> f64 {
    round_to(length.get::<millimeter>() / MM_PER_INCH, 1e6)
}

/// An area as a number of square millimetres, rounded to a hundredth.
pub fn to_mm2(area: Area) -> f64 {
    round_to(area.get::<square_millimeter>(), 1e2)
}

/// A volume as a whole number of cubic millimetres.
pub fn to_mm3(volume: Volume) -> f64 {
    round_to(volume.get::<cubic_millimeter>(), 1.0)
}

/// An angle as a number of degrees, rounded to a ten-thousandth.
pub fn to_degrees(angle: Angle) -> f64 {
    round_to(angle.get::<degree>(), 1e4)
}

/// A volume in board feet: one is a square foot an inch thick, 144 cubic inches.
pub fn to_board_feet(volume: Volume) -> f64 {
    volume.get::<cubic_millimeter>() / MM3_PER_BOARD_FOOT
}

/// A volume in cubic feet: one is twelve board feet.
pub fn to_cubic_feet(volume: Volume) -> f64 {
    to_board_feet(volume) / 12.0
}

/// A volume in litres.
pub fn to_liters(volume: Volume) -> f64 {
    volume.get::<cubic_millimeter>() / 1e6
}

/// Whether two lengths count as equal.
pub fn same(a: Length, b: Length) -> bool {
    (a - b).abs() < SAME
}

/// The smaller of two lengths.
pub fn shorter(a: Length, b: Length) -> Length {
    if a < b { a } else { b }
}

/// The larger of two lengths.
pub fn longer(a: Length, b: Length) -> Length {
    if a < b { b } else { a }
}

/// The number of whole steps nearest to a length; halves go away from zero.
pub fn steps(length: Length, step: Length) -> i64 {
    to_whole((length / step).value.round())
}

/// The length of a number of steps.
pub fn at_step(index: i64, step: Length) -> Length {
    step * from_whole(index)
}

/// A float that already holds a whole number, as an integer.
#[expect(
    clippy::cast_possible_truncation,
    reason = "walls are at most 100 m: far below 2^53 steps"
)]
pub fn to_whole(value: f64) -> i64 {
    value as i64
}

/// Puts lengths in order, the shortest first.
pub fn sort(lengths: &mut [Length]) {
    lengths.sort_by(|a, b| a.value.total_cmp(&b.value));
}

/// An integer of modest size as a float.
#[expect(clippy::cast_precision_loss, reason = "step counts stay far below 2^53")]
pub fn from_whole(value: i64) -> f64 {
    value as f64
}

/// A count among numbers that may be negative.
pub(crate) fn whole(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

/// A count as a float.
#[expect(clippy::cast_precision_loss, reason = "counts of things in a job stay far below 2^53")]
pub fn count(value: usize) -> f64 {
    value as f64
}

/// A figure rounded to a share of its unit; never a negative zero.
pub fn round_to(value: f64, per_unit: f64) -> f64 {
    let rounded = (value * per_unit).round() / per_unit;
    // A negative zero would be written with its sign.
    if rounded == 0.0 { 0.0 } else { rounded }
}
