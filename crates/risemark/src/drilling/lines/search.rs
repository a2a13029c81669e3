//! The search for fewer lines, and for more even ones: some lines are taken away and the wall is
//! filled again without them.

use crate::{
    drilling::lines::{
        Few,
        bound::{Prices, apart},
        kinds::Kind,
        rows::Rows,
        stab::{Choice, Way, stab},
    },
    quantity::whole,
    random::Random,
};

/// The wall as the search sees it.
#[derive(Debug)]
pub(super) struct Wall {
    pub(super) kinds: Vec<Kind>,
    /// How many rows there are.
    pub(super) n_rows: usize,
    /// Rows that have a line already, which costs nothing.
    pub(super) free: Rows,
    /// Rows at which a line is liked best; without any, all are alike.
    pub(super) preferred: Option<Rows>,
}

/// Lines that fill a wall.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub(super) lines: Rows,
    /// No plan has fewer lines than this.
    pub(super) bound: usize,
}

/// One seed for all, so that a job has one plan.
const SEED: u64 = 0x5eed_0f11;

/// A line at a height that nobody asked for weighs more than any unevenness.
const UNLIKED: i64 = 1_000_000_000_000;

/// The best of three quick ways; before them lines near to others, where those are as few.
pub(super) fn start(wall: &Wall, near: Option<Rows>) -> Found {
    let kinds: Vec<&Kind> = wall.kinds.iter().collect();
    let filled = |fill: &dyn Fn(&mut Rows)| {
        let mut lines = wall.free.clone();
        fill(&mut lines);
        without_superfluous(wall, &mut lines, None);
        lines
    };
    let near = near.map(|near| {
        filled(&|lines| {
            near.iter().for_each(|row| lines.insert(row));
            stab(&kinds, lines, Way::Up, Choice::Furthest);
        })
    });
    let starts = [
        filled(&|lines| stab(&kinds, lines, Way::Up, Choice::Furthest)),
        filled(&|lines| stab(&kinds, lines, Way::Down, Choice::Furthest)),
        filled(&|lines| {
            let highest = wall.kinds.iter().flat_map(|kind| &kind.levels);
            highest.for_each(|level| lines.insert(level.high));
        }),
    ];
    let starts = near.into_iter().chain(starts);
    let lines = starts.min_by_key(Rows::len).unwrap_or_else(|| wall.free.clone());
    Found { lines, bound: apart(&wall.kinds, &wall.free) + wall.free.len() }
}

/// Looks for fewer lines until they meet the bound, or for so many rounds.
pub(super) fn fewer(wall: &Wall, found: &mut Found, n_rounds: usize) {
    let mut random = Random::new(SEED);
    let mut prices = Prices::new(&wall.kinds, &wall.free, wall.n_rows);
    let mut current = found.lines.clone();
    for round in 0..n_rounds {
        if found.lines.len() <= found.bound {
            return;
        }
        // The bound is dearer than a try; it converges in some hundred rounds.
        if round % TRIES_A_PRICE == 0 {
            prices.advance(&wall.kinds, wall.n_rows);
            found.bound = found.bound.max(prices.bound() + wall.free.len());
        }
        let tried = rebuilt(wall, &current, &mut random);
        if tried.len() <= current.len() {
            current = tried;
            if current.len() < found.lines.len() {
                found.lines = current.clone();
            }
        }
    }
}

const TRIES_A_PRICE: usize = 4;

/// Looks for lines at more liked and more even heights, as many as there are, in so many moves.
pub(super) fn evener(wall: &Wall, found: &mut Found, n_moves: usize) {
    let Some(mut best) = Costed::of(wall, found.lines.clone()) else {
        return;
    };
    settle(wall, &mut best);
    like(wall, &mut best);
    if 0 < n_moves {
        let least = wall.least_cost();
        let mut random = Random::new(SEED);
        let mut current = best.clone();
        let n_each = n_moves / HEATS.len();
        for heat in HEATS {
            cooled(wall, (&mut current, &mut best), least, (n_each, heat), &mut random);
        }
        settle_chains(wall, &mut best);
        like(wall, &mut best);
    }
    found.lines = best.lines;
}

/// What a line may be worse by at the beginning of each cooling, in parts of a row: eight rows of a
/// quarter of an inch, then far, then little. One long cooling misses more than three.
const HEATS: [f64; 3] = [8_000.0, 32_000.0, 2_000.0];

/// One cooling: worse lines are taken now and then, ever more seldom.
fn cooled(
    wall: &Wall,
    (current, best): (&mut Costed, &mut Costed),
    least: i64,
    (n_moves, heat): (usize, f64),
    random: &mut Random,
) {
    let columns: i64 = wall.kinds.iter().map(|kind| kind.n_columns).sum();
    let per_line = columns / whole(best.lines.len().max(1));
    let warm = heat * as_f64(per_line.max(1));
    for at in 0..n_moves {
        if best.cost <= least {
            return;
        }
        let heat = warm * libm::exp(-6.0 * as_f64(whole(at)) / as_f64(whole(n_moves)));
        let tried = match random.below(8) {
            0 => chain_shifted(wall, &current.lines, random),
            1..4 => shifted(wall, &current.lines, random),
            _ => rebuilt(wall, &current.lines, random),
        };
        if current.lines.len() < tried.len() || tried == current.lines {
            continue;
        }
        let Some(tried) = current.changed(wall, tried) else {
            continue;
        };
        let worse = as_f64(tried.cost - current.cost);
        if worse <= 0.0 || random.share() < libm::exp(-worse / heat) {
            *current = tried;
            if current.cost < best.cost {
                *best = current.clone();
            }
        }
    }
}

/// Lines and how far their chains are from the most liked and even ones.
#[derive(Debug, Clone)]
struct Costed {
    lines: Rows,
    of_kind: Few<i64>,
    cost: i64,
}

impl Costed {
    fn of(wall: &Wall, lines: Rows) -> Option<Self> {
        let sorted: Few<usize> = lines.iter().collect();
        let of_kind = wall.kinds.iter().map(|kind| kind.unevenness(&sorted));
        let of_kind = of_kind.collect::<Option<Few<i64>>>()?;
        let cost = of_kind.iter().sum::<i64>() + wall.unliked(&lines);
        Some(Self { lines, of_kind, cost })
    }

    /// The same with other lines; only kinds that can use a line that changed are looked at.
    fn changed(&self, wall: &Wall, lines: Rows) -> Option<Self> {
        let sorted: Few<usize> = lines.iter().collect();
        let changed = lines.differing(&self.lines);
        let mut of_kind = self.of_kind.clone();
        for (kind, cost) in wall.kinds.iter().zip(&mut of_kind) {
            if kind.usable.meets(&changed) {
                *cost = kind.unevenness(&sorted)?;
            }
        }
        let cost = of_kind.iter().sum::<i64>() + wall.unliked(&lines);
        Some(Self { lines, of_kind, cost })
    }
}

impl Wall {
    fn unliked(&self, lines: &Rows) -> i64 {
        let Some(preferred) = &self.preferred else {
            return 0;
        };
        let chosen = lines.iter().filter(|&row| !self.free.contains(row));
        let unliked = chosen.filter(|&row| !preferred.contains(row)).count();
        whole(unliked) * UNLIKED
    }

    /// What it would cost if every kind had lines of its own.
    fn least_cost(&self) -> i64 {
        let alone = |kind: &Kind| {
            let rows: Few<usize> = kind.usable.iter().collect();
            kind.unevenness(&rows).unwrap_or(0)
        };
        self.kinds.iter().map(alone).sum()
    }
}

/// Takes some lines away, neighbours or any, and fills the wall again.
fn rebuilt(wall: &Wall, lines: &Rows, random: &mut Random) -> Rows {
    let mut sorted: Few<usize> = lines.less(&wall.free).iter().collect();
    let n_taken = (1 + random.below(4) + 4 * (random.below(8) / 7)).min(sorted.len());
    let taken: Few<usize> = if random.next().is_multiple_of(2) {
        let from = random.below(sorted.len() + 1 - n_taken);
        sorted.drain(from..from + n_taken).collect()
    } else {
        (0..n_taken).map(|_| sorted.swap_remove(random.below(sorted.len()))).collect()
    };
    let mut gone = Rows::none(wall.n_rows);
    taken.iter().for_each(|&row| gone.insert(row));
    let mut lines = lines.less(&gone);
    // The others have their chains still.
    let misses = |kind: &&Kind| kind.usable.meets(&gone) && !kind.fits(&lines);
    let missing: Few<&Kind> = wall.kinds.iter().filter(misses).collect();
    let way = if random.next().is_multiple_of(2) { Way::Up } else { Way::Down };
    stab(&missing, &mut lines, way, Choice::Busiest(random));
    without_superfluous(wall, &mut lines, Some(random));
    lines
}

/// Moves one line a little.
fn shifted(wall: &Wall, lines: &Rows, random: &mut Random) -> Rows {
    let sorted: Few<usize> = lines.less(&wall.free).iter().collect();
    let mut lines = lines.clone();
    let Some(&line) = sorted.get(random.below(sorted.len())) else {
        return lines;
    };
    let furthest = 2 << random.below(5);
    let by = 1 + random.below(furthest);
    let moved = if random.next().is_multiple_of(2) { line + by } else { line.saturating_sub(by) };
    if moved < wall.n_rows && !lines.contains(moved) {
        lines.remove(line);
        lines.insert(moved);
    }
    lines
}

/// Moves some lines of one chain together, which may be as far apart as holes may be.
fn chain_shifted(wall: &Wall, lines: &Rows, random: &mut Random) -> Rows {
    let sorted: Few<usize> = lines.iter().collect();
    let kind = wall.kinds.get(random.below(wall.kinds.len()));
    let Some(chain) = kind.and_then(|kind| kind.chain(&sorted)) else {
        return lines.clone();
    };
    let from = random.below(chain.len());
    let to = from + 1 + random.below(chain.len() - from);
    let furthest = 2 << random.below(4);
    let by = 1 + isize::try_from(random.below(furthest)).unwrap_or(0);
    let by = if random.next().is_multiple_of(2) { by } else { -by };
    together(wall, lines, &chain[from..to], by).unwrap_or_else(|| lines.clone())
}

/// Lines of which some are moved together; `None` where they leave the wall or meet others.
fn together(wall: &Wall, lines: &Rows, some: &[usize], by: isize) -> Option<Rows> {
    let some = some.iter().filter(|&&line| !wall.free.contains(line));
    let mut moved = lines.clone();
    some.clone().for_each(|&line| moved.remove(line));
    for &line in some {
        let row = line.checked_add_signed(by).filter(|&row| row < wall.n_rows)?;
        if moved.contains(row) {
            return None;
        }
        moved.insert(row);
    }
    Some(moved)
}

/// Moves lines of one chain together as long as that is better, and single ones after that.
fn settle_chains(wall: &Wall, best: &mut Costed) {
    settle(wall, best);
    for _ in 0..MOST_ROUNDS {
        let moved = (0..wall.kinds.len()).filter(|&kind| settled_chain(wall, best, kind)).count();
        if moved == 0 {
            return;
        }
        settle(wall, best);
    }
}

fn settled_chain(wall: &Wall, best: &mut Costed, kind: usize) -> bool {
    let mut moved_any = false;
    for from in 0..wall.kinds[kind].levels.len() {
        for to in from + 2..=wall.kinds[kind].levels.len() {
            for by in [-4, -1, 1, 4] {
                let sorted: Few<usize> = best.lines.iter().collect();
                let Some(chain) = wall.kinds[kind].chain(&sorted) else { return moved_any };
                let moved = together(wall, &best.lines, &chain[from..to], by);
                let tried = moved.and_then(|lines| best.changed(wall, lines));
                if let Some(better) = tried.filter(|tried| tried.cost < best.cost) {
                    *best = better;
                    moved_any = true;
                }
            }
        }
    }
    moved_any
}

/// Takes out every line that no kind misses: those that serve few first, or in any order.
fn without_superfluous(wall: &Wall, lines: &mut Rows, random: Option<&mut Random>) {
    let mut order: Few<usize> = lines.less(&wall.free).iter().collect();
    match random {
        None => {
            let uses = |line: usize| -> i64 {
                let users = wall.kinds.iter().filter(|kind| kind.can_use(line));
                users.map(|kind| kind.n_columns).sum()
            };
            let mut least_first = order.to_vec();
            crate::order::sort_by_key(&mut least_first, |&line| (uses(line), line));
            order = Few::from_vec(least_first);
        }
        Some(random) => {
            for left in (2..=order.len()).rev() {
                order.swap(left - 1, random.below(left));
            }
        }
    }
    for line in order {
        lines.remove(line);
        // Who cannot use the line does not miss it.
        let missed = wall.kinds.iter().any(|kind| kind.can_use(line) && !kind.fits(lines));
        if missed {
            lines.insert(line);
        }
    }
}

/// Moves single lines to rows where one is liked, which small steps and chance may never meet.
fn like(wall: &Wall, best: &mut Costed) {
    let Some(preferred) = &wall.preferred else { return };
    for line in best.lines.iter().collect::<Few<usize>>() {
        if wall.free.contains(line) || preferred.contains(line) {
            continue;
        }
        let mut liked: Vec<usize> = preferred.iter().collect();
        crate::order::sort_by_key(&mut liked, |row| row.abs_diff(line));
        let better = liked.into_iter().take(MOST_LIKED).find_map(|row| {
            let mut lines = best.lines.clone();
            lines.remove(line);
            lines.insert(row);
            let fewer = lines.len() < best.lines.len();
            best.changed(wall, lines).filter(|tried| !fewer && tried.cost < best.cost)
        });
        if let Some(better) = better {
            *best = better;
            settle(wall, best);
        }
    }
}

/// Of the rows that are liked the nearest are tried, so that a wide band takes no longer than some laps.
const MOST_LIKED: usize = 48;

/// Moves single lines as long as that is better.
fn settle(wall: &Wall, best: &mut Costed) {
    for _ in 0..MOST_ROUNDS {
        let mut moved_any = false;
        for line in best.lines.iter().collect::<Few<usize>>() {
            moved_any |= !wall.free.contains(line) && settled(wall, best, line);
        }
        if !moved_any {
            return;
        }
    }
}

/// Enough for lines to come to rest; a bound so that no wall can take long.
const MOST_ROUNDS: usize = 40;

fn settled(wall: &Wall, best: &mut Costed, line: usize) -> bool {
    let mut line = line;
    let mut moved_any = false;
    for shift in [-16, -4, -1, 1, 4, 16] {
        let Some(moved) = line.checked_add_signed(shift) else { continue };
        if wall.n_rows <= moved || best.lines.contains(moved) {
            continue;
        }
        let mut lines = best.lines.clone();
        lines.remove(line);
        lines.insert(moved);
        let better = best.changed(wall, lines).filter(|tried| tried.cost < best.cost);
        if let Some(better) = better {
            *best = better;
            (line, moved_any) = (moved, true);
        }
    }
    moved_any
}

fn as_f64(count: i64) -> f64 {
    crate::quantity::from_whole(count)
}
