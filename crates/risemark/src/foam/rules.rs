//! The rules for foam of a job, each at its default or as the user set it.

use crate::{
    job::{Construction, FoamSettings, Job, Kit, Material, Scatter, Wall},
    limits::{self, Bounds},
    quantity::{
        Length, ThermodynamicTemperature, Time, Volume, board_feet, celsius, seconds, times_as_hot,
    },
};

/// Every rule that decides how foam is shot and bought.
#[derive(Debug, Clone, PartialEq)]
pub struct FoamRules {
    /// How the rise of test shots scatters.
    pub scatter: Scatter,
    /// How sure ranges are, as a share of one.
    pub confidence: f64,
    /// Shots shorter than this do not fit between two breaths.
    pub shortest_shot: Time,
    /// Shots longer than this are split.
    pub longest_shot: Time,
    /// From the end of one shot to the next through one hole, no less than the setting.
    pub pause: Time,
    /// The most that one shot may rise.
    pub lift_height: Option<Length>,
    /// The most that one shot may fill.
    pub shot_volume: Option<Volume>,
    /// The kits that can be bought, the largest first.
    pub kits: Vec<KitSize>,
    /// How much of the nominal yield comes out of components at their best temperature.
    pub usable: f64,
    /// The standard deviation of that share.
    pub usable_spread: f64,
    /// Temperature of the components.
    pub temperature: ThermodynamicTemperature,
    /// What escapes of every wall, as a share of what is filled; `None`: by kind of wall.
    pub waste: Option<f64>,
}

/// A size of kits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KitSize {
    /// Its nominal yield.
    pub nominal: Volume,
    /// What one costs.
    pub price: Option<f64>,
    /// How many are there already.
    pub at_hand: u32,
}

impl FoamRules {
    /// The rules of a job: the user's settings, and the defaults of the table for the rest.
    pub fn of(job: &Job) -> Self {
        let set = &job.foam;
        Self {
            scatter: set.scatter,
            confidence: or(set.confidence, &limits::CONFIDENCE) / 100.0,
            shortest_shot: seconds(or(set.shortest_shot, &limits::SHORTEST_SHOT)),
            longest_shot: seconds(or(set.longest_shot, &limits::LONGEST_SHOT)),
            // A shot that goes on foam must not come before that has set.
            pause: seconds(
                or(set.pause, &limits::PAUSE).max(or(job.crew.setting, &limits::SETTING)),
            ),
            lift_height: set.lift_height,
            shot_volume: set.shot_volume.map(board_feet),
            kits: kits(set),
            usable: or(set.usable, &limits::USABLE) / 100.0,
            usable_spread: or(set.usable_spread, &limits::USABLE_SPREAD) / 100.0,
            temperature: celsius(or(set.temperature, &limits::COMPONENTS)),
            waste: set.waste.map(|percent| percent / 100.0),
        }
    }

    /// What cold components leave of a yield: the gas law's share alone, real losses are larger.
    ///
    /// Components that are warmer than at their best give no more.
    pub fn temperature_share(&self) -> f64 {
        times_as_hot(self.temperature, celsius(limits::COMPONENTS.default)).min(1.0)
    }

    /// What escapes of a wall, as a share of what is filled.
    pub fn waste_of(&self, wall: &Wall) -> f64 {
        let by_kind = || match (&wall.construction, wall.finish.material) {
            (Construction::BalloonFrame | Construction::BrickAirSpace { .. }, _) => {
                limits::WASTE_OPEN
            }
            (Construction::PlatformFrame, Material::Plaster) => limits::WASTE_LATH,
            (Construction::PlatformFrame, _) => limits::WASTE.default,
        };
        self.waste.unwrap_or_else(|| by_kind() / 100.0)
    }
}

/// What was set, or else the default of the table.
pub(super) fn or(set: Option<f64>, bounds: &Bounds) -> f64 {
    set.unwrap_or(bounds.default)
}

fn kits(set: &FoamSettings) -> Vec<KitSize> {
    let usual = limits::KIT_SIZES.map(|board_feet| Kit { board_feet, price: None, at_hand: None });
    let kits = if set.kits.is_empty() { &usual } else { set.kits.as_slice() };
    let size = |kit: &Kit| KitSize {
        nominal: board_feet(kit.board_feet),
        price: kit.price,
        at_hand: kit.at_hand.unwrap_or(0),
    };
    let mut sizes: Vec<KitSize> = kits.iter().map(size).collect();
    crate::order::sort_by(&mut sizes, |a, b| b.nominal.value.total_cmp(&a.nominal.value));
    sizes
}
