//! Starts of motors, power-ups of drives and cycles of the changeover on days worked by hand (no published source).
//!
//! 10 m³ are wanted in every hour and mains gives 30 m³/h, so that the level falls by 10 m³/h while the pump rests and rises
//! by 20 m³/h while it runs.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod day;

use day::{DAYS, Day, Delays, NONE, Sun, exactly};
use daylift_lift::TankSheet;
use daylift_plant::{Arrangement, DayHours, SetId};
use daylift_supply::{MotorStarts, YearResult};
use daylift_units::Step;

const STEPS: [Step; 3] = [Step::Hour, Step::TenMinutes, Step::Minute];
const H: f64 = 3600.0;

/// Starts of the first set.
fn first(year: &YearResult) -> MotorStarts {
    *year.starts.first().unwrap()
}

/// Power-ups of the first set's drive: in the year and at most in a day.
fn power_ups(year: &YearResult) -> (u32, u32) {
    let ups = year.power_ups.first().unwrap();
    (ups.in_year, ups.most_in_a_day)
}

/// A cycle takes 1 h down and 0.5 h up: 16 starts a day, the first at 1:00.
#[test]
fn each_cycle_of_the_tank_is_a_start() {
    for step in STEPS {
        let starts = first(&Day::steady(step).year(Arrangement::GRID_ONLY));
        exactly(starts.on_bus, 16.0 * DAYS);
        exactly(starts.most_in_a_day, 16.0);
        exactly(starts.least_gap_s, 1.5 * H);
        assert_eq!(starts.on_sun, (step == Step::Minute).then_some(0.0));
    }
}

/// A tank of 30 m³ that restarts at 15 m³ is full at 0:00; a cycle takes 2.25 h. The pump starts at 1:30, 3:45, 6:00 and
/// 8:15. The outage from 8:30 to 9:30 stops it at 20 m³. It starts again at 10 m³, 1.25 h after the last start, and the tank
/// is full at 10:30. Six cycles later, at 24:00, it is full again.
#[test]
fn an_outage_adds_a_start() {
    for step in STEPS {
        let day = Day {
            outage_h: Some((8.5, 9.5)),
            tank: TankSheet {
                capacity_m3: 30.0,
                restart_level: 0.5,
                low_mark: 0.2,
            },
            ..Day::steady(step)
        };
        let starts = first(&day.year(Arrangement::GRID_ONLY));
        exactly(starts.on_bus, 11.0 * DAYS);
        exactly(starts.most_in_a_day, 11.0);
        exactly(starts.least_gap_s, 1.25 * H);
    }
}

/// Outside 6 to 18 h the low mark is held from 1:30 to 6:00: 4.5 starts. From 6:00 the pump fills the tank, until 10:00. It
/// ran before, so this is no new start. It starts again at 11:00, 12:30, 14:00, 15:30 and 17:00.
#[test]
fn while_the_low_mark_is_held_there_is_a_start_an_hour() {
    for step in STEPS {
        let day = Day {
            mains_hours: DayHours::between(6, 18),
            ..Day::steady(step)
        };
        let starts = first(&day.year(Arrangement::GRID_ONLY));
        exactly(starts.on_bus, 9.5 * DAYS);
        exactly(starts.most_in_a_day, 9.5);
        exactly(starts.least_gap_s, H);
    }
}

/// With the sun from 7 to 18 h at full flow, the pump starts at 7:00, fills the tank by 12:00 and starts at 13:00, 14:30,
/// 16:00 and 17:30. The drive has DC once a day.
#[test]
fn starts_on_the_sun_are_counted_at_one_minute() {
    for step in STEPS {
        let day = Day {
            sun: Sun::by_hours(|h| if (7..18).contains(&h) { (12.5, 12.5) } else { (0.0, 0.0) }),
            ..Day::steady(step)
        };
        let year = day.year(Arrangement::SOLAR_DRIVE);
        let starts = first(&year);
        let counted = step == Step::Minute;
        exactly(starts.on_bus, 0.0);
        assert_eq!(starts.on_sun, counted.then_some(5.0 * DAYS));
        exactly(starts.most_in_a_day, if counted { 5.0 } else { 0.0 });
        assert!(starts.least_gap_s.is_infinite());
        assert_eq!(power_ups(&year), (365, 1));
    }
}

/// Sun in the second half of every hour only: the pump, which never fills the tank, starts at every half past.
#[test]
fn starts_between_steps_settled_together_are_counted() {
    let day = Day {
        sun: Sun::by_hours(|_| (0.0, 6.0)),
        ..Day::steady(Step::Minute)
    };
    let year = day.year(Arrangement::SOLAR_DRIVE);
    assert_eq!(first(&year).on_sun, Some(24.0 * DAYS));
    exactly(first(&year).most_in_a_day, 24.0);
    assert_eq!(power_ups(&year), (365 * 24, 24));
}

/// Water is wanted from 6 to 18 h, and the tank never fills. On mains the pump starts at 6:00, and again after the outage of
/// 10 to 12 h. The drive gets the array once a day.
#[test]
fn dual_mode_starts_on_mains_after_each_outage() {
    let slow = Delays {
        to_drive_s: 60.0,
        grid_stable_s: 120.0,
        to_mains_s: 30.0,
        reconnection_s: 60.0,
    };
    for step in STEPS {
        for delays in [NONE, slow] {
            let year = Day::plain(delays, step).year(Arrangement::DUAL_MODE);
            let starts = first(&year);
            exactly(starts.on_bus, 2.0 * DAYS);
            let counted = step == Step::Minute;
            assert_eq!(starts.on_sun, counted.then_some(DAYS));
            exactly(starts.most_in_a_day, if counted { 3.0 } else { 2.0 });
            exactly(starts.least_gap_s, 6.0 * H + delays.grid_stable_s + delays.to_mains_s);
            assert_eq!(power_ups(&year), (365, 1));
        }
    }
}

/// Mains on the second input keeps the drive powered, except in an outage at night.
#[test]
fn mains_powers_a_drive_up() {
    for (outage_h, ups) in [((10.0, 12.0), (0, 0)), ((2.0, 3.0), (365, 1)), ((5.0, 7.0), (365, 1))] {
        let day = Day {
            outage_h: Some(outage_h),
            ..Day::plain(NONE, Step::Minute)
        };
        assert_eq!(
            power_ups(&day.year(Arrangement::SOLAR_DRIVE_WITH_GRID)),
            ups,
            "{outage_h:?}"
        );
        assert_eq!(power_ups(&day.year(Arrangement::GRID_TIED)), (0, 0));
    }
}

/// Each set counts its own starts, and the one without a drive starts on mains: at 6:00 and at 12:00. Both together give
/// less than the 120 m³/h that are wanted.
#[test]
fn every_set_counts_its_own_starts() {
    let day = Day {
        set_beside: true,
        demand: (1440.0, DayHours::between(6, 18)),
        ..Day::plain(NONE, Step::Minute)
    };
    let year = day.year(Arrangement::SOLAR_DRIVE);
    let [driven, direct] = [0, 1].map(|set: usize| *year.starts.get(SetId::from(set)).unwrap());
    assert_eq!((driven.on_bus, driven.on_sun), (0.0, Some(DAYS)));
    assert_eq!((direct.on_bus, direct.on_sun), (2.0 * DAYS, Some(0.0)));
}
