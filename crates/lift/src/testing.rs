//! Invented equipment for tests.

use daylift_units::{CurveForm, Monthly};

use crate::{
    Drive, DriveRating, DriveSheet, Motor, MotorSheet, Pipe, PipeSheet, Pump, PumpSet, PumpSheet, SetSheet, System,
    Water, Well, WellSheet,
};

/// One cubic metre per hour \[m³/s\].
pub(crate) const M3_H: f64 = 1.0 / 3600.0;

pub(crate) fn water() -> Water {
    Water::at(20.0).unwrap()
}

/// Standing level 20 m, B = 0.08 h/m², C = 0.0012 h²/m⁵.
pub(crate) fn well_sheet() -> WellSheet {
    WellSheet {
        static_level_m: Monthly::from_array([20.0; 12]),
        aquifer_loss_s_m2: 0.08 * 3600.0,
        well_loss_s2_m5: 0.0012 * 3600.0 * 3600.0,
        intake_depth_m: None,
        intake_margin_m: 2.0,
    }
}

/// Shut-off head 62 m, best efficiency at about 30 m³/h.
pub(crate) fn pump_sheet() -> PumpSheet {
    PumpSheet {
        name: "test pump".to_owned(),
        flow_m3_s: [0.0, 10.0, 20.0, 30.0, 38.0].map(|q| q * M3_H).to_vec(),
        head_m: vec![62.0, 60.5, 55.0, 45.5, 35.0],
        efficiency: Some(vec![0.0, 0.42, 0.65, 0.72, 0.66]),
        ..PumpSheet::default()
    }
}

/// H = 50 + 0.8·Q − 0.03·Q² (m, m³/h), highest at 13.3 m³/h with 55.3 m.
pub(crate) fn humped_sheet() -> PumpSheet {
    PumpSheet {
        name: "humped pump".to_owned(),
        flow_m3_s: [0.0, 10.0, 20.0, 30.0, 40.0].map(|q| q * M3_H).to_vec(),
        head_m: vec![50.0, 55.0, 54.0, 47.0, 34.0],
        efficiency: Some(vec![0.0, 0.42, 0.65, 0.72, 0.66]),
        ..PumpSheet::default()
    }
}

pub(crate) fn motor_sheet() -> MotorSheet {
    MotorSheet {
        name: "test motor".to_owned(),
        rated_power_w: 7500.0,
        rated_frequency_hz: 50.0,
        rated_voltage_v: 400.0,
        efficiency_points: vec![(0.5, 0.79), (0.75, 0.82), (1.0, 0.82)],
        curve: CurveForm::Fitted,
        least_frequency_hz: 30.0,
        rated_current_a: None,
        power_factor: None,
        cooling_flow_m3_s: None,
        water_derating_per_k: 0.0,
    }
}

pub(crate) fn drive_sheet() -> DriveSheet {
    DriveSheet {
        name: "test drive".to_owned(),
        rated_power_w: 11e3,
        efficiency_points: vec![(0.25, 0.94), (0.5, 0.965), (1.0, 0.97)],
        curve: CurveForm::Fitted,
        greatest_frequency_hz: None,
        voltage_drop: 0.02,
        rating: DriveRating::PLAIN,
    }
}

pub(crate) fn main_pipe() -> Pipe {
    Pipe::new(PipeSheet {
        name: "main".to_owned(),
        bore_m: 0.1,
        length_m: 150.0,
        roughness_m: 0.01e-3,
        fittings_k: 4.0,
    })
    .unwrap()
}

/// A set exactly on H = 60 − 10·x² m and η = 0.72·(2x − x²), x = Q/(30 m³/h), without pipes; 40 m of lift.
pub(crate) fn exact_kit() -> Kit {
    let x = [0.0, 0.4, 0.8, 1.0, 1.3];
    Kit {
        well: WellSheet {
            static_level_m: Monthly::from_array([40.0; 12]),
            aquifer_loss_s_m2: 0.0,
            well_loss_s2_m5: 0.0,
            ..well_sheet()
        },
        pipes: Vec::new(),
        outlet_lift_m: 0.0,
        pump: PumpSheet {
            name: "exact".to_owned(),
            flow_m3_s: x.map(|x| 30.0 * x * M3_H).to_vec(),
            head_m: x.map(|x| 60.0 - 10.0 * x * x).to_vec(),
            efficiency: Some(x.map(|x| 0.72 * (2.0 * x - x * x)).to_vec()),
            ..PumpSheet::default()
        },
        ..Kit::default()
    }
}

/// The parts of a set, to be changed before building it.
pub(crate) struct Kit {
    pub(crate) well: WellSheet,
    pub(crate) pipes: Vec<Pipe>,
    pub(crate) outlet_lift_m: f64,
    pub(crate) pump: PumpSheet,
    pub(crate) motor: MotorSheet,
    pub(crate) drive: Option<DriveSheet>,
    pub(crate) cable_loss: f64,
    pub(crate) wanted_hz: Option<f64>,
    /// All but cable loss and wanted frequency.
    pub(crate) fitted: SetSheet,
}

impl Default for Kit {
    fn default() -> Self {
        Self {
            well: well_sheet(),
            pipes: vec![main_pipe()],
            outlet_lift_m: 15.0,
            pump: pump_sheet(),
            motor: motor_sheet(),
            drive: Some(drive_sheet()),
            cable_loss: 0.02,
            wanted_hz: None,
            fitted: SetSheet::plain(0.0, None),
        }
    }
}

impl Kit {
    pub(crate) fn build(self) -> Result<PumpSet, Vec<daylift_units::Fault>> {
        self.in_water(water())
    }

    pub(crate) fn build_in_water(self, water_c: f64) -> PumpSet {
        self.in_water(Water::at(water_c).unwrap()).unwrap()
    }

    fn in_water(self, water: Water) -> Result<PumpSet, Vec<daylift_units::Fault>> {
        let system = System::new(Well::new(self.well)?, self.pipes, self.outlet_lift_m, 0.0, water)?;
        let drive = self.drive.map(Drive::new).transpose()?;
        PumpSet::new(
            Pump::new(self.pump, &water)?,
            Motor::new(self.motor)?,
            drive,
            system,
            SetSheet {
                motor_cable_loss: self.cable_loss,
                wanted_frequency_hz: self.wanted_hz,
                ..self.fitted
            },
        )
    }
}
