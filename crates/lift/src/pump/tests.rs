use crate::PumpSheet;
use crate::pump::Pump;
use crate::testing::{M3_H, pump_sheet, water};
use proptest::prelude::*;

/// H = 130 − 30·x² ft and η = η1·(2·x − x²), with x = Q/(100 gpm). At x = 1 this is 100 ft and, by the choice of η1, 5
/// bhp.
fn textbook_pump() -> Pump {
    let (gpm, ft, hp) = (6.309_02e-5, 0.3048, 745.7);
    let x = [0.0, 0.3, 0.6, 1.0, 1.2];
    let top = water().density_kg_m3() * 9.806_65 * (100.0 * gpm) * (100.0 * ft) / (5.0 * hp);
    Pump::new(
        PumpSheet {
            name: "textbook".to_owned(),
            flow_m3_s: x.map(|x| x * 100.0 * gpm).to_vec(),
            head_m: x.map(|x| (130.0 - 30.0 * x * x) * ft).to_vec(),
            efficiency: Some(x.map(|x| top * (2.0 * x - x * x)).to_vec()),
            ..PumpSheet::default()
        },
        &water(),
    )
    .unwrap()
}

#[test]
fn affinity_laws_match_the_textbook() {
    // Pair printed in many textbooks (from memory): 1750 rpm: 100 gpm, 100 ft, 5 bhp; 3500 rpm: 200 gpm, 400 ft, 40
    // bhp. At 0.8 of the speed: 0.8 of the flow, 0.64 of the head and 0.512 of the power.
    let (gpm, ft, hp) = (6.309_02e-5, 0.3048, 745.7);
    let pump = textbook_pump();
    for (ratio, head_ft, power_hp) in [(1.0, 100.0, 5.0), (2.0, 400.0, 40.0), (0.8, 64.0, 2.56)] {
        let flow = 100.0 * ratio * gpm;
        assert!((pump.head_m(flow, ratio) / ft - head_ft).abs() < 1e-6 * head_ft);
        assert!((pump.shaft_power_w(flow, ratio) / hp - power_hp).abs() < 1e-6 * power_hp);
    }
}

#[test]
fn a_datasheet_on_the_fitted_form_is_reproduced_exactly() {
    let errors = textbook_pump().fit_errors();
    assert!(errors.head_m < 1e-9 && errors.head_misfit.share < 1e-9 && errors.efficiency < 1e-9);
}

#[test]
fn shaft_powers_and_efficiencies_give_the_same_pump() {
    let by_efficiency = textbook_pump();
    let flows = [0.0, 1.5e-3, 3e-3, 5e-3, 7e-3];
    let by_power = Pump::new(
        PumpSheet {
            name: String::new(),
            flow_m3_s: flows.to_vec(),
            head_m: flows.map(|q| by_efficiency.head_m(q, 1.0)).to_vec(),
            shaft_power_w: Some(flows.map(|q| by_efficiency.shaft_power_w(q, 1.0)).to_vec()),
            ..PumpSheet::default()
        },
        &water(),
    )
    .unwrap();
    for q in [0.0, 1e-3, 4e-3, 6.5e-3] {
        let (a, b) = (by_efficiency.shaft_power_w(q, 0.9), by_power.shaft_power_w(q, 0.9));
        assert!((a / b - 1.0).abs() < 1e-9);
    }
}

#[test]
fn the_stated_fit_error_is_the_worst_point() {
    // Worked by hand: H0 + c·Q² through (0, 10), (1, 9), (2, 6), (3, 2) by normal equations. With x = Q²: mean x = 3.5,
    // mean H = 6.75, Sxy = −43.5, Sxx = 49, c = −43.5/49, H0 = 6.75 + 3.5·43.5/49 = 9.85714. The residuals are 0.14286,
    // 0.03061, −0.30612, 0.13265.
    let sheet = PumpSheet {
        name: String::new(),
        flow_m3_s: vec![0.0, 1.0, 2.0, 3.0],
        head_m: vec![10.0, 9.0, 6.0, 2.0],
        efficiency: Some(vec![0.0, 0.5, 0.7, 0.5]),
        ..PumpSheet::default()
    };
    let pump = Pump::new(sheet, &water()).unwrap();
    assert!((pump.shut_off_head_m() - 9.857_14).abs() < 1e-5);
    assert!(
        (pump.fit_errors().head_m - 0.306_12).abs() < 1e-5,
        "{:?}",
        pump.fit_errors()
    );
}

#[test]
fn every_fault_of_a_datasheet_is_reported_at_once() {
    let faults = Pump::new(
        PumpSheet {
            name: String::new(),
            flow_m3_s: vec![0.0, 2e-3, 1e-3],
            head_m: vec![50.0, 40.0, 45.0, 30.0],
            ..PumpSheet::default()
        },
        &water(),
    )
    .unwrap_err();
    let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(faults.len(), 5, "{said:#?}");
    assert!(said[0].contains("3.6 m³/h after 7.2 m³/h"));
    assert!(said[1].contains("with flow: 2; allowed: at least 3"));
    assert!(said[2].contains("4; allowed: 3, as many as in `flow_m3_h`"));
    assert!(said[3].contains("45 m after 40 m"));
    assert!(said[4].contains("neither; allowed: one of the two"));
}

#[test]
fn an_implausible_efficiency_is_a_fault_with_a_remedy() {
    // Shaft powers of three quarters: 72 % becomes 96 %.
    let pump = Pump::new(pump_sheet(), &water()).unwrap();
    let mut sheet = pump_sheet();
    let power_w = sheet.flow_m3_s.iter().map(|&flow| 0.75 * pump.shaft_power_w(flow, 1.0));
    (sheet.shaft_power_w, sheet.efficiency) = (Some(power_w.collect()), None);
    let faults = Pump::new(sheet, &water()).unwrap_err();
    assert_eq!((faults.len(), faults[0].key.as_str()), (1, "shaft_power_kw"));
    assert!(faults[0].to_string().contains("compare flow, head and efficiency"));
}

#[test]
fn efficiencies_given_as_fractions_are_one_fault() {
    let mut sheet = pump_sheet();
    sheet.efficiency = sheet.efficiency.map(|e| e.iter().map(|v| v / 100.0).collect());
    let faults = Pump::new(sheet, &water()).unwrap_err();
    assert_eq!((faults.len(), faults[0].key.as_str()), (1, "efficiency_pct"));
    assert!(
        faults[0]
            .to_string()
            .contains("0.72% at most; allowed: more than 5% somewhere; did you give")
    );
}

#[test]
fn zero_efficiency_or_power_at_a_flow_is_a_fault() {
    let mut sheet = pump_sheet();
    sheet.efficiency = Some(vec![0.0, 0.42, 0.0, 0.72, 0.66]);
    let faults = Pump::new(sheet.clone(), &water()).unwrap_err();
    assert!(
        faults[0].to_string().contains("0% at 20 m³/h; allowed: above 0"),
        "{}",
        faults[0]
    );
    (sheet.efficiency, sheet.shaft_power_w) = (None, Some(vec![1e3, 2e3, 3e3, 0.0, 4e3]));
    assert_eq!(Pump::new(sheet, &water()).unwrap_err()[0].key, "shaft_power_kw");
}

#[test]
fn giving_both_efficiency_and_shaft_power_is_a_fault() {
    let mut sheet = pump_sheet();
    sheet.shaft_power_w = Some(vec![1e3; sheet.flow_m3_s.len()]);
    let faults = Pump::new(sheet, &water()).unwrap_err();
    assert!(faults[0].to_string().contains("both; allowed: one of the two"));
}

proptest! {
    #[test]
    fn power_is_finite_and_falls_to_its_limit_at_no_flow(ratio in 0.1..1.5_f64, flow in 0.0..200.0_f64) {
        let pump = Pump::new(pump_sheet(), &water()).unwrap();
        let power_w = pump.shaft_power_w(flow * M3_H, ratio);
        prop_assert!(power_w.is_finite() && power_w >= 0.0);
        let (closed_w, nearly_w) = (pump.shaft_power_w(0.0, ratio), pump.shaft_power_w(1e-9, ratio));
        prop_assert!(closed_w > 0.0 && (nearly_w / closed_w - 1.0).abs() < 1e-4);
    }

    #[test]
    fn water_power_over_shaft_power_is_the_efficiency(ratio in 0.5..1.2_f64, x in 0.05..1.0_f64) {
        let pump = Pump::new(pump_sheet(), &water()).unwrap();
        let flow = x * ratio * pump.greatest_flow_m3_s();
        let water_w = water().density_kg_m3() * 9.806_65 * flow * pump.head_m(flow, ratio);
        prop_assert!((water_w / pump.shaft_power_w(flow, ratio) - pump.efficiency(flow, ratio)).abs() < 1e-12);
    }
}
