//! The pump: head, efficiency and shaft power as functions of flow and speed.

use daylift_units::constants::GRAVITY_M_S2;
use daylift_units::fields::pump::EFFICIENCY;
use daylift_units::fingerprint;

#[cfg(test)]
mod tests;

/// Highest plausible efficiency.
pub(crate) const GREATEST_EFFICIENCY: f64 = EFFICIENCY.greatest * EFFICIENCY.unit.factor;

/// A centrifugal pump with curves fitted to its datasheet.
///
/// `ratio` in its methods is the frequency divided by the rated frequency, r = f/f0. The slip of the motor is assumed
/// to be the same at every frequency.
#[derive(Debug, Clone, PartialEq)]
pub struct Pump {
    pub(crate) name: String,
    pub(crate) density_kg_m3: f64,
    pub(crate) shut_off_head_m: f64,
    pub(crate) head_coefficient_s2_m5: f64,
    pub(crate) efficiency_coefficients: [f64; 3],
    pub(crate) greatest_flow_m3_s: f64,
    pub(crate) least_efficiency: f64,
    pub(crate) fit_errors: PumpFitErrors,
}

fingerprint!(Pump {
    name,
    density_kg_m3,
    shut_off_head_m,
    head_coefficient_s2_m5,
    efficiency_coefficients,
    greatest_flow_m3_s,
    least_efficiency
} derived { fit_errors });

/// Largest differences between the fitted curves and the datasheet.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PumpFitErrors {
    /// Error of the head \[m\].
    pub head_m: f64,
    /// Error of the head, as a fraction of the shut-off head.
    pub head_fraction: f64,
    /// Error of the efficiency, a fraction (0.01 is one percentage point).
    pub efficiency: f64,
}

impl Pump {
    /// Name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Shut-off head H0 \[m\]: head at zero flow and rated speed.
    #[must_use]
    pub fn shut_off_head_m(&self) -> f64 {
        self.shut_off_head_m
    }

    /// Coefficient c of H = H0 + c·Q² \[s²/m⁵\]; negative.
    #[must_use]
    pub fn head_coefficient_s2_m5(&self) -> f64 {
        self.head_coefficient_s2_m5
    }

    /// Last flow of the datasheet \[m³/s\], at rated speed; at a ratio r the data reach to r times this flow.
    #[must_use]
    pub fn greatest_flow_m3_s(&self) -> f64 {
        self.greatest_flow_m3_s
    }

    /// Differences between the fitted curves and the datasheet.
    #[must_use]
    pub fn fit_errors(&self) -> PumpFitErrors {
        self.fit_errors
    }

    /// Head \[m\] at a flow \[m³/s\] and a frequency ratio r: H = r²·H0 + c·Q².
    ///
    /// The affinity laws Q ∝ n, H ∝ n² applied to H0 + c·Q² (Karassik et al., Pump Handbook; usual practice for r from
    /// 0.5 to 1.2). Negative where water could only be forced through the pump.
    #[must_use]
    pub fn head_m(&self, flow_m3_s: f64, ratio: f64) -> f64 {
        let flow_m3_s = flow_m3_s.max(0.0);
        ratio.max(0.0).powi(2) * self.shut_off_head_m + self.head_coefficient_s2_m5 * flow_m3_s * flow_m3_s
    }

    /// Efficiency, a fraction, at a flow \[m³/s\] and a frequency ratio r: η = η0(Q/r), with η0 the curve at rated
    /// speed.
    ///
    /// Beyond the datasheet's last flow the fitted curve is limited, so that no power is infinite or negative. The lower
    /// limit is 5 %, or the value at the last flow if that is lower; the upper limit is 92 %. 0 without flow or speed.
    #[must_use]
    pub fn efficiency(&self, flow_m3_s: f64, ratio: f64) -> f64 {
        let (flow_m3_s, ratio) = (flow_m3_s.max(0.0), ratio.max(0.0));
        if ratio <= 0.0 {
            return 0.0;
        }
        let scaled_m3_s = flow_m3_s / ratio;
        scaled_m3_s * self.efficiency_per_flow(scaled_m3_s)
    }

    /// Shaft power \[W\] at a flow \[m³/s\] and a frequency ratio r: P = ρ·g·Q·H/η.
    ///
    /// At zero flow it is the limit r·ρ·g·H/e1, the power against a closed valve. 0 at zero speed, and where the head
    /// is not positive.
    #[must_use]
    pub fn shaft_power_w(&self, flow_m3_s: f64, ratio: f64) -> f64 {
        let (flow_m3_s, ratio) = (flow_m3_s.max(0.0), ratio.max(0.0));
        if ratio <= 0.0 {
            return 0.0;
        }
        let head_m = self.head_m(flow_m3_s, ratio).max(0.0);
        let weight = self.density_kg_m3 * GRAVITY_M_S2;
        weight * ratio * head_m / self.efficiency_per_flow(flow_m3_s / ratio)
    }

    /// η0 as fitted, without the limits beyond the data.
    pub(crate) fn fitted_efficiency(&self, flow_m3_s: f64) -> f64 {
        let [e1, e2, e3] = self.efficiency_coefficients;
        flow_m3_s * (e1 + flow_m3_s * (e2 + flow_m3_s * e3))
    }

    /// η0(Q)/Q at rated speed \[s/m³\]; positive at every flow.
    fn efficiency_per_flow(&self, flow_m3_s: f64) -> f64 {
        let [e1, e2, e3] = self.efficiency_coefficients;
        let fitted = e1 + flow_m3_s * (e2 + flow_m3_s * e3);
        if flow_m3_s <= self.greatest_flow_m3_s {
            return fitted;
        }
        fitted.clamp(self.least_efficiency / flow_m3_s, GREATEST_EFFICIENCY / flow_m3_s)
    }
}
