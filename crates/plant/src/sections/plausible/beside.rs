//! Whether battery, generating set, second input and bigger tank fit the plant.

use daylift_units::Warning;

use crate::arrangement::Wiring;
use crate::beside::LoadsFed;
use crate::plant::Plant;

/// A source that starts a motor direct on line is to have so many times the power that the motor takes (usual practice:
/// the motor draws six to eight times its rated current for some seconds).
const FOR_DIRECT_START: f64 = 2.5;

/// What the reader of the results must know.
pub(super) fn warnings(plant: &Plant) -> Vec<Warning> {
    let mut out = unused(plant);
    let beside = &plant.beside;
    if let Some(battery) = &beside.battery {
        out.extend(starts(plant, "battery", battery.sheet().discharge_w));
    }
    if let Some(generator) = &beside.generator {
        out.extend(starts(plant, "generator", generator.set.rated_w()));
    }
    out
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
                    format!("the plant lacks the parts for {}: no row beside it", wiring.id()),
                );
            }
        }
    }
    let fed = beside.generator.as_ref().is_some_and(|g| g.loads == LoadsFed::BackedUp);
    let any_backed_up = !plant.grid.backed_up.is_none();
    if any_backed_up && beside.battery.is_none() && !fed {
        say("load", "nothing feeds the loads that are backed up: there is no battery, and no generator with loads = \"backed-up\"".to_owned());
    }
    if fed && !any_backed_up {
        say(
            "generator",
            "loads = \"backed-up\", and no load is: add `backed_up = true` to one".to_owned(),
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
                "{} takes {takes_kw:.1} kW, and the set gives {has_kw:.1} kW: it never runs it",
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
