use super::*;
use crate::testing::motor_sheet;
use proptest::prelude::*;

#[test]
fn two_points_of_a_datasheet_are_reproduced() {
    // IEC 60034-30-1, IE3, 2 poles, 7.5 kW: 90.1 % at full load; 90.0 % at half load is a usual datasheet value.
    let motor = Motor::new(MotorSheet {
        efficiency_points: vec![(1.0, 0.901), (0.5, 0.900)],
        ..motor_sheet()
    })
    .unwrap();
    assert!((motor.efficiency(1.0) - 0.901).abs() < 1e-12);
    assert!((motor.efficiency(0.5) - 0.900).abs() < 1e-12);
    assert!(motor.fit_error() < 1e-12);
}

#[test]
fn more_points_are_reproduced_within_the_stated_error() {
    let points = vec![(0.25, 0.74), (0.5, 0.82), (0.75, 0.845), (1.0, 0.84), (1.2, 0.825)];
    let motor = Motor::new(MotorSheet {
        efficiency_points: points.clone(),
        ..motor_sheet()
    })
    .unwrap();
    assert!(
        motor.fit_error() > 0.0 && motor.fit_error() < 0.015,
        "{}",
        motor.fit_error()
    );
    for (load, efficiency) in points {
        assert!((motor.efficiency(load) - efficiency).abs() <= motor.fit_error());
    }
}

#[test]
fn one_point_is_split_into_equal_parts_at_full_load() {
    let motor = Motor::new(MotorSheet {
        efficiency_points: vec![(1.0, 0.80)],
        ..motor_sheet()
    })
    .unwrap();
    // Worked by hand: 7.5 kW at 80 % loses 1.875 kW, 937.5 W in each part.
    let (fixed_w, torque_w) = (motor.fixed_w, motor.torque_w);
    assert!((fixed_w - 937.5).abs() < 1e-9 && (torque_w - 937.5).abs() < 1e-9);
    // At 40 Hz and 0.512 of rated power: 937.5·0.8^1.5 = 670.8 W, 937.5·0.64² = 384.0 W.
    let input_w = motor.input_w(0.512 * 7500.0, 0.8);
    assert!((input_w - (3840.0 + 670.82 + 384.0)).abs() < 0.01, "{input_w}");
    // A single point at half load is also reproduced.
    let half = Motor::new(MotorSheet {
        efficiency_points: vec![(0.5, 0.75)],
        ..motor_sheet()
    })
    .unwrap();
    assert!((half.efficiency(0.5) - 0.75).abs() < 1e-12);
}

#[test]
fn every_fault_is_reported_at_once() {
    let faults = Motor::new(MotorSheet {
        name: String::new(),
        rated_power_w: 0.0,
        rated_frequency_hz: 50.0,
        rated_voltage_v: f64::NAN,
        efficiency_points: vec![(100.0, 85.0), (0.5, 0.8)],
        least_frequency_hz: 60.0,
        rated_current_a: Some(0.0),
        power_factor: Some(1.2),
        cooling_flow_m3_s: Some(-1.0),
        water_derating_per_k: 0.2,
    })
    .unwrap_err();
    let keys: Vec<&str> = faults.iter().map(|f| f.key.as_str()).collect();
    assert_eq!(
        keys,
        [
            "rated_power_kw",
            "rated_voltage_v",
            "rated_current_a",
            "power_factor",
            "cooling_flow_m3_h",
            "water_derating_pct_per_k",
            "least_frequency_hz",
            "load_pct",
            "efficiency_pct"
        ]
    );
    assert!(faults[6].to_string().contains("60 Hz; allowed: up to the rated frequency, 50 Hz"));
    assert!(faults[7].to_string().contains("8500%"));
}

#[test]
fn efficiencies_given_as_fractions_are_one_fault() {
    let faults = Motor::new(MotorSheet {
        efficiency_points: vec![(0.5, 0.0085), (1.0, 0.0087)],
        ..motor_sheet()
    })
    .unwrap_err();
    assert_eq!((faults.len(), faults[0].key.as_str()), (1, "efficiency_pct"));
    assert!(faults[0].remedy.contains("66, not 0.66"));
}

#[test]
fn a_load_given_twice_is_a_fault() {
    let faults = Motor::new(MotorSheet {
        efficiency_points: vec![(1.0, 0.8), (1.0, 0.8)],
        ..motor_sheet()
    })
    .unwrap_err();
    assert_eq!(faults[0].key, "load_pct");
}

proptest! {
    #[test]
    fn the_input_is_never_below_the_shaft_power(
        full in 0.5..0.97_f64, part in 0.5..0.97_f64, shaft in 0.0..1.5_f64, ratio in 0.1..1.3_f64,
    ) {
        let sheet = MotorSheet { efficiency_points: vec![(1.0, full), (0.5, part)], ..motor_sheet() };
        let motor = Motor::new(sheet).unwrap();
        let shaft_w = shaft * motor.rated_power_w();
        let input_w = motor.input_w(shaft_w, ratio);
        prop_assert!(input_w.is_finite() && input_w >= shaft_w);
    }
}
