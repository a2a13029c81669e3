//! What there is around a compartment, and what of it is too near at a height.

use crate::{
    compartments::Compartment,
    drilling::clearance::{Piece, SLACK, Side},
    finding::Avoided,
    framing::Frame,
    geometry::{Point, Polygon, Rect, Span, Spans, sort},
    quantity::{Length, longer, same, shorter},
    rules::Rules,
};

/// A compartment with what the centre of a hole keeps off.
#[derive(Debug)]
pub(super) struct Near<'a> {
    pub(super) compartment: &'a Compartment,
    /// The room that timber and face leave, where they are upright.
    pub(super) upright: Option<Rect>,
    face: &'a Polygon,
    timber_sides: Vec<Side>,
    /// The sides of the face that can matter here.
    face_sides: Vec<Side>,
    things: Vec<(Avoided, Piece)>,
    /// From a hole up to the timber above it.
    above: Length,
}

impl<'a> Near<'a> {
    /// What a frame has around one of its compartments.
    pub(super) fn of(compartment: &'a Compartment, frame: &'a Frame, rules: &Rules) -> Self {
        let (timber, face) = (&compartment.polygon, &frame.face);
        let (bounds, edge) = (timber.bounds(), rules.edge_distance());
        let side = |ends| Side::new(ends, edge);
        let beside =
            |(a, b): &(Point, Point)| Span::new(a.x, b.x).widened(edge).common(bounds.x).is_some();
        let things = frame.obstacles.iter().flat_map(|obstacle| {
            let distance = obstacle.keep_off + rules.bit / 2.0;
            let reaches = move |piece: &&Polygon| piece.bounds().widened(distance).overlaps(bounds);
            let pieces = obstacle.pieces.iter().filter(reaches);
            pieces.map(move |piece| (obstacle.what, Piece::new(piece, distance)))
        });
        Self {
            compartment,
            upright: upright(timber, face, rules),
            face,
            timber_sides: timber.edges().map(side).collect(),
            face_sides: face.edges().filter(beside).map(side).collect(),
            things: things.collect(),
            above: rules.top_clearance,
        }
    }

    /// The stretches at a height where the centre of a hole may be, from left to right.
    ///
    /// In an upright bay only the things at the height make a difference.
    pub(super) fn open(&self, y: Length, within: Span) -> Spans {
        match self.upright {
            None => self.free(y, within),
            Some(room) if room.y.contains(y) => {
                room.x.common(within).map_or_else(Spans::new, |x| self.beside_things(y, x))
            }
            Some(_) => Spans::new(),
        }
    }

    /// As [`Near::open`], looking at every side of the bay.
    pub(super) fn free(&self, y: Length, within: Span) -> Spans {
        let open = self.compartment.polygon.across(y);
        let open = open.into_iter().filter_map(|span| span.common(within));
        let shown = self.face.across(y);
        let seen = |span: Span| shown.iter().filter_map(move |face| span.common(*face));
        let beside_face = self.face_sides.iter().filter_map(|side| side.beside(y));
        let taken = self.timber_at(y).chain(beside_face).chain(self.things_at(y));
        without(open.flat_map(seen), taken)
    }

    /// Stretches of heights in each of which the same places are free.
    pub(super) fn quiet(&self) -> Spans {
        let things = self.things.iter().flat_map(|(_, piece)| piece.changes());
        let mut changes: Vec<Span> = things.collect();
        // In an upright bay only things make a difference.
        if self.upright.is_none() {
            let sides = self.timber_sides.iter().chain(&self.face_sides);
            changes.extend(sides.flat_map(|side| side.changes(self.above)));
        }
        self.compartment.polygon.bounds().y.without(&changes)
    }

    /// What the things near a height leave of a stretch.
    pub(super) fn beside_things(&self, y: Length, open: Span) -> Spans {
        without(std::iter::once(open), self.things_at(y))
    }

    /// What keeps the centre of a hole off a place.
    pub(super) fn blocked_by(&self, place: Point) -> Vec<Avoided> {
        let covers = |span: Span| span.from + SLACK < place.x && place.x < span.to - SLACK;
        let things = self.things.iter();
        let near = things.filter(|(_, piece)| piece.around(place.y).is_some_and(covers));
        let mut blocked: Vec<Avoided> = near.map(|(what, _)| *what).collect();
        let bay = self.compartment.polygon.across(place.y);
        let inside = bay.iter().any(|span| span.contains(place.x));
        if !inside || self.timber_at(place.y).any(covers) {
            blocked.push(Avoided::Timber);
        }
        crate::order::sort(&mut blocked);
        blocked.dedup();
        blocked
    }

    fn timber_at(&self, y: Length) -> impl Iterator<Item = Span> {
        let taken = move |side: &Side| [side.beside(y), side.over(y, self.above)];
        self.timber_sides.iter().flat_map(taken).flatten()
    }

    fn things_at(&self, y: Length) -> impl Iterator<Item = Span> {
        self.things.iter().filter_map(move |(_, piece)| piece.around(y))
    }
}

/// The legal room of a rectangular bay behind a rectangular face; one end past the other where there is none.
fn upright(timber: &Polygon, face: &Polygon, rules: &Rules) -> Option<Rect> {
    let (bay, face, edge) = (rectangle(timber)?, rectangle(face)?, rules.edge_distance());
    let y = Span {
        from: longer(bay.y.from, face.y.from) + edge,
        to: shorter(bay.y.to - rules.top_clearance, face.y.to - edge),
    };
    Some(Rect { x: bay.x.widened(-edge), y }.widened(SLACK))
}

fn rectangle(polygon: &Polygon) -> Option<Rect> {
    let square = |(a, b): (Point, Point)| same(a.x, b.x) || same(a.y, b.y);
    let plain = polygon.inner.is_empty() && polygon.outer.len() == 4 && polygon.edges().all(square);
    plain.then(|| polygon.bounds())
}

/// What is left of stretches when others are taken out of all of them, those of no length included.
fn without(open: impl Iterator<Item = Span>, taken: impl Iterator<Item = Span>) -> Spans {
    let mut less: Spans = taken.map(|span| span.widened(-SLACK)).collect();
    sort(&mut less);
    open.flat_map(|span| span.without_sorted(&less)).filter(|span| span.from <= span.to).collect()
}
