//! What `check` understood of a plant.

mod beside;

use daylift_lift::PumpSet;
use daylift_plant::{Group, Plant};
use daylift_plant_file::provenance::counts;
use daylift_plant_file::{Origin, OriginValue, Read, State};
use daylift_units::constants::HOUR_S;
use daylift_units::field::number;

use super::number::short;
use super::table;

/// A short description, the warnings, what is said of the strings, and the values that were not given or not confirmed.
pub(crate) fn summary(read: &Read, strings: &str) -> String {
    let plant = &read.plant;
    let mut out = format!("{}: no faults\n\n", plant.name);
    let facts = facts(plant);
    let width = facts.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
    for (name, value) in &facts {
        out += &format!("  {name:<width$}  {value}\n");
    }
    if !read.warnings.is_empty() {
        out += "\nWarnings\n";
        for warning in &read.warnings {
            out += &format!("  {warning}\n");
        }
    }
    out + strings + &origins(read)
}

fn facts(plant: &Plant) -> Vec<(String, String)> {
    let mut out = vec![(
        "weather".to_owned(),
        format!("{}, {} days", plant.weather_source, plant.weather.days()),
    )];
    let mut put = |name: &str, value: String| out.push((name.to_owned(), value));
    if let Some(array) = &plant.array {
        let kwp = array.stc_w() / 1e3;
        if let [group] = &array.groups[..] {
            put("array", format!("{kwp:.2} kWp: {}", group_fact(plant, group)));
        } else {
            put("array", format!("{kwp:.2} kWp in {} groups", array.groups.len()));
            for group in &array.groups {
                put("", group_fact(plant, group));
            }
        }
    }
    for feeder in &plant.feeders {
        let sheet = feeder.inverter.sheet();
        put(&feeder.name, format!("{}, {:.1} kW", sheet.name, sheet.rated_w / 1e3));
    }
    for (i, set) in plant.sets.iter().enumerate() {
        for (name, value) in pump_facts(plant, i) {
            put(if name.is_empty() { &set.name } else { name }, value);
        }
    }
    put("tank", format!("{} m³", short(plant.tank.capacity_m3())));
    for (name, value) in outage_facts(plant) {
        put(name, value);
    }
    for (name, value) in beside::facts(plant) {
        put(name, value);
    }
    let names: Vec<&str> = plant.arrangements().into_iter().map(daylift_plant::Arrangement::id).collect();
    put(
        "arrangements",
        format!("{}; reference {}", names.join(", "), plant.reference),
    );
    out
}

/// All outages, and each source by itself where there is more than a plain list.
fn outage_facts(plant: &Plant) -> Vec<(&'static str, String)> {
    let outages = &plant.grid.outages;
    if !plant.grid.connected {
        return vec![("outages", "no grid".to_owned())];
    }
    let told = |count: usize, total_s: f64| {
        let share = total_s / plant.site.axis.length_s();
        format!(
            "{count} in the year, {} h, {:.1}% of the hours",
            short(total_s / HOUR_S),
            share * 100.0
        )
    };
    let mut out = vec![("outages", told(outages.intervals().len(), outages.total_s()))];
    // A plain list by itself says what the whole says.
    let plain = matches!(outages.sources(), [one] if one.name.starts_with("list "));
    for source in outages.sources().iter().filter(|_| !plain) {
        out.push(("", format!("{}: {}", source.name, told(source.count, source.total_s))));
    }
    out
}

/// `3 strings of 15 …`, with the group's name and devices where there are several.
fn group_fact(plant: &Plant, group: &Group) -> String {
    let strings = &group.strings;
    let text = format!(
        "{} string{} of {} {}",
        strings.parallel(),
        if strings.parallel() == 1 { "" } else { "s" },
        strings.series(),
        strings.module().sheet().name
    );
    if plant.array.as_ref().is_some_and(|a| a.groups.len() < 2) {
        return text;
    }
    let inverter = group.inverter.and_then(|i| plant.feeders.get(i)).map(|f| f.name.as_str());
    let drive = group.set.and_then(|s| plant.sets.get(s)).map(|s| s.name.as_str());
    let devices: Vec<String> = [inverter.map(str::to_owned), drive.map(|d| format!("the drive of {d}"))]
        .into_iter()
        .flatten()
        .collect();
    format!("{} ({text}; on {})", group.name, devices.join(" and "))
}

/// Facts of a pump set; the one without a name is the pump itself.
fn pump_facts(plant: &Plant, index: usize) -> Vec<(&'static str, String)> {
    let set = &plant.sets[index].pump_set;
    let fit = set.pump().fit_errors();
    let mut out = vec![(
        "",
        format!(
            "{}; curve fitted within {:.1} m of head and {:.1} points of efficiency",
            set.pump().name(),
            fit.head_m,
            fit.efficiency * 100.0
        ),
    )];
    let Some(deepest) = deepest_month(set) else { return out };
    if let Some(point) = set.mains(deepest) {
        let duty = point.duty;
        let text = format!(
            "{:.1} m³/h at {:.1} m, shaft {:.2} kW, from the cable {:.2} kW, with the deepest standing water",
            duty.flow_m3_s * HOUR_S,
            duty.head_m,
            duty.shaft_w / 1e3,
            point.supply_w / 1e3
        );
        out.push(("  duty, rated speed", text));
    }
    let groups = plant.array.iter().flat_map(|a| &a.groups).filter(|g| g.set == Some(index));
    let stc_w: f64 = groups.map(|g| g.strings.stc_w()).sum();
    if let Some(point) = set.drive_point(deepest, set.wanted_hz()).filter(|_| stc_w > 0.0) {
        let text = format!(
            "{:.2} kWp for each kW of the drive's DC input at {:.0} Hz ({:.2} kW)",
            stc_w / point.dc_w,
            set.wanted_hz(),
            point.dc_w / 1e3
        );
        out.push(("  array to pump", text));
    }
    out
}

fn deepest_month(set: &PumpSet) -> Option<daylift_units::Month> {
    daylift_units::Month::ALL
        .into_iter()
        .max_by(|&a, &b| set.system().static_head_m(a).total_cmp(&set.system().static_head_m(b)))
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
