//! The I–V curve of a single-diode source at one instant.

use crate::parameters::ReferenceParameters;

#[cfg(test)]
mod tests;

/// Newton's method stops at steps below this share of `a`; the remaining error is of the order of its square.
const STEP: f64 = 1e-6;
/// Halley's method stops at steps below this share of `a`; the remaining error is of the order of its cube.
const HALLEY_STEP: f64 = 1e-3;
/// Maximum number of steps; bisection alone needs fewer to reach [`STEP`].
const STEPS: u32 = 60;

/// A point of an I–V curve.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point {
    /// Voltage \[V\].
    pub voltage_v: f64,
    /// Current \[A\].
    pub current_a: f64,
    /// Power \[W\].
    pub power_w: f64,
}

/// I–V curve with five parameters: I = I_L − I_0·(e^(u/a) − 1) − u/R_sh, with the junction voltage u = V + I·R_s.
///
/// For a given u, both I and V = u − I·R_s are explicit, so points are searched over u and no special functions are
/// needed. The conditions for open circuit, for a given voltage and for maximum power are smooth in u, and their
/// curvature does not change sign. Newton's steps within a bracket therefore always converge.
///
/// The curve is valid between short circuit and open circuit. Beyond open circuit the current is 0, as nothing drives a
/// current back into the array. At negative voltages it is the short-circuit current.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Curve {
    light_a: f64,
    saturation_a: f64,
    series_ohm: f64,
    shunt_s: f64,
    thermal_v: f64,
}

impl Curve {
    /// The curve without light: no voltage, no current.
    pub const DARK: Self = Self {
        light_a: 0.0,
        saturation_a: 1.0,
        series_ohm: 0.0,
        shunt_s: 0.0,
        thermal_v: 1.0,
    };

    /// `p` must have positive I_0 and a, and R_s and 1/R_sh of at least 0; every fitted module has.
    pub(crate) fn new(p: ReferenceParameters) -> Self {
        if p.light_a <= 0.0 {
            return Self::DARK;
        }
        Self {
            light_a: p.light_a,
            saturation_a: p.saturation_a,
            series_ohm: p.series_ohm,
            shunt_s: p.shunt_s,
            thermal_v: p.thermal_v,
        }
    }

    /// The curve of `series` sources in series, with the current multiplied by `parallel_times_derate`.
    ///
    /// Scaling voltage by s and current by p gives a curve of the same form: I_L and I_0 ×p, a ×s, R_s ×s/p, 1/R_sh
    /// ×p/s. The result has no voltage and no current when either factor is not positive.
    #[must_use]
    pub fn scaled(&self, series: f64, parallel_times_derate: f64) -> Self {
        if !(series > 0.0 && parallel_times_derate > 0.0) || self.is_dark() {
            return Self::DARK;
        }
        Self {
            light_a: self.light_a * parallel_times_derate,
            saturation_a: self.saturation_a * parallel_times_derate,
            series_ohm: self.series_ohm * series / parallel_times_derate,
            shunt_s: self.shunt_s * parallel_times_derate / series,
            thermal_v: self.thermal_v * series,
        }
    }

    /// Whether the source gets no light.
    #[must_use]
    pub fn is_dark(&self) -> bool {
        self.light_a <= 0.0
    }

    /// The maximum-power point.
    ///
    /// The root of dP/du = I·(1 + g·R_s) − V·g, with the junction's conductance g = −dI/du. It lies at u > 2·R_s·I,
    /// where the condition falls and is concave. Halley's method is used; its error is of the order of the step's cube.
    #[must_use]
    pub fn max_power(&self) -> Point {
        if self.is_dark() {
            return Point::default();
        }
        let (a, rs) = (self.thermal_v, self.series_ohm);
        let bound = self.junction_bound_v();
        let (mut low, mut high) = (0.0, bound);
        let mut u = self.max_power_guess_v(bound);
        for _ in 0..STEPS {
            let (i, diode_s) = self.junction(u);
            let g = diode_s + self.shunt_s;
            let w = u - 2.0 * rs * i;
            let f = i - g * w;
            if f > 0.0 {
                low = u;
            } else {
                high = u;
            }
            let bend = diode_s / a;
            let slope = 2.0 * g * (1.0 + rs * g) + bend * w;
            let bending = bend * (3.0 * (1.0 + 2.0 * rs * g) + w / a);
            let step = 2.0 * f * slope / (2.0 * slope * slope + f * bending);
            let next = u + step;
            if !(low..=high).contains(&next) {
                u = 0.5 * (low + high);
                continue;
            }
            if step.abs() <= HALLEY_STEP * a {
                return self.point_near(u, diode_s, step);
            }
            u = next;
        }
        self.point_at_junction(u)
    }

    /// Voltage at which no current flows \[V\].
    ///
    /// Newton's method from the right of the root of a falling, concave function: every step ends right of the root and
    /// closer to it.
    #[must_use]
    pub fn open_circuit_v(&self) -> f64 {
        if self.is_dark() {
            return 0.0;
        }
        let mut u = self.junction_bound_v();
        for _ in 0..STEPS {
            let (i, diode_s) = self.junction(u);
            let step = i / (diode_s + self.shunt_s);
            u += step;
            if step.abs() <= STEP * self.thermal_v {
                break;
            }
        }
        u
    }

    /// Current at zero voltage \[A\].
    #[must_use]
    pub fn short_circuit_a(&self) -> f64 {
        self.current_a(0.0)
    }

    /// Current \[A\] at a voltage; 0 beyond open circuit, the short-circuit current below 0 V.
    #[must_use]
    pub fn current_a(&self, voltage_v: f64) -> f64 {
        if self.is_dark() || voltage_v >= self.junction_bound_v() {
            return 0.0;
        }
        self.junction(self.junction_v(voltage_v)).0.max(0.0)
    }

    /// Junction voltage u \[V\] for a terminal voltage \[V\]; negative voltages count as 0.
    ///
    /// The root of u − R_s·I(u) − V, which rises and is convex; u lies between V and V + R_s·I_L.
    #[must_use]
    pub fn junction_v(&self, voltage_v: f64) -> f64 {
        let v = voltage_v.max(0.0);
        let mut u = (v + self.series_ohm * self.light_a).min(self.junction_bound_v()).max(v);
        for _ in 0..STEPS {
            let (i, diode_s) = self.junction(u);
            let step = (u - self.series_ohm * i - v) / (1.0 + self.series_ohm * (diode_s + self.shunt_s));
            u -= step;
            if step.abs() <= STEP * self.thermal_v {
                break;
            }
        }
        u
    }

    /// Power \[W\] at a voltage; 0 at and below 0 V and beyond open circuit.
    #[must_use]
    pub fn power_w(&self, voltage_v: f64) -> f64 {
        let v = voltage_v.max(0.0);
        v * self.current_a(v)
    }

    /// The operating point of a device that tracks maximum power between two voltages. It is the maximum-power point if
    /// its voltage is inside, else the point at the nearer limit. There is no power when the open-circuit voltage is
    /// below the window.
    #[must_use]
    pub fn point_at_window(&self, min_v: f64, max_v: f64) -> Point {
        let best = self.max_power();
        let voltage_v = best.voltage_v.min(max_v).max(min_v);
        if (min_v..=max_v).contains(&best.voltage_v) {
            return best;
        }
        let current_a = self.current_a(voltage_v);
        Point {
            voltage_v,
            current_a,
            power_w: voltage_v.max(0.0) * current_a,
        }
    }

    /// Power \[W\] of [`Curve::point_at_window`].
    #[must_use]
    pub fn power_at_window(&self, min_v: f64, max_v: f64) -> f64 {
        self.point_at_window(min_v, max_v).power_w
    }

    /// Voltage of the junction \[V\] at a point of the curve.
    #[must_use]
    pub fn junction_v_at(&self, point: &Point) -> f64 {
        point.voltage_v + self.series_ohm * point.current_a
    }

    /// Current, and the diode's conductance, at a junction voltage u.
    fn junction(&self, u: f64) -> (f64, f64) {
        let above = (u / self.thermal_v).exp() - 1.0;
        let current_a = self.light_a - self.saturation_a * above - self.shunt_s * u;
        (current_a, self.saturation_a * (above + 1.0) / self.thermal_v)
    }

    /// The point at which the junction voltage is u \[V\]; explicit, whereas a terminal voltage needs a search.
    #[must_use]
    pub fn point_at_junction(&self, u: f64) -> Point {
        let (current_a, _) = self.junction(u);
        let voltage_v = u - self.series_ohm * current_a;
        Point {
            voltage_v,
            current_a,
            power_w: voltage_v * current_a,
        }
    }

    /// The point at u + `step`, for a step below a thousandth of a: e^(step/a) by its series, to 10⁻¹⁴.
    fn point_near(&self, u: f64, diode_s: f64, step: f64) -> Point {
        let x = step / self.thermal_v;
        let grown = 1.0 + x * (1.0 + x / 2.0 * (1.0 + x / 3.0 * (1.0 + x / 4.0)));
        let (u, diode_a) = (u + step, diode_s * self.thermal_v * grown);
        let current_a = self.light_a - (diode_a - self.saturation_a) - self.shunt_s * u;
        let voltage_v = u - self.series_ohm * current_a;
        Point {
            voltage_v,
            current_a,
            power_w: voltage_v * current_a,
        }
    }

    /// Open-circuit voltage without shunt current, an upper bound of the true one.
    fn junction_bound_v(&self) -> f64 {
        self.thermal_v * (1.0 + self.light_a / self.saturation_a).ln()
    }

    /// Start of the search for maximum power. Without a shunt, e^z·(1 + z − 2·R_s·I/a) = e^z_oc, with z = u/a. Inside
    /// the logarithm, z is taken as 0.88·z_oc and I as 0.93·I_L, usual for silicon; the result does not depend on it.
    fn max_power_guess_v(&self, bound_v: f64) -> f64 {
        let open = bound_v / self.thermal_v;
        let drop = 2.0 * self.series_ohm * self.light_a / self.thermal_v;
        let guess = open - (1.0 + (0.88 * open - 0.93 * drop).max(0.0)).ln();
        self.thermal_v * guess.max(0.5 * open)
    }
}
