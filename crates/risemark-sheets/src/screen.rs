//! The elevation as it is looked at and edited on a screen.

use risemark::{
    geometry::{Point, Rect, Span},
    language::{Language, Speech},
    plan::WallPlan,
    quantity::{Units, longer, millimeters, shorter, to_mm},
    tape::reading,
};

use crate::{
    drawing::{At, Drawing, Unit},
    elevation::{
        Crowding, Elevation, Layer, Manner, Sides, Subject, lay_out, measured, sides, tape_height,
        whole,
    },
    scale::Scale,
    svg::svg,
    text, words,
};

/// How a wall is shown on a screen. All sizes are CSS pixels.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// The room there is.
    pub fit: Fit,
    /// Mark of the hole that is selected: it is filled and its readings are bold.
    pub selected: Option<usize>,
    /// What is drawn beside the outline, in any order.
    pub layers: Vec<Layer>,
    /// Size of the type.
    pub text: f64,
    /// The least room between two texts.
    pub gap: f64,
    /// The language of everything in words.
    pub language: Language,
}

/// The room a picture has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fit {
    /// As wide as this; as high as the wall then needs.
    Width(f64),
    /// The largest that is no wider and no higher than this.
    Inside {
        /// Width of the room.
        width: f64,
        /// Height of the room.
        height: f64,
    },
    /// At so many pixels a millimetre of wall; as large as the picture then is.
    Scale(f64),
    /// At so many pixels a millimetre of wall, as much of the wall as the room takes: the rulers stand
    /// at the edges of the room, with the readings of what is seen.
    Part {
        /// Pixels a millimetre of wall.
        per_mm: f64,
        /// Where the wall's origin lies in the room, right and down, in it or not.
        origin: (f64, f64),
        /// Width of the room.
        width: f64,
        /// Height of the room.
        height: f64,
    },
    /// At so many pixels a millimetre of wall; as large as the wall, with all that stands beside and
    /// under it outside the picture. It keeps its size while what is on the wall is moved about.
    Wall(f64),
}

/// The room that is taken beside a wall, in pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beside {
    /// To its left.
    pub left: f64,
    /// To its right.
    pub right: f64,
    /// Above it.
    pub above: f64,
    /// Under it, at most.
    pub below: f64,
}

/// A picture for the screen, and where the wall lies in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// The drawing: one `<svg>` element whose user unit is a CSS pixel.
    ///
    /// Every part has a class; holes carry `data-mark`, compartments `data-compartment`, and the
    /// marks of findings `data-finding`, which counts from 0 in the plan's list.
    pub svg: String,
    /// Width in pixels.
    pub width: f64,
    /// Height in pixels.
    pub height: f64,
    /// Pixels a millimetre of wall.
    pub scale: f64,
    /// Where the wall's origin, its left end at the finished floor, lies in the picture.
    pub origin: (f64, f64),
}

impl View {
    /// Everything shown, in a room of some width.
    pub fn wide(width: f64) -> Self {
        Self {
            fit: Fit::Width(width),
            selected: None,
            layers: Layer::ALL.into(),
            text: 13.0,
            gap: 6.0,
            language: Language::default(),
        }
    }
}

impl Picture {
    /// Where a place on the wall lies in the picture, right and down.
    pub fn at(&self, place: Point) -> (f64, f64) {
        (self.origin.0 + to_mm(place.x) * self.scale, self.origin.1 - to_mm(place.y) * self.scale)
    }

    /// The place on the wall that lies at a point of the picture.
    pub fn place(&self, (right, down): (f64, f64)) -> Point {
        let length = |pixels: f64| millimeters(pixels / self.scale);
        Point::new(length(right - self.origin.0), length(self.origin.1 - down))
    }
}

/// Draws one wall for the screen.
pub fn screen(plan: &WallPlan, units: Units, view: &View) -> Picture {
    let (drawing, scale) = drawing(plan, units, view);
    let Drawing { corner, width, height, .. } = drawing;
    let Scale { per_mm, origin } = scale;
    let origin = (origin.x - corner.x, origin.y - corner.y);
    Picture { svg: svg(&drawing), width, height, scale: per_mm, origin }
}

/// The room that rulers and edges take beside a wall, whatever its scale.
pub fn beside(plan: &WallPlan, units: Units, view: &View) -> Beside {
    let view = &sound(view);
    let (subject, manner) = (subject(plan, units, view), manner(view));
    let Sides { left, right } = sides(&subject, &manner);
    let under = if view.layers.contains(&Layer::Rulers) { tape_height(&manner) } else { 0.0 };
    let above = text::height(manner.text);
    Beside { left: left + EDGE, right: right + EDGE, above: above + EDGE, below: under + EDGE }
}

fn subject<'a>(plan: &'a WallPlan, units: Units, view: &'a View) -> Subject<'a> {
    let speech = Speech { units, language: view.language };
    let (selected, layers) = (view.selected, &view.layers);
    Subject { plan, speech, window: whole(plan), selected, layers }
}

/// The picture before it is written, and where the wall lies in it.
fn drawing(plan: &WallPlan, units: Units, view: &View) -> (Drawing, Scale) {
    let view = &sound(view);
    let manner = manner(view);
    let subject = seen(subject(plan, units, view), view, &beside(plan, units, view));
    let elevation = fitted(subject, view, manner);
    let area = match view.fit {
        Fit::Wall(_) => elevation.wall,
        Fit::Width(_) | Fit::Inside { .. } | Fit::Scale(_) | Fit::Part { .. } => {
            elevation.area.widened(EDGE)
        }
    };
    let (width, height) = match view.fit {
        Fit::Width(width) => (width, area.height()),
        Fit::Inside { width, height } | Fit::Part { width, height, .. } => (width, height),
        Fit::Scale(_) | Fit::Wall(_) => (area.width(), area.height()),
    };
    // What is left of the room lies evenly on both sides. The wall keeps its place, whatever room is
    // taken beside it, so that a picture of a wall that changed a little differs little.
    let spare = (width - area.width(), height - area.height());
    let Elevation { items, scale, .. } = elevation;
    let corner = match view.fit {
        Fit::Part { origin, .. } => At::new(scale.origin.x - origin.0, scale.origin.y - origin.1),
        _ => At::new(area.left - spare.0 / 2.0, area.top - spare.1 / 2.0),
    };
    let (title, about) = (name(plan, view.language), about(plan, subject.speech));
    let unit = Unit::Pixel;
    (Drawing { unit, corner, width, height, margin: 0.0, title, about, items }, scale)
}

/// As much of the wall as is seen; all of it where nothing is.
fn seen<'a>(subject: Subject<'a>, view: &View, beside: &Beside) -> Subject<'a> {
    let Fit::Part { per_mm, origin, width, height } = view.fit else { return subject };
    let all = subject.window;
    let length = |pixels: f64| millimeters(pixels / per_mm);
    let (left, right) = (beside.left - origin.0, width - beside.right - origin.0);
    let x = Span::new(longer(all.x.from, length(left)), shorter(all.x.to, length(right)));
    // Fewer readings than there could be leave more room for the wall.
    let abreast = Subject { window: Rect { x, ..all }, ..subject };
    let below = match x.from < x.to {
        true if subject.layers.contains(&Layer::Rulers) => {
            let room = measured(abreast, per_mm, manner(view));
            room.area.bottom - room.scale.y(all.y.from) + EDGE
        }
        _ => beside.below,
    };
    let (top, bottom) = (origin.1 - beside.above, origin.1 - (height - below));
    let y = Span::new(longer(all.y.from, length(bottom)), shorter(all.y.to, length(top)));
    if x.to <= x.from || y.to <= y.from {
        return subject;
    }
    Subject { window: Rect { x, y }, ..subject }
}

/// The view with sizes that can be drawn: a page that is being laid out may ask for none at all.
fn sound(view: &View) -> View {
    let within = |size: f64, least: f64, most: f64| {
        if size.is_finite() { size.clamp(least, most) } else { least }
    };
    let room = |size: f64| within(size, 1.0, 20_000.0);
    let fit = match view.fit {
        Fit::Width(width) => Fit::Width(room(width)),
        Fit::Inside { width, height } => Fit::Inside { width: room(width), height: room(height) },
        Fit::Scale(per_mm) => Fit::Scale(within(per_mm, 1e-4, 100.0)),
        Fit::Wall(per_mm) => Fit::Wall(within(per_mm, 1e-4, 100.0)),
        Fit::Part { per_mm, origin: (right, down), width, height } => {
            let place = |size: f64| within(size, -1e6, 1e6);
            let (width, height) = (room(width), room(height));
            let per_mm = within(per_mm, 1e-4, 100.0);
            Fit::Part { per_mm, origin: (place(right), place(down)), width, height }
        }
    };
    View {
        fit,
        text: within(view.text, 4.0, 400.0),
        gap: within(view.gap, 0.0, 400.0),
        ..view.clone()
    }
}

/// What the wall is called.
pub(crate) fn name(plan: &WallPlan, language: Language) -> String {
    if plan.wall.name.is_empty() {
        words::wall(plan.wall.number, language)
    } else {
        plan.wall.name.clone()
    }
}

/// What the elevation shows, in one sentence.
pub(crate) fn about(plan: &WallPlan, speech: Speech) -> String {
    let size = about_size(plan, speech.units);
    words::elevation(&size, &plan.drill.holes, &plan.drill.snap_lines, speech.language)
}

/// Width and height of the wall.
pub(crate) fn about_size(plan: &WallPlan, units: Units) -> String {
    let (width, height) = (plan.frame.width, plan.frame.face.bounds().y.length());
    format!("{} × {}", reading(width, units), reading(height, units))
}

/// Room for the width of lines at the edge of the picture.
const EDGE: f64 = 2.0;

fn manner(view: &View) -> Manner {
    Manner {
        unit: Unit::Pixel,
        text: view.text,
        number: view.text,
        gap: view.gap,
        ring: view.text * 0.27,
        hatch: view.text * 0.42,
        division: 3.0,
        rows: 3,
        crowding: Crowding::Thin,
    }
}

/// The elevation at the largest scale at which it fits the room.
fn fitted(subject: Subject<'_>, view: &View, manner: Manner) -> Elevation {
    let width = match view.fit {
        Fit::Width(width) | Fit::Inside { width, .. } => width,
        Fit::Scale(per_mm) | Fit::Wall(per_mm) | Fit::Part { per_mm, .. } => {
            return lay_out(subject, per_mm, manner);
        }
    };
    let sides = sides(&subject, &manner);
    let room = width - 2.0 * EDGE - sides.left - sides.right;
    let wall =
        (to_mm(subject.window.x.length()).max(1.0), to_mm(subject.window.y.length()).max(1.0));
    // Never so small that nothing is left of the wall.
    let by_width = room.max(MIN_WALL) / wall.0;
    let Fit::Inside { height, .. } = view.fit else { return lay_out(subject, by_width, manner) };
    let lower = |per_mm: f64, spare: f64| (wall.1 * per_mm + spare).max(MIN_WALL) / wall.1;
    // A smaller wall may need more rows under its tape, so what is too high is made lower again.
    let mut per_mm = by_width;
    for _ in 0..N_TRIES {
        let spare = height - 2.0 * EDGE - measured(subject, per_mm, manner).area.height();
        if 0.0 <= spare {
            break;
        }
        per_mm = lower(per_mm, spare);
    }
    // What is drawn may reach a little further than what was measured.
    let elevation = lay_out(subject, per_mm, manner);
    let spare = height - 2.0 * EDGE - elevation.area.height();
    if 0.0 <= spare { elevation } else { lay_out(subject, lower(per_mm, spare), manner) }
}

/// How often a picture that is too high is made lower.
const N_TRIES: usize = 5;
/// A wall is drawn at least this wide and high.
const MIN_WALL: f64 = 8.0;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{drawing::Shape, samples};
    use risemark::{plan, quantity::to_mm};

    fn check(wall: &str, view: &View) {
        let job = samples::job(wall, "feet-inches");
        let plan = plan(&job).walls.remove(0);
        let selected = plan.drill.holes.get(plan.drill.holes.len() / 2).map(|hole| hole.mark);
        let view = View { selected, ..view.clone() };
        let (drawing, scale) = drawing(&plan, job.units, &view);
        let found = drawing.collisions();
        assert!(found.is_empty(), "{wall} in {:?}: {found:?}", view.fit);
        for hole in plan.drill.holes.iter().filter(|hole| Some(hole.mark) == selected) {
            let shown = |length| {
                let text = reading(length, job.units);
                let texts =
                    drawing.items.iter().filter(|item| item.ink == crate::ink::Ink::ReadingChosen);
                texts.filter(|item| matches!(&item.shape, Shape::Text(found) if found.content.contains(&text))).count()
            };
            assert_eq!(
                [shown(hole.across), shown(hole.up)],
                [1, 1],
                "{wall}: both readings of the selected hole"
            );
        }
        assert!(0.0 < scale.per_mm, "{wall}: a scale");
    }

    #[test]
    fn nothing_is_cut_and_nothing_touches() {
        for wall in samples::walls() {
            for width in [320.0, 390.0, 900.0, 1600.0] {
                for language in Language::ALL {
                    check(&wall, &View { language, ..View::wide(width) });
                }
            }
        }
    }

    #[test]
    fn a_picture_stays_in_its_room() {
        let job = samples::job(&samples::walls()[3], "metric");
        let plan = plan(&job).walls.remove(0);
        for (width, height) in [(800.0, 300.0), (390.0, 300.0), (300.0, 900.0)] {
            let view = View { fit: Fit::Inside { width, height }, ..View::wide(width) };
            let (drawing, _) = drawing(&plan, job.units, &view);
            assert!(
                drawing.collisions().is_empty(),
                "{width} by {height}: {:?}",
                drawing.collisions()
            );
        }
    }

    #[test]
    fn a_picture_at_a_scale_is_as_large_as_it_needs() {
        let job = samples::job(&samples::walls()[3], "metric");
        let plan = plan(&job).walls.remove(0);
        let fitted = screen(&plan, job.units, &View::wide(900.0));
        for times in [1.0, 2.5] {
            let fit = Fit::Scale(fitted.scale * times);
            let picture = screen(&plan, job.units, &View { fit, ..View::wide(900.0) });
            assert!((picture.scale - fitted.scale * times).abs() < 1e-9, "{}", picture.scale);
            let wall = to_mm(plan.frame.width) * picture.scale;
            assert!(wall < picture.width, "{wall} in {}", picture.width);
        }
    }

    #[test]
    fn a_picture_as_large_as_the_wall_keeps_its_size_whatever_is_on_it() {
        let job = samples::job(&samples::walls()[3], "metric");
        let size = |job: &risemark::job::Job| {
            let view = View { fit: Fit::Wall(0.2), ..View::wide(0.0) };
            let plan = plan(job).walls.remove(0);
            let picture = screen(&plan, job.units, &view);
            let scaled = screen(&plan, job.units, &View { fit: Fit::Scale(0.2), ..view });
            assert!(picture.height < scaled.height, "the tape lies under it");
            assert_eq!(
                picture.svg.lines().skip(1).collect::<Vec<_>>(),
                scaled.svg.lines().skip(1).collect::<Vec<_>>(),
                "everything is drawn where it is in the whole picture"
            );
            (picture.width, picture.height, picture.origin)
        };
        let bare = {
            let mut job = job.clone();
            job.walls[0].openings.clear();
            size(&job)
        };
        assert!((bare.0 - to_mm(plan(&job).walls[0].frame.width) * 0.2).abs() < 1e-9, "{bare:?}");
        assert_eq!(size(&job), bare, "with and without openings");
    }

    #[test]
    fn a_part_of_a_wall_fills_its_room_with_its_rulers() {
        for wall in samples::walls() {
            let job = samples::job(&wall, "feet-inches");
            let plan = plan(&job).walls.remove(0);
            for origin in [(120.0, 300.0), (-260.0, 340.0), (-400.0, 600.0)] {
                let (per_mm, width, height) = (0.25, 700.0, 380.0);
                // Nobody can move a wall out of view.
                if origin.0 + to_mm(plan.frame.width) * per_mm < 300.0 {
                    continue;
                }
                let fit = Fit::Part { per_mm, origin, width, height };
                let (drawing, scale) = drawing(&plan, job.units, &View { fit, ..View::wide(0.0) });
                let (x, y) = (scale.origin.x - drawing.corner.x, scale.origin.y - drawing.corner.y);
                assert!((x - origin.0).abs() + (y - origin.1).abs() < 1e-9, "{wall}: {x}, {y}");
                let found = drawing.collisions();
                assert!(found.is_empty(), "{wall} from {origin:?}: {found:?}");
                let shown = |ink| drawing.items.iter().any(|item| item.ink == ink);
                assert!(shown(crate::ink::Ink::Ruler), "{wall} from {origin:?}: rulers");
            }
        }
    }

    #[test]
    fn sizes_that_make_no_sense_are_survived() {
        let job = samples::job(&samples::walls()[3], "metric");
        let plan = plan(&job).walls.remove(0);
        for size in [f64::NAN, f64::INFINITY, -5.0, 0.0, 1.0, 30.0, 1e9] {
            let fit = Fit::Part { per_mm: size, origin: (size, size), width: size, height: size };
            let part = screen(&plan, job.units, &View { fit, ..View::wide(390.0) });
            assert!(part.scale.is_finite() && part.width.is_finite(), "{size}");
            let wide = View { fit: Fit::Width(size), ..View::wide(390.0) };
            let high =
                View { fit: Fit::Inside { width: 390.0, height: size }, ..View::wide(390.0) };
            let type_size = View { text: size, gap: size, ..View::wide(390.0) };
            let scaled = View { fit: Fit::Scale(size.min(1.0)), ..View::wide(390.0) };
            let wall = View { fit: Fit::Wall(size.min(1.0)), ..View::wide(390.0) };
            for view in [wide, high, type_size, scaled, wall] {
                let picture = screen(&plan, job.units, &view);
                assert!(
                    picture.scale.is_finite() && 0.0 < picture.scale,
                    "{size}: {}",
                    picture.scale
                );
            }
        }
    }

    #[test]
    fn the_picture_says_where_the_wall_lies() {
        let job = samples::job(&samples::walls()[0], "metric");
        let plan = plan(&job).walls.remove(0);
        let picture = screen(&plan, job.units, &View::wide(900.0));
        let (Drawing { corner, .. }, _) = drawing(&plan, job.units, &View::wide(900.0));
        for hole in &plan.drill.holes {
            let (x, y) = picture.at(hole.centre);
            let number = crate::svg::number;
            let written =
                format!("cx=\"{}\" cy=\"{}\"", number(x + corner.x), number(y + corner.y));
            assert!(picture.svg.contains(&written), "hole {} is drawn at {written}", hole.mark);
            let back = picture.place((x, y));
            let near = |a, b| (to_mm(a) - to_mm(b)).abs() < 1e-3;
            assert!(near(back.x, hole.centre.x) && near(back.y, hole.centre.y), "and found again");
        }
    }
}
