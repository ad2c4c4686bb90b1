//! How much of each thing a row has: what cost lines are counted by.

use daylift_units::ids;

/// What the price of a cost line is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Per {
    /// The whole line.
    One,
    /// A module.
    Module,
    /// A kW of the modules' power at standard test conditions.
    Kwp,
    /// A kW of the inverters' rated AC power.
    InverterKw,
    /// A kW of the rated power of the drives that strings feed.
    DriveKw,
    /// A kW of the rated power of the pump motors.
    MotorKw,
    /// A kWh of the battery's capacity.
    BatteryKwh,
    /// A m³ of the tank's capacity.
    TankM3,
    /// A metre of pipe.
    PipeM,
}

ids!(Per {
    One = "one",
    Module = "module",
    Kwp = "kwp",
    InverterKw = "inverter-kw",
    DriveKw = "drive-kw",
    MotorKw = "motor-kw",
    BatteryKwh = "battery-kwh",
    TankM3 = "tank-m3",
    PipeM = "pipe-m",
});

/// How much of each thing a row has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantities {
    /// Modules of the string groups that the row uses.
    pub modules: f64,
    /// Their power at standard test conditions \[kW\].
    pub kwp: f64,
    /// Rated AC power of the inverters \[kW\].
    pub inverter_kw: f64,
    /// Rated power of the drives that strings feed \[kW\].
    pub drive_kw: f64,
    /// Rated power of the pump motors \[kW\].
    pub motor_kw: f64,
    /// Capacity of the battery \[kWh\].
    pub battery_kwh: f64,
    /// Capacity of the row's tank \[m³\].
    pub tank_m3: f64,
    /// Length of all pipes of all pump sets \[m\].
    pub pipe_m: f64,
}

impl Quantities {
    /// The quantity that a price counts.
    #[must_use]
    pub fn of(&self, per: Per) -> f64 {
        match per {
            Per::One => 1.0,
            Per::Module => self.modules,
            Per::Kwp => self.kwp,
            Per::InverterKw => self.inverter_kw,
            Per::DriveKw => self.drive_kw,
            Per::MotorKw => self.motor_kw,
            Per::BatteryKwh => self.battery_kwh,
            Per::TankM3 => self.tank_m3,
            Per::PipeM => self.pipe_m,
        }
    }
}
