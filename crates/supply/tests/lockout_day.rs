//! Starts on the sun that are held back, on days worked by hand (no published source).
//!
//! In every hour the sun gives 1 kW for half an hour, which is too little to start, and then 12.5 kW for half an hour, at
//! which the pump gives its full 30 m³/h. A start needs 3.75 kW for a minute. The strings are never dark and no run is as long
//! as half an hour, so failures add up and are never forgotten.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod day;

use day::{Day, NONE, Sun, exactly};
use daylift_lift::StartRule;
use daylift_plant::Arrangement;
use daylift_supply::{Flow, LossCause, MonthBook, ShortfallCause};
use daylift_units::Step;

const KWH: f64 = 3.6e6;
const HOURS: f64 = 8760.0;

fn day(step: Step, waits_s: &[f64]) -> Day<'static> {
    Day {
        sun: Sun::by_hours(|_| (1.0, 12.5)),
        start_rule: StartRule {
            restart_power: 1.25,
            confirm_s: 60.0,
            waits_s: waits_s.to_vec(),
        },
        ..Day::plain(NONE, step)
    }
}

/// Checks the year against the minutes in which the pump runs.
fn check(book: &MonthBook, minutes: f64) {
    exactly(book[Flow::Pumping] / 60.0, minutes);
    exactly(book[Flow::Pumped], 0.5 * minutes);
    exactly(book[Flow::ArrayToPump] / KWH, 12.5 * minutes / 60.0);
    let lost = |cause| book[Flow::Lost(cause)] / KWH;
    exactly(lost(LossCause::StartLockout), 12.5 * (30.0 * HOURS - minutes) / 60.0);
    exactly(lost(LossCause::BelowStart), 0.5 * HOURS);
}

/// Waits of 300, 600 and 1200 s pass in the half hour of little sun, and so does 1800 s. The minute of confirmation is all
/// that is lost: 29 minutes in each hour.
#[test]
fn waits_that_pass_in_little_sun_cost_nothing_more() {
    for step in [Step::Minute, Step::TenMinutes] {
        let year = day(step, &[300.0, 600.0, 1200.0, 1800.0]).year(Arrangement::SOLAR_DRIVE);
        check(&year.ledger.year(), 29.0 * HOURS);
        let starts = year.starts.first().unwrap();
        assert_eq!(starts.on_sun, (step == Step::Minute).then_some(HOURS));
    }
}

/// The first three hours run for 29 minutes. From the third failure on, 600 s of 2400 s are left when the sun is back; with
/// the minute of confirmation 19 minutes remain.
#[test]
fn a_longer_wait_takes_its_rest_from_the_sun() {
    for step in [Step::Minute, Step::TenMinutes] {
        let book = day(step, &[300.0, 600.0, 2400.0]).book(Arrangement::SOLAR_DRIVE);
        check(&book, 19.0 * HOURS + 30.0);
    }
}

/// The year has no other step than one of 6.75 kW: the pump starts after a minute and never stops.
#[test]
fn a_year_of_steady_sun_has_one_start() {
    let book = day(Step::Hour, &[300.0]).book(Arrangement::SOLAR_DRIVE);
    exactly(book[Flow::Pumping] / 60.0, 60.0 * HOURS - 1.0);
    exactly(book[Flow::Lost(LossCause::StartLockout)] / KWH, 6.75 / 60.0);
}

/// While no water is wanted nothing is locked out, and water that is missing while the pump stands is missing for lack of
/// sun.
#[test]
fn lockout_counts_only_while_water_is_wanted() {
    let none = Day {
        demand: (1e-6, daylift_plant::DayHours::ALL),
        ..day(Step::TenMinutes, &[0.0])
    };
    let book = none.book(Arrangement::SOLAR_DRIVE);
    let lost = |cause| book[Flow::Lost(cause)] / KWH;
    exactly(lost(LossCause::WaterNotWanted), 6.75 * HOURS);
    exactly(lost(LossCause::StartLockout), 0.0);
    // 1000 m³ are wanted in every hour: the tank is always empty. With 13 kW the pump runs at full speed, so that it is not
    // the sun that limits it.
    let much = Day {
        sun: Sun::by_hours(|_| (1.0, 13.0)),
        demand: (24_000.0, daylift_plant::DayHours::ALL),
        ..day(Step::Minute, &[0.0])
    };
    let book = much.book(Arrangement::SOLAR_DRIVE);
    let short_m3 = |cause| book[Flow::Shortfall(cause)];
    // It stands for 31 minutes of each hour, and gives 970 m³/h less than wanted in the other 29.
    exactly(short_m3(ShortfallCause::TooLittleSun), 1000.0 * 31.0 / 60.0 * HOURS);
    exactly(short_m3(ShortfallCause::PumpTooSlow), 970.0 * 29.0 / 60.0 * HOURS);
}
