//! The whole year of every arrangement, compared with an independent loop, on eight plants.

use std::collections::BTreeMap;

use daylift_plant::Plant;
use daylift_study::{Comparison, Memory, Stages, compare};
use daylift_units::Step;
use daylift_validation::{Allowed, Report, Worst};
use serde_json::Value;

use crate::data::{self, Outcome, Table};

const SOURCE: &str = "independent loop, dual_mode_year.py";
const ALLOWED: Allowed = Allowed::relative(0.01);
/// A step of ten minutes in which the sun gives a set its share of the wanted flow to within the pump map's error (0.05 %)
/// may run on the sun in one program and on the generator in the other. On `rivals` this happens twice, on 3 July.
const ALLOWED_WATER: Allowed = Allowed::both(3.0, "m³", 0.01);
/// Days and starts are counts: one more or less may hang on a mark that the two programs reach a second apart.
const ALLOWED_COUNT: Allowed = Allowed::both(2.0, "", 0.01);
/// End of the id of a row whose rule the program searches for; the independent loop runs rules as written.
const SEARCHED: &str = "+best-rule";
/// A difference is relative to the value itself, but at least to this fraction of the group's total: so that a value of 0
/// can be compared at all.
const LEAST_SIZE: f64 = 1e-3;

/// A plant and the steps at which the independent loop ran it.
struct Subject {
    /// Folder of the plant, and its name in the rows.
    folder: &'static str,
    /// Start of the names of the tables.
    tables: &'static str,
    steps: &'static [(&'static str, Step)],
}

const SUBJECTS: [Subject; 8] = [
    Subject {
        folder: "greensboro",
        tables: "dual_mode",
        steps: &[("10min", Step::TenMinutes), ("1h", Step::Hour)],
    },
    // Well, drive and export limit this one.
    Subject {
        folder: "tight",
        tables: "tight",
        steps: &[("10min", Step::TenMinutes)],
    },
    // Two pump sets, planes and inverters, four string groups.
    Subject {
        folder: "pair",
        tables: "pair",
        steps: &[("10min", Step::TenMinutes)],
    },
    // The same with a set without a drive and a group without an inverter.
    Subject {
        folder: "mixed",
        tables: "mixed",
        steps: &[("10min", Step::TenMinutes)],
    },
    // Every arrangement: blend, self-consumption, an automatic set, a bigger tank, a weak line, credits by hour.
    Subject {
        folder: "rivals",
        tables: "rivals",
        steps: &[("10min", Step::TenMinutes), ("1h", Step::Hour)],
    },
    // Two pump sets: switch, a battery in reserve, a set started by hand and too small for both, loads first.
    Subject {
        folder: "rivals-pair",
        tables: "rivals-pair",
        steps: &[("10min", Step::TenMinutes)],
    },
    // Every rule of pumping: two windows, fill levels, surplus, rules of rows, restart by hand; cost lines by quantity.
    Subject {
        folder: "rules",
        tables: "rules",
        steps: &[("10min", Step::TenMinutes)],
    },
    // Devices as they are: tracking, heat, altitude, a sine filter, currents, reduced flux, least flow, waits on the sun.
    Subject {
        folder: "devices",
        tables: "devices",
        steps: &[("10min", Step::TenMinutes)],
    },
];

/// Some quantities that are judged together.
struct Group {
    name: &'static str,
    /// Starts of their names.
    prefixes: &'static [&'static str],
    /// Total to which small values are compared; without one each is compared with its own size.
    total: Option<&'static str>,
    allowed: Allowed,
}

const GROUPS: [Group; 11] = [
    Group {
        name: "water",
        prefixes: &[
            "water_m3.demand",
            "water_m3.pumped",
            "water_m3.delivered",
            "water_m3.shortfall",
        ],
        total: Some("water_m3.demand"),
        allowed: ALLOWED_WATER,
    },
    Group {
        name: "array's energy by use",
        prefixes: &["array_kwh.available", "array_kwh.to_", "array_kwh.exported"],
        total: Some("array_kwh.available"),
        allowed: ALLOWED,
    },
    Group {
        name: "array's energy lost by cause",
        prefixes: &["array_kwh.lost."],
        total: Some("array_kwh.available"),
        allowed: ALLOWED,
    },
    Group {
        name: "meter, pump and loads",
        prefixes: &["grid_kwh.", "pump_kwh.", "load_kwh."],
        total: Some("load_kwh.demand"),
        allowed: ALLOWED,
    },
    Group {
        name: "battery and generator",
        prefixes: &["battery_kwh.", "generator."],
        total: Some("load_kwh.demand"),
        allowed: ALLOWED,
    },
    Group {
        name: "hours",
        prefixes: &["hours."],
        total: Some("hours.outage"),
        allowed: ALLOWED,
    },
    Group {
        name: "money",
        prefixes: &["money.", "array_use"],
        total: None,
        allowed: ALLOWED,
    },
    Group {
        name: "service",
        prefixes: &["service."],
        total: Some("water_m3.demand"),
        allowed: ALLOWED,
    },
    // Without a total a word must be the same.
    Group {
        name: "service in words",
        prefixes: &["word.service."],
        total: None,
        allowed: ALLOWED,
    },
    Group {
        name: "shortage",
        prefixes: &["shortage."],
        total: None,
        allowed: ALLOWED_COUNT,
    },
    Group {
        name: "starts",
        prefixes: &["starts."],
        total: None,
        allowed: ALLOWED_COUNT,
    },
];

impl Group {
    fn is_in(&self, case: &Case, id: &str) -> bool {
        let of_row = case.theirs.keys().filter(|(arrangement, _)| arrangement == id);
        let mut quantities = of_row.map(|(_, quantity)| quantity).peekable();
        // A row that the independent program lacks entirely must fail, not be skipped.
        quantities.peek().is_none() || quantities.any(|q| self.prefixes.iter().any(|p| q.starts_with(p)))
    }
}

/// One step: results of the independent loop and of the program.
struct Case {
    step: &'static str,
    theirs: BTreeMap<(String, String), Option<f64>>,
    ours: Comparison,
}

/// Every plant.
pub(crate) fn check(report: &mut Report) -> Outcome {
    SUBJECTS.iter().try_for_each(|subject| check_subject(subject, report))
}

/// Every step, arrangement and group; weather and mains duty as well.
fn check_subject(subject: &Subject, report: &mut Report) -> Outcome {
    let name = subject.folder;
    let plant = data::plant(name)?;
    let mut cases = Vec::new();
    for (step, length) in subject.steps {
        cases.push(Case {
            step,
            theirs: read(&format!("{}_year_{step}.csv", subject.tables))?,
            ours: compare(&plant, *length, &[]),
        });
    }
    weather(name, &cases, report)?;
    mains(name, &plant, &cases[0], report)?;
    for (index, row) in cases[0].ours.rows.iter().map(|one| &one.row).enumerate() {
        if row.id.id().ends_with(SEARCHED) {
            continue;
        }
        // Plants without battery and generator have no such quantities in their tables.
        for group in GROUPS.iter().filter(|group| group.is_in(&cases[0], row.id.id())) {
            let mut worst = Worst::new(group.allowed);
            for case in &cases {
                let ours = serde_json::to_value(&case.ours.rows[index].row)?;
                see_group(group, case, row.id.id(), &ours, &mut worst)?;
            }
            report.push(worst.row(&format!("year of {name}, {}, {}", row.id, group.name), SOURCE));
        }
    }
    Ok(())
}

fn read(file: &str) -> Outcome<BTreeMap<(String, String), Option<f64>>> {
    let table = Table::read(file)?;
    let names = table.texts("arrangement")?.into_iter().zip(table.texts("quantity")?);
    let mut out = BTreeMap::new();
    for ((arrangement, quantity), value) in names.zip(table.texts("value")?) {
        let value = (!value.is_empty()).then(|| value.parse()).transpose()?;
        out.insert((arrangement.to_owned(), quantity.to_owned()), value);
    }
    Ok(out)
}

impl Case {
    fn number(&self, arrangement: &str, quantity: &str) -> Outcome<f64> {
        let found = self.theirs.get(&(arrangement.to_owned(), quantity.to_owned()));
        Ok(found.copied().flatten().ok_or_else(|| format!("no {quantity} of {arrangement}"))?)
    }
}

fn see_group(group: &Group, case: &Case, id: &str, ours: &Value, worst: &mut Worst) -> Outcome {
    let total = group.total.map_or(Ok(0.0), |total| case.number(id, total))?;
    for ((arrangement, quantity), theirs) in &case.theirs {
        if arrangement != id || !group.prefixes.iter().any(|prefix| quantity.starts_with(prefix)) {
            continue;
        }
        let size = theirs.map_or(1.0, f64::abs).max(LEAST_SIZE * total);
        let label = format!("{quantity} at {}", case.step);
        worst.see_maybe(&label, find(ours, quantity)?, *theirs, size);
    }
    Ok(())
}

/// A number of the answer by its dotted name; null is none. Words (`word.` before their name) become numbers.
fn find(answer: &Value, quantity: &str) -> Outcome<Option<f64>> {
    let name = quantity.strip_prefix("word.").unwrap_or(quantity);
    let pointer = format!("/{}", name.replace('.', "/"));
    let found = answer.pointer(&pointer).ok_or_else(|| format!("the answer has no {name}"))?;
    match found {
        Value::Bool(is_so) => Ok(Some(f64::from(u8::from(*is_so)))),
        Value::String(word) => Ok(Some(of_word(word)?)),
        _ => Ok(found.as_f64()),
    }
}

/// A word of service as the independent loop writes it.
fn of_word(word: &str) -> Outcome<f64> {
    match word {
        "less" => Ok(-1.0),
        "as-today" => Ok(0.0),
        "more" => Ok(1.0),
        other => Err(format!("no word of service: {other}").into()),
    }
}

/// The loop leaves out the light that falls in no step with sun; the program's sum is the file's.
fn weather(name: &str, cases: &[Case], report: &mut Report) -> Outcome {
    let mut worst = Worst::new(ALLOWED);
    for case in cases {
        let placed = case.number("weather", "ghi_kwh_m2")?;
        let of_file = placed + case.number("weather", "dropped_ghi_kwh_m2")?;
        worst.see(format!("GHI at {}", case.step), case.ours.weather.ghi_kwh_m2, of_file);
        let plane = case.number("weather", "plane_kwh_m2")?;
        worst.see(format!("plane at {}", case.step), case.ours.weather.plane_kwh_m2, plane);
    }
    report.push(worst.row(&format!("year of {name}, irradiation"), SOURCE));
    Ok(())
}

/// The duty point of every pump set on mains in every month.
fn mains(name: &str, plant: &Plant, case: &Case, report: &mut Report) -> Outcome {
    let memory = Memory::none();
    let stages = Stages::new(plant, Step::Hour, &memory);
    let mut worst = Worst::new(ALLOWED);
    for (set, offer) in plant.sets.iter().zip(&stages.offers.sets) {
        let prefix = if plant.sets.len() > 1 {
            format!("{}.", set.name)
        } else {
            String::new()
        };
        for (month, mains) in &offer.mains {
            let month = month.number();
            for (quantity, ours) in [
                ("flow", mains.flow_m3_s),
                ("motor_w", mains.motor_w),
                ("output_w", mains.bus_w()),
            ] {
                let theirs = case.number("pump", &format!("{prefix}{month:02}.rated.{quantity}"))?;
                worst.see(format!("{prefix}{quantity} in month {month}"), ours, theirs);
            }
        }
    }
    report.push(worst.row(&format!("year of {name}, duty on mains"), SOURCE));
    Ok(())
}
