use super::*;
use crate::sample;
use proptest::prelude::*;

/// Maximum power by golden-section search over the voltage: an independent method.
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
    (0.1..1500.0_f64, -40.0..100.0_f64, 1_u32..25, 1_u32..200, 0.7..1.0_f64).prop_map(|(s, t, series, parallel, k)| {
        sample::module().curve(s, t).scaled(f64::from(series), f64::from(parallel) * k)
    })
}

proptest! {
    #[test]
    fn maximum_power_agrees_with_a_golden_section_search(curve in any_curve()) {
        let (point, other_w) = (curve.max_power(), golden_section_w(&curve));
        prop_assert!((point.power_w - other_w).abs() <= 1e-10 * other_w, "{point:?} {other_w}");
    }

    #[test]
    fn the_maximum_power_point_is_on_the_curve_with_zero_slope(curve in any_curve()) {
        let p = curve.max_power();
        prop_assert!((curve.current_a(p.voltage_v) - p.current_a).abs() <= 1e-10 * p.current_a);
        // A step of 1e-4 to either side: the slope of the power is negligible compared with its curvature.
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
    fn power_rises_with_irradiance_and_voltage_falls_with_temperature(
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

/// Worked by hand: 19 × 5 modules, a bus that needs 11.314 V per hertz, a pump that takes 13.7·(f/50)³ kW. The greatest
/// frequency is reached at 11.314·f on the falling side of the curve, not at V_mp. At 65 °C there is enough for the
/// full 50 Hz (565.7 V needed), and the bus rises to 570.7 V.
#[test]
fn above_maximum_power_voltage_the_array_still_runs_the_pump() {
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

/// Worked by hand: at 400 W/m² and 45 °C power is the limit, at 44.08 Hz.
#[test]
fn in_weak_sun_power_limits_before_voltage() {
    let curve = sample::module().curve(400.0, 45.0).scaled(19.0, 5.0);
    let hz = 50.0 * (curve.max_power().power_w / 13.7e3).cbrt();
    assert!((hz - 44.08).abs() < 0.1, "{hz}");
    assert!(curve.max_power().voltage_v > 11.314 * hz);
}

/// Worked by hand: a bus held at 540.2 V at 1000 W/m² and 65 °C.
#[test]
fn a_bus_held_above_maximum_power_voltage_gets_less_power() {
    let module = sample::module().curve(1000.0, 65.0);
    let short = module.scaled(16.0, 5.0);
    assert!((short.open_circuit_v() - 524.0).abs() < 0.05);
    assert!(short.power_at_window(540.2, 540.2) == 0.0);
    let long = module.scaled(18.0, 5.0);
    assert!((long.max_power().power_w - 20.06e3).abs() < 5.0);
    assert!((long.power_at_window(540.2, 540.2) - 13.08e3).abs() < 5.0);
}

#[test]
fn inside_the_window_the_point_is_that_of_maximum_power() {
    let curve = sample::module().curve(800.0, 45.0);
    let best = curve.max_power();
    assert_eq!(curve.point_at_window(20.0, 35.0), best);
    assert!((curve.point_at_window(30.0, 35.0).voltage_v - 30.0).abs() < 1e-12);
    assert!((curve.power_at_window(10.0, 25.0) - curve.power_w(25.0)).abs() < 1e-9);
}
