//! Whether the parts of a plant make sense together, which no single value can show. `daylift_electrics` judges the
//! strings.

mod beside;
mod costs;

use daylift_plant::{Facing, PlaneOf, Plant};
use daylift_units::{Fault, Warning};

/// Shortest time in which a pump may fill the tank from its restart level \[s\]. A shorter one would mean more starts than
/// any motor allows; makers allow at most one start a minute.
const LEAST_RUN_S: f64 = 60.0;
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
            format!("the pumps fill the {band_m3:.3} m³ from this level to full in {run_s:.0} s"),
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
    let mut out = costs::warnings(plant);
    out.extend(beside::warnings(plant));
    let Some(array) = &plant.array else { return out };
    for (p, plane) in array.planes.iter_enumerated() {
        if !array.groups.iter().any(|group| group.plane == p) {
            let text = format!("no strings are on the plane {}: it is not used", plane.name);
            out.push(Warning::new("array", text));
        }
    }
    out.extend(array.planes.iter().filter_map(|plane| direction(plant, plane)));
    out
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
