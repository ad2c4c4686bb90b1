//! A route: who feeds whom while the route holds.

use daylift_plant::{ByGroup, BySet, DayHours};
use typed_index_collections::TiVec;

use crate::cause::{LossCause, ShortfallCause};

/// Where the power of a string group goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ArrayFeed {
    /// Through its inverter to the bus.
    Bus,
    /// To the drive.
    Drive,
    /// Nowhere; the cause says why.
    Idle(LossCause),
}

/// What runs a pump set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PumpFeed {
    /// The bus, at rated frequency.
    Mains,
    /// The drive, from the array.
    Drive,
    /// The drive, from the array and, on its second input, from the bus.
    DriveAndMains {
        /// Whether the bus helps only while the sun alone gives less than its share of the wanted flow.
        only_without_sun: bool,
    },
    /// The drive from the array while the sun alone gives its share of the wanted flow, otherwise the bus.
    DriveElseMains,
    /// Nothing; the cause says why.
    Stopped(ShortfallCause),
}

/// What holds the voltage of the bus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bus {
    /// Nothing.
    Dead,
    /// The utility, with or without a battery.
    Utility {
        /// Whether a battery charges and discharges.
        battery: bool,
    },
    /// A generator, in its hours.
    Generator,
    /// The battery's inverter, until the battery is empty.
    Island {
        /// Whether a generator takes over when the battery is empty, in its hours.
        generator: bool,
    },
}

/// Who feeds whom.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Route {
    /// Where the power of each string group goes; empty where the arrangement has no array.
    pub groups: ByGroup<ArrayFeed>,
    /// What runs each pump set.
    pub sets: BySet<PumpFeed>,
    /// Whether the utility is on.
    pub utility: bool,
    /// What holds the bus.
    pub bus: Bus,
    /// Hours in which the pumps may run on the bus.
    pub mains_hours: DayHours,
}

/// Index of a route of a schedule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct RouteId(u16);

impl From<usize> for RouteId {
    #[inline]
    fn from(place: usize) -> Self {
        // Routes are made of a few states each; an id past the last would find no route.
        Self(u16::try_from(place).unwrap_or(u16::MAX))
    }
}

impl From<RouteId> for usize {
    #[inline]
    fn from(id: RouteId) -> Self {
        Self::from(id.0)
    }
}

/// A route that holds from an instant on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Phase {
    /// Start, seconds after the start of the year.
    pub start_s: f64,
    /// The route.
    pub route: RouteId,
}

/// An arrangement's year: its routes, and when each holds.
#[derive(Debug, Clone)]
pub struct Schedule {
    /// The routes.
    pub routes: TiVec<RouteId, Route>,
    /// From when on which route holds, in order; the first at 0.
    pub phases: Vec<Phase>,
}
