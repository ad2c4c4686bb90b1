//! Whether battery, generating set, second input and bigger tank fit the plant.

use daylift_units::{Fault, Warning};

use crate::arrangement::Wiring;
use crate::beside::{InputKind, LoadsFed};
use crate::plant::Plant;

/// A source that starts a motor direct on line is to have so many times the power that the motor takes (usual practice:
/// the motor draws six to eight times its rated current for some seconds).
const FOR_DIRECT_START: f64 = 2.5;

/// What the reader of the results must know.
pub(super) fn warnings(plant: &Plant) -> Vec<Warning> {
    let mut out = unused(plant);
    let beside = &plant.beside;
    let has_island = plant.arrangements().iter().any(|row| row.wiring == Wiring::BatteryHybrid);
    if let Some(battery) = beside.battery.as_ref().filter(|_| has_island) {
        out.extend(starts(plant, "battery", battery.sheet().discharge_w));
    }
    out.extend(below_rectifier(plant));
    if let Some(generator) = &beside.generator {
        out.extend(starts(plant, "generator", generator.set.rated_w()));
    }
    out
}

/// An island that would go dark and live again sooner than `least_s`.
pub(super) fn battery_fault(plant: &Plant, least_s: f64) -> Option<Fault> {
    let battery = plant.beside.battery.as_ref()?;
    let sheet = battery.sheet();
    let band_j = battery.restart_j() - battery.least_j();
    let fastest_w = (sheet.charge_w * sheet.charge_efficiency).max(sheet.discharge_w / sheet.discharge_efficiency);
    let lasts_s = band_j / fastest_w;
    (lasts_s < least_s).then(|| {
        Fault::new(
            "restart_pct",
            "content at which a dark island comes to life again",
            format!(
                "the {:.3} kWh from the least content to there last {lasts_s:.1} s",
                band_j / 3.6e6
            ),
            format!("at least {least_s:.0} s, or the island would come and go"),
            "raise `restart_pct`, or correct `capacity_kwh`, `charge_kw` or `discharge_kw` of the battery file",
        )
    })
}

/// Parts that no row uses.
fn unused(plant: &Plant) -> Vec<Warning> {
    let mut out = Vec::new();
    let mut say = |subject: &str, text: String| out.push(Warning::new(subject, text));
    let (beside, rows) = (&plant.beside, plant.arrangements());
    let has_row = |wiring: Wiring| rows.iter().any(|row| row.wiring == wiring);
    if beside.second_input.is_some() && !has_row(Wiring::SolarDriveWithGrid) {
        say(
            "grid_input",
            "no drive with strings and mains to help it: nothing uses it".to_owned(),
        );
    }
    if beside.battery.is_some() && !has_row(Wiring::BatteryHybrid) {
        say("battery", "no inverter with strings: nothing uses it".to_owned());
    }
    let generator = beside.generator.as_ref().map(|g| ("generator", &g.beside));
    let tank = beside.night_tank.as_ref().map(|t| ("night_tank", &t.beside));
    for (section, wirings) in generator.into_iter().chain(tank) {
        for wiring in wirings {
            let there = |row: &crate::Arrangement| {
                row.wiring == *wiring
                    && if section == "generator" {
                        row.generator
                    } else {
                        row.night_tank
                    }
            };
            if !rows.iter().any(there) {
                say(
                    section,
                    format!("the plant has no {} for it to stand beside: no row", wiring.id()),
                );
            }
        }
    }
    let fed = beside.generator.as_ref().map_or(LoadsFed::None, |g| g.loads);
    let any_backed_up = !plant.grid.backed_up.is_none();
    if any_backed_up && !has_row(Wiring::BatteryHybrid) {
        match fed {
            LoadsFed::None => say(
                "load",
                "nothing feeds the loads that are backed up: there is no battery, and no generator with loads = \"backed-up\""
                    .to_owned(),
            ),
            LoadsFed::All => say(
                "load",
                "`backed_up` has no effect: the generator feeds all loads, and there is no battery".to_owned(),
            ),
            LoadsFed::BackedUp => {}
        }
    }
    if fed == LoadsFed::BackedUp && !any_backed_up {
        say(
            "generator",
            "loads = \"backed-up\", and no load is: add `backed_up = true` to one".to_owned(),
        );
    }
    let exports = rows.iter().any(|row| row.wiring.needs_inverter());
    let export = &plant.grid.export;
    if export.line().is_some() && (!exports || export.agreed_w() <= 0.0) {
        say("grid", "nothing leaves the farm: nothing uses [grid.line]".to_owned());
    }
    if !exports && export.agreed_w() > 0.0 && export.agreed_w().is_finite() {
        say(
            "grid",
            "nothing leaves the farm: nothing uses `export_limit_kw`".to_owned(),
        );
    }
    out
}

/// Whether a source of `power_w` can start and carry the pumps.
fn starts(plant: &Plant, subject: &str, power_w: f64) -> Vec<Warning> {
    let greatest_w = |set: &crate::Set| {
        let points = (0..12).filter_map(|month| set.pump_set.mains(month));
        points.map(|p| p.duty.motor_w + p.duty.cable_w).fold(0.0, f64::max)
    };
    let mut out = Vec::new();
    for set in &plant.sets {
        let takes_w = greatest_w(set);
        let (takes_kw, has_kw) = (takes_w / 1e3, power_w / 1e3);
        if takes_w > power_w && subject == "generator" {
            let text = format!(
                "{} takes {takes_kw:.1} kW, and the set gives {has_kw:.1} kW: it never runs it direct on line",
                set.name
            );
            out.push(Warning::new(subject, text));
        } else if takes_w * FOR_DIRECT_START > power_w {
            let text = format!(
                "{} takes {takes_kw:.1} kW and is started by {has_kw:.1} kW: a direct start asks for about {FOR_DIRECT_START} times its power; have the start proved, or soften it",
                set.name
            );
            out.push(Warning::new(subject, text));
        }
    }
    out
}

/// Strings that a rectifier on mains holds off: their voltage lies below what it holds.
fn below_rectifier(plant: &Plant) -> Vec<Warning> {
    let (Some(input), Some(array)) = (&plant.beside.second_input, &plant.array) else {
        return Vec::new();
    };
    let InputKind::Blend { line_voltage_v } = input.kind else {
        return Vec::new();
    };
    let held_v = daylift_lift::rectified_v(line_voltage_v);
    let driven = array.groups.iter().filter(|group| group.set.is_some());
    driven
        .filter_map(|group| {
            let sheet = group.strings.module().sheet();
            let modules = f64::from(group.strings.series());
            let (open_v, best_v) = (modules * sheet.open_circuit_v, modules * sheet.max_power_v);
            let gives = if open_v <= held_v {
                "it gives nothing while mains is on the drive"
            } else if best_v < held_v {
                "mains holds it off its best point whenever it helps"
            } else {
                return None;
            };
            let text = format!(
                "a string of {} stands at {open_v:.0} V without load and works at {best_v:.0} V at standard test conditions, less when hot, and the rectifier holds the drive's bus at {held_v:.0} V: {gives}",
                group.name
            );
            Some(Warning::new("grid_input", text))
        })
        .collect()
}
