use daylift_grid::{Interval, Outages};
use daylift_plant::{ByGroup, DayHours, SwitchTimes};
use typed_index_collections::ti_vec;

use super::*;

/// A group with an inverter and a drive, and a group with an inverter of its own, which waits 200 s.
fn groups() -> ByGroup<GroupParts> {
    let on = |inverter: usize, drive| GroupParts {
        inverter: Some(inverter.into()),
        drive,
    };
    ti_vec![on(0, true), on(1, false)]
}

/// Inputs with 60 s to the drive, 100 s of observation, 30 s back to mains and 50 s of waiting.
fn with_outages<T>(outages: &[(f64, f64)], of: impl Fn(&ScheduleInputs<'_>) -> T) -> T {
    let intervals = outages.iter().map(|&(start_s, end_s)| Interval { start_s, end_s }).collect();
    let (outages, _) = Outages::new(intervals, 1e6);
    of(&ScheduleInputs {
        outages: &outages,
        mains_hours: DayHours::ALL,
        switch_times: SwitchTimes {
            to_drive_s: 60.0,
            grid_stable_s: 100.0,
            to_mains_s: 30.0,
        },
        generator_delay_s: 0.0,
        reconnection_s: &ti_vec![50.0, 200.0],
        groups: &groups(),
        set_has_drive: &ti_vec![true],
        restart: None,
    })
}

/// Where the switched part of the array is.
fn phases_of(outages: &[(f64, f64)]) -> Vec<(f64, Changeover)> {
    with_outages(outages, |inputs| array_track(inputs).0.states().to_vec())
}

#[test]
fn a_switched_inverter_waits_after_the_changeover_and_an_unswitched_one_from_the_grids_return() {
    let waiting = ArrayFeed::Idle(LossCause::WaitingToReconnect);
    let changing = ArrayFeed::Idle(LossCause::Changeover);
    let schedule = with_outages(&[(1000.0, 5000.0)], schedule);
    let groups: Vec<(f64, ByGroup<ArrayFeed>)> = schedule
        .phases
        .iter()
        .map(|p| (p.start_s, schedule.routes[p.route].groups.clone()))
        .collect();
    let worked = [
        (0.0, ti_vec![ArrayFeed::Bus, ArrayFeed::Bus]),
        (1000.0, ti_vec![changing, IDLE]),
        (1060.0, ti_vec![ArrayFeed::Drive, IDLE]),
        (5000.0, ti_vec![ArrayFeed::Drive, waiting]),
        (5100.0, ti_vec![changing, waiting]),
        (5130.0, ti_vec![waiting, waiting]),
        (5180.0, ti_vec![ArrayFeed::Bus, waiting]),
        (5200.0, ti_vec![ArrayFeed::Bus, ArrayFeed::Bus]),
    ];
    assert_eq!(groups, worked);
}

#[test]
fn an_outage_goes_through_every_phase() {
    let worked = [
        (0.0, Changeover::OnGrid),
        (1000.0, Changeover::ChangingGridDown),
        (1060.0, Changeover::DrivingGridDown),
        (5000.0, Changeover::Driving),
        (5100.0, Changeover::Changing),
        (5130.0, Changeover::OnGrid),
    ];
    assert_eq!(phases_of(&[(1000.0, 5000.0)]), worked);
}

#[test]
fn an_outage_shorter_than_the_changeover_never_starts_the_drive() {
    let worked = [
        (0.0, Changeover::OnGrid),
        (1000.0, Changeover::ChangingGridDown),
        (1040.0, Changeover::Changing),
        (1170.0, Changeover::OnGrid),
    ];
    assert_eq!(phases_of(&[(1000.0, 1040.0)]), worked);
}

#[test]
fn a_grid_lost_again_under_observation_leaves_the_drive_running() {
    let worked = [
        (0.0, Changeover::OnGrid),
        (1000.0, Changeover::ChangingGridDown),
        (1060.0, Changeover::DrivingGridDown),
        (5000.0, Changeover::Driving),
        (5050.0, Changeover::DrivingGridDown),
        (6000.0, Changeover::Driving),
        (6100.0, Changeover::Changing),
        (6130.0, Changeover::OnGrid),
    ];
    assert_eq!(phases_of(&[(1000.0, 5000.0), (5050.0, 6000.0)]), worked);
}

#[test]
fn a_grid_lost_again_after_the_drive_stopped_starts_from_the_first_phase() {
    let worked = [
        (0.0, Changeover::OnGrid),
        (1000.0, Changeover::ChangingGridDown),
        (1060.0, Changeover::DrivingGridDown),
        (5000.0, Changeover::Driving),
        (5100.0, Changeover::Changing),
        (5110.0, Changeover::ChangingGridDown),
        (5170.0, Changeover::DrivingGridDown),
        (6000.0, Changeover::Driving),
        (6100.0, Changeover::Changing),
        (6130.0, Changeover::OnGrid),
    ];
    assert_eq!(phases_of(&[(1000.0, 5000.0), (5110.0, 6000.0)]), worked);
}

#[test]
fn an_outage_at_the_start_of_the_year_is_no_special_case() {
    assert_eq!(
        phases_of(&[(0.0, 500.0)])[..2],
        [(0.0, Changeover::ChangingGridDown), (60.0, Changeover::DrivingGridDown)]
    );
}

#[test]
fn the_changeover_leaves_the_grid_unless_the_drive_is_still_running() {
    let cycles_of = |outages: &[(f64, f64)]| with_outages(outages, cycles);
    assert_eq!(cycles_of(&[]), 0);
    // Too short for the drive, and the grid lost again while the plant changes back to it.
    assert_eq!(cycles_of(&[(1000.0, 1040.0)]), 1);
    assert_eq!(cycles_of(&[(1000.0, 5000.0), (5110.0, 6000.0)]), 2);
    // Lost again while the drive runs.
    assert_eq!(cycles_of(&[(1000.0, 5000.0), (5050.0, 6000.0)]), 1);
}
