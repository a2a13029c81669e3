//! Lengths as a tape is read: typed by people and shown to them.

use uom::ConstZero;

use crate::quantity::{
    Length, MM_PER_INCH, NotALength, Units, from_whole, inches, millimeters, to_mm, to_whole,
};

/// Shown fractions are sixteenths of an inch, reduced.
const SIXTEENTHS: i64 = 16;

/// Reads a length as people write it: `7' 10-1/2"`, `94½`, `94.5 in.`, `2.4m`, `2 m 40`, `240 cm`, `2400`.
///
/// A bare number counts inches or millimetres, by the job's units. A decimal comma is a decimal point.
/// Units are read in every language: `8 pies 6 pulg` is `8 ft 6 in`.
///
/// # Errors
/// Text that is no length is returned with the units in which it was read.
pub fn parse(text: &str, units: Units) -> Result<Length, NotALength> {
    let refuse = || NotALength { found: text.chars().take(40).collect(), units };
    let plain = plain(text);
    let (negative, plain) = match plain.trim().strip_prefix(['-', '−']) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, plain.trim()),
    };
    let length = unsigned(plain, units).ok_or_else(refuse)?;
    Ok(if negative { -length } else { length })
}

/// A position as the tape or the story pole shows it: `7' 10 1/2"` or `2400 mm`.
pub fn reading(length: Length, units: Units) -> String {
    match units {
        Units::Metric => metric(length),
        Units::FeetInches => {
            let (mut text, sixteenths) = begun(length);
            let (feet, rest) = (sixteenths / (12 * SIXTEENTHS), sixteenths % (12 * SIXTEENTHS));
            if feet != 0 {
                push_whole(&mut text, feet);
                text.push_str("' ");
                // Without the nought, 23' 1/2" is soon taken for 23 1/2".
                if 0 < rest && rest < SIXTEENTHS {
                    text.push_str("0 ");
                }
            }
            push_inches(&mut text, rest);
            text
        }
    }
}

/// A size such as a bay's width or a distance between holes: `14 1/2"` or `368.3 mm`; feet only from 8 ft on.
pub fn size(length: Length, units: Units) -> String {
    if units == Units::FeetInches && length.abs() < inches(96.0) {
        let (mut text, sixteenths) = begun(length);
        push_inches(&mut text, sixteenths);
        return text;
    }
    reading(length, units)
}

/// The text in signs that every keyboard has; a point behind a letter only shortens a word.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for sign in text.chars() {
        match FRACTIONS.iter().find(|(fraction, _)| *fraction == sign) {
            Some((_, written)) => plain.push_str(written),
            None if sign == '.' && plain.ends_with(char::is_alphabetic) => {}
            None => plain.push(plain_sign(sign)),
        }
    }
    plain
}

/// Fractions that phones write as one sign.
const FRACTIONS: [(char, &str); 7] = [
    ('½', " 1/2"),
    ('¼', " 1/4"),
    ('¾', " 3/4"),
    ('⅛', " 1/8"),
    ('⅜', " 3/8"),
    ('⅝', " 5/8"),
    ('⅞', " 7/8"),
];

fn plain_sign(sign: char) -> char {
    match sign {
        '′' | '’' | '‘' => '\'',
        '″' | '”' | '“' => '"',
        '⁄' => '/',
        '\u{a0}' | '\u{202f}' | '\t' => ' ',
        ',' => '.',
        other => other.to_ascii_lowercase(),
    }
}

fn unsigned(text: &str, units: Units) -> Option<Length> {
    if let Some(length) = metres_and_centimetres(text) {
        return Some(length);
    }
    for (units, in_mm) in METRIC {
        if let Some(number) = units.iter().find_map(|unit| text.strip_suffix(unit)) {
            return Some(millimeters(decimal(number.trim_end())? * in_mm));
        }
    }
    if let Some((feet, rest)) = split_feet(text) {
        let feet = mixed(feet.trim_end())?;
        let rest = rest.trim_start().trim_start_matches('-');
        let rest = if rest.is_empty() { Length::ZERO } else { unsigned_inches(rest)? };
        // Twelve inches or more beside feet is a slip of the pen, not a length.
        return (rest < inches(12.0)).then(|| inches(feet * 12.0) + rest);
    }
    let bare = text.ends_with(|last: char| last.is_ascii_digit() || last == '.');
    if bare && units == Units::Metric {
        return decimal(text).map(millimeters);
    }
    unsigned_inches(text)
}

/// Metric units with what they are in millimetres, the longer words first.
const METRIC: [(&[&str], f64); 3] = [
    (&["millimeters", "millimetres", "milímetros", "milimetros", "mm"], 1.0),
    (&["centimeters", "centimetres", "centímetros", "centimetros", "centímetro", "cm"], 10.0),
    (&["meters", "metres", "meter", "metre", "metros", "metro", "m"], 1000.0),
];

/// Two metres forty, as it is said and written: `2 m 40`.
fn metres_and_centimetres(text: &str) -> Option<Length> {
    let (metres, rest) = text.split_once('m')?;
    let rest = rest.trim();
    let centimetres = digits(rest.strip_suffix("cm").map_or(rest, str::trim_end))?;
    let metres = from_whole(digits(metres.trim_end())?);
    (centimetres < 100).then(|| millimeters(metres * 1000.0 + from_whole(centimetres) * 10.0))
}

fn split_feet(text: &str) -> Option<(&str, &str)> {
    ["ft", "feet", "pies", "pie", "'"].iter().find_map(|unit| text.split_once(unit))
}

fn unsigned_inches(text: &str) -> Option<Length> {
    const UNITS: [&str; 8] = ["inches", "inch", "in", "pulgadas", "pulgada", "pulg", "\"", "''"];
    let bare = UNITS.iter().find_map(|unit| text.strip_suffix(unit));
    mixed(bare.unwrap_or(text).trim()).map(inches)
}

/// A decimal number, or a whole one with a fraction.
fn mixed(text: &str) -> Option<f64> {
    if let Some(number) = decimal(text) {
        return Some(number);
    }
    let (whole, fraction) = text.rsplit_once([' ', '-']).unwrap_or(("0", text));
    let (over, under) = fraction.split_once('/')?;
    let (whole, over, under) =
        (digits(whole.trim_end_matches([' ', '-']))?, digits(over)?, digits(under)?);
    let proper = 0 < under && over < under;
    proper.then(|| from_whole(whole) + from_whole(over) / from_whole(under))
}

fn digits(text: &str) -> Option<i64> {
    let plain =
        !text.is_empty() && text.len() <= 9 && text.bytes().all(|byte| byte.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

/// A plain decimal number without a sign, of up to 15 digits, such as `2.4`, `.5` or `90`.
///
/// `f64::from_str` also takes `inf`, `1e5` and `+1`, which nobody writes on a wall, and brings large
/// tables along. Up to 15 digits and their power of ten are exact, so their quotient is rounded once,
/// as it must be.
#[must_use]
pub fn decimal(text: &str) -> Option<f64> {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let n_digits = whole.len() + part.len();
    let plain = whole.bytes().chain(part.bytes()).all(|byte| byte.is_ascii_digit());
    if !plain || !(1..=15).contains(&n_digits) {
        return None;
    }
    let joined = whole.bytes().chain(part.bytes());
    let number = joined.fold(0_i64, |number, byte| number * 10 + i64::from(byte - b'0'));
    let tenths = part.bytes().fold(1_i64, |power, _| power * 10);
    Some(from_whole(number) / from_whole(tenths))
}

/// The text of a length with its sign, and the sixteenths of an inch that are still to be written.
///
/// A sheet has some hundred readings, so that they are put together piece by piece: one call of the
/// formatter takes as long as all of that.
fn begun(length: Length) -> (String, i64) {
    let sixteenths = to_whole((to_mm(length) / MM_PER_INCH * from_whole(SIXTEENTHS)).round());
    let mut text = String::with_capacity(LONG);
    if sixteenths < 0 {
        text.push('-');
    }
    (text, sixteenths.abs())
}

/// As many signs as nearly every reading has at most.
const LONG: usize = 16;

fn push_whole(text: &mut String, number: i64) {
    text.push_str(itoa::Buffer::new().format(number));
}

fn push_inches(text: &mut String, sixteenths: i64) {
    let (whole, mut over, mut under) =
        (sixteenths / SIXTEENTHS, sixteenths % SIXTEENTHS, SIXTEENTHS);
    while over != 0 && over % 2 == 0 {
        (over, under) = (over / 2, under / 2);
    }
    if whole != 0 || over == 0 {
        push_whole(text, whole);
    }
    if whole != 0 && over != 0 {
        text.push(' ');
    }
    if over != 0 {
        push_whole(text, over);
        text.push('/');
        push_whole(text, under);
    }
    text.push('"');
}

fn metric(length: Length) -> String {
    let tenths = to_whole((to_mm(length) * 10.0).round());
    let sign = if tenths < 0 { "-" } else { "" };
    match (tenths.abs() / 10, tenths.abs() % 10) {
        (whole, 0) => format!("{sign}{whole} mm"),
        (whole, tenth) => format!("{sign}{whole}.{tenth} mm"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::to_inches;

    fn check(text: &str, expected_inches: f64) {
        let read = parse(text, Units::FeetInches).unwrap_or_else(|refused| panic!("{refused:?}"));
        assert!((to_inches(read) - expected_inches).abs() < 1e-5, "{text}: {read:?}");
    }

    fn refuse(text: &str) {
        assert!(parse(text, Units::FeetInches).is_err(), "{text} should be refused");
    }

    #[test]
    fn a_decimal_is_what_the_standard_library_reads() {
        for text in ["0", "7", "2.4", ".5", "90.", "0.1", "0.30", "94.53125", "123456789012.345"] {
            assert_eq!(decimal(text), text.parse().ok(), "{text}");
        }
        for text in ["", ".", "1e5", "+1", "-1", "inf", "1.2.3", "1234567890123456", "٣"] {
            assert_eq!(decimal(text), None, "{text}");
        }
    }

    #[test]
    fn reads_what_people_write() {
        check("7' 10-1/2\"", 94.5);
        check("7'10 1/2", 94.5);
        check("7’ 10½\"", 94.5);
        check("94½", 94.5);
        check("⅞", 0.875);
        check("7 ft. 10 1/2 in.", 94.5);
        check("8 1/2 pies", 102.0);
        check("2 m 40", 2400.0 / 25.4);
        check("2m40cm", 2400.0 / 25.4);
        check("1 metro", 1000.0 / 25.4);
        check("90 centímetros", 900.0 / 25.4);
        check("94 1/2", 94.5);
        check("94-1/2", 94.5);
        check("94.5in", 94.5);
        check("94,5", 94.5);
        check("1/2", 0.5);
        check("8 ft", 96.0);
        check("8'", 96.0);
        check("8ft 6in", 102.0);
        check("8 pies", 96.0);
        check("8 pies 6 pulg", 102.0);
        check("1 pie 10-1/2 pulgadas", 22.5);
        check("2.4m", 2400.0 / 25.4);
        check("240 cm", 2400.0 / 25.4);
        check("2400mm", 2400.0 / 25.4);
        check("-3\"", -3.0);
        check("0", 0.0);
    }

    #[test]
    fn refuses_what_is_no_length() {
        for text in [
            "",
            " ",
            "abc",
            "1/0",
            "3/2",
            "1 2 3/4",
            "1e5",
            "inf",
            "nan",
            "7' 13\"",
            "--1",
            "1..2",
            "12 3",
            "9999999999/2",
            "2 m 140",
            "1 2½",
        ] {
            refuse(text);
        }
    }

    #[test]
    fn a_bare_number_follows_the_units() {
        let read = parse("2400", Units::Metric).map(to_mm);
        assert_eq!(read, Ok(2400.0), "millimetres in a metric job");
    }

    #[test]
    fn shows_reduced_fractions() {
        let show = |value| reading(inches(value), Units::FeetInches);
        assert_eq!(show(94.5), "7' 10 1/2\"", "halves");
        assert_eq!(show(45.75), "3' 9 3/4\"", "quarters");
        assert_eq!(show(97.125), "8' 1 1/8\"", "eighths");
        assert_eq!(show(8.5), "8 1/2\"", "under a foot");
        assert_eq!(show(0.0625), "1/16\"", "a sixteenth");
        assert_eq!(show(192.0), "16' 0\"", "whole feet");
        assert_eq!(show(276.5), "23' 0 1/2\"", "feet and a fraction");
        assert_eq!(show(0.0), "0\"", "nothing");
        assert_eq!(size(inches(14.5), Units::FeetInches), "14 1/2\"", "a bay");
        assert_eq!(reading(millimeters(2467.05), Units::Metric), "2467.1 mm", "tenths");
    }

    #[test]
    fn what_is_shown_is_read_back() {
        for sixteenths in 0..4000_i64 {
            let length = inches(from_whole(sixteenths) / 16.0);
            let read = parse(&reading(length, Units::FeetInches), Units::FeetInches);
            assert_eq!(read.map(to_mm), Ok(to_mm(length)), "{sixteenths}/16 in");
        }
    }
}
