//! Seeded random draws, the same on every machine and in every run.

/// `SplitMix64` (Steele, Lea & Flood 2014).
#[derive(Debug)]
pub(crate) struct Draws(u64);

impl Draws {
    pub(crate) fn new(seed: u32) -> Self {
        Self(u64::from(seed).wrapping_mul(0x9E37_79B9_7F4A_7C15))
    }

    /// Draws aside from the others of the seed.
    pub(crate) fn aside(seed: u32) -> Self {
        Self(Self::new(seed).next())
    }

    /// Draws aside from both.
    pub(crate) fn further_aside(seed: u32) -> Self {
        let mut draws = Self::aside(seed);
        Self(draws.next())
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Uniform on \[0, 1).
    pub(crate) fn share(&mut self) -> f64 {
        let [.., a, b, c, d] = self.next().to_be_bytes();
        f64::from(u32::from_be_bytes([a, b, c, d])) / f64::from(u32::MAX).next_up()
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Uniform in the logarithm.
    pub(crate) fn scale(&mut self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp()
    }

    pub(crate) fn chance(&mut self, of: f64) -> bool {
        self.share() < of
    }

    /// A whole number from `low` to `high` inclusive.
    pub(crate) fn whole(&mut self, low: u32, high: u32) -> u32 {
        low + u32::try_from(self.next() % u64::from(high - low + 1)).unwrap_or(0)
    }

    pub(crate) fn one_of<T: Copy>(&mut self, of: &[T]) -> T {
        of[usize::try_from(self.next()).unwrap_or(0) % of.len()]
    }

    /// An hour of the day.
    pub(crate) fn hour(&mut self) -> u8 {
        u8::try_from(self.whole(0, 23)).unwrap_or(0)
    }
}
