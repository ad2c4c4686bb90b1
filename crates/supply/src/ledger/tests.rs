//! Pieces whose every flow is a number of its own, booked by hand. Lengths and flows are sums of powers of two, so that
//! nothing is rounded and books can be compared as they are.

#![allow(clippy::float_cmp, reason = "nothing is rounded here")]

use super::*;

/// 10 s of sun on the utility: the array gives 400 W to the pump, 200 W to the loads, 150 W to the battery, 130 W away,
/// and loses 1 W to the first cause, 2 W to the second … 21 W to the last, 231 W in all.
fn sunny() -> Piece {
    Piece {
        length_s: 10.0,
        utility: true,
        available_w: 1111.0,
        lost_w: std::array::from_fn(|i| f64::from(u8::try_from(i).unwrap()) + 1.0),
        array_to_pump_w: 400.0,
        array_to_loads_w: 200.0,
        array_to_battery_w: 150.0,
        exported_w: 130.0,
        export_paid: true,
        grid: Supplied {
            given_w: 500.0,
            to_pump_w: 300.0,
            to_loads_w: 100.0,
            to_battery_w: 60.0,
            lost_w: 40.0,
        },
        load_w: 300.0,
        battery_stored_j: 2100.0,
        battery_j: 50_000.0,
        pumped_m3_s: 0.5,
        pumping: 1.0,
        demand_m3_s: 0.25,
        delivered_m3_s: 0.25,
        stored_m3: 2.5,
        ..Piece::at_rest()
    }
}

/// 20 s of an outage at night: a quarter of what the battery gives had come from the array; half of the time water flows.
fn by_night() -> Piece {
    Piece {
        length_s: 20.0,
        battery: Supplied {
            given_w: 800.0,
            to_pump_w: 300.0,
            to_loads_w: 400.0,
            to_battery_w: 0.0,
            lost_w: 100.0,
        },
        battery_array_share: 0.25,
        battery_stored_j: -16_000.0,
        load_w: 1000.0,
        unserved_w: 600.0,
        pumped_m3_s: 0.25,
        pumping: 0.5,
        demand_m3_s: 1.0,
        delivered_m3_s: 0.5,
        stored_m3: -5.0,
        held_back_by: ShortfallCause::TooLittleSun,
        ..Piece::at_rest()
    }
}

/// 30 s of an outage on the generating set, below its least load.
fn on_the_set() -> Piece {
    Piece {
        length_s: 30.0,
        generator: Supplied {
            given_w: 2000.0,
            to_pump_w: 900.0,
            to_loads_w: 1000.0,
            to_battery_w: 0.0,
            lost_w: 100.0,
        },
        fuel_m3_s: 0.125,
        generator_below_least: true,
        load_w: 1000.0,
        ..Piece::at_rest()
    }
}

/// The first three at 5:00, then the first for 5 s unpaid and the third for 40 s at a load that the set likes, at 23:00.
fn account() -> (Account, (f64, f64)) {
    let (mut account, mut day) = (Account::default(), (0.0, 0.0));
    for piece in [sunny(), by_night(), on_the_set()] {
        account.book(5, &mut day, &piece);
    }
    let unpaid = Piece {
        length_s: 5.0,
        export_paid: false,
        battery_stored_j: 1050.0,
        stored_m3: 1.25,
        ..sunny()
    };
    let liked = Piece {
        length_s: 40.0,
        generator_below_least: false,
        ..on_the_set()
    };
    for piece in [unpaid, liked] {
        account.book(23, &mut day, &piece);
    }
    (account, day)
}

/// What stands in the book after that, so many times over.
fn worked(times: f64) -> MonthBook {
    let mut shortfall_m3 = [0.0; ShortfallCause::COUNT];
    shortfall_m3[ShortfallCause::TooLittleSun.index()] = times * 10.0;
    MonthBook {
        available_j: times * 16_665.0,
        lost_j: sunny().lost_w.map(|w| times * 15.0 * w),
        array_to_pump_j: times * 6000.0,
        array_to_loads_j: times * 3000.0,
        array_to_battery_j: times * 2250.0,
        exported_j: times * 1950.0,
        exported_paid_j: times * 1300.0,
        grid: SourceBook {
            given_j: times * 7500.0,
            to_pump_j: times * 4500.0,
            to_loads_j: times * 1500.0,
            to_battery_j: times * 900.0,
        },
        battery: SourceBook {
            given_j: times * 16_000.0,
            to_pump_j: times * 6000.0,
            to_loads_j: times * 8000.0,
            to_battery_j: 0.0,
        },
        battery_of_array_j: times * 4000.0,
        generator: SourceBook {
            given_j: times * 140_000.0,
            to_pump_j: times * 63_000.0,
            to_loads_j: times * 70_000.0,
            to_battery_j: 0.0,
        },
        generator_s: times * 70.0,
        generator_low_s: times * 30.0,
        fuel_m3: times * 8.75,
        load_j: times * 94_500.0,
        unserved_j: times * 12_000.0,
        pumped_m3: times * 12.5,
        demand_m3: times * 23.75,
        delivered_m3: times * 13.75,
        delivered_in_outage_m3: times * 10.0,
        demand_in_outage_m3: times * 20.0,
        shortfall_m3,
        outage_s: times * 90.0,
        pumping_s: times * 25.0,
        pumping_in_outage_s: times * 10.0,
        time_s: times * 105.0,
    }
}

/// So much in one hour, so much in another, nothing in the rest.
fn hours(five: f64, twenty_three: f64) -> [f64; 24] {
    let mut hours = [0.0; 24];
    (hours[5], hours[23]) = (five, twenty_three);
    hours
}

#[test]
fn every_flow_of_a_piece_is_booked_for_as_long_as_it_lasts() {
    let (account, day) = account();
    assert_eq!(account.book, worked(1.0));
    assert_eq!(account.imported_j, hours(5000.0, 2500.0));
    assert_eq!(account.exported_j, hours(1300.0, 650.0));
    assert_eq!(day, (23.75, 10.0));
    // All of them balance.
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
    for (month, account) in [(11, &account), (0, &unbalanced), (11, &account), (3, &account)] {
        ledger.add(month, account);
    }
    assert_eq!(ledger.months[11], worked(2.0));
    assert_eq!(ledger.months[3], worked(1.0));
    assert_eq!(ledger.months[0], MonthBook::default());
    assert_eq!(ledger.year(), worked(3.0));
    assert_eq!(ledger.imported_j[11], hours(10_000.0, 5000.0));
    assert_eq!(ledger.exported_j[11], hours(2600.0, 1300.0));
    assert_eq!(ledger.imported_j[0], [0.0; 24]);
    assert_eq!((ledger.worst_energy, ledger.worst_water), (0.5, 0.25));
}

#[test]
fn a_book_is_asked_for_one_cause_or_for_all() {
    let mut book = worked(2.0);
    assert_eq!(
        [LossCause::GridDown, LossCause::Cables].map(|cause| book.lost(cause)),
        [30.0, 630.0]
    );
    book.shortfall_m3[ShortfallCause::GridDown.index()] = 2.5;
    assert_eq!([book.shortfall_m3()], [22.5]);
}

/// The worst imbalances after a piece.
fn residuals(piece: &Piece) -> [f64; 2] {
    let mut account = Account::default();
    account.book(0, &mut (0.0, 0.0), piece);
    [account.worst_energy, account.worst_water]
}

#[test]
fn what_is_missing_counts_of_what_flowed() {
    let (sunny, rest) = (sunny(), Piece::at_rest());
    let mut unused = sunny;
    unused.available_w = 2222.0;
    assert_eq!(residuals(&unused), [0.5, 0.0]);
    let mut lost_on_the_way = sunny;
    lost_on_the_way.grid.lost_w += 125.0;
    assert_eq!(residuals(&lost_on_the_way), [0.25, 0.0]);
    let mut loads_without_source = sunny;
    loads_without_source.load_w = 600.0;
    assert_eq!(residuals(&loads_without_source), [0.5, 0.0]);
    // 210 W for 10 s, of which half is there; or nothing.
    for (battery_stored_j, missing) in [(1050.0, 0.5), (0.0, 1.0)] {
        let piece = Piece {
            battery_stored_j,
            ..sunny
        };
        assert_eq!(residuals(&piece), [missing, 0.0]);
    }
    // 5 m³ flowed in, and 1.25 m³ of the 2.5 m³ that stayed are there.
    let leaks = Piece {
        stored_m3: 1.25,
        ..sunny
    };
    assert_eq!(residuals(&leaks), [0.0, 0.25]);
    // Where nothing flows it counts of a millionth of the content: 64 J and 64 m³ here.
    let from_nowhere = Piece {
        battery_stored_j: 16.0,
        battery_j: 64e6,
        stored_m3: 8.0,
        tank_m3: 64e6,
        ..rest
    };
    assert_eq!(residuals(&from_nowhere), [0.25, 0.125]);
}

#[test]
fn the_worst_residual_stays() {
    let mut account = Account::default();
    for available_w in [2222.0, 1111.0, 1388.75] {
        let piece = Piece { available_w, ..sunny() };
        account.book(0, &mut (0.0, 0.0), &piece);
    }
    // Half of it, nothing and a fifth were missing.
    assert_eq!([account.worst_energy], [0.5]);
}
