//! The rules for the gun of a job, each at its default or as the user set it.

use crate::{
    foam::PourPlan,
    job::Job,
    limits::{self, Bounds},
    quantity::{Time, seconds},
    shots::{Crew, Kit},
};

/// The crew's times for a job; seconds of a kit follow from the flow.
pub(super) fn crew(job: &Job, pour: &PourPlan) -> Crew {
    let set = &job.crew;
    let (kit, next_kits) = kits(job, pour);
    let outlasts = |time: &Time| kit.is_some_and(|kit| kit.lasts < *time);
    let mut holes = pour.walls.iter().flat_map(|wall| &wall.holes);
    let split = holes.any(|hole| 1 < hole.shots.len() || hole.shots.iter().any(outlasts));
    let setting = or(set.setting, &limits::SETTING);
    Crew {
        set_up: or(set.set_up, &limits::SET_UP),
        per_metre: seconds(1.0 / set.walking.unwrap_or(limits::WALKING.default)),
        cart: or(set.cart, &limits::CART),
        // A hole that is shot in pieces waits like one lift for the other, but not less than foam
        // needs to cool.
        setting: if split { pour.rules.pause } else { setting },
        idle_limit: or(set.idle_limit, &limits::IDLE_LIMIT),
        nozzle_change: or(set.nozzle_change, &limits::NOZZLE_CHANGE),
        nozzle_weight: or(set.nozzle_weight, &limits::NOZZLE_WEIGHT),
        kit,
        next_kits,
    }
}

/// The kits that finish the job nine times in ten, the largest first; those that are too small for a shot
/// are for touching up.
fn kits(job: &Job, pour: &PourPlan) -> (Option<Kit>, Vec<Time>) {
    let choice = pour.buying.choices.iter().find(|choice| KIT_CHANCE <= choice.asked);
    let bought = choice.into_iter().flat_map(|choice| &choice.kits);
    let mut sizes: Vec<_> = bought
        .flat_map(|(size, n_kits)| (0..(*n_kits).min(MOST_KITS)).map(move |_| *size))
        .collect();
    if sizes.is_empty() {
        sizes.extend(pour.rules.kits.first());
    }
    let lasting = sizes.iter().map(|size| pour.yield_of(size) / pour.flow.rate);
    let mut lasting = lasting.filter(|lasts: &Time| seconds(0.0) < *lasts);
    let (change, purge) = (job.crew.kit_change, job.crew.purge);
    let change = or(change, &limits::KIT_CHANGE) + or(purge, &limits::PURGE);
    let kit = lasting.next().map(|lasts| Kit { lasts, change });
    let shots = pour.walls.iter().flat_map(|wall| &wall.holes).flat_map(|hole| &hole.shots);
    let longest = shots.map(|time| time.value).fold(0.0, f64::max);
    let is_alike = |lasts: &Time| kit.is_some_and(|kit| kit.lasts == *lasts);
    let mut next_kits: Vec<Time> = lasting.filter(|lasts| longest <= lasts.value).collect();
    if next_kits.iter().all(is_alike) {
        next_kits.clear();
    }
    (kit, next_kits)
}

/// More kits than these are not told apart.
const MOST_KITS: u32 = 1_000;

/// The chance of finishing that the kits at the gun are bought for.
const KIT_CHANCE: f64 = 0.9;

fn or(set: Option<f64>, bounds: &Bounds) -> Time {
    seconds(set.unwrap_or(bounds.default))
}
