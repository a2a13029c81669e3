//! A wall that is too large for one sheet, cut into parts that meet at match lines.

use risemark::{
    geometry::{Rect, Span},
    job::End,
    language::Language,
    plan::WallPlan,
    quantity::{Length, SAME, count},
};

use super::block::plain;
use crate::{
    drawing::{Anchor, Area, At, Item},
    elevation::whole,
    ink::Ink,
    scale::Scale,
    text, words,
};

/// Room over the wall for the words at match lines.
pub(super) const WORDS: f64 = 7.0;
/// How far match lines reach past the wall.
const PAST: f64 = 4.0;

/// A part of the wall, and where the drawing goes on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Part {
    pub(super) window: Rect,
    /// Numbers of the sheets that go on to each side.
    pub(super) on: Neighbours,
}

/// Numbers of sheets that show what lies beside a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Neighbours {
    pub(super) left: Option<usize>,
    pub(super) right: Option<usize>,
    pub(super) above: Option<usize>,
    pub(super) below: Option<usize>,
}

/// The parts of a wall no wider and no higher than a limit, cut between holes that are apart, in the order of their sheets: from the
/// datum end, the lowest first.
pub(super) fn parts(
    plan: &WallPlan,
    (widest, highest): (Length, Length),
    apart: Length,
) -> Vec<Part> {
    let all = whole(plan);
    let centres: Vec<Length> = plan.drill.holes.iter().map(|hole| hole.centre.x).collect();
    let columns = cut(all.x, (widest, apart), &centres);
    let rows = cut(all.y, (highest, apart), &plan.drill.snap_lines);
    let (n_columns, n_rows) = (columns.len(), rows.len());
    let number = |column: usize, row: usize| {
        let from_datum = match plan.frame.datum {
            End::Left => column,
            End::Right => n_columns - 1 - column,
        };
        row * n_columns + from_datum + 1
    };
    let mut parts = Vec::new();
    for (row, y) in rows.into_iter().enumerate() {
        for (column, x) in columns.iter().enumerate() {
            let on = Neighbours {
                left: (0 < column).then(|| number(column - 1, row)),
                right: (column + 1 < n_columns).then(|| number(column + 1, row)),
                above: (row + 1 < n_rows).then(|| number(column, row + 1)),
                below: (0 < row).then(|| number(column, row - 1)),
            };
            parts.push((number(column, row), Part { window: Rect { x: *x, y }, on }));
        }
    }
    risemark::order::sort_by_key(&mut parts, |(number, _)| *number);
    parts.into_iter().map(|(_, part)| part).collect()
}

/// A stretch in pieces no longer than a limit, cut between marks that are apart.
///
/// They are the fewest there can be; one or two more where those would run close past a mark.
fn cut(all: Span, (limit, apart): (Length, Length), marks: &[Length]) -> Vec<Span> {
    let mut marks = marks.to_vec();
    risemark::quantity::sort(&mut marks);
    let pairs =
        marks.windows(2).map(|pair| (pair[0] + (pair[1] - pair[0]) / 2.0, pair[1] - pair[0]));
    let gaps: Vec<(Length, Length)> = pairs.filter(|(_, gap)| SAME < *gap).collect();
    let wide: Vec<(Length, Length)> =
        gaps.iter().filter(|(_, gap)| apart <= *gap).copied().collect();
    let fits = |n: &usize| all.length() <= limit * count(*n) * 1.000_001;
    let fewest = (1..MOST_PIECES).find(fits).unwrap_or(MOST_PIECES);
    let clear = (fewest..fewest + 3).find_map(|n| pieces(all, (limit, n), &wide));
    let any = clear.or_else(|| pieces(all, (limit, fewest), &gaps));
    any.unwrap_or_else(|| even(all, fewest))
}

/// No wall of 100 m takes more.
const MOST_PIECES: usize = 400;

/// So many pieces, cut in gaps alone.
fn pieces(
    all: Span,
    (limit, n_pieces): (Length, usize),
    gaps: &[(Length, Length)],
) -> Option<Vec<Span>> {
    let mut pieces = Vec::new();
    let mut from = all.from;
    for left in (1..n_pieces).rev() {
        let even = from + (all.to - from) / count(left + 1);
        let fits =
            |at: Length| from < at && at <= from + limit && all.to - at <= limit * count(left);
        // A wide gap leaves room for numbers on both sides; an even cut is worth less than that.
        let cost = |(at, gap): &&(Length, Length)| ((*at - even).abs() - *gap * 2.0).value;
        let free =
            gaps.iter().filter(|(at, _)| fits(*at)).min_by(|a, b| cost(a).total_cmp(&cost(b)));
        let (to, _) = *free?;
        pieces.push(Span { from, to });
        from = to;
    }
    pieces.push(Span { from, to: all.to });
    Some(pieces)
}

fn even(all: Span, n_pieces: usize) -> Vec<Span> {
    let at = |idx: usize| all.from + all.length() * (count(idx) / count(n_pieces));
    (0..n_pieces)
        .map(|idx| Span {
            from: at(idx),
            to: if idx + 1 == n_pieces { all.to } else { at(idx + 1) },
        })
        .collect()
}

/// Match lines of a part with the sheets on which the drawing goes on.
pub(super) fn match_lines(scale: Scale, part: &Part, language: Language) -> Vec<Item> {
    let at = |x, y| scale.at(risemark::geometry::Point::new(x, y));
    let window = part.window;
    let (corner, opposite) = (at(window.x.from, window.y.to), at(window.x.to, window.y.from));
    let wall = Area { left: corner.x, top: corner.y, right: opposite.x, bottom: opposite.y };
    let mut items = Vec::new();
    let mut line = |from: At, to: At| items.push(Item::line(Ink::MatchLine, from, to));
    let Neighbours { left, right, above, below } = part.on;
    for (x, _) in
        [(wall.left, left), (wall.right, right)].into_iter().filter(|(_, on)| on.is_some())
    {
        line(At::new(x, wall.top - PAST), At::new(x, wall.bottom + PAST * 0.5));
    }
    for (y, _) in
        [(wall.top, above), (wall.bottom, below)].into_iter().filter(|(_, on)| on.is_some())
    {
        line(At::new(wall.left - PAST * 0.5, y), At::new(wall.right + PAST * 0.5, y));
    }
    items.extend(neighbours(wall, part.on, language));
    items
}

fn neighbours(wall: Area, on: Neighbours, language: Language) -> Vec<Item> {
    let y = wall.top - WORDS + text::height(plain());
    let word = |x: f64, anchor, words: String| {
        Item::text(Ink::Text, (At::new(x, y), anchor), plain(), words)
    };
    let mut items = Vec::new();
    let on_line = |sheet| words::match_line(sheet, language);
    items.extend(on.left.map(|sheet| word(wall.left + 2.0, Anchor::Start, on_line(sheet))));
    items.extend(on.right.map(|sheet| word(wall.right - 2.0, Anchor::End, on_line(sheet))));
    let upright = [
        on.above.map(|sheet| words::above(sheet, language)),
        on.below.map(|sheet| words::below(sheet, language)),
    ];
    let upright: Vec<String> = upright.into_iter().flatten().collect();
    if !upright.is_empty() {
        items.push(word(wall.middle().x, Anchor::Middle, upright.join(", ")));
    }
    items
}

#[cfg(test)]
mod tests {
    use super::*;
    use risemark::quantity::{millimeters, to_mm};

    #[test]
    fn pieces_are_even_and_cut_between_holes() {
        let span = Span::new(millimeters(0.0), millimeters(12_000.0));
        let holes: Vec<Length> =
            (0..30).map(|idx| millimeters(200.0 + 400.0 * f64::from(idx))).collect();
        let pieces = cut(span, (millimeters(5000.0), millimeters(300.0)), &holes);
        let ends: Vec<f64> = pieces.iter().map(|piece| to_mm(piece.to)).collect();
        assert_eq!(ends, [4000.0, 8000.0, 12_000.0], "thirds, each midway between two holes");
    }

    #[test]
    fn a_cut_keeps_off_holes_at_the_price_of_a_piece() {
        let span = Span::new(millimeters(0.0), millimeters(2000.0));
        let holes = [100.0, 400.0, 500.0, 1000.0, 1050.0, 1600.0].map(millimeters);
        let pieces = cut(span, (millimeters(1010.0), millimeters(300.0)), &holes);
        assert_eq!(pieces.len(), 3, "two would be cut in the gap of 50 mm: {pieces:?}");
    }

    #[test]
    fn what_fits_is_not_cut() {
        let span = Span::new(millimeters(0.0), millimeters(4000.0));
        assert_eq!(
            cut(span, (millimeters(4000.0), millimeters(300.0)), &[]),
            [span],
            "exactly as long as the limit"
        );
    }
}
