//! Random numbers that are the same on every machine.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// A random stream of ChaCha with eight rounds (Bernstein 2008). The seed is the first four bytes of the key, least
/// significant byte first; the other bytes are zero.
pub(crate) struct Draws(ChaCha8Rng);

impl Draws {
    pub(crate) fn new(seed: u32) -> Self {
        let mut key = [0; 32];
        key[..4].copy_from_slice(&seed.to_le_bytes());
        Self(ChaCha8Rng::from_seed(key))
    }

    /// Uniform on \[0, 1): the upper 53 bits of the next 64-bit word.
    #[expect(clippy::cast_precision_loss, reason = "53 bits are exact in f64")]
    pub(crate) fn unit(&mut self) -> f64 {
        const STEP: f64 = 1.0 / (1_u64 << 53) as f64;
        (self.0.next_u64() >> 11) as f64 * STEP
    }

    /// Exponential with this mean: −mean·ln(1 − u). The logarithm is computed in software, so it is the same on every
    /// machine.
    pub(crate) fn exponential(&mut self, mean: f64) -> f64 {
        -mean * libm::log1p(-self.unit())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_stream_matches_published_chacha8_vectors() {
        // Strombergson 2013, draft-strombergson-chacha-test-vectors, TC1 for 8 rounds and a key of 256 zero bits
        // (from memory): 3e 00 ef 2f 89 5f 40 d6 7f 5b b8 e8 1f 09 a5 a1 …
        let mut draws = Draws::new(0);
        assert_eq!(
            draws.0.next_u64(),
            u64::from_le_bytes([0x3e, 0x00, 0xef, 0x2f, 0x89, 0x5f, 0x40, 0xd6])
        );
        assert_eq!(
            draws.0.next_u64(),
            u64::from_le_bytes([0x7f, 0x5b, 0xb8, 0xe8, 0x1f, 0x09, 0xa5, 0xa1])
        );
    }

    #[test]
    fn exponential_draws_have_the_expected_mean_and_variance() {
        let mut draws = Draws::new(1);
        let n = 100_000;
        let values: Vec<f64> = (0..n).map(|_| draws.exponential(2.0)).collect();
        let n = f64::from(n);
        let mean = values.iter().sum::<f64>() / n;
        let variance = values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / n;
        // Standard errors: of the mean 2/√n; of the variance √8·4/√n (fourth central moment 9·σ⁴).
        assert!((mean - 2.0).abs() < 3.0 * 2.0 / n.sqrt());
        assert!((variance - 4.0).abs() < 3.0 * 8.0_f64.sqrt() * 4.0 / n.sqrt());
    }
}
