//! Bracketed root finding, for whatever two curves must meet.

use std::cell::Cell;

use roots::{SimpleConvergency, find_root_brent};

/// The x in \[`low`, `high`\] at which `f` is nil, by Brent's method; `None` when `f` has the same sign at both ends.
///
/// `f` is to be of the order of 1, so that its rounding noise is that of 1. Found to 1e-14 of the interval. The point
/// with the least |f| of all that were looked at is returned: the library's own answer, after its bracket has shrunk,
/// can be an older and worse point.
#[must_use]
pub fn bracketed(low: f64, high: f64, f: impl Fn(f64) -> f64) -> Option<f64> {
    bracketed_within(1e-14, low, high, f)
}

/// The same, found to a share of the interval.
#[must_use]
pub fn bracketed_within(share: f64, low: f64, high: f64, f: impl Fn(f64) -> f64) -> Option<f64> {
    let best = Cell::new((low, f64::INFINITY));
    let span = high - low;
    let looked_at = |t: f64| {
        let x = low + span * t;
        let y = f(x);
        if y.abs() < best.get().1 {
            best.set((x, y.abs()));
        }
        y
    };
    let mut until = SimpleConvergency {
        eps: share,
        max_iter: 120,
    };
    match find_root_brent(0.0, 1.0, looked_at, &mut until) {
        Err(roots::SearchError::NoBracketing) => None,
        Ok(_) | Err(_) => Some(best.get().0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flat_root_and_a_steep_root_are_both_found() {
        // x³ = 0.001 has the root 0.1; 1/x = 4 the root 0.25.
        assert!((bracketed(0.0, 1.0, |x| x * x * x - 0.001).unwrap() - 0.1).abs() < 1e-12);
        assert!((bracketed(0.1, 5.0, |x| (1.0 / x - 4.0) / 6.0).unwrap() - 0.25).abs() < 1e-12);
    }

    #[test]
    fn no_change_of_sign_is_no_root() {
        assert!(bracketed(0.0, 1.0, |x| x + 1.0).is_none());
    }
}
