//! The duty point: the flow at which the pump's head equals the system's.
//!
//! The pump's head is r²·H0 + c·Q². The system has a standing lift H_st, drawdown B·Q + C·Q², fittings and friction. At
//! the duty point the *spare head*, the shut-off head less the standing lift, covers the losses that depend on flow:
//!
//! r²·H0 − H_st = B·Q + (C − c + ΣK/2gA²)·Q² + Σ f(Re)·L/(D·2gA²)·Q²
//!
//! The right side rises with Q and depends on neither month nor speed, so the flow is a function of the spare head
//! alone. [`DutySolver`] solves for it with Newton's method; it stores only start values between solves.
//!
//! For other head curves the flow depends on the frequency ratio, too, and is solved by bracketing: [`curved`].

use std::fmt;

use daylift_units::{Month, root};

use crate::pipe::{self, Friction, MIDDLE_X};
use crate::pump::{HeadCurve, Pump};
use crate::system::System;

mod curved;
#[cfg(test)]
mod tests;

/// Number of intervals of the start values.
const INTERVALS: u32 = 64;
/// Steps of Newton's method before the bracketing method takes over.
const MOST_ROUNDS: u32 = 12;

/// The flow of one pump on one system as a function of the spare head.
///
/// Newton's method in ln Q, with each friction factor solved exactly at every flow. Start values come from cubics
/// between points evenly spaced in √(spare head), along which Q and each 1/√f are smooth. Usually one step and one
/// logarithm per pipe are then enough. A solve that does not converge is repeated by bracketing. This can happen where
/// the flow in a pipe becomes turbulent and the friction factor has a kink.
#[derive(Clone, PartialEq)]
pub(crate) struct DutySolver {
    /// B of the well \[s/m²\].
    linear_s_m2: f64,
    /// C − c + ΣK/2gA² \[s²/m⁵\]; positive, as c is negative. Without c where `curve` is given.
    square_s2_m5: f64,
    /// The head of the pump where it is not H0 + c·Q².
    curve: Option<HeadCurve>,
    pipes: Vec<Conduit>,
    /// Flow above which every pipe is turbulent \[m³/s\].
    turbulent_m3_s: f64,
    /// Square of the number of intervals, divided by the largest spare head \[1/m\].
    intervals2_per_m: f64,
    /// Per interval of √(spare head): a cubic for the flow, then one for 1/√f of each pipe. Empty without spare head.
    starts: Vec<Cubic>,
}

/// Friction of a pipe: f·`head_s2_m5`·Q².
#[derive(Debug, Clone, Copy, PartialEq)]
struct Conduit {
    reynolds_s_m3: f64,
    rough_term: f64,
    head_s2_m5: f64,
}

/// A value at the end of an interval, and its slope per interval.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Knot {
    value: f64,
    slope: f64,
}

/// c0 + c1·t + c2·t² + c3·t³, with t from 0 to 1 within an interval.
#[derive(Clone, PartialEq)]
struct Cubic([f64; 4]);

impl fmt::Debug for DutySolver {
    /// Omits the fields, which all follow from pump and system.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("DutySolver").finish_non_exhaustive()
    }
}

impl DutySolver {
    /// The solver for a pump on a system. Start values reach up to `greatest_ratio`, but any ratio can be solved.
    pub(crate) fn new(pump: &Pump, system: &System, greatest_ratio: f64) -> Self {
        let (well, water) = (system.well().sheet(), system.water());
        let fittings_s2_m5: f64 = system.pipes().iter().map(|pipe| pipe.fittings_m(1.0)).sum();
        let pipes = system.pipes().iter().map(|pipe| {
            let sheet = pipe.sheet();
            Conduit {
                reynolds_s_m3: pipe.reynolds(1.0, water),
                rough_term: pipe::rough_term(sheet.roughness_m / sheet.bore_m),
                head_s2_m5: sheet.length_m / sheet.bore_m * pipe.velocity_head_m(1.0),
            }
        });
        let pipes: Vec<Conduit> = pipes.collect();
        let turbulent_m3_s = pipes.iter().map(|pipe| pipe::TURBULENT_RE / pipe.reynolds_s_m3);
        let least_lift_m = Month::ALL
            .into_iter()
            .map(|month| system.static_head_m(month))
            .fold(f64::INFINITY, f64::min);
        let (square_s2_m5, curve) = match &pump.head {
            HeadCurve::Falling { square_s2_m5, .. } => (*square_s2_m5, None),
            other => (0.0, Some(other.clone())),
        };
        let mut solver = Self {
            linear_s_m2: well.aquifer_loss_s_m2,
            square_s2_m5: well.well_loss_s2_m5 - square_s2_m5 + fittings_s2_m5,
            curve,
            turbulent_m3_s: turbulent_m3_s.fold(0.0, f64::max),
            pipes,
            intervals2_per_m: 0.0,
            starts: Vec::new(),
        };
        let most_m = pump.head_m(0.0, greatest_ratio) - least_lift_m;
        if most_m > 0.0 && solver.curve.is_none() {
            solver.intervals2_per_m = f64::from(INTERVALS).powi(2) / most_m;
            solver.starts = solver.starts(most_m);
        }
        solver
    }

    /// Flow \[m³/s\] at a spare head \[m\] and a frequency ratio; 0 without spare head.
    pub(crate) fn flow_at_m3_s(&self, spare_m: f64, ratio: f64) -> f64 {
        match &self.curve {
            None => self.flow_m3_s(spare_m),
            Some(curve) => self.flow_on_m3_s(curve, spare_m, ratio),
        }
    }

    /// Flow \[m³/s\] that uses up a spare head \[m\] of a pump with H0 + c·Q²; 0 without spare head.
    ///
    /// The heads agree to within rounding of the spare head.
    pub(crate) fn flow_m3_s(&self, spare_m: f64) -> f64 {
        if spare_m > 0.0 {
            self.near_starts(spare_m).unwrap_or_else(|| self.without_starts(spare_m))
        } else {
            0.0
        }
    }

    /// Newton's method from the start values; also `None` where there are no start values.
    fn near_starts(&self, spare_m: f64) -> Option<f64> {
        let (interval, t) = place((spare_m * self.intervals2_per_m).sqrt());
        let width = 1 + self.pipes.len();
        let (flow, x) = self.starts.get(interval * width..(interval + 1) * width)?.split_first()?;
        self.newton(spare_m, flow.at(t), |i| x[i].at(t))
    }

    /// The flow, solved without start values.
    fn without_starts(&self, spare_m: f64) -> f64 {
        let most_m3_s = (spare_m / self.square_s2_m5).sqrt() * (1.0 + 1e-9);
        self.newton(spare_m, most_m3_s, |_| MIDDLE_X).unwrap_or_else(|| {
            let gap = |flow_m3_s: f64| 1.0 - self.spent(flow_m3_s, |_| MIDDLE_X).head_m / spare_m;
            root::bracketed(0.0, most_m3_s, gap).unwrap_or(0.0)
        })
    }

    /// Newton's method in ln Q from a start value, with `near_x` close to 1/√f of each pipe; `None` if it does not
    /// converge.
    ///
    /// The remaining error is of the order of the last step squared, unless the friction may have a kink in between.
    fn newton(&self, spare_m: f64, start_m3_s: f64, near_x: impl Fn(usize) -> f64) -> Option<f64> {
        let mut flow_m3_s = start_m3_s;
        for _ in 0..MOST_ROUNDS {
            let spent = self.spent(flow_m3_s, &near_x);
            let step = (spare_m - spent.head_m) / spent.slope_m;
            let smooth = flow_m3_s > self.turbulent_m3_s * (1.0 + 1e-6);
            flow_m3_s += flow_m3_s * step;
            if step.abs() < if smooth { 1e-7 } else { 1e-13 } {
                return Some(flow_m3_s);
            }
        }
        None
    }

    /// The right side of the equation above, with its slope.
    fn spent(&self, flow_m3_s: f64, near_x: impl Fn(usize) -> f64) -> Spent {
        let squared = flow_m3_s * flow_m3_s;
        let (linear_m, square_m) = (self.linear_s_m2 * flow_m3_s, self.square_s2_m5 * squared);
        let mut spent = Spent {
            head_m: linear_m + square_m,
            slope_m: linear_m + 2.0 * square_m,
        };
        for (i, pipe) in self.pipes.iter().enumerate() {
            let Friction { factor, slope } = pipe.friction(flow_m3_s, near_x(i));
            let per_factor_m = pipe.head_s2_m5 * squared;
            spent.head_m += per_factor_m * factor;
            spent.slope_m += per_factor_m * (2.0 * factor + slope);
        }
        spent
    }

    /// The cubics through flow and 1/√f at the ends of every interval, with the slopes there.
    fn starts(&self, most_m: f64) -> Vec<Cubic> {
        let mut below: Option<Vec<Knot>> = None;
        let mut starts = Vec::new();
        for end in 1..=INTERVALS {
            let above = self.knots(most_m, end);
            // At zero flow all slopes are 0.
            let first = || {
                above.iter().enumerate().map(|(i, knot)| Knot {
                    value: if i == 0 { 0.0 } else { knot.value },
                    slope: 0.0,
                })
            };
            let from = below.take().unwrap_or_else(|| first().collect());
            starts.extend(from.iter().zip(&above).map(|(a, b)| Cubic::through(a, b)));
            below = Some(above);
        }
        starts
    }

    /// Flow and each 1/√f at the end of an interval. The spare head is proportional to the square of the interval's
    /// number.
    fn knots(&self, most_m: f64, end: u32) -> Vec<Knot> {
        let share = f64::from(end) / f64::from(INTERVALS);
        let spare_m = most_m * share * share;
        let flow_m3_s = self.without_starts(spare_m);
        let log_slope = 2.0 * spare_m / f64::from(end) / self.spent(flow_m3_s, |_| MIDDLE_X).slope_m;
        let flow = Knot {
            value: flow_m3_s,
            slope: flow_m3_s * log_slope,
        };
        let of_pipes = self.pipes.iter().map(|pipe| {
            let Friction { factor, slope } = pipe.friction(flow_m3_s, MIDDLE_X);
            let x = 1.0 / factor.sqrt();
            Knot {
                value: x,
                slope: -0.5 * x * slope / factor * log_slope,
            }
        });
        std::iter::once(flow).chain(of_pipes).collect()
    }
}

impl Cubic {
    /// The cubic with this value and slope at both ends (Hermite).
    fn through(a: &Knot, b: &Knot) -> Self {
        let rise = b.value - a.value;
        Self([
            a.value,
            a.slope,
            3.0 * rise - 2.0 * a.slope - b.slope,
            a.slope + b.slope - 2.0 * rise,
        ])
    }

    fn at(&self, t: f64) -> f64 {
        let [c0, c1, c2, c3] = self.0;
        c0 + t * (c1 + t * (c2 + t * c3))
    }
}

/// Head used at a flow, and its derivative with respect to ln Q, both \[m\].
#[derive(Debug, Clone, Copy)]
struct Spent {
    head_m: f64,
    slope_m: f64,
}

impl Conduit {
    fn friction(&self, flow_m3_s: f64, near_x: f64) -> Friction {
        pipe::friction(self.reynolds_s_m3 * flow_m3_s, self.rough_term, near_x)
    }
}

/// Interval number and position within it, from 0 to 1; beyond the last interval, its end.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 0 and the number of intervals"
)]
fn place(along: f64) -> (usize, f64) {
    let along = along.min(f64::from(INTERVALS));
    let interval = (along as u32).min(INTERVALS - 1);
    (interval as usize, along - f64::from(interval))
}
