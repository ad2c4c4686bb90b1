//! How much of each thing a row has: what cost lines are counted by.

use daylift_units::constants::KWH_J;
use daylift_units::ids;

use crate::arrangement::Arrangement;
use crate::plant::Plant;

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

impl Plant {
    /// How much of each thing a row of this plant has. What its wiring does not use is 0.
    #[must_use]
    pub fn quantities(&self, row: Arrangement) -> Quantities {
        let uses = row.traits();
        let groups = || {
            let of_row = |group: &&crate::Group| {
                (uses.has_drive && group.set.is_some()) || (uses.has_inverter && group.inverter.is_some())
            };
            self.groups().iter().filter(of_row)
        };
        let is_fed = |set| self.groups().iter().any(|group| group.set == Some(set));
        let drives = self.sets.iter_enumerated().filter(|(set, _)| uses.has_drive && is_fed(*set));
        let inverters = self.feeders.iter().filter(|_| uses.has_inverter);
        let battery = self.beside.battery.as_ref().filter(|_| uses.has_battery);
        let bigger_tank = self.beside.night_tank.as_ref().filter(|_| row.night_tank);
        let sum = |values: &mut dyn Iterator<Item = f64>| values.fold(0.0, |sum, value| sum + value);
        let kw = |values: &mut dyn Iterator<Item = f64>| sum(values) / 1e3;
        Quantities {
            modules: sum(&mut groups().map(|g| f64::from(g.strings.series()) * f64::from(g.strings.parallel()))),
            kwp: kw(&mut groups().map(|g| g.strings.stc_w())),
            inverter_kw: kw(&mut inverters.map(|feeder| feeder.inverter.rated_w())),
            drive_kw: kw(&mut drives.filter_map(|(_, set)| Some(set.pump_set.drive()?.rated_power_w()))),
            motor_kw: kw(&mut self.sets.iter().map(|set| set.pump_set.motor().rated_power_w())),
            battery_kwh: battery.map_or(0.0, |battery| battery.capacity_j() / KWH_J),
            tank_m3: bigger_tank.map_or(&self.tank, |bigger| &bigger.tank).capacity_m3(),
            pipe_m: sum(&mut self
                .sets
                .iter()
                .flat_map(|set| set.pump_set.system().pipes())
                .map(|pipe| pipe.sheet().length_m)),
        }
    }
}
