//! Pieces in which every flow has a different value, booked by hand. Lengths and flows are such that nothing is rounded, so
//! that books can be compared for equality.

#![allow(clippy::float_cmp, reason = "nothing is rounded here")]

use super::*;
use crate::cause::{LossCause, ShortfallCause};

/// A piece of a given length, with these flows and nothing else.
fn piece(length_s: f64, flows: &[(Flow, f64)]) -> Piece {
    let mut piece = Piece {
        length_s,
        ..Piece::at_rest()
    };
    for (flow, rate) in flows {
        piece[*flow] = *rate;
    }
    piece
}

/// What a cause loses in a second of sun: 1 W the first, 2 W the second, and so on.
fn lost_w(cause: LossCause) -> f64 {
    f64::from(u8::try_from(cause.index()).unwrap()) + 1.0
}

/// What the last cause loses: as many watts as there are causes, the most of all.
fn most_lost_w() -> f64 {
    f64::from(u8::try_from(LossCause::COUNT).unwrap())
}

/// Power of the array in the sun: 880 W that are used, and 1 W + 2 W + … + n W that are lost.
fn available_w() -> f64 {
    880.0 + most_lost_w() * (most_lost_w() + 1.0) / 2.0
}

/// 10 s of sun with the utility. The array gives 400 W to the pump, 200 W to the loads, 150 W to the battery and 130 W to
/// paid export, and loses something to every cause.
fn sunny() -> Piece {
    let mut sunny = piece(
        10.0,
        &[
            (Flow::Available, available_w()),
            (Flow::ArrayToPump, 400.0),
            (Flow::ArrayToLoads, 200.0),
            (Flow::ArrayToBattery, 150.0),
            (Flow::Exported, 130.0),
            (Flow::ExportedPaid, 130.0),
            (Flow::ExportLimitAc, 35.0),
            (Flow::Imported, 500.0),
            (Flow::GridToPump, 300.0),
            (Flow::GridToLoads, 100.0),
            (Flow::GridToBattery, 60.0),
            (Flow::GridLost, 25.0),
            (Flow::GridChargingLost, 15.0),
            (Flow::Load, 300.0),
            (Flow::Pumped, 0.5),
            (Flow::Pumping, 1.0),
            (Flow::Demand, 0.25),
            (Flow::Delivered, 0.25),
        ],
    );
    for cause in LossCause::ALL {
        sunny.lose(cause, lost_w(cause));
    }
    Piece {
        utility: true,
        battery_stored_j: 2100.0,
        battery_j: 50_000.0,
        stored_m3: 2.5,
        ..sunny
    }
}

/// 20 s of an outage at night. A quarter of what the battery gives had come from the array. Water flows half of the time.
fn by_night() -> Piece {
    let by_night = piece(
        20.0,
        &[
            (Flow::Discharged, 800.0),
            (Flow::BatteryToPump, 300.0),
            (Flow::BatteryToLoads, 400.0),
            (Flow::BatteryLost, 100.0),
            (Flow::DischargedOfArray, 200.0),
            (Flow::Load, 1000.0),
            (Flow::Unserved, 600.0),
            (Flow::Pumped, 0.25),
            (Flow::Pumping, 0.5),
            (Flow::Demand, 1.0),
            (Flow::Delivered, 0.5),
        ],
    );
    Piece {
        battery_stored_j: -16_000.0,
        stored_m3: -5.0,
        held_back_by: ShortfallCause::TooLittleSun,
        ..by_night
    }
}

/// An outage on the generator; `below_least` is the share of the time below its minimum load.
fn on_the_set(length_s: f64, below_least: f64) -> Piece {
    piece(
        length_s,
        &[
            (Flow::Generated, 2000.0),
            (Flow::GeneratorToPump, 900.0),
            (Flow::GeneratorToLoads, 1000.0),
            (Flow::GeneratorLost, 100.0),
            (Flow::GeneratorRunning, 1.0),
            (Flow::GeneratorBelowLeast, below_least),
            (Flow::Fuel, 0.125),
            (Flow::Load, 1000.0),
        ],
    )
}

/// At 5:00: sun, night, and 30 s of the generator below its minimum load. At 23:00: 5 s of sun with unpaid export, and
/// 40 s of the generator above its minimum load.
fn account() -> (Account, (f64, f64)) {
    let mut unpaid = Piece {
        length_s: 5.0,
        battery_stored_j: 1050.0,
        stored_m3: 1.25,
        ..sunny()
    };
    unpaid[Flow::ExportedPaid] = 0.0;
    let (mut account, mut day) = (Account::default(), (0.0, 0.0));
    let pieces = [
        (Hour::H5, sunny()),
        (Hour::H5, by_night()),
        (Hour::H5, on_the_set(30.0, 1.0)),
        (Hour::H23, unpaid),
        (Hour::H23, on_the_set(40.0, 0.0)),
    ];
    for (hour, mut piece) in pieces {
        piece.close();
        account.book(hour, &mut day, &piece);
    }
    (account, day)
}

/// The amounts in the book after that, except those of the array's available power and losses in its 15 s of sun.
const WORKED: [(Flow, f64); 37] = [
    (Flow::ArrayToPump, 6000.0),
    (Flow::ArrayToLoads, 3000.0),
    (Flow::ArrayToBattery, 2250.0),
    (Flow::Exported, 1950.0),
    (Flow::ExportedPaid, 1300.0),
    (Flow::ExportLimitAc, 525.0),
    (Flow::Imported, 7500.0),
    (Flow::GridToPump, 4500.0),
    (Flow::GridToLoads, 1500.0),
    (Flow::GridToBattery, 900.0),
    (Flow::GridLost, 375.0),
    (Flow::GridChargingLost, 225.0),
    (Flow::Discharged, 16_000.0),
    (Flow::BatteryToPump, 6000.0),
    (Flow::BatteryToLoads, 8000.0),
    (Flow::BatteryLost, 2000.0),
    (Flow::DischargedOfArray, 4000.0),
    (Flow::Generated, 140_000.0),
    (Flow::GeneratorToPump, 63_000.0),
    (Flow::GeneratorToLoads, 70_000.0),
    (Flow::GeneratorLost, 7000.0),
    (Flow::GeneratorRunning, 70.0),
    (Flow::GeneratorBelowLeast, 30.0),
    (Flow::Fuel, 8.75),
    (Flow::Load, 94_500.0),
    (Flow::Unserved, 12_000.0),
    (Flow::Pumped, 12.5),
    (Flow::Pumping, 25.0),
    (Flow::Demand, 23.75),
    (Flow::Delivered, 13.75),
    (Flow::Shortfall(ShortfallCause::TooLittleSun), 10.0),
    (Flow::Outage, 90.0),
    (Flow::DemandInOutage, 20.0),
    (Flow::DeliveredInOutage, 10.0),
    (Flow::PumpingInOutage, 10.0),
    (Flow::Time, 105.0),
    (Flow::Shortfall(ShortfallCause::GridDown), 0.0),
];

/// The book of that account, multiplied.
fn worked(times: f64) -> MonthBook {
    let mut book = MonthBook::default();
    let lost = LossCause::ALL.map(|cause| (Flow::Lost(cause), 15.0 * lost_w(cause)));
    let available = (Flow::Available, 15.0 * available_w());
    for (flow, amount) in WORKED.into_iter().chain(lost).chain([available]) {
        book.amounts[flow.index()] = times * amount;
    }
    book
}

/// Amounts in hours 5 and 23, and nothing in the others.
fn hours(five: f64, twenty_three: f64) -> Hourly<f64> {
    let mut hours = Hourly::default();
    (hours[Hour::H5], hours[Hour::H23]) = (five, twenty_three);
    hours
}

#[test]
fn every_flow_of_a_piece_is_booked_for_as_long_as_it_lasts() {
    let (account, day) = account();
    assert_eq!(account.book, worked(1.0));
    assert_eq!(account.imported_j, hours(5000.0, 2500.0));
    assert_eq!(account.exported_j, hours(1300.0, 650.0));
    assert_eq!(day, (23.75, 10.0));
    // All pieces balance.
    assert_eq!((account.worst_energy, account.worst_water), (0.0, 0.0));
}

#[test]
fn accounts_of_a_month_add_up_and_months_to_the_year() {
    let (account, _) = account();
    let unbalanced = Account {
        worst_energy: 0.5,
        worst_water: 0.25,
        ..Account::default()
    };
    let mut ledger = Ledger::new(Vec::new());
    for (month, account) in [
        (Month::December, &account),
        (Month::January, &unbalanced),
        (Month::December, &account),
        (Month::April, &account),
    ] {
        ledger.add(month, account);
    }
    assert_eq!(ledger.months[Month::December], worked(2.0));
    assert_eq!(ledger.months[Month::April], worked(1.0));
    assert_eq!(ledger.months[Month::January], MonthBook::default());
    assert_eq!(ledger.year(), worked(3.0));
    assert_eq!(ledger.imported_j[Month::December], hours(10_000.0, 5000.0));
    assert_eq!(ledger.exported_j[Month::December], hours(2600.0, 1300.0));
    assert_eq!(ledger.imported_j[Month::January], Hourly::default());
    assert_eq!((ledger.worst_energy, ledger.worst_water), (0.5, 0.25));
}

#[test]
fn a_book_gives_one_cause_or_all() {
    let mut book = worked(2.0);
    assert_eq!(
        [LossCause::GridDown, LossCause::Cables].map(|cause| book[Flow::Lost(cause)]),
        [30.0, 30.0 * lost_w(LossCause::Cables)]
    );
    assert_eq!(
        (book.lost_j().first(), book.lost_j().last()),
        (Some(&30.0), Some(&(30.0 * most_lost_w())))
    );
    book.amounts[Flow::Shortfall(ShortfallCause::GridDown).index()] = 2.5;
    assert_eq!([book.shortfall_m3()], [22.5]);
}

/// The worst imbalances of energy and water after a piece.
fn residuals(piece: &Piece) -> [f64; 2] {
    let mut account = Account::default();
    account.book(Hour::H0, &mut (0.0, 0.0), piece);
    [account.worst_energy, account.worst_water]
}

/// The sunny piece with another rate of one flow.
fn sunny_but(flow: Flow, rate: f64) -> Piece {
    let mut piece = sunny();
    piece[flow] = rate;
    piece
}

#[test]
fn a_residual_is_a_fraction_of_what_flowed() {
    let sunny = sunny();
    let unused = sunny_but(Flow::Available, 2.0 * available_w());
    assert_eq!(residuals(&unused), [0.5, 0.0]);
    let lost_on_the_way = sunny_but(Flow::GridLost, 150.0);
    assert_eq!(residuals(&lost_on_the_way), [0.25, 0.0]);
    let loads_without_source = sunny_but(Flow::Load, 600.0);
    assert_eq!(residuals(&loads_without_source), [0.5, 0.0]);
    // 210 W for 10 s, of which half arrived; or nothing.
    for (battery_stored_j, missing) in [(1050.0, 0.5), (0.0, 1.0)] {
        let piece = Piece {
            battery_stored_j,
            ..sunny
        };
        assert_eq!(residuals(&piece), [missing, 0.0]);
    }
    // 5 m³ flowed in; of the 2.5 m³ that should have stayed, 1.25 m³ did.
    let leaks = Piece {
        stored_m3: 1.25,
        ..sunny
    };
    assert_eq!(residuals(&leaks), [0.0, 0.25]);
    // Where nothing flows, the scale is a millionth of the content: 64 J and 64 m³ here.
    let from_nowhere = Piece {
        battery_stored_j: 16.0,
        battery_j: 64e6,
        stored_m3: 8.0,
        tank_m3: 64e6,
        ..Piece::at_rest()
    };
    assert_eq!(residuals(&from_nowhere), [0.25, 0.125]);
}

#[test]
fn the_worst_residual_stays() {
    let mut account = Account::default();
    for times in [2.0, 1.0, 1.25] {
        account.book(
            Hour::H0,
            &mut (0.0, 0.0),
            &sunny_but(Flow::Available, times * available_w()),
        );
    }
    // Half of it, nothing and a fifth were missing.
    assert_eq!([account.worst_energy], [0.5]);
}
