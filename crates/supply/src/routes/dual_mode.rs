//! `dual-mode`: as `grid-tied` while the grid is on; in an outage the array is moved to the drive and back.
//!
//! If none of its strings has a drive, an inverter keeps strings of its own and is not switched.

use daylift_plant::{ByInverter, InverterId};
use typed_index_collections::TiSlice;

use super::inputs::{GroupParts, IDLE, NO_POWER, ScheduleInputs, UTILITY};
use super::tracks::{Track, Wait, combine};
use crate::cause::{LossCause, ShortfallCause};
use crate::route::{ArrayFeed, Bus, PumpFeed, Route, Schedule};

/// Where the switched part of the array is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Changeover {
    /// Inverters may feed, pumps on mains.
    OnGrid,
    /// Grid down, changing over to the drive.
    ChangingGridDown,
    /// Grid down, drive runs.
    DrivingGridDown,
    /// Grid back and under observation: the drive still runs, the loads are back on the grid.
    Driving,
    /// Grid back, changing over to it: sets with a drive do not pump.
    Changing,
}

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    let switched: ByInverter<bool> = inputs
        .reconnection_s
        .keys()
        .map(|i| inputs.groups.iter().any(|g| g.drive && g.inverter == Some(i)))
        .collect();
    let (array, back_on_mains_s, _) = array_track(inputs);
    let inverters = Track::of_inverters(inputs, |i| {
        if switched[i] {
            back_on_mains_s.clone()
        } else {
            inputs.returns_s().collect()
        }
    });
    combine((array, inverters), |(array, inverters)| {
        route(inputs, &switched, *array, inverters)
    })
}

fn route(
    inputs: &ScheduleInputs<'_>,
    switched: &TiSlice<InverterId, bool>,
    state: Changeover,
    inverters: &TiSlice<InverterId, Wait>,
) -> Route {
    let is_own = |g: &GroupParts| g.inverter.is_some_and(|i| !switched[i]);
    let ready = |g: &GroupParts| g.inverter.map_or(IDLE, |i| inverters[i].feeding());
    let changing = PumpFeed::Stopped(ShortfallCause::Changeover);
    let groups = inputs.groups(|g| match state {
        Changeover::OnGrid => ready(g),
        Changeover::ChangingGridDown if g.drive => ArrayFeed::Idle(LossCause::Changeover),
        Changeover::DrivingGridDown | Changeover::Driving if g.drive => ArrayFeed::Drive,
        Changeover::Driving | Changeover::Changing if is_own(g) => ready(g),
        Changeover::Changing => ArrayFeed::Idle(LossCause::Changeover),
        _ => IDLE,
    });
    // When the grid returns, a pump without a drive does not change over: it is on mains at once.
    let (sets, bus) = match state {
        Changeover::ChangingGridDown => (inputs.sets(changing, NO_POWER), Bus::Dead),
        Changeover::DrivingGridDown => (inputs.sets(PumpFeed::Drive, NO_POWER), Bus::Dead),
        Changeover::Driving => (inputs.sets(PumpFeed::Drive, PumpFeed::Mains), UTILITY),
        Changeover::Changing => (inputs.sets(changing, PumpFeed::Mains), UTILITY),
        Changeover::OnGrid => (inputs.sets_all(PumpFeed::Mains), UTILITY),
    };
    inputs.route(groups, sets, bus)
}

/// How often the changeover leaves the grid: with each outage that does not find the drive still running.
pub(super) fn cycles(inputs: &ScheduleInputs<'_>) -> usize {
    array_track(inputs).2
}

/// Where the switched part of the array is, the instants at which the changeover back to the grid is done, and how often it
/// leaves the grid.
fn array_track(inputs: &ScheduleInputs<'_>) -> (Track<Changeover>, Vec<f64>, usize) {
    let times = inputs.switch_times;
    let mut track = Track::beginning(Changeover::OnGrid);
    let mut back_on_mains_s = Vec::new();
    let mut cycles = 0;
    // When the drive stops after the last return of the grid, if it ran at all.
    let mut drive_until_s = f64::NEG_INFINITY;
    for outage in inputs.outages.intervals() {
        let still_driving = outage.start_s < drive_until_s;
        let ready_s = if still_driving {
            outage.start_s
        } else {
            outage.start_s + times.to_drive_s
        };
        if !still_driving {
            track.from(outage.start_s, Changeover::ChangingGridDown);
            cycles += 1;
        }
        let drove = ready_s < outage.end_s;
        if drove {
            track.from(ready_s, Changeover::DrivingGridDown);
        }
        let leave_s = outage.end_s + times.grid_stable_s;
        track.from(
            outage.end_s,
            if drove {
                Changeover::Driving
            } else {
                Changeover::Changing
            },
        );
        track.from(leave_s, Changeover::Changing);
        track.from(leave_s + times.to_mains_s, Changeover::OnGrid);
        back_on_mains_s.push(leave_s + times.to_mains_s);
        drive_until_s = if drove { leave_s } else { f64::NEG_INFINITY };
    }
    (track, back_on_mains_s, cycles)
}

#[cfg(test)]
mod tests;
