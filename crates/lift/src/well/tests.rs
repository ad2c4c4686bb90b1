use super::*;
use crate::testing::{M3_H, well_sheet};
use proptest::prelude::*;

#[test]
fn drawdowns_of_the_step_test_of_clark_1977() {
    // Kruseman & de Ridder (1994), ch. 14: B and C by Hantush–Bierschenk from the data of Clark (1977) (from memory).
    // The drawdowns are computed independently from B and C.
    let day = 86_400.0;
    let well = Well::new(WellSheet {
        aquifer_loss_s_m2: 3.26e-3 * day,
        well_loss_s2_m5: 1.45e-7 * day * day,
        ..well_sheet()
    })
    .unwrap();
    for (flow_m3_day, drawdown_m) in [
        (1306.0, 4.505),
        (1693.0, 5.935),
        (2423.0, 8.750),
        (3261.0, 12.173),
        (4094.0, 15.777),
        (5019.0, 20.015),
    ] {
        let ours = well.drawdown_m(flow_m3_day / day);
        assert!((ours - drawdown_m).abs() < 6e-4, "{flow_m3_day} m³/d: {ours}");
    }
}

#[test]
fn drawdown_grows_with_the_peak_flow_of_solar_pumping() {
    // Worked by hand: 240 m³ a day at 10 m³/h for 24 h, or at 30 m³/h for 8 h.
    let well = Well::new(well_sheet()).unwrap();
    assert!((well.drawdown_m(10.0 * M3_H) - 0.92).abs() < 1e-9);
    assert!((well.drawdown_m(30.0 * M3_H) - 3.48).abs() < 1e-9);
}

#[test]
fn at_the_flow_limit_the_level_is_at_the_margin() {
    // Intake 25 m − margin 1.52 m − standing level 20 m = 3.48 m of drawdown: 30 m³/h by the case above.
    let sheet = WellSheet {
        intake_depth_m: Some(25.0),
        intake_margin_m: 1.52,
        ..well_sheet()
    };
    let limit = Well::new(sheet.clone()).unwrap().flow_limit_m3_s(Month::April).unwrap();
    assert!((limit - 30.0 * M3_H).abs() < 1e-12, "{limit}");
    let mut too_deep = sheet;
    too_deep.static_level_m[Month::January] = 24.0;
    assert!(Well::new(too_deep).unwrap().flow_limit_m3_s(Month::January) == Some(0.0));
}

#[test]
fn an_intake_too_high_in_every_month_is_a_fault() {
    let mut sheet = WellSheet {
        static_level_m: Monthly::from_array([31.0; 12]),
        intake_depth_m: Some(32.0),
        intake_margin_m: 2.0,
        ..well_sheet()
    };
    sheet.static_level_m[Month::April] = 30.0;
    let faults = Well::new(sheet.clone()).unwrap_err();
    assert!(faults.len() == 1 && faults[0].key == "intake_depth_m", "{faults:?}");
    let said = faults[0].to_string();
    for part in [
        ": 32 m; standing water 30 m in April plus margin 2 m",
        "allowed: more than 32 m; lower the intake",
    ] {
        assert!(said.contains(part), "{said}");
    }
    sheet.static_level_m[Month::April] = 29.9;
    assert!(Well::new(sheet).is_ok());
}

#[test]
fn without_intake_depth_or_drawdown_there_is_no_limit() {
    assert!(Well::new(well_sheet()).unwrap().flow_limit_m3_s(Month::January).is_none());
    let river = WellSheet {
        aquifer_loss_s_m2: 0.0,
        well_loss_s2_m5: 0.0,
        intake_depth_m: Some(25.0),
        ..well_sheet()
    };
    assert!(Well::new(river).unwrap().flow_limit_m3_s(Month::January).is_none());
}

#[test]
fn every_fault_is_reported_at_once() {
    let mut sheet = WellSheet {
        aquifer_loss_s_m2: -1.0,
        well_loss_s2_m5: f64::NAN,
        intake_depth_m: Some(1.0),
        ..well_sheet()
    };
    sheet.static_level_m[Month::October] = -3.0;
    let faults = Well::new(sheet).unwrap_err();
    let keys: Vec<&str> = faults.iter().map(|f| f.key.as_str()).collect();
    assert_eq!(
        keys,
        [
            "static_level_m",
            "aquifer_loss_m_per_m3_h",
            "well_loss_m_per_m3_h2",
            "intake_depth_m"
        ]
    );
    assert!(faults[0].quantity.contains("October"));
}

proptest! {
    #[test]
    fn the_flow_limit_draws_the_level_down_to_the_margin(
        b in 0.0..5e3_f64, c in 1.0..1e6_f64, allowed_m in 0.01..50.0_f64,
    ) {
        let well = Well::new(WellSheet {
            aquifer_loss_s_m2: b,
            well_loss_s2_m5: c,
            intake_depth_m: Some(22.0 + allowed_m),
            ..well_sheet()
        })
        .unwrap();
        let drawn_m = well.drawdown_m(well.flow_limit_m3_s(Month::January).unwrap());
        prop_assert!((drawn_m - allowed_m).abs() < 1e-9 * (22.0 + allowed_m));
    }
}
