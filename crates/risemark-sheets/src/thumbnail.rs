//! The small picture of a wall in a list: outline, openings and holes, true to scale.

use risemark::{plan::WallPlan, quantity::to_mm};

use crate::{
    drawing::{Area, At, Drawing, Item, Shape, Tag, Unit},
    elevation::whole,
    ink::Ink,
    scale::Scale,
    screen::{about, name},
    svg::svg,
};

/// Room for the outline at the edge of the picture.
const EDGE: f64 = 1.5;
/// Half the width of a hole: too small to be true, but to be seen.
const RING: f64 = 1.6;

/// Draws one wall small, in CSS pixels, standing on the lower edge of the picture.
///
/// `scale` in pixels a millimetre makes several walls comparable, see [`common_scale`]; without it
/// the wall fills the picture.
pub fn thumbnail(plan: &WallPlan, (width, height): (f64, f64), scale: Option<f64>) -> String {
    let window = whole(plan);
    let per_mm = scale.unwrap_or_else(|| largest(plan, (width, height)));
    let left = (width - to_mm(window.x.length()) * per_mm) / 2.0;
    let floor = height - EDGE + to_mm(window.y.from) * per_mm;
    let scale = Scale { per_mm, origin: At::new(left, floor) };
    let rings = |polygon: &risemark::geometry::Polygon| -> Shape {
        Shape::Rings(
            polygon
                .rings()
                .map(|ring| ring.iter().map(|place| scale.at(*place)).collect())
                .collect(),
        )
    };

    let outline = Item::new(Ink::Outline, rings(&plan.frame.outline));
    let openings =
        plan.frame.openings.iter().map(|opening| Item::new(Ink::Opening, rings(&opening.polygon)));
    let holes = plan.drill.holes.iter().map(|hole| {
        let shape = Shape::Ellipse { centre: scale.at(hole.centre), rx: RING, ry: RING };
        Item::new(Ink::Hole, shape).tagged(Tag::Hole(hole.mark))
    });
    let items: Vec<Item> = openings.chain(std::iter::once(outline)).chain(holes).collect();
    let about = about(plan, risemark::quantity::Units::default());
    svg(&Drawing { unit: Unit::Pixel, width, height, margin: 0.0, title: name(plan), about, items })
}

/// The largest scale, in pixels a millimetre, at which each of the walls fits into a thumbnail.
pub fn common_scale<'a>(
    plans: impl IntoIterator<Item = &'a WallPlan>,
    (width, height): (f64, f64),
) -> f64 {
    plans.into_iter().map(|plan| largest(plan, (width, height))).fold(f64::INFINITY, f64::min)
}

fn largest(plan: &WallPlan, (width, height): (f64, f64)) -> f64 {
    let window = whole(plan);
    let room = Area::new(0.0, 0.0, width, height).widened(-EDGE);
    let fits = |room: f64, wall: f64| room.max(1.0) / wall.max(1.0);
    fits(room.width(), to_mm(window.x.length())).min(fits(room.height(), to_mm(window.y.length())))
}
