//! The pump sets that EPANET also solves, as `scripts/epanet_duty.py` writes them.

use std::fmt::Display;
use std::path::Path;

use daylift_lift::{Motor, Pipe, PipeSheet, Pump, PumpSet, PumpSheet, SetSheet, System, Water, Well, WellSheet};
use daylift_units::Monthly;
use serde::Deserialize;

/// A set of `data/epanet_sets.json`.
#[derive(Debug, Clone, Deserialize)]
pub struct EpanetSet {
    /// Name.
    pub name: String,
    /// Frequency ratios at which EPANET's duty points are kept.
    pub speeds: Vec<f64>,
    pump: PumpPoints,
    pipes: Vec<Length>,
    static_level_m: f64,
    aquifer_loss_m_per_m3_h: f64,
    well_loss_m_per_m3_h2: f64,
    outlet_lift_m: f64,
    outlet_pressure_bar: f64,
    water_c: f64,
}

#[derive(Debug, Clone, Deserialize)]
struct PumpPoints {
    flow_m3_h: Vec<f64>,
    head_m: Vec<f64>,
    efficiency: Vec<f64>,
}

#[derive(Debug, Clone, Deserialize)]
struct Length {
    length_m: f64,
    bore_mm: f64,
    roughness_mm: f64,
    sum_k: f64,
}

impl EpanetSet {
    /// All of them.
    ///
    /// # Errors
    /// Why the file cannot be read.
    pub fn all() -> Result<Vec<Self>, String> {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/epanet_sets.json");
        let text = std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
        serde_json::from_str(&text).map_err(|e| format!("{}: {e}", path.display()))
    }

    /// The set in this program, with a motor, which does not affect flow and head.
    ///
    /// # Errors
    /// The faults of its parts.
    pub fn pump_set(&self, motor: Motor) -> Result<PumpSet, String> {
        let water = Water::at(self.water_c).map_err(faults_text)?;
        let pump = PumpSheet {
            name: self.name.clone(),
            flow_m3_s: self.pump.flow_m3_h.iter().map(|flow| flow / 3600.0).collect(),
            head_m: self.pump.head_m.clone(),
            efficiency: Some(self.pump.efficiency.clone()),
            ..PumpSheet::default()
        };
        let pump = Pump::new(pump, &water).map_err(faults_text)?;
        PumpSet::new(pump, motor, None, self.system(water)?, SetSheet::plain(0.0, None)).map_err(faults_text)
    }

    fn system(&self, water: Water) -> Result<System, String> {
        let well = WellSheet {
            static_level_m: Monthly::from_array([self.static_level_m; 12]),
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
        let pipes = pipes.collect::<Result<_, _>>().map_err(faults_text)?;
        let well = Well::new(well).map_err(faults_text)?;
        System::new(well, pipes, self.outlet_lift_m, self.outlet_pressure_bar * 1e5, water).map_err(faults_text)
    }
}

fn faults_text<T: Display>(faults: impl IntoIterator<Item = T>) -> String {
    faults.into_iter().map(|fault| fault.to_string()).collect::<Vec<_>>().join("; ")
}
