//! What each device would make of the array's power in each step: solved before the loop, shared by all arrangements.

mod bus;
mod drive;
mod second_input;

use daylift_array::{Inverter, StringGroup};
use daylift_lift::{PumpMap, PumpSet};
use daylift_plant::{Plant, SecondInput};

pub use bus::{Brought, BusOffer};
pub use drive::DriveOffer;

use second_input::AtStep;

use crate::dc::DcYear;
use crate::strings::Feeding;

/// A pump on mains in a month, or several together.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Mains {
    /// Flow \[m³/s\].
    pub flow_m3_s: f64,
    /// Power at the motor's terminals \[W\].
    pub motor_w: f64,
    /// Lost in the motor cable and, on a drive's second input, in the drive \[W\].
    pub lost_w: f64,
    /// Whether the well holds the flow back.
    pub throttled: bool,
}

impl Mains {
    /// Power taken from the bus \[W\].
    #[must_use]
    pub fn bus_w(&self) -> f64 {
        self.motor_w + self.lost_w
    }

    /// Adds another pump.
    pub(crate) fn add(&mut self, other: &Self) {
        self.flow_m3_s += other.flow_m3_s;
        self.motor_w += other.motor_w;
        self.lost_w += other.lost_w;
        self.throttled |= other.throttled;
    }
}

/// A pump set through the year.
#[derive(Debug, Clone)]
pub struct SetOffers {
    /// On its drive in each step; empty when no string group feeds it.
    pub drive: Vec<DriveOffer>,
    /// The same with mains on the drive's second input; empty when the plant has none.
    pub with_mains: Vec<DriveOffer>,
    /// On mains in each month.
    pub mains: [Mains; 12],
}

/// An inverter through the year.
#[derive(Debug, Clone)]
pub struct InverterOffers {
    /// The inverter.
    pub inverter: Inverter,
    /// One of its string groups: all of them are on the bus or none.
    pub group: usize,
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
            let sets = plant.sets.iter().map(|set| SetOffers::new(&set.pump_set, None, None)).collect();
            return Self {
                available_w: Vec::new(),
                sets,
                inverters: Vec::new(),
            };
        };
        let groups: Vec<(usize, &StringGroup)> = array.groups.iter().map(|g| &g.strings).enumerate().collect();
        let sets = plant.sets.iter().enumerate().map(|(s, set)| {
            let feeding = Feeding::new(&groups, |g| array.groups[g].set == Some(s));
            SetOffers::new(&set.pump_set, Some((dc, &feeding)), plant.beside.second_input.as_ref())
        });
        let inverters = plant.feeders.iter().enumerate().filter_map(|(i, feeder)| {
            let feeding = Feeding::new(&groups, |g| array.groups[g].inverter == Some(i));
            feeding.first().map(|group| InverterOffers {
                inverter: feeder.inverter.clone(),
                group,
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
    fn new(set: &PumpSet, feeding: Option<(&DcYear, &Feeding<'_>)>, input: Option<&SecondInput>) -> Self {
        let mains = std::array::from_fn(|month| mains_of(set, month));
        let fed = feeding.filter(|(_, f)| !f.is_empty()).and_then(|fed| Some((fed, PumpMap::new(set)?)));
        let Some(((dc, feeding), map)) = fed else {
            return Self {
                drive: Vec::new(),
                with_mains: Vec::new(),
                mains,
            };
        };
        let column = |step: usize| map.month(usize::from(dc.month[step]));
        let drive: Vec<DriveOffer> =
            (0..dc.steps()).map(|step| DriveOffer::solve(dc, feeding, column(step), step)).collect();
        let with_mains = input.map_or_else(Vec::new, |input| {
            let at = |step: usize| AtStep {
                dc,
                feeding,
                column: column(step),
                step,
            };
            (0..).zip(&drive).map(|(step, alone)| at(step).with_mains(input, alone)).collect()
        });
        Self {
            drive,
            with_mains,
            mains,
        }
    }
}

fn mains_of(set: &PumpSet, month: usize) -> Mains {
    set.mains(month).map_or_else(Mains::default, |point| Mains {
        flow_m3_s: point.duty.flow_m3_s,
        motor_w: point.duty.motor_w,
        lost_w: point.duty.cable_w,
        throttled: point.throttled,
    })
}
