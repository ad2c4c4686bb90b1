use super::*;
use proptest::prelude::*;

/// Losses of 0.5 %, 1 % and 1.5 % of rated output: the efficiency is x / (x + 0.005 + 0.01·x + 0.015·x²).
fn sheet() -> InverterSheet {
    let efficiency = |x: f64| (x, x / (x + 0.005 + 0.01 * x + 0.015 * x * x));
    InverterSheet {
        name: "20 kW".to_owned(),
        rated_w: 20e3,
        efficiency_points: [0.1, 0.3, 0.5, 1.0].map(efficiency).to_vec(),
        start_w: 150.0,
        mppt_min_v: 300.0,
        mppt_max_v: 800.0,
        ac_cable_loss: 0.01,
    }
}

fn inverter() -> Inverter {
    Inverter::new(sheet()).unwrap()
}

#[test]
fn dc_input_at_rated_output_by_hand() {
    // Worked by hand: 20 kW · (1 + 0.005 + 0.01 + 0.015) = 20.6 kW.
    let inverter = inverter();
    assert!((inverter.clip_dc_at_w(20.0) - 20_600.0).abs() < 1e-6);
    assert!((inverter.ac_w(30e3) - 20e3).abs() < 1e-9);
    // 10 kW: 0.5 + 0.005 + 0.005 + 0.00375 = 0.51375 of rated, 10 275 W.
    assert!((inverter.ac_w(10_275.0) - 10e3).abs() < 1e-6);
}

#[test]
fn cable_loss_by_hand() {
    // Worked by hand: 10 kW of 20 kW loses 0.5 %, 50 W.
    let inverter = inverter();
    assert!((inverter.bus_w(10e3) - 9950.0).abs() < 1e-9);
    assert!((inverter.ac_for_bus_w(50e3) - 20e3).abs() < 1e-9);
}

proptest! {
    #[test]
    fn input_and_output_are_inverse(share in 0.001..1.0_f64) {
        let inverter = inverter();
        let ac_w = share * inverter.rated_w();
        prop_assert!((inverter.ac_w(inverter.dc_for_ac_w(ac_w)) - ac_w).abs() < 1e-8);
        prop_assert!((inverter.ac_for_bus_w(inverter.bus_w(ac_w)) - ac_w).abs() < 1e-8);
    }
}

#[test]
fn it_feeds_from_its_start_power_and_takes_nothing_at_rest() {
    let inverter = inverter();
    assert!(!inverter.feeds(149.9) && inverter.feeds(150.0));
    assert!(inverter.dc_for_ac_w(0.0) == 0.0 && inverter.ac_w(50.0) == 0.0);
    let mut eager = sheet();
    eager.start_w = 0.0;
    assert!(!Inverter::new(eager).unwrap().feeds(0.0));
}

#[test]
fn conflicting_values_are_faults() {
    let exchanged = InverterSheet {
        mppt_min_v: 800.0,
        mppt_max_v: 300.0,
        ..sheet()
    };
    assert!(Inverter::new(exchanged).unwrap_err()[0].remedy.contains("swapped"));
    let late = InverterSheet {
        start_w: 12e3,
        ..sheet()
    };
    assert_eq!(Inverter::new(late).unwrap_err()[0].key, "start_power_w");
}

#[test]
fn efficiencies_given_as_fractions_are_one_fault() {
    let mut fractions = sheet();
    for point in &mut fractions.efficiency_points {
        point.1 /= 100.0;
    }
    let faults = Inverter::new(fractions).unwrap_err();
    assert_eq!((faults.len(), faults[0].key.as_str()), (1, "efficiency_pct"));
    assert!(faults[0].remedy.contains("did you give fractions"));
}

#[test]
fn all_faults_are_reported_together() {
    let wrong = InverterSheet {
        rated_w: -1.0,
        efficiency_points: vec![(0.5, 97.0), (1.0, 0.97)],
        mppt_min_v: 1.0,
        mppt_max_v: 8000.0,
        ac_cable_loss: f64::NAN,
        ..sheet()
    };
    let keys: Vec<String> = Inverter::new(wrong).unwrap_err().into_iter().map(|f| f.key).collect();
    assert_eq!(
        keys,
        [
            "rated_power_kw",
            "mppt_min_v",
            "mppt_max_v",
            "ac_cable_loss_pct",
            "efficiency_pct"
        ]
    );
}

fn hot() -> InverterLosses {
    InverterLosses {
        tracking: 0.005,
        tracking_broken: 0.01,
        derating_per_k: 0.02,
        derating_c: 45.0,
    }
}

#[test]
fn heat_lowers_the_greatest_output_by_hand() {
    // Worked by hand: 5 K above 45 °C at 2 % per kelvin leave 90 % of 20 kW. Its DC input is 18 kW and the loss at x = 0.9:
    // 20 kW · (0.005 + 0.009 + 0.01215) = 523 W. At 95 °C nothing is left.
    let inverter = inverter().with_losses(hot()).unwrap();
    for (air_c, ac_w, dc_w) in [
        (45.0, 20_000.0, 20_600.0),
        (50.0, 18_000.0, 18_523.0),
        (95.0, 0.0, 0.0),
        (120.0, 0.0, 0.0),
    ] {
        assert!((inverter.greatest_ac_w(air_c) - ac_w).abs() < 1e-6, "{air_c}");
        assert!((inverter.clip_dc_at_w(air_c) - dc_w).abs() < 1e-6, "{air_c}");
    }
    // Before it has these losses, heat changes nothing.
    assert!((super::Inverter::new(sheet()).unwrap().greatest_ac_w(60.0) - 20e3).abs() < 1e-9);
}

#[test]
fn losses_out_of_range_are_faults() {
    let wrong = InverterLosses {
        tracking: 0.2,
        derating_c: 5.0,
        ..hot()
    };
    let keys: Vec<String> = inverter().with_losses(wrong).unwrap_err().into_iter().map(|f| f.key).collect();
    assert_eq!(keys, ["tracking_loss_pct", "derating_temperature_c"]);
}
