//! Tests of the pump map against the exact solution.

use daylift_units::{Month, Monthly};
use proptest::prelude::*;

use crate::testing::{Kit, M3_H, drive_sheet, main_pipe, motor_sheet, pump_sheet, well_sheet};
use crate::{DriveSheet, MapPoint, MotorSheet, Pipe, PipeSheet, PumpMap, PumpSet, PumpSheet, WellSheet};

/// Largest errors of the flow and of the powers, relative to their values at the maximum frequency.
fn worst_errors(set: &PumpSet) -> (f64, f64) {
    let map = PumpMap::new(set).unwrap();
    let column = map.month(Month::January);
    let (start, top) = (column.start_hz(), column.greatest_hz());
    let full = set.drive_point(Month::January, top).unwrap();
    let (mut flow, mut power) = (0.0_f64, 0.0_f64);
    // Uniform in frequency, and dense towards the start, where flow is steepest.
    for i in 1..=6000_u32 {
        let x = f64::from(i) / 6000.0;
        for hz in [start + (top - start) * x, start + (top - start) * x.powi(4)] {
            let Some(exact) = set.drive_point(Month::January, hz) else {
                continue;
            };
            let point = column.at_hz(hz);
            flow = flow.max((point.flow_m3_s - exact.duty.flow_m3_s).abs() / full.duty.flow_m3_s);
            power = power.max((point.dc_w - exact.dc_w).abs() / full.dc_w);
            power = power.max((point.motor_w - exact.duty.motor_w).abs() / full.dc_w);
        }
    }
    (flow, power)
}

/// A long pipe whose friction takes most of the head.
fn long_pipe() -> Pipe {
    Pipe::new(PipeSheet {
        name: "long".to_owned(),
        bore_m: 0.09,
        length_m: 1500.0,
        roughness_m: 0.1e-3,
        fittings_k: 10.0,
    })
    .unwrap()
}

/// A pump whose shaft power, proportional to H·x/η, falls when flow begins, as η/x rises at first.
fn dipping_pump() -> PumpSheet {
    let x = [0.0, 0.25, 0.5, 0.75, 1.0];
    PumpSheet {
        name: "dipping".to_owned(),
        flow_m3_s: x.map(|x| 38.0 * x * M3_H).to_vec(),
        head_m: x.map(|x| 62.0 - 27.0 * x * x).to_vec(),
        efficiency: Some(x.map(|x| x * (0.9 + 1.2 * x - 1.4 * x * x)).to_vec()),
        ..PumpSheet::default()
    }
}

fn well(level_m: f64, b: f64, c: f64) -> WellSheet {
    WellSheet {
        static_level_m: Monthly::from_array([level_m; 12]),
        aquifer_loss_s_m2: b,
        well_loss_s2_m5: c,
        ..well_sheet()
    }
}

fn sets() -> Vec<(&'static str, PumpSet)> {
    let low_start = MotorSheet {
        least_frequency_hz: 10.0,
        ..motor_sheet()
    };
    let fast = DriveSheet {
        greatest_frequency_hz: Some(60.0),
        ..drive_sheet()
    };
    let kits = [
        (
            "deep",
            Kit {
                outlet_lift_m: 30.0,
                ..Kit::default()
            },
        ),
        ("usual", Kit::default()),
        (
            "started by the motor's least",
            Kit {
                well: well(5.0, 2000.0, 0.0),
                pipes: vec![long_pipe()],
                ..Kit::default()
            },
        ),
        (
            "no lift at all",
            Kit {
                well: well(0.0, 0.0, 0.0),
                pipes: vec![long_pipe()],
                outlet_lift_m: 0.0,
                motor: low_start.clone(),
                ..Kit::default()
            },
        ),
        (
            "aquifer loss alone",
            Kit {
                well: well(30.0, 1500.0, 0.0),
                pipes: Vec::new(),
                ..Kit::default()
            },
        ),
        (
            "a trace of aquifer loss",
            Kit {
                well: well(30.0, 2.0, 1e5),
                pipes: Vec::new(),
                ..Kit::default()
            },
        ),
        (
            "a little aquifer loss",
            Kit {
                well: well(30.0, 10.0, 1e5),
                pipes: Vec::new(),
                ..Kit::default()
            },
        ),
        (
            "above rated frequency",
            Kit {
                well: well(30.0, 200.0, 1e4),
                drive: Some(fast),
                ..Kit::default()
            },
        ),
        (
            "power dips at the start",
            Kit {
                pump: dipping_pump(),
                well: well(25.0, 0.0, 1e4),
                motor: low_start,
                ..Kit::default()
            },
        ),
        (
            "close to the shut-off head",
            Kit {
                well: well(46.5, 100.0, 1e4),
                ..Kit::default()
            },
        ),
    ];
    kits.map(|(name, kit)| (name, kit.build().unwrap())).into_iter().collect()
}

#[test]
fn the_table_is_within_half_a_thousandth_of_the_exact_solution() {
    for (name, set) in sets() {
        let (flow, power) = worst_errors(&set);
        assert!(flow < 2e-4, "{name}: flow {flow}");
        assert!(power < 5e-4, "{name}: power {power}");
    }
}

#[test]
fn the_input_power_is_the_sum_of_its_parts() {
    for (name, set) in sets() {
        let map = PumpMap::new(&set).unwrap();
        let column = map.month(Month::July);
        for i in 0..=1000_u32 {
            let p =
                column.at_hz(column.start_hz() + (column.greatest_hz() - column.start_hz()) * f64::from(i) / 1000.0);
            assert!(
                (p.dc_w - p.motor_w - p.cable_w - p.drive_loss_w).abs() <= 1e-12 * p.dc_w,
                "{name}"
            );
        }
    }
}

#[test]
fn the_frequency_for_a_power_has_that_input_power() {
    for (name, set) in sets() {
        let map = PumpMap::new(&set).unwrap();
        let column = map.month(Month::January);
        let top_w = column.at_hz(column.greatest_hz()).dc_w;
        for i in 1..=1000_u32 {
            let dc_w = top_w * 1.1 * f64::from(i) / 1000.0;
            let hz = column.hz_for_power(dc_w);
            let taken_w = column.at_hz(hz).dc_w;
            assert!(taken_w <= dc_w * (1.0 + 1e-9), "{name}: {taken_w} W of {dc_w} W");
            if hz > 0.0 && hz < column.greatest_hz() {
                assert!((taken_w / dc_w - 1.0).abs() < 1e-9, "{name}: {taken_w} W of {dc_w} W");
                // It is the highest such frequency: everywhere above, more power is taken.
                for j in 1..=20_u32 {
                    let above = hz + (column.greatest_hz() - hz) * f64::from(j) / 20.0;
                    assert!(column.at_hz(above).dc_w > dc_w * (1.0 - 1e-9), "{name}");
                }
            }
        }
    }
}

#[test]
fn the_power_of_the_dipping_pump_dips() {
    let sets = sets();
    let (_, set) = sets.iter().find(|(name, _)| name.starts_with("power dips")).unwrap();
    let map = PumpMap::new(set).unwrap();
    let column = map.month(Month::January);
    let start_w = column.at_hz(column.start_hz()).dc_w;
    let later_hz = column.start_hz() + 0.05;
    let later_w = column.at_hz(later_hz).dc_w;
    assert!(later_w < 0.99 * start_w, "{later_w} {start_w}");
    // With the power of the start the set runs beyond the dip; with less than the power of the dip it does not run.
    assert!(column.hz_for_power(start_w) > later_hz);
    assert!(column.hz_for_power(later_w) >= later_hz);
    assert!(column.hz_for_power(0.5 * later_w) <= 0.0);
}

#[test]
fn the_set_rests_below_the_start_and_stops_at_the_greatest_frequency() {
    let set = Kit::default().build().unwrap();
    let map = PumpMap::new(&set).unwrap();
    let column = map.month(Month::January);
    assert_eq!(column.at_hz(column.start_hz() - 1e-6), MapPoint::IDLE);
    assert_eq!(column.at_hz(f64::NAN), MapPoint::IDLE);
    assert_eq!(column.at_hz(80.0), column.at_hz(column.greatest_hz()));
    assert!(column.hz_for_power(f64::NAN) <= 0.0 && column.hz_for_power(0.0) <= 0.0);
    assert!((column.hz_for_power(f64::INFINITY) - 50.0).abs() < 1e-12);
}

#[test]
fn months_with_the_same_level_share_a_column() {
    let mut sheet = well_sheet();
    sheet.static_level_m[Month::September] = 26.0;
    sheet.static_level_m[Month::October] = 26.0;
    let set = Kit {
        well: sheet,
        ..Kit::default()
    }
    .build()
    .unwrap();
    let map = PumpMap::new(&set).unwrap();
    assert_eq!(map.columns().len(), 2);
    assert_eq!(map.month(Month::September), map.month(Month::October));
    assert_eq!(map.month(Month::January), map.month(Month::December));
    assert!(map.month(Month::September).start_hz() > map.month(Month::August).start_hz());
}

#[test]
fn a_month_beyond_the_drives_frequency_stays_at_rest() {
    // A head of 62 m at 50 Hz is 30.4 m at 35 Hz: enough for 25 m of lift, not for 35 m.
    let mut deep = well(10.0, 100.0, 1e4);
    deep.static_level_m[Month::January] = 20.0;
    let slow = DriveSheet {
        greatest_frequency_hz: Some(35.0),
        ..drive_sheet()
    };
    let set = Kit {
        well: deep,
        drive: Some(slow),
        ..Kit::default()
    }
    .build()
    .unwrap();
    let map = PumpMap::new(&set).unwrap();
    let column = map.month(Month::January);
    assert!(column.start_hz() > column.greatest_hz());
    assert!(column.hz_for_power(1e6) <= 0.0);
    assert_eq!(column.at_hz(35.0), MapPoint::IDLE);
    assert!(map.month(Month::February).hz_for_power(1e6) > 0.0);
    assert!(
        set.warnings()
            .iter()
            .any(|w| w.subject == "drive" && w.text.ends_with("35 Hz, in January"))
    );
}

#[test]
fn a_column_carries_the_limits_of_the_set() {
    let set = Kit {
        well: WellSheet {
            intake_depth_m: Some(22.92),
            ..well_sheet()
        },
        drive: Some(DriveSheet {
            rated_power_w: 4e3,
            ..drive_sheet()
        }),
        wanted_hz: Some(48.0),
        ..Kit::default()
    }
    .build()
    .unwrap();
    let map = PumpMap::new(&set).unwrap();
    let column = map.month(Month::January);
    // 10 m³/h is the flow with a drawdown of 0.92 m, worked by hand.
    let at_limit = column.at_hz(column.well_limit().unwrap().hz);
    assert!((at_limit.flow_m3_s / M3_H - 10.0).abs() < 0.01);
    let at_rating = column.at_hz(column.drive_limit().unwrap().hz);
    assert!((at_rating.motor_w + at_rating.cable_w - 4e3).abs() < 2.0);
    assert!((column.wanted_hz() - 48.0).abs() < 1e-12);
    // 400 V at 50 Hz with drops of 2 %: 11.314·1.02 V/Hz.
    assert!((column.bus_need_v(1.0) - 11.540).abs() < 1e-3);
}

#[test]
fn a_set_without_a_drive_has_no_map() {
    assert!(
        PumpMap::new(
            &Kit {
                drive: None,
                ..Kit::default()
            }
            .build()
            .unwrap()
        )
        .is_none()
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn the_table_of_any_set_is_within_the_stated_error(
        level_m in 1.0..45.0_f64, b in 0.0..2000.0_f64, c in 0.0..2e5_f64, length_m in 1.0..2000.0_f64, least in 10.0..35.0_f64,
    ) {
        let pipe = Pipe::new(PipeSheet {
            name: "any".to_owned(), bore_m: 0.1, length_m, roughness_m: 0.05e-3, fittings_k: 5.0,
        }).unwrap();
        let set = Kit {
            well: well(level_m, b, c),
            pipes: vec![pipe, main_pipe()],
            outlet_lift_m: 1.0,
            pump: pump_sheet(),
            motor: MotorSheet { least_frequency_hz: least, ..motor_sheet() },
            ..Kit::default()
        }.build();
        prop_assume!(set.is_ok());
        let set = set.unwrap();
        let (flow, power) = worst_errors(&set);
        prop_assert!(flow < 5e-4 && power < 5e-4, "flow {flow}, power {power}");
    }
}
