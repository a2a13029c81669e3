//! What is read on a sheet: blocks that flow through the free areas of sheets.

use crate::{
    drawing::{Anchor, Area, At, Item},
    ink::Ink,
    text::{self, Face, Paragraph},
};

/// From one base line to the next, in millimetres: ISO 3098-1 asks for no less than 5.25 at 3.5.
pub(super) const PITCH: f64 = 5.3;
/// Room between two blocks in a column.
const BETWEEN: f64 = 3.6;
/// Room between two columns of text.
const GUTTER: f64 = 7.0;
/// Lines of text shorter than this are hard to read.
const NARROWEST: f64 = 74.0;

/// A part of a block that is not torn apart, its upper left corner at zero.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    pub(super) height: f64,
    pub(super) items: Vec<Item>,
    /// How many entries of its block it shows.
    pub(super) n_entries: usize,
}

/// What happens to the head of a block where the block goes on in another column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Head {
    Repeats,
    StandsOnce,
}

/// How wide a block lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lies {
    /// Across all of a free area.
    Across,
    /// In one of several columns.
    InColumns,
}

/// A head and what belongs under it, for a width. Pieces are laid out as they are asked for: only so
/// many as a column holds.
pub(super) struct Block<'a> {
    pub(super) head: Piece,
    pub(super) head_is: Head,
    pub(super) pieces: Box<dyn Iterator<Item = Piece> + 'a>,
}

/// Something to read that can be laid out for any width, from any of its entries on.
pub(super) trait Flowing {
    fn lies(&self) -> Lies;

    fn block(&self, width: f64, from: usize) -> Block<'_>;
}

/// A free area of a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Free {
    /// The sheet it is on, from 0.
    pub(super) sheet: usize,
    pub(super) area: Area,
    pub(super) extent: Extent,
}

/// How much of a sheet is free.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Extent {
    /// All of it: what does not fit here fits nowhere.
    Whole,
    /// What other things leave.
    Rest,
}

/// Where the flow has come to.
#[derive(Debug)]
struct Flow<F> {
    /// Gives the next free area.
    next: F,
    /// The columns that are still to fill, the current one last.
    columns: Vec<Free>,
    lies: Lies,
    down: f64,
    drawn: Vec<(usize, Item)>,
}

/// Size of plain type: capitals 3.5 mm high.
pub(super) fn plain() -> f64 {
    text::size_for_height(3.5)
}

/// Size of large type: capitals 5 mm high.
pub(super) fn large() -> f64 {
    text::size_for_height(5.0)
}

/// A text of plain size.
pub(super) fn paragraph(content: &str, face: Face) -> Paragraph {
    Paragraph::new(content, plain(), face)
}

/// From the top of a line of plain text to its base line.
pub(super) fn base() -> f64 {
    PITCH * 0.78
}

/// Fills free areas with what there is to read. `next` gives the next area; it is asked for as many
/// as it takes.
///
/// Returns what is drawn, each with the sheet it is on.
pub(super) fn flow(
    readings: &[&dyn Flowing],
    mut next: impl FnMut() -> Free,
) -> Vec<(usize, Item)> {
    let first = next();
    let mut flow = Flow {
        next,
        columns: vec![first],
        lies: Lies::Across,
        down: first.area.top,
        drawn: Vec::new(),
    };
    for reading in readings {
        flow.write(*reading);
    }
    flow.drawn
}

/// About how much of a sheet the readings take.
pub(super) fn needed_area(readings: &[&dyn Flowing]) -> f64 {
    let area = |reading: &&dyn Flowing| {
        let width = match reading.lies() {
            Lies::Across => NARROWEST * 2.5,
            Lies::InColumns => NARROWEST * 1.1,
        };
        let Block { head, pieces, .. } = reading.block(width, 0);
        (head.height + pieces.map(|piece| piece.height).sum::<f64>()) * width
    };
    readings.iter().map(area).sum()
}

/// As many columns as an area holds, the last one first.
fn columns(free: Free, lies: Lies) -> Vec<Free> {
    let width = free.area.width();
    let n_columns = match lies {
        Lies::Across => 1.0,
        Lies::InColumns => ((width + GUTTER) / (NARROWEST + GUTTER)).floor().max(1.0),
    };
    let each = (width + GUTTER) / n_columns - GUTTER;
    let mut columns = Vec::new();
    let mut left = free.area.left;
    while left < free.area.right - each * 0.5 {
        let area = Area { left, right: left + each, ..free.area };
        columns.push(Free { area, ..free });
        left += each + GUTTER;
    }
    columns.reverse();
    columns
}

impl<F: FnMut() -> Free> Flow<F> {
    fn write(&mut self, reading: &dyn Flowing) {
        self.turn(reading.lies());
        if self.top() < self.down {
            self.down += BETWEEN;
        }
        let (mut from, mut head) = (0, true);
        loop {
            let Block { head: title, head_is, pieces } = reading.block(self.area().width(), from);
            let head_due = head.then_some(title);
            let Some(n_written) = self.write_pieces(head_due, pieces) else { return };
            from += n_written;
            head = (n_written == 0 && head) || head_is == Head::Repeats;
            self.advance();
        }
    }

    /// Writes as many pieces as the column holds, at least one in a column of an empty sheet.
    ///
    /// Returns how many entries were written where some were left.
    fn write_pieces(
        &mut self,
        mut head: Option<Piece>,
        pieces: impl Iterator<Item = Piece>,
    ) -> Option<usize> {
        let mut n_written = 0;
        for piece in pieces {
            let need = piece.height + head.as_ref().map_or(0.0, |head| head.height);
            let full = self.area().bottom < self.down + need;
            let elsewhere = self.top() < self.down || self.column().extent == Extent::Rest;
            if full && elsewhere {
                return Some(n_written);
            }
            n_written += piece.n_entries;
            head.take().into_iter().for_each(|head| self.put(head));
            self.put(piece);
        }
        None
    }

    fn put(&mut self, piece: Piece) {
        let Free { sheet, area, .. } = self.column();
        let items = piece.items.into_iter().map(|mut item| {
            item.shift(area.left, self.down);
            (sheet, item)
        });
        self.drawn.extend(items);
        self.down += piece.height;
    }

    /// Goes over to text that lies otherwise, under what has been written.
    fn turn(&mut self, lies: Lies) {
        if self.lies == lies {
            return;
        }
        self.lies = lies;
        let Free { sheet, area, extent } = self.column();
        let gap = if area.top < self.down { BETWEEN } else { 0.0 };
        let rest = Area { top: self.down + gap, ..area };
        if rest.height() < PITCH * 3.0 {
            self.columns.clear();
            self.advance();
        } else {
            let extent = if area.top < self.down { Extent::Rest } else { extent };
            self.columns = columns(Free { sheet, area: rest, extent }, lies);
            self.down = rest.top;
        }
    }

    fn advance(&mut self) {
        self.columns.pop();
        if self.columns.is_empty() {
            self.columns = columns((self.next)(), self.lies);
        }
        self.down = self.top();
    }

    fn column(&mut self) -> Free {
        match self.columns.last() {
            Some(column) => *column,
            None => (self.next)(),
        }
    }

    fn area(&mut self) -> Area {
        self.column().area
    }

    fn top(&mut self) -> f64 {
        self.area().top
    }
}

impl Piece {
    /// Nothing, of no height.
    pub(super) fn none() -> Self {
        Self { height: 0.0, items: Vec::new(), n_entries: 0 }
    }

    /// A paragraph of plain text, indented behind what hangs to its left.
    pub(super) fn paragraph(
        content: &Paragraph,
        (indent, width): (f64, f64),
        hanging: Option<Item>,
    ) -> Self {
        let mut piece = Self::lines(content.lines(width - indent), Ink::Text, indent);
        piece.items.extend(hanging);
        piece.height += 0.5;
        piece
    }

    /// Lines of text, one under the other: one entry.
    pub(super) fn lines<'a>(lines: impl Iterator<Item = &'a str>, ink: Ink, indent: f64) -> Self {
        let mut piece = Self { n_entries: 1, ..Self::none() };
        for line in lines {
            let at = At::new(indent, piece.height + base());
            piece.items.push(Item::text(ink, (at, Anchor::Start), plain(), line));
            piece.height += PITCH;
        }
        piece
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Shape;

    /// Rows of 10 mm under a head of 10 mm.
    struct Rows {
        n: usize,
        lies: Lies,
    }

    fn piece(name: &str) -> Piece {
        let text = Item::text(Ink::Text, (At::new(0.0, base()), Anchor::Start), plain(), name);
        Piece { height: 10.0, items: vec![text], n_entries: 1 }
    }

    impl Flowing for Rows {
        fn lies(&self) -> Lies {
            self.lies
        }

        fn block(&self, _width: f64, from: usize) -> Block<'_> {
            let pieces = (from..self.n).map(|idx| piece(&format!("row {idx}")));
            Block { head: piece("head"), head_is: Head::Repeats, pieces: Box::new(pieces) }
        }
    }

    fn written(items: &[(usize, Item)], content: &str) -> Vec<(usize, f64)> {
        let texts = items.iter().filter_map(|(sheet, item)| match &item.shape {
            Shape::Text(text) if text.content == content => Some((*sheet, text.at.x)),
            _ => None,
        });
        texts.collect()
    }

    fn areas(width: f64) -> impl FnMut() -> Free {
        let mut sheet = 0;
        move || {
            sheet += 1;
            Free { sheet, area: Area::new(0.0, 0.0, width, 35.0), extent: Extent::Whole }
        }
    }

    #[test]
    fn a_table_goes_on_under_its_head() {
        let drawn = flow(&[&Rows { n: 5, lies: Lies::Across }], areas(100.0));
        let heads: Vec<usize> = written(&drawn, "head").iter().map(|(sheet, _)| *sheet).collect();
        assert_eq!(heads, [1, 2, 3], "two rows fit under a head");
        for idx in 0..5 {
            assert_eq!(written(&drawn, &format!("row {idx}")).len(), 1, "row {idx} once");
        }
    }

    #[test]
    fn columns_are_filled_before_the_next_sheet() {
        let drawn = flow(&[&Rows { n: 5, lies: Lies::InColumns }], areas(160.0));
        let heads = written(&drawn, "head");
        let sheets: Vec<usize> = heads.iter().map(|(sheet, _)| *sheet).collect();
        assert_eq!(sheets, [1, 1, 2], "two columns a sheet");
        assert!(heads[0].1 + NARROWEST < heads[1].1, "side by side: {heads:?}");
    }
}
