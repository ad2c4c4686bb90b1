//! What `check` understood of a plant.

mod beside;

use daylift_lift::PumpSet;
use daylift_plant::{Group, Plant};
use daylift_plant_file::provenance::counts;
use daylift_plant_file::{Origin, OriginValue, Read, ValueOrigin};
use daylift_units::constants::HOUR_S;
use daylift_units::field::number;

use super::table;
use daylift_present::number::{percent, short};
use daylift_present::{say, term};

/// A short description, the warnings, what is said of the strings, and the values that were not given or not confirmed.
pub(crate) fn summary(read: &Read, strings: &str) -> String {
    let plant = &read.plant;
    let mut out = format!("{}\n\n", say!("check-no-faults", plant = &plant.name));
    let facts = facts(plant);
    let width = facts.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
    for (name, value) in &facts {
        out += &format!("  {name:<width$}  {value}\n");
    }
    if !read.warnings.is_empty() {
        out += &format!("\n{}\n", say!("check-warnings"));
        for warning in &read.warnings {
            out += &format!("  {warning}\n");
        }
    }
    out + strings + &origins(read)
}

fn facts(plant: &Plant) -> Vec<(String, String)> {
    let weather = say!(
        "check-weather.value",
        source = plant.weather_source.to_string(),
        days = plant.weather.days().to_string(),
    );
    let mut out = vec![(say!("check-weather"), weather)];
    let mut put = |name: &str, value: String| out.push((name.to_owned(), value));
    if let Some(array) = &plant.array {
        let kwp = format!("{:.2}", array.stc_w() / 1e3);
        if let [group] = &array.groups[..] {
            let group = group_fact(plant, group);
            put(&say!("check-array"), say!("check-array.one", kwp = kwp, group = group));
        } else {
            let groups = array.groups.len().to_string();
            put(
                &say!("check-array"),
                say!("check-array.several", kwp = kwp, groups = groups),
            );
            for group in &array.groups {
                put("", group_fact(plant, group));
            }
        }
    }
    for feeder in &plant.feeders {
        let sheet = feeder.inverter.sheet();
        let power = format!("{:.1}", sheet.rated_w / 1e3);
        put(&feeder.name, say!("check-inverter", name = &sheet.name, power = power));
    }
    for (i, set) in plant.sets.iter().enumerate() {
        for (name, value) in pump_facts(plant, i) {
            put(if name.is_empty() { &set.name } else { &name }, value);
        }
    }
    let content = short(plant.tank.capacity_m3());
    put(&say!("check-tank"), say!("check-tank.value", content = content));
    for (name, value) in outage_facts(plant).into_iter().chain(beside::facts(plant)) {
        put(&name, value);
    }
    let names: Vec<&str> = plant.arrangements().into_iter().map(daylift_plant::Arrangement::id).collect();
    let rows = say!(
        "check-arrangements.value",
        rows = names.join(", "),
        today = plant.reference.id()
    );
    put(&say!("check-arrangements"), rows);
    out
}

/// All outages, and each source by itself where there is more than a plain list.
fn outage_facts(plant: &Plant) -> Vec<(String, String)> {
    let outages = &plant.grid.outages;
    if !plant.grid.connected {
        return vec![(say!("check-outages"), say!("check-outages.none"))];
    }
    let told = |count: usize, total_s: f64| {
        let share = percent(Some(total_s / plant.site.axis.length_s()));
        let (count, hours) = (count.to_string(), short(total_s / HOUR_S));
        say!("check-outages.value", count = count, hours = hours, share = share)
    };
    let all = told(outages.intervals().len(), outages.total_s());
    let mut out = vec![(say!("check-outages"), all)];
    // A plain list by itself says what the whole says.
    let plain = matches!(outages.sources(), [one] if one.name.starts_with("list "));
    for source in outages.sources().iter().filter(|_| !plain) {
        let outages = told(source.count, source.total_s);
        let text = say!("check-outages.of", source = &source.name, outages = outages);
        out.push((String::new(), text));
    }
    out
}

/// `3 strings of 15 …`, with the group's name and devices where there are several.
fn group_fact(plant: &Plant, group: &Group) -> String {
    let strings = &group.strings;
    let text = say!(
        "check-group",
        strings = strings.parallel(),
        series = strings.series().to_string(),
        module = &strings.module().sheet().name,
    );
    if plant.array.as_ref().is_some_and(|a| a.groups.len() < 2) {
        return text;
    }
    let inverter = group.inverter.and_then(|i| plant.feeders.get(i)).map(|f| f.name.as_str());
    let drive = group.set.and_then(|s| plant.sets.get(s)).map(|s| s.name.as_str());
    let drive = drive.map(|set| say!("check-group.drive", set = set));
    let devices = match (inverter, drive) {
        (Some(one), Some(other)) => say!("check-group.and", one = one, other = other),
        (one, other) => one.map(str::to_owned).or(other).unwrap_or_default(),
    };
    say!("check-group.named", name = &group.name, group = text, devices = devices)
}

/// Facts of a pump set; the one without a name is the pump itself.
fn pump_facts(plant: &Plant, index: usize) -> Vec<(String, String)> {
    let set = &plant.sets[index].pump_set;
    let fit = set.pump().fit_errors();
    let fitted = say!(
        "check-pump",
        name = set.pump().name(),
        head = format!("{:.1}", fit.head_m),
        points = format!("{:.1}", fit.efficiency * 100.0),
    );
    let mut out = vec![(String::new(), fitted)];
    let Some(deepest) = deepest_month(set) else { return out };
    if let Some(point) = set.mains(deepest) {
        let duty = point.duty;
        let text = say!(
            "check-duty.value",
            flow = format!("{:.1}", duty.flow_m3_s * HOUR_S),
            head = format!("{:.1}", duty.head_m),
            shaft = kilo(duty.shaft_w),
            supply = kilo(point.supply_w),
        );
        out.push((format!("  {}", say!("check-duty")), text));
    }
    let groups = plant.array.iter().flat_map(|a| &a.groups).filter(|g| g.set == Some(index));
    let stc_w: f64 = groups.map(|g| g.strings.stc_w()).sum();
    if let Some(point) = set.drive_point(deepest, set.wanted_hz()).filter(|_| stc_w > 0.0) {
        let text = say!(
            "check-array-to-pump.value",
            ratio = format!("{:.2}", stc_w / point.dc_w),
            hz = format!("{:.0}", set.wanted_hz()),
            dc = kilo(point.dc_w),
        );
        out.push((format!("  {}", say!("check-array-to-pump")), text));
    }
    out
}

fn kilo(watts: f64) -> String {
    format!("{:.2}", watts / 1e3)
}

fn deepest_month(set: &PumpSet) -> Option<daylift_units::Month> {
    daylift_units::Month::ALL
        .into_iter()
        .max_by(|&a, &b| set.system().static_head_m(a).total_cmp(&set.system().static_head_m(b)))
}

/// Counts of values by origin, and a table of those that nobody has confirmed.
fn origins(read: &Read) -> String {
    let count = format!("\n{}\n", counted(&read.origins));
    let header = [
        say!("check-origins.not-confirmed"),
        say!("check-origins.value"),
        say!("check-origins.origin"),
    ];
    let mut table = table::new(&header);
    if let Some(column) = table.column_mut(2) {
        column.set_cell_alignment(comfy_table::CellAlignment::Left);
    }
    for origin in read.origins.iter().filter(|o| !o.origin.is_relied_on()) {
        let from = format!("{}: {}", origin.origin.id(), origin.source);
        table.add_row([&origin.path, &value_text(origin), &from]);
    }
    if table.is_empty() {
        count
    } else {
        format!("{count}\n{}", table::text(&table))
    }
}

/// How many values are given, assumed and by default, and how many of any other origin there is.
fn counted(origins: &[ValueOrigin]) -> String {
    let of = |origin: Origin| counts(origins).iter().find(|(is, _)| *is == origin).map_or(0, |(_, count)| *count);
    let always = [Origin::Given, Origin::Assumed, Origin::Default];
    let rest = [Origin::Generic, Origin::Datasheet, Origin::Found, Origin::Confirmed];
    let told = always.into_iter().chain(rest.into_iter().filter(|origin| of(*origin) > 0));
    told.map(|origin| term!("origin-", origin, ".counted", count = of(origin).to_string()))
        .collect::<Vec<_>>()
        .join(", ")
}

/// Numbers of a list that are told at its beginning.
const NUMBERS_TOLD: usize = 3;

fn value_text(origin: &ValueOrigin) -> String {
    let value = match &origin.value {
        OriginValue::Number(value) => number(*value),
        OriginValue::Flag(flag) => flag.to_string(),
        OriginValue::Text(text) => text.clone(),
        OriginValue::Rule(words) => (*words).to_owned(),
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
