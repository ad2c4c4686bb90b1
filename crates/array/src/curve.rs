//! The I–V curve of a single-diode source at one instant.

use crate::parameters::ReferenceParameters;

/// Where Newton's steps may stop, as a share of a: the error left is of the order of its square.
const STEP: f64 = 1e-6;
/// Where Halley's steps may stop, as a share of a: the error left is of the order of its cube.
const HALLEY_STEP: f64 = 1e-3;
/// Steps allowed; bisection alone needs fewer to reach [`STEP`].
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

/// I–V curve with five parameters: I = I_L − I_0·(e^(u/a) − 1) − u/R_sh, with the junction's voltage u = V + I·R_s.
///
/// Given u, both I and V = u − I·R_s are explicit, so points are searched over u: no special functions. In u, the
/// conditions for open circuit, for a given voltage and for greatest power are smooth and bend one way only, so that
/// Newton's steps, held within a bracket, always arrive.
///
/// It holds between short circuit and open circuit. Beyond open circuit the current is 0 (nothing drives a current back
/// into the array); at voltages below 0 it is the short-circuit current.
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

    /// `p` has positive I_0 and a, and R_s and 1/R_sh that are not negative: a fitted module gives no others.
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

    /// The curve of `series` such sources in series, with the current multiplied by `parallel_times_derate`.
    ///
    /// Voltage ×s and current ×p is again a curve of the same form: I_L and I_0 ×p, a ×s, R_s ×s/p, 1/R_sh ×p/s.
    /// Dark when either factor is not above 0.
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

    /// Whether there is no light.
    #[must_use]
    pub fn is_dark(&self) -> bool {
        self.light_a <= 0.0
    }

    /// The point of greatest power.
    ///
    /// The root of dP/du = I·(1 + g·R_s) − V·g, g the junction's conductance −dI/du. It lies where u > 2·R_s·I, and
    /// there the condition falls and bends downward. Halley's steps, whose error is of the order of the step's cube.
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
                return self.point_beside(u, diode_s, step);
            }
            u = next;
        }
        self.point_at_junction(u)
    }

    /// Voltage at which no current flows \[V\].
    ///
    /// Newton from the right of the root of a function that falls and bends downward: every step lands right of the
    /// root and nearer to it.
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

    /// Current at no voltage \[A\].
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

    /// Voltage of the junction, u, at a voltage of the terminals \[V\], which is taken as at least 0.
    ///
    /// The root of u − R_s·I(u) − V, which rises and bends upward; u lies between V and V + R_s·I_L.
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

    /// The point at which a device works whose input tracks greatest power between two voltages: the point of greatest
    /// power if its voltage is inside, else the point at the nearer edge (no power when the open-circuit voltage is
    /// below the window).
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

    /// The point at which the junction's voltage is u \[V\]: explicit, where a voltage of the terminals wants a search.
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

    /// The point a step beside u, which is below a thousandth of a: e^(step/a) by its series, to 10⁻¹⁴.
    fn point_beside(&self, u: f64, diode_s: f64, step: f64) -> Point {
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

    /// Open-circuit voltage if nothing went through the shunt: not below the true one.
    fn junction_bound_v(&self) -> f64 {
        self.thermal_v * (1.0 + self.light_a / self.saturation_a).ln()
    }

    /// Start of the search for greatest power: without shunt, e^z·(1 + z − 2·R_s·I/a) = e^z_oc with z = u/a. Inside the
    /// logarithm z is taken as 0.88·z_oc and I as 0.93·I_L, usual of silicon; the search does not depend on it.
    fn max_power_guess_v(&self, bound_v: f64) -> f64 {
        let open = bound_v / self.thermal_v;
        let drop = 2.0 * self.series_ohm * self.light_a / self.thermal_v;
        let guess = open - (1.0 + (0.88 * open - 0.93 * drop).max(0.0)).ln();
        self.thermal_v * guess.max(0.5 * open)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use proptest::prelude::*;

    /// Greatest power by golden section over the voltage, as an independent search.
    fn golden_section_w(curve: &Curve) -> f64 {
        let shrink = 0.5 * (5.0_f64.sqrt() - 1.0);
        let (mut low, mut high) = (0.0, curve.open_circuit_v());
        for _ in 0..100 {
            let (left, right) = (high - shrink * (high - low), low + shrink * (high - low));
            if curve.power_w(left) < curve.power_w(right) {
                low = left;
            } else {
                high = right;
            }
        }
        curve.power_w(0.5 * (low + high))
    }

    /// The implicit equation of the five parameters, which the code never solves in this form.
    fn residual_a(curve: &Curve, voltage_v: f64, current_a: f64) -> f64 {
        let u = voltage_v + current_a * curve.series_ohm;
        curve.light_a - curve.saturation_a * ((u / curve.thermal_v).exp() - 1.0) - u * curve.shunt_s - current_a
    }

    fn any_curve() -> impl Strategy<Value = Curve> {
        (0.1..1500.0_f64, -40.0..100.0_f64, 1_u32..25, 1_u32..200, 0.7..1.0_f64).prop_map(
            |(s, t, series, parallel, k)| {
                sample::module().curve(s, t).scaled(f64::from(series), f64::from(parallel) * k)
            },
        )
    }

    proptest! {
        #[test]
        fn greatest_power_is_what_another_search_finds(curve in any_curve()) {
            let (point, other_w) = (curve.max_power(), golden_section_w(&curve));
            prop_assert!((point.power_w - other_w).abs() <= 1e-10 * other_w, "{point:?} {other_w}");
        }

        #[test]
        fn the_point_of_greatest_power_lies_on_the_curve_and_is_level(curve in any_curve()) {
            let p = curve.max_power();
            prop_assert!((curve.current_a(p.voltage_v) - p.current_a).abs() <= 1e-10 * p.current_a);
            // A step of 1e-4 either way: the slope of power vanishes beside the curvature.
            let (less, more) = (curve.power_w(p.voltage_v * (1.0 - 1e-4)), curve.power_w(p.voltage_v * (1.0 + 1e-4)));
            prop_assert!(less < p.power_w && more < p.power_w);
            prop_assert!((less - more).abs() <= 1e-2 * (2.0 * p.power_w - less - more));
        }

        #[test]
        fn current_satisfies_the_implicit_equation(curve in any_curve(), share in 0.0..1.0_f64) {
            let v = share * curve.open_circuit_v();
            let i = curve.current_a(v);
            prop_assert!(residual_a(&curve, v, i).abs() <= 1e-10 * curve.light_a);
        }

        #[test]
        fn current_falls_with_voltage_and_ends_at_open_circuit(curve in any_curve(), a in 0.0..1.2_f64, b in 0.0..1.2_f64) {
            let voc = curve.open_circuit_v();
            let (low, high) = (a.min(b) * voc, a.max(b) * voc);
            prop_assert!(curve.current_a(low) >= curve.current_a(high) - 1e-12 * curve.light_a);
            prop_assert!(residual_a(&curve, voc, 0.0).abs() <= 1e-10 * curve.light_a);
            prop_assert!(curve.current_a(1.001 * voc) == 0.0);
        }

        #[test]
        fn more_sun_is_more_power_and_more_heat_is_less_voltage(
            s in 0.1..1400.0_f64, t in -40.0..90.0_f64, more in 1.0..100.0_f64, hotter in 0.1..10.0_f64,
        ) {
            let module = sample::module();
            let here = module.curve(s, t);
            prop_assert!(module.curve(s + more, t).max_power().power_w > here.max_power().power_w);
            prop_assert!(module.curve(s, t + hotter).open_circuit_v() < here.open_circuit_v());
        }

        #[test]
        fn scaling_multiplies_voltage_and_current(s in 1.0..1200.0_f64, t in -20.0..80.0_f64, series in 1_u32..30, p in 0.1..50.0_f64) {
            let one = sample::module().curve(s, t);
            let n = f64::from(series);
            let (single, many) = (one.max_power(), one.scaled(n, p).max_power());
            prop_assert!((many.power_w / (n * p * single.power_w) - 1.0).abs() < 1e-10);
            prop_assert!((many.voltage_v / (n * single.voltage_v) - 1.0).abs() < 1e-9);
        }
    }

    /// Worked by hand, no published source: 19 × 5 modules, a bus that needs 11.314 V per hertz, a pump that takes
    /// 13.7·(f/50)³ kW. The greatest frequency is reached at 11.314·f on the falling side of the curve, not at V_mp. At
    /// 65 °C there is enough for the full 50 Hz (565.7 V needed), and the bus rises to 570.7 V.
    #[test]
    fn beyond_the_voltage_of_greatest_power_the_array_still_carries_the_pump() {
        let array = |w_m2: f64, cell_c: f64| sample::module().curve(w_m2, cell_c).scaled(19.0, 5.0);
        let hot = array(1000.0, 65.0);
        assert!(
            (hot.max_power().voltage_v - 482.5).abs() < 0.05,
            "{:?}",
            hot.max_power()
        );
        assert!(
            (hot.power_w(570.7) / 13.7e3 - 1.0).abs() < 1e-3,
            "{}",
            hot.power_w(570.7)
        );
        let spare_w = |curve: &Curve, hz: f64| curve.power_w(11.314 * hz) - 13.7e3 * (hz / 50.0_f64).powi(3);
        assert!(spare_w(&hot, 50.0) > 0.0);
        for (w_m2, cell_c, greatest_hz) in [(1000.0, 70.0, 49.35), (600.0, 50.0, 49.35)] {
            let curve = array(w_m2, cell_c);
            let spare_w = |hz| spare_w(&curve, hz);
            assert!(
                spare_w(greatest_hz - 0.02) > 0.0 && spare_w(greatest_hz + 0.02) < 0.0,
                "{w_m2} {cell_c}"
            );
        }
    }

    /// Worked by hand, no published source: the same at 400 W/m² and 45 °C is limited by power, at 44.08 Hz.
    #[test]
    fn in_weak_sun_power_limits_before_voltage() {
        let curve = sample::module().curve(400.0, 45.0).scaled(19.0, 5.0);
        let hz = 50.0 * (curve.max_power().power_w / 13.7e3).cbrt();
        assert!((hz - 44.08).abs() < 0.1, "{hz}");
        assert!(curve.max_power().voltage_v > 11.314 * hz);
    }

    /// Worked by hand, no published source: a bus held at 540.2 V at 1000 W/m² and 65 °C.
    #[test]
    fn a_bus_held_above_the_voltage_of_greatest_power_takes_less() {
        let module = sample::module().curve(1000.0, 65.0);
        let short = module.scaled(16.0, 5.0);
        assert!((short.open_circuit_v() - 524.0).abs() < 0.05);
        assert!(short.power_at_window(540.2, 540.2) == 0.0);
        let long = module.scaled(18.0, 5.0);
        assert!((long.max_power().power_w - 20.06e3).abs() < 5.0);
        assert!((long.power_at_window(540.2, 540.2) - 13.08e3).abs() < 5.0);
    }

    #[test]
    fn inside_a_window_it_is_the_point_of_greatest_power() {
        let curve = sample::module().curve(800.0, 45.0);
        let best = curve.max_power();
        assert_eq!(curve.point_at_window(20.0, 35.0), best);
        assert!((curve.point_at_window(30.0, 35.0).voltage_v - 30.0).abs() < 1e-12);
        assert!((curve.power_at_window(10.0, 25.0) - curve.power_w(25.0)).abs() < 1e-9);
    }
}
