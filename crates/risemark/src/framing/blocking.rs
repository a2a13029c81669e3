//! Blocks and braces between the studs.

use crate::{
    finding::{Noun, Place, Problem},
    framing::{MemberKind, measured::Measured, site::Site},
    geometry::{Point, Polygon, Rect, Span, intersection},
    job::{Block, BlockKind, Brace, BraceKind},
    limits,
    quantity::{Length, SAME},
};

/// Puts blocks from stud to stud in every bay they touch.
pub(super) fn blocks(site: &mut Site, blocks: &[Block], measured: &mut Measured) {
    for (idx, block) in blocks.iter().enumerate() {
        let height = measured.length(block.height, &limits::BLOCK_HEIGHT);
        let y = Span { from: block.up, to: block.up + height };
        let reach = Span::new(block.from, block.to.unwrap_or(block.from));
        let mut bays = site.free_across(y.middle());
        // A block that begins at the face of a stud is in the bay it reaches into, not in the one it touches.
        bays.retain(|bay| bay.widened(-SAME).common(reach).is_some());
        if bays.is_empty() {
            site.say(
                Place::entry(Noun::Block, idx),
                Problem::NothingThere { what: Noun::Bay, at: block.from },
            );
        }
        for x in bays {
            for piece in site.between_plates(Rect { x, y }) {
                put_block(site, block.kind, piece, measured);
            }
        }
    }
}

fn put_block(site: &mut Site, kind: BlockKind, piece: Polygon, measured: &mut Measured) {
    match kind {
        BlockKind::Full => drop(site.put(MemberKind::Block, piece)),
        BlockKind::Flat => {
            let depth = measured.length(None, &limits::FLAT_BLOCK_DEPTH);
            site.put_beside(MemberKind::FlatBlock, piece, depth);
        }
    }
}

/// Puts braces; one that is let in passes the studs, one that is cut in stops at them.
pub(super) fn braces(
    site: &mut Site,
    braces: &[Brace],
    outline: &Polygon,
    measured: &mut Measured,
) {
    for brace in braces {
        let limit = match brace.kind {
            BraceKind::LetIn => &limits::LET_IN_WIDTH,
            BraceKind::CutIn => &limits::CUT_IN_WIDTH,
        };
        let width = measured.length(brace.width, limit);
        let whole = band(brace.from, brace.to, width);
        for piece in intersection(&[whole], std::slice::from_ref(outline)) {
            match brace.kind {
                BraceKind::LetIn => {
                    let depth = measured.length(None, &limits::LET_IN_DEPTH);
                    site.put_beside(MemberKind::LetInBrace, piece, depth);
                }
                BraceKind::CutIn => drop(site.put(MemberKind::CutInBrace, piece)),
            }
        }
    }
}

/// The strip of a width along a centre line, cut square at both ends.
pub(super) fn band(from: Point, to: Point, width: Length) -> Polygon {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let squared: crate::quantity::Area = dx * dx + dy * dy;
    let long = squared.sqrt();
    let (across_x, across_y) = (-dy * (width / 2.0 / long), dx * (width / 2.0 / long));
    Polygon::simple(vec![
        Point::new(from.x - across_x, from.y - across_y),
        Point::new(to.x - across_x, to.y - across_y),
        Point::new(to.x + across_x, to.y + across_y),
        Point::new(from.x + across_x, from.y + across_y),
    ])
}
