//! Counts what a row of a plant has.

use daylift_units::constants::KWH_J;

use crate::arrangement::Arrangement;
use crate::plant::{Group, Plant};
use crate::quantities::Quantities;

impl Plant {
    /// How much of each thing a row of this plant has. What its wiring does not use is 0.
    #[must_use]
    pub fn quantities(&self, row: Arrangement) -> Quantities {
        let uses = row.traits();
        let groups = || {
            let of_row = |group: &&Group| {
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
