//! `[tank]`, `[demand]` and `[pumping]`: where the water goes and when it may be pumped.

use daylift_lift::{Demand, DemandSheet, Tank, TankSheet};
use daylift_units::Hourly;
use daylift_units::constants::DAY_S;
use daylift_units::fields::pumping;

use super::day_hours::{day_hours_or, usual_hours};
use crate::outline::{PlantKeys, PumpingKeys, SunFirst};
use crate::read::{Part, Placed};
use daylift_plant::Pumping;

/// The tank.
pub(crate) fn read_tank(root: &Placed<PlantKeys>) -> Option<Tank> {
    let Placed { at, keys } = root.keys.tank.there()?;
    let keys = keys.as_ref()?;
    at.booked(Tank::new(TankSheet {
        capacity_m3: keys.capacity_m3,
        restart_level: keys.restart_level,
        low_mark: keys.low_mark,
    }))
}

/// The water wanted; spread evenly over the day if the file gives no hours.
pub(crate) fn read_demand(root: &Placed<PlantKeys>) -> Option<Demand> {
    let Placed { at, keys } = root.keys.demand.there()?;
    let keys = keys.as_ref()?;
    at.booked(Demand::new(DemandSheet {
        daily_m3: keys.mean_flow_m3_s.0.map(|_, flow_m3_s| flow_m3_s * DAY_S),
        hour_share: Hourly::from_array(keys.hour_share.unwrap_or([1.0; 24])),
    }))
}

/// Hours of pumping on mains; the whole section may be left out. A default is then listed only if the plant `uses` it.
pub(crate) fn read_pumping(root: &Placed<PlantKeys>, uses: HoursUsed) -> Option<Pumping> {
    let Part::There(Placed { at, keys }) = &root.keys.pumping else {
        let list = |is_used: bool, key: &str, listed| {
            if is_used {
                root.at.by_default(&format!("pumping.{key}"), listed, PumpingKeys::SOURCE);
            }
        };
        list(uses.mains, pumping::MAINS_HOURS.key, PumpingKeys::MAINS_HOURS_LISTED);
        list(
            uses.grid_only,
            pumping::GRID_ONLY_HOURS.key,
            PumpingKeys::GRID_ONLY_HOURS_LISTED,
        );
        return (!root.keys.pumping.is_there()).then_some(Pumping {
            mains_hours: usual_hours(PumpingKeys::MAINS_HOURS),
            grid_only_hours: usual_hours(PumpingKeys::GRID_ONLY_HOURS),
            sun_to_pump_first: true,
        });
    };
    let keys = keys.as_ref()?;
    let (mains, grid_only) = (&pumping::MAINS_HOURS, &pumping::GRID_ONLY_HOURS);
    let mains_hours = day_hours_or(at, mains, keys.mains_hours, PumpingKeys::MAINS_HOURS);
    let grid_only_hours = day_hours_or(at, grid_only, keys.grid_only_hours, PumpingKeys::GRID_ONLY_HOURS);
    Some(Pumping {
        mains_hours: mains_hours?,
        grid_only_hours: grid_only_hours?,
        sun_to_pump_first: keys.sun_first != Some(SunFirst::Loads),
    })
}

/// Which hours of pumping the rows of the plant use.
#[derive(Clone, Copy)]
pub(crate) struct HoursUsed {
    /// Those of arrangements with an array.
    pub(crate) mains: bool,
    /// Those of `grid-only`.
    pub(crate) grid_only: bool,
}
