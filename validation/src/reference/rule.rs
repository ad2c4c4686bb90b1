//! The rule by which a row's pumps run on the bus (§9), and its fill latch.

use daylift_lift::Tank;
use daylift_plant::{Arrangement, DayHours, Plant, RowRule, Wiring};
use daylift_units::{Hour, Hourly};

/// A row's rule; levels are fractions of the capacity.
#[derive(Debug, Clone)]
pub(super) struct Rule {
    pub(super) hours: DayHours,
    pub(super) fill: Hourly<f64>,
    pub(super) low_mark: f64,
    pub(super) surplus: Option<f64>,
}

/// Contents at which the latch stops pumping on the bus and at which it releases it \[m³\].
#[derive(Debug, Clone, Copy)]
pub(super) struct Latch {
    pub(super) stops_m3: f64,
    pub(super) releases_m3: f64,
}

impl Rule {
    /// Each part comes from the first place that gives it.
    pub(super) fn of(plant: &Plant, row: Arrangement) -> Self {
        let own: Vec<&RowRule> = plant.pumping.rows.iter().filter(|rule| rule.rows.contains(&row)).collect();
        let of_all = &plant.pumping.given;
        let night = plant.beside.night_tank.as_ref().filter(|_| row.night_tank);
        let input = plant.beside.second_input.as_ref().filter(|_| row.wiring == Wiring::SolarDriveWithGrid);
        let hours = [
            own.iter().find_map(|rule| rule.given.hours),
            night.map(|tank| tank.hours),
            input.and_then(|input| input.hours),
            of_all.hours,
        ];
        let fill = own.iter().find_map(|rule| rule.given.fill).or(of_all.fill);
        let low_mark = own.iter().find_map(|rule| rule.given.low_mark);
        Self {
            hours: hours.into_iter().flatten().next().unwrap_or(DayHours::ALL),
            fill: fill.unwrap_or_else(|| Hourly::from_array([1.0; 24])),
            low_mark: low_mark.unwrap_or_else(|| plant.tank.low_mark_m3() / plant.tank.capacity_m3()),
            surplus: own.iter().find_map(|rule| rule.given.surplus).or(of_all.surplus),
        }
    }

    /// The low mark in a tank \[m³\].
    pub(super) fn low_mark_m3(&self, tank: &Tank) -> f64 {
        self.low_mark * tank.capacity_m3()
    }

    /// The latch of an hour: it releases one restart band below the fill level, or at the low mark where that is higher.
    pub(super) fn latch(&self, tank: &Tank, hour: Hour) -> Latch {
        let stops_m3 = self.fill[hour] * tank.capacity_m3();
        let band_m3 = tank.capacity_m3() - tank.restart_m3();
        Latch {
            stops_m3,
            releases_m3: (stops_m3 - band_m3).max(self.low_mark_m3(tank)),
        }
    }
}
