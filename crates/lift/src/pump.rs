//! The pump: head, efficiency and shaft power as functions of flow and speed.

use daylift_units::constants::GRAVITY_M_S2;
use daylift_units::{Misfit, Warning, fingerprint};

mod curves;
#[cfg(test)]
mod tests;

pub(crate) use curves::{EfficiencyCurve, GREATEST_EFFICIENCY, HeadCurve};

/// A centrifugal pump with curves fitted to its datasheet, or through the datasheet's points.
///
/// `ratio` in its methods is the frequency divided by the rated frequency, r = f/f0. The slip of the motor is assumed
/// to be the same at every frequency.
#[derive(Debug, Clone, PartialEq)]
pub struct Pump {
    pub(crate) name: String,
    pub(crate) density_kg_m3: f64,
    pub(crate) head: HeadCurve,
    pub(crate) efficiency: EfficiencyCurve,
    pub(crate) greatest_flow_m3_s: f64,
    pub(crate) least_efficiency: f64,
    pub(crate) fit_errors: PumpFitErrors,
}

fingerprint!(Pump {
    name,
    density_kg_m3,
    head,
    efficiency,
    greatest_flow_m3_s,
    least_efficiency
} derived { fit_errors });

/// Largest differences between the fitted curves and the datasheet; all 0 through the points.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PumpFitErrors {
    /// Error of the head \[m\].
    pub head_m: f64,
    /// Error of the efficiency, a fraction (0.01 is one percentage point).
    pub efficiency: f64,
    /// The worst error of the head, as a fraction of the shut-off head.
    pub head_misfit: Misfit,
    /// The worst error of the efficiency, as a fraction of the efficiency given.
    pub efficiency_misfit: Misfit,
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
        self.head.shut_off_m()
    }

    /// H0 \[m\], b \[s/m²\] and c \[s²/m⁵\] of H = H0 + b·Q + c·Q², the head at rated speed. b is 0 unless the head
    /// first rises. `None` for a curve through the datasheet's points.
    #[must_use]
    pub fn head_terms(&self) -> Option<[f64; 3]> {
        match self.head {
            HeadCurve::Falling {
                shut_off_m,
                square_s2_m5,
            } => Some([shut_off_m, 0.0, square_s2_m5]),
            HeadCurve::Humped {
                shut_off_m,
                linear_s_m2,
                square_s2_m5,
            } => Some([shut_off_m, linear_s_m2, square_s2_m5]),
            HeadCurve::Through(_) => None,
        }
    }

    /// The flows \[m³/s\] of the two neighbouring points of the datasheet, on a curve through its points. Before the first
    /// point these are 0 and the first, beyond the last the last two. `None` for a fitted curve.
    #[must_use]
    pub fn points_around(&self, flow_m3_s: f64) -> Option<[f64; 2]> {
        let HeadCurve::Through(curve) = &self.head else {
            return None;
        };
        let knots = curve.knots();
        let above = knots.partition_point(|knot| knot.x <= flow_m3_s).min(knots.len() - 1);
        let below = if above == 0 { 0.0 } else { knots[above - 1].x };
        Some([below, knots[above].x])
    }

    /// The frequency ratio at which the pump has a head \[m\] at a flow \[m³/s\] above 0.
    #[must_use]
    pub fn ratio(&self, flow_m3_s: f64, head_m: f64) -> f64 {
        self.head.ratio(flow_m3_s, head_m)
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

    /// Warnings where the fitted curves are far from the datasheet.
    pub fn misfit_warnings(&self) -> impl Iterator<Item = Warning> {
        let [head, efficiency] = crate::pump_sheet::judged(&self.head);
        let of_head = self.fit_errors.head_misfit.warning("pump", &self.name, &head);
        let of_efficiency = self.fit_errors.efficiency_misfit.warning("pump", &self.name, &efficiency);
        of_head.into_iter().chain(of_efficiency)
    }

    /// Head \[m\] at a flow \[m³/s\] and a frequency ratio r: H = r²·H0 + b·r·Q + c·Q², or r²·H(Q/r) through points.
    ///
    /// The affinity laws Q ∝ n, H ∝ n² applied to the curve at rated speed (Karassik et al., Pump Handbook; usual practice for r from
    /// 0.5 to 1.2). Negative where water could only be forced through the pump.
    #[must_use]
    pub fn head_m(&self, flow_m3_s: f64, ratio: f64) -> f64 {
        self.head.head_m(flow_m3_s.max(0.0), ratio.max(0.0))
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

    /// η0 without the limits beyond the data.
    pub(crate) fn fitted_efficiency(&self, flow_m3_s: f64) -> f64 {
        self.efficiency.unlimited(flow_m3_s)
    }

    /// η0(Q)/Q at rated speed \[s/m³\]; positive at every flow.
    fn efficiency_per_flow(&self, flow_m3_s: f64) -> f64 {
        if flow_m3_s <= self.greatest_flow_m3_s {
            self.efficiency.per_flow(flow_m3_s)
        } else {
            self.efficiency.limited_per_flow(flow_m3_s, self.least_efficiency)
        }
    }
}
