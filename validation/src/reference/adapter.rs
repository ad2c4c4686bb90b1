//! Fills the reference's devices from a plant.

use std::rc::Rc;

use daylift_array::Inverter;
use daylift_lift::{Drive, Motor, PumpSet};
use daylift_plant::Plant;

use super::devices::{Currents, Devices, DriveHeat, DriveTracking, Height, OfFeeder, OfSet, Restarting, WaterHeat};

/// Two temperatures above 30 °C, between which a motor's rating falls in a straight line \[°C\].
const WARM_WATER_C: [f64; 2] = [31.0, 32.0];

impl Devices {
    pub(super) fn of(plant: &Plant) -> Self {
        Self {
            sets: plant.sets.iter().map(|set| Rc::new(OfSet::of(&set.pump_set))).collect(),
            feeders: plant.feeders.iter().map(|feeder| OfFeeder::of(&feeder.inverter)).collect(),
        }
    }
}

impl OfSet {
    fn of(set: &PumpSet) -> Self {
        let (fitted, motor) = (set.fitted(), set.motor());
        let plain = Self {
            harmonic_loss: set.harmonic_loss(),
            filter_loss: fitted.filter_loss(),
            filter_drop: fitted.filter_drop(),
            water: WaterHeat::of(motor, set.system().water().temperature_c()),
            least_flow: fitted.least_flow,
            cooling_flow_m3_s: motor.cooling_flow_m3_s(),
            flux_on_mains: true,
            ..Self::default()
        };
        let Some(drive) = set.drive() else { return plain };
        let rating = drive.rating();
        Self {
            tracking: DriveTracking::of(drive),
            least_flux: rating.least_flux,
            weakens: drive.greatest_frequency_hz().is_some_and(|hz| hz > motor.rated_frequency_hz()),
            currents: Currents {
                drive_a: rating.current_a,
                drive_power_factor: rating.power_factor,
                ..Currents::of(motor)
            },
            height: Height {
                altitude_m: fitted.altitude_m,
                rated_m: rating.rated_altitude_m,
                per_100m: 100.0 * rating.altitude_derating_per_m,
            },
            heat: DriveHeat {
                rise_k: rating.cabinet_rise_k,
                rated_c: rating.rated_temperature_c,
                per_k: rating.heat_derating_per_k,
            },
            restart: Restarting {
                power: drive.start_rule().restart_power,
                confirm_s: drive.start_rule().confirm_s,
                waits_s: drive.start_rule().waits_s.clone(),
            },
            ..plain
        }
    }
}

impl DriveTracking {
    /// The drive keeps the sums of its steady error with that of clear sun and with that of broken cloud.
    fn of(drive: &Drive) -> Self {
        Self {
            steady: 0.0,
            clear: drive.tracking().share(0.0),
            broken: drive.tracking().share(1.0),
        }
    }
}

impl Currents {
    /// The power factor is not kept where it is not given; it is that of the current that the motor then has.
    fn of(motor: &Motor) -> Self {
        let rated_a = motor.rated_current_a();
        Self {
            motor_a: motor.gives_current().then_some(rated_a),
            motor_power_factor: motor.rated_input_w() / (3.0_f64.sqrt() * motor.rated_voltage_v() * rated_a),
            ..Self::default()
        }
    }
}

impl WaterHeat {
    fn of(motor: &Motor, water_c: f64) -> Self {
        let [less, more] = WARM_WATER_C.map(|warm_c| motor.water_derating(warm_c));
        Self {
            // The share lost per kelvin is 0 for a motor outside the water.
            submersible: true,
            water_c,
            per_k: less - more,
        }
    }
}

impl OfFeeder {
    fn of(inverter: &Inverter) -> Self {
        let (above_c, per_k) = heat(inverter);
        Self {
            tracking: inverter.tracking().share(0.0),
            tracking_broken: inverter.tracking().share(1.0),
            derates_above_c: above_c,
            derates_per_k: per_k,
        }
    }
}

/// Where an inverter begins to give less, and how much less for each kelvin.
///
/// It tells only how much it gives at a temperature, so both are found from a place where it gives half.
fn heat(inverter: &Inverter) -> (f64, f64) {
    let lost = |air_c: f64| 1.0 - inverter.greatest_ac_w(air_c) / inverter.rated_w();
    let hot_c = (0..3000).map(|i| 0.1 * f64::from(i)).find(|&air_c| lost(air_c) > 0.005);
    let Some(hot_c) = hot_c else { return (0.0, 0.0) };
    let per_k = (lost(hot_c + 0.5) - lost(hot_c)) / 0.5;
    (hot_c - lost(hot_c) / per_k, per_k)
}
