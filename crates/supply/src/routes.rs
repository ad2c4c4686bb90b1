//! The arrangements: each is a constructor of routes and of the phases in which they hold.

mod dual_mode;
mod grid_only;
mod grid_tied;
mod solar_drive;

use daylift_grid::Outages;
use daylift_plant::plant::Pumping;
use daylift_plant::{Arrangement, Group, SwitchTimes};

use crate::cause::LossCause;
use crate::route::{ArrayFeed, PumpFeed, Schedule};
use crate::timeline::Phase;

/// What an arrangement's schedule depends on.
#[derive(Debug, Clone, Copy)]
pub struct ScheduleInputs<'a> {
    /// When the utility is away.
    pub outages: &'a Outages,
    /// Hours of pumping on mains.
    pub pumping: Pumping,
    /// Changeover times.
    pub switch_times: SwitchTimes,
    /// Wait of the inverters before feeding after the grid's return \[s\].
    pub reconnection_s: f64,
    /// For each string group, whether it has an inverter and whether it has a drive.
    pub groups: &'a [GroupParts],
    /// For each pump set, whether it has a drive with strings.
    pub set_has_drive: &'a [bool],
}

/// What a string group is connected to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GroupParts {
    /// An inverter.
    pub inverter: bool,
    /// A drive.
    pub drive: bool,
}

impl GroupParts {
    /// Parts of a group of the plant.
    #[must_use]
    pub fn of(group: &Group) -> Self {
        Self {
            inverter: group.inverter.is_some(),
            drive: group.set.is_some(),
        }
    }
}

impl ScheduleInputs<'_> {
    /// Groups with an inverter get `feed`, the others have nowhere to go.
    fn groups_on_inverter(&self, feed: ArrayFeed) -> Vec<ArrayFeed> {
        self.groups.iter().map(|g| if g.inverter { feed } else { IDLE }).collect()
    }

    /// Groups with a drive are on it, the others have nowhere to go.
    fn groups_on_drive(&self) -> Vec<ArrayFeed> {
        self.groups.iter().map(|g| if g.drive { ArrayFeed::Drive } else { IDLE }).collect()
    }

    /// Groups with a drive book `cause`, the others have nowhere to go.
    fn groups_waiting_for_drive(&self, cause: LossCause) -> Vec<ArrayFeed> {
        self.groups.iter().map(|g| if g.drive { ArrayFeed::Idle(cause) } else { IDLE }).collect()
    }

    /// Every group books `cause`.
    fn groups_idle(&self, cause: LossCause) -> Vec<ArrayFeed> {
        vec![ArrayFeed::Idle(cause); self.groups.len()]
    }

    /// All pump sets alike.
    fn sets_all(&self, feed: PumpFeed) -> Vec<PumpFeed> {
        vec![feed; self.set_has_drive.len()]
    }

    /// Sets with a drive run on it, the others get `other`.
    fn sets_on_drive(&self, other: PumpFeed) -> Vec<PumpFeed> {
        self.set_has_drive
            .iter()
            .map(|drive| if *drive { PumpFeed::Drive } else { other })
            .collect()
    }
}

/// A group that this state of the plant has no use for while others are used.
const IDLE: ArrayFeed = ArrayFeed::Idle(LossCause::IdleStrings);

/// The schedule of an arrangement.
#[must_use]
pub fn schedule(arrangement: Arrangement, inputs: &ScheduleInputs<'_>) -> Schedule {
    match arrangement {
        Arrangement::GridOnly => grid_only::schedule(inputs),
        Arrangement::SolarDrive => solar_drive::schedule(inputs),
        Arrangement::GridTied => grid_tied::schedule(inputs),
        Arrangement::DualMode => dual_mode::schedule(inputs),
    }
}

/// Phases written one after another; a later one overrides what an earlier one had beyond its begin.
#[derive(Debug, Default)]
struct Phases(Vec<Phase>);

impl Phases {
    /// From `start_s` on, `route`; a phase that would begin at or after `start_s` is dropped.
    fn from(&mut self, start_s: f64, route: u8) {
        while self.0.last().is_some_and(|last| last.start_s >= start_s) {
            self.0.pop();
        }
        if self.0.last().is_none_or(|last| last.route != route) {
            self.0.push(Phase { start_s, route });
        }
    }

    fn into_vec(self) -> Vec<Phase> {
        self.0
    }
}

/// Two routes that follow the utility: `up` while it is there, `down` while it is away.
fn follow_utility(outages: &Outages, up: u8, down: u8) -> Vec<Phase> {
    let mut phases = Phases::default();
    phases.from(0.0, up);
    for outage in outages.intervals() {
        phases.from(outage.start_s, down);
        phases.from(outage.end_s, up);
    }
    phases.into_vec()
}
