//! The arrangements: each is a constructor of routes and of the phases in which they hold.

mod battery_hybrid;
mod dual_mode;
mod generator;
mod grid_only;
mod grid_tied;
mod solar_drive;
mod solar_drive_with_grid;
mod tracks;

use daylift_grid::Outages;
use daylift_plant::{Arrangement, DayHours, Group, SwitchTimes, Wiring};
use daylift_units::fingerprint;

use crate::cause::{LossCause, ShortfallCause};
use crate::route::{ArrayFeed, Bus, PumpFeed, Route, Schedule};

/// What an arrangement's schedule depends on.
#[derive(Debug, Clone, Copy)]
pub struct ScheduleInputs<'a> {
    /// When the utility is away.
    pub outages: &'a Outages,
    /// Hours of pumping on the bus in this row.
    pub mains_hours: DayHours,
    /// Changeover times.
    pub switch_times: SwitchTimes,
    /// From the loss of the utility until a generating set bears load \[s\].
    pub generator_delay_s: f64,
    /// Wait of each inverter before feeding after the grid's return \[s\].
    pub reconnection_s: &'a [f64],
    /// For each string group, its inverter and whether it has a drive.
    pub groups: &'a [GroupParts],
    /// For each pump set, whether it has a drive with strings.
    pub set_has_drive: &'a [bool],
}

fingerprint!(ScheduleInputs<'_> { outages, mains_hours, switch_times, generator_delay_s, reconnection_s, groups, set_has_drive });

/// What a string group is connected to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct GroupParts {
    /// Index of its inverter.
    pub inverter: Option<usize>,
    /// Whether it has a drive.
    pub drive: bool,
}

fingerprint!(by Hash: GroupParts);

impl GroupParts {
    /// Parts of a group of the plant.
    #[must_use]
    pub fn of(group: &Group) -> Self {
        Self {
            inverter: group.inverter,
            drive: group.set.is_some(),
        }
    }
}

/// No power on the bus: the sets on it stand.
const DARK: PumpFeed = PumpFeed::Stands(ShortfallCause::GridDown);
/// A group that this state of the plant has no use for while others are used.
const IDLE: ArrayFeed = ArrayFeed::Idle(LossCause::IdleStrings);
/// The utility without a battery.
const UTILITY: Bus = Bus::Utility { battery: false };

impl ScheduleInputs<'_> {
    fn route(&self, groups: Vec<ArrayFeed>, sets: Vec<PumpFeed>, bus: Bus) -> Route {
        Route {
            groups,
            sets,
            utility: matches!(bus, Bus::Utility { .. }),
            bus,
            mains_hours: self.mains_hours,
        }
    }

    /// Returns of the utility \[s after the start of the year\].
    fn returns_s(&self) -> impl Iterator<Item = f64> + '_ {
        self.outages.intervals().iter().map(|outage| outage.end_s)
    }

    /// What `feed` says of each group.
    fn groups(&self, feed: impl Fn(&GroupParts) -> ArrayFeed) -> Vec<ArrayFeed> {
        self.groups.iter().map(feed).collect()
    }

    /// Groups with a drive are on it, the others have nowhere to go.
    fn groups_on_drive(&self) -> Vec<ArrayFeed> {
        self.groups(|g| if g.drive { ArrayFeed::Drive } else { IDLE })
    }

    /// All pump sets alike.
    fn sets_all(&self, feed: PumpFeed) -> Vec<PumpFeed> {
        vec![feed; self.set_has_drive.len()]
    }

    /// Sets with a drive get `driven`, the others `other`.
    fn sets(&self, driven: PumpFeed, other: PumpFeed) -> Vec<PumpFeed> {
        self.set_has_drive.iter().map(|drive| if *drive { driven } else { other }).collect()
    }
}

/// A group whose inverter feeds once it has waited.
fn feeding_when_ready(inverter: u16) -> ArrayFeed {
    if inverter == tracks::READY {
        ArrayFeed::Bus
    } else {
        ArrayFeed::Idle(LossCause::WaitingToReconnect)
    }
}

/// The schedule of an arrangement, with what stands beside it.
#[must_use]
pub fn schedule(arrangement: Arrangement, inputs: &ScheduleInputs<'_>) -> Schedule {
    let alone = match arrangement.wiring {
        Wiring::GridOnly => grid_only::schedule(inputs),
        Wiring::SolarDrive => solar_drive::schedule(inputs),
        Wiring::SolarDriveWithGrid => solar_drive_with_grid::schedule(inputs),
        Wiring::GridTied => grid_tied::schedule(inputs),
        Wiring::DualMode => dual_mode::schedule(inputs),
        Wiring::BatteryHybrid => battery_hybrid::schedule(inputs),
    };
    if arrangement.generator {
        generator::beside(&alone, inputs)
    } else {
        alone
    }
}
