//! How much room text takes, without a font at hand.
//!
//! Widths are those of the widest family of the font stack, so that text is never wider than
//! computed wherever it is shown; where that family is missing it gets narrower.

use std::ops::{Range, RangeInclusive};

/// Height of capitals as a share of the size of the type.
const CAPITALS: f64 = 0.729;
/// How far letters reach over the base line as a share of the size of the type.
const ABOVE: f64 = 0.78;
/// How far letters reach under the base line as a share of the size of the type.
const BELOW: f64 = 0.24;
/// What stands for text that was cut.
const CUT: char = '…';

/// The weights of the type.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// The plain face.
    Regular,
    /// The heavy face.
    Bold,
}

/// The size of type whose capitals have a height.
pub fn size_for_height(height: f64) -> f64 {
    // Rounded up, so that the height is reached in spite of the rounding of what is written.
    (height / CAPITALS * 100.0).ceil() / 100.0
}

/// The height of capitals and figures at a size of type.
pub fn height(size: f64) -> f64 {
    size * CAPITALS
}

/// The most room a line of text takes from its beginning to its end.
pub fn width(content: &str, size: f64, face: Face) -> f64 {
    let per_mille: u32 = content.chars().map(|sign| u32::from(advance(sign, face))).sum();
    f64::from(per_mille) * size / 1000.0
}

/// How far a line of text reaches over and under its base line.
///
/// Figures and capitals need less room than letters with ascenders and descenders.
pub fn reach(content: &str, size: f64) -> (f64, f64) {
    let low = |sign: char| matches!(sign, '0'..='9' | 'A'..='P' | 'R'..='Z' | ' ' | '.' | '\'' | '"' | '°');
    if content.chars().all(low) {
        return ((CAPITALS + 0.02) * size, 0.02 * size);
    }
    (ABOVE * size, BELOW * size)
}

/// The text, cut with an ellipsis where it is wider than the room.
pub fn fitted(content: &str, room: f64, size: f64, face: Face) -> String {
    if width(content, size, face) <= room {
        return content.to_owned();
    }
    let mut kept = String::new();
    let mut left = room - width(&CUT.to_string(), size, face);
    for sign in content.chars() {
        left -= width(&sign.to_string(), size, face);
        if left < 0.0 {
            break;
        }
        kept.push(sign);
    }
    format!("{}{CUT}", kept.trim_end())
}

/// A text that is broken into lines; its words are measured once for rooms of any width.
#[derive(Debug, Clone)]
pub struct Paragraph {
    /// The text, with single spaces.
    content: String,
    size: f64,
    face: Face,
    /// Every word and its width.
    words: Vec<(Range<usize>, f64)>,
    space: f64,
}

impl Paragraph {
    /// A paragraph of a text of one size and weight.
    pub fn new(content: &str, size: f64, face: Face) -> Self {
        let content = content.split_whitespace().collect::<Vec<_>>().join(" ");
        let measured = |word: Range<usize>| (word.clone(), width(&content[word], size, face));
        let words = words(&content).map(measured).collect();
        Self { size, face, words, space: width(" ", size, face), content }
    }

    /// The lines that fit the room, broken between words, and inside a word only where the word alone
    /// is too wide.
    pub fn lines(&self, room: f64) -> impl Iterator<Item = &str> {
        let mut lines: Vec<Range<usize>> = Vec::new();
        let mut taken = f64::INFINITY;
        for (word, wide) in &self.words {
            // Sums of widths differ from the width of the whole by less than this.
            let fits = taken + self.space + wide <= room - 1e-9;
            match lines.last_mut().filter(|_| fits) {
                Some(line) => {
                    line.end = word.end;
                    taken += self.space + wide;
                }
                None => taken = self.begin(word, *wide, room, &mut lines),
            }
        }
        lines.into_iter().map(|line| &self.content[line])
    }

    /// Begins a line with a word, or several where it is too wide; how wide the last of them is.
    fn begin(
        &self,
        word: &Range<usize>,
        wide: f64,
        room: f64,
        lines: &mut Vec<Range<usize>>,
    ) -> f64 {
        if wide <= room {
            lines.push(word.clone());
            return wide;
        }
        let (mut from, mut taken) = (word.start, 0.0);
        for (at, sign) in self.content[word.clone()].char_indices() {
            let at = word.start + at;
            let wide = width(sign.encode_utf8(&mut [0; 4]), self.size, self.face);
            if room < taken + wide && from < at {
                lines.push(from..at);
                (from, taken) = (at, 0.0);
            }
            taken += wide;
        }
        lines.push(from..word.end);
        taken
    }
}

/// The first lines of a text, the last of them cut where there are more.
pub fn first_lines(
    content: &str,
    (room, n_lines): (f64, usize),
    size: f64,
    face: Face,
) -> Vec<String> {
    let paragraph = Paragraph::new(content, size, face);
    let lines: Vec<&str> = paragraph.lines(room).collect();
    let n_whole = if n_lines < lines.len() { n_lines.saturating_sub(1) } else { lines.len() };
    let (whole, rest) = lines.split_at(n_whole);
    let cut = (!rest.is_empty()).then(|| fitted(&rest.join(" "), room, size, face));
    whole.iter().map(|line| (*line).to_owned()).chain(cut).collect()
}

/// The words of a text with single spaces; a length such as `5 3/8"` or `49 mm` is one word.
fn words(content: &str) -> impl Iterator<Item = Range<usize>> {
    let end_of = |from: usize| content[from..].find(' ').map_or(content.len(), |at| from + at);
    let mut next = 0;
    std::iter::from_fn(move || {
        let start = next;
        if content.len() <= start {
            return None;
        }
        let mut end = end_of(start);
        while end < content.len() {
            let after = end_of(end + 1);
            if !is_one_length(&content[start..end], &content[end + 1..after]) {
                break;
            }
            end = after;
        }
        next = end + 1;
        Some(start..end)
    })
}

fn is_one_length(before: &str, word: &str) -> bool {
    let figure = |sign: char| sign.is_ascii_digit();
    let fraction = word.starts_with(figure) && word.contains(['/', '"']);
    let unit =
        ["mm", "in", "ft", "pulg"].contains(&word.trim_end_matches(['.', ',', ';', ':', ')']));
    let inches = before.ends_with('\'') && word.starts_with(figure);
    inches || before.ends_with(figure) && (fraction || unit)
}

/// Advance of a character in thousandths of the size of the type.
fn advance(sign: char, face: Face) -> u16 {
    const ASCII: RangeInclusive<char> = ' '..='~';
    const LATIN: RangeInclusive<char> = '\u{a0}'..='\u{17f}';
    let code = u32::from(sign);
    let entry = |table: &'static [u16], first: char| {
        usize::try_from(code - u32::from(first)).ok().and_then(|idx| table.get(idx)).copied()
    };
    let (ascii, latin): (&[u16], &[u16]) = match face {
        Face::Regular => (&REGULAR_ASCII, &REGULAR_LATIN),
        Face::Bold => (&BOLD_ASCII, &BOLD_LATIN),
    };
    let listed = match sign {
        _ if ASCII.contains(&sign) => entry(ascii, *ASCII.start()),
        _ if LATIN.contains(&sign) => entry(latin, *LATIN.start()),
        '–' => Some(500),
        '‘' | '’' => Some(380),
        '′' | '″' => Some(450),
        '“' | '”' => Some(660),
        '—' | '…' => Some(1000),
        '≤' | '≥' | '•' | '−' => Some(840),
        _ => None,
    };
    // The widest letters of other alphabets; ideographs are one size wide.
    listed.unwrap_or(match face {
        Face::Regular => 1200,
        Face::Bold => 1420,
    })
}

// Advances of DejaVu Sans and DejaVu Sans Bold in thousandths, rounded up, read from their
// horizontal metrics tables.
#[rustfmt::skip]
const REGULAR_ASCII: [u16; 95] = [
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337, 637, 637, 637, 637,
    637, 637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 531, 1000, 685, 687, 699, 771, 632, 576, 775,
    752, 295, 295, 656, 558, 863, 749, 788, 604, 788, 695, 635, 611, 732, 685, 989, 686, 611, 686, 391,
    337, 391, 838, 500, 500, 613, 635, 550, 635, 616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612,
    635, 635, 412, 521, 393, 634, 592, 818, 592, 592, 525, 637, 337, 637, 838,
];
#[rustfmt::skip]
const REGULAR_LATIN: [u16; 224] = [
    318, 401, 637, 637, 637, 637, 337, 500, 500, 1000, 472, 612, 838, 361, 1000, 500, 500, 838, 401, 401,
    500, 637, 637, 318, 500, 401, 472, 612, 970, 970, 970, 531, 685, 685, 685, 685, 685, 685, 975, 699,
    632, 632, 632, 632, 295, 295, 295, 295, 775, 749, 788, 788, 788, 788, 788, 838, 788, 732, 732, 732,
    732, 611, 605, 630, 613, 613, 613, 613, 613, 613, 982, 550, 616, 616, 616, 616, 278, 278, 278, 278,
    612, 634, 612, 612, 612, 612, 612, 838, 612, 634, 634, 634, 634, 592, 635, 592, 685, 613, 685, 613,
    685, 613, 699, 550, 699, 550, 699, 550, 699, 550, 771, 635, 775, 635, 632, 616, 632, 616, 632, 616,
    632, 616, 632, 616, 775, 635, 775, 635, 775, 635, 775, 635, 752, 634, 917, 695, 295, 278, 295, 278,
    295, 278, 295, 278, 295, 278, 590, 556, 295, 278, 656, 580, 580, 558, 278, 558, 278, 558, 375, 558,
    342, 563, 285, 749, 634, 749, 634, 749, 634, 814, 749, 634, 788, 612, 788, 612, 788, 612, 1070, 1023,
    695, 412, 695, 412, 695, 412, 635, 521, 635, 521, 635, 521, 635, 521, 611, 393, 611, 393, 611, 393,
    732, 634, 732, 634, 732, 634, 732, 634, 732, 634, 732, 634, 989, 818, 611, 592, 611, 686, 525, 686,
    525, 686, 525, 353,
];
#[rustfmt::skip]
const BOLD_ASCII: [u16; 95] = [
    349, 457, 521, 838, 696, 1002, 873, 307, 458, 458, 523, 838, 380, 416, 380, 366, 696, 696, 696, 696,
    696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 581, 1000, 774, 763, 734, 831, 684, 684, 821,
    837, 373, 373, 775, 638, 996, 837, 851, 733, 851, 771, 721, 683, 813, 774, 1104, 771, 725, 726, 458,
    366, 458, 838, 500, 500, 675, 716, 593, 716, 679, 436, 716, 712, 343, 343, 666, 343, 1042, 712, 688,
    716, 716, 494, 596, 479, 712, 652, 924, 646, 652, 583, 712, 366, 712, 838,
];
#[rustfmt::skip]
const BOLD_LATIN: [u16; 224] = [
    349, 457, 696, 696, 637, 696, 366, 500, 500, 1000, 564, 646, 838, 416, 1000, 500, 500, 838, 438, 438,
    500, 736, 637, 380, 500, 438, 564, 646, 1036, 1036, 1036, 581, 774, 774, 774, 774, 774, 774, 1085, 734,
    684, 684, 684, 684, 373, 373, 373, 373, 838, 837, 851, 851, 851, 851, 851, 838, 851, 813, 813, 813,
    813, 725, 738, 720, 675, 675, 675, 675, 675, 675, 1048, 593, 679, 679, 679, 679, 343, 343, 343, 343,
    688, 712, 688, 688, 688, 688, 688, 838, 688, 712, 712, 712, 712, 652, 716, 652, 774, 675, 774, 675,
    774, 675, 734, 593, 734, 593, 734, 593, 734, 593, 831, 716, 838, 716, 684, 679, 684, 679, 684, 679,
    684, 679, 684, 679, 821, 716, 821, 716, 821, 716, 821, 716, 837, 712, 974, 791, 373, 343, 373, 343,
    373, 343, 373, 343, 373, 343, 745, 686, 373, 343, 775, 666, 666, 638, 343, 638, 343, 638, 480, 638,
    557, 643, 372, 837, 712, 837, 712, 837, 712, 983, 837, 712, 851, 688, 851, 688, 851, 688, 1167, 1095,
    771, 494, 771, 494, 771, 494, 721, 596, 721, 596, 721, 596, 721, 596, 683, 479, 683, 479, 683, 479,
    813, 712, 813, 712, 813, 712, 813, 712, 813, 712, 813, 712, 1104, 924, 725, 652, 725, 726, 583, 726,
    583, 726, 583, 436,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_tabular() {
        let one = width("1", 1000.0, Face::Regular);
        for figure in '0'..='9' {
            assert!(
                (width(&figure.to_string(), 1000.0, Face::Regular) - one).abs() < 1e-9,
                "{figure}"
            );
        }
    }

    #[test]
    fn capitals_reach_their_height() {
        // The capital H of DejaVu Sans is 1493 units high on an em of 2048 (read from the font).
        assert!(3.5 <= size_for_height(3.5) * 1493.0 / 2048.0, "3.5 mm");
        assert!(size_for_height(3.5) * 1493.0 / 2048.0 < 3.51, "and no more");
    }

    #[test]
    fn cut_text_fits() {
        for room in [3.0, 10.0, 31.7] {
            let text = fitted("already insulated, left out", room, 4.0, Face::Bold);
            assert!(width(&text, 4.0, Face::Bold) <= room.max(4.0), "{text} in {room}");
            assert!(text.ends_with(CUT), "{text} shows that it was cut");
        }
        assert_eq!(fitted("stud", 100.0, 4.0, Face::Regular), "stud", "short enough");
    }

    #[test]
    fn wrapped_text_fits_and_is_whole() {
        let text = "Rest einer Feuerschutzabschlussbekleidung behind the plaster";
        for room in [20.0, 40.0, 200.0] {
            let paragraph = Paragraph::new(text, 4.0, Face::Regular);
            let lines: Vec<&str> = paragraph.lines(room).collect();
            assert!(lines.iter().all(|line| width(line, 4.0, Face::Regular) <= room), "{lines:?}");
            let letters = |text: &str| text.replace(' ', "");
            assert_eq!(letters(&lines.concat()), letters(text), "nothing is lost in {room}");
        }
    }

    #[test]
    fn a_length_is_not_torn_apart() {
        let text = "a bit of 2 3/8\" at 7' 10 1/2\" or 49 mm, up";
        assert_eq!(
            words(text).map(|word| &text[word]).collect::<Vec<_>>(),
            ["a", "bit", "of", "2 3/8\"", "at", "7' 10 1/2\"", "or", "49 mm,", "up"],
            "as lengths"
        );
    }

    #[test]
    fn the_last_of_too_many_lines_is_cut() {
        let lines = first_lines("one two three four five six", (20.0, 2), 4.0, Face::Regular);
        assert_eq!(lines.len(), 2, "{lines:?}");
        assert!(lines[1].ends_with(CUT), "{lines:?}");
    }
}
