//! A finished drawing: items at fixed places, in the order in which they are laid down.

use crate::{
    ink::Ink,
    text::{self, Face},
};

/// What one unit of a drawing is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// A millimetre of paper.
    Millimetre,
    /// A CSS pixel.
    Pixel,
}

/// A place in a drawing: right of its left edge, down from its upper edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct At {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

/// An upright rectangle in a drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Area {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

/// Which part of a line of text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// One line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// Where its anchor stands on the base line.
    pub at: At,
    /// Which part of it stands there.
    pub anchor: Anchor,
    /// Size of the type.
    pub size: f64,
    /// The words, as they were written.
    pub content: String,
}

/// The form of an item.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A straight line.
    Line(At, At),
    /// Many straight lines, drawn as one.
    Lines(Vec<(At, At)>),
    /// Open chains of straight lines, drawn as one.
    Chains(Vec<Vec<At>>),
    /// Closed chains of straight lines; inner ones are cut out.
    Rings(Vec<Vec<At>>),
    /// An upright rectangle.
    Rect(Area),
    /// An ellipse with level and plumb axes.
    Ellipse {
        /// Its centre.
        centre: At,
        /// Half its width.
        rx: f64,
        /// Half its height.
        ry: f64,
    },
    /// A line of text.
    Text(Text),
}

/// What an item stands for, so that a screen can answer a touch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tag {
    /// The hole with this mark.
    Hole(usize),
    /// The compartment with this number.
    Compartment(usize),
    /// The finding at this position of the plan's list, from 0.
    Finding(usize),
}

/// One thing that is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Its role.
    pub ink: Ink,
    /// Its form.
    pub shape: Shape,
    /// What it stands for.
    pub tag: Option<Tag>,
}

/// A drawing on a sheet of its size.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// What one unit is.
    pub unit: Unit,
    /// Where its upper left corner lies.
    pub corner: At,
    /// Width of the sheet.
    pub width: f64,
    /// Height of the sheet.
    pub height: f64,
    /// What stays clear along each edge.
    pub margin: f64,
    /// What it is called.
    pub title: String,
    /// What it shows, for those who do not see it.
    pub about: String,
    /// What is drawn, the lowest first.
    pub items: Vec<Item>,
}

/// Something that must not happen in a drawing that people read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Collision {
    /// Two texts touch.
    Texts(String, String),
    /// A text reaches into the margin.
    Margin(String),
    /// A line or an area reaches into the margin.
    Shape(Ink),
}

impl At {
    /// A place from its two distances.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The same place, moved.
    #[must_use]
    pub fn moved(self, right: f64, down: f64) -> Self {
        Self { x: self.x + right, y: self.y + down }
    }
}

impl Area {
    /// An area from its upper left corner and its size.
    pub fn new(left: f64, top: f64, width: f64, height: f64) -> Self {
        Self { left, top, right: left + width, bottom: top + height }
    }

    /// The area of a single place.
    pub fn of(at: At) -> Self {
        Self { left: at.x, top: at.y, right: at.x, bottom: at.y }
    }

    /// From left to right.
    pub fn width(self) -> f64 {
        self.right - self.left
    }

    /// From top to bottom.
    pub fn height(self) -> f64 {
        self.bottom - self.top
    }

    /// The place in its middle.
    pub fn middle(self) -> At {
        At::new(f64::midpoint(self.left, self.right), f64::midpoint(self.top, self.bottom))
    }

    /// Whether two areas share more than an edge.
    pub fn overlaps(self, other: Self) -> bool {
        // All four at once: which of them fails is as good as chance, and a wrong guess takes longer.
        (self.left < other.right)
            & (other.left < self.right)
            & (self.top < other.bottom)
            & (other.top < self.bottom)
    }

    /// Whether the other area lies in this one, edges included.
    pub fn holds(self, other: Self) -> bool {
        self.left <= other.left
            && other.right <= self.right
            && self.top <= other.top
            && other.bottom <= self.bottom
    }

    /// The same area, larger by a margin on each side.
    #[must_use]
    pub fn widened(self, margin: f64) -> Self {
        Self {
            left: self.left - margin,
            top: self.top - margin,
            right: self.right + margin,
            bottom: self.bottom + margin,
        }
    }

    /// The smallest area that holds both.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// Whether a straight line runs through the area.
    pub fn meets_line(self, a: At, b: At) -> bool {
        if self.is_beside(a, b) {
            return false;
        }
        // Most of the others are level or plumb.
        is_straight(a, b) || self.shares(a, b).is_some_and(|(enters, leaves)| enters < leaves)
    }

    /// The part of a straight line that lies in the area.
    pub fn clipped(self, a: At, b: At) -> Option<(At, At)> {
        let (enters, leaves) = self.shares(a, b)?;
        let along = |share: f64| At::new(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share);
        (enters < leaves).then(|| (along(enters), along(leaves)))
    }

    /// Whether a line lies to one side, as most do.
    fn is_beside(self, a: At, b: At) -> bool {
        (a.x <= self.left && b.x <= self.left)
            || (self.right <= a.x && self.right <= b.x)
            || (a.y <= self.top && b.y <= self.top)
            || (self.bottom <= a.y && self.bottom <= b.y)
    }

    /// Where a line enters and leaves the area, as shares of its length.
    fn shares(self, a: At, b: At) -> Option<(f64, f64)> {
        if self.is_beside(a, b) {
            return None;
        }
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        let pairs =
            [(a.x, b.x - a.x, self.left, self.right), (a.y, b.y - a.y, self.top, self.bottom)];
        for (from, along, low, high) in pairs {
            if along.abs() < 1e-9 {
                if from <= low || high <= from {
                    return None;
                }
                continue;
            }
            let (first, second) = ((low - from) / along, (high - from) / along);
            enters = enters.max(first.min(second));
            leaves = leaves.min(first.max(second));
        }
        Some((enters, leaves))
    }
}

impl Text {
    /// The room the text takes when it is drawn in an ink.
    pub fn area(&self, ink: Ink) -> Area {
        let face = ink.face();
        let width = text::width(&self.content, self.size, face);
        let left = match self.anchor {
            Anchor::Start => self.at.x,
            Anchor::Middle => self.at.x - width / 2.0,
            Anchor::End => self.at.x - width,
        };
        let (above, below) = text::reach(&self.content, self.size);
        Area { left, top: self.at.y - above, right: left + width, bottom: self.at.y + below }
    }
}

impl Item {
    /// A thing that is drawn, which stands for nothing to touch.
    pub fn new(ink: Ink, shape: Shape) -> Self {
        Self { ink, shape, tag: None }
    }

    /// A straight line.
    pub fn line(ink: Ink, from: At, to: At) -> Self {
        Self::new(ink, Shape::Line(from, to))
    }

    /// A line of text.
    pub fn text(
        ink: Ink,
        (at, anchor): (At, Anchor),
        size: f64,
        content: impl Into<String>,
    ) -> Self {
        Self::new(ink, Shape::Text(Text { at, anchor, size, content: content.into() }))
    }

    /// The same item, standing for something.
    #[must_use]
    pub fn tagged(self, tag: Tag) -> Self {
        Self { tag: Some(tag), ..self }
    }

    /// Whether there is nothing to draw.
    pub fn is_empty(&self) -> bool {
        match &self.shape {
            Shape::Lines(lines) => lines.is_empty(),
            Shape::Chains(chains) | Shape::Rings(chains) => chains.iter().all(Vec::is_empty),
            Shape::Text(text) => text.content.is_empty(),
            Shape::Line(..) | Shape::Rect(_) | Shape::Ellipse { .. } => false,
        }
    }

    /// The room it takes, without the width of its line.
    pub fn area(&self) -> Area {
        match &self.shape {
            Shape::Line(from, to) => Area::of(*from).with(Area::of(*to)),
            Shape::Lines(lines) => around(lines.iter().flat_map(|(from, to)| [*from, *to])),
            Shape::Chains(chains) | Shape::Rings(chains) => {
                around(chains.iter().flatten().copied())
            }
            Shape::Rect(area) => *area,
            Shape::Ellipse { centre, rx, ry } => Area {
                left: centre.x - rx,
                top: centre.y - ry,
                right: centre.x + rx,
                bottom: centre.y + ry,
            },
            Shape::Text(text) => text.area(self.ink),
        }
    }

    /// Moves it.
    pub fn shift(&mut self, right: f64, down: f64) {
        let shift = |at: &mut At| *at = at.moved(right, down);
        match &mut self.shape {
            Shape::Line(from, to) => {
                shift(from);
                shift(to);
            }
            Shape::Lines(lines) => {
                for (from, to) in lines {
                    shift(from);
                    shift(to);
                }
            }
            Shape::Chains(chains) | Shape::Rings(chains) => {
                chains.iter_mut().flatten().for_each(shift);
            }
            Shape::Rect(area) => {
                *area = Area::new(area.left + right, area.top + down, area.width(), area.height());
            }
            Shape::Ellipse { centre, .. } => shift(centre),
            Shape::Text(text) => shift(&mut text.at),
        }
    }
}

impl Drawing {
    /// What must not be in a drawing: texts that touch each other, and anything in the margin.
    pub fn collisions(&self) -> Vec<Collision> {
        // Places are written to a thousandth; what overlaps by less does not.
        const SLACK: f64 = 0.002;
        let At { x, y } = self.corner;
        let clear = Area::new(x, y, self.width, self.height).widened(SLACK - self.margin);
        let texts: Vec<(&str, Area)> = self.items.iter().filter_map(text_area).collect();
        let mut found = Vec::new();
        for (idx, (content, area)) in texts.iter().enumerate() {
            if !clear.holds(*area) {
                found.push(Collision::Margin((*content).to_owned()));
            }
            let area = area.widened(-SLACK);
            let touching = texts[idx + 1..].iter().filter(|(_, other)| area.overlaps(*other));
            found
                .extend(touching.map(|(other, _)| {
                    Collision::Texts((*content).to_owned(), (*other).to_owned())
                }));
        }
        let shapes = self.items.iter().filter(|item| !matches!(item.shape, Shape::Text(_)));
        let outside = shapes
            .filter(|item| !clear.holds(item.area().widened(item.ink.line_width(self.unit) / 2.0)));
        found.extend(outside.map(|item| Collision::Shape(item.ink)));
        found
    }
}

/// Whether a line is level or plumb, as most are.
#[expect(clippy::float_cmp, reason = "one that is not quite so is looked at closely")]
pub(crate) fn is_straight(a: At, b: At) -> bool {
    a.x == b.x || a.y == b.y
}

/// The room of some places.
fn around(mut places: impl Iterator<Item = At>) -> Area {
    let first = Area::of(places.next().unwrap_or(At::new(0.0, 0.0)));
    places.fold(first, |area, at| area.with(Area::of(at)))
}

fn text_area(item: &Item) -> Option<(&str, Area)> {
    match &item.shape {
        Shape::Text(text) if !text.content.trim().is_empty() => {
            Some((&text.content, text.area(item.ink)))
        }
        _ => None,
    }
}

impl Ink {
    fn face(self) -> Face {
        if self.is_bold() { Face::Bold } else { Face::Regular }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(items: Vec<Item>) -> Drawing {
        let (title, about) = (String::new(), String::new());
        Drawing {
            unit: Unit::Millimetre,
            corner: At::new(0.0, 0.0),
            width: 100.0,
            height: 50.0,
            margin: 10.0,
            title,
            about,
            items,
        }
    }

    fn word(x: f64, y: f64, content: &str) -> Item {
        Item::text(Ink::Text, (At::new(x, y), Anchor::Start), 5.0, content)
    }

    #[test]
    fn texts_that_touch_are_found() {
        let found = sheet(vec![word(20.0, 20.0, "stud"), word(22.0, 21.0, "plate")]).collisions();
        assert_eq!(found, [Collision::Texts("stud".into(), "plate".into())], "one pair");
        let found = sheet(vec![word(20.0, 20.0, "stud"), word(20.0, 30.0, "plate")]).collisions();
        assert_eq!(found, [], "one over the other");
    }

    #[test]
    fn what_reaches_into_the_margin_is_found() {
        let line = Item::line(Ink::Outline, At::new(5.0, 20.0), At::new(50.0, 20.0));
        let found = sheet(vec![word(85.0, 20.0, "top plate"), line]).collisions();
        assert_eq!(
            found,
            [Collision::Margin("top plate".into()), Collision::Shape(Ink::Outline)],
            "text and line"
        );
    }

    #[test]
    fn a_line_meets_what_it_runs_through() {
        let area = Area::new(0.0, 0.0, 10.0, 10.0);
        assert!(area.meets_line(At::new(-5.0, -5.0), At::new(15.0, 15.0)), "across");
        assert!(area.meets_line(At::new(2.0, 5.0), At::new(3.0, 5.0)), "inside");
        assert!(!area.meets_line(At::new(-5.0, 2.0), At::new(2.0, -5.0)), "past a corner");
        assert!(!area.meets_line(At::new(0.0, -5.0), At::new(0.0, 15.0)), "along an edge");
    }
}
