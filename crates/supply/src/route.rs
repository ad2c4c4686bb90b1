//! A route: who feeds whom while the route holds.

use daylift_plant::DayHours;

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
        /// Whether the bus helps only while the sun alone cannot run the set.
        only_without_sun: bool,
    },
    /// The drive from the array while the sun can run the set, otherwise the bus.
    DriveElseMains,
    /// Nothing; the cause says why.
    Stands(ShortfallCause),
}

/// What holds the voltage of the bus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bus {
    /// Nothing.
    Dead,
    /// The utility, with a battery beside it or not.
    Utility {
        /// Whether a battery charges and discharges.
        battery: bool,
    },
    /// A generating set, in its hours.
    Generator,
    /// The battery's inverter, until the battery is empty.
    Island {
        /// Whether a generating set takes over when the battery is empty, in its hours.
        generator: bool,
    },
}

/// Who feeds whom.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Route {
    /// Where the power of each string group goes; empty where the arrangement has no array.
    pub groups: Vec<ArrayFeed>,
    /// What runs each pump set.
    pub sets: Vec<PumpFeed>,
    /// Whether the utility is there.
    pub utility: bool,
    /// What holds the bus.
    pub bus: Bus,
    /// Hours in which the pumps may run on the bus.
    pub mains_hours: DayHours,
}

/// The number of a route in a schedule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct RouteId(u16);

impl RouteId {
    /// The route at an index of [`Schedule::routes`].
    #[must_use]
    pub fn of(place: usize) -> Self {
        // A schedule has few routes; an id past the last one finds no route.
        Self(u16::try_from(place).unwrap_or(u16::MAX))
    }
}

impl From<RouteId> for usize {
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
    pub routes: Vec<Route>,
    /// Which route holds from when on, in order; the first from 0.
    pub phases: Vec<Phase>,
}
