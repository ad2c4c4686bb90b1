use daylift_grid::{Interval, Outages};
use daylift_plant::{DayHours, SetId, SwitchTimes};
use daylift_units::{Axis, Step};
use typed_index_collections::ti_vec;

use super::*;
use crate::routes::schedule;

const H: f64 = 3600.0;

/// The feed of the set from each instant \[h\] on, in a year of UTC whose starters are closed by hand from 6 to 18 h, half an
/// hour after the power returns. A generator takes 12 minutes to start.
fn feeds(
    arrangement: Arrangement,
    outages_h: &[(f64, f64)],
    generator_hours: DayHours,
    has_drive: bool,
) -> Vec<(f64, PumpFeed)> {
    let axis = Axis::new(2025, 365, 0, "UTC", Step::Hour).unwrap();
    let intervals = outages_h.iter().map(|&(from_h, to_h)| Interval {
        start_s: from_h * H,
        end_s: to_h * H,
    });
    let (outages, _) = Outages::new(intervals.collect(), axis.length_s());
    let made = schedule(
        arrangement,
        &ScheduleInputs {
            outages: &outages,
            mains_hours: DayHours::ALL,
            switch_times: SwitchTimes {
                to_drive_s: 0.0,
                grid_stable_s: 0.0,
                to_mains_s: 0.0,
            },
            generator_delay_s: 720.0,
            reconnection_s: &ti_vec![],
            groups: &ti_vec![],
            set_has_drive: &ti_vec![has_drive],
            restart: Some(RestartByHand {
                attended: DayHours::between(6, 18),
                delay_s: 1800.0,
                generator_hours,
                axis: &axis,
            }),
        },
    );
    let mut feeds: Vec<(f64, PumpFeed)> = Vec::new();
    for phase in &made.phases {
        let feed = made.routes[phase.route].sets[SetId::from(0)];
        if feeds.last().is_none_or(|last| last.1 != feed) {
            feeds.push((phase.start_s / H, feed));
        }
    }
    feeds
}

const MAINS: PumpFeed = PumpFeed::Mains;
const DARK: PumpFeed = PumpFeed::Stopped(ShortfallCause::GridDown);
const WAITS: PumpFeed = PumpFeed::Stopped(ShortfallCause::WaitingForRestart);

fn same(feeds: &[(f64, PumpFeed)], worked: &[(f64, PumpFeed)]) {
    assert_eq!(feeds.len(), worked.len(), "{feeds:?}");
    for (ours, worked) in feeds.iter().zip(worked) {
        assert!((ours.0 - worked.0).abs() < 1e-9 && ours.1 == worked.1, "{feeds:?}");
    }
}

/// Worked by hand. Back at 10 h: closed at 10.5 h. Back at 17.75 h: half an hour later nobody is there until 6 h of the
/// next day. Back at 5 h: closed at 6 h.
#[test]
fn a_starter_closes_after_the_delay_in_an_attended_hour() {
    let outages = [(8.0, 10.0), (17.0, 17.75), (24.0 + 4.0, 24.0 + 5.0)];
    let worked = [
        (0.0, MAINS),
        (8.0, DARK),
        (10.0, WAITS),
        (10.5, MAINS),
        (17.0, DARK),
        (17.75, WAITS),
        (28.0, DARK),
        (29.0, WAITS),
        (30.0, MAINS),
    ];
    same(&feeds(Arrangement::GRID_ONLY, &outages, DayHours::ALL, true), &worked);
}

/// A loss before the starter is closed leaves it open, and the delay begins again.
#[test]
fn power_lost_again_leaves_the_starter_open() {
    let worked = [
        (0.0, MAINS),
        (8.0, DARK),
        (9.0, WAITS),
        (9.25, DARK),
        (10.0, WAITS),
        (10.5, MAINS),
    ];
    same(
        &feeds(
            Arrangement::GRID_ONLY,
            &[(8.0, 9.0), (9.25, 10.0)],
            DayHours::ALL,
            false,
        ),
        &worked,
    );
}

/// The generator carries load from 8.2 h, so its starter closes at 8.7 h; with the utility's return it drops out again.
#[test]
fn a_generator_needs_the_button_twice() {
    let row = Arrangement::GRID_ONLY.with_generator();
    let worked = [
        (0.0, MAINS),
        (8.0, DARK),
        (8.2, WAITS),
        (8.7, MAINS),
        (10.0, WAITS),
        (10.5, MAINS),
    ];
    same(&feeds(row, &[(8.0, 10.0)], DayHours::ALL, true), &worked);
    // The generator stops at 9 h, at the end of its own hours, and its starter drops out; until 10 h there is no power.
    let stopped = feeds(row, &[(8.0, 12.0)], DayHours::between(8, 9), true);
    assert!(
        !stopped.iter().any(|(at_h, feed)| *feed == WAITS && (9.0..12.0).contains(at_h)),
        "{stopped:?}"
    );
    assert!(stopped.contains(&(12.0, WAITS)));
    // An outage shorter than its start delay leaves one wait.
    let worked = [(0.0, MAINS), (8.0, DARK), (8.1, WAITS), (8.6, MAINS)];
    same(&feeds(row, &[(8.0, 8.1)], DayHours::ALL, true), &worked);
}

#[test]
fn drive_changeover_and_island_restart_by_themselves() {
    let waits = |arrangement, has_drive| {
        let feeds = feeds(arrangement, &[(8.0, 10.0)], DayHours::ALL, has_drive);
        feeds.iter().any(|(_, feed)| *feed == WAITS)
    };
    for started in [
        Arrangement::SOLAR_DRIVE,
        Arrangement::SOLAR_DRIVE_WITH_GRID,
        Arrangement::DUAL_MODE,
    ] {
        for row in [started, started.with_generator()] {
            assert!(!waits(row, true), "{row}");
            // A set without strings on a drive runs directly on the bus.
            assert!(waits(row, false), "{row}");
        }
    }
    for row in [
        Arrangement::BATTERY_HYBRID,
        Arrangement::BATTERY_HYBRID.with_generator(),
    ] {
        assert!(!waits(row, true) && !waits(row, false), "{row}");
    }
    // Beside an inverter every set runs directly on the bus, whatever drive it has in other rows.
    assert!(waits(Arrangement::GRID_TIED, true) && waits(Arrangement::GRID_ONLY, true));
}

/// A year that begins with the grid away counts as a loss at its beginning.
#[test]
fn an_outage_at_the_beginning_of_the_year_opens_the_starter() {
    let worked = [(0.0, DARK), (2.0, WAITS), (6.0, MAINS)];
    same(
        &feeds(Arrangement::GRID_ONLY, &[(0.0, 2.0)], DayHours::ALL, true),
        &worked,
    );
}

/// Clocks go forward at 2 h on 9 March 2025 in New York: 6 h of that day is one hour earlier.
#[test]
fn attended_hours_are_those_of_the_civil_clock() {
    let axis = Axis::new(2025, 365, -5 * 3600, "America/New_York", Step::Hour).unwrap();
    let rule = RestartByHand {
        attended: DayHours::between(6, 18),
        delay_s: 0.0,
        generator_hours: DayHours::ALL,
        axis: &axis,
    };
    let midnight_s = 67.0 * 24.0 * H;
    assert!((rule.closes_s(midnight_s) - (midnight_s + 5.0 * H)).abs() < 1e-9);
    assert!((rule.closes_s(midnight_s - 24.0 * H) - (midnight_s - 18.0 * H)).abs() < 1e-9);
}
