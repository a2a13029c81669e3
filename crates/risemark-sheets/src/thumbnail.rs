//! The small picture of a wall in a list: outline, openings and holes, true to scale.

use risemark::{geometry::Rect, language::Speech, plan::WallPlan, quantity::to_mm};

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
pub fn thumbnail(
    plan: &WallPlan,
    speech: Speech,
    (width, height): (f64, f64),
    scale: Option<f64>,
) -> String {
    let window = whole(plan);
    let per_mm = scale.unwrap_or_else(|| largest(window, (width, height)));
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
    let (title, about) = (name(plan, speech.language), about(plan, speech));
    let (unit, corner) = (Unit::Pixel, At::new(0.0, 0.0));
    svg(&Drawing { unit, corner, width, height, margin: 0.0, title, about, items })
}

/// The largest scale, in pixels a millimetre, at which walls of these extents fit into thumbnails.
pub fn common_scale(extents: impl IntoIterator<Item = Rect>, (width, height): (f64, f64)) -> f64 {
    let scales = extents.into_iter().map(|extent| largest(extent, (width, height)));
    scales.reduce(f64::min).unwrap_or(1.0)
}

fn largest(window: Rect, (width, height): (f64, f64)) -> f64 {
    let room = Area::new(0.0, 0.0, width, height).widened(-EDGE);
    let fits = |room: f64, wall: f64| room.max(1.0) / wall.max(1.0);
    fits(room.width(), to_mm(window.x.length())).min(fits(room.height(), to_mm(window.y.length())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples;
    use risemark::{framing::extent, plan};

    #[test]
    fn a_picture_shows_the_extent_of_its_wall() {
        for wall in samples::walls() {
            let job = samples::job(&wall, "metric");
            let shown = whole(&plan(&job).walls[0]);
            assert_eq!(extent(&job.walls[0]), shown, "known without a plan: {wall}");
        }
    }

    #[test]
    fn walls_at_one_scale_compare() {
        let plans: Vec<WallPlan> = [2400.0, 4800.0]
            .map(|width| {
                plan(&samples::job(&samples::level(width, 2400.0, ""), "metric")).walls.remove(0)
            })
            .into();
        let scale = common_scale(plans.iter().map(whole), (170.0, 60.0));
        // The wider wall sets the scale where it is too wide, the height where it is not.
        assert!((scale - (60.0 - 2.0 * EDGE) / 2400.0).abs() < 1e-9, "by height: {scale}");
        let width = |plan: &WallPlan| {
            let text = thumbnail(plan, Speech::default(), (170.0, 60.0), Some(scale));
            let outline =
                text.lines().find(|line| line.contains("class=\"outline\"")).map(str::to_owned);
            let places = outline
                .expect("an outline")
                .split(['M', 'L', 'Z', '"'])
                .filter_map(|pair| pair.split_once(' ')?.0.parse().ok())
                .collect::<Vec<f64>>();
            places.iter().copied().fold(f64::MIN, f64::max)
                - places.iter().copied().fold(f64::MAX, f64::min)
        };
        assert!((width(&plans[1]) / width(&plans[0]) - 2.0).abs() < 1e-3, "twice as wide");
    }
}
