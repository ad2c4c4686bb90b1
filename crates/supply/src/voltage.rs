//! The voltage rule: the speed that sun and strings allow a drive.
//!
//! Beyond its maximum-power voltage an array gives less power at more voltage. A drive that wants more bus voltage for
//! more speed therefore runs where the falling power of the curve meets the rising power of the pump.

use daylift_array::{Curve, StringGroup};
use daylift_units::root;

/// The greatest frequency \[Hz\] that the bus voltage allows, at most `hz_max`.
///
/// It is the largest f for which some voltage V on the curve satisfies V·(1 − c) ≥ `bus_v_per_hz`·f while the power
/// there, less cables, is at least `power_w(f)`; c is the cables' fraction at that power. `power_w` must rise with f and
/// `hz_max` must be such that the maximum power suffices for it.
#[must_use]
pub fn greatest_frequency_hz(
    curve: &Curve,
    group: &StringGroup,
    bus_v_per_hz: f64,
    hz_max: f64,
    power_w: impl Fn(f64) -> f64,
) -> f64 {
    let peak = curve.max_power();
    let bus_v = |v: f64, w: f64| v * (1.0 - group.cable_fraction(w));
    let hz_at = |v: f64, w: f64| bus_v(v, w) / bus_v_per_hz;
    if hz_at(peak.voltage_v, peak.power_w) >= hz_max {
        return hz_max;
    }
    // Surplus of the array over the pump when the bus stands at v; it falls as v rises.
    let surplus = |v: f64| {
        let w = curve.power_w(v);
        (group.device_power_w(w) - power_w(hz_at(v, w).min(hz_max))) / peak.power_w
    };
    let open_v = curve.open_circuit_v();
    if surplus(peak.voltage_v) <= 0.0 {
        return hz_at(peak.voltage_v, peak.power_w);
    }
    // A surplus that never ends leaves the open-circuit voltage as the bound.
    let v = root::bracketed(peak.voltage_v, open_v, surplus).unwrap_or(open_v);
    hz_at(v, curve.power_w(v)).min(hz_max)
}

#[cfg(test)]
mod tests {
    use daylift_array::{ArrayLosses, Module, ModuleSheet};

    use super::*;

    /// 19 modules in series, 5 strings, no losses.
    fn group() -> StringGroup {
        let module = Module::new(ModuleSheet {
            name: "60 cells".into(),
            short_circuit_a: 9.43,
            open_circuit_v: 38.3,
            max_power_a: 8.71,
            max_power_v: 31.0,
            short_circuit_a_per_k: 0.005_658,
            open_circuit_v_per_k: -0.137_88,
            cells: 60,
        })
        .unwrap();
        let losses = ArrayLosses {
            soiling: [0.0; 12],
            mismatch: 0.0,
            light_induced: 0.0,
            unavailability: 0.0,
            yearly_degradation: 0.0,
            age_years: 0.0,
        };
        StringGroup::new(module, 19, 5, losses, 0.0).unwrap()
    }

    const BUS_V_PER_HZ: f64 = 11.314;

    /// 13.7·(f/50)³ kW at the DC input.
    fn pump_w(hz: f64) -> f64 {
        13.7e3 * (hz / 50.0).powi(3)
    }

    /// Worked by hand, no published source: irradiance, cell temperature, greatest frequency.
    #[test]
    fn speed_follows_the_curve_and_not_the_maximum_power_voltage() {
        for (s_w_m2, cell_c, worked_hz) in [
            (1000.0, 65.0, 50.0),
            (1000.0, 70.0, 49.35),
            (600.0, 50.0, 49.35),
            (400.0, 45.0, 44.08),
        ] {
            let group = group();
            let curve = group.curve(s_w_m2, cell_c, 0);
            let by_power_hz = 50.0 * (curve.max_power().power_w / 13.7e3).cbrt();
            let hz = greatest_frequency_hz(&curve, &group, BUS_V_PER_HZ, by_power_hz.min(50.0), pump_w);
            assert!((hz - worked_hz).abs() <= 0.1, "{s_w_m2} W/m², {cell_c} °C: {hz} Hz");
        }
    }

    #[test]
    fn at_the_limit_the_array_carries_just_what_the_pump_takes() {
        let group = group();
        let curve = group.curve(1000.0, 70.0, 0);
        let hz = greatest_frequency_hz(&curve, &group, BUS_V_PER_HZ, 50.0, pump_w);
        let bus_v = BUS_V_PER_HZ * hz;
        assert!((bus_v - 558.3).abs() < 1.0, "{bus_v} V");
        assert!((curve.power_w(bus_v) / pump_w(hz) - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_bus_high_enough_at_maximum_power_allows_everything() {
        let group = group();
        let curve = group.curve(900.0, 20.0, 0);
        assert!((greatest_frequency_hz(&curve, &group, 5.0, 50.0, pump_w) - 50.0).abs() < 1e-12);
    }
}
