//! The arrangements: each is a constructor of routes and of the phases in which they hold.

mod dual_mode;
mod grid_only;
mod grid_tied;
mod solar_drive;

use daylift_grid::Outages;
use daylift_plant::plant::Pumping;
use daylift_plant::{Arrangement, SwitchTimes};

use crate::route::Schedule;
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
    /// Wait of the inverter before feeding after the grid's return \[s\].
    pub reconnection_s: f64,
}

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
