//! Numbers that look random and are the same for the same seed, on every machine.

/// A stream of such numbers, by the public-domain generator `SplitMix64`.
#[derive(Debug, Clone)]
pub(crate) struct Random {
    state: u64,
}

impl Random {
    /// The stream of a seed.
    pub(crate) const fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    /// The next number.
    pub(crate) fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mixed = (self.state ^ (self.state >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A whole number below another; 0 below 0.
    pub(crate) fn below(&mut self, limit: usize) -> usize {
        let limit = u128::try_from(limit).unwrap_or(0);
        usize::try_from((u128::from(self.next()) * limit) >> 64).unwrap_or(0)
    }

    /// A number from 0 up to 1.
    pub(crate) fn share(&mut self) -> f64 {
        // 53 bits are what a floating number holds exactly.
        let bits = u32::try_from(self.next() >> 32).unwrap_or(0);
        f64::from(bits) / 4_294_967_296.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_stream_is_the_published_one() {
        // First outputs of the generator for the seed 1234567, as its author publishes them (from memory).
        let mut random = Random::new(1_234_567);
        let stream: Vec<u64> = (0..3).map(|_| random.next()).collect();
        let expected =
            [6_457_827_717_110_365_317, 3_203_168_211_198_807_973, 9_817_491_932_198_370_423];
        assert_eq!(stream, expected, "bit for bit");
    }

    #[test]
    fn numbers_stay_below_their_limit_and_reach_all() {
        let mut random = Random::new(7);
        let mut seen = [0_u32; 6];
        (0..6000).for_each(|_| seen[random.below(6)] += 1);
        assert!(seen.iter().all(|&count| (900..1100).contains(&count)), "{seen:?}");
        assert!((0..1000).all(|_| (0.0..1.0).contains(&random.share())), "shares");
    }
}
