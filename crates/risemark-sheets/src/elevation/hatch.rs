//! Hatching, as lines that end where the area ends.

use std::ops::Range;

use risemark::quantity::{from_whole, to_whole};

use crate::drawing::At;

/// Which way the lines of a hatching run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Slant {
    /// Up to the right.
    Rising,
    /// Down to the right.
    Falling,
}

/// The lines at 45 degrees inside an area, a pitch apart. Lines of neighbouring areas meet.
pub(crate) fn hatch(rings: &[Vec<At>], pitch: f64, slant: Slant) -> Vec<(At, At)> {
    let turn = match slant {
        Slant::Rising => 1.0,
        Slant::Falling => -1.0,
    };
    // Along a line of the hatching x + turn y is the same; its steps are wider than the pitch.
    let step = pitch * std::f64::consts::SQRT_2;
    let edges = rings.iter().flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)));
    let edges = edges.map(|(a, b)| {
        let (from, to) = (a.x + turn * a.y, b.x + turn * b.y);
        // Half-open, so that a line through a corner meets just one of its two edges.
        let first = |along: f64| to_whole((along / step).ceil());
        Edge { a: *a, b: *b, from, to, met: first(from.min(to))..first(from.max(to)) }
    });
    let edges: Vec<Edge> = edges.collect();
    let first = edges.iter().map(|edge| edge.met.start).min().unwrap_or(0);
    let last = edges.iter().map(|edge| edge.met.end).max().unwrap_or(0);
    let n_lines = usize::try_from(last - first).unwrap_or(0);
    let (mut lines, mut xs) = (Vec::with_capacity(n_lines), Vec::new());
    for line in first..last {
        let along = from_whole(line) * step;
        xs.clear();
        xs.extend(edges.iter().filter(|edge| edge.met.contains(&line)).map(|edge| edge.x(along)));
        // Most areas are met twice.
        match xs[..] {
            [left, right] if left <= right => {}
            [_, _] => xs.reverse(),
            _ => risemark::order::sort_numbers(&mut xs),
        }
        let place = |x: f64| At::new(x, (along - x) * turn);
        lines.extend(xs.chunks_exact(2).map(|pair| (place(pair[0]), place(pair[1]))));
    }
    lines
}

/// An edge of an area under hatching.
struct Edge {
    a: At,
    b: At,
    /// Where its ends lie across the lines of the hatching.
    from: f64,
    to: f64,
    /// The lines that it meets.
    met: Range<i64>,
}

impl Edge {
    /// Where it meets a line.
    fn x(&self, along: f64) -> f64 {
        self.a.x + (self.b.x - self.a.x) * ((along - self.from) / (self.to - self.from))
    }
}

/// Places for dots in an area, in rows that are set off against each other.
pub(crate) fn dots(area: crate::drawing::Area, pitch: f64) -> Vec<(At, At)> {
    // A line this short shows as a dot of its width.
    const DOT: f64 = 0.01;
    let n_steps = |room: f64| to_whole((room / pitch).floor());
    let rows = 0..=n_steps(area.height() - pitch).max(0);
    let dots = rows.flat_map(|row| {
        let shift = if row % 2 == 0 { 0.5 } else { 1.0 };
        let y = area.top + (from_whole(row) + 0.5) * pitch;
        let columns = 0..=n_steps(area.width() - shift * pitch).max(0);
        columns.map(move |column| At::new(area.left + (from_whole(column) + shift) * pitch, y))
    });
    let inside = dots.filter(|dot| dot.x < area.right && dot.y < area.bottom);
    inside.map(|dot| (dot, dot.moved(DOT, 0.0))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Area;

    fn square(size: f64) -> Vec<Vec<At>> {
        vec![vec![At::new(0.0, 0.0), At::new(size, 0.0), At::new(size, size), At::new(0.0, size)]]
    }

    #[test]
    fn lines_end_at_the_edge() {
        for slant in [Slant::Rising, Slant::Falling] {
            let lines = hatch(&square(10.0), 1.0, slant);
            // The diagonal is 14.1 long: lines one apart across it.
            assert!((13..=15).contains(&lines.len()), "{} lines", lines.len());
            let area = Area::new(0.0, 0.0, 10.0, 10.0).widened(1e-9);
            let inside = |(a, b): &(At, At)| area.holds(Area::of(*a)) && area.holds(Area::of(*b));
            assert!(lines.iter().all(inside), "{slant:?}: {lines:?}");
        }
    }

    #[test]
    fn what_is_cut_out_stays_clear() {
        let mut rings = square(10.0);
        rings.push(vec![
            At::new(2.0, 2.0),
            At::new(2.0, 8.0),
            At::new(8.0, 8.0),
            At::new(8.0, 2.0),
        ]);
        let hole = Area::new(2.0, 2.0, 6.0, 6.0).widened(-1e-9);
        let lines = hatch(&rings, 1.0, Slant::Rising);
        assert!(lines.iter().all(|line| !hole.meets_line(line.0, line.1)), "{lines:?}");
    }

    #[test]
    fn dots_lie_inside() {
        let area = Area::new(1.0, 1.0, 30.0, 4.0);
        let dots = dots(area, 3.0);
        assert!(8 < dots.len(), "{} dots", dots.len());
        assert!(dots.iter().all(|dot| area.holds(Area::of(dot.0))), "{dots:?}");
    }
}
