//! Bracketed root finding.

#[cfg(test)]
mod tests;

/// The share of the interval to which [`bracketed`] finds a root.
const FOUND: f64 = 1e-14;
/// The smallest share that can be reached: a few spacings of f64 near 1.
const FINEST: f64 = 4.0 * f64::EPSILON;
/// Steps after which the method only bisects. Brent's method needs about ten; a function built to defeat it needs
/// thousands.
const PATIENCE: u32 = 60;

/// The x in \[`low`, `high`\] at which `f` is zero; `None` when `f` has the same sign at both ends. The search ends
/// within 1e-14 of the interval, or at an |f| below 1e-14, so `f` should be of the order of 1.
///
/// ```
/// use daylift_units::root::bracketed;
/// assert!((bracketed(0.0, 2.0, |x| x * x - 2.0).unwrap() - 2.0_f64.sqrt()).abs() < 1e-13);
/// assert!(bracketed(0.0, 1.0, |x| x + 1.0).is_none());
/// ```
#[must_use]
pub fn bracketed(low: f64, high: f64, f: impl Fn(f64) -> f64) -> Option<f64> {
    bracketed_within(FOUND, low, high, f)
}

/// As [`bracketed`], but found to `share` of the interval, or to an |f| below `share`.
///
/// Brent's method (Brent 1973, *Algorithms for Minimization without Derivatives*, ch. 4): inverse quadratic
/// interpolation or the secant method, and bisection where they gain too little.
///
/// Guarantees for any `f` whose values are numbers:
/// - `f` always has different signs at the ends of the bracket, or is zero at one of them. The bracket never leaves the
///   interval and only shrinks.
/// - The x returned is the end with the smaller |f|. A change of sign lies within `share` of it, or |f| there is below
///   `share`.
/// - After 60 steps every step halves the bracket, so the search ends after at most 60 + log₂(1/share) steps: 107 for
///   1e-14. `f` is evaluated once per step and once at each end.
///
/// Degenerate brackets:
/// - An end at which `f` is zero is returned; when both are, one of them.
/// - Ends in the wrong order are accepted.
/// - Equal ends are the root if `f` is zero there, else `None`.
/// - An end that is not finite, or NaN as the value of `f` at an end, gives `None`.
/// - NaN inside the bracket ends the search with the better end so far.
#[must_use]
pub fn bracketed_within(share: f64, low: f64, high: f64, f: impl Fn(f64) -> f64) -> Option<f64> {
    let span = high - low;
    if !span.is_finite() {
        return None;
    }
    let at = |t: f64| Point {
        t,
        y: f(low + span * t),
    };
    let found = Bracket::new(at(0.0), at(1.0))?.narrowed(share.max(FINEST), at);
    Some(low + span * found)
}

/// A place in the interval, from 0 to 1, and the value of `f` there.
#[derive(Debug, Clone, Copy)]
struct Point {
    t: f64,
    y: f64,
}

impl Point {
    fn has_other_sign_than(self, other: Self) -> bool {
        (self.y < 0.0 && other.y > 0.0) || (self.y > 0.0 && other.y < 0.0)
    }
}

/// Two points with different signs; `better` has the smaller |f|.
#[derive(Debug, Clone, Copy)]
struct Bracket {
    worse: Point,
    better: Point,
}

impl Bracket {
    fn new(low: Point, high: Point) -> Option<Self> {
        let nil = low.y == 0.0 || high.y == 0.0;
        let numbers = !low.y.is_nan() && !high.y.is_nan();
        (numbers && (nil || low.has_other_sign_than(high))).then(|| Self::of(low, high))
    }

    fn of(one: Point, other: Point) -> Self {
        let (worse, better) = if one.y.abs() > other.y.abs() {
            (one, other)
        } else {
            (other, one)
        };
        Self { worse, better }
    }

    fn narrowed(mut self, share: f64, at: impl Fn(f64) -> Point) -> f64 {
        let near = |a: f64, b: f64| (a - b).abs() < share;
        // The previous better end, and the one before it.
        let (mut last, mut before_last) = (self.worse, self.worse.t);
        let mut bisected = true;
        for step in 0.. {
            let Self { worse, better } = self;
            if better.y.abs() < share || near(worse.t, better.t) {
                break;
            }
            let guess = self.interpolated(last);
            // An interpolated point must be between the better end and three quarters of the way to the other end. It
            // must also move less than half as far as the step before the last. NaN fails both tests.
            let inside = (guess - better.t) * (guess - (3.0 * worse.t + better.t) / 4.0) <= 0.0;
            let (from, to) = if bisected {
                (better.t, last.t)
            } else {
                (last.t, before_last)
            };
            let brings = (guess - better.t).abs() < (from - to).abs() / 2.0 && !near(from, to);
            bisected = !(inside && brings) || step >= PATIENCE;
            let next = at(if bisected { (worse.t + better.t) / 2.0 } else { guess });
            if next.y.is_nan() {
                break;
            }
            (before_last, last) = (last.t, better);
            self = if worse.has_other_sign_than(next) {
                Self::of(worse, next)
            } else {
                Self::of(next, better)
            };
        }
        self.better.t
    }

    /// The zero of the parabola through three points, or of the secant through two.
    #[expect(clippy::float_cmp, reason = "nothing lies between values that are the same")]
    fn interpolated(&self, last: Point) -> f64 {
        let (Point { t: a, y: ya }, Point { t: b, y: yb }, Point { t: c, y: yc }) = (self.worse, self.better, last);
        if ya != yc && yb != yc {
            a * yb * yc / ((ya - yb) * (ya - yc))
                + b * ya * yc / ((yb - ya) * (yb - yc))
                + c * ya * yb / ((yc - ya) * (yc - yb))
        } else {
            b - yb * (b - a) / (yb - ya)
        }
    }
}
