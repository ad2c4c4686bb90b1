//! Days of a bus shared by pump, loads, sun, battery and generator: worked by hand, no published source.
//!
//! From 6:00 to 18:00 the pump takes 10 kW and gives 30 m³/h, but 40 m³/h are wanted, so that the tank is empty. The loads
//! take 8 kW all day.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod day;

use day::{DAYS, Day, KW, KWH, Sun, exactly};
use daylift_grid::{
    Battery, BatteryRule, BatterySheet, BatteryUse, Export, Generator, GeneratorSheet, LineSheet, WeakLine,
};
use daylift_lift::TankSheet;
use daylift_plant::{Arrangement, DayHours};
use daylift_supply::{Flow, GeneratorRules, LossCause, MonthBook, ShortfallCause};
use daylift_units::{Hour, Hourly, Month, MonthHour, Step};

fn day<'a>() -> Day<'a> {
    Day {
        demand: (480.0, DayHours::between(6, 18)),
        mains_hours: DayHours::between(6, 18),
        loads_kw: [8.0, 5.0, 6.0],
        tank: TankSheet {
            capacity_m3: 100.0,
            restart_level: 0.9,
            low_mark: 0.0,
        },
        ..Day::steady(Step::TenMinutes)
    }
}

fn outage<'a>() -> Day<'a> {
    Day {
        outage_h: Some((10.0, 12.0)),
        ..day()
    }
}

fn per_day(j: f64) -> f64 {
    j / DAYS / KWH
}

fn short_m3(book: &MonthBook, cause: ShortfallCause) -> f64 {
    book[Flow::Shortfall(cause)] / DAYS
}

/// 5 kW from 6:00; 5 kW and 15 kW by half hours from 9:00; 15 kW and 25 kW by half hours from 12:00 to 18:00.
fn rising_sun() -> Sun {
    Sun::by_hours(|h| match h {
        6..9 => (5.0, 5.0),
        9..12 => (5.0, 15.0),
        12..18 => (15.0, 25.0),
        _ => (0.0, 0.0),
    })
}

/// The first use (pump 10 kW or loads 8 kW) is covered first. With 25 kW both are covered, 4 kW leave the farm and 3 kW are
/// lost. The grid gives 13 kW in addition to 5 kW of sun, 3 kW in addition to 15 kW, and 8 kW at night.
#[test]
fn sun_goes_to_pump_and_loads_in_the_order_of_the_plant() {
    for (pump_first, to_pump, to_loads) in [
        (true, 15.0 + 22.5 + 60.0, 7.5 + 39.0),
        (false, 10.5 + 51.0, 15.0 + 19.5 + 48.0),
    ] {
        for step in [Step::TenMinutes, Step::Minute] {
            let noon = Hourly::from_fn(|hour| {
                if (Hour::H12..Hour::H14).contains(&hour) {
                    1e-8
                } else {
                    0.0
                }
            });
            let credit = MonthHour::from_array([noon; 12]);
            let day = Day {
                step,
                sun: rising_sun(),
                export: Export::paid(credit).at_most(4.0 * KW),
                pump_first,
                ..day()
            };
            let year = day.year(Arrangement::GRID_TIED);
            let book = year.ledger.year();
            exactly(per_day(book[Flow::ArrayToPump]), to_pump);
            exactly(per_day(book[Flow::ArrayToLoads]), to_loads);
            exactly(per_day(book[Flow::Lost(LossCause::ExportLimit)]), 9.0);
            exactly(per_day(book[Flow::Exported]), 12.0);
            exactly(per_day(book[Flow::ExportedPaid]), 4.0);
            exactly(per_day(book[Flow::Imported]), 39.0 + 24.0 + 9.0 + 12.0 * 8.0);
            exactly(per_day(book[Flow::GridToPump]), 120.0 - to_pump);
            exactly(per_day(book[Flow::GridToLoads]), 192.0 - to_loads);
            exactly(per_day(book[Flow::Load]), 192.0);
            exactly(book[Flow::Unserved], 0.0);
            exactly(year.ledger.imported_j[Month::January][Hour::H8] / 31.0 / KWH, 13.0);
            exactly(year.ledger.exported_j[Month::January][Hour::H13] / 31.0 / KWH, 2.0);
            exactly(year.ledger.exported_j[Month::January][Hour::H11] / KWH, 0.0);
        }
    }
}

/// The same sun without an export limit: 7 kW leave the farm in the second half of every hour from 12:00.
#[test]
fn without_a_limit_all_surplus_is_exported() {
    for (pump_first, to_pump) in [(true, 97.5), (false, 61.5)] {
        let day = Day {
            sun: rising_sun(),
            pump_first,
            ..day()
        };
        let book = day.book(Arrangement::GRID_TIED);
        exactly(per_day(book[Flow::Exported]), 21.0);
        exactly(per_day(book[Flow::ExportedPaid]), 21.0);
        exactly(per_day(book[Flow::ArrayToPump]), to_pump);
        exactly(per_day(book[Flow::ArrayToLoads]), 144.0 - to_pump);
        exactly(per_day(book[Flow::Imported]), 168.0);
    }
}

/// Of 25 kW an inverter of 20 kW clips 5 kW. Pump and loads take 18 kW, and 1 kW or nothing may be exported. Where the line
/// limits the export, its cause is booked first, and also gets what the rating would have cut.
#[test]
fn clipped_power_is_booked_to_the_line_where_the_line_limits() {
    for (line_kw, agreed_kw, [clipped, limit, trip, exported]) in [
        (100.0, 1.0, [5.0, 1.0, 0.0, 1.0]),
        (4.0, 1.0, [5.0, 1.0, 0.0, 1.0]),
        (1.0, 0.5, [0.0, 0.5, 6.0, 0.5]),
        (1.0, 3.0, [0.0, 0.0, 6.0, 1.0]),
    ] {
        // 15 V of room on 400 V: 6000 W·Ω.
        let line = WeakLine::new(LineSheet {
            resistance_ohm_per_m: 6.0 / (line_kw * KW),
            length_m: 1000.0,
            nominal_v: 400.0,
            no_load_voltage: 1.0625,
            greatest_voltage: 1.10,
        });
        let day = Day {
            sun: Sun::by_hours(|h| if (8..16).contains(&h) { (25.0, 25.0) } else { (0.0, 0.0) }),
            export: Export::unpaid().at_most(agreed_kw * KW).on_line(line.unwrap()),
            inverter_kw: 20.0,
            ..day()
        };
        let book = day.book(Arrangement::GRID_TIED);
        exactly(per_day(book[Flow::Lost(LossCause::InverterClipping)]), 8.0 * clipped);
        exactly(per_day(book[Flow::Lost(LossCause::ExportLimit)]), 8.0 * limit);
        exactly(per_day(book[Flow::Lost(LossCause::GridVoltageTrip)]), 8.0 * trip);
        exactly(per_day(book[Flow::Exported]), 8.0 * exported);
        exactly(book[Flow::ExportedPaid], 0.0);
    }
}

/// A battery of 100 kWh: efficiency 0.8 when it discharges in an outage, 0.9 when the grid charges it.
fn battery(discharge_w: f64) -> Battery {
    let sheet = BatterySheet {
        name: String::new(),
        capacity_j: 100.0 * KWH,
        least_content: 0.0,
        charge_w: 30.0 * KW,
        discharge_w,
        charge_efficiency: 0.9,
        discharge_efficiency: 0.8,
    };
    let uses = BatteryUse {
        rule: BatteryRule::Reserve,
        reserve: 1.0,
        grid_charges_to: 1.0,
        restart: 0.2,
    };
    Battery::new(sheet, uses).unwrap()
}

/// While the grid is on, the battery gives power down to its reserve of half, or by the other rule nothing.
#[test]
fn beside_the_grid_a_battery_keeps_its_reserve() {
    for (rule, kept_kwh) in [(BatteryRule::SelfConsumption, 50.0), (BatteryRule::Reserve, 100.0)] {
        let uses = BatteryUse {
            rule,
            reserve: 0.5,
            grid_charges_to: 0.0,
            restart: 0.2,
        };
        let battery = Battery::new(battery(12.0 * KW).sheet().clone(), uses).unwrap();
        let day = Day {
            battery: Some(&battery),
            ..day()
        };
        let year = day.year(Arrangement::BATTERY_HYBRID);
        exactly(year.battery_j[1] / KWH, kept_kwh);
        exactly(year.ledger.year()[Flow::Imported] / DAYS / KWH, 120.0 + 192.0);
    }
}

/// 12 kW for two hours: 10 kW for the pump and 2 kW for the loads take 30 kWh. With loads first, their 5 kW leave too
/// little for the pump, and take 12.5 kWh.
#[test]
fn an_island_without_sun_runs_on_the_battery_alone() {
    let battery = battery(12.0 * KW);
    for (pump_first, drawn, to_pump, to_loads) in [(true, 30.0, 20.0, 4.0), (false, 12.5, 0.0, 10.0)] {
        let day = Day {
            battery: Some(&battery),
            pump_first,
            ..outage()
        };
        let book = day.book(Arrangement::BATTERY_HYBRID);
        exactly(per_day(book[Flow::Discharged]), drawn);
        exactly(per_day(book[Flow::BatteryToPump]), to_pump);
        exactly(per_day(book[Flow::BatteryToLoads]), to_loads);
        exactly(per_day(book[Flow::Unserved]), 16.0 - to_loads);
        exactly(per_day(book[Flow::GridToBattery]), drawn);
        exactly(per_day(book[Flow::Imported]), drawn / 0.9 + 100.0 + 22.0 * 8.0);
        // Only the grid charges it again.
        exactly(book[Flow::DischargedOfArray], 0.0);
        exactly(book[Flow::Pumped] / DAYS, 300.0 + 3.0 * to_pump);
        exactly(short_m3(&book, ShortfallCause::SourceTooSmall), 80.0 - 4.0 * to_pump);
        exactly(short_m3(&book, ShortfallCause::PumpTooSlow), 100.0 + to_pump);
    }
}

/// From 10:00 to 12:00 the sun gives 4 kW for the first use; the battery gives the other 8 kW of 12 kW.
#[test]
fn an_island_takes_the_sun_before_the_battery() {
    let battery = battery(12.0 * KW);
    for (pump_first, by_battery, unserved) in [(true, [12.0, 10.0], 6.0), (false, [20.0, 2.0], 6.0)] {
        let day = Day {
            sun: Sun::by_hours(|h| if (10..12).contains(&h) { (4.0, 4.0) } else { (0.0, 0.0) }),
            battery: Some(&battery),
            pump_first,
            ..outage()
        };
        let book = day.book(Arrangement::BATTERY_HYBRID);
        exactly(per_day(book[Flow::BatteryToPump]), by_battery[0]);
        exactly(per_day(book[Flow::BatteryToLoads]), by_battery[1]);
        exactly(per_day(book[Flow::Discharged]), (by_battery[0] + by_battery[1]) / 0.8);
        exactly(per_day(book[Flow::ArrayToPump]), 20.0 - by_battery[0]);
        exactly(per_day(book[Flow::ArrayToLoads]), 10.0 - by_battery[1]);
        exactly(per_day(book[Flow::Unserved]), unserved);
        exactly(book[Flow::Pumped] / DAYS, 360.0);
    }
}

/// A set that uses 2 l/h plus 9 l/h times its load.
fn set(rated_w: f64) -> Generator {
    let l_h = 1e-3 / 3600.0;
    Generator::new(GeneratorSheet {
        name: String::new(),
        rated_w,
        least_load: 0.3,
        fuel_points: vec![(0.25, 4.25 * l_h), (0.5, 6.5 * l_h), (1.0, 11.0 * l_h)],
    })
    .unwrap()
}

fn rules(set: &Generator, hours: DayHours) -> GeneratorRules<'_> {
    GeneratorRules {
        set,
        hours,
        pumps_only_when_low: false,
        sun_share: 0.0,
    }
}

/// The set feeds 6 kW of the loads' 8 kW. A set of 40 kW supplies all. One of 12 kW supplies the pump and 2 kW, or with loads
/// first 6 kW and no pump.
#[test]
fn a_generator_supplies_what_it_can_in_the_order_of_the_plant() {
    for (rated_kw, pump_first, given_kw, loads_kw, l_h) in [
        (40.0, true, 16.0, 6.0, 2.0 + 9.0 * 0.4),
        (40.0, false, 16.0, 6.0, 2.0 + 9.0 * 0.4),
        (12.0, true, 12.0, 2.0, 11.0),
        (12.0, false, 6.0, 6.0, 6.5),
    ] {
        let set = set(rated_kw * KW);
        let day = Day {
            generator: Some(rules(&set, DayHours::ALL)),
            pump_first,
            ..outage()
        };
        let book = day.book(Arrangement::GRID_ONLY.with_generator());
        exactly(per_day(book[Flow::Generated]), 2.0 * given_kw);
        exactly(per_day(book[Flow::GeneratorToLoads]), 2.0 * loads_kw);
        exactly(per_day(book[Flow::GeneratorToPump]), 2.0 * (given_kw - loads_kw));
        exactly(per_day(book[Flow::Unserved]), 2.0 * (8.0 - loads_kw));
        exactly(book[Flow::Fuel] * 1e3 / DAYS, 2.0 * l_h);
        exactly(book[Flow::GeneratorRunning] / DAYS, 7200.0);
        exactly(book[Flow::GeneratorBelowLeast], 0.0);
        exactly(per_day(book[Flow::Imported]), 100.0 + 22.0 * 8.0);
        exactly(book[Flow::DeliveredInOutage] / DAYS, 6.0 * (given_kw - loads_kw));
        exactly(book[Flow::PumpingInOutage] / DAYS, 720.0 * (given_kw - loads_kw));
    }
}

#[test]
fn a_generator_started_by_hand_runs_in_its_hours() {
    let set = set(40.0 * KW);
    let day = Day {
        generator: Some(rules(&set, DayHours::between(11, 20))),
        ..outage()
    };
    let book = day.book(Arrangement::GRID_ONLY.with_generator());
    exactly(per_day(book[Flow::Generated]), 16.0);
    exactly(per_day(book[Flow::Unserved]), 8.0 + 2.0);
    exactly(short_m3(&book, ShortfallCause::GridDown), 40.0);
}

/// Two pump sets take 10 kW each. A source of 15 kW supplies one of them and 5 kW of the loads; the other's water is missing
/// from the 160 m³ that are wanted. A source of 26 kW supplies all.
#[test]
fn sets_on_a_source_too_small_for_all_are_taken_in_order() {
    for (rated_kw, delivered_m3, too_small_m3) in [(15.0, 60.0, 100.0), (26.0, 120.0, 0.0)] {
        let set = set(rated_kw * KW);
        let day = Day {
            generator: Some(rules(&set, DayHours::ALL)),
            demand: (960.0, DayHours::between(6, 18)),
            set_beside: true,
            ..outage()
        };
        let book = day.book(Arrangement::GRID_ONLY.with_generator());
        exactly(per_day(book[Flow::Generated]), 2.0 * rated_kw);
        exactly(book[Flow::DeliveredInOutage] / DAYS, delivered_m3);
        exactly(short_m3(&book, ShortfallCause::SourceTooSmall), too_small_m3);
    }
}

/// In the outage the drive does not start on the 2 kW in the first half of every hour, and runs in the second half.
#[test]
fn a_generator_pumps_while_the_sun_cannot() {
    let set = set(40.0 * KW);
    for step in [Step::TenMinutes, Step::Minute] {
        let day = Day {
            step,
            sun: Sun::by_hours(|h| if (10..12).contains(&h) { (2.0, 12.5) } else { (0.0, 0.0) }),
            loads_kw: [0.0; 3],
            generator: Some(rules(&set, DayHours::ALL)),
            ..outage()
        };
        let book = day.book(Arrangement::SOLAR_DRIVE.with_generator());
        exactly(per_day(book[Flow::Generated]), 10.0);
        exactly(book[Flow::GeneratorBelowLeast] / DAYS, 3600.0);
        exactly(per_day(book[Flow::ArrayToPump]), 12.5);
        exactly(per_day(book[Flow::Lost(LossCause::BelowStart)]), 2.0);
        exactly(book[Flow::Pumped] / DAYS, 60.0);
        exactly(book[Flow::Pumping] / DAYS, 7200.0);
    }
}

/// In the outage the sun gives 6 m³/h (a fifth of the wanted flow) in the first half of every hour and 15 m³/h (half of it) in
/// the second. The set pumps 30 m³/h with 10 kW for 4.25 l/h; what the strings offer meanwhile is held off.
#[test]
fn a_generator_pumps_while_the_sun_gives_less_than_its_share() {
    let set = set(40.0 * KW);
    for (sun_share, generator_h, held_off_kwh, by_sun_kwh, pumped_m3) in [
        (0.0, 0.0, 0.0, 12.65, 21.0),
        (0.2, 0.0, 0.0, 12.65, 21.0),
        (0.21, 1.0, 4.9, 7.75, 45.0),
        (0.5, 1.0, 4.9, 7.75, 45.0),
        (0.51, 2.0, 12.65, 0.0, 60.0),
        (1.0, 2.0, 12.65, 0.0, 60.0),
    ] {
        for step in [Step::TenMinutes, Step::Minute] {
            let day = Day {
                generator: Some(GeneratorRules {
                    sun_share,
                    ..rules(&set, DayHours::ALL)
                }),
                ..by_halves(step)
            };
            let book = day.book(Arrangement::SOLAR_DRIVE.with_generator());
            exactly(per_day(book[Flow::Generated]), 10.0 * generator_h);
            exactly(book[Flow::GeneratorRunning] / DAYS, 3600.0 * generator_h);
            exactly(book[Flow::Fuel] * 1e3 / DAYS, 4.25 * generator_h);
            exactly(per_day(book[Flow::Lost(LossCause::HeldOffByGrid)]), held_off_kwh);
            exactly(per_day(book[Flow::ArrayToPump]), by_sun_kwh);
            exactly(book[Flow::Pumped] / DAYS, pumped_m3);
        }
    }
}

/// The same outage with a set of 8 kW, which cannot carry the pump's 10 kW: the pump stays on the sun.
#[test]
fn a_pump_that_the_generator_cannot_carry_stays_on_the_sun() {
    let set = set(8.0 * KW);
    let day = Day {
        generator: Some(GeneratorRules {
            sun_share: 0.5,
            ..rules(&set, DayHours::ALL)
        }),
        ..by_halves(Step::TenMinutes)
    };
    let book = day.book(Arrangement::SOLAR_DRIVE.with_generator());
    exactly(per_day(book[Flow::Generated]), 0.0);
    exactly(per_day(book[Flow::Lost(LossCause::HeldOffByGrid)]), 0.0);
    exactly(per_day(book[Flow::ArrayToPump]), 12.65);
    exactly(book[Flow::Pumped] / DAYS, 21.0);
}

/// A day of sun in the outage only: 4.9 kW in the first half of every hour, 7.75 kW in the second.
fn by_halves<'a>(step: Step) -> Day<'a> {
    Day {
        step,
        sun: Sun::by_hours(|h| if (10..12).contains(&h) { (4.9, 7.75) } else { (0.0, 0.0) }),
        loads_kw: [0.0; 3],
        ..outage()
    }
}

/// Without a grid, 10 m³/h leave a tank of 100 m³. At the low mark, the set pumps for a third of the time.
#[test]
fn a_generator_that_pumps_only_when_the_tank_is_low_holds_the_mark() {
    let set = set(40.0 * KW);
    for (only_when_low, content_m3) in [(true, 20.0), (false, 100.0)] {
        let day = Day {
            outage_h: Some((0.0, 24.0)),
            generator: Some(GeneratorRules {
                pumps_only_when_low: only_when_low,
                ..rules(&set, DayHours::ALL)
            }),
            ..Day::steady(Step::TenMinutes)
        };
        let year = day.year(Arrangement::GRID_ONLY.with_generator());
        let book = year.ledger.year();
        exactly(year.tank_end_m3, content_m3);
        exactly(book[Flow::Pumped] / DAYS, 240.0);
        exactly(book[Flow::GeneratorRunning] / DAYS, 8.0 * 3600.0);
        exactly(book[Flow::Fuel] * 1e3 / DAYS, 8.0 * 4.25);
    }
}

/// Without a grid, and in hours in which the set pumps only below the low mark. In the first half of every hour the sun
/// brings 9 m³ and raises the level by 4 m³. These are used up 6 minutes before the end; then the set brings 1 m³.
#[test]
fn a_generator_holds_the_low_mark_when_the_sun_is_gone() {
    let set = set(40.0 * KW);
    for step in [Step::TenMinutes, Step::Minute] {
        let day = Day {
            sun: Sun::by_hours(|_| (3.0 + 9.5 * 18.0 / 30.0, 2.0)),
            outage_h: Some((0.0, 24.0)),
            mains_hours: DayHours::between(0, 0),
            generator: Some(rules(&set, DayHours::ALL)),
            ..Day::steady(step)
        };
        let year = day.year(Arrangement::SOLAR_DRIVE.with_generator());
        let book = year.ledger.year();
        exactly(per_day(book[Flow::Generated]), 8.0);
        exactly(year.tank_end_m3, 20.0);
        exactly(book.shortfall_m3(), 0.0);
    }
}

/// A tank of 10 m³. From 18:00 to 6:00 the set fills it in half an hour, then cycles between 9 m³ and 10 m³ every 9 minutes,
/// which leaves 9 m³ at 6:00. By day the sun gives 6 m³/h, which is a fifth of the wanted flow: with a sun
/// share of 0 or 20 % no fuel is used, and the tank is empty from 8:15 on.
#[test]
fn no_fuel_is_used_when_the_sun_gives_its_share() {
    let set = set(40.0 * KW);
    for (step, sun_share) in [(Step::Hour, 0.0), (Step::TenMinutes, 0.2), (Step::Minute, 0.0)] {
        let day = Day {
            sun: Sun::by_hours(|h| if (6..18).contains(&h) { (4.9, 4.9) } else { (0.0, 0.0) }),
            outage_h: Some((0.0, 24.0)),
            tank: TankSheet {
                capacity_m3: 10.0,
                restart_level: 0.9,
                low_mark: 0.2,
            },
            generator: Some(GeneratorRules {
                sun_share,
                ..rules(&set, DayHours::ALL)
            }),
            ..Day::steady(step)
        };
        let book = day.book(Arrangement::SOLAR_DRIVE.with_generator());
        exactly(book.shortfall_m3() / DAYS, 39.0);
        exactly(short_m3(&book, ShortfallCause::TooLittleSun), 39.0);
        exactly(per_day(book[Flow::Generated]), 43.0);
    }
}
