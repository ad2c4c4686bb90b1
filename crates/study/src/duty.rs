//! Each pump set at its duty point: what is known about it before any year is run.

use daylift_plant::{Plant, Set, SetId};
use daylift_units::constants::HOUR_S;

use crate::workings::deepest_month;

/// A pump set in the month when the standing water level is lowest.
#[derive(Debug, Clone, PartialEq)]
pub struct SetAtDuty {
    /// At rated speed on mains; `None` where it has no duty point there.
    pub mains: Option<MainsDuty>,
    /// Power of its strings compared with its drive's DC input; `None` without strings, without a drive or without a duty
    /// point.
    pub array: Option<ArrayToPump>,
}

/// A duty point at rated speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MainsDuty {
    /// Flow \[m³/h\].
    pub flow_m3_h: f64,
    /// Total dynamic head \[m\].
    pub head_m: f64,
    /// Shaft power \[kW\].
    pub shaft_kw: f64,
    /// Power taken from the supply cable \[kW\].
    pub supply_kw: f64,
}

/// Power of the strings at standard test conditions divided by the drive's DC input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArrayToPump {
    /// The ratio.
    pub ratio: f64,
    /// Frequency of the duty point: the wanted one \[Hz\].
    pub hz: f64,
    /// DC input of the drive there \[kW\].
    pub dc_kw: f64,
}

/// Every pump set at its duty point, in the plant's order.
#[must_use]
pub fn sets_at_duty(plant: &Plant) -> Vec<SetAtDuty> {
    let of_set = |(index, set): (SetId, &Set)| {
        let set = &set.pump_set;
        let month = deepest_month(set);
        let mains = set.mains(month).map(|point| MainsDuty {
            flow_m3_h: point.duty.flow_m3_s * HOUR_S,
            head_m: point.duty.head_m,
            shaft_kw: point.duty.shaft_w / 1e3,
            supply_kw: point.supply_w / 1e3,
        });
        let stc_w: f64 = plant.groups().iter().filter(|g| g.set == Some(index)).map(|g| g.strings.stc_w()).sum();
        let driven = set.drive_point(month, set.wanted_hz()).filter(|_| stc_w > 0.0);
        let array = driven.map(|point| ArrayToPump {
            ratio: stc_w / point.dc_w,
            hz: set.wanted_hz(),
            dc_kw: point.dc_w / 1e3,
        });
        SetAtDuty { mains, array }
    };
    plant.sets.iter_enumerated().map(of_set).collect()
}
