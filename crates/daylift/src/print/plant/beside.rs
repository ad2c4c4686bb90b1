//! What was understood of second input, battery, generating set, bigger tank and weak line.

use daylift_grid::{Battery, BatteryRule};
use daylift_plant::{GeneratorUse, InputKind, LoadsFed, Plant};
use daylift_units::constants::KWH_J;

use daylift_present::number::short;

pub(super) fn facts(plant: &Plant) -> Vec<(&'static str, String)> {
    let beside = &plant.beside;
    let input = beside.second_input.as_ref().map(|input| ("second input", second_input(input.kind)));
    let battery = beside.battery.as_ref().map(|b| ("battery", of_battery(b, plant.grid.connected)));
    let generator = beside.generator.as_ref().map(|g| ("generating set", of_generator(g)));
    let tank = beside.night_tank.as_ref().map(|night| {
        let text = format!("{} m³ in its place", short(night.tank.capacity_m3()));
        ("bigger tank", text)
    });
    let line = plant.grid.export.line().map(|line| {
        let text = format!(
            "{} Ω; bears {} kW of export before the inverters leave",
            short(line.resistance_ohm()),
            short(line.greatest_export_w() / 1e3)
        );
        ("weak line", text)
    });
    [input, battery, generator, tank, line].into_iter().flatten().collect()
}

fn second_input(kind: InputKind) -> String {
    match kind {
        InputKind::Switch { takes_over_below } if takes_over_below > 0.0 => format!(
            "the drive is on the sun or on mains; mains takes over below {}% of the wanted speed",
            short(takes_over_below * 100.0)
        ),
        InputKind::Switch { .. } => {
            "the drive is on the sun or on mains; mains takes over when the sun cannot run the pump".to_owned()
        }
        InputKind::Blend { line_voltage_v } => format!(
            "mains of {} V beside the sun; its rectifier holds the bus at {} V",
            short(line_voltage_v),
            short(daylift_lift::rectified_v(line_voltage_v))
        ),
    }
}

fn of_battery(battery: &Battery, has_grid: bool) -> String {
    let (sheet, kwh) = (battery.sheet(), |j: f64| short(j / KWH_J));
    let rule = match battery.rule() {
        _ if !has_grid => "holds an island all year".to_owned(),
        BatteryRule::SelfConsumption => {
            format!("gives down to {} kWh while the grid is there", kwh(battery.reserve_j()))
        }
        BatteryRule::Reserve => "gives in outages only".to_owned(),
    };
    format!(
        "{}: {} kWh, {} of them usable, {} kW in and {} kW out; {rule}",
        sheet.name,
        kwh(battery.capacity_j()),
        kwh(battery.capacity_j() - battery.least_j()),
        short(sheet.charge_w / 1e3),
        short(sheet.discharge_w / 1e3)
    )
}

fn of_generator(generator: &GeneratorUse) -> String {
    let loads = match generator.loads {
        LoadsFed::None => "no loads",
        LoadsFed::BackedUp => "the backed-up loads",
        LoadsFed::All => "all loads",
    };
    let pumps = if generator.pumps_only_when_low {
        "pumps when the tank is low"
    } else {
        "pumps when water is wanted"
    };
    format!(
        "{}: {} kW, {:.1} kWh out of a litre at full load; feeds {loads}, {pumps}",
        generator.set.sheet().name,
        short(generator.set.rated_w() / 1e3),
        generator.set.full_load_kwh_per_l()
    )
}
