//! Duty points.

use daylift_lift::{Pump, PumpSheet, Water};
use daylift_units::Month;
use daylift_validation::{Allowed, EpanetSet, Report, Row, Worst};

use crate::data::{self, Outcome, Table, faults_text};

const EPANET: &str = "EPANET toolkit, owa-epanet 2.3.5";
const TEXTBOOK: &str = "affinity laws, textbook pair, from memory";
const GALLON_PER_MINUTE_M3_S: f64 = 3.785_411_784e-3 / 60.0;
const FOOT_M: f64 = 0.3048;
const HORSEPOWER_W: f64 = 745.699_871_582;

/// Three sets at several speeds, two of them with and without drawdown; the affinity laws.
pub(crate) fn check(report: &mut Report) -> Outcome {
    let motor = data::plant("greensboro")?.sets.raw[0].pump_set.motor().clone();
    let table = Table::read("epanet_duty.csv")?;
    let names = table.texts("set")?;
    let (speeds, flows) = (table.numbers("speed")?, table.numbers("flow_m3_h")?);
    let heads = table.numbers("head_m")?;
    let allowed = Allowed::relative(0.01);
    let (mut flow, mut head) = (Worst::new(allowed), Worst::new(allowed));
    for sheet in EpanetSet::all()? {
        let set = sheet.pump_set(motor.clone())?;
        for (i, _) in names.iter().enumerate().filter(|(_, name)| **name == sheet.name) {
            let label = format!("{} at speed {}", sheet.name, speeds[i]);
            let duty = set.duty(Month::January, speeds[i]).ok_or("no flow")?;
            flow.see(label.as_str(), duty.flow_m3_s * 3600.0, flows[i]);
            head.see(label, duty.head_m, heads[i]);
        }
    }
    report.push(flow.row("flow at the duty point, m³/h", EPANET));
    report.push(head.row("head at the duty point, m", EPANET));
    affinity(report)
}

/// A pump of 200 gal/min, 400 ft and 40 hp at 3500 1/min gives 100 gal/min, 100 ft at 1750 1/min and takes 5 hp.
fn affinity(report: &mut Report) -> Outcome {
    let water = Water::at(20.0).map_err(faults_text)?;
    let scaled = |values: [f64; 4], unit: f64| values.map(|value| value * unit).to_vec();
    let pump = PumpSheet {
        name: "textbook".to_owned(),
        flow_m3_s: scaled([0.0, 100.0, 200.0, 300.0], GALLON_PER_MINUTE_M3_S),
        head_m: scaled([480.0, 460.0, 400.0, 300.0], FOOT_M),
        shaft_power_w: Some(scaled([20.0, 30.0, 40.0, 44.0], HORSEPOWER_W)),
        ..PumpSheet::default()
    };
    let pump = Pump::new(pump, &water).map_err(faults_text)?;
    let (ratio, flow_m3_s) = (1750.0 / 3500.0, 100.0 * GALLON_PER_MINUTE_M3_S);
    let head_ft = pump.head_m(flow_m3_s, ratio) / FOOT_M;
    let power_hp = pump.shaft_power_w(flow_m3_s, ratio) / HORSEPOWER_W;
    for (what, ours, theirs) in [
        ("head at half speed, ft", head_ft, 100.0),
        ("shaft power at half speed, hp", power_hp, 5.0),
    ] {
        report.push(Row::new(what, TEXTBOOK, ours, theirs, Allowed::relative(1e-6)));
    }
    Ok(())
}
