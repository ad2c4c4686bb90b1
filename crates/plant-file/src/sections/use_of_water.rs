//! `[tank]`, `[demand]` and `[pumping]`: where the water goes and when it may be pumped.

use daylift_lift::{Demand, DemandSheet, Tank, TankSheet};
use daylift_plant::{DayHours, Pumping};
use daylift_units::Field;
use daylift_units::constants::DAY_S;
use daylift_units::fields::{demand, pumping, tank};

use super::day_hours::{day_hours_or, usual_hours};
use super::equipment::booked;
use crate::provenance::OriginValue;
use crate::read::Section;

/// The tank.
pub(crate) fn read_tank(root: &Section<'_>) -> Option<Tank> {
    let section = root.required_table("tank", "tank")?;
    let values = (
        section.number(&tank::CAPACITY),
        section.number(&tank::RESTART),
        section.number(&tank::LOW_MARK),
    );
    let made = (|| {
        let sheet = TankSheet {
            capacity_m3: values.0?,
            restart_level: values.1?,
            low_mark: values.2?,
        };
        booked(&section, Tank::new(sheet))
    })();
    section.finish();
    made
}

/// The water wanted; the hours share it evenly when the file does not say.
pub(crate) fn read_demand(root: &Section<'_>) -> Option<Demand> {
    let section = root.required_table("demand", "demand")?;
    let mean_flow_m3_s = section.monthly(&demand::DAILY);
    let hour_share = if section.has(demand::HOUR_SHARE.key) {
        section.list(&demand::HOUR_SHARE, Some(24)).and_then(|list| list.try_into().ok())
    } else {
        section.by_default(
            demand::HOUR_SHARE.key,
            OriginValue::Text("even".into()),
            "",
            "no hours stated",
        );
        Some([1.0; 24])
    };
    let made = (|| {
        let sheet = DemandSheet {
            daily_m3: daylift_units::Monthly::from_array(mean_flow_m3_s?.map(|flow_m3_s| flow_m3_s * DAY_S)),
            hour_share: daylift_units::Hourly::from_array(hour_share?),
        };
        booked(&section, Demand::new(sheet))
    })();
    section.finish();
    made
}

/// Hours of pumping on mains; the whole section may be left out. What nothing `uses` in this plant is not told of when it
/// is not given.
pub(crate) fn read_pumping(root: &Section<'_>, uses: HoursUsed) -> Option<Pumping> {
    let Some(section) = root.table("pumping", "pumping") else {
        let path = |field: &Field| format!("pumping.{}", field.key);
        if uses.mains {
            usual_hours(root, &path(&pumping::MAINS_HOURS), MAINS_HOURS);
        }
        if uses.grid_only {
            usual_hours(root, &path(&pumping::GRID_ONLY_HOURS), GRID_ONLY_HOURS);
        }
        let between = |(from_h, to_h): (u8, u8)| DayHours::between(from_h, to_h);
        return (!root.has("pumping")).then_some(Pumping {
            mains_hours: between(MAINS_HOURS),
            grid_only_hours: between(GRID_ONLY_HOURS),
            sun_to_pump_first: true,
        });
    };
    let mains_hours = day_hours_or(&section, &pumping::MAINS_HOURS, MAINS_HOURS);
    let grid_only_hours = day_hours_or(&section, &pumping::GRID_ONLY_HOURS, GRID_ONLY_HOURS);
    let orders = [("pump", true), ("loads", false)];
    let sun_first = if section.has("sun_first") {
        section.choice("sun_first", "who gets the array's energy on the bus first", &orders)
    } else {
        Some(true)
    };
    section.finish();
    Some(Pumping {
        mains_hours: mains_hours?,
        grid_only_hours: grid_only_hours?,
        sun_to_pump_first: sun_first?,
    })
}

/// Which hours of pumping some row of the plant goes by.
#[derive(Clone, Copy)]
pub(crate) struct HoursUsed {
    /// Those of arrangements with an array.
    pub(crate) mains: bool,
    /// Those of `grid-only`.
    pub(crate) grid_only: bool,
}

/// Hours of pumping on mains where nothing is stated: by day with an array, at any hour without.
const MAINS_HOURS: (u8, u8) = (6, 18);
const GRID_ONLY_HOURS: (u8, u8) = (0, 24);
