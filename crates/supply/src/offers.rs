//! What each device would make of the array's power in each step: solved before the loop, shared by all arrangements.

mod bus;
mod drive;

use daylift_array::{Inverter, StringGroup};
use daylift_lift::{PumpMap, PumpSet};
use daylift_plant::Plant;

pub use bus::{Brought, BusOffer};
pub use drive::DriveOffer;

use crate::dc::DcYear;
use crate::strings::Feeding;

/// A pump on mains in a month, or several together.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Mains {
    /// Flow \[m³/s\].
    pub flow_m3_s: f64,
    /// Power at the motor's terminals \[W\].
    pub motor_w: f64,
    /// Lost in the motor cable \[W\].
    pub cable_w: f64,
    /// Whether the well holds the flow back.
    pub throttled: bool,
}

impl Mains {
    /// Power taken from the bus \[W\].
    #[must_use]
    pub fn bus_w(&self) -> f64 {
        self.motor_w + self.cable_w
    }

    /// Adds another pump.
    pub(crate) fn add(&mut self, other: &Self) {
        self.flow_m3_s += other.flow_m3_s;
        self.motor_w += other.motor_w;
        self.cable_w += other.cable_w;
        self.throttled |= other.throttled;
    }
}

/// A pump set through the year.
#[derive(Debug, Clone)]
pub struct SetOffers {
    /// On its drive in each step; empty when no string group feeds it.
    pub drive: Vec<DriveOffer>,
    /// On mains in each month.
    pub mains: [Mains; 12],
}

/// An inverter through the year.
#[derive(Debug, Clone)]
pub struct InverterOffers {
    /// The inverter.
    pub inverter: Inverter,
    /// What it brings in each step.
    pub bus: Vec<BusOffer>,
}

/// Everything that the loop looks up by step or month.
#[derive(Debug, Clone)]
pub struct Offers {
    /// Power of each string group at its maximum-power point in each step \[W\].
    pub available_w: Vec<Vec<f64>>,
    /// The pump sets.
    pub sets: Vec<SetOffers>,
    /// The inverters that have strings.
    pub inverters: Vec<InverterOffers>,
}

impl Offers {
    /// Solves every device in every step. Give no `dc` for a plant without an array.
    #[must_use]
    pub fn new(plant: &Plant, dc: Option<&DcYear>) -> Self {
        let (Some(array), Some(dc)) = (&plant.array, dc) else {
            let sets = plant.sets.iter().map(|set| SetOffers::new(&set.pump_set, None)).collect();
            return Self {
                available_w: Vec::new(),
                sets,
                inverters: Vec::new(),
            };
        };
        let groups: Vec<(usize, &StringGroup)> = array.groups.iter().map(|g| &g.strings).enumerate().collect();
        let sets = plant.sets.iter().enumerate().map(|(s, set)| {
            let feeding = Feeding::new(&groups, |g| array.groups[g].set == Some(s));
            SetOffers::new(&set.pump_set, Some((dc, &feeding)))
        });
        let inverters = plant.feeders.iter().enumerate().filter_map(|(i, feeder)| {
            let feeding = Feeding::new(&groups, |g| array.groups[g].inverter == Some(i));
            (!feeding.is_empty()).then(|| InverterOffers {
                inverter: feeder.inverter.clone(),
                bus: (0..dc.steps())
                    .map(|step| BusOffer::solve(dc, &feeding, &feeder.inverter, step))
                    .collect(),
            })
        });
        Self {
            available_w: dc.groups.iter().map(|g| g.available_w.clone()).collect(),
            sets: sets.collect(),
            inverters: inverters.collect(),
        }
    }
}

impl SetOffers {
    fn new(set: &PumpSet, feeding: Option<(&DcYear, &Feeding<'_>)>) -> Self {
        let map = feeding.filter(|(_, f)| !f.is_empty()).and_then(|_| PumpMap::new(set));
        let drive = match (feeding, map) {
            (Some((dc, feeding)), Some(map)) => (0..dc.steps())
                .map(|step| DriveOffer::solve(dc, feeding, map.month(usize::from(dc.month[step])), step))
                .collect(),
            _ => Vec::new(),
        };
        Self {
            drive,
            mains: std::array::from_fn(|month| mains_of(set, month)),
        }
    }
}

fn mains_of(set: &PumpSet, month: usize) -> Mains {
    set.mains(month).map_or_else(Mains::default, |point| Mains {
        flow_m3_s: point.duty.flow_m3_s,
        motor_w: point.duty.motor_w,
        cable_w: point.duty.cable_w,
        throttled: point.throttled,
    })
}
