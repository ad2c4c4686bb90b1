//! The two curves of a pump at rated speed: head and efficiency over flow.

use daylift_units::fields::pump::EFFICIENCY;
use daylift_units::{Pchip, fingerprint, root};

#[cfg(test)]
mod tests;

/// Highest plausible efficiency.
pub(crate) const GREATEST_EFFICIENCY: f64 = EFFICIENCY.greatest * EFFICIENCY.unit.factor;

/// Head over flow. At a frequency ratio r it is r²·H(Q/r), the affinity laws Q ∝ n, H ∝ n².
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum HeadCurve {
    /// H0 + c·Q², c < 0.
    Falling { shut_off_m: f64, square_s2_m5: f64 },
    /// H0 + b·Q + c·Q², b > 0 and c < 0: it rises, then falls.
    Humped {
        shut_off_m: f64,
        linear_s_m2: f64,
        square_s2_m5: f64,
    },
    /// A monotone curve through the datasheet's points, with a line that falls beyond the last.
    Through(Pchip),
}

fingerprint!(enum HeadCurve {
    Falling { shut_off_m, square_s2_m5 },
    Humped { shut_off_m, linear_s_m2, square_s2_m5 },
    Through(points),
});

impl HeadCurve {
    /// Through points of falling head, in order of rising flow. Beyond the last point: a line with the slope there, or
    /// with that between the last two points where that falls faster.
    pub(crate) fn through(points: &[(f64, f64)]) -> Option<Self> {
        let curve = Pchip::through(points)?;
        let secant = match points {
            [.., a, b] => (b.1 - a.1) / (b.0 - a.0),
            _ => return None,
        };
        let beyond = curve.last().slope.min(secant);
        (beyond < 0.0).then(|| Self::Through(curve.with_slope_beyond(beyond)))
    }

    /// Head at zero flow \[m\].
    pub(crate) fn shut_off_m(&self) -> f64 {
        match self {
            Self::Falling { shut_off_m, .. } | Self::Humped { shut_off_m, .. } => *shut_off_m,
            Self::Through(curve) => curve.at(0.0),
        }
    }

    /// Head \[m\] at a flow \[m³/s\] and a frequency ratio, neither below 0.
    pub(crate) fn head_m(&self, flow_m3_s: f64, ratio: f64) -> f64 {
        let shut_off_m = |shut_off_m: f64| ratio.powi(2) * shut_off_m;
        match self {
            Self::Falling {
                shut_off_m: h0,
                square_s2_m5,
            } => shut_off_m(*h0) + square_s2_m5 * flow_m3_s * flow_m3_s,
            Self::Humped {
                shut_off_m: h0,
                linear_s_m2,
                square_s2_m5,
            } => shut_off_m(*h0) + flow_m3_s * (linear_s_m2 * ratio + square_s2_m5 * flow_m3_s),
            Self::Through(curve) if ratio > 0.0 => ratio.powi(2) * curve.at(flow_m3_s / ratio),
            Self::Through(_) => 0.0,
        }
    }

    /// The frequency ratio at which the pump has a head \[m\] at a flow \[m³/s\], which is above 0.
    pub(crate) fn ratio(&self, flow_m3_s: f64, head_m: f64) -> f64 {
        match self {
            Self::Falling {
                shut_off_m,
                square_s2_m5,
            } => {
                let curve_m = square_s2_m5 * flow_m3_s * flow_m3_s;
                ((head_m - curve_m) / shut_off_m).max(0.0).sqrt()
            }
            Self::Humped {
                shut_off_m,
                linear_s_m2,
                square_s2_m5,
            } => {
                // H0·r² + b·Q·r − (H − c·Q²) = 0
                let linear_m = linear_s_m2 * flow_m3_s;
                let rest_m = (head_m - square_s2_m5 * flow_m3_s * flow_m3_s).max(0.0);
                2.0 * rest_m / (linear_m + (linear_m * linear_m + 4.0 * shut_off_m * rest_m).sqrt())
            }
            Self::Through(curve) => ratio_through(curve, flow_m3_s, head_m),
        }
    }
}

/// The ratio on a curve through points. Where r²·H(Q/r) is at least 0 it rises with r.
fn ratio_through(curve: &Pchip, flow_m3_s: f64, head_m: f64) -> f64 {
    let last = curve.last();
    // The line beyond the last point reaches 0 here: the last point has a head above 0.
    let no_head_m3_s = last.x - last.y / curve.slope_beyond();
    let low = flow_m3_s / no_head_m3_s;
    if head_m <= 0.0 {
        return low;
    }
    let gap = |ratio: f64| ratio * ratio * curve.at(flow_m3_s / ratio) / head_m - 1.0;
    let mut high = low.max((head_m / curve.at(0.0)).sqrt());
    while gap(high) < 0.0 {
        high *= 2.0;
    }
    root::bracketed(low, high, gap).unwrap_or(high)
}

/// Efficiency over flow. At a frequency ratio r it is η(Q/r).
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum EfficiencyCurve {
    /// e1·Q + e2·Q² + e3·Q³.
    Cubic([f64; 3]),
    /// A monotone curve through (0, 0) and the datasheet's points, with a straight line beyond the last.
    Through(Pchip),
}

fingerprint!(
    enum EfficiencyCurve {
        Cubic(coefficients),
        Through(points),
    }
);

impl EfficiencyCurve {
    /// Through (0, 0) and points with flow, in order of rising flow. The slope at (0, 0) is at least that of the line to
    /// the first point: with less, the power at no flow would be infinite or far above that at the first point.
    pub(crate) fn through(points: &[(f64, f64)]) -> Option<Self> {
        let (x, y) = *points.first()?;
        let mut all = vec![(0.0, 0.0)];
        all.extend_from_slice(points);
        let curve = Pchip::through(&all)?;
        let slope = curve.first().slope.max(y / x);
        Some(Self::Through(curve.with_first_slope(slope)))
    }

    /// The curve itself, without the limits beyond the data.
    pub(crate) fn unlimited(&self, flow_m3_s: f64) -> f64 {
        match self {
            Self::Cubic(_) => flow_m3_s * self.per_flow(flow_m3_s),
            Self::Through(curve) => curve.at(flow_m3_s),
        }
    }

    /// Flow of best efficiency up to `last_m3_s` \[m³/s\]. A monotone curve has its greatest value at one of its points.
    pub(crate) fn best_flow_m3_s(&self, last_m3_s: f64) -> f64 {
        let candidates: Vec<f64> = match self {
            // η' = e1 + 2·e2·Q + 3·e3·Q²; the form of the roots that also holds for e3 = 0.
            Self::Cubic([e1, e2, e3]) => {
                let discriminant = (e2 * e2 - 3.0 * e1 * e3).max(0.0).sqrt();
                vec![e1 / (-e2 + discriminant), e1 / (-e2 - discriminant)]
            }
            Self::Through(curve) => curve.knots().iter().map(|knot| knot.x).collect(),
        };
        let inside = candidates.into_iter().filter(|q| (0.0..=last_m3_s).contains(q));
        inside.fold(last_m3_s, |best, q| {
            if self.unlimited(q) > self.unlimited(best) {
                q
            } else {
                best
            }
        })
    }

    /// η/Q \[s/m³\], without the limits beyond the data; its limit at zero flow.
    pub(crate) fn per_flow(&self, flow_m3_s: f64) -> f64 {
        match self {
            Self::Cubic([e1, e2, e3]) => e1 + flow_m3_s * (e2 + flow_m3_s * e3),
            Self::Through(curve) if flow_m3_s > 1e-9 * curve.last().x => curve.at(flow_m3_s) / flow_m3_s,
            Self::Through(curve) => curve.first().slope,
        }
    }

    /// The same, with the efficiency between `least` and 92 %.
    pub(crate) fn limited_per_flow(&self, flow_m3_s: f64, least: f64) -> f64 {
        self.per_flow(flow_m3_s).clamp(least / flow_m3_s, GREATEST_EFFICIENCY / flow_m3_s)
    }
}
