//! Loss of a cable at nearly constant voltage.

use daylift_units::fingerprint;

/// Loss of a cable: the fraction k·P/P_ref of the power P at its input.
///
/// A fixed resistance carries a current proportional to the power, so the loss is k·P²/P_ref; k is the fraction lost at
/// the reference power P_ref. The delivered power P − k·P²/P_ref rises with P up to P_ref/(2k). Above that input
/// nothing more is delivered, and the functions of both directions stop there. Usual practice.
///
/// ```
/// // 2 % lost at 10 kW is 1 % at 5 kW: 50 W.
/// let cable = daylift_array::CableLoss::new(0.02, 10e3);
/// assert!((cable.delivered_w(5e3) - 4950.0).abs() < 1e-9);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CableLoss {
    /// k/P_ref \[1/W\].
    per_w: f64,
}

fingerprint!(CableLoss { per_w });

impl CableLoss {
    /// A cable without loss.
    pub const NONE: Self = Self { per_w: 0.0 };

    /// A cable that loses `fraction_at_reference` of `reference_w`.
    ///
    /// A fraction or a reference power that is not positive gives a cable without loss.
    #[must_use]
    pub fn new(fraction_at_reference: f64, reference_w: f64) -> Self {
        let lossy = fraction_at_reference > 0.0 && reference_w > 0.0;
        Self {
            per_w: if lossy {
                fraction_at_reference / reference_w
            } else {
                0.0
            },
        }
    }

    /// Fraction of the power, and of the voltage, lost when `sent_w` enters the cable; at most ½, where the delivered
    /// power is at its maximum.
    #[must_use]
    pub fn fraction(&self, sent_w: f64) -> f64 {
        (self.per_w * sent_w.max(0.0)).min(0.5)
    }

    /// Delivered power \[W\] when `sent_w` enters.
    #[must_use]
    pub fn delivered_w(&self, sent_w: f64) -> f64 {
        let lost = self.per_w * sent_w;
        if lost >= 0.5 {
            return 0.5 * self.greatest_sent_w();
        }
        sent_w.max(0.0) * (1.0 - lost.max(0.0))
    }

    /// Input power \[W\] for `delivered_w` to arrive: the smaller root of k·P²/P_ref − P + `delivered_w` = 0.
    ///
    /// If more is asked than can arrive: the input at which the most arrives.
    #[must_use]
    pub fn sent_w(&self, delivered_w: f64) -> f64 {
        let delivered_w = delivered_w.max(0.0);
        let discriminant = 1.0 - 4.0 * self.per_w * delivered_w;
        if discriminant <= 0.0 {
            return self.greatest_sent_w();
        }
        2.0 * delivered_w / (1.0 + discriminant.sqrt())
    }

    fn greatest_sent_w(&self) -> f64 {
        if self.per_w > 0.0 { 0.5 / self.per_w } else { f64::MAX }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn sending_and_delivering_are_inverse(k in 0.0..0.1_f64, share in 0.0..3.0_f64) {
            let cable = CableLoss::new(k, 25e3);
            let sent_w = share * 25e3;
            let back_w = cable.sent_w(cable.delivered_w(sent_w));
            prop_assert!((back_w - sent_w).abs() <= 1e-9 * 25e3, "{back_w} {sent_w}");
        }
    }

    #[test]
    fn a_demand_beyond_the_cable_gives_its_greatest_power() {
        // Worked by hand: with k = 0.1 at 10 kW, the maximum delivered power is 25 kW, at an input of 50 kW.
        let cable = CableLoss::new(0.1, 10e3);
        assert!((cable.sent_w(26e3) - 50e3).abs() < 1e-6);
        assert!((cable.delivered_w(80e3) - 25e3).abs() < 1e-6);
    }

    #[test]
    fn without_power_or_resistance_there_is_no_loss() {
        let cable = CableLoss::new(0.02, 10e3);
        assert!(cable.delivered_w(-5.0) == 0.0 && cable.sent_w(-5.0) == 0.0 && cable.fraction(-5.0) == 0.0);
        let none = CableLoss::new(0.0, 10e3);
        assert!((none.delivered_w(7e3) - 7e3).abs() < 1e-9 && (none.sent_w(7e3) - 7e3).abs() < 1e-9);
    }
}
