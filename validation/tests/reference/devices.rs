//! Random tracking, heat and starts of drives and inverters.

use daylift_array::InverterLosses;
use daylift_lift::{Drive, DriveControl, PumpSet, StartRule};
use daylift_plant::Plant;

use crate::draws::Draws;

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

/// A changed set; `None` where the change makes an impossible one, and without a drive.
fn changed_set(draws: &mut Draws, old: &PumpSet) -> Option<PumpSet> {
    let control = DriveControl {
        static_loss: draws.between(0.0, 0.02),
        clear_loss: draws.between(0.0, 0.04),
        broken_loss: draws.between(0.0, 0.1),
        start: start_rule(draws),
    };
    let drive = old.drive()?.clone().with_control(control).ok()?;
    let mains = old.mains(daylift_units::Month::January)?;
    let cable_loss = mains.duty.cable_w * old.motor().rated_input_w() / (mains.duty.motor_w * mains.duty.motor_w);
    let (pump, motor) = (old.pump().clone(), old.motor().clone());
    let wanted_hz = Some(old.wanted_hz()).filter(|&hz| hz < old.greatest_hz());
    PumpSet::new(pump, motor, Some(drive), old.system().clone(), cable_loss, wanted_hz).ok()
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

/// Waits of minutes to hours, so that they also show in steps of an hour.
fn start_rule(draws: &mut Draws) -> StartRule {
    let count = draws.whole(1, 4);
    StartRule {
        restart_power: draws.between(1.0, 1.6),
        confirm_s: draws.between(0.0, 600.0).round(),
        waits_s: (0..count).map(|_| draws.scale(60.0, 7200.0).round()).collect(),
    }
}
