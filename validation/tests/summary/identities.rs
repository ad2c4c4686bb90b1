//! Results that must be identical by definition, and finer steps that must come closer.

use daylift_grid::Outages;
use daylift_plant::{Arrangement, Plant};
use daylift_study::{Memory, Stages, compare};
use daylift_supply::{Flow, MonthBook, NoRecorder};
use daylift_units::Step;
use daylift_units::constants::KWH_J;
use daylift_validation::{Allowed, Report, Row, Worst};
use serde_json::Value;

use crate::data::{self, Outcome};

const SOURCE: &str = "identity";
/// Below this difference, a finer step need not be closer.
const SETTLED: f64 = 1e-3;

/// Two arrangements that become one, and finer steps.
pub(crate) fn check(report: &mut Report) -> Outcome {
    let plant = data::plant("greensboro")?;
    let mut never_out = plant.clone();
    never_out.grid.outages = Outages::default();
    let what = "dual-mode without outages is grid-tied";
    same_year(&never_out, Arrangement::DUAL_MODE, Arrangement::GRID_TIED, what, report)?;
    let mut always_out = plant.clone();
    always_out.grid.outages = Outages::always(plant.site.axis.length_s());
    always_out.design.switch_times.to_drive_s = 0.0;
    let what = "dual-mode without the grid is solar-drive";
    same_year(
        &always_out,
        Arrangement::DUAL_MODE,
        Arrangement::SOLAR_DRIVE,
        what,
        report,
    )?;
    finer_steps(&plant, report);
    Ok(())
}

fn same_year(plant: &Plant, one: Arrangement, other: Arrangement, what: &str, report: &mut Report) -> Outcome {
    let answer = compare(plant, Step::Hour, &[]);
    let of = |wanted: Arrangement| -> Outcome<Vec<(String, f64)>> {
        let row = answer.row(wanted).map(|one| &one.row);
        let mut out = Vec::new();
        let row = serde_json::to_value(row.ok_or("an arrangement is missing")?)?;
        for section in ["array_kwh", "grid_kwh", "pump_kwh", "load_kwh", "water_m3", "hours"] {
            numbers(section, &row[section], &mut out);
        }
        Ok(out)
    };
    let (ours, theirs) = (of(one)?, of(other)?);
    let mut worst = Worst::new(Allowed::relative(1e-9));
    for ((name, ours), (_, theirs)) in ours.iter().zip(&theirs) {
        worst.see_of(name.as_str(), *ours, *theirs, theirs.abs().max(1.0));
    }
    report.push(worst.row(what, SOURCE));
    Ok(())
}

/// Every number below a value, with its dotted name.
fn numbers(name: &str, value: &Value, out: &mut Vec<(String, f64)>) {
    if let Some(map) = value.as_object() {
        for (key, below) in map {
            numbers(&format!("{name}.{key}"), below, out);
        }
    } else if let Some(number) = value.as_f64() {
        out.push((name.to_owned(), number));
    }
}

/// An arrangement and a quantity of its year.
type Quantity = (Arrangement, &'static str, fn(&MonthBook) -> f64);

const QUANTITIES: [Quantity; 3] = [
    (Arrangement::DUAL_MODE, "available kWh", |book| {
        book[Flow::Available] / KWH_J
    }),
    (Arrangement::DUAL_MODE, "delivered m³", |book| book[Flow::Delivered]),
    (Arrangement::SOLAR_DRIVE, "delivered m³", |book| book[Flow::Delivered]),
];

fn finer_steps(plant: &Plant, report: &mut Report) {
    let [hour, ten, minute] = [Step::Hour, Step::TenMinutes, Step::Minute].map(|step| at_step(plant, step));
    for (i, (arrangement, name, _)) in QUANTITIES.iter().enumerate() {
        let what = format!("{arrangement}, {name}, 10 min compared with 1 min");
        report.push(Row::new(&what, SOURCE, ten[i], minute[i], Allowed::relative(0.005)));
        let away = |value: f64| (value / minute[i] - 1.0).abs();
        let (coarse, fine) = (away(hour[i]), away(ten[i]));
        report.push(Row {
            what: format!("{arrangement}, {name}, 10 min closer to 1 min than 1 h is"),
            source: SOURCE.to_owned(),
            ours: format!("{:.4}%", fine * 100.0),
            theirs: format!("{:.4}%", coarse * 100.0),
            difference: "–".to_owned(),
            allowed: "less, or both < 0.1%".to_owned(),
            ok: fine < coarse || (fine < SETTLED && coarse < SETTLED),
        });
    }
}

fn at_step(plant: &Plant, step: Step) -> [f64; QUANTITIES.len()] {
    let memory = Memory::none();
    let stages = Stages::new(plant, step, &memory);
    QUANTITIES.map(|(arrangement, _, quantity)| quantity(&stages.year(arrangement, &mut NoRecorder).ledger.year()))
}
