//! The numbers of drives, motors and inverters from which the reference's own rules follow (§5a, §6, §7, §7a, §8, §8a).
//!
//! A neutral device changes nothing: it tracks perfectly, is never too warm and starts with the first sun.

use std::rc::Rc;

use daylift_plant::{ByInverter, BySet};

/// What the drive and the inverters of a plant are like.
#[derive(Debug, Clone)]
pub(super) struct Devices {
    pub(super) sets: BySet<Rc<OfSet>>,
    pub(super) feeders: ByInverter<OfFeeder>,
}

/// Drive, motor and pump of a set; shares as fractions.
#[derive(Debug, Clone)]
pub(super) struct OfSet {
    pub(super) tracking: DriveTracking,
    /// h: how much more the motor loses on the drive.
    pub(super) harmonic_loss: f64,
    /// k_f and d_f of the output filter.
    pub(super) filter_loss: f64,
    pub(super) filter_drop: f64,
    pub(super) least_flux: f64,
    /// Whether the drive's file allows frequencies above the motor's rated one.
    pub(super) weakens: bool,
    /// Whether the rectifier's voltage limits the flux on the second input.
    pub(super) flux_on_mains: bool,
    pub(super) currents: Currents,
    pub(super) height: Height,
    pub(super) heat: DriveHeat,
    pub(super) water: WaterHeat,
    /// Least flow as a share of that of the best efficiency.
    pub(super) least_flow: f64,
    pub(super) cooling_flow_m3_s: f64,
    pub(super) restart: Restarting,
}

impl Default for OfSet {
    fn default() -> Self {
        Self {
            tracking: DriveTracking::default(),
            harmonic_loss: 0.0,
            filter_loss: 0.0,
            filter_drop: 0.0,
            least_flux: 1.0,
            weakens: false,
            flux_on_mains: false,
            currents: Currents::default(),
            height: Height::default(),
            heat: DriveHeat::default(),
            water: WaterHeat::default(),
            least_flow: 0.0,
            cooling_flow_m3_s: 0.0,
            restart: Restarting::default(),
        }
    }
}

/// What a drive's tracker misses.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct DriveTracking {
    pub(super) steady: f64,
    pub(super) clear: f64,
    pub(super) broken: f64,
}

/// Currents on the plates \[A\], and power factors.
#[derive(Debug, Clone, Copy)]
pub(super) struct Currents {
    pub(super) motor_a: Option<f64>,
    pub(super) motor_power_factor: f64,
    pub(super) drive_a: Option<f64>,
    pub(super) drive_power_factor: Option<f64>,
}

impl Default for Currents {
    fn default() -> Self {
        Self {
            motor_a: None,
            motor_power_factor: 0.85,
            drive_a: None,
            drive_power_factor: None,
        }
    }
}

/// Thin air.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Height {
    pub(super) altitude_m: f64,
    pub(super) rated_m: f64,
    pub(super) per_100m: f64,
}

/// A warm cabinet.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct DriveHeat {
    pub(super) rise_k: f64,
    pub(super) rated_c: f64,
    pub(super) per_k: f64,
}

/// Warm water about the motor.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct WaterHeat {
    pub(super) submersible: bool,
    pub(super) water_c: f64,
    pub(super) per_k: f64,
}

/// When a drive starts and starts again.
#[derive(Debug, Clone)]
pub(super) struct Restarting {
    /// Power over that at the start frequency.
    pub(super) power: f64,
    pub(super) confirm_s: f64,
    pub(super) waits_s: Vec<f64>,
}

impl Default for Restarting {
    fn default() -> Self {
        Self {
            power: 1.0,
            confirm_s: 0.0,
            waits_s: vec![0.0],
        }
    }
}

/// A grid-tied inverter; shares as fractions.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct OfFeeder {
    pub(super) tracking: f64,
    pub(super) tracking_broken: f64,
    pub(super) derates_above_c: f64,
    pub(super) derates_per_k: f64,
}
