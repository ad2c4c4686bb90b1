//! Losses of a power converter (a drive, an inverter): a fixed, a linear and a quadratic part.
//!
//! It lives here because the inverter (`array`) and the drive (`lift`) both use it, and neither crate may import the
//! other.

use crate::fault::Fault;
use crate::fingerprint;
use crate::fit::least_squares_non_negative;

/// Losses as a fraction of rated output: p0 + p1·x + p2·x², x = output over rated output.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LossCurve {
    rated_w: f64,
    p: [f64; 3],
    fit_error: f64,
}

fingerprint!(LossCurve { rated_w, p, fit_error });

impl LossCurve {
    /// Fits the three parts to part-load efficiencies: least squares of the loss, each part at least 0.
    ///
    /// `points` are pairs (output over rated output, efficiency), both fractions. Fewer than three points fit only as
    /// many parts:
    /// - two points: the fixed and the quadratic part;
    /// - one point: the loss is linear, as fixed and quadratic parts cannot be separated.
    ///
    /// # Errors
    /// One fault for each point outside 0 < x ≤ 1.2 or 0 < efficiency < 1; one fault when there are no points, or when
    /// the points cannot determine any loss.
    pub fn fit(rated_w: f64, points: &[(f64, f64)], key: &str, quantity: &str) -> Result<Self, Vec<Fault>> {
        let faults = point_faults(points, key, quantity);
        if !faults.is_empty() {
            return Err(faults);
        }
        let loss: Vec<f64> = points.iter().map(|&(x, eta)| x * (1.0 / eta - 1.0)).collect();
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
        let p = p.unwrap_or([0.0; 3]);
        let mut curve = Self {
            rated_w,
            p,
            fit_error: 0.0,
        };
        if p.iter().sum::<f64>() <= 0.0 {
            return Err(vec![Fault::new(
                key,
                quantity,
                format!("{} points", points.len()),
                "points at different loads",
                "give each load once",
            )]);
        }
        curve.fit_error = points
            .iter()
            .map(|&(x, eta)| (curve.efficiency(x * rated_w) - eta).abs())
            .fold(0.0, f64::max);
        Ok(curve)
    }

    /// Rated output \[W\].
    #[must_use]
    pub fn rated_w(&self) -> f64 {
        self.rated_w
    }

    /// The coefficients p0, p1, p2.
    #[must_use]
    pub fn parts(&self) -> [f64; 3] {
        self.p
    }

    /// Maximum difference between fitted and given efficiency, as a fraction.
    #[must_use]
    pub fn fit_error(&self) -> f64 {
        self.fit_error
    }

    /// Loss \[W\] at an output \[W\].
    #[must_use]
    pub fn loss_w(&self, output_w: f64) -> f64 {
        let x = output_w / self.rated_w;
        self.rated_w * (self.p[0] + x * (self.p[1] + x * self.p[2]))
    }

    /// Input \[W\] for an output \[W\].
    #[must_use]
    pub fn input_w(&self, output_w: f64) -> f64 {
        output_w + self.loss_w(output_w)
    }

    /// Output \[W\] for an input \[W\]; 0 when the input does not cover the fixed part.
    ///
    /// Solves p2·x² + (1 + p1)·x + p0 − in = 0 in a form without cancellation when p2 is small.
    #[must_use]
    pub fn output_w(&self, input_w: f64) -> f64 {
        let [p0, p1, p2] = self.p;
        let c = input_w / self.rated_w - p0;
        if c <= 0.0 {
            return 0.0;
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
mod tests {
    use super::*;

    #[test]
    fn input_and_output_are_inverse() {
        let c = LossCurve::fit(10e3, &[(0.1, 0.93), (0.5, 0.97), (1.0, 0.965)], "k", "q").unwrap();
        for output_w in [1.0, 500.0, 5e3, 10e3, 11e3] {
            let back = c.output_w(c.input_w(output_w));
            assert!((back - output_w).abs() < 1e-9 * output_w, "{output_w} {back}");
        }
        assert!(c.output_w(0.0) == 0.0);
    }

    #[test]
    fn three_points_are_fitted_exactly_when_no_part_is_negative() {
        let c = LossCurve::fit(10e3, &[(0.1, 0.93), (0.5, 0.97), (1.0, 0.965)], "k", "q").unwrap();
        assert!(c.fit_error() < 1e-12, "{}", c.fit_error());
    }

    #[test]
    fn an_efficiency_in_per_cent_instead_of_a_fraction_is_a_fault() {
        assert_eq!(LossCurve::fit(1e3, &[(1.0, 97.0)], "k", "q").unwrap_err().len(), 1);
    }
}
