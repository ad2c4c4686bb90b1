//! Random values of drives, motors, pumps and inverters.

use daylift_array::InverterLosses;
use daylift_lift::{
    Drive, DriveControl, DriveRating, DriveSheet, Filter, Motor, MotorSheet, PumpSet, SetSheet, StartRule, System,
    Water,
};
use daylift_plant::Plant;
use daylift_units::CurveForm;
use daylift_units::Month;

use crate::draws::Draws;

/// Loads at which an efficiency is copied from a fitted curve.
const LOADS: [f64; 4] = [0.25, 0.5, 0.75, 1.0];

/// Changes a plant, with draws that nothing else takes. A quarter of the plants stays as it is.
pub(crate) fn vary(draws: &mut Draws, plant: &mut Plant) {
    if draws.chance(0.25) {
        return;
    }
    for set in &mut plant.sets {
        if let Some(changed) = changed_set(draws, &set.pump_set) {
            set.pump_set = changed;
        }
    }
    for feeder in &mut plant.feeders {
        let losses = InverterLosses {
            tracking: draws.between(0.0, 0.03),
            tracking_broken: draws.between(0.0, 0.06),
            derating_per_k: draws.between(0.005, 0.05),
            derating_c: draws.between(20.0, 45.0),
        };
        if let Ok(changed) = feeder.inverter.clone().with_losses(losses) {
            feeder.inverter = changed;
        }
    }
}

/// A changed set; where the change makes an impossible one, `None`.
fn changed_set(draws: &mut Draws, old: &PumpSet) -> Option<PumpSet> {
    let flow_m3_s = old.mains(Month::January)?.duty.flow_m3_s;
    let motor = changed_motor(draws, old.motor(), flow_m3_s)?;
    let drive = match old.drive() {
        Some(drive) => Some(changed_drive(draws, drive, &motor)?),
        None => None,
    };
    let fitted = SetSheet {
        filter: draws.one_of(&[Filter::None, Filter::DvDt, Filter::Sine]),
        filter_loss: Some(draws.between(0.0, 0.03)).filter(|_| draws.chance(0.5)),
        filter_drop: Some(draws.between(0.0, 0.08)).filter(|_| draws.chance(0.5)),
        harmonic_loss: Some(draws.between(0.0, 0.3)).filter(|_| draws.chance(0.6)),
        least_flow: draws.one_of(&[0.0, 0.2, 0.35]),
        altitude_m: draws.between(0.0, 3000.0),
        ..*old.fitted()
    };
    let parts = old.system();
    let at_rest = parts.head_parts(Month::January, 0.0);
    let water = if draws.chance(0.4) {
        Water::at(draws.between(30.0, 44.0)).ok()?
    } else {
        *parts.water()
    };
    let system = System::new(
        parts.well().clone(),
        parts.pipes().to_vec(),
        at_rest.outlet_lift_m,
        at_rest.outlet_pressure_m * water.density_kg_m3() * daylift_units::constants::GRAVITY_M_S2,
        water,
    );
    PumpSet::new(old.pump().clone(), motor, drive, system.ok()?, fitted).ok()
}

/// Some motors have a current on their plate, some need a flow to cool them.
fn changed_motor(draws: &mut Draws, motor: &Motor, flow_m3_s: f64) -> Option<Motor> {
    let rated_w = motor.rated_power_w();
    let power_factor = draws.between(0.75, 0.9);
    let worked_a = motor.rated_input_w() / (3.0_f64.sqrt() * motor.rated_voltage_v() * power_factor);
    let sheet = MotorSheet {
        name: motor.name().to_owned(),
        rated_power_w: rated_w,
        rated_frequency_hz: motor.rated_frequency_hz(),
        rated_voltage_v: motor.rated_voltage_v(),
        efficiency_points: LOADS.map(|load| (load, motor.efficiency(load))).to_vec(),
        curve: CurveForm::Fitted,
        least_frequency_hz: motor.least_frequency_hz(),
        rated_current_a: Some(worked_a * draws.between(0.88, 1.14)).filter(|_| draws.chance(0.6)),
        power_factor: Some(power_factor).filter(|_| draws.chance(0.5)),
        cooling_flow_m3_s: Some(flow_m3_s * draws.between(0.1, 0.6)).filter(|_| draws.chance(0.3)),
        water_derating_per_k: draws.one_of(&[0.0, 0.015, 0.03]),
    };
    Motor::new(sheet).ok()
}

fn changed_drive(draws: &mut Draws, drive: &Drive, motor: &Motor) -> Option<Drive> {
    let rating = DriveRating {
        current_a: Some(motor.rated_current_a() * draws.between(0.7, 1.4)).filter(|_| draws.chance(0.4)),
        power_factor: Some(draws.between(0.75, 0.9)).filter(|_| draws.chance(0.4)),
        least_flux: if draws.chance(0.2) {
            1.0
        } else {
            draws.between(0.7, 1.0)
        },
        altitude_derating_per_m: draws.between(0.0, 0.02) / 100.0,
        rated_altitude_m: draws.between(500.0, 2000.0),
        heat_derating_per_k: draws.between(0.0, 0.03),
        rated_temperature_c: draws.between(25.0, 50.0),
        cabinet_rise_k: draws.between(0.0, 20.0),
    };
    let greatest_hz = drive.greatest_frequency_hz();
    let weakened_hz = motor.rated_frequency_hz() * draws.between(1.02, 1.15);
    let sheet = DriveSheet {
        name: drive.name().to_owned(),
        rated_power_w: drive.rated_power_w(),
        efficiency_points: LOADS.map(|load| (load, drive.losses().efficiency(load * drive.rated_power_w()))).to_vec(),
        curve: CurveForm::Fitted,
        greatest_frequency_hz: if draws.chance(0.2) {
            Some(weakened_hz)
        } else {
            greatest_hz
        },
        voltage_drop: drive.voltage_drop(),
        rating,
    };
    let control = DriveControl {
        static_loss: draws.between(0.0, 0.02),
        clear_loss: draws.between(0.0, 0.04),
        broken_loss: draws.between(0.0, 0.1),
        start: start_rule(draws),
    };
    Drive::new(sheet).ok()?.with_control(control).ok()
}

/// How a drive follows the sun, as it is.
pub(crate) fn control(drive: &Drive) -> DriveControl {
    DriveControl {
        static_loss: 0.0,
        clear_loss: drive.tracking().share(0.0),
        broken_loss: drive.tracking().share(1.0),
        start: drive.start_rule().clone(),
    }
}

/// Waits from minutes, so that they also show in steps of an hour.
fn start_rule(draws: &mut Draws) -> StartRule {
    let count = draws.whole(1, 4);
    StartRule {
        restart_power: draws.between(1.0, 1.6),
        confirm_s: draws.between(0.0, 600.0).round(),
        waits_s: (0..count).map(|_| draws.scale(60.0, 7200.0).round()).collect(),
    }
}
