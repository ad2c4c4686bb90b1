//! The ladder of limits: each limit in turn cuts the power, and books only what it cut off itself.

use crate::cause::LossCause;

/// Most cuts that one device makes in a step. After a cut to 0 W nothing is left to cut, so the longest ladders are:
///
/// - a drive on the sun: start lockout, tracking, well, voltage, drive rating, full speed, below start: 7;
/// - a drive with mains on its second input: tracking, well, then either drive rating and full speed, or voltage and held
///   off, or held off twice (the second time for rounding): 4;
/// - an inverter: tracking, MPPT window, rating, below start: 4. On a weak line or on a bus with more power than uses, the
///   trip of the line comes before these and the limit of export or battery after them: 6.
const MOST_CUTS: usize = 7;

/// The parts that several limits cut off, in the order in which they were applied.
///
/// A cut beyond the seventh would join the last part. So no power is lost from the balance, whatever a caller does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cuts {
    lost: [(LossCause, f64); MOST_CUTS],
    used: usize,
}

impl Default for Cuts {
    fn default() -> Self {
        Self::NONE
    }
}

impl Cuts {
    /// Nothing cut off.
    pub const NONE: Self = Self {
        lost: [(LossCause::GridDown, 0.0); MOST_CUTS],
        used: 0,
    };

    /// One part cut off \[W\].
    pub(crate) fn of(cause: LossCause, w: f64) -> Self {
        let mut cuts = Self::NONE;
        cuts.push(cause, w);
        cuts
    }

    /// The same, followed by a share of other cuts.
    pub(crate) fn then(mut self, others: &Self, share: f64) -> Self {
        for &(cause, w) in others.parts() {
            self.push(cause, w * share);
        }
        self
    }

    /// The parts cut off \[W\].
    #[must_use]
    pub fn parts(&self) -> &[(LossCause, f64)] {
        &self.lost[..self.used]
    }

    /// The sum of what was cut off \[W\].
    #[must_use]
    pub fn total_w(&self) -> f64 {
        self.parts().iter().map(|(_, w)| w).sum()
    }

    fn push(&mut self, cause: LossCause, w: f64) {
        if let Some(free) = self.lost.get_mut(self.used) {
            *free = (cause, w);
            self.used += 1;
        } else if let Some(last) = self.lost.last_mut() {
            last.1 += w;
        }
    }
}

/// Power while limits are applied to it.
#[derive(Debug, Clone, Copy)]
pub struct Ladder {
    /// Power left \[W\].
    pub power_w: f64,
    /// What was cut off so far.
    pub cuts: Cuts,
}

impl Ladder {
    /// Starts with the power available \[W\].
    #[must_use]
    pub fn new(available_w: f64) -> Self {
        Self {
            power_w: available_w,
            cuts: Cuts::default(),
        }
    }

    /// Cuts the power to `cap_w` (at least 0) and books the rest to `cause`. Returns whether it cut anything.
    pub fn cut_to(&mut self, cause: LossCause, cap_w: f64) -> bool {
        let cap_w = cap_w.max(0.0);
        let cuts = self.power_w > cap_w;
        if cuts {
            debug_assert!(self.cuts.used < MOST_CUTS, "a device makes more cuts than MOST_CUTS");
            self.cuts.push(cause, self.power_w - cap_w);
            self.power_w = cap_w;
        }
        cuts
    }
}

impl Ladder {
    /// Applies cuts that were found earlier \[W\], in order. Each cuts to the power that it left at that time.
    pub fn repeat(&mut self, cuts: impl IntoIterator<Item = (LossCause, f64)>) {
        let mut level_w = self.power_w + self.cuts.total_w();
        for (cause, w) in cuts {
            level_w -= w;
            self.cut_to(cause, level_w);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn power_that_two_limits_would_cut_belongs_to_the_first() {
        let mut ladder = Ladder::new(20.0);
        ladder.cut_to(LossCause::VoltageLimitedSpeed, 11.0);
        ladder.cut_to(LossCause::DriveLimit, 15.0);
        ladder.cut_to(LossCause::PumpAtFullSpeed, 10.0);
        assert_eq!(
            ladder.cuts.parts(),
            [(LossCause::VoltageLimitedSpeed, 9.0), (LossCause::PumpAtFullSpeed, 1.0)]
        );
        assert!((ladder.power_w - 10.0).abs() < 1e-12);
        assert!((ladder.cuts.total_w() - 10.0).abs() < 1e-12);
    }

    #[test]
    fn repeated_cuts_take_only_what_an_earlier_limit_left() {
        let mut found = Ladder::new(100.0);
        found.cut_to(LossCause::MpptWindow, 90.0);
        found.cut_to(LossCause::InverterClipping, 60.0);
        let mut ladder = Ladder::new(100.0);
        ladder.cut_to(LossCause::GridVoltageTrip, 70.0);
        ladder.repeat(found.cuts.parts().iter().copied());
        assert_eq!(
            ladder.cuts.parts(),
            [(LossCause::GridVoltageTrip, 30.0), (LossCause::InverterClipping, 10.0)]
        );
    }

    #[test]
    fn cuts_beyond_the_longest_ladder_stay_in_the_sum() {
        let mut cuts = Cuts::NONE;
        for w in [1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 128.0, 256.0] {
            cuts.push(LossCause::DriveLimit, w);
        }
        assert_eq!(cuts.parts().len(), 7);
        // 1 + 2 + 4 + … + 256.
        assert!((cuts.total_w() - 511.0).abs() < 1e-12);
    }
}
