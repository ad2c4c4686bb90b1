//! Where pump and system meet.

use daylift_lift::{Pipe, PipeSheet, Pump, PumpSet, PumpSheet, System, Water, Well, WellSheet};
use daylift_validation::{Allowed, Report, Row, Worst};
use serde::Deserialize;

use crate::data::{self, Outcome, Table, root, told};

const EPANET: &str = "EPANET toolkit, owa-epanet 2.3.5";
const TEXTBOOK: &str = "affinity laws, textbook pair, from memory";
const GALLON_PER_MINUTE_M3_S: f64 = 3.785_411_784e-3 / 60.0;
const FOOT_M: f64 = 0.3048;
const HORSEPOWER_W: f64 = 745.699_871_582;

/// A set of data/epanet_sets.json.
#[derive(Deserialize)]
struct Sheet {
    name: String,
    pump: PumpPoints,
    pipes: Vec<Length>,
    static_level_m: f64,
    aquifer_loss_m_per_m3_h: f64,
    well_loss_m_per_m3_h2: f64,
    outlet_lift_m: f64,
    outlet_pressure_bar: f64,
    water_c: f64,
}

#[derive(Deserialize)]
struct PumpPoints {
    flow_m3_h: Vec<f64>,
    head_m: Vec<f64>,
    efficiency: Vec<f64>,
}

#[derive(Deserialize)]
struct Length {
    length_m: f64,
    bore_mm: f64,
    roughness_mm: f64,
    sum_k: f64,
}

/// Three sets at several speeds, two of them with and without drawdown; the affinity laws.
pub(crate) fn check(report: &mut Report) -> Outcome {
    let text = std::fs::read_to_string(root().join("data/epanet_sets.json"))?;
    let sheets: Vec<Sheet> = serde_json::from_str(&text)?;
    let table = Table::read("epanet_duty.csv")?;
    let names = table.texts("set")?;
    let (speeds, flows) = (table.numbers("speed")?, table.numbers("flow_m3_h")?);
    let heads = table.numbers("head_m")?;
    let allowed = Allowed::relative(0.01);
    let (mut flow, mut head) = (Worst::new(allowed), Worst::new(allowed));
    for sheet in &sheets {
        let set = sheet.pump_set()?;
        for (i, _) in names.iter().enumerate().filter(|(_, name)| **name == sheet.name) {
            let label = format!("{} at speed {}", sheet.name, speeds[i]);
            let duty = set.duty(0, speeds[i]).ok_or("nothing flows")?;
            flow.see(label.as_str(), duty.flow_m3_s * 3600.0, flows[i]);
            head.see(label, duty.head_m, heads[i]);
        }
    }
    report.push(flow.row("flow at the duty point, m³/h", EPANET));
    report.push(head.row("head at the duty point, m", EPANET));
    affinity(report)
}

impl Sheet {
    /// The set with the motor of the first plant, which has no part in the duty.
    fn pump_set(&self) -> Outcome<PumpSet> {
        let water = Water::at(self.water_c).map_err(told)?;
        let pump = PumpSheet {
            name: self.name.clone(),
            flow_m3_s: self.pump.flow_m3_h.iter().map(|flow| flow / 3600.0).collect(),
            head_m: self.pump.head_m.clone(),
            efficiency: Some(self.pump.efficiency.clone()),
            shaft_power_w: None,
        };
        let motor = data::plant("greensboro")?.sets[0].pump_set.motor().clone();
        let pump = Pump::new(pump, &water).map_err(told)?;
        Ok(PumpSet::new(pump, motor, None, self.system(water)?, 0.0, None).map_err(told)?)
    }

    fn system(&self, water: Water) -> Outcome<System> {
        let well = WellSheet {
            static_level_m: [self.static_level_m; 12],
            aquifer_loss_s_m2: self.aquifer_loss_m_per_m3_h * 3600.0,
            well_loss_s2_m5: self.well_loss_m_per_m3_h2 * 3600.0 * 3600.0,
            intake_depth_m: None,
            intake_margin_m: 0.0,
        };
        let pipes = self.pipes.iter().map(|length| {
            Pipe::new(PipeSheet {
                name: "pipe".to_owned(),
                bore_m: length.bore_mm / 1000.0,
                length_m: length.length_m,
                roughness_m: length.roughness_mm / 1000.0,
                fittings_k: length.sum_k,
            })
        });
        let pipes = pipes.collect::<Result<_, _>>().map_err(told)?;
        let well = Well::new(well).map_err(told)?;
        let pressure_pa = self.outlet_pressure_bar * 1e5;
        Ok(System::new(well, pipes, self.outlet_lift_m, pressure_pa, water).map_err(told)?)
    }
}

/// A pump of 200 gal/min, 400 ft and 40 hp at 3500 1/min gives 100 gal/min, 100 ft at 1750 1/min and takes 5 hp.
fn affinity(report: &mut Report) -> Outcome {
    let water = Water::at(20.0).map_err(told)?;
    let scaled = |values: [f64; 4], unit: f64| values.map(|value| value * unit).to_vec();
    let pump = PumpSheet {
        name: "textbook".to_owned(),
        flow_m3_s: scaled([0.0, 100.0, 200.0, 300.0], GALLON_PER_MINUTE_M3_S),
        head_m: scaled([480.0, 460.0, 400.0, 300.0], FOOT_M),
        efficiency: None,
        shaft_power_w: Some(scaled([20.0, 30.0, 40.0, 44.0], HORSEPOWER_W)),
    };
    let pump = Pump::new(pump, &water).map_err(told)?;
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
