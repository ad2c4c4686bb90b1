//! What each device would do with the array's power in each step. It is solved before the loop and shared by all
//! arrangements.

mod bus;
mod drive;
mod lockout;
mod mains;
mod second_input;
mod years;

use std::sync::Arc;

use daylift_array::Inverter;
use daylift_lift::{Drive, PumpMap, PumpSet};
use daylift_plant::{ByGroup, BySet, GroupId, SecondInput};
use daylift_units::{Monthly, TrackingLoss};

pub use bus::{BusOffer, Draw};
pub use drive::DriveOffer;
pub use mains::Mains;
pub use years::{BusYear, DriveYear};

use second_input::AtStep;
use years::DriveSteps;

use crate::dc::{DcYear, GroupYear};
use crate::strings::Feeding;

/// A pump set through the year.
#[derive(Debug, Clone, PartialEq)]
pub struct SetOffers {
    /// The set on its drive; `None` when it has no drive or no string group feeds it.
    pub drive: Option<DriveYear>,
    /// The same with mains on the drive's second input; `None` when the plant has none.
    pub with_mains: Option<DriveYear>,
    /// The set on mains in each month.
    pub mains: Monthly<Mains>,
    /// Flow that its drive is wanted to give in each month \[m³/s\]: at the wanted frequency, or at that of the well or of the
    /// drive's rating where it is lower; 0 without a drive.
    pub wanted_m3_s: Monthly<f64>,
}

/// An inverter through the year.
#[derive(Debug, Clone, PartialEq)]
pub struct InverterOffers {
    /// The inverter.
    pub inverter: Inverter,
    /// One of its string groups: either all of them are on the bus or none.
    pub group: GroupId,
    /// What it offers to the bus.
    pub bus: BusYear,
}

/// Everything that the loop looks up by step or month.
#[derive(Debug, Clone)]
pub struct Offers {
    /// The string groups.
    pub groups: ByGroup<Arc<GroupYear>>,
    /// The pump sets.
    pub sets: BySet<Arc<SetOffers>>,
    /// The inverters that have strings.
    pub inverters: Vec<Arc<InverterOffers>>,
}

impl SetOffers {
    /// A set that no string group feeds.
    #[must_use]
    pub fn on_mains(set: &PumpSet) -> Self {
        Self {
            drive: None,
            with_mains: None,
            mains: Monthly::from_fn(|month| Mains::of(set, month)),
            wanted_m3_s: Monthly::default(),
        }
    }

    /// A set on its drive, solved in every step; with an `input`, also with mains on the drive's second input. A set without
    /// a drive, or that no string group feeds, has offers on mains only.
    #[must_use]
    pub fn new(set: &PumpSet, dc: &DcYear, feeding: &Feeding<'_>, input: Option<&SecondInput>) -> Self {
        let Some(map) = PumpMap::new(set).filter(|_| !feeding.is_empty()) else {
            return Self::on_mains(set);
        };
        let feeding = &feeding.tracked_by(set.drive().map_or(TrackingLoss::NONE, Drive::tracking));
        let at = |step: usize| AtStep {
            dc,
            feeding,
            column: map.month(dc.clock.month[step]),
            step,
        };
        let mut alone = DriveSteps::new(dc.steps());
        if let Some(drive) = set.drive() {
            alone = alone.starting(drive.start_rule(), dc.clock.per_hour);
        }
        let restart_power = set.drive().map_or(1.0, |drive| drive.start_rule().restart_power);
        let ready = |step: usize| {
            let offered = feeding.at_max_power(dc, step);
            let start_w = restart_power * at(step).column.at_start().dc_w;
            // A set that runs has the power of its start, except for rounding.
            restart_power <= 1.0 || offered.cable.delivered_w(offered.tracked_w) >= start_w
        };
        let mut with_mains = input.map(|input| (input, DriveSteps::new(dc.steps())));
        for step in 0..dc.steps() {
            let offer = DriveOffer::solve(dc, feeding, at(step).column, step);
            alone.push_alone(&offer, || ready(step));
            if let Some((input, steps)) = &mut with_mains {
                steps.push_with_mains(&at(step).with_mains(input, &offer));
            }
        }
        Self {
            drive: Some(alone.year(dc.clock.per_hour)),
            with_mains: with_mains.map(|(_, steps)| steps.year(dc.clock.per_hour)),
            wanted_m3_s: Monthly::from_fn(|month| {
                let column = map.month(month);
                column.at_hz(column.top_hz()).flow_m3_s
            }),
            ..Self::on_mains(set)
        }
    }
}

impl InverterOffers {
    /// An inverter, solved in every step; `group` is one of the groups that feed it.
    #[must_use]
    pub fn new(inverter: &Inverter, group: GroupId, dc: &DcYear, feeding: &Feeding<'_>) -> Self {
        let feeding = &feeding.tracked_by(inverter.tracking());
        let bus = |step| BusOffer::solve(dc, feeding, inverter, step);
        Self {
            inverter: inverter.clone(),
            group,
            bus: BusYear::new((0..dc.steps()).map(bus), dc.clock.per_hour),
        }
    }
}
