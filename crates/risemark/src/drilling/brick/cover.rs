//! The fewest holes from which foam reaches every place of an air space.

use crate::drilling::brick::{
    demands::{self, Demand},
    fitted::lattices,
    plane::{Mark, Plane, Spot},
    search::{Score, Search},
};

/// Holes that cover an air space.
#[derive(Debug)]
pub(super) struct Cover {
    /// From the bottom up, each row from the datum end.
    pub(super) marks: Vec<Mark>,
    /// Places that no hole can reach, or over which no row can lie.
    pub(super) missed: Vec<Spot>,
}

/// Covers an air space.
///
/// Guarantees: every place of it lies within the reach of a hole, and the rule for vertical distances
/// holds, but for what lies beside the `missed`. With no `rounds` holes stay near a regular layout;
/// more of them look for fewer holes, then for fewer rows, in the same way each time.
pub(super) fn cover(plane: &Plane, rounds: usize) -> Cover {
    // What is asked for at first only leads the way: gaps are asked for as they show.
    let pitch = if rounds == 0 { wide(plane) } else { (plane.reach / 4).max(1) };
    let asked = demands::places(plane, pitch);
    let mut starts = worth_trying(plane, if rounds == 0 { 1 } else { STARTS });
    if !plane.liked.is_empty() {
        // What is liked costs no hole: so it begins with what there is without it.
        starts.push(cover(&Plane { liked: Vec::new(), ..plane.clone() }, rounds).marks);
    }
    let thinned = |start: Vec<Mark>| {
        let mut search = begun(plane, (&asked, pitch), &start);
        search.thin();
        search
    };
    let best = starts.into_iter().map(thinned).min_by_key(score);
    let Some(mut search) = best else { return Cover { marks: Vec::new(), missed: Vec::new() } };
    // Where nothing gets better, rows and columns stay as regular as they were.
    let (regular, before) = (cover_of(&search), search.score());
    search.improve(rounds);
    if search.score() < before { cover_of(&search) } else { regular }
}

fn cover_of(search: &Search<'_>) -> Cover {
    Cover { marks: search.marks(), missed: search.missed() }
}

/// The same at once, from the marks of an earlier cover: those stay that are still free and needed.
pub(super) fn near(plane: &Plane, earlier: &[Mark]) -> Cover {
    let is_free = |mark: &&Mark| {
        let row = plane.row_at(mark.up);
        row.is_some_and(|row| row.nearest(mark.across) == Some(mark.across))
    };
    let start: Vec<Mark> = earlier.iter().filter(is_free).copied().collect();
    if start.is_empty() {
        return cover(plane, 0);
    }
    let asked = demands::places(plane, wide(plane));
    let mut search = begun(plane, (&asked, wide(plane)), &start);
    search.drop_needless();
    cover_of(&search)
}

/// How far apart places are asked for at first, where little is looked for.
fn wide(plane: &Plane) -> i64 {
    (plane.reach / 2).max(1)
}

fn begun<'a>(plane: &'a Plane, (asked, pitch): (&[Demand], i64), start: &[Mark]) -> Search<'a> {
    let candidates = candidates(plane, start);
    let mut search = Search::new(plane, pitch, asked.to_vec(), (start, candidates));
    search.complete();
    search
}

/// The cover of marks that a search has found before; nothing where others could cover more.
pub(super) fn known(plane: &Plane, mut marks: Vec<Mark>) -> Option<Cover> {
    crate::order::sort(&mut marks);
    let asked = demands::places(plane, wide(plane));
    let mut search = Search::new(plane, wide(plane), asked, (&marks, marks.clone()));
    search.complete();
    let is_whole = search.marks() == marks;
    is_whole.then(|| Cover { marks, missed: search.missed() })
}

/// Layouts to begin with.
const STARTS: usize = 4;

fn score(search: &Search<'_>) -> (usize, Score) {
    (search.missed().len(), search.score())
}

/// The regular layouts with the fewest holes, each with its holes where holes may be.
fn worth_trying(plane: &Plane, n: usize) -> Vec<Vec<Mark>> {
    let mut starts: Vec<Vec<Mark>> = Vec::new();
    for lattice in lattices(plane) {
        let marks = lattice.marks(plane);
        if starts.len() < n && !starts.contains(&marks) {
            starts.push(marks);
        }
    }
    if starts.is_empty() {
        starts.push(Vec::new());
    }
    starts
}

/// The rows of a layout, the liked ones near them and those beside the edges of openings, with marks at
/// even distances.
fn candidates(plane: &Plane, start: &[Mark]) -> Vec<Mark> {
    let mut rows: Vec<i64> = start.iter().map(|mark| mark.up).collect();
    let [_, _, bottom, top] = plane.bounds();
    let far = plane.reach / 2;
    let corners = plane.corners().flat_map(|corner| [corner.y - far, corner.y, corner.y + far]);
    let heights = corners.filter(|y| bottom < *y && *y < top);
    for y in heights {
        rows.extend(plane.row_near(y).map(|row| row.up));
    }
    let liked_near = |up: &i64| {
        let near = plane.liked.iter().copied().min_by_key(|liked| (liked - up).abs());
        near.filter(|liked| (liked - up).abs() <= plane.mark(far))
    };
    let liked: Vec<i64> = rows.iter().filter_map(liked_near).collect();
    rows.extend(liked);
    crate::order::sort(&mut rows);
    rows.dedup();
    let pitch = plane.mark(plane.reach / 12).max(1);
    let mut marks = start.to_vec();
    for row in rows.iter().filter_map(|&up| plane.row_at(up)) {
        for &(from, to) in &row.free {
            let first = from - from.rem_euclid(pitch) + pitch;
            let inner = (0..).map(|n| first + n * pitch).take_while(|mark| *mark < to);
            let ends = [from, to].into_iter();
            marks.extend(ends.chain(inner).map(|across| Mark { up: row.up, across }));
        }
    }
    marks
}
