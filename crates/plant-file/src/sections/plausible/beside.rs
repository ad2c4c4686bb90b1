//! Whether battery, generator, second input and bigger tank fit the plant.

use daylift_plant::{InputKind, LoadsFed, Plant, Set, Wiring};
use daylift_units::constants::KWH_J;
use daylift_units::{Fault, Warning};

/// A source that starts a motor direct on line should have this many times the power that the motor takes (usual practice:
/// the motor draws six to eight times its rated current for some seconds).
const FOR_DIRECT_START: f64 = 2.5;

/// A yield below this at full load is not plausible \[kWh/l\] (usual practice: 2.5 to 4.3).
const LEAST_KWH_PER_L: f64 = 1.5;
/// Fraction of the voltage for full flux that a drive on mains may lack: a few per cent of flux weakening (usual practice).
const FLUX_WEAKENING: f64 = 0.10;

/// The warnings about parts in addition to grid, array and drive.
pub(super) fn warnings(plant: &Plant) -> Vec<Warning> {
    let mut out = unused(plant);
    let beside = &plant.beside;
    let has_island = plant.arrangements().iter().any(|row| row.wiring == Wiring::BatteryHybrid);
    if let Some(battery) = beside.battery.as_ref().filter(|_| has_island) {
        out.extend(starts(
            plant,
            "battery",
            battery.sheet().discharge_w,
            "in an outage it runs only with enough sun, and a generator does not start until the battery is empty",
        ));
    }
    if let Some(generator) = &beside.generator {
        out.extend(starts(
            plant,
            "generator",
            generator.set.rated_w(),
            "the generator never runs it direct on line",
        ));
        let yield_kwh_l = generator.set.full_load_kwh_per_l();
        if yield_kwh_l < LEAST_KWH_PER_L {
            let text = format!("it makes {yield_kwh_l:.1} kWh per litre at full load; the usual range is 2.5 to 4.3");
            out.push(Warning::new("generator", text));
        }
    }
    out.extend(low_speed(plant));
    out.extend(low_bus(plant));
    out.extend(dark_loads(plant));
    out.extend(never_replaced(plant));
    out
}

/// The fault of an island that would shut down and restart within less than `least_s`.
pub(super) fn battery_fault(plant: &Plant, least_s: f64) -> Option<Fault> {
    let battery = plant.beside.battery.as_ref()?;
    let sheet = battery.sheet();
    let band_j = battery.restart_j() - battery.least_j();
    let fastest_w = (sheet.charge_w * sheet.charge_efficiency).max(sheet.discharge_w / sheet.discharge_efficiency);
    let lasts_s = band_j / fastest_w;
    (lasts_s < least_s).then(|| {
        Fault::new(
            "restart_pct",
            "content at which supply without the grid restarts after the battery ran empty",
            format!(
                "the {:.3} kWh from the minimum content to there last {lasts_s:.1} s",
                band_j / KWH_J
            ),
            format!("at least {least_s:.0} s, or the island would switch on and off"),
            "raise `restart_pct`, or correct `capacity_kwh`, `charge_kw` or `discharge_kw` of the battery file",
        )
    })
}

/// Parts that no row uses.
fn unused(plant: &Plant) -> Vec<Warning> {
    let (beside, rows) = (&plant.beside, plant.arrangements());
    let has_row = |wiring: Wiring| rows.iter().any(|row| row.wiring == wiring);
    let mut out = Vec::new();
    if beside.second_input.is_some() && !has_row(Wiring::SolarDriveWithGrid) {
        let text = "there is no drive with strings and mains: nothing uses it";
        out.push(Warning::new("grid_input", text));
    }
    if beside.battery.is_some() && !has_row(Wiring::BatteryHybrid) {
        out.push(Warning::new(
            "battery",
            "there is no inverter with strings: nothing uses it",
        ));
    }
    if let Some(generator) = &beside.generator {
        let without = generator
            .beside
            .iter()
            .filter(|w| !rows.iter().any(|row| row.generator && row.wiring == **w));
        out.extend(without.map(|wiring| no_row("generator", *wiring)));
    }
    if let Some(tank) = &beside.night_tank {
        let without = tank.beside.iter().filter(|w| !rows.iter().any(|row| row.night_tank && row.wiring == **w));
        out.extend(without.map(|wiring| no_row("night_tank", *wiring)));
    }
    out.extend(unused_flags(plant, has_row(Wiring::BatteryHybrid)));
    out.extend(unused_export(plant, rows.iter().any(|row| row.wiring.needs_inverter())));
    out
}

fn no_row(section: &str, wiring: Wiring) -> Warning {
    let text = format!(
        "the plant has no {}, so this combination is not calculated",
        wiring.id()
    );
    Warning::new(section, text)
}

/// Backed-up loads that nothing feeds, and a generator for backed-up loads in a plant without any.
fn unused_flags(plant: &Plant, has_island: bool) -> Vec<Warning> {
    let fed = plant.beside.generator.as_ref().map_or(LoadsFed::None, |g| g.loads);
    let any_backed_up = !plant.grid.backed_up.is_none();
    let (subject, text) = match (any_backed_up, fed) {
        (true, LoadsFed::None) if !has_island => (
            "load",
            "nothing feeds the backed-up loads: there is no battery, and no generator with loads = \"backed-up\"",
        ),
        (true, LoadsFed::All) if !has_island => (
            "load",
            "`backed_up` has no effect: the generator feeds all loads, and there is no battery",
        ),
        (false, LoadsFed::BackedUp) => (
            "generator",
            "loads = \"backed-up\", but no load is backed up: add `backed_up = true` to a load",
        ),
        _ => return Vec::new(),
    };
    vec![Warning::new(subject, text)]
}

/// A line or an export limit in a plant that exports nothing.
fn unused_export(plant: &Plant, exports: bool) -> Vec<Warning> {
    let export = &plant.grid.export;
    let line = export.line().is_some() && (!exports || export.agreed_w() <= 0.0);
    let limit = !exports && export.agreed_w() > 0.0 && export.agreed_w().is_finite();
    let unused = [(line, "[grid.line]"), (limit, "`export_limit_kw`")];
    let unused_parts = unused.into_iter().filter(|(is, _)| *is);
    unused_parts
        .map(|(_, what)| Warning::new("grid", format!("there is no export: nothing uses {what}")))
        .collect()
}

/// Warnings for pumps that a source of `power_w` cannot start or run. `too_small` says what happens when it cannot run one.
fn starts(plant: &Plant, subject: &str, power_w: f64, too_small: &str) -> Vec<Warning> {
    let greatest_w = |set: &Set| {
        let points = daylift_units::Month::ALL.into_iter().filter_map(|month| set.pump_set.mains(month));
        points.map(|p| p.duty.motor_w + p.duty.cable_w).fold(0.0, f64::max)
    };
    let mut out = Vec::new();
    for set in &plant.sets {
        let takes_w = greatest_w(set);
        let (takes_kw, has_kw) = (takes_w / 1e3, power_w / 1e3);
        if takes_w > power_w {
            let text = format!(
                "{} takes {takes_kw:.1} kW, but it supplies only {has_kw:.1} kW: {too_small}",
                set.name
            );
            out.push(Warning::new(subject, text));
        } else if takes_w * FOR_DIRECT_START > power_w {
            let text = format!(
                "{} takes {takes_kw:.1} kW from a supply of {has_kw:.1} kW: a motor that starts direct on line needs about {FOR_DIRECT_START} times the power that it takes in service (usual practice, no source); verify the start, or fit a soft starter",
                set.name
            );
            out.push(Warning::new(subject, text));
        }
    }
    out
}

/// Minimum speeds kept up by mains at which the pump gives no flow.
fn low_speed(plant: &Plant) -> Vec<Warning> {
    let Some(input) = &plant.beside.second_input else {
        return Vec::new();
    };
    let driven = plant.sets.iter().filter(|set| set.pump_set.drive().is_some());
    driven
        .filter_map(|set| {
            let start_hz = daylift_units::Month::ALL.into_iter().map(|month| set.pump_set.start_hz(month)).fold(f64::INFINITY, f64::min);
            let share = start_hz / set.pump_set.wanted_hz();
            let low = input.wanted_speed.values().filter(|speed| **speed < share).count();
            (low > 0).then(|| {
                let text = format!(
                    "in {low} of 24 hours the minimum speed that mains maintains is below {:.0}% of the wanted frequency, at which the flow of {} begins: mains has no effect then",
                    share * 100.0,
                    set.name
                );
                Warning::new("grid_input", text)
            })
        })
        .collect()
}

/// A rectified bus far below the voltage that full flux at the wanted frequency needs.
fn low_bus(plant: &Plant) -> Vec<Warning> {
    let Some(InputKind::Blend { line_voltage_v }) = plant.beside.second_input.map(|input| input.kind) else {
        return Vec::new();
    };
    let held_v = daylift_lift::rectified_v(line_voltage_v);
    let needs = plant.sets.iter().filter_map(|set| {
        let need_v = set.pump_set.bus_v_per_hz()? * set.pump_set.wanted_hz();
        (held_v < need_v * (1.0 - FLUX_WEAKENING)).then(|| {
            let text = format!(
                "mains holds the bus at {held_v:.0} V, but the drive of {} needs {need_v:.0} V for full flux at the wanted frequency: the results assume that it reaches this frequency, which it cannot",
                set.name
            );
            Warning::new("grid_input", text)
        })
    });
    needs.collect()
}

/// Loads that nothing feeds on a farm without a grid.
fn dark_loads(plant: &Plant) -> Vec<Warning> {
    let fed_all = plant.beside.generator.as_ref().is_some_and(|g| g.loads == LoadsFed::All);
    let dark = !plant.grid.connected && !plant.grid.loads.is_none() && plant.grid.backed_up.is_none() && !fed_all;
    let text = "there is no grid, and no load is backed up: the loads have no power in any arrangement";
    dark.then(|| Warning::new("load", text)).into_iter().collect()
}

/// Replacements that are due only after the calculated years.
fn never_replaced(plant: &Plant) -> Vec<Warning> {
    let Some(costs) = &plant.costs else {
        return Vec::new();
    };
    let years = costs.terms.years;
    let late = costs.replacements.iter().filter(|r| r.every_years >= years);
    late.map(|r| {
        let text = format!(
            "\"{}\" is replaced after {} years, but the calculation covers {years} years: it is never replaced",
            r.line.item, r.every_years
        );
        Warning::new("money", text)
    })
    .collect()
}
