//! Stage 5, shoot: the order of the shots with one gun.
//!
//! The order is looked for with small changes, whose number and seed are fixed, so that one job gives
//! one order on every machine. What comes of it stands beside a bound that no order can beat.

mod anneal;
mod apart;
mod bound;
mod columns;
mod exact;
mod numbers;
mod problem;
mod retiming;
mod rules;
mod search;
mod starts;
mod timing;

use uom::ConstZero;

use crate::{
    finding::{Finding, Place, Problem as Trouble, Staged},
    foam::{PourPlan, in_parts},
    job::{HoleName, Job},
    plan::Plan,
    quantity::{Time, seconds},
};

pub use problem::{Crew, Kit, Problem, Refused, Shot, Wishes};
pub use search::{Found, Search};

/// The order of all shots of a job.
///
/// Guarantees: what must set has set, gaps over the idle limit come with a fresh nozzle, and no order
/// by the same rules costs less than the bound.
#[derive(Debug, Clone, PartialEq)]
pub struct ShotPlan {
    /// The crew's times that were used.
    pub crew: Crew,
    /// The shots, in the order in which they are made.
    pub order: Vec<PlannedShot>,
    /// From the first shot to the end of the last.
    pub end: Time,
    /// The end, with what the changed nozzles are worth.
    pub cost: Time,
    /// No order costs less.
    pub bound: Time,
    /// How many nozzles are used, with the first.
    pub n_nozzles: usize,
    /// How many kits are used, with the first.
    pub n_kits: usize,
}

/// One shot of the order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlannedShot {
    /// The wall, by its position in the plan.
    pub wall: usize,
    /// The mark of the hole.
    pub hole: usize,
    /// Which of the shots through that hole it is, from 1.
    pub piece: usize,
    /// How many shots the hole gets.
    pub n_pieces: usize,
    /// When it starts, from the start of the first shot.
    pub start: Time,
    /// How long the gun sprays.
    pub duration: Time,
    /// From the end of the shot before it.
    pub gap: Time,
    /// The nozzle it is made with, from 1.
    pub nozzle: usize,
    /// The kit it is made with, from 1.
    pub kit: usize,
}

/// The shots of a job before they are in order.
///
/// Whoever must not be kept waiting searches their problem slice by slice, here or elsewhere.
#[derive(Debug, Clone)]
pub struct Unordered {
    crew: Crew,
    shots: Vec<Shot>,
    holes: Vec<Piece>,
    problem: Problem,
    findings: Vec<Finding>,
}

/// A shot's hole.
#[derive(Debug, Clone, Copy)]
struct Piece {
    wall: usize,
    hole: usize,
    piece: usize,
    n_pieces: usize,
}

/// How many changes are made at a time by whoever waits for all of them.
const SLICE: usize = 100_000;

/// Puts the shots of a job in order.
pub fn shoot(job: &Job, plan: &Plan, pour: &PourPlan) -> Staged<ShotPlan> {
    let shots = Unordered::new(job, plan, pour);
    let mut search = Search::new(shots.problem.clone());
    while !search.advance(SLICE) {}
    shots.ordered(search.best(), search.bound())
}

impl Unordered {
    /// The shots with the crew's times and the user's wishes.
    pub fn new(job: &Job, plan: &Plan, pour: &PourPlan) -> Self {
        // Make a shot of every piece, each after the one below it.
        let crew = rules::crew(job, pour);
        let (shots, holes) = shots(plan, pour, crew.kit);

        // Find the holes and walls that the user named, and say which there are none of.
        let Staged { product: wishes, mut findings } = wishes(job, plan, &holes);

        let problem = Problem::new(&shots, &crew, &wishes);
        findings.extend(problem.refused().iter().map(|refused| refusal(*refused, &holes, plan)));
        findings.extend(outlasting(pour, crew.kit));
        Self { crew, shots, holes, problem, findings }
    }

    /// What an order is to be found for.
    pub fn problem(&self) -> &Problem {
        &self.problem
    }

    /// The shots in the order that was found for their problem, with the bound that was found; none
    /// where none was found yet.
    pub fn ordered(&self, found: Option<&Found>, bound: f64) -> Staged<ShotPlan> {
        let order = found.map(|found| self.order(found)).unwrap_or_default();
        let (end, cost) = found.map_or((0.0, 0.0), |found| (found.end, found.cost));
        let product = ShotPlan {
            crew: self.crew.clone(),
            end: seconds(end),
            cost: seconds(cost),
            bound: seconds(bound),
            n_nozzles: order.last().map_or(0, |shot| shot.nozzle),
            n_kits: order.last().map_or(0, |shot| shot.kit),
            order,
        };
        let mut findings = self.findings.clone();
        findings.extend(waits(&product));
        Staged { product, findings }
    }

    fn order(&self, found: &Found) -> Vec<PlannedShot> {
        let first = self.crew.kit.map(|kit| kit.lasts);
        let lasts = |kit: usize| {
            let next = kit.checked_sub(2).and_then(|next| self.crew.next_kits.get(next));
            next.copied().or(first)
        };
        let (mut nozzle, mut kit) = (1, 1);
        let (mut end, mut sprayed) = (Time::ZERO, Time::ZERO);
        let mut order = Vec::with_capacity(found.order.len());
        for ((&idx, &start), &fresh) in found.order.iter().zip(&found.starts).zip(&found.fresh) {
            // What was found elsewhere may be of other shots.
            let (Some(shot), Some(piece)) = (self.shots.get(idx), self.holes.get(idx)) else {
                continue;
            };
            let (start, duration) = (seconds(start), shot.duration);
            let is_first = order.is_empty();
            let empty = !is_first && lasts(kit).is_some_and(|lasts| lasts < sprayed + duration);
            sprayed = if empty { duration } else { sprayed + duration };
            kit += usize::from(empty);
            nozzle += usize::from(fresh);
            let Piece { wall, hole, piece, n_pieces } = *piece;
            let gap = if is_first { Time::ZERO } else { start - end };
            order.push(PlannedShot {
                wall,
                hole,
                piece,
                n_pieces,
                start,
                duration,
                gap,
                nozzle,
                kit,
            });
            end = start + duration;
        }
        order
    }
}

impl ShotPlan {
    /// How far the cost may lie above the least, in percent; rounded up to a hundredth, so that it never
    /// says too little.
    pub fn within_percent(&self) -> f64 {
        (self.above_bound() * 1e4).ceil().max(0.0) / 1e2
    }

    /// How far the cost may lie above the least, as a share of it.
    pub fn above_bound(&self) -> f64 {
        if self.bound <= Time::ZERO { 0.0 } else { (self.cost / self.bound).value - 1.0 }
    }
}

/// A shot for every piece of every hole, wall by wall, lower ones first. What one kit cannot spray is
/// shot in parts.
fn shots(plan: &Plan, pour: &PourPlan, kit: Option<Kit>) -> (Vec<Shot>, Vec<Piece>) {
    let (mut shots, mut pieces) = (Vec::new(), Vec::new());
    for (wall, (wall_plan, wall_pour)) in plan.walls.iter().zip(&pour.walls).enumerate() {
        let holes = &wall_plan.drill.holes;
        let below = columns::below(holes);
        // What has to set before a shot that lies over a hole.
        let mut last_of: Vec<Vec<usize>> = vec![Vec::new(); holes.len()];
        // From the bottom up, so that the holes below come first.
        for idx in columns::from_below(holes) {
            let (hole, hole_pour) = (&holes[idx], &wall_pour.holes[idx]);
            let mut after: Vec<usize> = Vec::new();
            for shot in below[idx].iter().flat_map(|below| &last_of[*below]) {
                if !after.contains(shot) {
                    after.push(*shot);
                }
            }
            let sprayed = hole_pour.shots.iter().copied().filter(|time| Time::ZERO < *time);
            let sprayed: Vec<Time> = sprayed.flat_map(|time| within_kits(time, kit)).collect();
            for (piece, duration) in sprayed.iter().enumerate() {
                let (across, up) = (hole.centre.x, hole.centre.y);
                let before = std::mem::replace(&mut after, vec![shots.len()]);
                shots.push(Shot { wall, across, up, duration: *duration, after: before });
                let n_pieces = sprayed.len();
                pieces.push(Piece { wall, hole: hole.mark, piece: piece + 1, n_pieces });
            }
            last_of[idx] = after;
        }
    }
    (shots, pieces)
}

/// A shot in as many parts as it takes kits; no part is shorter than a second.
fn within_kits(time: Time, kit: Option<Kit>) -> Vec<Time> {
    let lasts = kit.map_or(time.value, |kit| kit.lasts.value.floor().max(1.0));
    in_parts(time, (time.value / lasts).ceil())
}

/// What is to be known of shots that take longer than a kit lasts.
fn outlasting(pour: &PourPlan, kit: Option<Kit>) -> Option<Finding> {
    let lasts = kit?.lasts;
    let shots = pour.walls.iter().flat_map(|wall| &wall.holes).flat_map(|hole| &hole.shots);
    let n_shots = shots.filter(|time| lasts < **time).count();
    let problem = Trouble::ShotsOutlastKits { n_shots, lasts };
    (0 < n_shots).then(|| Finding::new(Place::default(), problem))
}

fn wishes(job: &Job, plan: &Plan, pieces: &[Piece]) -> Staged<Wishes> {
    let mut findings = Vec::new();
    let mut all_of = |field: &str, name: &HoleName| -> Vec<usize> {
        let is_named = |piece: &Piece| {
            plan.walls[piece.wall].wall.id == name.wall
                && Ok(piece.hole) == usize::try_from(name.hole)
        };
        let found: Vec<usize> = (0..pieces.len()).filter(|idx| is_named(&pieces[*idx])).collect();
        if found.is_empty() {
            let problem = Trouble::NoSuchHole { wall: name.wall.clone(), hole: name.hole };
            findings.push(Finding::new(Place::default().field(field), problem));
        }
        found
    };
    let first =
        job.crew.first.as_ref().and_then(|name| all_of("crew.first", name).first().copied());
    let sequence =
        job.crew.sequence.iter().flat_map(|name| all_of("crew.sequence", name)).collect();
    let mut walls = Vec::new();
    for id in &job.crew.walls {
        match plan.walls.iter().position(|wall| wall.wall.id == *id) {
            Some(wall) => walls.push(wall),
            None => findings.push(Finding::new(
                Place::default().field("crew.walls"),
                Trouble::NoSuchWall { id: id.clone() },
            )),
        }
    }
    Staged { product: Wishes { first, walls, sequence }, findings }
}

fn refusal(refused: Refused, pieces: &[Piece], plan: &Plan) -> Finding {
    let (field, shot) = match refused {
        Refused::First(shot) => ("crew.first", shot),
        Refused::Sequence(shot) => ("crew.sequence", shot),
    };
    let piece = pieces[shot];
    Finding::new(Place::default().field(field), Trouble::OutOfTurn { hole: piece.hole })
        .on(&plan.walls[piece.wall].wall)
}

/// What waiting for foam to set costs in nozzles.
fn waits(plan: &ShotPlan) -> Option<Finding> {
    let pairs = plan.order.windows(2).map(|pair| (pair[0], pair[1]));
    let waits: Vec<Time> = pairs
        .filter(|(before, shot)| {
            before.wall == shot.wall && before.kit == shot.kit && before.nozzle != shot.nozzle
        })
        .map(|(_, shot)| shot.gap)
        .collect();
    let longest =
        waits.iter().copied().fold(Time::ZERO, |most, gap| if most < gap { gap } else { most });
    let problem = Trouble::WaitsCostNozzles { n_waits: waits.len(), longest };
    (!waits.is_empty()).then(|| Finding::new(Place::default(), problem))
}
