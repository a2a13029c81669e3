//! Numbers as chance would have them, the same in every run.

/// A generator with a seed: the step of `SplitMix64` (Steele, Lea and Flood, 2014).
#[derive(Debug, Clone)]
pub struct Random {
    state: u64,
}

impl Random {
    /// The numbers that belong to a seed.
    pub fn seeded(seed: u64) -> Self {
        Self { state: seed }
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut bits = self.state;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        bits ^ (bits >> 31)
    }

    /// From nought up to, but not, one.
    pub fn share(&mut self) -> f64 {
        let bits = u32::try_from(self.bits() >> 32).expect("32 bits are left");
        f64::from(bits) / (f64::from(u32::MAX) + 1.0)
    }

    /// About nought with a standard deviation of one, by the method of Box and Muller.
    pub fn normal(&mut self) -> f64 {
        let (radius, turn) = (1.0 - self.share(), self.share());
        (-2.0 * libm::log(radius)).sqrt() * libm::cos(std::f64::consts::TAU * turn)
    }
}
