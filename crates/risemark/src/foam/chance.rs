//! The two distributions that foam needs: Student's t and the normal one.
//!
//! Written out on `libm`, as a library of statistics would be larger than the rest of this stage.

use libm::{erfc, exp, lgamma, log, log1p};

/// How an estimate scatters about its expectation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tail {
    /// A normal distribution.
    Normal,
    /// Student's t, where the scatter itself is estimated.
    Student {
        /// Its degrees of freedom; at least one.
        degrees: u32,
    },
}

impl Tail {
    /// The chance to stay at or under so many deviations.
    pub fn below(self, deviations: f64) -> f64 {
        let above = self.above(deviations.abs());
        if deviations < 0.0 { above } else { 1.0 - above }
    }

    /// The number of deviations within which a share of all lies, to both sides.
    ///
    /// The share is more than 0 and less than 1.
    pub fn within(self, share: f64) -> f64 {
        let above = (1.0 - share) / 2.0;
        let mut high = 1.0;
        while above < self.above(high) && high < LARGEST {
            high *= 2.0;
        }
        bisected((0.0, high), 0.0, |deviations| self.above(deviations) <= above)
    }

    /// The chance to lie above so many deviations, which are not negative.
    fn above(self, deviations: f64) -> f64 {
        match self {
            Self::Normal => erfc(deviations * std::f64::consts::FRAC_1_SQRT_2) / 2.0,
            Self::Student { degrees } => {
                let degrees = f64::from(degrees);
                let share = degrees / (degrees + deviations * deviations);
                incomplete_beta(share, degrees / 2.0, 0.5) / 2.0
            }
        }
    }
}

/// More deviations than any confidence that can be set needs.
const LARGEST: f64 = 1e12;

/// The least value from which a condition holds, at most a tolerance too high or by its last digits.
pub(super) fn bisected(
    (mut low, mut high): (f64, f64),
    tolerance: f64,
    holds: impl Fn(f64) -> bool,
) -> f64 {
    while tolerance < high - low {
        let middle = low + (high - low) / 2.0;
        if middle <= low || high <= middle {
            break;
        }
        if holds(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}

/// The regularised incomplete beta function, by its continued fraction (NIST DLMF 8.17.22).
fn incomplete_beta(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if 1.0 <= x {
        return 1.0;
    }
    // The fraction converges quickly on this side of the mean; on the other its mirror image does.
    if (a + 1.0) / (a + b + 2.0) < x {
        return 1.0 - incomplete_beta_front(1.0 - x, b, a);
    }
    incomplete_beta_front(x, a, b)
}

fn incomplete_beta_front(x: f64, a: f64, b: f64) -> f64 {
    let beta = lgamma(a) + lgamma(b) - lgamma(a + b);
    let front = exp(a * log(x) + b * log1p(-x) - beta) / a;
    front / fraction(x, a, b)
}

/// One over the continued fraction, from the front by the method of Lentz.
fn fraction(x: f64, a: f64, b: f64) -> f64 {
    const SMALLEST: f64 = 1e-300;
    let held = |value: f64| if value.abs() < SMALLEST { SMALLEST } else { value };
    let (mut value, mut above, mut below) = (1.0, 1.0, 0.0);
    for step in 1..500 {
        let half = f64::from(step / 2);
        let term = if step % 2 == 0 {
            half * (b - half) * x / ((a + 2.0 * half - 1.0) * (a + 2.0 * half))
        } else {
            -(a + half) * (a + b + half) * x / ((a + 2.0 * half) * (a + 2.0 * half + 1.0))
        };
        below = 1.0 / held(1.0 + term * below);
        above = held(1.0 + term / above);
        value *= above * below;
        if (above * below - 1.0).abs() < 1e-16 {
            break;
        }
    }
    value
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Closed forms from any handbook: one degree is the distribution of Cauchy, two are algebraic.
    #[test]
    fn students_t_of_one_and_two_degrees_has_its_closed_form() {
        for share in [0.5, 0.8, 0.9, 0.95, 0.98, 0.99, 0.998] {
            let cauchy = libm::tan(std::f64::consts::FRAC_PI_2 * share);
            let one = Tail::Student { degrees: 1 }.within(share);
            assert!((one / cauchy - 1.0).abs() < 1e-11, "one degree, {share}: {one} {cauchy}");
            let algebraic = share * (2.0 / (1.0 - share * share)).sqrt();
            let two = Tail::Student { degrees: 2 }.within(share);
            assert!((two / algebraic - 1.0).abs() < 1e-11, "two, {share}: {two} {algebraic}");
        }
    }

    #[test]
    fn both_sides_of_the_middle_agree() {
        for tail in [Tail::Normal, Tail::Student { degrees: 3 }, Tail::Student { degrees: 40 }] {
            for deviations in [0.0, 0.01, 0.7, 1.5, 6.0] {
                let sum = tail.below(deviations) + tail.below(-deviations);
                assert!((sum - 1.0).abs() < 1e-15, "{tail:?} at {deviations}: {sum}");
            }
        }
    }
}
