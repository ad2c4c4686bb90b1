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
    assert!(motor.misfit().share < 1e-12);
}

#[test]
fn more_points_are_reproduced_within_the_stated_error() {
    let points = vec![(0.25, 0.74), (0.5, 0.82), (0.75, 0.845), (1.0, 0.84), (1.2, 0.825)];
    let motor = Motor::new(MotorSheet {
        efficiency_points: points.clone(),
        ..motor_sheet()
    })
    .unwrap();
    let worst = motor.misfit().share;
    assert!(worst > 0.0 && worst < 0.02, "{worst}");
    for (load, efficiency) in points {
        assert!((motor.efficiency(load) / efficiency - 1.0).abs() <= worst * (1.0 + 1e-12));
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
        curve: CurveForm::Fitted,
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

#[test]
fn a_motor_that_no_two_parts_follow_is_refused() {
    // Losses that fall with load: by numpy (least squares, both parts at least 0) V = 0 and 72.34 % at half load instead
    // of 60 %, a difference of 20.57 %; 11.6 % at full load.
    let sheet = MotorSheet {
        efficiency_points: vec![(0.5, 0.6), (0.75, 0.8), (1.0, 0.95)],
        ..motor_sheet()
    };
    let faults = Motor::new(sheet.clone()).unwrap_err();
    assert_eq!((faults.len(), faults[0].key.as_str()), (1, "efficiency_pct"));
    let text = faults[0].to_string();
    assert!(
        text.contains("72.3% at 50% load, where it gives 60%: a difference of 20.6%; allowed: up to 8%"),
        "{text}"
    );
    assert!(text.contains("`curve = \"through-points\"`"), "{text}");
    let through = Motor::new(MotorSheet {
        curve: CurveForm::ThroughPoints,
        ..sheet
    });
    assert!((through.unwrap().efficiency(0.5) - 0.6).abs() < 1e-12);
}

#[test]
fn a_motor_slightly_off_its_datasheet_gives_a_warning() {
    // By numpy: 72.117 % at quarter load instead of 70 %, a difference of 3.0243 %.
    let points = vec![(0.25, 0.70), (0.5, 0.81), (0.75, 0.86), (1.0, 0.83)];
    let sheet = MotorSheet {
        efficiency_points: points,
        ..motor_sheet()
    };
    let warning = Motor::new(sheet).unwrap().misfit_warning().unwrap();
    assert_eq!(warning.subject, "motor");
    assert!(
        warning.text.contains("72.1% at 25% load, where it gives 70%: a difference of 3.02%"),
        "{}",
        warning.text
    );
    assert!(Motor::new(motor_sheet()).unwrap().misfit_warning().is_none());
}

#[test]
fn losses_through_the_points_are_those_of_scipy() {
    // scipy.interpolate.PchipInterpolator through (0, L0) and the losses at the four loads, with the fitted F 0.124286 and
    // V 0.0566355 of rated power; L0 = 0.109756, the smallest loss given. Expected: P + L(t) − L0·(1 − r^1.5), t = P/r, with
    // L growing as V·y² above full load. Shaft power over rated power, ratio, input [W].
    let expected = [
        (0.3, 1.0, 3_455.609_756_098),
        (0.75, 1.0, 6_540.697_674_419),
        (1.1, 1.0, 9_875.345_490_180),
        (0.512, 0.8, 4_461.343_241_271),
        (0.0, 0.9, 702.835_492_153),
        (0.9, 0.8, 8_164.815_409_181),
    ];
    // In any order.
    let sheet = MotorSheet {
        efficiency_points: vec![(1.0, 0.83), (0.25, 0.60), (0.5, 0.82), (0.75, 0.86)],
        curve: CurveForm::ThroughPoints,
        ..motor_sheet()
    };
    let motor = Motor::new(sheet).unwrap();
    for (load, ratio, input_w) in expected {
        let found = motor.input_w(load * 7500.0, ratio);
        assert!((found - input_w).abs() < 1e-6, "{load} {ratio}: {found}");
    }
    assert!(motor.misfit().share <= 0.0 && motor.misfit_warning().is_none());
}

#[test]
fn points_through_which_no_motor_runs_are_faults() {
    let of = |points: Vec<(f64, f64)>| {
        let sheet = MotorSheet {
            efficiency_points: points,
            curve: CurveForm::ThroughPoints,
            ..motor_sheet()
        };
        Motor::new(sheet).unwrap_err().remove(0)
    };
    // A load given twice; half the power takes 1.43 of the rating, all of it 1.06.
    assert!(of(vec![(0.5, 0.8), (1.0, 0.8), (1.0, 0.82)]).remedy.contains("each load once"));
    assert!(of(vec![(0.5, 0.35), (1.0, 0.94)]).given.contains("falls while the output rises"));
}

proptest! {
    #[test]
    fn the_input_is_never_below_the_shaft_power(
        full in 0.5..0.97_f64, part in 0.5..0.97_f64, shaft in 0.0..1.5_f64, ratio in 0.1..1.3_f64,
    ) {
        let sheet = MotorSheet { efficiency_points: vec![(1.0, full), (0.5, part)], ..motor_sheet() };
        let motor = Motor::new(sheet);
        prop_assume!(motor.is_ok());
        let motor = motor.unwrap();
        let shaft_w = shaft * motor.rated_power_w();
        let input_w = motor.input_w(shaft_w, ratio);
        prop_assert!(input_w.is_finite() && input_w >= shaft_w);
    }
}
