//! `dual-mode`: as `grid-tied` while the grid is there; in an outage the array is moved to the drive and back.

use super::{Phases, ScheduleInputs};
use crate::cause::{LossCause, ShortfallCause};
use crate::route::{ArrayFeed, PumpFeed, Route, Schedule};

/// Inverter feeds, pump on mains.
const FEEDING: u8 = 0;
/// Grid away, contacts moving towards the drive.
const CHANGING_DARK: u8 = 1;
/// Grid away, drive runs.
const DRIVING_DARK: u8 = 2;
/// Grid back and under observation, drive still runs, loads are back.
const DRIVING: u8 = 3;
/// Grid back, nothing pumps.
const CHANGING: u8 = 4;
/// Pump on mains, inverter waits.
const WAITING: u8 = 5;

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    Schedule {
        routes: routes(inputs),
        phases: phases(inputs).into_vec(),
    }
}

fn routes(inputs: &ScheduleInputs<'_>) -> Vec<Route> {
    let route = |groups: Vec<ArrayFeed>, sets: Vec<PumpFeed>, utility: bool| Route {
        groups,
        sets,
        utility,
        mains_hours: inputs.pumping.mains_hours,
    };
    let feeding = inputs.groups_on_inverter(ArrayFeed::Bus);
    let changing = PumpFeed::Stands(ShortfallCause::Changeover);
    // Back on the grid a pump without a drive need not change over: it is on mains at once.
    let changing_back = inputs.sets_on_drive(PumpFeed::Mains);
    let changing_back = changing_back
        .into_iter()
        .map(|feed| if feed == PumpFeed::Drive { changing } else { feed });
    let dark = PumpFeed::Stands(ShortfallCause::GridDown);
    let changing_dark = inputs.sets_on_drive(dark);
    let changing_dark = changing_dark
        .into_iter()
        .map(|feed| if feed == PumpFeed::Drive { changing } else { feed });
    vec![
        route(feeding, inputs.sets_all(PumpFeed::Mains), true),
        route(
            inputs.groups_waiting_for_drive(LossCause::Changeover),
            changing_dark.collect(),
            false,
        ),
        route(inputs.groups_on_drive(), inputs.sets_on_drive(dark), false),
        route(inputs.groups_on_drive(), inputs.sets_on_drive(PumpFeed::Mains), true),
        route(inputs.groups_idle(LossCause::Changeover), changing_back.collect(), true),
        route(
            inputs.groups_on_inverter(ArrayFeed::Idle(LossCause::WaitingToReconnect)),
            inputs.sets_all(PumpFeed::Mains),
            true,
        ),
    ]
}

fn phases(inputs: &ScheduleInputs<'_>) -> Phases {
    let times = inputs.switch_times;
    let mut phases = Phases::default();
    phases.from(0.0, FEEDING);
    // Until when the drive keeps running after the last return of the grid, when it ran at all.
    let mut drive_until_s = f64::NEG_INFINITY;
    for outage in inputs.outages.intervals() {
        let still_driving = outage.start_s < drive_until_s;
        let ready_s = if still_driving {
            outage.start_s
        } else {
            outage.start_s + times.to_drive_s
        };
        if !still_driving {
            phases.from(outage.start_s, CHANGING_DARK);
        }
        let drove = ready_s < outage.end_s;
        if drove {
            phases.from(ready_s, DRIVING_DARK);
        }
        let leave_s = outage.end_s + times.grid_stable_s;
        phases.from(outage.end_s, if drove { DRIVING } else { CHANGING });
        phases.from(leave_s, CHANGING);
        phases.from(leave_s + times.to_mains_s, WAITING);
        phases.from(leave_s + times.to_mains_s + inputs.reconnection_s, FEEDING);
        drive_until_s = if drove { leave_s } else { f64::NEG_INFINITY };
    }
    phases
}

#[cfg(test)]
mod tests {
    use daylift_grid::{Interval, Outages};
    use daylift_plant::plant::Pumping;
    use daylift_plant::{DayHours, SwitchTimes};

    use super::*;
    use crate::routes::GroupParts;

    /// Phases after outages from start to end, with 60 s to the drive, 100 s of observation, 30 s back, 50 s of waiting.
    fn phases_of(outages: &[(f64, f64)]) -> Vec<(f64, u8)> {
        let intervals = outages.iter().map(|&(start_s, end_s)| Interval { start_s, end_s }).collect();
        let (outages, _) = Outages::new(intervals, 1e6);
        let inputs = ScheduleInputs {
            outages: &outages,
            pumping: Pumping {
                mains_hours: DayHours::ALL,
                grid_only_hours: DayHours::ALL,
                sun_to_pump_first: true,
            },
            switch_times: SwitchTimes {
                to_drive_s: 60.0,
                grid_stable_s: 100.0,
                to_mains_s: 30.0,
            },
            reconnection_s: 50.0,
            groups: &[GroupParts {
                inverter: true,
                drive: true,
            }],
            set_has_drive: &[true],
        };
        phases(&inputs).into_vec().iter().map(|p| (p.start_s, p.route)).collect()
    }

    #[test]
    fn an_outage_goes_through_every_phase() {
        let worked = [
            (0.0, FEEDING),
            (1000.0, CHANGING_DARK),
            (1060.0, DRIVING_DARK),
            (5000.0, DRIVING),
            (5100.0, CHANGING),
            (5130.0, WAITING),
            (5180.0, FEEDING),
        ];
        assert_eq!(phases_of(&[(1000.0, 5000.0)]), worked);
    }

    #[test]
    fn an_outage_shorter_than_the_changeover_never_starts_the_drive() {
        let worked = [
            (0.0, FEEDING),
            (1000.0, CHANGING_DARK),
            (1040.0, CHANGING),
            (1170.0, WAITING),
            (1220.0, FEEDING),
        ];
        assert_eq!(phases_of(&[(1000.0, 1040.0)]), worked);
    }

    #[test]
    fn a_grid_lost_again_under_observation_leaves_the_drive_running() {
        let worked = [
            (0.0, FEEDING),
            (1000.0, CHANGING_DARK),
            (1060.0, DRIVING_DARK),
            (5000.0, DRIVING),
            (5050.0, DRIVING_DARK),
            (6000.0, DRIVING),
            (6100.0, CHANGING),
            (6130.0, WAITING),
            (6180.0, FEEDING),
        ];
        assert_eq!(phases_of(&[(1000.0, 5000.0), (5050.0, 6000.0)]), worked);
    }

    #[test]
    fn a_grid_lost_again_after_the_drive_was_left_begins_anew() {
        let worked = [
            (0.0, FEEDING),
            (1000.0, CHANGING_DARK),
            (1060.0, DRIVING_DARK),
            (5000.0, DRIVING),
            (5100.0, CHANGING),
            (5110.0, CHANGING_DARK),
            (5170.0, DRIVING_DARK),
            (6000.0, DRIVING),
            (6100.0, CHANGING),
            (6130.0, WAITING),
            (6180.0, FEEDING),
        ];
        assert_eq!(phases_of(&[(1000.0, 5000.0), (5110.0, 6000.0)]), worked);
    }

    #[test]
    fn an_outage_at_the_start_of_the_year_is_no_special_case() {
        assert_eq!(
            phases_of(&[(0.0, 500.0)])[..2],
            [(0.0, CHANGING_DARK), (60.0, DRIVING_DARK)]
        );
    }
}
