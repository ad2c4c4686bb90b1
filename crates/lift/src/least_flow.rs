//! The least flow of a pump, and the frequency from which it has it.

use daylift_units::{Month, root};

use crate::pump::Pump;
use crate::set::PumpSet;

/// Frequency ratio up to which the least flow is looked for; no drive goes beyond it.
const GREATEST_RATIO: f64 = 4.0;

impl Pump {
    /// Flow of best efficiency at rated speed \[m³/s\]: where the fitted η is greatest, up to the datasheet's last flow.
    #[must_use]
    pub fn best_flow_m3_s(&self) -> f64 {
        self.efficiency.best_flow_m3_s(self.greatest_flow_m3_s())
    }
}

impl PumpSet {
    /// The least flow at a frequency ratio r \[m³/s\]: `least_flow` of the flow of best efficiency at that speed, and
    /// what cools the motor.
    #[must_use]
    pub fn least_flow_m3_s(&self, ratio: f64) -> f64 {
        (self.fitted().least_flow * ratio * self.pump().best_flow_m3_s()).max(self.motor().cooling_flow_m3_s())
    }

    /// Lowest frequency \[Hz\] at which the set has its least flow. `None` where there is no least flow, infinite where no
    /// frequency gives it.
    ///
    /// The duty flow is at least Q where the pump's head at Q is at least the system's.
    #[must_use]
    pub fn least_flow_hz(&self, month: Month) -> Option<f64> {
        if self.least_flow_m3_s(1.0) <= 0.0 {
            return None;
        }
        let static_m = self.pump().shut_off_head_m();
        let spare = |ratio: f64| {
            let flow_m3_s = self.least_flow_m3_s(ratio);
            (self.pump().head_m(flow_m3_s, ratio) - self.system().head_m(month, flow_m3_s)) / static_m
        };
        let rated_hz = self.motor().rated_frequency_hz();
        let begins = self.flow_begins_hz(month) / rated_hz;
        if begins >= GREATEST_RATIO || spare(GREATEST_RATIO) < 0.0 {
            return Some(f64::INFINITY);
        }
        // Without a standing lift both heads are 0 at rest.
        let low = begins.max(1e-3);
        if spare(low) >= 0.0 {
            return Some(low * rated_hz);
        }
        root::bracketed(low, GREATEST_RATIO, spare).map(|ratio| ratio * rated_hz)
    }
}
