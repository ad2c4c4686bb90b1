//! The duty point of a pump whose head is not H0 + c·Q².
//!
//! The *drop* is the part of its shut-off head that a pump loses at a flow, r²·H0 − H(Q, r). The spare head covers drop
//! and losses. On a curve that first rises the drop is negative at small flow, and up to three flows may satisfy the
//! equation; the largest is the duty point. A set runs only where it has spare head, so nothing depends on its history.

use daylift_units::{Pchip, root};

use super::DutySolver;
use crate::pipe::{MIDDLE_X, TURBULENT_RE};
use crate::pump::HeadCurve;

#[cfg(test)]
mod tests;

/// A spare head below zero by up to this share of the shut-off head is rounding: the pump just starts.
const ROUNDING: f64 = 1e-9;

impl DutySolver {
    /// The largest flow \[m³/s\] at which a pump on `curve` has a spare head \[m\] left; 0 without spare head.
    pub(super) fn flow_on_m3_s(&self, curve: &HeadCurve, spare_m: f64, ratio: f64) -> f64 {
        let shut_off_m = ratio * ratio * curve.shut_off_m();
        if ratio.is_nan() || ratio <= 0.0 || spare_m.is_nan() || spare_m < -ROUNDING * shut_off_m {
            return 0.0;
        }
        let spare_m = spare_m.max(0.0);
        match curve {
            HeadCurve::Falling { .. } => 0.0,
            &HeadCurve::Humped {
                linear_s_m2,
                square_s2_m5,
                ..
            } => self.on_hump_m3_s(spare_m, linear_s_m2 * ratio, -square_s2_m5),
            HeadCurve::Through(points) => self.through_m3_s(spare_m, points, ratio),
        }
    }

    /// The flow on a curve that falls everywhere: the only one.
    fn through_m3_s(&self, spare_m: f64, points: &Pchip, ratio: f64) -> f64 {
        if spare_m <= 0.0 {
            return 0.0;
        }
        let shut_off_m = points.at(0.0);
        let drop_m = |flow_m3_s: f64| ratio * ratio * (shut_off_m - points.at(flow_m3_s / ratio));
        // Beyond the last point the line falls, so this ends.
        let mut most_m3_s = points.last().x * ratio;
        while drop_m(most_m3_s) <= spare_m {
            most_m3_s *= 2.0;
        }
        let left = |flow_m3_s: f64| 1.0 - (drop_m(flow_m3_s) + self.lost_m(flow_m3_s)) / spare_m;
        root::bracketed(0.0, most_m3_s, left).unwrap_or(0.0)
    }

    /// The largest flow with drop −b·Q + a·Q², b and a above 0.
    ///
    /// What is left of the spare head is a concave function of the flow, except for a kink where a pipe becomes fully
    /// turbulent. Between the kinks, from the largest flow down, it is therefore zero at most once beyond its maximum.
    fn on_hump_m3_s(&self, spare_m: f64, b: f64, a: f64) -> f64 {
        let most_m3_s = (b + (b * b + 4.0 * a * spare_m).sqrt()) / (2.0 * a) * (1.0 + 1e-9);
        let scale_m = spare_m.max(b * most_m3_s);
        let left = |q: f64| (spare_m + q * (b - a * q) - self.lost_m(q)) / scale_m;
        let slope = |q: f64| (q * (b - 2.0 * a * q) - self.spent(q, |_| MIDDLE_X).slope_m) / scale_m;
        let mut kinks: Vec<f64> = self.pipes.iter().map(|pipe| TURBULENT_RE / pipe.reynolds_s_m3).collect();
        kinks.retain(|&kink_m3_s| kink_m3_s < most_m3_s);
        kinks.sort_by(|one, other| other.total_cmp(one));
        kinks.push(most_m3_s * 1e-12);
        let mut high = most_m3_s;
        for low in kinks {
            if left(low) > 0.0 {
                return root::bracketed(low, high, left).unwrap_or(0.0);
            }
            // Nothing is left at either end. Is there a maximum in between, and something left there?
            let (inner_low, inner_high) = (low * (1.0 + 1e-9), high * (1.0 - 1e-9));
            if slope(inner_low) > 0.0
                && slope(inner_high) < 0.0
                && let Some(top) = root::bracketed(inner_low, inner_high, slope)
                && left(top) >= 0.0
            {
                return root::bracketed(top, high, left).unwrap_or(0.0);
            }
            high = low;
        }
        0.0
    }

    /// Head lost in well and pipes at a flow \[m\]. (Laminar friction has no factor at zero flow.)
    fn lost_m(&self, flow_m3_s: f64) -> f64 {
        if flow_m3_s > 0.0 {
            self.spent(flow_m3_s, |_| MIDDLE_X).head_m
        } else {
            0.0
        }
    }
}
