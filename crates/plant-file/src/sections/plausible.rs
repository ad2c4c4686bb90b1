//! Whether the parts of a plant make sense together, which no single value can show.

mod beside;

use daylift_plant::{Facing, Feeder, Group, PlaneOf, Plant, Set};
use daylift_units::{Fault, Warning};

/// A pump that fills the tank from its restart level in less than this \[s\] would start more often than any motor allows
/// (makers allow at most one start a minute).
const LEAST_RUN_S: f64 = 60.0;
/// Ratio of array power to inverter rating above which most power around noon is clipped (usual practice: below 1.5).
const GREATEST_DC_TO_AC: f64 = 2.0;
/// Tilt above which the direction of the modules matters \[°\].
const TILT_THAT_MATTERS_DEG: f64 = 5.0;

/// The fault of a tank that fills from its restart level faster than a pump may start again.
pub(crate) fn tank_fault(plant: &Plant) -> Option<Fault> {
    let band_m3 = plant.tank.capacity_m3() - plant.tank.restart_m3();
    let all_m3_s = |month: daylift_units::Month| {
        plant.sets.iter().filter_map(|s| s.pump_set.mains(month)).map(|p| p.duty.flow_m3_s).sum()
    };
    let fastest_m3_s = daylift_units::Month::ALL.into_iter().map(all_m3_s).fold(0.0, f64::max);
    let run_s = band_m3 / fastest_m3_s;
    (run_s < LEAST_RUN_S).then(|| {
        Fault::new(
            "restart_pct",
            "level at which the pump starts again after the tank was full",
            format!("the pumps fill the {band_m3:.3} m³ from there to full in {run_s:.0} s"),
            format!("at least {LEAST_RUN_S:.0} s of pumping for each start"),
            "lower `restart_pct`, or correct `capacity_m3` or the pumps' flows",
        )
    })
}

/// The fault of an island that would shut down and restart sooner than a pump may start again.
pub(crate) fn battery_fault(plant: &Plant) -> Option<Fault> {
    beside::battery_fault(plant, LEAST_RUN_S)
}

/// The warnings about parts that do not fit together.
pub(crate) fn warnings(plant: &Plant) -> Vec<Warning> {
    let mut out = costs_of_none(plant);
    out.extend(beside::warnings(plant));
    let Some(array) = &plant.array else { return out };
    for (i, feeder) in plant.feeders.iter_enumerated() {
        let groups: Vec<&Group> = array.groups.iter().filter(|g| g.inverter == Some(i)).collect();
        if groups.is_empty() {
            let text = format!("{} has no strings: it is not used", feeder.name);
            out.push(Warning::new("inverter", text));
            continue;
        }
        out.extend(groups.iter().flat_map(|group| window(group, feeder)));
        let ratio = groups.iter().map(|g| g.strings.stc_w()).sum::<f64>() / feeder.inverter.rated_w();
        if ratio > GREATEST_DC_TO_AC {
            let text = format!(
                "the strings of {} have {ratio:.1} times the inverter's rated output; much of the power around noon is clipped",
                feeder.name
            );
            out.push(Warning::new("inverter", text));
        }
    }
    for (s, set) in plant.sets.iter_enumerated() {
        let mut groups = array.groups.iter().filter(|g| g.set == Some(s)).peekable();
        if groups.peek().is_none() && set.pump_set.drive().is_some() {
            let text = format!("no strings feed the drive of {}: it is not used", set.name);
            out.push(Warning::new("drive", text));
        }
        out.extend(groups.filter_map(|group| drive_voltage(group, set)));
    }
    for (p, plane) in array.planes.iter_enumerated() {
        if !array.groups.iter().any(|group| group.plane == p) {
            let text = format!("no strings are on the plane {}: it is not used", plane.name);
            out.push(Warning::new("array", text));
        }
    }
    out.extend(array.planes.iter().filter_map(|plane| direction(plant, plane)));
    out
}

/// Costs that belong to no arrangement of this plant.
fn costs_of_none(plant: &Plant) -> Vec<Warning> {
    let there = plant.arrangements();
    let replacements = plant.costs.replacements.iter().map(|r| &r.line);
    let lines = plant.costs.capital.iter().chain(&plant.costs.upkeep).chain(replacements);
    lines
        .filter(|line| !there.iter().any(|row| line.is_borne_by(*row)))
        .map(|line| {
            let text = format!(
                "\"{}\" belongs to arrangements that this plant does not have: it is not used",
                line.item
            );
            Warning::new("money", text)
        })
        .collect()
}

fn window(group: &Group, feeder: &Feeder) -> Vec<Warning> {
    let mut out = Vec::new();
    let sheet = group.strings.module().sheet();
    let string_v = f64::from(group.strings.series()) * sheet.max_power_v;
    let open_v = f64::from(group.strings.series()) * sheet.open_circuit_v;
    let inverter = feeder.inverter.sheet();
    if !(inverter.mppt_min_v..=inverter.mppt_max_v).contains(&string_v) {
        let text = format!(
            "a string of {} has a Vmp of {string_v:.0} V at standard test conditions, outside the MPPT window of {}, {:.0} to {:.0} V",
            group.name, feeder.name, inverter.mppt_min_v, inverter.mppt_max_v
        );
        out.push(Warning::new("strings", text));
    }
    if open_v > inverter.mppt_max_v {
        let text = format!(
            "a string of {} has a Voc of {open_v:.0} V at standard test conditions, more in the cold, above the MPPT window \
             of {} (up to {:.0} V): check its maximum DC voltage with `daylift strings`",
            group.name, feeder.name, inverter.mppt_max_v
        );
        out.push(Warning::new("strings", text));
    }
    out
}

fn drive_voltage(group: &Group, set: &Set) -> Option<Warning> {
    let open_v = f64::from(group.strings.series()) * group.strings.module().sheet().open_circuit_v;
    let starts_hz = daylift_units::Month::ALL.into_iter().map(|m| set.pump_set.start_hz(m));
    let need_v = set.pump_set.bus_v_per_hz()? * starts_hz.fold(f64::INFINITY, f64::min);
    (need_v > open_v).then(|| {
        let text = format!(
            "a string of {} has a Voc of {open_v:.0} V, and the drive of {} needs {need_v:.0} V to start the pump: \
             it never runs from these strings",
            group.name, set.name
        );
        Warning::new("strings", text)
    })
}

fn direction(plant: &Plant, plane: &PlaneOf) -> Option<Warning> {
    let latitude_deg = plant.site.latitude_deg;
    let to_equator_deg = if latitude_deg < 0.0 { 0.0 } else { 180.0 };
    let Facing::Fixed { tilt_deg, azimuth_deg } = plane.facing else {
        return None;
    };
    let off_deg = (azimuth_deg - to_equator_deg + 540.0).rem_euclid(360.0) - 180.0;
    let away = off_deg.abs() > 90.0 && tilt_deg > TILT_THAT_MATTERS_DEG && latitude_deg.abs() > 5.0;
    away.then(|| {
        let text = format!(
            "the modules face {:.0}°, away from the equator, which is to the {} here",
            azimuth_deg,
            if latitude_deg < 0.0 {
                "north (0°)"
            } else {
                "south (180°)"
            }
        );
        Warning::new("array", text)
    })
}
