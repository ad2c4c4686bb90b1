//! The inputs of schedules, and what their routes have in common.

use daylift_grid::Outages;
use daylift_plant::{ByGroup, BySet, DayHours, Group, GroupId, InverterId, SetId, SwitchTimes};
use daylift_units::{Axis, fingerprint};
use typed_index_collections::TiSlice;

use crate::cause::{LossCause, ShortfallCause};
use crate::route::{ArrayFeed, Bus, PumpFeed, Route};

/// What an arrangement's schedule depends on.
#[derive(Debug, Clone, Copy)]
pub struct ScheduleInputs<'a> {
    /// When the utility is down.
    pub outages: &'a Outages,
    /// Hours of pumping on the bus in this row.
    pub mains_hours: DayHours,
    /// Changeover times.
    pub switch_times: SwitchTimes,
    /// Time from the loss of the utility until a generator carries load \[s\].
    pub generator_delay_s: f64,
    /// Wait of each inverter before feeding after the grid's return \[s\].
    pub reconnection_s: &'a TiSlice<InverterId, f64>,
    /// For each string group, its inverter and whether it has a drive.
    pub groups: &'a TiSlice<GroupId, GroupParts>,
    /// For each pump set, whether it has a drive with strings.
    pub set_has_drive: &'a TiSlice<SetId, bool>,
    /// Restart by hand of sets on the bus; `None` where their starters close with the power.
    pub restart: Option<RestartByHand<'a>>,
}

fingerprint!(ScheduleInputs<'_> { outages, mains_hours, switch_times, generator_delay_s, reconnection_s, groups, set_has_drive, restart });

/// When somebody closes the starters after a loss of power.
#[derive(Debug, Clone, Copy)]
pub struct RestartByHand<'a> {
    /// Hours in which somebody is there.
    pub attended: DayHours,
    /// Least time from the return of power \[s\].
    pub delay_s: f64,
    /// Hours in which a generator may run.
    pub generator_hours: DayHours,
    /// The year, for its civil hours.
    pub axis: &'a Axis,
}

fingerprint!(RestartByHand<'_> { attended, delay_s, generator_hours, axis });

/// What a string group is connected to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct GroupParts {
    /// Its inverter.
    pub inverter: Option<InverterId>,
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

/// No power on the bus: the sets on it are stopped.
pub(super) const NO_POWER: PumpFeed = PumpFeed::Stopped(ShortfallCause::GridDown);
/// A group that has no use in this state of the plant, while others are used.
pub(super) const IDLE: ArrayFeed = ArrayFeed::Idle(LossCause::IdleStrings);
/// The utility without a battery.
pub(super) const UTILITY: Bus = Bus::Utility { battery: false };

impl ScheduleInputs<'_> {
    /// A route in the hours of this row.
    pub(super) fn route(&self, groups: ByGroup<ArrayFeed>, sets: BySet<PumpFeed>, bus: Bus) -> Route {
        Route {
            groups,
            sets,
            utility: matches!(bus, Bus::Utility { .. }),
            bus,
            mains_hours: self.mains_hours,
        }
    }

    /// Returns of the utility \[s after the start of the year\].
    pub(super) fn returns_s(&self) -> impl Iterator<Item = f64> + '_ {
        self.outages.intervals().iter().map(|outage| outage.end_s)
    }

    /// The feed of each group, by `feed`.
    pub(super) fn groups(&self, feed: impl Fn(&GroupParts) -> ArrayFeed) -> ByGroup<ArrayFeed> {
        self.groups.iter().map(feed).collect()
    }

    /// Groups with a drive feed it; the others are idle.
    pub(super) fn groups_on_drive(&self) -> ByGroup<ArrayFeed> {
        self.groups(|g| if g.drive { ArrayFeed::Drive } else { IDLE })
    }

    /// The same feed for all pump sets.
    pub(super) fn sets_all(&self, feed: PumpFeed) -> BySet<PumpFeed> {
        self.set_has_drive.iter().map(|_| feed).collect()
    }

    /// The feed `driven` for sets with a drive, `other` for the others.
    pub(super) fn sets(&self, driven: PumpFeed, other: PumpFeed) -> BySet<PumpFeed> {
        self.set_has_drive.iter().map(|drive| if *drive { driven } else { other }).collect()
    }
}
