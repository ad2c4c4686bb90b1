//! A monotone curve through points: piecewise cubic, without overshoot.

use crate::fingerprint;

#[cfg(test)]
mod tests;

/// A piecewise cubic Hermite curve through points, PCHIP (Fritsch & Butland 1984; the same slopes as
/// `scipy.interpolate.PchipInterpolator`).
///
/// Between two points it stays between their values. Its slope is continuous. Before the first and beyond the last
/// point it is a straight line.
///
/// ```
/// use daylift_units::Pchip;
/// let curve = Pchip::through(&[(0.0, 0.0), (1.0, 1.0), (2.0, 1.0)]).unwrap();
/// assert!((curve.at(1.0) - 1.0).abs() < 1e-15);
/// assert!((curve.at(1.5) - 1.0).abs() < 1e-15);
/// assert!(Pchip::through(&[(0.0, 0.0), (0.0, 1.0)]).is_none());
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Pchip {
    knots: Vec<Knot>,
    slope_beyond: f64,
}

fingerprint!(Pchip { knots, slope_beyond });

/// A point of the curve, and the slope there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Knot {
    /// Where.
    pub x: f64,
    /// The value there.
    pub y: f64,
    /// The slope there.
    pub slope: f64,
}

fingerprint!(Knot { x, y, slope });

impl Pchip {
    /// The curve through points in order of rising x. `None` for fewer than two points, for x that does not rise, and
    /// for values that are not finite.
    #[must_use]
    pub fn through(points: &[(f64, f64)]) -> Option<Self> {
        let finite = points.iter().all(|(x, y)| x.is_finite() && y.is_finite());
        let rising = points.windows(2).all(|pair| pair[0].0 < pair[1].0);
        if points.len() < 2 || !finite || !rising {
            return None;
        }
        let slopes = slopes(points);
        let knots: Vec<Knot> = points.iter().zip(&slopes).map(|(&(x, y), &slope)| Knot { x, y, slope }).collect();
        let slope_beyond = knots.last()?.slope;
        Some(Self { knots, slope_beyond })
    }

    /// The same curve with another slope at its first point.
    #[must_use]
    pub fn with_first_slope(mut self, slope: f64) -> Self {
        if let Some(first) = self.knots.first_mut() {
            first.slope = slope;
        }
        self
    }

    /// The same curve with another slope of the line beyond its last point. (Without this it is the slope at that
    /// point.)
    #[must_use]
    pub fn with_slope_beyond(mut self, slope: f64) -> Self {
        self.slope_beyond = slope;
        self
    }

    /// The points, with the slopes there; two or more.
    #[must_use]
    pub fn knots(&self) -> &[Knot] {
        &self.knots
    }

    /// The first point.
    #[must_use]
    pub fn first(&self) -> Knot {
        self.knots[0]
    }

    /// The last point.
    #[must_use]
    pub fn last(&self) -> Knot {
        self.knots[self.knots.len() - 1]
    }

    /// Slope of the line beyond the last point.
    #[must_use]
    pub fn slope_beyond(&self) -> f64 {
        self.slope_beyond
    }

    /// The value at x.
    #[must_use]
    pub fn at(&self, x: f64) -> f64 {
        let (first, last) = (self.first(), self.last());
        if x >= last.x {
            return last.y + self.slope_beyond * (x - last.x);
        }
        if x <= first.x {
            return first.y + first.slope * (x - first.x);
        }
        let above = self.knots.partition_point(|knot| knot.x <= x);
        Cubic::between(self.knots[above - 1], self.knots[above]).at(x)
    }

    /// The least slope anywhere, the lines outside the points included.
    #[must_use]
    pub fn least_slope(&self) -> f64 {
        let inside = self.knots.windows(2).map(|pair| Cubic::between(pair[0], pair[1]).least_slope());
        inside.fold(self.first().slope.min(self.slope_beyond), f64::min)
    }
}

/// y0 + s·(slope0 + s·(c2 + s·c3)), with s the distance from x0.
struct Cubic {
    from: Knot,
    to: Knot,
    c2: f64,
    c3: f64,
}

impl Cubic {
    fn between(from: Knot, to: Knot) -> Self {
        let h = to.x - from.x;
        let secant = (to.y - from.y) / h;
        Self {
            from,
            to,
            c2: (3.0 * secant - 2.0 * from.slope - to.slope) / h,
            c3: (from.slope + to.slope - 2.0 * secant) / (h * h),
        }
    }

    fn at(&self, x: f64) -> f64 {
        let s = x - self.from.x;
        self.from.y + s * (self.from.slope + s * (self.c2 + s * self.c3))
    }

    fn least_slope(&self) -> f64 {
        let ends = self.from.slope.min(self.to.slope);
        // The slope is a parabola; it has a minimum where c3 is positive.
        let s = -self.c2 / (3.0 * self.c3);
        if self.c3 > 0.0 && s > 0.0 && s < self.to.x - self.from.x {
            ends.min(self.from.slope + s * (2.0 * self.c2 + s * 3.0 * self.c3))
        } else {
            ends
        }
    }
}

/// The slopes at two or more points.
fn slopes(points: &[(f64, f64)]) -> Vec<f64> {
    let steps: Vec<(f64, f64)> = points
        .windows(2)
        .map(|pair| {
            let h = pair[1].0 - pair[0].0;
            (h, (pair[1].1 - pair[0].1) / h)
        })
        .collect();
    let n = steps.len();
    if n == 1 {
        return vec![steps[0].1; 2];
    }
    let mut out = vec![end_slope(steps[0], steps[1])];
    out.extend(steps.windows(2).map(|pair| middle_slope(pair[0], pair[1])));
    out.push(end_slope(steps[n - 1], steps[n - 2]));
    out
}

/// Weighted harmonic mean of the slopes of the lines on both sides; 0 where they have different signs.
fn middle_slope((h0, m0): (f64, f64), (h1, m1): (f64, f64)) -> f64 {
    if m0 * m1 <= 0.0 {
        return 0.0;
    }
    let (w0, w1) = (2.0 * h1 + h0, h1 + 2.0 * h0);
    (w0 + w1) / (w0 / m0 + w1 / m1)
}

/// One-sided parabola through three points, limited so that the curve stays monotone.
fn end_slope((h0, m0): (f64, f64), (h1, m1): (f64, f64)) -> f64 {
    let slope = ((2.0 * h0 + h1) * m0 - h0 * m1) / (h0 + h1);
    if slope * m0 <= 0.0 {
        0.0
    } else if m0 * m1 <= 0.0 && slope.abs() > 3.0 * m0.abs() {
        3.0 * m0
    } else {
        slope
    }
}
