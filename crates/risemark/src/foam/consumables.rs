//! Consumables, time and cost: what else to buy, how long people work, and what it comes to.
//!
//! Only prices that the user entered count; the totals say whether any was missing.

use uom::ConstZero;

use crate::{
    foam::{PourPlan, WallPour, rules::or},
    job::{Job, Material, Prices},
    limits,
    plan::Plan,
    quantity::{Length, Time, count, seconds},
};

/// What the order of shots comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShotTotals {
    /// How many nozzles it uses.
    pub nozzles: usize,
    /// From the first shot to the end of the last.
    pub time: Time,
}

/// What a job takes beside foam, and what all of it costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Consumables {
    /// What is bought, kits first.
    pub items: Vec<Item>,
    /// How long people work, task by task.
    pub tasks: Vec<Task>,
    /// How many people work.
    pub people: u32,
    /// What is bought, as far as prices are known.
    pub material: Total,
    /// The work, as far as its price is known.
    pub work: Total,
}

/// A thing that is bought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Item {
    /// What it is.
    pub kind: ItemKind,
    /// How many.
    pub quantity: usize,
    /// What one costs, if the user knows.
    pub price: Option<f64>,
}

/// What is bought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ItemKind {
    /// A kit of foam.
    Kit {
        /// Its nominal yield.
        nominal: crate::quantity::Volume,
    },
    /// A nozzle.
    Nozzle,
    /// A tube for a nozzle.
    Tube,
    /// A jar of petroleum jelly, which keeps the tube and the tip from sticking.
    Jelly,
    /// A plug for a hole.
    Plug,
    /// A tub of patching compound.
    Compound,
    /// A respirator mask.
    Mask,
    /// A pair of cartridges for a mask.
    Cartridges,
    /// A drop cloth.
    DropCloth,
    /// A drill bit.
    Bit,
}

/// One task and how long it takes one person.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Task {
    /// What is done.
    pub kind: TaskKind,
    /// How long, one person's time; of shooting, everybody's.
    pub time: Time,
}

/// What people do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TaskKind {
    /// Marking holes.
    Marking,
    /// Drilling them.
    Drilling,
    /// Shooting foam: the trigger is pulled.
    Shooting,
    /// Between shots: walking, placing, waiting for foam to set.
    Waiting,
    /// Closing holes.
    Patching,
    /// Covering, warming kits, cleaning.
    Cleaning,
}

/// A sum of money.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Total {
    /// What is known of it.
    pub known: f64,
    /// How many of its parts have no price.
    pub n_unknown: usize,
}

impl Item {
    /// What all of them cost, if the user knows the price of one.
    pub fn cost(&self) -> Option<f64> {
        self.price.map(|price| price * count(self.quantity))
    }
}

impl ShotTotals {
    /// What it comes to when nobody has planned an order: walls one after the other, a nozzle for each.
    pub fn unplanned(pour: &PourPlan) -> Self {
        let is_shot = |wall: &&WallPour| wall.holes.iter().any(|hole| !hole.shots.is_empty());
        let n_walls = pour.walls.iter().filter(is_shot).count();
        let shots = pour.walls.iter().flat_map(|wall| &wall.holes).map(|hole| hole.shots.len());
        let placing = seconds(limits::PLACING) * count(shots.sum());
        let pauses = pour.walls.iter().map(|wall| {
            let most = wall.holes.iter().map(|hole| hole.shots.len()).max().unwrap_or(0);
            pour.rules.pause * count(most.max(1) - 1)
        });
        let time = pauses.fold(pour.time + placing, |sum, pause| sum + pause);
        Self { nozzles: n_walls, time }
    }
}

/// What a job takes beside the foam, with the nozzles and the time of its order of shots.
pub fn consumables(job: &Job, plan: &Plan, pour: &PourPlan, shooting: &ShotTotals) -> Consumables {
    let (work, people) = (&job.foam.work, job.foam.work.people.unwrap_or(2));
    let items = items(job, plan, pour, (shooting.nozzles, people));
    let n_holes: usize = plan.walls.iter().map(|wall| wall.drill.holes.len()).sum();
    let each = |set, bounds| seconds(or(set, bounds)) * count(n_holes);
    let waiting = shooting.time - pour.time;
    let hands = f64::from(people);
    let tasks = vec![
        Task { kind: TaskKind::Marking, time: each(work.marking, &limits::MARKING) },
        Task { kind: TaskKind::Drilling, time: drilling(job, plan) },
        Task { kind: TaskKind::Shooting, time: pour.time * hands },
        Task {
            kind: TaskKind::Waiting,
            time: if waiting < Time::ZERO { Time::ZERO } else { waiting * hands },
        },
        Task { kind: TaskKind::Patching, time: each(work.patching, &limits::PATCHING) },
        Task {
            kind: TaskKind::Cleaning,
            time: seconds(or(work.cleaning, &limits::CLEANING) * 60.0),
        },
    ];
    let time = tasks.iter().fold(Time::ZERO, |sum, task| sum + task.time);
    let hours = (time / seconds(3_600.0)).value;
    Consumables {
        material: total(items.iter().map(Item::cost)),
        work: total(std::iter::once(job.foam.prices.hour.map(|hour| hour * hours))),
        items,
        tasks,
        people,
    }
}

fn items(job: &Job, plan: &Plan, pour: &PourPlan, (nozzles, people): (usize, u32)) -> Vec<Item> {
    let Prices { nozzle, tube, jelly, plug, compound, mask, cartridges, drop_cloth, bit, .. } =
        job.foam.prices;
    let holes_of = |masonry: bool| -> usize {
        let walls = plan.walls.iter().zip(&job.walls);
        let walls = walls.filter(|(_, wall)| is_masonry(wall.finish.material) == masonry);
        walls.map(|(plan, _)| plan.drill.holes.len()).sum()
    };
    let n_holes = holes_of(true) + holes_of(false);
    let bits = holes_of(false).div_ceil(limits::HOLES_A_BIT)
        + holes_of(true).div_ceil(limits::HOLES_A_MASONRY_BIT);
    let length = job.walls.iter().fold(Length::ZERO, |sum, wall| sum + wall.width);
    let people = usize::try_from(people).unwrap_or(usize::MAX);
    let nozzles = with_spares(nozzles, or(job.foam.spare_nozzles, &limits::SPARE));
    let kits = pour.buying.choices.get(1).map(|choice| choice.kits.as_slice()).unwrap_or_default();
    // What is there already need not be bought.
    let to_buy = kits.iter().map(|(size, n_kits)| (size, n_kits.saturating_sub(size.at_hand)));
    let kits = to_buy.filter(|(_, n_kits)| 0 < *n_kits).map(|(size, n_kits)| Item {
        kind: ItemKind::Kit { nominal: size.nominal },
        quantity: usize::try_from(n_kits).unwrap_or(usize::MAX),
        price: size.price,
    });
    let rest = [
        (ItemKind::Nozzle, nozzles, nozzle),
        (ItemKind::Tube, nozzles, tube),
        (ItemKind::Jelly, n_holes.div_ceil(limits::HOLES_A_JAR), jelly),
        (ItemKind::Plug, n_holes, plug),
        (ItemKind::Compound, n_holes.div_ceil(limits::HOLES_A_TUB), compound),
        (ItemKind::Mask, people, mask),
        (ItemKind::Cartridges, people, cartridges),
        (ItemKind::DropCloth, whole_up((length / limits::DROP_CLOTH).value), drop_cloth),
        (ItemKind::Bit, bits, bit),
    ];
    let rest = rest.into_iter().map(|(kind, quantity, price)| Item { kind, quantity, price });
    kits.chain(rest).filter(|item| 0 < item.quantity).collect()
}

fn with_spares(nozzles: usize, percent: f64) -> usize {
    nozzles + whole_up(count(nozzles) * percent / 100.0)
}

fn whole_up(value: f64) -> usize {
    // A hair over a whole number is rounding.
    usize::try_from(crate::quantity::to_whole((value - 1e-9).ceil())).unwrap_or(0)
}

fn is_masonry(material: Material) -> bool {
    match material {
        Material::Plaster | Material::Stucco | Material::Brick => true,
        Material::Board | Material::Wood | Material::Siding => false,
    }
}

fn drilling(job: &Job, plan: &Plan) -> Time {
    let walls = plan.walls.iter().zip(&job.walls);
    let times = walls.map(|(plan, wall)| {
        let usual = match is_masonry(wall.finish.material) {
            true => limits::DRILLING_MASONRY,
            false => limits::DRILLING.default,
        };
        seconds(job.foam.work.drilling.unwrap_or(usual)) * count(plan.drill.holes.len())
    });
    times.fold(Time::ZERO, |sum, time| sum + time)
}

fn total(costs: impl Iterator<Item = Option<f64>>) -> Total {
    costs.fold(Total { known: 0.0, n_unknown: 0 }, |sum, cost| match cost {
        Some(cost) => Total { known: sum.known + cost, ..sum },
        None => Total { n_unknown: sum.n_unknown + 1, ..sum },
    })
}
