//! Kits: what to buy, as a chance of finishing and not as a number that pretends to be sure.
//!
//! Two things are uncertain: how much foam the planned seconds spray, by the test shots, and how much of
//! its nominal yield a kit gives. The first is Student's t about the volume of all lifts, the second a
//! normal share common to all kits of the job, as their temperature and handling are. The chance of both
//! together is a sum over the second with fixed steps.

use libm::exp;
use uom::ConstZero;

use crate::{
    finding::{Finding, Place, Problem},
    foam::{
        chance::{Tail, bisected},
        rules::{FoamRules, KitSize},
        seconds::{WallPour, n_shots_of},
        test_shots::{Flow, FlowBasis},
    },
    job::Job,
    limits,
    quantity::{Time, Volume, board_feet, celsius, round_to, to_celsius},
};

/// What to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct Buying {
    /// What all lifts take that are not filled already.
    pub volume: Volume,
    /// The same with what escapes.
    pub with_waste: Volume,
    /// One deviation of that, by the flow.
    pub deviation: Volume,
    /// How much of a nominal yield is expected: usable share and temperature.
    pub share: f64,
    /// Kits for a chance of finishing of 50, 90 and 98 percent.
    pub choices: Vec<Choice>,
    /// The chance of finishing with one kit, two kits and so on, of one size.
    pub curve: Vec<Chance>,
    /// The size of those kits.
    pub curve_size: KitSize,
    /// What the kits that are there already come to; `None` where there are none.
    pub at_hand: Option<Chance>,
    /// One small kit more that costs less than the risk it takes away.
    pub advice: Option<Advice>,
}

/// Kits that finish the job with some chance.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// The chance that was asked for, as a share of one.
    pub asked: f64,
    /// The kits, the largest first.
    pub kits: Vec<(KitSize, u32)>,
    /// Their nominal yield and the chance they give.
    pub chance: Chance,
    /// What is expected to be left in the last kit.
    pub left: Volume,
    /// What they cost; `None` where a price is not known.
    pub cost: Option<f64>,
}

/// The chance of finishing with some kits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chance {
    /// How many kits.
    pub n_kits: u32,
    /// Their nominal yield together.
    pub nominal: Volume,
    /// The chance, as a share of one.
    pub chance: f64,
}

/// A kit more that is worth its price.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Advice {
    /// The kit.
    pub kit: KitSize,
    /// What it costs.
    pub price: f64,
    /// The chance without it.
    pub without: f64,
    /// The chance with it.
    pub with: f64,
    /// What the risk it takes away would cost on average, by the user's price of coming back.
    pub risk: f64,
}

/// The demand for foam and the yield of kits, both with their spread.
#[derive(Debug, Clone, Copy)]
struct Odds {
    /// Expected demand.
    demand: f64,
    /// One deviation of it.
    deviation: f64,
    tail: Tail,
    /// Expected share of a nominal yield, and one deviation of it.
    share: (f64, f64),
}

/// What to buy for the shots of a job.
pub(super) fn buying(job: &Job, pours: &[WallPour], flow: &Flow, rules: &FoamRules) -> Buying {
    let volume = pours.iter().fold(Volume::ZERO, |sum, pour| sum + pour.volume);
    let wasted = |(pour, wall)| {
        let pour: &WallPour = pour;
        pour.volume * (1.0 + rules.waste_of(wall))
    };
    let with_waste =
        pours.iter().zip(&job.walls).map(wasted).fold(Volume::ZERO, |sum, part| sum + part);
    let time = pours.iter().fold(Time::ZERO, |sum, pour| sum + pour.time);
    let factor = if Volume::ZERO < volume { (with_waste / volume).value } else { 1.0 };
    let (deviation, tail) = match flow.basis {
        FlowBasis::Fitted(fit) => (fit.deviation(n_shots_of(pours), time) * factor, fit.tail()),
        // Nothing tells how an untested flow scatters, so that it is presumed.
        FlowBasis::Assumed | FlowBasis::OneShot => {
            (with_waste * limits::UNTESTED_SPREAD, Tail::Normal)
        }
    };
    let share = rules.usable * rules.temperature_share();
    let odds = Odds {
        demand: with_waste.value,
        deviation: deviation.value,
        tail,
        share: (share, rules.usable_spread * rules.temperature_share()),
    };
    let wanted = limits::CHANCES.map(|percent| odds.nominal_for(percent / 100.0));
    let asked = limits::CHANCES.iter().map(|percent| percent / 100.0).zip(wanted);
    let choices: Vec<Choice> = asked.map(|asked| choice(asked, &odds, rules)).collect();
    let nearly_sure = wanted[wanted.len() - 1];
    let curve_size = curve_size(nearly_sure, rules);
    Buying {
        volume,
        with_waste,
        deviation,
        share,
        curve: curve(curve_size, nearly_sure, &odds),
        curve_size,
        at_hand: at_hand(&odds, rules),
        advice: choices.get(1).and_then(|choice| advice(job, choice, &odds, rules)),
        choices,
    }
}

/// What is worth knowing of the kits.
pub(super) fn remarks(buying: &Buying, rules: &FoamRules) -> Vec<Finding> {
    let mut problems = Vec::new();
    if rules.temperature < celsius(limits::COLD) {
        problems
            .push(Problem::ColdFoam { found: to_celsius(rules.temperature), least: limits::COLD });
    }
    let wanted = buying.choices.get(1);
    if let Some((here, wanted)) = buying.at_hand.zip(wanted)
        && here.chance < wanted.asked
    {
        problems.push(Problem::FoamRunsShort {
            nominal: here.nominal,
            chance: round_to(here.chance * 100.0, 1.0),
            needed: wanted.chance.nominal,
            asked: round_to(wanted.asked * 100.0, 1.0),
        });
    }
    problems.into_iter().map(|problem| Finding::new(Place::default(), problem)).collect()
}

impl Odds {
    /// The chance that a nominal yield is enough.
    fn enough(&self, nominal: f64) -> f64 {
        if self.demand <= 0.0 {
            return 1.0;
        }
        let (share, spread) = self.share;
        let (expected, yields) = (nominal * share, nominal * spread);
        let spare = expected - self.demand;
        // Where one of the two hardly scatters, the other decides.
        if yields <= 0.02 * self.deviation {
            return self.tail.below(spare / joined(self.deviation, yields));
        }
        let ratio = self.deviation / yields;
        if ratio <= 0.02 {
            return Tail::Normal.below(spare / joined(self.deviation, yields));
        }
        // The narrower the other, the finer the steps that see it. What a sum over steps misses of such
        // smooth curves falls with the exponential of one over the step.
        let step = (ratio * 0.6).min(0.25);
        let (mut all, mut good) = (0.0, 0.0);
        let mut deviations = -5.0;
        while deviations <= 5.0 {
            let weight = exp(-deviations * deviations / 2.0);
            all += weight;
            good += weight * self.tail.below((spare + deviations * yields) / self.deviation);
            deviations += step;
        }
        good / all
    }

    /// The least nominal yield that is enough with a chance; a multiple that nobody buys where yields
    /// scatter so much that no yield is.
    fn nominal_for(&self, chance: f64) -> f64 {
        if self.demand <= 0.0 {
            return 0.0;
        }
        let mut high = self.demand;
        while self.enough(high) < chance && high < self.demand * HOPELESS {
            high *= 2.0;
        }
        // A billionth of a kit is near enough.
        bisected((0.0, high), 1e-9 * high, |nominal| chance <= self.enough(nominal))
    }
}

/// Who needs so many times the demand to be sure enough is not helped by kits.
const HOPELESS: f64 = 64.0;
/// The most kits of a size that does not carry the bulk.
const MOST_BESIDE: u32 = 128;

/// Two independent deviations as one; never nothing, so that it can be divided by.
fn joined(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt().max(f64::MIN_POSITIVE)
}

/// The kits for a chance that was asked for, of which so much nominal yield is wanted.
fn choice((asked, wanted): (f64, f64), odds: &Odds, rules: &FoamRules) -> Choice {
    let counts = mix(wanted, &rules.kits);
    let kits: Vec<(KitSize, u32)> = rules.kits.iter().copied().zip(counts).collect();
    let nominal = kits
        .iter()
        .fold(Volume::ZERO, |sum, (size, n_kits)| sum + size.nominal * f64::from(*n_kits));
    let spare = nominal * odds.share.0 - Volume { value: odds.demand, ..Volume::ZERO };
    let bought = kits.iter().filter(|(_, n_kits)| 0 < *n_kits);
    let cost = bought.map(|(size, n_kits)| Some(size.price? * f64::from(*n_kits)));
    Choice {
        asked,
        // No kit at all costs nothing, and not less.
        cost: cost.sum::<Option<f64>>().map(|cost| cost + 0.0),
        chance: Chance {
            n_kits: kits.iter().map(|(_, n_kits)| n_kits).sum(),
            nominal,
            chance: odds.enough(nominal.value),
        },
        left: if spare < Volume::ZERO { Volume::ZERO } else { spare },
        kits: kits.into_iter().filter(|(_, n_kits)| 0 < *n_kits).collect(),
    }
}

/// How many of each size reach a nominal yield: for the least money where all prices are known, else with
/// the least foam, where opening a kit counts as foam too; then the fewest kits.
fn mix(wanted: f64, sizes: &[KitSize]) -> Vec<u32> {
    let priced = sizes.iter().all(|size| size.price.is_some());
    let worth = |size: &KitSize| match size.price {
        Some(price) if priced => price,
        _ => (size.nominal + board_feet(limits::KIT_OPENING)).value,
    };
    let a_volume = |size: &KitSize| worth(size) / size.nominal.value;
    // One size carries the bulk: the best value, or the largest.
    let base = (0..sizes.len())
        .min_by(|a, b| a_volume(&sizes[*a]).total_cmp(&a_volume(&sizes[*b])).then(a.cmp(b)));
    let Some(base) = base else { return Vec::new() };
    let mut mixing =
        Mixing { sizes, base, worth: &worth, counts: vec![0; sizes.len()], best: None };
    mixing.fill(0, wanted);
    mixing.best.map(|(_, _, counts)| counts).unwrap_or_default()
}

/// All ways to reach a nominal yield that could be the best.
struct Mixing<'a> {
    sizes: &'a [KitSize],
    /// The size that carries the bulk.
    base: usize,
    worth: &'a dyn Fn(&KitSize) -> f64,
    counts: Vec<u32>,
    /// What the best so far costs, how many kits it has, and which.
    best: Option<(f64, u32, Vec<u32>)>,
}

impl Mixing<'_> {
    fn fill(&mut self, idx: usize, wanted: f64) {
        if idx == self.sizes.len() {
            self.counts[self.base] = kits_for(wanted, self.sizes[self.base]);
            self.compare();
            return;
        }
        if idx == self.base {
            self.fill(idx + 1, wanted);
            return;
        }
        // More of a size than the next larger holds would be one of those.
        let larger = idx.checked_sub(1).map(|before| self.sizes[before].nominal.value);
        let most = larger.map_or(wanted, |larger| if larger < wanted { larger } else { wanted });
        for n_kits in 0..=kits_for(most, self.sizes[idx]).min(MOST_BESIDE) {
            self.counts[idx] = n_kits;
            self.fill(idx + 1, wanted - f64::from(n_kits) * self.sizes[idx].nominal.value);
        }
        self.counts[idx] = 0;
    }

    fn compare(&mut self) {
        let pairs = || self.counts.iter().zip(self.sizes);
        let cost = pairs().fold(0.0, |sum, (n, size)| sum + f64::from(*n) * (self.worth)(size));
        let n_kits: u32 = self.counts.iter().sum();
        let better = self.best.as_ref().is_none_or(|(least, fewest, _)| {
            cost.total_cmp(least).then(n_kits.cmp(fewest)).is_lt()
        });
        if better {
            self.best = Some((cost, n_kits, self.counts.clone()));
        }
    }
}

/// How many kits of one size reach a nominal yield.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a float that holds a small whole number; the cast saturates"
)]
fn kits_for(wanted: f64, size: KitSize) -> u32 {
    // A hair over a whole number of kits is rounding.
    let kits = (wanted / size.nominal.value - 1e-9).ceil();
    kits.clamp(0.0, 1e6) as u32
}

/// The smallest size of which few kits have a nominal yield; else the largest.
fn curve_size(wanted: f64, rules: &FoamRules) -> KitSize {
    let few = |size: &&KitSize| kits_for(wanted, **size) <= limits::CURVE_KITS;
    let none = KitSize { nominal: Volume::ZERO, price: None, at_hand: 0 };
    rules.kits.iter().rev().find(few).or(rules.kits.first()).copied().unwrap_or(none)
}

/// The chances from the first kit, or of many kits from the first chance, up to nearly sure.
fn curve(size: KitSize, nearly_sure: f64, odds: &Odds) -> Vec<Chance> {
    let mut curve = Vec::new();
    if size.nominal <= Volume::ZERO {
        return curve;
    }
    let few = |wanted: f64| kits_for(wanted, size) <= limits::CURVE_KITS;
    // What has some chance takes no more than what is nearly sure.
    let first = if few(nearly_sure) { 0.0 } else { odds.nominal_for(0.01) };
    let first = if few(first) { 1 } else { kits_for(first, size) };
    for n_kits in first..first + LONGEST_CURVE {
        let nominal = size.nominal * f64::from(n_kits);
        let chance = odds.enough(nominal.value);
        curve.push(Chance { n_kits, nominal, chance });
        if 0.995 < chance {
            break;
        }
    }
    curve
}

/// The longest list of chances.
const LONGEST_CURVE: u32 = 60;

fn at_hand(odds: &Odds, rules: &FoamRules) -> Option<Chance> {
    let n_kits: u32 = rules.kits.iter().map(|size| size.at_hand).sum();
    let nominal = rules
        .kits
        .iter()
        .fold(Volume::ZERO, |sum, size| sum + size.nominal * f64::from(size.at_hand));
    (0 < n_kits).then(|| Chance { n_kits, nominal, chance: odds.enough(nominal.value) })
}

/// One kit more, where by the user's prices it costs less than what it saves on average.
fn advice(job: &Job, choice: &Choice, odds: &Odds, rules: &FoamRules) -> Option<Advice> {
    let return_trip = job.foam.prices.return_trip?;
    let kit = rules.kits.iter().rev().find(|size| size.price.is_some()).copied()?;
    let price = kit.price?;
    let without = choice.chance.chance;
    let with = odds.enough((choice.chance.nominal + kit.nominal).value);
    let risk = (with - without) * return_trip;
    (price < risk).then_some(Advice { kit, price, without, with, risk })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sizes(list: &[(f64, Option<f64>)]) -> Vec<KitSize> {
        let size = |(nominal, price): &(f64, Option<f64>)| KitSize {
            nominal: board_feet(*nominal),
            price: *price,
            at_hand: 0,
        };
        list.iter().map(size).collect()
    }

    fn wanted(nominal: f64) -> f64 {
        board_feet(nominal).value
    }

    /// Brute force over all counts up to a bound that holds every sensible answer.
    #[test]
    fn the_mix_is_the_cheapest_of_all() {
        let kits = sizes(&[(600.0, Some(700.0)), (200.0, Some(290.0)), (15.0, Some(45.0))]);
        for nominal in [1.0, 15.0, 16.0, 190.0, 210.0, 399.0, 401.0, 650.0, 1195.0] {
            let mut least = f64::MAX;
            for (a, b, c) in
                (0..4).flat_map(|a| (0..8).flat_map(move |b| (0..82).map(move |c| (a, b, c))))
            {
                let (a, b, c) = (f64::from(a), f64::from(b), f64::from(c));
                if nominal <= 600.0 * a + 200.0 * b + 15.0 * c {
                    least = least.min(700.0 * a + 290.0 * b + 45.0 * c);
                }
            }
            let cost: f64 = mix(wanted(nominal), &kits)
                .into_iter()
                .zip(&kits)
                .map(|(n_kits, size)| f64::from(n_kits) * size.price.unwrap_or(0.0))
                .sum();
            assert!((cost - least).abs() < 1e-9, "{nominal}: {cost}, the least is {least}");
        }
    }

    #[test]
    fn without_prices_the_least_foam_is_bought() {
        let kits = sizes(&[(600.0, None), (150.0, None), (15.0, None)]);
        assert_eq!(mix(wanted(320.0), &kits), [0, 2, 2], "330 board feet");
        assert_eq!(mix(wanted(600.0), &kits), [1, 0, 0], "one kit and not four");
        assert_eq!(mix(wanted(1125.0), &kits), [2, 0, 0], "no heap of small kits");
        assert_eq!(mix(0.0, &kits), [0, 0, 0], "nothing for nothing");
    }

    /// The chance by adding up a fine grid over both distributions at once, a way of its own.
    #[test]
    fn the_chance_is_that_of_both_spreads_together() {
        for degrees in [1, 4, 30] {
            for (deviation, spread) in [(5.0, 0.04), (30.0, 0.02), (1.0, 0.1), (12.0, 0.08)] {
                let tail = Tail::Student { degrees };
                let odds = Odds { demand: 100.0, deviation, tail, share: (0.8, spread) };
                for nominal in [100.0, 125.0, 160.0] {
                    let mut sum = 0.0;
                    let n_steps = 4_000;
                    for idx in 0..n_steps {
                        let at = (f64::from(idx) + 0.5) / f64::from(n_steps);
                        let normal = bisected((-9.0, 9.0), 1e-9, |z| at <= Tail::Normal.below(z));
                        let spare = nominal * (0.8 + spread * normal) - 100.0;
                        sum += tail.below(spare / deviation) / f64::from(n_steps);
                    }
                    let found = odds.enough(nominal);
                    assert!(
                        (found - sum).abs() < 2e-3,
                        "{degrees} {deviation} {spread} {nominal}: {found} {sum}"
                    );
                }
            }
        }
    }
}
