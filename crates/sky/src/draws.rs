//! Random numbers by seed and purpose.
//!
//! The bits are the same on every machine. A normal number is the same but for its last digits: the three in ten thousand
//! beyond 3.65 pass through the logarithm of the system's mathematics library. So does what the weather makes of them,
//! by the sun's position among others: from machine to machine it agrees to the last digits.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;
use rand_distr::{Distribution, StandardNormal};

/// A stream of ChaCha with eight rounds (Bernstein 2008), by seed and by purpose.
pub(crate) struct Draws(ChaCha8Rng);

impl Draws {
    /// The seed is the first four bytes of the key, least byte first; the rest of the key is nil. Each purpose draws
    /// from a stream of its own, so that more draws of one leave the others as they are.
    pub(crate) fn new(seed: u32, purpose: u64) -> Self {
        let mut key = [0; 32];
        key[..4].copy_from_slice(&seed.to_le_bytes());
        let mut rng = ChaCha8Rng::from_seed(key);
        rng.set_stream(purpose);
        Self(rng)
    }

    /// From the standard normal distribution.
    pub(crate) fn normal(&mut self) -> f64 {
        StandardNormal.sample(&mut self.0)
    }
}

/// Standard normal noise in which each value remembers a share of the one before (first-order autoregressive).
pub(crate) struct Remembering {
    memory: f64,
    fresh: f64,
    last: f64,
}

impl Remembering {
    /// Noise of a lag-1 correlation below 1, begun anywhere.
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
    fn noise_has_its_mean_its_spread_and_its_memory() {
        let mut draws = Draws::new(7, 0);
        let mut noise = Remembering::new(0.29, &mut draws);
        let values: Vec<f64> = (0..100_000).map(|_| noise.next(&mut draws)).collect();
        let n = 1e5;
        let mean = values.iter().sum::<f64>() / n;
        let variance = values.iter().map(|v| v * v).sum::<f64>() / n;
        let memory = values.windows(2).map(|v| v[0] * v[1]).sum::<f64>() / n / variance;
        // Standard errors: of the mean √((1 + φ)/(1 − φ)/n), of the variance and of the memory below √(2·1.2/n).
        assert!(mean.abs() < 3.0 * (1.29 / 0.71 / n).sqrt());
        assert!((variance - 1.0).abs() < 3.0 * (2.4 / n).sqrt());
        assert!((memory - 0.29).abs() < 3.0 * (2.4 / n).sqrt());
    }

    #[test]
    fn seeds_and_purposes_draw_apart_and_again_the_same() {
        let first = |seed, purpose| Draws::new(seed, purpose).normal().to_bits();
        assert_eq!(first(1, 0), first(1, 0));
        assert_ne!(first(1, 0), first(2, 0));
        assert_ne!(first(1, 0), first(1, 1));
    }
}
