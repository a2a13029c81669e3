//! A text as the square code that a camera reads (ISO/IEC 18004).

use qrcodegen::{QrCode, QrCodeEcc};

/// Modules of clear space on each side, as ISO/IEC 18004 asks for (from memory).
const QUIET: i32 = 4;

/// The longest text whose code a phone still reads off a screen or a sheet, in bytes.
///
/// The standard goes up to 2953 bytes, whose 177 modules a side are too fine for a phone at arm's
/// length. Common practice, no source.
pub const LONGEST: usize = 1200;

/// A text as a code: an `<svg>` whose user unit is one module, black on white whatever is around it.
///
/// `None` when the text is longer than [`LONGEST`].
pub fn qr(text: &str) -> Option<String> {
    if LONGEST < text.len() {
        return None;
    }
    let code = QrCode::encode_text(text, QrCodeEcc::Low).ok()?;
    let side = code.size() + 2 * QUIET;
    Some(format!(
        "<svg aria-hidden=\"true\" shape-rendering=\"crispEdges\" viewBox=\"0 0 {side} {side}\" \
         xmlns=\"http://www.w3.org/2000/svg\">\n\
         <rect fill=\"#fff\" height=\"{side}\" width=\"{side}\"/>\n\
         <path d=\"{}\" fill=\"#000\"/>\n\
         </svg>",
        runs(&code)
    ))
}

/// The dark modules, one bar for each run of them in a row.
fn runs(code: &QrCode) -> String {
    let mut path = String::new();
    for y in 0..code.size() {
        let mut x = 0;
        while x < code.size() {
            let length = (x..code.size()).take_while(|&x| code.get_module(x, y)).count();
            if 0 < length {
                path += &format!("M{} {}h{length}v1h-{length}z", x + QUIET, y + QUIET);
            }
            // A run ends at a light module, which is passed over with it.
            x += i32::try_from(length).unwrap_or(i32::MAX - x - 1) + 1;
        }
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Paints the bars of a picture, three pixels a module, and reads them with another library.
    fn read(picture: &str) -> String {
        let attribute = |name: &str| {
            let from = picture.find(name).expect("the attribute") + name.len();
            picture[from..].split('"').next().expect("its value").to_owned()
        };
        let side: usize = attribute("viewBox=\"0 0 ")
            .split(' ')
            .next()
            .and_then(|side| side.parse().ok())
            .expect("a side");
        let mut dark = vec![false; side * side];
        for bar in attribute(" d=\"").split('M').skip(1) {
            let numbers: Vec<usize> = bar
                .split(|sign: char| !sign.is_ascii_digit())
                .filter_map(|number| number.parse().ok())
                .collect();
            let [x, y, length, ..] = numbers[..] else { panic!("a bar, found {bar}") };
            dark[y * side + x..y * side + x + length].fill(true);
        }
        let paint = |x: usize, y: usize| if dark[y / 3 * side + x / 3] { 0 } else { 255 };
        let mut image = rqrr::PreparedImage::prepare_from_greyscale(side * 3, side * 3, paint);
        let grids = image.detect_grids();
        let grid = grids.first().expect("a code in the picture");
        grid.decode().expect("a code that can be read").1
    }

    #[test]
    fn another_library_reads_what_was_written() {
        let long = "https://example.org/wall#".to_owned() + &"aB3-_".repeat((LONGEST - 25) / 5);
        for text in ["HELLO WORLD", "https://example.org/#/job", "Süd \" <wall> & 'sheet'", &long]
        {
            let picture = qr(text).expect("a short text");
            assert_eq!(read(&picture), text, "as it was read by rqrr");
        }
    }

    #[test]
    fn a_text_that_is_too_long_has_no_code() {
        assert_eq!(qr(&"x".repeat(LONGEST + 1)), None, "too fine for a phone");
    }
}
