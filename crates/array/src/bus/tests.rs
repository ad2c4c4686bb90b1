use super::*;
use daylift_units::Month;

use crate::{ArrayLosses, StringGroup, sample};

/// 19 modules in series, 5 strings, no losses.
fn group() -> StringGroup {
    strings(19)
}

/// `series` modules in series, 5 strings, no losses.
fn strings(series: u32) -> StringGroup {
    StringGroup::new(sample::module(), series, 5, ArrayLosses::NONE, 0.0).unwrap()
}

fn on_bus(curve: &Curve, group: &StringGroup) -> [OnBus; 1] {
    [OnBus::new(*curve, group.cable())]
}

const BUS_V_PER_HZ: f64 = 11.314;

/// 13.7·(f/50)³ kW at the DC input.
fn pump_w(hz: f64) -> f64 {
    13.7e3 * (hz / 50.0).powi(3)
}

/// Worked by hand: irradiance, cell temperature, maximum frequency.
#[test]
fn speed_follows_the_curve_and_not_the_maximum_power_voltage() {
    for (s_w_m2, cell_c, worked_hz) in [
        (1000.0, 65.0, 50.0),
        (1000.0, 70.0, 49.35),
        (600.0, 50.0, 49.35),
        (400.0, 45.0, 44.08),
    ] {
        let group = group();
        let curve = group.curve(s_w_m2, cell_c, Month::January);
        let by_power_hz = 50.0 * (curve.max_power().power_w / 13.7e3).cbrt();
        let hz = greatest_frequency_hz(&on_bus(&curve, &group), BUS_V_PER_HZ, by_power_hz.min(50.0), pump_w);
        assert!((hz - worked_hz).abs() <= 0.1, "{s_w_m2} W/m², {cell_c} °C: {hz} Hz");
    }
}

#[test]
fn strings_split_into_two_groups_give_the_same_speed() {
    let group = group();
    for (s_w_m2, cell_c) in [(1000.0, 70.0), (600.0, 50.0), (800.0, 62.0)] {
        let curve = group.curve(s_w_m2, cell_c, Month::January);
        let whole = on_bus(&curve, &group);
        let part = |share: f64| OnBus {
            curve: curve.scaled(1.0, share),
            peak: curve.scaled(1.0, share).max_power(),
            cable: whole[0].cable,
        };
        let parts = [part(0.6), part(0.4)];
        let hz = |strings: &[OnBus]| greatest_frequency_hz(strings, BUS_V_PER_HZ, 50.0, pump_w);
        assert!((hz(&whole) - hz(&parts)).abs() < 1e-9, "{s_w_m2} W/m²");
        let (a, b) = (held_bus(&whole, 540.2), held_bus(&parts, 540.2));
        assert!((a.sent_w - b.sent_w).abs() < 1e-6 * a.sent_w);
    }
}

#[test]
fn at_the_limit_the_array_gives_exactly_the_power_of_the_pump() {
    let group = group();
    let curve = group.curve(1000.0, 70.0, Month::January);
    let hz = greatest_frequency_hz(&on_bus(&curve, &group), BUS_V_PER_HZ, 50.0, pump_w);
    let bus_v = BUS_V_PER_HZ * hz;
    assert!((bus_v - 558.3).abs() < 1.0, "{bus_v} V");
    assert!((curve.power_w(bus_v) / pump_w(hz) - 1.0).abs() < 1e-6);
}

/// Worked by hand: at 1000 W/m² and 65 °C a pump at full speed takes 13.7 kW, and the bus is at 570.7 V, not at the
/// 482.5 V of maximum power.
#[test]
fn the_bus_voltage_rises_when_the_pump_takes_less_than_the_array_can_give() {
    let group = group();
    let strings = on_bus(&group.curve(1000.0, 65.0, Month::January), &group);
    assert!((bus_v_at_power(&strings, 13.7e3) - 570.7).abs() < 0.5);
    assert!((bus_v_at_power(&strings, 1e6) - 482.5).abs() < 0.5);
    assert!((bus_v_at_power(&strings, 0.0) - strings[0].curve.open_circuit_v()).abs() < 1e-6);
    assert!((greatest_delivered_w(&strings) - strings[0].peak.power_w).abs() < 1e-6);
    assert!(bus_v_at_power(&[], 1.0).abs() < 1e-12 && greatest_delivered_w(&[]).abs() < 1e-12);
    let parts = [0.6, 0.4].map(|share| OnBus::new(strings[0].curve.scaled(1.0, share), CableLoss::NONE));
    assert!((bus_v_at_power(&parts, 13.7e3) - bus_v_at_power(&strings, 13.7e3)).abs() < 1e-6);
}

#[test]
fn enough_voltage_at_maximum_power_allows_the_greatest_frequency() {
    let group = group();
    let curve = group.curve(900.0, 20.0, Month::January);
    assert!((greatest_frequency_hz(&on_bus(&curve, &group), 5.0, 50.0, pump_w) - 50.0).abs() < 1e-12);
}

/// Worked by hand: a rectifier on 400 V holds 540.2 V at 1000 W/m² and 65 °C.
#[test]
fn a_rectifier_keeps_long_strings_below_their_maximum_power_and_blocks_short_ones() {
    let held_v = 3.0 * 2.0_f64.sqrt() / std::f64::consts::PI * 400.0;
    assert!((held_v - 540.2).abs() < 0.1);
    let at = |series: u32| {
        let group = strings(series);
        let curve = group.curve(1000.0, 65.0, Month::January);
        (curve, held_bus(&on_bus(&curve, &group), held_v))
    };
    let (short, nothing) = at(16);
    assert!(
        (short.open_circuit_v() - 524.0).abs() < 0.5,
        "{} V",
        short.open_circuit_v()
    );
    assert!(nothing == HeldBus::default());
    let (long, held) = at(18);
    let available_w = long.max_power().power_w;
    assert!((available_w - 20.06e3).abs() < 20.0, "{available_w} W");
    assert!((held.delivered_w - 13.08e3).abs() < 20.0, "{} W", held.delivered_w);
    // A pump that takes 13.7 kW: 0.62 kW come from the grid, and 6.98 kW of the array remain unused.
    assert!((13.7e3 - held.delivered_w - 0.62e3).abs() < 20.0);
    assert!((available_w - held.sent_w - 6.98e3).abs() < 20.0);
}
