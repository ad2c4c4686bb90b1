//! Summary of second input, battery, generator, bigger tank and weak line.

use daylift_grid::{Battery, BatteryRule};
use daylift_plant::{GeneratorUse, InputKind, LoadsFed, Plant, Restart};
use daylift_present::number::short;
use daylift_present::rule;
use daylift_present::say;
use daylift_units::constants::KWH_J;

pub(super) fn facts(plant: &Plant) -> Vec<(String, String)> {
    let beside = &plant.beside;
    let input = beside
        .second_input
        .as_ref()
        .map(|input| (say!("check-second-input"), second_input(input.kind)));
    let of = |b: &Battery| (say!("check-battery"), of_battery(b, plant.grid.connected));
    let battery = beside.battery.as_ref().map(of);
    let generator = beside.generator.as_ref().map(|g| (say!("check-generator"), of_generator(g)));
    let tank = beside.night_tank.as_ref().map(|night| {
        let content = short(night.tank.capacity_m3());
        (
            say!("check-bigger-tank"),
            say!("check-bigger-tank.value", content = content),
        )
    });
    let line = plant.grid.export.line().map(|line| {
        let (ohm, power) = (short(line.resistance_ohm()), short(line.greatest_export_w() / 1e3));
        (
            say!("check-weak-line"),
            say!("check-weak-line.value", ohm = ohm, power = power),
        )
    });
    let restart = match plant.restart {
        Restart::Automatic => None,
        Restart::ByHand { attended, .. } => {
            let hours = rule::windows(&attended.windows());
            Some((say!("check-restart"), say!("check-restart.value", hours = hours)))
        }
    };
    [input, battery, generator, tank, line, restart].into_iter().flatten().collect()
}

fn second_input(kind: InputKind) -> String {
    match kind {
        InputKind::Switch { takes_over_below } if takes_over_below > 0.0 => {
            say!("check-second-input.below", share = short(takes_over_below * 100.0))
        }
        InputKind::Switch { .. } => say!("check-second-input.cannot"),
        InputKind::Blend { line_voltage_v } => {
            let bus = short(daylift_lift::rectified_v(line_voltage_v));
            say!("check-second-input.blend", line = short(line_voltage_v), bus = bus)
        }
    }
}

fn of_battery(battery: &Battery, has_grid: bool) -> String {
    let (sheet, kwh) = (battery.sheet(), |j: f64| short(j / KWH_J));
    let rule = match battery.rule() {
        _ if !has_grid => say!("check-battery.island"),
        BatteryRule::SelfConsumption => say!("check-battery.reserve-kept", reserve = kwh(battery.reserve_j())),
        BatteryRule::Reserve => say!("check-battery.outages"),
    };
    say!(
        "check-battery.value",
        name = &sheet.name,
        content = kwh(battery.capacity_j()),
        usable = kwh(battery.capacity_j() - battery.least_j()),
        charge = short(sheet.charge_w / 1e3),
        discharge = short(sheet.discharge_w / 1e3),
        rule = rule,
    )
}

fn of_generator(generator: &GeneratorUse) -> String {
    let loads = match generator.loads {
        LoadsFed::None => say!("check-generator.loads-none"),
        LoadsFed::BackedUp => say!("check-generator.loads-backed-up"),
        LoadsFed::All => say!("check-generator.loads-all"),
    };
    let pumps = if generator.pumps_only_when_low {
        say!("check-generator.pumps-low")
    } else {
        say!("check-generator.pumps-wanted")
    };
    let start = match generator.hours.windows().as_slice() {
        [[0, 24]] => say!("check-generator.any-hour"),
        hours => say!("check-generator.attended", hours = rule::windows(hours)),
    };
    say!(
        "check-generator.value",
        name = &generator.set.sheet().name,
        power = short(generator.set.rated_w() / 1e3),
        made = format!("{:.1}", generator.set.full_load_kwh_per_l()),
        loads = loads,
        pumps = pumps,
        start = start,
    )
}
