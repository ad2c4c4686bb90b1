//! Losses of a power converter (a drive, an inverter): a fixed, a linear and a quadratic part.
//!
//! It lives here because the inverter (`array`) and the drive (`lift`) both use it, and neither crate may import the
//! other.

use crate::fault::{Fault, Warning};
use crate::field::Unit;
use crate::fit::least_squares_non_negative;
use crate::misfit::{CurveForm, FOLLOW_POINTS, Judged, Misfit};
use crate::pchip::Pchip;
use crate::{fingerprint, root};

/// Losses as a fraction of rated output, as a function of x = output over rated output: p0 + p1·x + p2·x², or a monotone
/// curve through the datasheet's points.
#[derive(Debug, Clone, PartialEq)]
pub struct LossCurve {
    rated_w: f64,
    p: [f64; 3],
    through: Option<Pchip>,
    misfit: Misfit,
}

fingerprint!(LossCurve { rated_w, p, through } derived { misfit });

impl LossCurve {
    /// The losses at the datasheet's part-load efficiencies, in one of two forms.
    ///
    /// `points` are pairs (output over rated output, efficiency), both fractions.
    ///
    /// - *Fitted*: p0 + p1·x + p2·x² by least squares of the loss, each part at least 0. Two points fit the fixed and the
    ///   quadratic part. With one point the loss is linear, as fixed and quadratic parts cannot be separated.
    /// - *Through the points*: [`Pchip`] through the losses at all loads and through (0, p0). p0 is the fitted one, but no
    ///   more than the smallest loss given. Beyond the last point the loss goes on in a straight line with the slope
    ///   there, or stays the same where that slope is negative.
    ///
    /// # Errors
    /// One fault for each point outside 0 < x ≤ 1.2 or 0 < efficiency < 1; one fault when there are no points, or when
    /// the points cannot determine any loss. Fitted: a fault when the efficiency differs from a given one by more than
    /// 8 % of it. Through the points: a fault for a load given twice, or where a higher output would take less input.
    pub fn new(
        form: CurveForm,
        rated_w: f64,
        points: &[(f64, f64)],
        key: &str,
        quantity: &str,
    ) -> Result<Self, Vec<Fault>> {
        let faults = point_faults(points, key, quantity);
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut curve = Self {
            rated_w,
            p: fitted_parts(points),
            through: None,
            misfit: Misfit::default(),
        };
        if curve.p.iter().sum::<f64>() <= 0.0 {
            return Err(vec![given_twice(points, key, quantity)]);
        }
        if form == CurveForm::ThroughPoints {
            let through = losses_through(points, curve.p[0], key, quantity)?;
            let beyond = through.last().slope.max(0.0);
            curve.p = [through.first().y, 0.0, 0.0];
            curve.through = Some(through.with_slope_beyond(beyond));
            return Ok(curve);
        }
        curve.misfit = Misfit::of_given(points.iter().map(|&(x, eta)| (x, eta, curve.efficiency(x * rated_w))));
        curve.misfit.check(&judged(key, quantity)).map_err(|fault| vec![fault])?;
        Ok(curve)
    }

    /// Rated output \[W\].
    #[must_use]
    pub fn rated_w(&self) -> f64 {
        self.rated_w
    }

    /// Largest difference between the efficiencies of curve and datasheet; 0 through the points.
    #[must_use]
    pub fn misfit(&self) -> Misfit {
        self.misfit
    }

    /// A warning where the curve of the device of this name is more than 3 % from the datasheet.
    #[must_use]
    pub fn misfit_warning(&self, subject: &str, name: &str, quantity: &str) -> Option<Warning> {
        self.misfit.warning(subject, name, &judged("", quantity))
    }

    /// Loss \[W\] at an output \[W\].
    #[must_use]
    pub fn loss_w(&self, output_w: f64) -> f64 {
        let x = output_w / self.rated_w;
        match &self.through {
            None => self.rated_w * (self.p[0] + x * (self.p[1] + x * self.p[2])),
            Some(curve) => self.rated_w * curve.at(x),
        }
    }

    /// Input \[W\] for an output \[W\].
    #[must_use]
    pub fn input_w(&self, output_w: f64) -> f64 {
        output_w + self.loss_w(output_w)
    }

    /// Output \[W\] for an input \[W\]; 0 when the input does not cover the fixed part.
    ///
    /// Solves p2·x² + (1 + p1)·x + p0 − in = 0 in a form without cancellation when p2 is small. Through points, by a
    /// bracketed search.
    #[must_use]
    pub fn output_w(&self, input_w: f64) -> f64 {
        let [p0, p1, p2] = self.p;
        let c = input_w / self.rated_w - p0;
        if c <= 0.0 {
            return 0.0;
        }
        if let Some(curve) = &self.through {
            // Losses are at least 0, so the output is no more than the input.
            let most = input_w / self.rated_w;
            let excess = |x: f64| (x + curve.at(x)) / most - 1.0;
            return self.rated_w * root::bracketed(0.0, most, excess).unwrap_or(most);
        }
        let b = 1.0 + p1;
        self.rated_w * 2.0 * c / (b + (b * b + 4.0 * p2 * c).sqrt())
    }

    /// Efficiency at an output \[W\], a fraction.
    #[must_use]
    pub fn efficiency(&self, output_w: f64) -> f64 {
        if output_w <= 0.0 {
            return 0.0;
        }
        output_w / self.input_w(output_w)
    }
}

/// p0, p1 and p2 by least squares; all 0 where the points do not determine them.
fn fitted_parts(points: &[(f64, f64)]) -> [f64; 3] {
    let loss: Vec<f64> = points.iter().map(loss_at).collect();
    let p = match points {
        [(x, _)] => Some([0.0, loss[0] / x, 0.0]),
        [_, _] => {
            let rows: Vec<[f64; 2]> = points.iter().map(|&(x, _)| [1.0, x * x]).collect();
            least_squares_non_negative(&rows, &loss).map(|c| [c[0], 0.0, c[1]])
        }
        _ => {
            let rows: Vec<[f64; 3]> = points.iter().map(|&(x, _)| [1.0, x, x * x]).collect();
            least_squares_non_negative(&rows, &loss)
        }
    };
    p.unwrap_or([0.0; 3])
}

/// Loss over rated output at a point (load, efficiency).
fn loss_at(&(x, eta): &(f64, f64)) -> f64 {
    x * (1.0 / eta - 1.0)
}

/// The curve through the losses at the points (load, efficiency), as fractions of the rating, and through (0, `fixed`),
/// or the smallest loss where that is less.
///
/// # Errors
/// A fault for a load given twice, or where a higher output would take less input.
pub fn losses_through(points: &[(f64, f64)], fixed: f64, key: &str, quantity: &str) -> Result<Pchip, Vec<Fault>> {
    let mut losses: Vec<(f64, f64)> = points.iter().map(|point| (point.0, loss_at(point))).collect();
    losses.sort_by(|a, b| a.0.total_cmp(&b.0));
    let least = losses.iter().map(|point| point.1).fold(f64::INFINITY, f64::min);
    losses.insert(0, (0.0, fixed.min(least)));
    let curve = Pchip::through(&losses).ok_or_else(|| vec![given_twice(points, key, quantity)])?;
    if curve.least_slope() > -1.0 {
        return Ok(curve);
    }
    Err(vec![Fault::new(
        key,
        quantity,
        "an input that falls while the output rises",
        "efficiencies with which more output takes more input",
        "compare loads and efficiencies with the datasheet, point by point",
    )])
}

fn given_twice(points: &[(f64, f64)], key: &str, quantity: &str) -> Fault {
    Fault::new(
        key,
        quantity,
        format!("{} points", points.len()),
        "points at different loads",
        "give each load once",
    )
}

fn judged<'a>(key: &'a str, quantity: &'a str) -> Judged<'a> {
    Judged {
        key,
        quantity,
        unit: Unit::PERCENT,
        at: (Unit::PERCENT, "load"),
        of: "",
        otherwise: FOLLOW_POINTS,
    }
}

fn point_faults(points: &[(f64, f64)], key: &str, quantity: &str) -> Vec<Fault> {
    if points.is_empty() {
        return vec![Fault::new(
            key,
            quantity,
            "no points",
            "at least one pair of load and efficiency",
            "copy the part-load efficiencies from the datasheet",
        )];
    }
    let wrong = points.iter().filter(|&&(x, eta)| !(x > 0.0 && x <= 1.2 && eta > 0.0 && eta < 1.0));
    let fault = |&(x, eta): &(f64, f64)| {
        Fault::new(
            key,
            quantity,
            format!("{:.1}% at {:.1}% load", eta * 100.0, x * 100.0),
            "efficiency above 0 and below 100%, load above 0 and up to 120% of rated",
            "give efficiencies and loads in per cent, as on the datasheet",
        )
    };
    wrong.map(fault).collect()
}

#[cfg(test)]
mod tests;
