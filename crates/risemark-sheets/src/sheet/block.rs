//! Blocks of a sheet that flow through columns and on to further sheets.

use crate::{
    drawing::{Anchor, Area, At, Item},
    ink::Ink,
    text::{self, Face},
};

/// From one base line to the next, in millimetres.
pub(super) const PITCH: f64 = 6.2;
/// Room between two blocks in a column.
const BETWEEN: f64 = 5.0;

/// A part of a block that is not torn apart, its upper left corner at zero.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    pub(super) height: f64,
    pub(super) items: Vec<Item>,
}

/// What happens to the head of a block where the block goes on in another column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Head {
    Repeats,
    StandsOnce,
}

/// A head and what belongs under it.
#[derive(Debug, Clone)]
pub(super) struct Block {
    pub(super) head: Piece,
    pub(super) head_is: Head,
    pub(super) pieces: Vec<Piece>,
}

/// A column to fill.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Column {
    /// The sheet it is on, from 0.
    pub(super) sheet: usize,
    pub(super) area: Area,
}

/// Size of plain type: capitals 3.5 mm high.
pub(super) fn plain() -> f64 {
    text::size_for_height(3.5)
}

/// Size of large type: capitals 5 mm high.
pub(super) fn large() -> f64 {
    text::size_for_height(5.0)
}

impl Piece {
    /// Nothing, of no height.
    pub(super) fn none() -> Self {
        Self { height: 0.0, items: Vec::new() }
    }

    /// A paragraph of plain text, indented behind what hangs to its left.
    pub(super) fn paragraph(
        content: &str,
        (indent, width): (f64, f64),
        hanging: Option<Item>,
    ) -> Self {
        let lines = text::wrapped(content, width - indent, plain(), Face::Regular);
        let mut piece = Self::lines(&lines, Ink::Text, indent);
        piece.items.extend(hanging);
        piece.height += 1.2;
        piece
    }

    /// Lines of text, one under the other.
    pub(super) fn lines(lines: &[String], ink: Ink, indent: f64) -> Self {
        let mut piece = Self::none();
        for line in lines {
            let at = At::new(indent, piece.height + base());
            piece.items.push(Item::text(ink, (at, Anchor::Start), plain(), line.clone()));
            piece.height += PITCH;
        }
        piece
    }

    /// The piece with its corner elsewhere.
    fn moved(&self, right: f64, down: f64) -> Vec<Item> {
        let mut items = self.items.clone();
        items.iter_mut().for_each(|item| item.shift(right, down));
        items
    }
}

/// From the top of a line of plain text to its base line.
pub(super) fn base() -> f64 {
    PITCH * 0.76
}

/// Fills columns with blocks. `column` gives the next column; it is asked for as many as it takes.
///
/// Returns what is drawn, each with the sheet it is on.
pub(super) fn flow(blocks: &[Block], mut column: impl FnMut() -> Column) -> Vec<(usize, Item)> {
    let mut drawn = Vec::new();
    let mut current = column();
    let mut down = current.area.top;
    for block in blocks {
        let first = block.pieces.first().map_or(0.0, |piece| piece.height);
        if current.area.top < down {
            down += BETWEEN;
        }
        let mut head_due = true;
        for (idx, piece) in block.pieces.iter().enumerate() {
            let head = if head_due { block.head.height } else { 0.0 };
            let need = head + if idx == 0 { first } else { piece.height };
            if current.area.bottom < down + need && current.area.top < down {
                current = column();
                down = current.area.top;
                head_due = idx == 0 || block.head_is == Head::Repeats;
            }
            if head_due {
                let items = block.head.moved(current.area.left, down);
                drawn.extend(items.into_iter().map(|item| (current.sheet, item)));
                down += block.head.height;
                head_due = false;
            }
            let items = piece.moved(current.area.left, down);
            drawn.extend(items.into_iter().map(|item| (current.sheet, item)));
            down += piece.height;
        }
    }
    drawn
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(name: &str, height: f64) -> Piece {
        let text = Item::text(Ink::Text, (At::new(0.0, base()), Anchor::Start), plain(), name);
        Piece { height, items: vec![text] }
    }

    #[test]
    fn a_table_goes_on_under_its_head() {
        let rows = (1..=5).map(|idx| piece(&format!("row {idx}"), 10.0)).collect();
        let table = Block { head: piece("head", 10.0), head_is: Head::Repeats, pieces: rows };
        let mut sheet = 0;
        let drawn = flow(&[table], || {
            sheet += 1;
            Column { sheet, area: Area::new(0.0, 0.0, 50.0, 35.0) }
        });
        let heads: Vec<usize> = drawn
            .iter()
            .filter(|(_, item)| matches!(&item.shape, crate::drawing::Shape::Text(text) if text.content == "head"))
            .map(|(sheet, _)| *sheet)
            .collect();
        assert_eq!(heads, [1, 2, 3], "two rows fit under a head");
        assert_eq!(drawn.len(), 5 + 3, "no row is lost");
    }
}
