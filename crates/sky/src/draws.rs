//! Random numbers by seed and purpose.
//!
//! The random bits are the same on every machine. Normal numbers agree to the last few digits: the three in ten
//! thousand beyond 3.65 use the logarithm of the system's mathematics library. The weather made from them also depends
//! on the system's mathematics library, for example through the sun's position, so it agrees to the last few digits.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;
use rand_distr::{Distribution, StandardNormal};

/// A random stream of ChaCha with eight rounds (Bernstein 2008), selected by seed and purpose.
pub(crate) struct Draws(ChaCha8Rng);

impl Draws {
    /// The seed is the first four bytes of the key, least significant byte first; the other bytes are zero. Each
    /// purpose has its own stream, so that drawing more numbers for one does not change the others.
    pub(crate) fn new(seed: u32, purpose: u64) -> Self {
        let mut key = [0; 32];
        key[..4].copy_from_slice(&seed.to_le_bytes());
        let mut rng = ChaCha8Rng::from_seed(key);
        rng.set_stream(purpose);
        Self(rng)
    }

    /// Draws from the standard normal distribution.
    pub(crate) fn normal(&mut self) -> f64 {
        StandardNormal.sample(&mut self.0)
    }
}

/// Standard normal first-order autoregressive noise: each value keeps a share of the previous one.
pub(crate) struct AutoregressiveNoise {
    memory: f64,
    fresh: f64,
    last: f64,
}

impl AutoregressiveNoise {
    /// Noise with lag-1 correlation `memory`, below 1; the first value is drawn from the normal distribution.
    pub(crate) fn new(memory: f64, draws: &mut Draws) -> Self {
        Self {
            memory,
            fresh: (1.0 - memory * memory).max(0.0).sqrt(),
            last: draws.normal(),
        }
    }

    /// The next value.
    pub(crate) fn next(&mut self, draws: &mut Draws) -> f64 {
        self.last = self.memory * self.last + self.fresh * draws.normal();
        self.last
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noise_has_the_expected_mean_variance_and_correlation() {
        let mut draws = Draws::new(7, 0);
        let mut noise = AutoregressiveNoise::new(0.29, &mut draws);
        let values: Vec<f64> = (0..100_000).map(|_| noise.next(&mut draws)).collect();
        let n = 1e5;
        let mean = values.iter().sum::<f64>() / n;
        let variance = values.iter().map(|v| v * v).sum::<f64>() / n;
        let memory = values.windows(2).map(|v| v[0] * v[1]).sum::<f64>() / n / variance;
        // Standard errors: of the mean √((1 + φ)/(1 − φ)/n); of the variance and of the correlation less than
        // √(2·1.2/n).
        assert!(mean.abs() < 3.0 * (1.29 / 0.71 / n).sqrt());
        assert!((variance - 1.0).abs() < 3.0 * (2.4 / n).sqrt());
        assert!((memory - 0.29).abs() < 3.0 * (2.4 / n).sqrt());
    }

    #[test]
    fn each_seed_and_purpose_repeats_its_own_numbers() {
        let first = |seed, purpose| Draws::new(seed, purpose).normal().to_bits();
        assert_eq!(first(1, 0), first(1, 0));
        assert_ne!(first(1, 0), first(2, 0));
        assert_ne!(first(1, 0), first(1, 1));
    }
}
