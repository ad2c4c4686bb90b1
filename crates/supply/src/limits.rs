//! The ladder of limits: power is cut rung by rung, and each rung books only what it cut off itself.

use crate::cause::LossCause;

/// The limits of a drive on the sun alone. Each cuts once in a step at most: below its start nothing is left to cut.
const OF_DRIVE: [LossCause; 5] = [
    LossCause::WellLimit,
    LossCause::VoltageLimitedSpeed,
    LossCause::DriveLimit,
    LossCause::PumpAtFullSpeed,
    LossCause::BelowStart,
];
/// Those of a drive with mains on its second input, which may hold it off twice: for its voltage, then by a hair of
/// rounding.
const OF_SECOND_INPUT: [LossCause; 4] = [
    LossCause::WellLimit,
    LossCause::VoltageLimitedSpeed,
    LossCause::HeldOffByGrid,
    LossCause::HeldOffByGrid,
];
/// Those of an inverter and of the bus that it feeds; on an island the battery's limit replaces that of the export.
const OF_INVERTER: [LossCause; 5] = [
    LossCause::GridVoltageTrip,
    LossCause::MpptWindow,
    LossCause::InverterClipping,
    LossCause::BelowStart,
    LossCause::ExportLimit,
];

/// Most rungs that one device has.
const RUNGS: usize = longest(&[&OF_DRIVE, &OF_SECOND_INPUT, &OF_INVERTER]);

const fn longest(ladders: &[&[LossCause]]) -> usize {
    let (mut most, mut i) = (0, 0);
    while i < ladders.len() {
        if ladders[i].len() > most {
            most = ladders[i].len();
        }
        i += 1;
    }
    most
}

/// The parts that several limits cut off, in the order in which they were applied.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cuts {
    lost: [(LossCause, f64); RUNGS],
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
        lost: [(LossCause::GridDown, 0.0); RUNGS],
        used: 0,
    };

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
        debug_assert!(self.used < RUNGS, "a device has more limits than RUNGS");
        if w > 0.0 && self.used < RUNGS {
            self.lost[self.used] = (cause, w);
            self.used += 1;
        }
    }
}

/// Power on its way down the ladder.
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

    /// Cuts the power to `cap_w` and books the rest to `cause`. Returns whether it cut anything.
    pub fn hold(&mut self, cause: LossCause, cap_w: f64) -> bool {
        let cap_w = cap_w.max(0.0);
        let cuts = self.power_w > cap_w;
        if cuts {
            self.cuts.push(cause, self.power_w - cap_w);
            self.power_w = cap_w;
        }
        cuts
    }
}

impl Ladder {
    /// Applies cuts that were found earlier, in their order. Each cuts down to the power that it left then \[W\].
    pub fn hold_again(&mut self, cuts: impl IntoIterator<Item = (LossCause, f64)>) {
        let mut level_w = self.power_w + self.cuts.total_w();
        for (cause, w) in cuts {
            level_w -= w;
            self.hold(cause, level_w);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_two_limits_would_cut_belongs_to_the_first() {
        let mut ladder = Ladder::new(20.0);
        ladder.hold(LossCause::VoltageLimitedSpeed, 11.0);
        ladder.hold(LossCause::DriveLimit, 15.0);
        ladder.hold(LossCause::PumpAtFullSpeed, 10.0);
        assert_eq!(
            ladder.cuts.parts(),
            [(LossCause::VoltageLimitedSpeed, 9.0), (LossCause::PumpAtFullSpeed, 1.0)]
        );
        assert!((ladder.power_w - 10.0).abs() < 1e-12);
        assert!((ladder.cuts.total_w() - 10.0).abs() < 1e-12);
    }

    #[test]
    fn limits_found_before_take_only_what_an_earlier_one_left() {
        let mut found = Ladder::new(100.0);
        found.hold(LossCause::MpptWindow, 90.0);
        found.hold(LossCause::InverterClipping, 60.0);
        let mut ladder = Ladder::new(100.0);
        ladder.hold(LossCause::GridVoltageTrip, 70.0);
        ladder.hold_again(found.cuts.parts().iter().copied());
        assert_eq!(
            ladder.cuts.parts(),
            [(LossCause::GridVoltageTrip, 30.0), (LossCause::InverterClipping, 10.0)]
        );
    }
}
