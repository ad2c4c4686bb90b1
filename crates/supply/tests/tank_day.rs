//! Days of a tank that fills, empties and is held at its low mark: worked by hand, no published source.
//!
//! 10 m³ are wanted in every hour. Mains gives 30 m³/h from 10 kW; the drive gives what `day` says. With a tank of 100 m³
//! that cycles between 90 m³ and 100 m³, the pump runs for half an hour and rests for an hour.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod day;

use day::{DAYS, Day, KW, KWH, Sun, exactly};
use daylift_lift::TankSheet;
use daylift_plant::{Arrangement, DayHours};
use daylift_supply::{Flow, LossCause, ShortfallCause};
use daylift_units::{Month, Monthly, Step};

const STEPS: [Step; 3] = [Step::Hour, Step::TenMinutes, Step::Minute];
const NO_HOURS: (u8, u8) = (0, 0);
const H: f64 = 3600.0;

/// Array power \[kW\] from which the drive gives `flow_m3_h`.
fn sun_kw(flow_m3_h: f64) -> f64 {
    3.0 + 9.5 * flow_m3_h / 30.0
}

/// The sun in even and in odd hours \[kW\].
fn by_turns(even_kw: f64, odd_kw: f64) -> Sun {
    Sun::by_hours(|h| {
        let kw = if h % 2 == 0 { even_kw } else { odd_kw };
        (kw, kw)
    })
}

/// The water wanted is pumped in a third of the time, whatever the step.
#[test]
fn a_tank_on_mains_fills_and_rests_in_turn() {
    for step in STEPS {
        let year = Day::steady(step).year(Arrangement::GRID_ONLY);
        let book = year.ledger.year();
        exactly(book[Flow::Pumped] / DAYS, 240.0);
        exactly(book[Flow::Delivered] / DAYS, 240.0);
        exactly(book[Flow::Pumping] / DAYS, 8.0 * H);
        exactly(book[Flow::Imported] / DAYS / KWH, 80.0);
        exactly(book[Flow::GridToPump] / DAYS / KWH, 80.0);
        exactly(year.tank_end_m3, 100.0);
        assert!(year.tank_agrees && book.shortfall_m3().abs() < 1e-9);
    }
}

/// Until June the well is lower and mains gives 20 m³/h: the pump runs half of the time. From July on it runs a third.
#[test]
fn a_month_pumps_what_its_well_gives() {
    for step in STEPS {
        let day = Day {
            mains_m3_h: Monthly::from_fn(|month| if month < Month::July { 20.0 } else { 30.0 }),
            ..Day::steady(step)
        };
        let months = day.year(Arrangement::GRID_ONLY).ledger.months;
        for (month, hours) in [
            (Month::January, 12.0),
            (Month::June, 12.0),
            (Month::July, 8.0),
            (Month::December, 8.0),
        ] {
            let days = months[month][Flow::Time] / (24.0 * H);
            exactly(months[month][Flow::Pumped] / days, 240.0);
            exactly(months[month][Flow::Pumping] / days, hours * H);
        }
    }
}

/// From July on (4416 h) mains brings 4 m³/h more than is wanted, 17 664 m³ in all, and never fills the pond. Until June
/// (4344 h) it brings 5 m³/h too little. So the pond is empty after 3532.8 h, and 4056 m³ are short.
#[test]
fn a_pond_filled_in_one_half_of_the_year_is_used_up_in_the_other() {
    for step in [Step::Hour, Step::TenMinutes] {
        let day = Day {
            tank: TankSheet {
                capacity_m3: 30_000.0,
                restart_level: 0.9,
                low_mark: 0.0,
            },
            mains_m3_h: Monthly::from_fn(|month| if month < Month::July { 5.0 } else { 14.0 }),
            ..Day::steady(step)
        };
        let year = day.year(Arrangement::GRID_ONLY);
        exactly(year.tank_start_m3, 17_664.0);
        exactly(year.ledger.year().shortfall_m3(), 4056.0);
    }
}

/// A tank of 30 m³ with its restart level at 15 m³: 1.5 h down, 0.75 h up. It is full at 9:00, when the grid goes, and empty
/// from 12:00 to 15:45. It is full again at 17:15, and makes three cycles until midnight.
#[test]
fn a_tank_that_runs_empty_in_an_outage_is_dry_until_its_end() {
    for step in STEPS {
        let day = Day {
            outage_h: Some((9.0, 15.75)),
            tank: TankSheet {
                capacity_m3: 30.0,
                restart_level: 0.5,
                low_mark: 0.2,
            },
            ..Day::steady(step)
        };
        let year = day.year(Arrangement::GRID_ONLY);
        let book = year.ledger.year();
        exactly(book[Flow::Shortfall(ShortfallCause::GridDown)] / DAYS, 37.5);
        exactly(book.shortfall_m3() / DAYS, 37.5);
        exactly(book[Flow::Delivered] / DAYS, 202.5);
        exactly(book[Flow::DeliveredInOutage] / DAYS, 30.0);
        exactly(book[Flow::DemandInOutage] / DAYS, 67.5);
        exactly(book[Flow::Outage] / DAYS, 6.75 * H);
        exactly(book[Flow::Time] / DAYS, 24.0 * H);
        exactly(book[Flow::Pumping] / DAYS, 6.75 * H);
        assert!(book[Flow::PumpingInOutage] == 0.0);
        let (wanted_m3, short_m3) = year.ledger.days[100];
        exactly(wanted_m3, 240.0);
        exactly(short_m3, 37.5);
    }
}

/// From 95 m³ at 18:00 the level falls to the low mark of 20 m³ at 1:30. It is held there until 6:00 by pumping a third of
/// the time. It is full at 10:00, then makes five cycles and falls for half an hour until 18:00.
#[test]
fn outside_the_hours_of_mains_the_low_mark_is_held() {
    for step in STEPS {
        let day = Day {
            mains_hours: DayHours::between(6, 18),
            ..Day::steady(step)
        };
        let year = day.year(Arrangement::GRID_ONLY);
        let book = year.ledger.year();
        exactly(book[Flow::Pumped] / DAYS, 240.0);
        exactly(book[Flow::Pumping] / DAYS, 8.0 * H);
        exactly(year.tank_start_m3, 35.0);
        let imported = year.ledger.imported_j[Month::January].into_array().map(|j| j / 31.0 / KWH);
        exactly(imported[0], 0.0);
        exactly(imported[1], 10.0 / 6.0);
        (2..6).for_each(|hour| exactly(imported[hour], 10.0 / 3.0));
        (6..10).for_each(|hour| exactly(imported[hour], 10.0));
        exactly(imported[10..18].iter().sum(), 25.0);
        (18..24).for_each(|hour| exactly(imported[hour], 0.0));
    }
}

/// At the low mark a second set on mains, outside its hours, supplies the demand that the drive of the first leaves. In odd
/// hours the sun gives more than is wanted and raises the level. The next hour uses that up and needs 2 m³ more.
#[test]
fn at_the_low_mark_mains_supplies_what_the_drive_leaves() {
    // In even hours 4 m³ and 10 m³ are missing; in odd hours 2 m³ and 8 m³ are left over.
    for (even_m3_h, odd_m3_h, pumping_h) in [(6.0, 12.0, 24.0), (0.0, 18.0, 12.0 + 12.0 * 0.2 / 3.0)] {
        let even_kw = if even_m3_h > 0.0 { sun_kw(even_m3_h) } else { 0.0 };
        for step in STEPS {
            let day = Day {
                sun: by_turns(even_kw, sun_kw(odd_m3_h)),
                mains_hours: DayHours::between(NO_HOURS.0, NO_HOURS.1),
                set_beside: true,
                ..Day::steady(step)
            };
            let year = day.year(Arrangement::SOLAR_DRIVE);
            let book = year.ledger.year();
            exactly(book[Flow::Pumped] / DAYS, 240.0);
            exactly(book[Flow::Imported] / DAYS / KWH, 24.0 / 30.0 * 10.0);
            exactly(
                book[Flow::ArrayToPump] / DAYS / KWH,
                12.0 * (even_kw + sun_kw(odd_m3_h)),
            );
            exactly(book[Flow::Pumping] / DAYS, pumping_h * H);
            exactly(book.shortfall_m3(), 0.0);
            exactly(year.tank_start_m3, 20.0 + odd_m3_h - 10.0);
        }
    }
}

/// The same with both flows in every hour, by half hours: 1 m³ too little, then 1 m³ too much.
#[test]
fn at_the_low_mark_mains_follows_the_sun() {
    for step in [Step::TenMinutes, Step::Minute] {
        let day = Day {
            sun: Sun::by_hours(|_| (sun_kw(6.0), sun_kw(12.0))),
            mains_hours: DayHours::between(NO_HOURS.0, NO_HOURS.1),
            set_beside: true,
            ..Day::steady(step)
        };
        let year = day.year(Arrangement::SOLAR_DRIVE);
        let book = year.ledger.year();
        exactly(book[Flow::Pumped] / DAYS, 240.0);
        exactly(book[Flow::GridToPump] / DAYS / KWH, 8.0);
        exactly(year.tank_end_m3, 21.0);
    }
}

/// More is wanted than mains gives: below the low mark the pump runs at all hours, and is too slow.
#[test]
fn a_pump_on_mains_that_cannot_keep_up_runs_all_day() {
    for step in STEPS {
        let day = Day {
            demand: (960.0, DayHours::ALL),
            mains_hours: DayHours::between(NO_HOURS.0, NO_HOURS.1),
            ..Day::steady(step)
        };
        let book = day.book(Arrangement::GRID_ONLY);
        exactly(book[Flow::Pumped] / DAYS, 720.0);
        exactly(book[Flow::Shortfall(ShortfallCause::PumpTooSlow)] / DAYS, 240.0);
        exactly(book[Flow::Pumping] / DAYS, 24.0 * H);
    }
}

/// The tank is empty at 7:00 when the sun comes, and full at 12:00. It makes four cycles until the sun goes at 18:00, and is
/// empty at 4:00.
#[test]
fn a_tank_on_the_sun_alone_rests_when_full_and_is_dry_at_dawn() {
    for step in STEPS {
        let day = Day {
            sun: Sun::by_hours(|h| if (7..18).contains(&h) { (12.5, 12.5) } else { (0.0, 0.0) }),
            ..Day::steady(step)
        };
        let book = day.book(Arrangement::SOLAR_DRIVE);
        exactly(book[Flow::Available] / DAYS / KWH, 137.5);
        exactly(book[Flow::ArrayToPump] / DAYS / KWH, 87.5);
        exactly(book[Flow::Lost(LossCause::WaterNotWanted)] / DAYS / KWH, 50.0);
        exactly(book[Flow::Pumped] / DAYS, 210.0);
        exactly(book[Flow::Pumping] / DAYS, 7.0 * H);
        exactly(book[Flow::Shortfall(ShortfallCause::TooLittleSun)] / DAYS, 30.0);
        exactly(book.shortfall_m3() / DAYS, 30.0);
    }
}

/// An empty tank delivers what comes in. What the sun gives beyond the demand in one half hour is delivered in the next.
#[test]
fn an_empty_tank_gives_what_the_sun_brings() {
    for (first_m3_h, second_m3_h, delivered_m3) in [(6.0, 6.0, 144.0), (6.0, 3.0, 108.0), (18.0, 0.0, 216.0)] {
        let kw = |flow_m3_h: f64| if flow_m3_h > 0.0 { sun_kw(flow_m3_h) } else { 0.0 };
        for step in [Step::TenMinutes, Step::Minute] {
            let day = Day {
                sun: Sun::by_hours(|_| (kw(first_m3_h), kw(second_m3_h))),
                ..Day::steady(step)
            };
            let book = day.book(Arrangement::SOLAR_DRIVE);
            exactly(book[Flow::Delivered] / DAYS, delivered_m3);
            exactly(book[Flow::Pumped] / DAYS, delivered_m3);
            exactly(
                book[Flow::Shortfall(ShortfallCause::TooLittleSun)] / DAYS,
                240.0 - delivered_m3,
            );
            exactly(book[Flow::Lost(LossCause::PumpAtFullSpeed)], 0.0);
        }
    }
}

/// The drive takes at most 12.5 kW, and does not start on 2 kW.
#[test]
fn power_that_the_drive_leaves_is_booked_to_its_cause() {
    let day = Day {
        sun: Sun::by_hours(|_| (2.0, 14.5)),
        demand: (960.0, DayHours::ALL),
        ..Day::steady(Step::TenMinutes)
    };
    let book = day.book(Arrangement::SOLAR_DRIVE);
    exactly(book[Flow::Lost(LossCause::BelowStart)] / DAYS / KWH, 24.0);
    exactly(book[Flow::Lost(LossCause::PumpAtFullSpeed)] / DAYS / KWH, 24.0);
    exactly(book[Flow::ArrayToPump] / DAYS / KWH, 150.0);
    exactly(book[Flow::Pumping] / DAYS, 12.0 * H);
    exactly(book[Flow::Pumped] * KW / DAYS, 360.0 * KW);
}

/// Only the second half of the hour before midnight has sun. It gives 12 m³: 5 m³ are delivered at once and 7 m³ after
/// midnight.
#[test]
fn water_is_not_delivered_before_it_is_pumped() {
    for step in [Step::TenMinutes, Step::Minute] {
        let day = Day {
            sun: Sun::by_hours(|h| (0.0, if h == 23 { sun_kw(24.0) } else { 0.0 })),
            outage_h: Some((23.0, 24.0)),
            ..Day::steady(step)
        };
        let book = day.book(Arrangement::SOLAR_DRIVE);
        exactly(book[Flow::Delivered] / DAYS, 12.0);
        exactly(book[Flow::DeliveredInOutage] / DAYS, 5.0);
    }
}
