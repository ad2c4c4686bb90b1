//! Restart by hand on a day worked by hand from `docs/model.md` alone, without the code (no published source).
//!
//! Starters are closed from 6 to 18 h, 15 min after the power returns. The grid is away from 10 to 12 h and from 19 to 21 h.
//! 25 m³ are wanted in every hour, and the pump gives 30 m³/h: the level rises by 5 m³/h while it runs.
//!
//! The year begins with the starter closed and the tank empty, so its first day differs from the other 364.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod day;

use day::{DAYS, Day, KW, KWH, exactly};
use daylift_grid::{Generator, GeneratorSheet};
use daylift_plant::{Arrangement, DayHours};
use daylift_supply::{Flow, GeneratorRules, MonthBook, ShortfallCause, YearResult};
use daylift_units::Step;

const STEPS: [Step; 3] = [Step::Hour, Step::TenMinutes, Step::Minute];
const H: f64 = 3600.0;

fn day(step: Step) -> Day<'static> {
    Day {
        outage_h: Some((10.0, 12.0)),
        evening_outage_h: Some((19.0, 21.0)),
        restart: Some((DayHours::between(6, 18), 900.0)),
        demand: (600.0, DayHours::ALL),
        loads_kw: [4.0, 0.0, 4.0],
        ..Day::steady(step)
    }
}

/// The year's sum of a first day and 364 others.
fn year_of(first: f64, others: f64) -> f64 {
    first + (DAYS - 1.0) * others
}

fn short(book: &MonthBook, cause: ShortfallCause) -> f64 {
    book[Flow::Shortfall(cause)]
}

fn starts(year: &YearResult) -> f64 {
    year.starts.iter().map(|set| set.on_bus).sum()
}

/// The starter closes at 6:00, as nobody is there at 21:15, and at 12:15. The tank is dry from 10:48 to 12:15 and from 20:21
/// to 6:00. On the first day the pump runs from 0:00 to 10:00.
#[test]
fn by_hand_the_pump_rests_until_somebody_comes() {
    for step in STEPS {
        let year = day(step).year(Arrangement::GRID_ONLY);
        let book = year.ledger.year();
        exactly(book[Flow::Pumping] / H, year_of(16.75, 10.75));
        exactly(book[Flow::Pumped], 117_892.5);
        exactly(book[Flow::Delivered], 117_892.5);
        exactly(short(&book, ShortfallCause::GridDown), 16_851.25);
        exactly(short(&book, ShortfallCause::WaitingForRestart), 84_256.25);
        exactly(book.shortfall_m3(), 16_851.25 + 84_256.25);
        exactly(book[Flow::Imported] / KWH, 68_497.5);
        exactly(book[Flow::Unserved] / KWH, 5840.0);
        exactly(year.tank_end_m3, 0.0);
        // 6:00 and 12:15; on the first day 0:00 and 12:15.
        exactly(starts(&year), 2.0 * DAYS);
    }
}

/// The generator, started by hand from 6 to 20 h, carries load from 10:10 and from 19:10. The starter closes at 10:25 on the
/// generator, opens with the grid's return and closes again at 12:15. In the evening nobody closes it. The tank is dry from
/// 20:48 to 6:00.
#[test]
fn a_generator_needs_somebody_too() {
    let set = Generator::new(GeneratorSheet {
        name: "2.5 l/h and 0.25 l/kWh".into(),
        rated_w: 50.0 * KW,
        least_load: 0.3,
        fuel_points: [(0.25, 5.625), (0.5, 8.75), (0.75, 11.875), (1.0, 15.0)]
            .map(|(load, l_h)| (load, l_h * 1e-3 / H))
            .to_vec(),
    })
    .unwrap();
    for step in STEPS {
        let with_set = Day {
            generator: Some(GeneratorRules {
                sun_share: 0.5,
                set: &set,
                hours: DayHours::between(6, 20),
                pumps_only_when_low: false,
            }),
            generator_delay_s: 600.0,
            ..day(step)
        };
        let year = with_set.year(Arrangement::GRID_ONLY.with_generator());
        let book = year.ledger.year();
        exactly(book[Flow::Pumping] / H, year_of(18.0 + 1.0 / 3.0, 12.0 + 1.0 / 3.0));
        exactly(book[Flow::PumpingInOutage] / H, DAYS * 19.0 / 12.0);
        exactly(book[Flow::Pumped], 135_230.0);
        exactly(book[Flow::Delivered], 135_230.0);
        exactly(short(&book, ShortfallCause::GridDown), 1820.0);
        exactly(short(&book, ShortfallCause::WaitingForRestart), 81_950.0);
        exactly(book[Flow::Imported] / KWH, 68_497.5);
        exactly(book[Flow::Generated] / KWH, 9672.5);
        exactly(book[Flow::GeneratorRunning] / H, DAYS * 8.0 / 3.0);
        exactly(book[Flow::Unserved] / KWH, DAYS * 16.0 / 3.0);
        // 6:00, 10:25 and 12:15; on the first day 0:00 instead of 6:00.
        exactly(starts(&year), 3.0 * DAYS);
        exactly(year.starts.first().unwrap().most_in_a_day, 3.0);
        exactly(year.starts.first().unwrap().least_gap_s, 11.0 / 6.0 * H);
    }
}
