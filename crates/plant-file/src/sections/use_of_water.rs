//! `[tank]` and `[demand]`: where the water goes.

use daylift_lift::{Demand, DemandSheet, Tank, TankSheet};
use daylift_units::Hourly;
use daylift_units::constants::DAY_S;

use crate::outline::PlantKeys;
use crate::read::Placed;

/// The tank.
pub(crate) fn read_tank(root: &Placed<PlantKeys>) -> Option<Tank> {
    let Placed { at, keys } = root.keys.tank.there()?;
    let keys = keys.as_ref()?;
    at.booked(Tank::new(TankSheet {
        capacity_m3: keys.capacity_m3,
        restart_level: keys.restart_level,
        low_mark: keys.low_mark.value(at),
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
