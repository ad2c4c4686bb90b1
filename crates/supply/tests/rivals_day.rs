//! The day of `day` with a battery, a generator, a weak line: worked by hand, no published source.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod day;

use day::{DAYS, Day, KW, KWH, NONE, near};
use daylift_grid::{
    Battery, BatteryRule, BatterySheet, BatteryUse, Export, Generator, GeneratorSheet, LineSheet, WeakLine,
};
use daylift_plant::{Arrangement, DayHours};
use daylift_supply::{Flow, GeneratorRules, LossCause, ShortfallCause};
use daylift_units::Step;

fn battery(rule: BatteryRule, reserve: f64, efficiencies: (f64, f64)) -> Battery {
    let sheet = BatterySheet {
        name: String::new(),
        capacity_j: 100.0 * KWH,
        least_content: 0.0,
        charge_w: 30.0 * KW,
        discharge_w: 30.0 * KW,
        charge_efficiency: efficiencies.0,
        discharge_efficiency: efficiencies.1,
    };
    let uses = BatteryUse {
        rule,
        reserve,
        grid_charges_to: 0.0,
        restart: 0.2,
    };
    Battery::new(sheet, uses).unwrap()
}

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

fn rules(set: &Generator) -> GeneratorRules<'_> {
    GeneratorRules {
        set,
        hours: DayHours::ALL,
        pumps_only_when_low: false,
        sun_share: 0.0,
    }
}

fn per_day(j: f64) -> f64 {
    j / DAYS / KWH
}

/// In the outage the sun gives 38.197 kWh and the pump takes 20 kWh; the battery is full.
#[test]
fn a_full_battery_carries_the_island_and_takes_no_more() {
    let full = battery(BatteryRule::Reserve, 1.0, (1.0, 1.0));
    let day = Day {
        battery: Some(&full),
        ..Day::plain(NONE, Step::Minute)
    };
    let book = day.book(Arrangement::BATTERY_HYBRID);
    near(book[Flow::Pumped] / DAYS, 360.0);
    near(per_day(book[Flow::Lost(LossCause::BatteryLimit)]), 18.197);
    near(per_day(book[Flow::ArrayToPump] + book[Flow::Exported]), 134.591);
    assert!(book[Flow::Discharged] < 1e-6 * KWH && book[Flow::Unserved] == 0.0);
}

/// Morning and evening need 9.765 kWh each. With efficiencies of 0.8 out and 0.9 in, that takes 27.125 kWh of sun.
#[test]
fn self_consumption_saves_grid_energy_and_the_battery_balances() {
    let battery = battery(BatteryRule::SelfConsumption, 0.0, (0.9, 0.8));
    let day = Day {
        battery: Some(&battery),
        ..Day::plain(NONE, Step::Minute)
    };
    let year = day.year(Arrangement::BATTERY_HYBRID);
    let book = year.ledger.year();
    assert!(
        per_day(book[Flow::Imported]) < 1e-3,
        "{} kWh a day",
        per_day(book[Flow::Imported])
    );
    near(per_day(book[Flow::Discharged]), 24.412);
    near(per_day(book[Flow::DischargedOfArray]), 24.412);
    near(per_day(book[Flow::BatteryToPump]), 19.530);
    near(per_day(book[Flow::ArrayToBattery]), 24.412);
    near(per_day(book[Flow::Lost(LossCause::BatteryConversion)]), 2.7125);
    near(per_day(book[Flow::Exported]), 25.194);
    let missing_j =
        book[Flow::ArrayToBattery] + book[Flow::GridToBattery] - book[Flow::Discharged] - year.battery_stored_j();
    assert!(missing_j.abs() < 1e-9 * book[Flow::Discharged]);
}

/// Without a battery the island has no power; only the name of the loss differs from grid-tied.
#[test]
fn no_battery_is_grid_tied() {
    let day = Day::plain(NONE, Step::TenMinutes);
    let (hybrid, tied) = (day.book(Arrangement::BATTERY_HYBRID), day.book(Arrangement::GRID_TIED));
    // The conversion loss of power that nothing takes is zero to 1e-12.
    let [limit, down] = [LossCause::BatteryLimit, LossCause::GridDown].map(Flow::Lost);
    assert!((hybrid[limit] / tied[down] - 1.0).abs() < 1e-9);
    for flow in Flow::ALL.into_iter().filter(|flow| ![limit, down].contains(flow)) {
        assert_eq!(hybrid[flow].to_bits(), tied[flow].to_bits(), "{flow:?}");
    }
}

/// 10 kW on a 40 kW set are below its minimum load of 12 kW, which is counted. For two hours it burns 4.25 l/h.
#[test]
fn a_generator_pumps_through_the_outage() {
    let set = set(40.0 * KW);
    let day = Day {
        generator: Some(rules(&set)),
        ..Day::plain(NONE, Step::TenMinutes)
    };
    let book = day.book(Arrangement::GRID_ONLY.with_generator());
    near(book[Flow::Pumped] / DAYS, 360.0);
    near(per_day(book[Flow::Generated]), 20.0);
    near(book[Flow::GeneratorRunning] / DAYS, 7200.0);
    near(book[Flow::GeneratorBelowLeast] / DAYS, 7200.0);
    near(book[Flow::Fuel] * 1e3 / DAYS, 8.5);
    // With a drive that the sun runs throughout the outage, the generator has nothing to do.
    let dual = day.book(Arrangement::DUAL_MODE.with_generator());
    assert!(dual[Flow::Generated] == 0.0 && dual[Flow::Fuel] == 0.0);
    // With a grid-tied inverter, the sun is lost while the generator runs.
    let tied = day.book(Arrangement::GRID_TIED.with_generator());
    near(per_day(tied[Flow::Generated]), 20.0);
    near(per_day(tied[Flow::Lost(LossCause::GridDown)]), 38.197);
}

#[test]
fn no_generator_is_the_plain_arrangement() {
    let day = Day::plain(NONE, Step::TenMinutes);
    for plain in [
        Arrangement::GRID_ONLY,
        Arrangement::SOLAR_DRIVE,
        Arrangement::GRID_TIED,
        Arrangement::DUAL_MODE,
    ] {
        assert_eq!(day.book(plain.with_generator()), day.book(plain), "{plain}");
    }
}

#[test]
fn no_hours_of_mains_on_the_drive_is_the_solar_drive() {
    let day = Day::plain(NONE, Step::TenMinutes);
    assert_eq!(
        day.book(Arrangement::SOLAR_DRIVE_WITH_GRID),
        day.book(Arrangement::SOLAR_DRIVE)
    );
}

#[test]
fn a_set_too_small_for_the_pump_never_runs_it_and_is_the_cause() {
    let set = set(8.0 * KW);
    let day = Day {
        generator: Some(rules(&set)),
        ..Day::plain(NONE, Step::TenMinutes)
    };
    let book = day.book(Arrangement::GRID_ONLY.with_generator());
    near(book[Flow::Pumped] / DAYS, 300.0);
    // In these two hours 40 m³/h are wanted.
    near(book[Flow::Shortfall(ShortfallCause::SourceTooSmall)] / DAYS, 80.0);
}

/// The line allows 6 kW and the agreement 4 kW. Sun above 16 kW is lost to the line's voltage, from 14 kW to 16 kW to the
/// agreement.
#[test]
fn where_line_and_agreement_both_limit_the_line_comes_first() {
    let line = WeakLine::new(LineSheet {
        resistance_ohm_per_m: 1e-3,
        length_m: 1000.0,
        nominal_v: 400.0,
        no_load_voltage: 1.0625,
        greatest_voltage: 1.10,
    })
    .unwrap();
    assert!((line.greatest_export_w() - 6.0 * KW).abs() < 1e-6);
    let day = Day {
        export: Export::unpaid().at_most(4.0 * KW).on_line(line),
        ..Day::plain(NONE, Step::Minute)
    };
    let book = day.book(Arrangement::GRID_TIED);
    near(per_day(book[Flow::Lost(LossCause::GridVoltageTrip)]), 6.822);
    near(per_day(book[Flow::Lost(LossCause::ExportLimit)]), 7.024);
    assert!(book[Flow::ExportedPaid] == 0.0 && book[Flow::Exported] > 0.0);
}
