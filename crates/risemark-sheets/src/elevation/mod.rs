//! The one elevation of a wall, on paper and on screen.

use risemark::{
    geometry::{Point, Polygon, Rect, Span, intersection},
    job::End,
    language::Speech,
    plan::WallPlan,
    quantity::{Length, longer, millimeters, shorter},
};

use crate::{
    drawing::{Area, At, Item, Shape, Unit},
    ink::Ink,
    scale::Scale,
    text,
};

mod datum;
mod divisions;
mod findings;
mod hatch;
mod holes;
mod labels;
mod members;
mod obstacles;
mod openings;
mod placing;
mod pole;
mod readings;
mod rows;
mod spaces;
mod spread;
mod stairs;
mod tape;

pub(crate) use findings::mark;
pub(crate) use spaces::unprobed_sign;

/// A part of the drawing that can be left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Layer {
    /// Members, things and zones.
    Framing,
    /// Compartments, plain and empty.
    Compartments,
    /// Holes and their numbers.
    Holes,
    /// Snap lines.
    Lines,
    /// The tape, the story pole and their readings.
    Rulers,
    /// Marks where a finding belongs.
    Findings,
}

/// What is drawn.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Subject<'a> {
    pub(crate) plan: &'a WallPlan,
    /// In which units readings stand, and in which language words.
    pub(crate) speech: Speech,
    /// The part of the wall that is drawn.
    pub(crate) window: Rect,
    /// Mark of the hole that is selected.
    pub(crate) selected: Option<usize>,
    pub(crate) layers: &'a [Layer],
}

/// What becomes of labels that find no room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Crowding {
    /// All are drawn; the elevation then says that it is not legible.
    Keep,
    /// Those that can be spared are left out.
    Thin,
}

/// The sizes of an elevation, in the drawing's unit.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Manner {
    pub(crate) unit: Unit,
    /// Size of the type.
    pub(crate) text: f64,
    /// Size of the type of hole numbers.
    pub(crate) number: f64,
    /// The least room between two texts.
    pub(crate) gap: f64,
    /// A hole is drawn at least this far from its centre to its side.
    pub(crate) ring: f64,
    /// From one line of hatching to the next.
    pub(crate) hatch: f64,
    /// From one division of a ruler to the next, at least.
    pub(crate) division: f64,
    /// The most rows of readings under the tape.
    pub(crate) rows: usize,
    pub(crate) crowding: Crowding,
}

/// An elevation that has been laid out.
#[derive(Debug, Clone)]
pub(crate) struct Elevation {
    pub(crate) items: Vec<Item>,
    /// The room it takes.
    pub(crate) area: Area,
    /// The part of that on which the wall lies.
    pub(crate) wall: Area,
    pub(crate) scale: Scale,
}

/// The room that an elevation takes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Room {
    pub(crate) area: Area,
    pub(crate) scale: Scale,
    /// Whether every reading of its holes finds room.
    pub(crate) complete: bool,
}

/// The room that the rulers take beside the wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Sides {
    /// To the left of the wall.
    pub(crate) left: f64,
    /// To the right of the wall.
    pub(crate) right: f64,
}

/// All that the parts of the drawing need to draw themselves.
#[derive(Debug, Clone, Copy)]
struct Draft<'a> {
    subject: Subject<'a>,
    manner: Manner,
    scale: Scale,
    sides: Sides,
}

impl Layer {
    /// Every layer.
    pub const ALL: [Self; 6] =
        [Self::Framing, Self::Compartments, Self::Holes, Self::Lines, Self::Rulers, Self::Findings];
}

/// The part of a plan's wall that shows all of it, down to the floor.
pub(crate) fn whole(plan: &WallPlan) -> Rect {
    let (outline, face) = (plan.frame.outline.bounds(), plan.frame.face.bounds());
    let floor = millimeters(0.0);
    let bottom = shorter(shorter(outline.y.from, face.y.from), floor);
    let top = longer(outline.y.to, face.y.to);
    Rect { x: Span::new(floor, plan.frame.width), y: Span::new(bottom, top) }
}

/// The room that is needed beside the wall, whatever the scale.
pub(crate) fn sides(subject: &Subject<'_>, manner: &Manner) -> Sides {
    let far = manner.height() * 1.4;
    if !subject.layers.contains(&Layer::Rulers) {
        return Sides { left: far, right: far };
    }
    let datum = pole::strip(subject, manner);
    match subject.plan.frame.datum {
        End::Left => Sides { left: datum, right: far },
        End::Right => Sides { left: far, right: datum },
    }
}

/// The most height that the tape with its readings takes under the wall.
pub(crate) fn tape_height(manner: &Manner) -> f64 {
    tape::height(manner) + readings::height(manner)
}

/// The least room that an elevation with its tape takes, however few readings stand under that.
pub(crate) fn least_room(subject: Subject<'_>, per_mm: f64, manner: Manner) -> Area {
    let room = Draft::new(subject, per_mm, manner).room();
    Area { bottom: room.bottom + tape::height(&manner), ..room }
}

/// Finds the room that an elevation takes without drawing it.
pub(crate) fn measured(subject: Subject<'_>, per_mm: f64, manner: Manner) -> Room {
    let draft = Draft::new(subject, per_mm, manner);
    let (scale, mut area) = (draft.scale, draft.room());
    if !subject.layers.contains(&Layer::Rulers) {
        return Room { area, scale, complete: true };
    }
    let (bottom, complete) = tape::foot(&draft);
    area.bottom = area.bottom.max(bottom).max(pole::foot(&draft));
    Room { area, scale, complete }
}

/// Lays out the elevation at a scale, the lower left corner of what is drawn at zero.
pub(crate) fn lay_out(subject: Subject<'_>, per_mm: f64, manner: Manner) -> Elevation {
    let draft = Draft::new(subject, per_mm, manner);
    let shown = |layer: Layer| subject.layers.contains(&layer);

    // The wall from the back to the front.
    let mut items = Vec::new();
    if shown(Layer::Compartments) {
        items.extend(spaces::compartments(&draft));
    }
    if shown(Layer::Framing) {
        items.extend(members::members(&draft));
        items.extend(obstacles::things(&draft));
    }
    items.extend(openings::openings(&draft));
    if shown(Layer::Framing) {
        items.extend(members::flat_members(&draft));
        items.extend(obstacles::zones(&draft));
    }
    items.extend(outline(&draft));

    // What is marked on it.
    if shown(Layer::Lines) {
        items.extend(holes::snap_lines(&draft));
    }
    if shown(Layer::Rulers) {
        items.extend(pole::pole(&draft));
        items.extend(tape::tape(&draft));
    }
    if shown(Layer::Holes) {
        items.extend(holes::rings(&draft));
    }
    if shown(Layer::Findings) {
        items.extend(findings::marks(&draft));
    }
    items.extend(labels::labels(&draft, &items));
    if shown(Layer::Rulers) {
        items.extend(datum::corner(&draft));
    }

    // What lies outside the window leaves nothing to draw.
    items.retain(|item| !item.is_empty());
    let area = items.iter().map(Item::area).fold(draft.room(), Area::with);
    Elevation { items, area, wall: draft.wall(), scale: draft.scale }
}

/// The edge of the wall, open where the drawing ends before the wall does.
fn outline(draft: &Draft<'_>) -> Vec<Item> {
    let wall = draft.wall().widened(1e-6);
    let frame = &draft.subject.plan.frame;
    let edges = |polygon: &Polygon| -> Vec<(At, At)> {
        let places = polygon.edges().map(|(a, b)| (draft.scale.at(a), draft.scale.at(b)));
        places.filter_map(|(a, b)| wall.clipped(a, b)).collect()
    };
    let whole = wall.holds(draft.area_of(frame.outline.bounds()));
    let shape = if whole {
        Shape::Rings(draft.rings(&frame.outline))
    } else {
        Shape::Lines(edges(&frame.outline))
    };
    let mut items = vec![Item::new(Ink::Outline, shape)];
    if frame.face != frame.outline {
        items.insert(0, Item::new(Ink::Face, Shape::Lines(edges(&frame.face))));
    }
    items
}

impl Manner {
    /// Height of capitals and figures: the measure of everything round the wall.
    fn height(&self) -> f64 {
        text::height(self.text)
    }
}

impl<'a> Draft<'a> {
    fn new(subject: Subject<'a>, per_mm: f64, manner: Manner) -> Self {
        let corner = (subject.window.x.from, subject.window.y.from);
        let unmoved = Scale { per_mm, origin: At::new(0.0, 0.0) };
        let origin = At::new(-unmoved.size(corner.0), unmoved.size(corner.1));
        let sides = sides(&subject, &manner);
        Self { subject, manner, scale: Scale { per_mm, origin }, sides }
    }

    /// The part of the wall that is drawn.
    fn wall(&self) -> Area {
        self.area_of(self.subject.window)
    }

    /// The wall with the room beside it, which no label leaves.
    fn room(&self) -> Area {
        let (wall, sides) = (self.wall(), self.sides);
        let above = self.manner.height() * 0.4;
        Area {
            left: wall.left - sides.left,
            right: wall.right + sides.right,
            top: wall.top - above,
            ..wall
        }
    }

    fn area_of(&self, rect: Rect) -> Area {
        Area {
            left: self.scale.x(rect.x.from),
            right: self.scale.x(rect.x.to),
            top: self.scale.y(rect.y.to),
            bottom: self.scale.y(rect.y.from),
        }
    }

    /// Where a reading from the datum end lies.
    fn reading_x(&self, reading: Length) -> f64 {
        match self.subject.plan.frame.datum {
            End::Left => self.scale.x(reading),
            End::Right => self.scale.x(self.subject.plan.frame.width - reading),
        }
    }

    /// The readings from the datum end that are drawn.
    fn readings(&self) -> Span {
        let (window, width) = (self.subject.window.x, self.subject.plan.frame.width);
        match self.subject.plan.frame.datum {
            End::Left => window,
            End::Right => Span::new(width - window.from, width - window.to),
        }
    }

    /// Which way the wall lies from its datum end: 1 to the right, -1 to the left.
    fn away(&self) -> f64 {
        match self.subject.plan.frame.datum {
            End::Left => 1.0,
            End::Right => -1.0,
        }
    }

    /// The edge of what is drawn at the datum end.
    fn datum_edge(&self) -> f64 {
        match self.subject.plan.frame.datum {
            End::Left => self.wall().left,
            End::Right => self.wall().right,
        }
    }

    fn sees(&self, place: Point) -> bool {
        self.subject.window.x.contains(place.x) && self.subject.window.y.contains(place.y)
    }

    /// The parts of an area of the wall that are drawn.
    fn clipped(&self, polygon: &Polygon) -> Vec<Polygon> {
        let (bounds, window) = (polygon.bounds(), self.subject.window);
        if self.is_whole(bounds) {
            return vec![polygon.clone()];
        }
        if !bounds.overlaps(window) {
            return Vec::new();
        }
        intersection(std::slice::from_ref(polygon), &[window.polygon()])
    }

    /// Whether all that lies within some bounds is drawn.
    fn is_whole(&self, bounds: Rect) -> bool {
        let within = self.subject.window.widened(risemark::quantity::SAME);
        let holds =
            |span: Span, bounds: Span| span.contains(bounds.from) && span.contains(bounds.to);
        holds(within.x, bounds.x) && holds(within.y, bounds.y)
    }

    fn rings(&self, polygon: &Polygon) -> Vec<Vec<At>> {
        polygon
            .rings()
            .map(|ring| ring.iter().map(|place| self.scale.at(*place)).collect())
            .collect()
    }

    /// The parts of an area that are drawn, as rings.
    fn pieces(&self, polygon: &Polygon) -> Vec<Vec<Vec<At>>> {
        // Most are drawn as a whole.
        if self.is_whole(polygon.bounds()) {
            return vec![self.rings(polygon)];
        }
        self.clipped(polygon).iter().map(|piece| self.rings(piece)).collect()
    }

    fn text_ink(&self, chosen: bool) -> Ink {
        if chosen { Ink::ReadingChosen } else { Ink::Reading }
    }
}
