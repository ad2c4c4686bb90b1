//! Fills the reference's devices from a plant.

use std::rc::Rc;

use daylift_array::Inverter;
use daylift_lift::{Drive, PumpSet};
use daylift_plant::Plant;

use super::devices::{Devices, DriveTracking, OfFeeder, OfSet, Restarting};

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
        let plain = Self::default();
        let Some(drive) = set.drive() else { return plain };
        Self {
            tracking: DriveTracking::of(drive),
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
