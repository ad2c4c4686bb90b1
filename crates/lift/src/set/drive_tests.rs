//! Tests of what only a drive brings: harmonics, filter, flux, ratings and the least flow.
//!
//! All values are worked with numpy and scipy from docs/model.md, on a set without pipes: x = √((60·r² − 40)/10), Q =
//! 30·x m³/h, H = 60·r² − 10·x², η = 0.72·(2·x/r − (x/r)²), P = ρ·g·Q·H/η with ρ by Kell. Motor: F = 766.531 W and V =
//! 870.809 W (scipy's nnls); drive: p = (0.014551, 0, 0.0162796) of 11 kW. Cable 2 %, dv/dt filter 0.3 %, h = 15 %.

use daylift_units::Month;

use crate::testing::{Kit, M3_H, drive_sheet, exact_kit, motor_sheet};
use crate::{DriveRating, DriveSheet, Filter, MotorSheet, PumpMap, PumpSet, SetSheet};

const JAN: Month = Month::January;

/// The exact set with a dv/dt filter and harmonics.
fn kit() -> Kit {
    Kit {
        fitted: SetSheet {
            filter: Filter::DvDt,
            harmonic_loss: None,
            ..SetSheet::plain(0.0, None)
        },
        ..exact_kit()
    }
}

fn rated(rated_power_w: f64, rating: DriveRating) -> Kit {
    Kit {
        drive: Some(DriveSheet {
            rated_power_w,
            rating,
            ..drive_sheet()
        }),
        ..kit()
    }
}

fn near(value: f64, worked: f64, tolerance: f64) {
    assert!((value - worked).abs() < tolerance, "{value}, worked: {worked}");
}

#[test]
fn a_duty_point_with_a_flux_of_92_per_cent() {
    let set = kit().build().unwrap();
    let full = set.drive_point(JAN, 48.0).unwrap();
    near(full.duty.flow_m3_s / M3_H, 37.1031, 1e-4);
    near(full.duty.motor_w, 7664.160, 0.01);
    near(full.duty.cable_w, 147.855, 0.001);
    near(full.dc_w, 8062.396, 0.01);
    let at = set.at_speed(JAN, 48.0).unwrap();
    let low = at.at(0.92);
    near(low.motor_w, 7667.810, 0.01);
    near(low.cable_w, 174.854, 0.001);
    near(low.drive_loss_w, 251.090, 0.001);
    near(low.dc_w, 8093.753, 0.01);
    near(at.input_w(1.0), full.dc_w, 1e-9);
    // The map gives the same, between its knots to its own accuracy.
    let map = PumpMap::new(&set).unwrap();
    near(map.month(JAN).at_speed(48.0).unwrap().input_w(0.92), 8093.753, 2.0);
}

#[test]
fn above_rated_frequency_full_flux_falls_with_the_frequency() {
    let kit = Kit {
        drive: Some(DriveSheet {
            greatest_frequency_hz: Some(55.0),
            rated_power_w: 22e3,
            ..drive_sheet()
        }),
        ..kit()
    };
    // Beyond the datasheet's last flow the efficiency is the fitted one as long as it is plausible. At 52 Hz, worked as
    // above with φ = 50/52.
    let set = kit.build().unwrap();
    let point = set.at_speed(JAN, 52.0).unwrap();
    near(point.full().motor_w, 12_322.30, 0.05);
    near(point.at(0.95).motor_w, 12_421.30, 0.05);
    // The bus needs no more than at 50 Hz: 565.685·(1 + 0.02 + 0.015).
    near(set.bus_need_v(52.0).unwrap(), 585.484, 0.001);
    near(set.bus_need_v(40.0).unwrap(), 468.388, 0.001);
}

#[test]
fn on_mains_there_are_neither_filter_nor_harmonics() {
    let plain = exact_kit().build().unwrap();
    assert_eq!(kit().build().unwrap().mains(JAN), plain.mains(JAN));
    assert!((plain.harmonic_loss()).abs() < 1e-12);
    near(kit().build().unwrap().harmonic_loss(), 0.15, 1e-12);
}

#[test]
fn the_drive_is_limited_by_power_by_its_current_and_by_that_of_the_motor() {
    let limit = |kit: Kit| kit.build().unwrap().drive_limit_hz(JAN).unwrap();
    near(limit(rated(8e3, DriveRating::PLAIN)), 48.1991, 1e-3);
    // I_n = 15.516 A from 7.5 kW, 400 V, 0.85 and 82.08 %.
    let amperes = |current_a| DriveRating {
        current_a: Some(current_a),
        ..DriveRating::PLAIN
    };
    near(limit(rated(11e3, amperes(14.0))), 48.3149, 1e-3);
    // 8 kW at a power factor of 0.85 are 13.585 A, of the motor's 15.516 A less than 8 kW themselves need.
    let by_factor = DriveRating {
        power_factor: Some(0.85),
        ..DriveRating::PLAIN
    };
    near(limit(rated(8e3, by_factor)), 47.9035, 1e-3);
    // A motor whose plate says 16 A, in water of 30 °C and less, may take all of it; at 50 Hz it needs 1.02523.
    let plate = |water_derating_per_k| Kit {
        motor: MotorSheet {
            rated_current_a: Some(16.0),
            water_derating_per_k,
            ..motor_sheet()
        },
        ..kit()
    };
    let hz = limit(plate(0.0));
    let torque_limit = kit().build().unwrap();
    let at = torque_limit.drive_point(JAN, hz).unwrap();
    near(
        crate::Motor::current(at.duty.shaft_w / 7500.0 / (hz / 50.0), 1.0),
        1.0,
        1e-9,
    );
    // 37 °C of water take 10 %: the current of 0.9 is reached at 48.3303 Hz (water of 993.33 kg/m³).
    let set = plate(0.1 / 7.0).build_in_water(37.0);
    near(set.drive_limit_hz(JAN).unwrap(), 48.3303, 1e-3);
}

#[test]
fn height_and_heat_derate_the_drive() {
    let rating = DriveRating {
        altitude_derating_per_m: 1e-4,
        heat_derating_per_k: 0.015,
        ..DriveRating::PLAIN
    };
    let at = |altitude_m| {
        let mut kit = rated(8e3, rating);
        kit.fitted.altitude_m = altitude_m;
        kit.build().unwrap()
    };
    let low = at(900.0);
    near(low.drive_limit_hz(JAN).unwrap(), 48.1991, 1e-3);
    // 38 °C: 8 K above 40 °C in the cabinet, D_T = 0.88. 30 °C: none.
    near(low.drive_limit_in_air_hz(JAN, 38.0).unwrap(), 47.1315, 1e-3);
    near(low.drive_limit_in_air_hz(JAN, 30.0).unwrap(), 48.1991, 1e-3);
    // 1500 m: D_h = 0.95.
    near(at(1500.0).drive_limit_in_air_hz(JAN, 38.0).unwrap(), 46.7062, 1e-3);
    let map = PumpMap::new(&at(1500.0)).unwrap();
    let column = map.month(JAN);
    let limit = column.drive_limit_by_heat(column.kept_in_air(38.0)).unwrap();
    near(limit.hz, 46.7062, 5e-3);
    near(limit.dc_w, column.power_at_hz_w(limit.hz), 1e-9);
    assert_eq!(column.drive_limit_by_heat(1.0), column.drive_limit());
    // So hot that not even the start is possible.
    near(column.drive_limit_by_heat(0.2).unwrap().hz, 0.0, 1e-12);
    near(column.top_hz(0.2), 0.0, 1e-12);
}

#[test]
fn a_drive_with_a_current_for_the_derated_motor_needs_flux() {
    // t = 0.5: with 0.75 of the rated current the flux must be 0.6458 at least.
    near(crate::Motor::least_flux(0.5, 0.75).unwrap(), 0.645_805, 1e-5);
    assert!(crate::Motor::least_flux(1.0, 0.5).is_none());
}

#[test]
fn the_pump_starts_where_it_has_its_least_flow() {
    let start = |least_flow: f64, cooling_m3_h: f64| {
        let mut kit = kit();
        kit.fitted.least_flow = least_flow;
        kit.motor.cooling_flow_m3_s = Some(cooling_m3_h * M3_H);
        kit.build().unwrap().start_hz(JAN)
    };
    // Flow begins at 50·√(40/60); the best efficiency is at 30 m³/h, so 60·r² − 40 = 10·(0.2·r)² for 20 %.
    near(start(0.0, 0.0), 40.8248, 1e-4);
    near(start(0.2, 0.0), 40.9616, 1e-4);
    near(start(0.4, 0.0), 41.3803, 1e-4);
    // 12 m³/h for the motor: 60·r² = 40 + 10·0.4².
    near(start(0.2, 12.0), 41.6333, 1e-4);
    // Such a flow is never reached below four times rated speed.
    assert!(start(0.2, 4000.0).is_infinite());
}

#[test]
fn a_held_bus_sets_the_flux() {
    // 400 V rectified are 540.19 V; full flux at 48 Hz needs 562.065 V: φ = 0.961081.
    let held = |least_flux: f64| {
        let set = rated(
            11e3,
            DriveRating {
                least_flux,
                ..DriveRating::PLAIN
            },
        )
        .build()
        .unwrap();
        PumpMap::held(&set, 540.189_79).unwrap()
    };
    let map = held(0.9);
    near(map.month(JAN).at_hz(48.0).dc_w, 8071.024, 2.0);
    near(map.month(JAN).top_hz(1.0), 50.0, 1e-12);
    // A least flux of 98 % limits the frequency to 540.19/(0.98·11.7097) Hz.
    near(held(0.98).month(JAN).top_hz(1.0), 47.0733, 1e-3);
    let only_full = held(1.0);
    let set: PumpSet = kit().build().unwrap();
    let full = PumpMap::new(&set).unwrap();
    near(
        only_full.month(JAN).at_hz(45.0).dc_w,
        full.month(JAN).at_hz(45.0).dc_w,
        1e-9,
    );
    near(only_full.month(JAN).top_hz(1.0), 540.189_79 / 11.709_688, 1e-3);
}

#[test]
fn a_current_that_contradicts_the_plate_is_a_fault() {
    let sheet = |current_a: f64| MotorSheet {
        rated_current_a: Some(current_a),
        power_factor: Some(0.85),
        ..motor_sheet()
    };
    // 7.5 kW/(√3 · 400 V · 0.85 · 82.08 %) = 15.52 A.
    assert!(crate::Motor::new(sheet(17.5)).is_ok());
    let faults = crate::Motor::new(sheet(26.9)).unwrap_err();
    assert_eq!(faults.len(), 1);
    assert_eq!(faults[0].key, "rated_current_a");
    assert!(faults[0].to_string().contains("15.5 A"), "{}", faults[0]);
    // Without a power factor nothing can be compared.
    let alone = MotorSheet {
        power_factor: None,
        ..sheet(26.9)
    };
    assert!((crate::Motor::new(alone).unwrap().rated_current_a() - 26.9).abs() < 1e-12);
}
