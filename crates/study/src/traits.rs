//! What an arrangement has and needs, so that readers of an answer need not derive it from the id.
//!
//! The parts of each wiring are declared in `daylift_plant::arrangement`.

use daylift_plant::{Arrangement, Wiring};
use schemars::JsonSchema;
use serde::Serialize;

use crate::by_id::by_id;

/// What an arrangement has and needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Traits {
    /// How array, grid and pump are wired, as an id.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub wiring: Wiring,
    /// Whether it has an array.
    pub has_array: bool,
    /// Whether the array can run the pump through a solar drive.
    pub has_drive: bool,
    /// Whether the array feeds the farm through an inverter.
    pub has_inverter: bool,
    /// Whether it has a battery.
    pub has_battery: bool,
    /// Whether mains is connected to the second input of the solar drive.
    pub mains_on_drive: bool,
    /// Whether it has a generator.
    pub has_generator: bool,
    /// Whether a bigger tank replaces the tank.
    pub bigger_tank: bool,
    /// Whether it makes sense only with a grid connection.
    pub needs_grid: bool,
    /// Whether it is the reference, today's arrangement.
    pub is_reference: bool,
}

impl Traits {
    /// The traits of an arrangement of a plant whose reference is `reference`.
    #[must_use]
    pub fn of(row: Arrangement, reference: Arrangement) -> Self {
        let parts = row.wiring.traits();
        Self {
            wiring: row.wiring,
            has_array: parts.has_array,
            has_drive: parts.has_drive,
            has_inverter: parts.has_inverter,
            has_battery: parts.has_battery,
            mains_on_drive: parts.has_second_input,
            has_generator: row.generator,
            bigger_tank: row.night_tank,
            needs_grid: row.needs_grid(),
            is_reference: row == reference,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn traits_follow_from_wiring_generator_and_tank() {
        let today = Arrangement::GRID_ONLY;
        let of = |row| Traits::of(row, today);
        let grid_only = of(today);
        assert!(grid_only.is_reference && grid_only.needs_grid);
        assert!(!grid_only.has_array && !grid_only.has_drive && !grid_only.has_inverter);
        let dual = of(Arrangement::DUAL_MODE.with_generator());
        assert!(dual.has_array && dual.has_drive && dual.has_inverter && dual.has_generator);
        assert!(!dual.has_battery && !dual.mains_on_drive && !dual.bigger_tank && !dual.is_reference);
        assert!(of(Arrangement::SOLAR_DRIVE_WITH_GRID.with_night_tank()).mains_on_drive);
        assert!(of(Arrangement::GRID_ONLY.with_night_tank()).bigger_tank);
        assert!(of(Arrangement::BATTERY_HYBRID).has_battery);
        assert!(!of(Arrangement::SOLAR_DRIVE).needs_grid);
    }
}
