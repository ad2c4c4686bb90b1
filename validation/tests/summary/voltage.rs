//! The speed that sun and strings allow.

use daylift_array::{ArrayLosses, OnBus, StringGroup, greatest_frequency_hz};
use daylift_units::Month;
use daylift_validation::{Allowed, Report, Row};

use crate::data::{Outcome, faults_text};
use crate::module::sample;

/// Bus voltage needed per hertz: √2 · 400 V / 50 Hz.
const BUS_V_PER_HZ: f64 = 11.314;

/// The pump takes 13.7·(f/50)³ kW at the DC input.
fn pump_w(hz: f64) -> f64 {
    13.7e3 * (hz / 50.0).powi(3)
}

/// 19 modules in series, 5 strings, no losses, in four conditions.
pub(crate) fn check(report: &mut Report) -> Outcome {
    let group = StringGroup::new(sample()?, 19, 5, ArrayLosses::NONE, 0.0).map_err(faults_text)?;
    for (s_w_m2, cell_c, worked_hz) in [
        (1000.0, 65.0, 50.0),
        (1000.0, 70.0, 49.35),
        (600.0, 50.0, 49.35),
        (400.0, 45.0, 44.08),
    ] {
        let curve = group.curve(s_w_m2, cell_c, Month::January);
        let on_bus = [OnBus::new(curve, group.cable())];
        let by_power_hz = 50.0 * (curve.max_power().power_w / 13.7e3).cbrt();
        let hz = greatest_frequency_hz(&on_bus, BUS_V_PER_HZ, by_power_hz.min(50.0), pump_w);
        report.push(Row::new(
            &format!("frequency that the sun allows, {s_w_m2} W/m², {cell_c} °C"),
            "worked by hand, no published source",
            hz,
            worked_hz,
            Allowed::absolute(0.1, "Hz"),
        ));
    }
    Ok(())
}
