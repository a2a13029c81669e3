//! Holes in regular rows that just cover a rectangle, as many rows and holes a row as it takes.
//!
//! With `a` from hole to hole in a row and `r` the reach, a row alone covers a band of `e` above and
//! below it, `e² = r² - a²/4`. Rows that are shifted by half of `a` against each other may be `r + e`
//! apart, rows that are not `2 e`.

use crate::{
    drilling::brick::plane::{Mark, Plane, microns, root},
    quantity::{from_whole, to_whole},
};

/// A way to place holes on a rectangle, by its lines and the places on each.
#[derive(Debug, Clone)]
pub(super) struct Lattice {
    /// How many holes it has on a rectangle.
    pub(super) n_holes: i64,
    /// Its lines: the way along the short side of their distances, and the places on each.
    lines: Vec<(i64, Vec<i64>)>,
    /// Whether its lines are level or plumb.
    way: Way,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Level,
    Plumb,
}

#[derive(Debug, Clone, Copy)]
enum Shift {
    None,
    Half,
}

/// How far lines may lie from the two ends and from each other, and how far from the last end at least.
#[derive(Debug, Clone, Copy)]
struct Room {
    first: i64,
    between: i64,
    last: i64,
    clearance: i64,
}

/// The distances to which lines and holes are set, in micrometres.
#[derive(Debug, Clone, Copy)]
struct Grid(i64);

/// The lattices that cover the rectangle around an air space, those with the fewest holes first.
pub(super) fn lattices(plane: &Plane) -> Vec<Lattice> {
    let [left, right, bottom, top] = plane.bounds();
    let (width, height) = (right - left, top - bottom);
    let mut lattices = Vec::new();
    for shift in [Shift::Half, Shift::None] {
        lattices.extend(each(plane, (width, height), shift, Way::Level));
        lattices.extend(each(plane, (height, width), shift, Way::Plumb));
    }
    crate::order::sort_by_key(&mut lattices, |lattice| {
        (lattice.n_holes, lattice.way == Way::Plumb)
    });
    lattices
}

impl Lattice {
    fn of(lines: Vec<(i64, Vec<i64>)>, way: Way) -> Self {
        let n_holes =
            lines.iter().map(|(_, places)| i64::try_from(places.len()).unwrap_or(0)).sum();
        Self { n_holes, lines, way }
    }

    /// Its holes on the marks of an air space where holes may be; those far from any are left out.
    pub(super) fn marks(&self, plane: &Plane) -> Vec<Mark> {
        let [left, _, bottom, _] = plane.bounds();
        let mut marks = Vec::new();
        for (line, places) in &self.lines {
            for place in places {
                let (x, y) = match self.way {
                    Way::Level => (left + place, bottom + line),
                    Way::Plumb => (left + line, bottom + place),
                };
                marks.extend(near(plane, x, y));
            }
        }
        crate::order::sort(&mut marks);
        marks.dedup();
        marks
    }
}

/// The free mark nearest to a place on the row nearest to it, unless it is far off.
fn near(plane: &Plane, x: i64, y: i64) -> Option<Mark> {
    let row = plane.row_near(y)?;
    let mark = Mark { up: row.up, across: row.nearest(plane.mark(x))? };
    let spot = plane.spot(mark);
    let far = plane.reach / 3;
    ((spot.x - x).abs() <= far && (spot.y - y).abs() <= far).then_some(mark)
}

/// The lattices of one kind, by the number of holes on a line, those that are worth a look.
fn each(plane: &Plane, (along, across): (i64, i64), shift: Shift, way: Way) -> Vec<Lattice> {
    // More holes on a line than for half the reach never pay.
    let least = (along / (2 * plane.reach)).max(1);
    let most = along / plane.reach.max(1) + 2;
    let both = |n| {
        let set = on_marks(plane, (along, across), n, shift, way);
        set.into_iter().chain(evenly(plane, (along, across), n, shift, way))
    };
    (least..=most).flat_map(both).collect()
}

/// As [`evenly`], with lines and holes that lie on marks from the beginning and keep clear of the ends,
/// where that takes no more lines.
fn on_marks(
    plane: &Plane,
    (along, across): (i64, i64),
    n: i64,
    shift: Shift,
    way: Way,
) -> Option<Lattice> {
    let grid = Grid(microns(plane.step).max(1));
    let widest = grid.up(along / n);
    let n_lines = room(plane, along / n, shift, way)?.n_lines(across);
    let room = room(plane, widest, shift, way)?.on(grid, plane.reach);
    if room.between <= 0 || room.whole(n_lines) < across || n < 2 {
        return None;
    }
    let clear = clear_of_ends(plane, way)?;
    let [from, to] = clear.map(|clear| grid.down(room.beside_end(plane.reach, shift, clear)));
    let inner = along - from - to;
    if (n - 1) * widest < inner {
        return None;
    }
    let full: Vec<i64> = (0..n).map(|idx| from + grid.nearest(inner * idx / (n - 1))).collect();
    let middles = full.windows(2).map(|pair| grid.nearest(i64::midpoint(pair[0], pair[1])));
    let between: Vec<i64> =
        [clear[0]].into_iter().chain(middles).chain([along - clear[1]]).collect();
    let places = |line: usize| match shift {
        Shift::Half if line % 2 == 1 => between.clone(),
        Shift::Half | Shift::None => full.clone(),
    };
    let lines = room.spread(across, n_lines).into_iter().enumerate();
    Some(Lattice::of(lines.map(|(idx, at)| (grid.nearest(at), places(idx))).collect(), way))
}

/// How far from the two ends of a line its holes lie at least.
fn clear_of_ends(plane: &Plane, way: Way) -> Option<[i64; 2]> {
    let [left, right, bottom, top] = plane.bounds();
    let (first, last) = (plane.rows.first()?, plane.rows.last()?);
    let spot = |up, across| plane.spot(Mark { up, across });
    match way {
        Way::Level => {
            let from =
                plane.rows.iter().filter_map(|row| row.free.first()).map(|free| free.0).min()?;
            let to =
                plane.rows.iter().filter_map(|row| row.free.last()).map(|free| free.1).max()?;
            Some([spot(first.up, from).x - left, right - spot(first.up, to).x])
        }
        Way::Plumb => Some([spot(first.up, 0).y - bottom, top - spot(last.up, 0).y]),
    }
}

/// Lines and holes at even distances, which marks move by a little.
fn evenly(
    plane: &Plane,
    (along, across): (i64, i64),
    n: i64,
    shift: Shift,
    way: Way,
) -> Option<Lattice> {
    let pitch = along / n;
    let room = room(plane, pitch, shift, way)?;
    let n_lines = room.n_lines(across);
    // Marks move holes of a line apart by a step at most: the ends get what that takes if there is room.
    let on_marks = self::room(plane, pitch + microns(plane.step), shift, way);
    let on_marks = on_marks.filter(|room| across <= room.whole(n_lines));
    let lines = on_marks.unwrap_or(room).spread(across, n_lines);
    let places = |line: usize| match shift {
        Shift::Half if line % 2 == 1 => (0..=n).map(|idx| along * idx / n).collect(),
        Shift::Half | Shift::None => (0..n).map(|idx| along * (2 * idx + 1) / (2 * n)).collect(),
    };
    let lines: Vec<(i64, Vec<i64>)> =
        lines.into_iter().enumerate().map(|(idx, at)| (at, places(idx))).collect();
    Some(Lattice::of(lines, way))
}

/// The room of lines whose holes lie at a distance from each other; none where no line fits.
fn room(plane: &Plane, pitch: i64, shift: Shift, way: Way) -> Option<Room> {
    let reach = plane.reach;
    let band = root(reach * reach - (pitch + 1) * (pitch + 1) / 4);
    let between = match shift {
        Shift::Half => reach + band,
        Shift::None => 2 * band,
    };
    let mut room = Room { first: band, between, last: band, clearance: 0 };
    match (plane.rise, way) {
        (Some(rise), Way::Level) => {
            room.first = room.first.min(rise.most);
            room.between = room.between.min(rise.most);
            room.last = room.last.min(rise.top_reach);
            room.clearance = rise.top_clearance;
        }
        // On some plumb lines one line of holes counts alone.
        (Some(rise), Way::Plumb) if rise.most.min(2 * rise.top_reach) < pitch => return None,
        (Some(_) | None, _) => {}
    }
    (0 < room.between && room.clearance <= room.last).then_some(room)
}

impl Grid {
    fn down(self, length: i64) -> i64 {
        length - length.rem_euclid(self.0)
    }

    fn up(self, length: i64) -> i64 {
        self.down(length + self.0 - 1)
    }

    fn nearest(self, length: i64) -> i64 {
        self.down(length + self.0 / 2)
    }
}

impl Room {
    /// What is left of it on a grid, where holes of a line need not lie right between those of the next.
    fn on(self, grid: Grid, reach: i64) -> Self {
        let aside = reach - root(reach * reach - grid.0 * grid.0);
        Self {
            first: grid.down(self.first),
            between: grid.down(self.between - aside),
            last: grid.down(self.last),
            clearance: self.clearance,
        }
    }

    /// How far from its end the first hole of a line may lie, beside a line whose holes begin so near it.
    fn beside_end(self, reach: i64, shift: Shift, clear: i64) -> i64 {
        // What the other line leaves of the edge, or the next one of the same kind.
        let left = match shift {
            Shift::Half => self.between - root(reach * reach - clear * clear),
            Shift::None => (self.between + 1) / 2,
        };
        root(reach * reach - left.max(self.first).max(self.last).pow(2))
    }

    /// How many lines cover so much.
    fn n_lines(self, across: i64) -> i64 {
        let rest = (across - self.first - self.last).max(0);
        1 + (rest + self.between - 1) / self.between
    }

    /// The most that so many lines can take.
    fn whole(self, n_lines: i64) -> i64 {
        self.first + self.between * (n_lines - 1) + self.last
    }

    /// Lines at even shares of the room that there is.
    fn spread(self, across: i64, n_lines: i64) -> Vec<i64> {
        let share = from_whole(across) / from_whole(self.whole(n_lines).max(1));
        let scaled = |part: i64| to_whole((from_whole(part) * share).round());
        let last = across - scaled(self.last).max(self.clearance);
        let at = |idx| (scaled(self.first + self.between * idx)).min(last);
        (0..n_lines).map(at).collect()
    }
}
