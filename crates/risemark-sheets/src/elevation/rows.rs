//! Upright readings under a tape: which row each stands in, so that neither texts nor the lines
//! that lead to them touch.

use std::{cmp::Reverse, collections::BinaryHeap};

/// A reading that wants a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wanted {
    /// Where its line comes down from the tape.
    pub(super) x: f64,
    /// Width of its text.
    pub(super) width: f64,
    /// What becomes of it where there is no room.
    pub(super) need: Need,
}

/// Whether a reading can be left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Need {
    Must,
    May,
}

/// Where a reading stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Placed {
    /// Its row, the one next to the tape first.
    pub(super) row: usize,
    /// The beginning of its text.
    pub(super) left: f64,
}

/// The room for readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Room {
    /// No text begins further left.
    pub(super) left: f64,
    /// No text ends further right.
    pub(super) right: f64,
    /// The least room between two texts in a row.
    pub(super) gap: f64,
    /// The least room between a text and the line of another.
    pub(super) clear: f64,
}

/// The most rows that are tried.
pub(super) const MOST_ROWS: usize = 6;
/// How many ways of standing are followed at once where it is tight; more where some readings may
/// be left out, which opens more ways.
const N_FOLLOWED: usize = 12;
const N_FOLLOWED_THINNED: usize = 48;
/// What it costs to leave a reading out.
const LEFT_OUT: f64 = 8.0;

/// One way in which the readings so far may stand.
#[derive(Debug, Clone, Copy)]
struct Way {
    cost: f64,
    /// In each row, where the last text ends.
    texts: [f64; MOST_ROWS],
    /// In each row, where the last line passes to a deeper row.
    lines: [f64; MOST_ROWS],
}

/// A way with one more reading.
#[derive(Debug, Clone, Copy)]
struct Step {
    cost: f64,
    /// The way without the reading, in the list of those that were followed.
    before: usize,
    /// Where the reading stands.
    placed: Option<Placed>,
}

/// Places readings, given from left to right, in the fewest rows; `None` for those left out.
///
/// Returns nothing when that many rows do not do for those that must be there.
pub(super) fn place(
    wanted: &[Wanted],
    room: Room,
    most_rows: usize,
) -> Option<Vec<Option<Placed>>> {
    let most_rows = most_rows.min(MOST_ROWS);
    let all = wanted.iter().all(|reading| reading.need == Need::Must);
    let least = if all { 1 } else { most_rows };
    // All texts in so many rows, end to end.
    let needed: f64 = wanted.iter().map(|reading| reading.width + room.gap).sum();
    let holds = |n_rows: usize| {
        needed <= (room.right - room.left + room.gap) * risemark::quantity::count(n_rows)
    };
    if all && !holds(most_rows) {
        return None;
    }
    let n_followed = if all { N_FOLLOWED } else { N_FOLLOWED_THINNED };
    // The nearest place for one reading after the other does nearly always; following more ways
    // finds room in tighter places.
    let mut tried = [1, n_followed].into_iter().flat_map(|n_followed| {
        let n_rows = (least..=most_rows).filter(|n_rows| !all || holds(*n_rows));
        n_rows.map(move |n_rows| (n_rows, n_followed))
    });
    tried.find_map(|limits| in_rows(wanted, room, limits))
}

fn in_rows(
    wanted: &[Wanted],
    room: Room,
    (n_rows, n_followed): (usize, usize),
) -> Option<Vec<Option<Placed>>> {
    let (mut ways, mut longer, mut kept) = (vec![Way::START], Vec::new(), Vec::new());
    // The steps of all readings, and where those of each begin.
    let (mut steps, mut starts) = (Vec::new(), Vec::with_capacity(wanted.len()));
    for (idx, reading) in wanted.iter().enumerate() {
        let next = wanted.get(idx + 1).map_or(f64::INFINITY, |next| next.x);
        longer.clear();
        for (before, way) in ways.iter().enumerate() {
            way.longer((*reading, next), (room, n_rows), |cost, placed| {
                longer.push(Step { cost, before, placed });
            });
        }
        kept.clear();
        // Where one way is followed, which is enough nearly always, nothing needs to be put in order.
        if n_followed == 1 {
            let cheapest = longer.iter().min_by(|a, b| a.cost.total_cmp(&b.cost));
            kept.extend(cheapest.map(|step| (ways[step.before].with(*reading, *step), *step)));
        } else {
            follow(&mut kept, (&ways, &longer), *reading, (n_rows, n_followed));
        }
        if kept.is_empty() {
            return None;
        }
        ways.clear();
        ways.extend(kept.iter().map(|(way, _)| *way));
        starts.push(steps.len());
        steps.extend(kept.iter().map(|(_, step)| *step));
    }
    Some(traced(&steps, &starts))
}

/// The cheapest ways; of those that leave the same room to what follows, one will do.
fn follow(
    kept: &mut Vec<(Way, Step)>,
    (ways, longer): (&[Way], &[Step]),
    last: Wanted,
    (n_rows, n_followed): (usize, usize),
) {
    // Costs are never negative, so that their bits are in their order; of equal ones the first goes on.
    let costs = longer.iter().enumerate().map(|(idx, step)| Reverse((step.cost.to_bits(), idx)));
    let mut cheapest: BinaryHeap<Reverse<(u64, usize)>> = costs.collect();
    let mut known = Vec::new();
    while kept.len() < n_followed
        && let Some(Reverse((_, idx))) = cheapest.pop()
    {
        let step = longer[idx];
        let way = ways[step.before].with(last, step);
        let left = way.room_left(last, n_rows);
        if !known.contains(&left) {
            known.push(left);
            kept.push((way, step));
        }
    }
}

/// The places along the best way, from the first reading to the last.
fn traced(steps: &[Step], starts: &[usize]) -> Vec<Option<Placed>> {
    let mut at = 0;
    let backwards = starts.iter().rev().map(|start| {
        let Step { before, placed, .. } = steps[start + at];
        at = before;
        placed
    });
    let mut placed: Vec<Option<Placed>> = backwards.collect();
    placed.reverse();
    placed
}

impl Way {
    /// Nothing stands yet.
    const START: Self = Self {
        cost: 0.0,
        texts: [f64::NEG_INFINITY; MOST_ROWS],
        lines: [f64::NEG_INFINITY; MOST_ROWS],
    };

    /// Where texts and lines end, as far as it matters to readings that follow, on a coarse grid.
    fn room_left(&self, last: Wanted, n_rows: usize) -> [i64; 2 * MOST_ROWS] {
        let reach = last.x - last.width * 1.5;
        let mut ends = [0; 2 * MOST_ROWS];
        for (idx, end) in self.texts[..n_rows].iter().chain(&self.lines[..n_rows]).enumerate() {
            ends[idx] = risemark::quantity::to_whole((end.max(reach) * 4.0).round());
        }
        ends
    }

    /// What this way costs with one more reading, in every row and place where it can stand.
    fn longer(
        &self,
        (reading, next): (Wanted, f64),
        (room, n_rows): (Room, usize),
        mut found: impl FnMut(f64, Option<Placed>),
    ) {
        for row in 0..n_rows {
            let passes = self.texts[..row].iter().all(|end| end + room.clear <= reading.x);
            if !passes {
                break;
            }
            for left in self.places(row, (reading, next), room).into_iter().flatten() {
                let off = (left + reading.width / 2.0 - reading.x).abs() / reading.width.max(1e-9);
                let cost = off * 2.0 + risemark::quantity::count(row) * 0.4;
                found(self.cost + cost, Some(Placed { row, left }));
            }
        }
        if reading.need == Need::May {
            found(self.cost + LEFT_OUT, None);
        }
    }

    /// Beginnings of a text in a row: in the middle under its line, or pushed to either side.
    fn places(&self, row: usize, (reading, next): (Wanted, f64), room: Room) -> [Option<f64>; 4] {
        let Wanted { x, width, .. } = reading;
        // The line ends over the text, not past its corner.
        let inset = (room.clear * 0.5).min(width / 2.0);
        let least = (self.texts[row] + room.gap).max(self.lines[row] + room.clear);
        let least = least.max(room.left).max(x - width + inset);
        let most = (x - inset).min(room.right - width);
        if most < least {
            return [None; 4];
        }
        let wishes = [x - width / 2.0, next - room.clear - width, least, most];
        let [middle, left_of_next, leftmost, rightmost] =
            wishes.map(|wish| wish.clamp(least, most));
        let other = |place: f64, than: f64| (1e-9 < (place - than).abs()).then_some(place);
        [
            Some(middle),
            other(left_of_next, middle),
            other(leftmost, middle),
            other(rightmost, middle),
        ]
    }

    /// This way with one more reading.
    fn with(&self, reading: Wanted, step: Step) -> Self {
        let mut way = Self { cost: step.cost, ..*self };
        if let Some(Placed { row, left }) = step.placed {
            way.texts[row] = left + reading.width;
            way.lines[..row].fill(reading.x);
        }
        way
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROOM: Room = Room { left: -20.0, right: 230.0, gap: 2.0, clear: 1.0 };

    fn check(xs: &[f64], width: f64, most_rows: usize) -> Vec<Placed> {
        let wanted: Vec<Wanted> =
            xs.iter().map(|x| Wanted { x: *x, width, need: Need::Must }).collect();
        let placed = place(&wanted, ROOM, most_rows).expect("there is room");
        let placed: Vec<Placed> = placed.into_iter().flatten().collect();
        assert_eq!(placed.len(), wanted.len(), "none is left out");
        for (idx, (a, text)) in wanted.iter().zip(&placed).enumerate() {
            assert!(
                text.left <= a.x && a.x <= text.left + width,
                "{a:?} is led to its own text {text:?}"
            );
            for (b, other) in wanted.iter().zip(&placed).skip(idx + 1) {
                let apart = text.left + width <= other.left || other.left + width <= text.left;
                assert!(text.row != other.row || apart, "{text:?} and {other:?} touch");
                for (line, over, label) in [(a.x, other, text), (b.x, text, other)] {
                    let crosses =
                        over.row < label.row && over.left < line && line < over.left + width;
                    assert!(!crosses, "the line at {line} crosses {over:?}");
                }
            }
        }
        placed
    }

    #[test]
    fn wide_bays_need_one_row() {
        let rows = check(&[20.0, 60.0, 100.0], 27.0, 3);
        assert!(rows.iter().all(|placed| placed.row == 0), "{rows:?}");
    }

    #[test]
    fn regular_bays_take_turns() {
        let xs: Vec<f64> = (0..12).map(|idx| 9.0 + f64::from(idx) * 17.0).collect();
        let rows: Vec<usize> = check(&xs, 27.0, 4).iter().map(|placed| placed.row).collect();
        assert!(rows.windows(2).all(|pair| pair[0] != pair[1]), "{rows:?}");
        assert!(rows.iter().all(|row| *row < 2), "two rows do: {rows:?}");
    }

    #[test]
    fn columns_beside_an_opening_find_room() {
        check(&[9.0, 26.0, 43.0, 60.0, 71.0, 84.0, 101.0, 118.0], 27.0, 4);
    }

    #[test]
    fn too_many_columns_are_refused() {
        let wanted: Vec<Wanted> = (0..40)
            .map(|idx| Wanted { x: f64::from(idx) * 5.0, width: 27.0, need: Need::Must })
            .collect();
        assert_eq!(place(&wanted, ROOM, 3), None, "a reading every 5 mm");
    }

    #[test]
    fn readings_that_may_be_spared_make_room() {
        let need = |idx| if idx == 17 { Need::Must } else { Need::May };
        let wanted: Vec<Wanted> = (0..40)
            .map(|idx| Wanted { x: f64::from(idx) * 5.0, width: 27.0, need: need(idx) })
            .collect();
        let placed = place(&wanted, ROOM, 3).expect("one reading has room");
        assert!(placed[17].is_some(), "the one that must be there");
        assert!(6 < placed.iter().flatten().count(), "and many of the others");
    }
}
