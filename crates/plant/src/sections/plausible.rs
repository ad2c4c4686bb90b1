//! Whether the parts of a plant make sense together: what no single value can tell.

use daylift_units::{Fault, Warning};

use crate::plant::Plant;

/// A pump that fills the tank from its restart level in less than this would start more often than any motor bears
/// (makers allow one start in a minute at the most) \[s\].
const LEAST_RUN_S: f64 = 60.0;
/// Array power over inverter rating above which most of the noon is clipped (usual practice stays below 1.5).
const GREATEST_DC_TO_AC: f64 = 2.0;
/// Tilt above which the direction of the modules matters \[°\].
const TILT_THAT_MATTERS_DEG: f64 = 5.0;

/// A fault of the whole plant, with the section that it belongs to.
pub(crate) fn faults(plant: &Plant) -> Vec<(&'static str, Fault)> {
    let band_m3 = plant.tank.capacity_m3() - plant.tank.restart_m3();
    let fastest_m3_s = (0..12)
        .filter_map(|m| plant.pump_set.mains(m))
        .map(|p| p.duty.flow_m3_s)
        .fold(0.0, f64::max);
    let run_s = band_m3 / fastest_m3_s;
    if run_s >= LEAST_RUN_S {
        return Vec::new();
    }
    vec![(
        "tank",
        Fault::new(
            "restart_pct",
            "level at which a pump that stopped at full starts again",
            format!("the pump fills the {band_m3:.3} m³ from there to full in {run_s:.0} s"),
            format!("at least {LEAST_RUN_S:.0} s of pumping between stop and stop"),
            "lower `restart_pct`, or correct `capacity_m3` or the pump's flows",
        ),
    )]
}

/// What the reader of the results must know.
pub(crate) fn warnings(plant: &Plant) -> Vec<Warning> {
    let Some(array) = &plant.array else { return Vec::new() };
    let mut out = Vec::new();
    let (sheet, group) = (array.group.module().sheet(), &array.group);
    let string_v = f64::from(group.series()) * sheet.max_power_v;
    let open_v = f64::from(group.series()) * sheet.open_circuit_v;
    if let Some(feeder) = &plant.feeder {
        let inverter = feeder.inverter.sheet();
        if !(inverter.mppt_min_v..=inverter.mppt_max_v).contains(&string_v) {
            let text = format!(
                "a string works at {string_v:.0} V at standard test conditions, the inverter tracks from {:.0} to {:.0} V",
                inverter.mppt_min_v, inverter.mppt_max_v
            );
            out.push(Warning::new("strings", text));
        }
        if open_v > inverter.mppt_max_v {
            let text = format!(
                "a string stands at {open_v:.0} V without load at standard test conditions, more in the cold, and the \
                 inverter tracks up to {:.0} V: check its greatest DC voltage, which this version does not",
                inverter.mppt_max_v
            );
            out.push(Warning::new("strings", text));
        }
        let ratio = group.stc_w() / feeder.inverter.rated_w();
        if ratio > GREATEST_DC_TO_AC {
            let text =
                format!("the array has {ratio:.1} times the inverter's rated output; most of the noon is clipped");
            out.push(Warning::new("inverter", text));
        }
    }
    out.extend(drive_voltage(plant, open_v));
    out.extend(direction(plant));
    out
}

fn drive_voltage(plant: &Plant, open_v: f64) -> Option<Warning> {
    let need_v =
        plant.pump_set.bus_v_per_hz()? * (0..12).map(|m| plant.pump_set.start_hz(m)).fold(f64::INFINITY, f64::min);
    (need_v > open_v).then(|| {
        let text = format!(
            "a string stands at {open_v:.0} V without load, and the drive needs {need_v:.0} V to start the pump: it never runs \
             from this array"
        );
        Warning::new("strings", text)
    })
}

fn direction(plant: &Plant) -> Option<Warning> {
    let plane = plant.array.as_ref()?;
    let latitude_deg = plant.site.latitude_deg;
    let to_equator_deg = if latitude_deg < 0.0 { 0.0 } else { 180.0 };
    let off_deg = (plane.azimuth_deg - to_equator_deg + 540.0).rem_euclid(360.0) - 180.0;
    let away = off_deg.abs() > 90.0 && plane.tilt_deg > TILT_THAT_MATTERS_DEG && latitude_deg.abs() > 5.0;
    away.then(|| {
        let text = format!(
            "the modules face {:.0}°, away from the equator, which lies to the {} here",
            plane.azimuth_deg,
            if latitude_deg < 0.0 {
                "north (0°)"
            } else {
                "south (180°)"
            }
        );
        Warning::new("array", text)
    })
}
