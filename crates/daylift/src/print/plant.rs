//! What `check` understood of a plant.

use daylift_plant::provenance::counts;
use daylift_plant::{Origin, OriginValue, Plant, Read, State};
use daylift_units::constants::HOUR_S;
use daylift_units::field::number;

use super::number::short;
use super::table;

/// A short description, the warnings, and the values that were not given or not confirmed.
pub(crate) fn summary(read: &Read) -> String {
    let plant = &read.plant;
    let mut out = format!("{}: no faults\n\n", plant.name);
    for (name, value) in facts(plant) {
        out += &format!("  {name:<15} {value}\n");
    }
    if !read.warnings.is_empty() {
        out += "\nWarnings\n";
        for warning in &read.warnings {
            out += &format!("  {warning}\n");
        }
    }
    out + &origins(read)
}

fn facts(plant: &Plant) -> Vec<(&'static str, String)> {
    let mut out = vec![(
        "weather",
        format!("{}, {} days", plant.weather_source.station, plant.weather.days()),
    )];
    if let Some(array) = &plant.array {
        let group = &array.group;
        let kwp = group.stc_w() / 1e3;
        out.push((
            "array",
            format!(
                "{kwp:.2} kWp: {} strings of {} {}",
                group.parallel(),
                group.series(),
                group.module().sheet().name
            ),
        ));
    }
    if let Some(feeder) = &plant.feeder {
        out.push((
            "inverter",
            format!(
                "{}, {:.1} kW",
                feeder.inverter.sheet().name,
                feeder.inverter.rated_w() / 1e3
            ),
        ));
    }
    out.extend(pump_facts(plant));
    out.push(("tank", format!("{} m³", short(plant.tank.capacity_m3()))));
    let outage_h = plant.grid.outages.total_s() / HOUR_S;
    let share = plant.grid.outages.total_s() / plant.site.axis.length_s();
    out.push((
        "outages",
        format!(
            "{} in the year, {} h, {:.1}% of the hours",
            plant.grid.outages.intervals().len(),
            short(outage_h),
            share * 100.0
        ),
    ));
    let names: Vec<&str> = plant.arrangements().into_iter().map(daylift_plant::Arrangement::id).collect();
    out.push((
        "arrangements",
        format!("{}; reference {}", names.join(", "), plant.reference),
    ));
    out
}

fn pump_facts(plant: &Plant) -> Vec<(&'static str, String)> {
    let set = &plant.pump_set;
    let fit = set.pump().fit_errors();
    let mut out = vec![(
        "pump",
        format!(
            "{}; curve fitted within {:.1} m of head and {:.1} points of efficiency",
            set.pump().name(),
            fit.head_m,
            fit.efficiency * 100.0
        ),
    )];
    let months: Vec<usize> = (0..12).collect();
    let deepest = months
        .into_iter()
        .max_by(|&a, &b| set.system().static_head_m(a).total_cmp(&set.system().static_head_m(b)));
    if let Some(point) = deepest.and_then(|m| set.mains(m)) {
        let duty = point.duty;
        out.push((
            "duty on mains",
            format!(
                "{:.1} m³/h at {:.1} m, shaft {:.2} kW, from the cable {:.2} kW, with the deepest standing water",
                duty.flow_m3_s * HOUR_S,
                duty.head_m,
                duty.shaft_w / 1e3,
                point.supply_w / 1e3
            ),
        ));
    }
    if let (Some(point), Some(array)) = (deepest.and_then(|m| set.drive_point(m, set.wanted_hz())), &plant.array) {
        let ratio = array.group.stc_w() / point.dc_w;
        out.push((
            "array to pump",
            format!(
                "{ratio:.2} kWp for each kW of the drive's DC input at {:.0} Hz ({:.2} kW)",
                set.wanted_hz(),
                point.dc_w / 1e3
            ),
        ));
    }
    out
}

/// Counts of values by origin, and a table of those that nobody has confirmed.
fn origins(read: &Read) -> String {
    let [given, assumed, default] = counts(&read.origins);
    let count = format!("\n{given} values given, {assumed} assumed, {default} by default\n");
    let header = ["Not confirmed on the farm", "value", "origin"].map(str::to_owned);
    let mut table = table::new(&header);
    if let Some(column) = table.column_mut(2) {
        column.set_cell_alignment(comfy_table::CellAlignment::Left);
    }
    for origin in read.origins.iter().filter(|o| o.state != State::Given) {
        let from = format!("{}: {}", origin.state.id(), origin.source);
        table.add_row([&origin.path, &value_text(origin), &from]);
    }
    if table.is_empty() {
        count
    } else {
        format!("{count}\n{}", table::text(&table))
    }
}

/// Numbers of a list that are told at its beginning.
const NUMBERS_TOLD: usize = 3;

fn value_text(origin: &Origin) -> String {
    let value = match &origin.value {
        OriginValue::Number(value) => number(*value),
        OriginValue::Text(text) => text.clone(),
        OriginValue::Numbers(values) => {
            let told: Vec<String> = values.iter().take(NUMBERS_TOLD).map(|v| number(*v)).collect();
            let more = if values.len() > NUMBERS_TOLD { " …" } else { "" };
            format!("{}{more}", told.join(", "))
        }
    };
    match origin.unit {
        "" => value,
        "°" | "%" if !value.ends_with('…') => format!("{value}{}", origin.unit),
        unit => format!("{value} {unit}"),
    }
}
