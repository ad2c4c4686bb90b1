//! The summary of a plant that `check` prints.

mod beside;
mod values;

use daylift_lift::PumpSet;
use daylift_plant::{Group, Plant};
use daylift_plant_file::Read;
use daylift_present::number::{percent, short};
use daylift_present::say;
use daylift_study::{SetAtDuty, sets_at_duty};
use daylift_units::constants::HOUR_S;

/// Which values `check` prints.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Values<'a> {
    /// Their counts, and those to confirm first; the plant as it was named in the call.
    InShort(&'a str),
    /// Every one.
    All,
}

/// A short description, the warnings, the verdict on the strings, and the values by origin.
pub(crate) fn summary(read: &Read, strings: &str, of_values: Values<'_>) -> String {
    let plant = &read.plant;
    let head = match read.warnings.len() {
        0 => say!("check-no-faults", plant = &plant.name),
        count => say!("check-no-faults.warnings", plant = &plant.name, count = count),
    };
    let mut out = format!("{head}\n\n");
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
    out += strings;
    out + &match of_values {
        Values::InShort(plant) => values::summary(&read.origins, plant),
        Values::All => values::all(&read.origins),
    }
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
        if let [group] = &array.groups.raw[..] {
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
        let misfit = percent(Some(feeder.inverter.losses().misfit().share));
        put(&misfit_name(), say!("check-misfit.inverter", inverter = misfit));
    }
    for (set, at_duty) in plant.sets.iter().zip(sets_at_duty(plant)) {
        for (name, value) in pump_facts(&set.pump_set, &at_duty) {
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
    let in_words = |count: usize, total_s: f64| {
        let share = percent(Some(total_s / plant.site.axis.length_s()));
        let (count, hours) = (count.to_string(), short(total_s / HOUR_S));
        say!("check-outages.value", count = count, hours = hours, share = share)
    };
    let all = in_words(outages.intervals().len(), outages.total_s());
    let mut out = vec![(say!("check-outages"), all)];
    // A plain list alone equals the total.
    let plain = matches!(outages.sources(), [one] if one.name.starts_with("list "));
    for source in outages.sources().iter().filter(|_| !plain) {
        let outages = in_words(source.count, source.total_s);
        let text = say!("check-outages.of", source = &source.name, outages = outages);
        out.push((String::new(), text));
    }
    out
}

/// `3 strings of 15 …`, with the group's name and devices if there are several groups.
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

fn misfit_name() -> String {
    format!("  {}", say!("check-misfit"))
}

/// The worst misfits of pump, motor and drive.
fn misfits(set: &PumpSet) -> String {
    let of = |share: f64| percent(Some(share));
    let fit = set.pump().fit_errors();
    let motor = say!(
        "check-misfit.motor",
        head = of(fit.head_misfit.share),
        pump = of(fit.efficiency_misfit.share),
        motor = of(set.motor().misfit().share),
    );
    match set.drive() {
        Some(drive) => say!(
            "check-misfit.drive",
            motor = motor,
            drive = of(drive.losses().misfit().share)
        ),
        None => motor,
    }
}

/// Facts of a pump set; the pump itself comes without a name.
fn pump_facts(set: &PumpSet, at_duty: &SetAtDuty) -> Vec<(String, String)> {
    let fit = set.pump().fit_errors();
    let fitted = if set.pump().head_terms().is_some() {
        say!(
            "check-pump",
            name = set.pump().name(),
            head = format!("{:.1}", fit.head_m),
            points = format!("{:.1}", fit.efficiency * 100.0),
        )
    } else {
        say!("check-pump.through", name = set.pump().name())
    };
    let mut out = vec![(String::new(), fitted), (misfit_name(), misfits(set))];
    if let Some(duty) = at_duty.mains {
        let text = say!(
            "check-duty.value",
            flow = format!("{:.1}", duty.flow_m3_h),
            head = format!("{:.1}", duty.head_m),
            shaft = format!("{:.2}", duty.shaft_kw),
            supply = format!("{:.2}", duty.supply_kw),
        );
        out.push((format!("  {}", say!("check-duty")), text));
    }
    if let Some(array) = at_duty.array {
        let text = say!(
            "check-array-to-pump.value",
            ratio = format!("{:.2}", array.ratio),
            hz = format!("{:.0}", array.hz),
            dc = format!("{:.2}", array.dc_kw),
        );
        out.push((format!("  {}", say!("check-array-to-pump")), text));
    }
    out
}
