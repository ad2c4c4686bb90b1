//! Days under a rule of pumping with fill level and surplus: worked by hand from `docs/model.md` alone, no published source.
//!
//! The pump gives 30 m³/h from 10 kW of the bus, without losses. The tank has 100 m³, a restart band of 10 m³ and its low
//! mark at 20 m³. 10 m³ are wanted in every hour: the level rises by 20 m³/h while the pump runs, else it falls by 10 m³/h.
//! The grid is on all year, and the inverter offers what the sun gives.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod day;

use day::{DAYS, Day, KW, KWH, Sun, exactly};
use daylift_grid::{Battery, BatteryRule, BatterySheet, BatteryUse};
use daylift_plant::{Arrangement, DayHours};
use daylift_supply::{Flow, MonthBook, ShortfallCause};
use daylift_units::{Hour, Hourly, Step};

const STEPS: [Step; 3] = [Step::Hour, Step::TenMinutes, Step::Minute];
const H: f64 = 3600.0;

fn kwh(book: &MonthBook, flow: Flow) -> f64 {
    book[flow] / DAYS / KWH
}

/// Filled to 85 m³ (released at 75) from 12:00 to 17:00 and to 60 m³ (released at 50) otherwise; sun of 4 kW from 8:00 to
/// 10:00 and from 16:00 to 18:00, 12 kW in between.
///
/// From 55 m³ at midnight, with the latch stopped, the level falls to 50 at 0:30 and rises to 60 at 1:00. Then it cycles
/// between them in 1½ h. At 12:00 it is at 55 with the latch stopped; the hour begins below 75 and releases it. The tank is
/// at 85 at 13:30, at 75 at 14:30, at 85 at 15:00, at 75 at 16:00 and at 85 at 16:30. At 17:00 it is at 80, above the fill
/// level of the hour, and falls to 50 at 20:00. Three more runs of half an hour end at 23:30; at midnight it is at 55.
///
/// The pump runs 8 h. Of its 80 kWh, 25 are from the sun in 2½ h with 12 kW, and 6 in 1½ h with 4 kW (8:00 to 8:30, 9:30 to
/// 10:00, 16:00 to 16:30).
#[test]
fn the_fill_level_of_each_hour_leaves_room_for_the_sun() {
    for step in STEPS {
        let day = Day {
            fill: Hourly::from_fn(|hour: Hour| if (12..17).contains(&hour.begins_h()) { 0.85 } else { 0.6 }),
            sun: Sun::by_hours(|hour| match hour {
                8 | 9 | 16 | 17 => (4.0, 4.0),
                10..=15 => (12.0, 12.0),
                _ => (0.0, 0.0),
            }),
            ..Day::steady(step)
        };
        let year = day.year(Arrangement::GRID_TIED);
        let book = year.ledger.year();
        exactly(year.tank_start_m3, 55.0);
        exactly(book[Flow::Pumping] / DAYS, 8.0 * H);
        exactly(book[Flow::Pumped] / DAYS, 240.0);
        exactly(book.shortfall_m3(), 0.0);
        exactly(kwh(&book, Flow::ArrayToPump), 31.0);
        exactly(kwh(&book, Flow::Imported), 49.0);
        exactly(kwh(&book, Flow::Exported), 57.0);
    }
}

/// Pumping from 22:00 to 6:00 up to 65 m³, and by surplus of 80 % (8 kW). Sun of 7.9 kW from 7:00 to 11:00 and from 14:00 to
/// 16:00, 8.5 kW from 11:00 to 13:00, 12 kW from 13:00 to 14:00.
fn night_and_surplus(step: Step) -> Day<'static> {
    Day {
        mains_hours: DayHours::between(22, 6),
        fill: Hourly::from_array([0.65; 24]),
        surplus: Some(0.8),
        sun: Sun::by_hours(|hour| match hour {
            7..=10 | 14 | 15 => (7.9, 7.9),
            11 | 12 => (8.5, 8.5),
            13 => (12.0, 12.0),
            _ => (0.0, 0.0),
        }),
        ..Day::steady(step)
    }
}

/// At 22:00 the level is held at 20 m³. It rises to 65 at 0:15 and cycles between 55 and 65, until the hours end at 6:00 at
/// 60. It falls to 20 at 10:00, as 7.9 kW are too little, and is held there for an hour. From 11:00 the pump runs on surplus,
/// also past the fill level at 13:15, to 80 m³ at 14:00. From 20:00 the low mark is held again.
///
/// 4 h at night are 40 kWh from the grid. The hold from 10:00 takes a third of 7.9 kWh from the sun and a third of 2.1 kWh
/// from the grid; surplus takes 17 + 10 kWh and 3 kWh; the hold from 20:00 takes 20/3 kWh from the grid.
#[test]
fn pumps_run_on_surplus_outside_the_hours_and_above_the_fill_level() {
    for step in STEPS {
        let year = night_and_surplus(step).year(Arrangement::GRID_TIED);
        let book = year.ledger.year();
        exactly(year.tank_start_m3, 60.0);
        exactly(book[Flow::Pumping] / DAYS, 8.0 * H);
        exactly(book[Flow::Pumped] / DAYS, 240.0);
        exactly(book.shortfall_m3(), 0.0);
        exactly(kwh(&book, Flow::ArrayToPump), 889.0 / 30.0);
        exactly(kwh(&book, Flow::Imported), 1511.0 / 30.0);
        exactly(kwh(&book, Flow::Exported), 1403.0 / 30.0);
    }
}

/// The low mark is held from 10:00 to 22:00: a third of 7.9 + 2 · 8.5 + 10 + 2 · 7.9 kWh is from the sun.
#[test]
fn without_surplus_the_same_day_holds_the_low_mark() {
    for step in STEPS {
        let day = Day {
            surplus: None,
            ..night_and_surplus(step)
        };
        let book = day.book(Arrangement::GRID_TIED);
        exactly(book[Flow::Pumping] / DAYS, 8.0 * H);
        exactly(kwh(&book, Flow::ArrayToPump), 16.9);
        exactly(kwh(&book, Flow::Imported), 63.1);
        exactly(kwh(&book, Flow::Exported), 59.5);
    }
}

/// With 0.6 kW of loads first, 7.9 kW are left from 11:00 to 13:00, which is too little: the low mark is held from 10:00 to
/// 13:00 and from 16:00 to 22:00. The pump takes 7.3/3 + 2 · 7.9/3 + 10 kWh from the sun, the loads 9 h of it. With the pump
/// first, the loads change nothing.
#[test]
fn surplus_is_what_loads_that_come_first_leave() {
    for step in STEPS {
        let day = Day {
            loads_kw: [0.6, 0.0, 0.0],
            pump_first: false,
            ..night_and_surplus(step)
        };
        let book = day.book(Arrangement::GRID_TIED);
        exactly(book[Flow::Pumping] / DAYS, 8.0 * H);
        exactly(kwh(&book, Flow::ArrayToPump), 17.7);
        exactly(kwh(&book, Flow::ArrayToLoads), 5.4);
        exactly(kwh(&book, Flow::Imported), 71.3);
        exactly(kwh(&book, Flow::Exported), 53.3);
        let pump_first = Day {
            pump_first: true,
            ..day
        };
        exactly(
            kwh(&pump_first.book(Arrangement::GRID_TIED), Flow::ArrayToPump),
            889.0 / 30.0,
        );
    }
}

/// Two sets of 10 kW each, no hour allowed, and 45 m³/h wanted all day. At 100 %, 9 kW of sun carry no set, 15 kW one, 20 kW
/// both. Where they give less than is wanted, the low mark is held.
#[test]
fn sets_are_taken_by_surplus_in_their_order() {
    for (sun_kw, on_surplus) in [(9.0, 0.0), (15.0, 1.0), (20.0, 2.0)] {
        for step in STEPS {
            let day = Day {
                mains_hours: DayHours::between(0, 0),
                surplus: Some(1.0),
                sun: Sun::always(sun_kw),
                set_beside: true,
                demand: (45.0 * 24.0, DayHours::ALL),
                ..Day::steady(step)
            };
            let book = day.book(Arrangement::GRID_TIED);
            // With x sets on surplus the bus runs both for the share (45 − 30x)/(60 − 30x) of the time. Both take 20 kW, of
            // which the sun gives all that it has; in the rest of the time the x sets run from the sun alone. With both on
            // surplus the tank cycles between full and restart in 53⅓ min, 27 times a day, on the sun alone.
            let array_kw = if on_surplus > 1.0 {
                15.0
            } else {
                let share = (45.0 - 30.0 * on_surplus) / (60.0 - 30.0 * on_surplus);
                share * sun_kw + (1.0 - share) * 10.0 * on_surplus
            };
            exactly(book[Flow::Pumped] / DAYS, 45.0 * 24.0);
            exactly(kwh(&book, Flow::ArrayToPump), 24.0 * array_kw);
            exactly(kwh(&book, Flow::Imported), 24.0 * (15.0 - array_kw));
            exactly(book.shortfall_m3(), 0.0);
        }
    }
}

/// In an island all day, 10.5 kW of sun and a full battery: the pump takes 10 kW, so a surplus of 100 % runs it. At 110 %, 11
/// kW, it only holds the low mark, for a third of the time.
#[test]
fn an_island_pumps_on_surplus_too() {
    let battery = Battery::new(
        BatterySheet {
            name: String::new(),
            capacity_j: 100.0 * KWH,
            charge_w: 5.0 * KW,
            discharge_w: 2.0 * KW,
            charge_efficiency: 1.0,
            discharge_efficiency: 1.0,
            least_content: 0.1,
        },
        BatteryUse {
            rule: BatteryRule::Reserve,
            reserve: 0.5,
            grid_charges_to: 0.5,
            restart: 0.3,
        },
    )
    .unwrap();
    for (surplus, start_m3) in [(1.0, None), (1.1, Some(20.0))] {
        let day = Day {
            mains_hours: DayHours::between(0, 0),
            surplus: Some(surplus),
            sun: Sun::always(10.5),
            outage_h: Some((0.0, 24.0)),
            battery: Some(&battery),
            ..Day::steady(Step::Hour)
        };
        let year = day.year(Arrangement::BATTERY_HYBRID);
        let book = year.ledger.year();
        exactly(book[Flow::Shortfall(ShortfallCause::OutsideHours)], 0.0);
        // 240 m³ take 8 h at 10 kW. On surplus the tank cycles in 1½ h, 16 times a day.
        exactly(kwh(&book, Flow::ArrayToPump), 80.0);
        match start_m3 {
            Some(low_m3) => exactly(year.tank_start_m3, low_m3),
            None => assert!(year.tank_start_m3 >= 90.0),
        }
    }
}
