//! Jobs of shots for tests and measurements: a generator of its own seed, a checker that knows
//! nothing of the planner's timing, and full enumeration.

use risemark::{
    quantity::{count, millimeters, seconds, to_whole},
    shots::{Crew, Found, Kit, Problem, Shot, Wishes},
};

use crate::random::Random;

/// Shots and a crew.
#[derive(Debug, Clone)]
pub struct GunJob {
    /// The shots.
    pub shots: Vec<Shot>,
    /// The crew's times.
    pub crew: Crew,
}

fn below(random: &mut Random, bound: usize) -> usize {
    usize::try_from(to_whole((random.share() * count(bound)).floor())).unwrap_or(0)
}

/// A crew with the usual times.
pub fn crew(setting: f64, cart: f64) -> Crew {
    Crew {
        set_up: seconds(6.0),
        per_metre: seconds(1.0),
        cart: seconds(cart),
        setting: seconds(setting),
        idle_limit: seconds(30.0),
        nozzle_change: seconds(20.0),
        nozzle_weight: seconds(60.0),
        kit: None,
        next_kits: Vec::new(),
    }
}

impl GunJob {
    /// A job of about so many shots on some walls.
    pub fn generate(seed: usize, n_shots: usize, n_walls: usize) -> Self {
        let mut random = Random::seeded(((seed as u64) << 32) + (8 * n_shots + n_walls) as u64);
        let mut shots: Vec<Shot> = Vec::new();
        let rows = 1 + below(&mut random, 5);
        let spray = 4.0 + 16.0 * random.share();
        for wall in 0..n_walls {
            let wanted = n_shots * (wall + 1) / n_walls;
            let rows = (rows + below(&mut random, 2)).min(5);
            let mut bay = 0.0;
            while shots.len() < wanted {
                bay += if below(&mut random, 8) == 0 { 800.0 } else { 406.4 };
                // Over and under openings columns are shorter.
                let n =
                    if below(&mut random, 4) == 0 { 1 + below(&mut random, rows) } else { rows };
                let share = 0.5 + random.share();
                let mut after = Vec::new();
                for row in 0..n.min(wanted - shots.len()) {
                    let duration = (spray * share * (0.8 + 0.4 * random.share())).round().max(3.0);
                    shots.push(Shot {
                        wall,
                        across: millimeters(bay),
                        up: millimeters(600.0 + 2_200.0 * count(row) / count(rows)),
                        duration: seconds(duration),
                        after,
                    });
                    after = vec![shots.len() - 1];
                }
            }
        }
        let setting = [90.0, 120.0, 180.0, 180.0, 240.0, 300.0][below(&mut random, 6)];
        let cart = [30.0, 45.0, 45.0, 60.0][below(&mut random, 4)];
        Self { shots, crew: crew(setting, cart) }
    }

    /// How long a kit sprays that comes after so many.
    fn kit_lasts(&self, n_before: usize) -> f64 {
        let first = self.crew.kit.map_or(f64::INFINITY, |kit| kit.lasts.value);
        match n_before {
            0 => first,
            next => self.crew.next_kits.get(next - 1).map_or(first, |kit| kit.value),
        }
    }

    /// The same job with kits that run empty.
    #[must_use]
    pub fn with_kits(mut self, lasts: f64, change: f64) -> Self {
        self.crew.kit = Some(Kit { lasts: seconds(lasts), change: seconds(change) });
        self
    }

    /// The same job in bays of several columns: shots wait for the next lower one to the left as well.
    #[must_use]
    pub fn woven(mut self) -> Self {
        let before = self.shots.clone();
        for shot in &mut self.shots {
            let Some(&below) = shot.after.first() else { continue };
            let is_beside = |other: &usize| {
                let (other, below) = (&before[*other], &before[below]);
                other.wall == below.wall && other.up == below.up && other.across < below.across
            };
            shot.after.extend((0..below).rev().find(is_beside));
        }
        self
    }

    /// The problem, with nothing fixed.
    pub fn problem(&self) -> Problem {
        Problem::new(&self.shots, &self.crew, &Wishes::default())
    }

    /// From the end of a shot to the start of another at the soonest.
    fn way(&self, from: usize, to: usize) -> f64 {
        let (a, b) = (&self.shots[from], &self.shots[to]);
        let (x, y) = ((a.across - b.across).value, (a.up - b.up).value);
        let walk = if a.wall == b.wall { libm::sqrt(x * x + y * y) } else { 0.0 };
        let cart = if a.wall == b.wall { 0.0 } else { self.crew.cart.value };
        self.crew.set_up.value + walk * self.crew.per_metre.value + cart
    }

    /// Checks an order and its times from the rules alone; the cost, or what is wrong.
    pub fn check(&self, found: &Found) -> Result<f64, String> {
        let n_shots = self.shots.len();
        let mut seen = found.order.clone();
        seen.sort_unstable();
        if seen != (0..n_shots).collect::<Vec<_>>() {
            return Err(format!("not every shot once: {seen:?}"));
        }
        let mut end_of = vec![None; n_shots];
        let (mut end, mut n_nozzles) = (0.0, 0);
        let (mut sprayed, mut n_kits) = (0.0, 0);
        for (at, (&shot, &start)) in found.order.iter().zip(&found.starts).enumerate() {
            let spray = self.shots[shot].duration.value;
            for &below in &self.shots[shot].after {
                let Some(set) = end_of[below] else {
                    return Err(format!("shot {shot} before {below} under it"));
                };
                let set: f64 = set + self.crew.setting.value;
                if start < set - 1e-6 {
                    return Err(format!("shot {shot} starts at {start}, set at {set}"));
                }
            }
            let empty =
                self.crew.kit.filter(|_| 0 < at && self.kit_lasts(n_kits) < sprayed + spray);
            n_kits += usize::from(empty.is_some());
            if 0 < at {
                let (gap, way) = (start - end, self.way(found.order[at - 1], shot));
                let idle = self.crew.idle_limit.value + 1e-6 < gap;
                let fresh = idle || empty.is_some();
                let change = if fresh { self.crew.nozzle_change.value } else { 0.0 };
                let change = empty.map_or(change, |kit| kit.change.value);
                if gap < way + change - 1e-6 {
                    return Err(format!("a gap of {gap} before shot {shot}, way {way}"));
                }
                if fresh != found.fresh[at] {
                    return Err(format!("a gap of {gap}, fresh nozzle: {}", found.fresh[at]));
                }
                n_nozzles += usize::from(fresh);
            }
            sprayed = if empty.is_some() { spray } else { sprayed + spray };
            end = start + spray;
            end_of[shot] = Some(end);
        }
        let cost = end + count(n_nozzles) * self.crew.nozzle_weight.value;
        if 1e-6 < (cost - found.cost).abs() {
            return Err(format!("costs {cost}, said {}", found.cost));
        }
        Ok(cost)
    }

    /// The least cost of all orders with all choices of nozzles; for seven shots at most.
    pub fn least(&self) -> f64 {
        let mut least = f64::INFINITY;
        self.every_order(&mut Vec::new(), &mut least);
        least
    }

    fn every_order(&self, order: &mut Vec<usize>, least: &mut f64) {
        if order.len() == self.shots.len() {
            *least = least.min(self.least_of(order, *least));
            return;
        }
        for shot in 0..self.shots.len() {
            let free = self.shots[shot].after.iter().all(|below| order.contains(below));
            if free && !order.contains(&shot) {
                order.push(shot);
                self.every_order(order, least);
                order.pop();
            }
        }
    }

    /// Whether the kit runs empty before each shot of an order.
    fn empties(&self, order: &[usize]) -> Vec<bool> {
        let (mut sprayed, mut n_kits) = (0.0, 0);
        let is_empty = order.iter().enumerate().map(|(at, shot)| {
            let spray = self.shots[*shot].duration.value;
            let empty = 0 < at && self.kit_lasts(n_kits) < sprayed + spray;
            n_kits += usize::from(empty);
            sprayed = if empty { spray } else { sprayed + spray };
            empty
        });
        is_empty.collect()
    }

    /// The least cost of one order: for every set of nozzles the longest path through the
    /// differences of times.
    pub fn least_of(&self, order: &[usize], limit: f64) -> f64 {
        let n_shots = order.len();
        let empty = self.empties(order);
        let change = |at: usize| {
            let kit = self.crew.kit.filter(|_| empty[at]).map(|kit| kit.change.value);
            self.crew.nozzle_change.value.max(kit.unwrap_or(0.0))
        };
        let mut least = limit;
        for set in 0..1_u32 << (n_shots - 1) {
            if (1..n_shots).any(|at| empty[at] && set & (1 << (at - 1)) == 0) {
                continue;
            }
            let nozzles = f64::from(set.count_ones()) * self.crew.nozzle_weight.value;
            // From one shot to another: at least so much later.
            let mut later: Vec<(usize, usize, f64)> = Vec::new();
            for at in 1..n_shots {
                let spray = self.shots[order[at - 1]].duration.value;
                let way = self.way(order[at - 1], order[at]);
                if set & (1 << (at - 1)) == 0 {
                    later.push((at - 1, at, spray + way));
                    later.push((at, at - 1, -spray - self.crew.idle_limit.value));
                } else {
                    later.push((at - 1, at, spray + way + change(at)));
                }
            }
            for (at, shot) in order.iter().enumerate() {
                let below = self.shots[*shot].after.iter();
                for below in below.flat_map(|below| order.iter().position(|other| other == below)) {
                    let spray = self.shots[order[below]].duration.value;
                    later.push((below, at, spray + self.crew.setting.value));
                }
            }
            let mut starts = vec![0.0; n_shots];
            let mut settled = false;
            for _ in 0..=n_shots {
                settled = true;
                for (from, to, by) in &later {
                    if starts[*to] + 1e-9 < starts[*from] + by {
                        starts[*to] = starts[*from] + by;
                        settled = false;
                    }
                }
                if settled {
                    break;
                }
            }
            let end = starts[n_shots - 1] + self.shots[order[n_shots - 1]].duration.value;
            if settled && end + nozzles < least {
                least = end + nozzles;
            }
        }
        least
    }

    /// Wall by wall, row by row from below, each row from the left.
    pub fn row_sweep(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.shots.len()).collect();
        let key = |shot: usize| {
            let shot = &self.shots[shot];
            (shot.wall, shot.up.value, shot.across.value)
        };
        order.sort_by(|a, b| {
            let (a, b) = (key(*a), key(*b));
            a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.total_cmp(&b.2))
        });
        order
    }
}

/// Searches to the end.
///
/// # Panics
/// When the search ends without an order.
pub fn solved(problem: Problem) -> (Found, f64) {
    let mut search = risemark::shots::Search::new(problem);
    while !search.advance(10_000) {}
    (search.best().expect("an order").clone(), search.bound())
}
