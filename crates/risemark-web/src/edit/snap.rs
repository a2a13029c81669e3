//! Where a pull comes to rest: on an edge or centre beside it, on the layout, or on the marking step.

use risemark::{
    geometry::{Point, Rect, Span},
    job::{End, Wall},
    quantity::{Length, at_step, inches, longer, shorter, steps},
};

use super::{
    Entry, Grip, Scene, all,
    figure::{Figure, figure, grips},
    studs,
};

/// The marks of a tape that is held to one end, or to the floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grid {
    /// From mark to mark.
    pub step: Length,
    /// The width of the wall where readings are taken from its right end.
    pub back_from: Option<Length>,
}

/// What holds a pull where it comes to rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hold {
    /// How near something beside it must be to hold it.
    pub reach: Length,
    /// The marks across.
    pub across: Grid,
    /// The marks up from the floor.
    pub up: Grid,
}

/// The readings that a pull moves; the first comes to rest on the step.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Readings {
    /// Across, from the left end.
    pub across: Vec<Length>,
    /// Up from the floor.
    pub up: Vec<Length>,
}

/// A pull that came to rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rest {
    /// How far it went.
    pub by: Point,
    /// The place across that it aligns with, if there is one.
    pub across: Option<Length>,
    /// The height that it aligns with, if there is one.
    pub up: Option<Length>,
}

impl Hold {
    /// By the marks of a wall: across from its datum, up from the floor.
    pub fn of(wall: &Wall, reach: Length, step: Length) -> Self {
        let back_from = match wall.datum {
            End::Left => None,
            End::Right => Some(wall.width),
        };
        Self { reach, across: Grid { step, back_from }, up: Grid { step, back_from: None } }
    }
}

impl Grid {
    /// The mark nearest to a reading.
    pub fn nearest(self, reading: Length) -> Length {
        let on_step = |reading: Length| at_step(steps(reading, self.step), self.step);
        match self.back_from {
            None => on_step(reading),
            Some(end) => end - on_step(end - reading),
        }
    }
}

/// The readings of an entry that its grip moves.
pub fn moving(scene: Scene<'_>, entry: Entry, grip: Grip) -> Readings {
    let mut readings = Readings::default();
    let Some(figure) = figure(scene, entry) else { return readings };
    let gripped = grips(scene, entry).into_iter().find(|(other, _)| *other == grip);
    let Rect { x, y } = figure.bounds();
    // What a hand sees of a slanting line are its ends, not the box around its width.
    let points = match &figure {
        Figure::Line { points, .. } if grip == Grip::Whole => points.as_slice(),
        Figure::Line { .. } | Figure::Rects(_) => &[],
    };
    match (grip, entry) {
        (Grip::Whole, Entry::Stud(_) | Entry::Extra(_)) => readings.across.push(x.middle()),
        (Grip::Whole, Entry::Hole(_)) => {
            readings.across.push(x.middle());
            readings.up.push(y.middle());
        }
        (Grip::Whole, Entry::Bay(_)) => {}
        (Grip::Whole, Entry::Block(_)) => readings.up.extend([y.from, y.to]),
        (Grip::Whole, Entry::Top | Entry::Bottom) => readings.up.extend(points.iter().map(|p| p.y)),
        (Grip::Whole, _) if !points.is_empty() => {
            readings.across.extend(points.iter().map(|point| point.x));
            readings.up.extend(points.iter().map(|point| point.y));
        }
        (Grip::Whole, _) => {
            let (near, far) = match scene.wall.datum {
                End::Left => (x.from, x.to),
                End::Right => (x.to, x.from),
            };
            readings.across.extend([near, far, x.middle()]);
            readings.up.extend([y.from, y.to, y.middle()]);
        }
        (Grip::Left, _) => readings.across.push(x.from),
        (Grip::Right, _) => readings.across.push(x.to),
        (Grip::Low, _) => readings.up.push(y.from),
        (Grip::High, _) => readings.up.push(y.to),
        (Grip::Point(_), _) => {
            readings.across.extend(gripped.map(|(_, point)| point.x));
            readings.up.extend(gripped.map(|(_, point)| point.y));
        }
    }
    readings
}

/// The readings that a pull may come to rest on, of all that stays where it is.
pub fn beside(scene: Scene<'_>, moving: &[Entry]) -> Readings {
    let wall = scene.wall;
    let face = scene.frame.face.bounds();
    let mut readings = Readings {
        across: vec![inches(0.0), wall.width, wall.width / 2.0],
        up: vec![inches(0.0), face.y.from, face.y.to],
    };
    if !moving.is_empty() && moving.iter().all(|entry| matches!(entry, Entry::Hole(_))) {
        return beside_holes(scene, moving);
    }
    let layout = studs::layout(wall);
    readings.across.extend(layout.iter().map(|stud| stud.layout));
    readings.across.extend(layout.iter().filter_map(|stud| stud.stands));
    for entry in all(wall) {
        let stays = !moving.contains(&entry);
        if !stays || matches!(entry, Entry::Stud(_) | Entry::Bay(_) | Entry::Top) {
            continue;
        }
        let Some(Rect { x, y }) = figure(scene, entry).map(|figure| figure.bounds()) else {
            continue;
        };
        match entry {
            Entry::Block(_) => readings.up.extend([y.from, y.to]),
            Entry::Hole(_) => {
                readings.across.push(x.middle());
                readings.up.push(y.middle());
            }
            Entry::Extra(_) => readings.across.extend([x.from, x.to, x.middle()]),
            _ => {
                readings.across.extend([x.from, x.to, x.middle()]);
                readings.up.extend([y.from, y.to, y.middle()]);
            }
        }
    }
    readings
}

/// What holds a hole: the middles of the bays, and the readings of other holes. On timber it fills nothing.
fn beside_holes(scene: Scene<'_>, moving: &[Entry]) -> Readings {
    let studs = studs::layout(scene.wall).into_iter().filter_map(|stud| stud.stands);
    let half = studs::thickness(scene.wall) / 2.0;
    let ends = [half, scene.wall.width - half];
    let mut centres: Vec<Length> = studs.chain(ends).collect();
    risemark::quantity::sort(&mut centres);
    let mut readings = Readings::default();
    if 2 < centres.len() {
        readings.across.extend(centres.windows(2).map(|pair| (pair[0] + pair[1]) / 2.0));
    }
    let others = all(scene.wall)
        .into_iter()
        .filter(|entry| matches!(entry, Entry::Hole(_)) && !moving.contains(entry));
    for figure in others.filter_map(|entry| figure(scene, entry)) {
        let Rect { x, y } = figure.bounds();
        readings.across.push(x.middle());
        readings.up.push(y.middle());
    }
    readings
}

/// Brings a pull to rest: within reach on what is beside it, else on the marking step.
pub fn rest(moving: &Readings, beside: &Readings, raw: Point, hold: Hold) -> Rest {
    let (x, across) = along(&moving.across, &beside.across, raw.x, hold.reach, hold.across);
    let (y, up) = along(&moving.up, &beside.up, raw.y, hold.reach, hold.up);
    Rest { by: Point::new(x, y), across, up }
}

fn along(
    moving: &[Length],
    beside: &[Length],
    raw: Length,
    reach: Length,
    grid: Grid,
) -> (Length, Option<Length>) {
    let mut best: Option<(Length, Length, Length)> = None;
    for reading in moving {
        for target in beside {
            let off = (*target - *reading - raw).abs();
            if off <= reach && best.is_none_or(|(nearest, _, _)| off < nearest) {
                best = Some((off, *target - *reading, *target));
            }
        }
    }
    if let Some((_, by, target)) = best {
        return (by, Some(target));
    }
    let by = match moving.first() {
        Some(start) => grid.nearest(*start + raw) - *start,
        // Without a reading of its own, as a block has none across, a pull just goes by steps.
        None => Grid { back_from: None, ..grid }.nearest(raw),
    };
    (by, None)
}

/// The free stretches beside an entry, low down where a hand leaves them in view: to what stands left
/// and right of it.
pub fn gaps(scene: Scene<'_>, entry: Entry) -> Vec<(Point, Point)> {
    let Some(own) = figure(scene, entry).map(|figure| figure.bounds()) else { return Vec::new() };
    let is_stud = matches!(entry, Entry::Stud(_) | Entry::Extra(_));
    let height = match entry {
        Entry::Top | Entry::Bottom | Entry::Bay(_) | Entry::Block(_) => return Vec::new(),
        _ => own.y.from + own.y.length() / 5.0,
    };
    let others = all(scene.wall).into_iter().filter(|other| *other != entry);
    // Studs are measured from centre to centre, everything else from edge to edge.
    let spans = others.filter_map(|other| {
        let kin = match other {
            Entry::Stud(_) | Entry::Extra(_) => is_stud,
            Entry::Opening(_) => !is_stud,
            Entry::Zone(_) | Entry::Thing(_) => {
                !is_stud && std::mem::discriminant(&other) == std::mem::discriminant(&entry)
            }
            _ => false,
        };
        let bounds = kin.then(|| figure(scene, other)).flatten()?.bounds();
        let abreast = is_stud || bounds.y.overlaps(own.y);
        let middle = bounds.x.middle();
        abreast.then_some(if is_stud { Span::new(middle, middle) } else { bounds.x })
    });
    let spans: Vec<Span> = spans.collect();
    let own = if is_stud { Span::new(own.x.middle(), own.x.middle()) } else { own.x };
    let left = spans.iter().map(|span| span.to).filter(|to| *to <= own.from);
    let right = spans.iter().map(|span| span.from).filter(|from| own.to <= *from);
    let left = left.fold(inches(0.0), longer);
    let right = right.fold(scene.wall.width, shorter);
    let gap = |from, to| (Point::new(from, height), Point::new(to, height));
    let gaps = [gap(left, own.from), gap(own.to, right)];
    gaps.into_iter().filter(|(from, to)| from.x < to.x).collect()
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "both sides are rounded to a millionth of an inch")]
mod tests {
    use risemark::quantity::{Units, millimeters, same, to_inches, to_mm};

    use super::*;
    use crate::{edit::tests::planned, fresh};

    const STEP: f64 = 0.25;

    fn check(raw: f64, reach: f64, expected: f64, aligned: Option<f64>) {
        let (wall, _) = planned("workshop-north", |_| ());
        let moving = Readings { across: vec![inches(40.1), inches(70.1)], up: Vec::new() };
        let beside = Readings { across: vec![inches(80.0), inches(45.0)], up: Vec::new() };
        let raw = Point::new(inches(raw), inches(0.0));
        let hold = Hold::of(&wall, inches(reach), inches(STEP));
        let rest = rest(&moving, &beside, raw, hold);
        assert_eq!(to_inches(inches(40.1) + rest.by.x), expected, "{raw:?}");
        assert_eq!(rest.across.map(to_inches), aligned, "{raw:?}");
    }

    #[test]
    fn a_pull_rests_on_the_nearest_neighbour_else_on_the_step() {
        check(4.0, 1.0, 45.0, Some(45.0));
        check(9.5, 1.0, 50.0, Some(80.0));
        check(2.0, 1.0, 42.0, None);
        check(2.1, 1.0, 42.25, None);
        check(-20.04, 1.0, 20.0, None);
    }

    #[test]
    fn the_step_counts_from_the_datum() {
        let width = inches(191.1);
        let (mut wall, _) = planned("workshop-north", |wall| wall.width = width);
        let across = |wall: &Wall, step| Hold::of(wall, inches(1.0), step).across;
        let nearest = |wall: &Wall| to_inches(across(wall, inches(STEP)).nearest(inches(60.0)));
        assert_eq!(nearest(&wall), 60.0, "from the left end");
        wall.datum = End::Right;
        assert_eq!(nearest(&wall), 60.1, "131 in from the right end");
        let metric = across(&wall, millimeters(5.0)).nearest(inches(60.0));
        let reading = to_mm(width - metric);
        assert_eq!(reading % 5.0, 0.0, "{reading} mm from the right end");
    }

    #[test]
    fn a_window_offers_its_edges_and_its_middle_the_one_at_the_datum_first() {
        for (datum, first) in [(End::Left, 60.0), (End::Right, 90.0)] {
            let (wall, plan) = planned("workshop-north", |wall| {
                wall.datum = datum;
                let mut window = fresh::opening(wall);
                (window.left, window.width) = (inches(60.0), inches(30.0));
                wall.openings = vec![window];
            });
            let scene = Scene { wall: &wall, frame: &plan.frame };
            let readings = moving(scene, Entry::Opening(0), Grip::Whole);
            assert_eq!(readings.across.first().map(|x| to_inches(*x)), Some(first), "{datum:?}");
            assert_eq!((readings.across.len(), readings.up.len()), (3, 3), "{readings:?}");
            let left = moving(scene, Entry::Opening(0), Grip::Left);
            assert_eq!((left.across.len(), left.up.len()), (1, 0), "an edge moves alone");
        }
    }

    #[test]
    fn what_moves_does_not_rest_on_itself_but_on_the_layout() {
        let (wall, plan) = planned("workshop-north", |wall| {
            let mut window = fresh::opening(wall);
            (window.left, window.width) = (inches(61.0), inches(30.0));
            wall.openings = vec![window];
        });
        let scene = Scene { wall: &wall, frame: &plan.frame };
        let has = |readings: &Readings, x: f64| readings.across.iter().any(|r| same(*r, inches(x)));
        let others = beside(scene, &[Entry::Opening(0)]);
        assert!(!has(&others, 61.0), "not its own edge");
        assert!(has(&others, 64.0), "a stud of the layout");
        assert!(has(&beside(scene, &[]), 61.0), "the edge of what stays");
    }

    #[test]
    fn a_hole_rests_in_the_middle_of_a_bay_and_never_on_a_stud() {
        let (wall, plan) = planned("workshop-north", |_| ());
        let scene = Scene { wall: &wall, frame: &plan.frame };
        let readings = beside(scene, &[Entry::Hole(0)]);
        let has = |x: f64| readings.across.iter().any(|r| same(*r, inches(x)));
        assert!(has(40.0) && has(56.0), "middles of bays 16 in on centre");
        assert!(!has(48.0) && !has(0.0), "no stud and no end: {readings:?}");
    }

    #[test]
    fn gaps_reach_to_the_neighbours_and_the_ends() {
        let (wall, plan) = planned("workshop-north", |wall| {
            let window = |left: f64| risemark::job::Opening {
                left: inches(left),
                width: inches(30.0),
                ..fresh::opening(wall)
            };
            wall.openings = vec![window(20.0), window(80.0)];
        });
        let scene = Scene { wall: &wall, frame: &plan.frame };
        let across = |entry| -> Vec<(f64, f64)> {
            let gaps = gaps(scene, entry);
            gaps.iter().map(|(from, to)| (to_inches(from.x), to_inches(to.x))).collect()
        };
        assert_eq!(across(Entry::Opening(0)), [(0.0, 20.0), (50.0, 80.0)], "the first");
        assert_eq!(across(Entry::Opening(1)), [(50.0, 80.0), (110.0, 192.0)], "the second");
        assert_eq!(across(Entry::Stud(1)), [(16.0, 32.0), (32.0, 48.0)], "a stud on centre");
        assert_eq!(crate::words::gap(inches(30.0), Units::FeetInches), "30\"", "in tape notation");
    }
}
