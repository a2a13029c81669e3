//! Readings under a tape where columns stand so close that no turns of rows do.

use super::{
    rows::{Placed, Room},
    spread::spread,
};

/// Where each line comes down, and where its text stands.
type Stairs = (Vec<f64>, Vec<Option<Placed>>);

/// Readings in stairs that rise to the right, so that none hangs over the line of another: lines run
/// close together, and only behind the last step is there the room of the widest text.
///
/// `straight` are the columns from left to right. `None` where even that is too wide for the room.
pub(super) fn stairs(
    straight: &[f64],
    widths: &[f64],
    room: Room,
    n_rows: usize,
) -> Option<Stairs> {
    let last = widths.len().checked_sub(1)?;
    let flight = |idx: usize| idx - idx % n_rows..widths.len().min(idx - idx % n_rows + n_rows);
    let widest = |idx: usize| widths[flight(idx)].iter().copied().fold(0.0, f64::max);
    let distance = |idx: usize| {
        if idx.is_multiple_of(n_rows) {
            widest(idx - 1) + room.clear * 2.0
        } else {
            room.clear * 2.1
        }
    };
    let distances: Vec<f64> = (1..widths.len()).map(distance).collect();
    // The line ends over the text, not past its corner.
    let inset = room.clear * 0.5;
    let ends = (room.left + inset, room.right - widest(last) + inset);
    let lines = spread(straight, &distances, ends)?;
    let step = |(idx, line): (usize, &f64)| {
        Some(Placed { row: flight(idx).end - 1 - idx, left: line - inset })
    };
    let placed = lines.iter().enumerate().map(step).collect();
    Some((lines, placed))
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROOM: Room = Room { left: -20.0, right: 160.0, gap: 3.0, clear: 1.4 };

    #[test]
    fn no_line_crosses_a_text_and_no_texts_touch() {
        let xs: Vec<f64> = (0..17).map(|idx| f64::from(idx * idx) * 0.5).collect();
        let widths: Vec<f64> = (0..17).map(|idx| if idx == 7 { 47.0 } else { 22.0 }).collect();
        let (lines, placed) = stairs(&xs, &widths, ROOM, 6).expect("there is room");
        let texts: Vec<(f64, Placed, f64)> = lines
            .iter()
            .zip(&placed)
            .zip(&widths)
            .map(|((line, placed), width)| (*line, placed.expect("none is left out"), *width))
            .collect();
        for (idx, (line, text, width)) in texts.iter().enumerate() {
            let right = text.left + width;
            assert!(text.left <= *line && *line <= right, "{line} ends over its text");
            assert!(ROOM.left <= text.left && right <= ROOM.right, "{text:?} lies in the room");
            for (other_line, other, _) in texts.iter().skip(idx + 1) {
                let apart = right + ROOM.clear <= other.left;
                assert!(text.row != other.row || apart, "{text:?} and {other:?} touch");
                let passes = text.row < other.row;
                assert!(!passes || right <= *other_line, "{other_line} crosses {text:?}");
            }
            for (earlier_line, earlier, _) in texts.iter().take(idx) {
                let passes = text.row < earlier.row;
                assert!(!passes || *earlier_line <= text.left, "{earlier_line} crosses {text:?}");
            }
        }
    }

    #[test]
    fn too_many_readings_are_refused() {
        let xs: Vec<f64> = (0..60).map(f64::from).collect();
        assert!(stairs(&xs, &[22.0; 60], ROOM, 6).is_none(), "no room for sixty");
    }
}
