use super::*;
use daylift_units::Month;

use crate::{ArrayLosses, Curve, StringGroup, sample};

/// 13.7·(f/50)³ kW, of which 8 % is copper loss at full flux and 4 % iron loss.
struct Pump {
    least_flux: f64,
    most_current: f64,
}

/// At least the least flux, without a limit of current.
fn pump(least_flux: f64) -> Pump {
    Pump {
        least_flux,
        most_current: f64::INFINITY,
    }
}

impl FluxLoad for Pump {
    fn power_w(&self, hz: f64, flux: f64) -> f64 {
        13.7e3 * (hz / 50.0).powi(3) * (0.88 + 0.04 * flux * flux + 0.08 / (flux * flux))
    }

    fn least_flux(&self, hz: f64) -> f64 {
        // Current in proportion to torque over flux.
        self.least_flux.max((hz / 50.0).powi(2) / self.most_current)
    }
}

const NEED: BusNeed = BusNeed {
    v_per_hz: 12.1,
    flat_from_hz: 50.0,
};

fn strings(series: u32, s_w_m2: f64, cell_c: f64, cable: f64) -> [OnBus; 1] {
    let group = StringGroup::new(sample::module(), series, 5, ArrayLosses::NONE, cable).unwrap();
    [OnBus::new(group.curve(s_w_m2, cell_c, Month::January), group.cable())]
}

/// The greatest frequency by trying every voltage and every frequency, both finely.
fn tried(strings: &[OnBus], most_w: f64, hz_max: f64, load: &Pump) -> f64 {
    let [one] = strings else { panic!("one group") };
    let curve: &Curve = &one.curve;
    let (peak_v, open_v) = (one.peak.voltage_v, curve.open_circuit_v());
    let mut best = 0.0_f64;
    for i in 0..=4000 {
        let v = peak_v + (open_v - peak_v) * f64::from(i) / 4000.0;
        let sent_w = (v * curve.current_a(v)).clamp(0.0, most_w);
        let delivered_w = one.cable.delivered_w(sent_w);
        let bus_v = v * (1.0 - one.cable.fraction(sent_w));
        let carries = |hz: f64| {
            let flux = (bus_v / NEED.volts(hz)).min(1.0);
            flux >= load.least_flux(hz) && load.power_w(hz, flux) <= delivered_w
        };
        // Bisection: what a voltage carries at a frequency it carries at any lower one.
        let (mut low, mut high) = (0.0, hz_max);
        if carries(hz_max) {
            return hz_max;
        }
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if carries(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        best = best.max(low);
    }
    best
}

#[test]
fn it_agrees_with_trying_every_voltage() {
    for series in [15, 16, 17, 18, 19] {
        for (s_w_m2, cell_c) in [
            (1000.0, 70.0),
            (850.0, 62.0),
            (600.0, 50.0),
            (450.0, 45.0),
            (300.0, 35.0),
        ] {
            for (least_flux, most_current, tracked) in [
                (0.9, 9.0, 1.0),
                (0.8, 9.0, 0.97),
                (0.9, 1.05, 0.97),
                (0.7, 0.95, 1.0),
                (1.0, 9.0, 0.95),
            ] {
                let strings = strings(series, s_w_m2, cell_c, 0.02);
                let load = Pump {
                    least_flux,
                    most_current,
                };
                let most_w = tracked * strings[0].peak.power_w;
                let given_w = strings[0].cable.delivered_w(most_w);
                let hz_max = (50.0 * (given_w / 13.7e3).cbrt()).min(50.0 * most_current.min(1.0).sqrt());
                let found = greatest_at_flux(&strings, most_w, NEED, hz_max, &load);
                let tried_hz = tried(&strings, most_w, hz_max, &load);
                // The tried voltages are up to 0.04 V apart, which is 0.004 Hz where the flux is at its least.
                let close = (-1e-6..4e-3).contains(&(found.hz - tried_hz));
                assert!(
                    close,
                    "{series} modules, {s_w_m2} W/m², least {least_flux}: {} against {tried_hz}",
                    found.hz
                );
            }
        }
    }
}

#[test]
fn with_the_least_flux_full_it_is_the_rule_of_full_flux() {
    for (s_w_m2, cell_c) in [(1000.0, 65.0), (1000.0, 70.0), (600.0, 50.0), (400.0, 45.0)] {
        let strings = strings(19, s_w_m2, cell_c, 0.01);
        let load = pump(1.0);
        let given_w = strings[0].cable.delivered_w(strings[0].peak.power_w);
        let hz_max = (50.0 * (given_w / 13.7e3).cbrt()).min(50.0);
        let at = greatest_at_flux(&strings, f64::INFINITY, NEED, hz_max, &load);
        let full = crate::greatest_frequency_hz(&strings, NEED.v_per_hz, hz_max, |hz| load.power_w(hz, 1.0));
        assert!(
            (at.hz - full).abs() < 1e-6 && at.flux > 1.0 - 1e-9,
            "{s_w_m2}: {at:?} against {full}"
        );
    }
}

#[test]
fn enough_voltage_leaves_the_flux_full() {
    let strings = strings(26, 900.0, 40.0, 0.0);
    let at = greatest_at_flux(&strings, f64::INFINITY, NEED, 48.0, &pump(0.9));
    assert!((at.hz - 48.0).abs() < 1e-12 && (at.flux - 1.0).abs() < 1e-12);
}

#[test]
fn at_the_greatest_frequency_the_flux_is_as_full_as_possible() {
    // 14 modules reach less than full flux at 40 Hz, and more power than the pump takes there.
    let strings = strings(14, 1000.0, 60.0, 0.0);
    let load = pump(0.7);
    let at = greatest_at_flux(&strings, f64::INFINITY, NEED, 40.0, &load);
    assert!((at.hz - 40.0).abs() < 1e-12);
    let curve = &strings[0].curve;
    let volts = at.flux * NEED.volts(40.0);
    let given_w = volts * curve.current_a(volts);
    let taken_w = load.power_w(40.0, at.flux);
    assert!(
        at.flux < 1.0 && (given_w - taken_w).abs() < 1e-4 * taken_w,
        "{at:?}: {given_w} W for {taken_w} W"
    );
}

#[test]
fn above_rated_frequency_the_need_stays() {
    assert!((NEED.volts(60.0) - NEED.volts(50.0)).abs() < 1e-12);
    let at = greatest_at_flux(&[], f64::INFINITY, NEED, 50.0, &pump(0.9));
    assert!(at.hz.abs() < 1e-12);
}
