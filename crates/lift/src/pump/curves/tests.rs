use super::*;
use crate::testing::{M3_H, humped_sheet, pump_sheet, water};
use crate::{Pump, PumpSheet};
use daylift_units::CurveForm;
use proptest::prelude::*;

fn through(sheet: PumpSheet) -> Pump {
    let curve = CurveForm::ThroughPoints;
    Pump::new(PumpSheet { curve, ..sheet }, &water()).unwrap()
}

fn fault(change: impl FnOnce(&mut PumpSheet), sheet: PumpSheet) -> daylift_units::Fault {
    let mut sheet = sheet;
    change(&mut sheet);
    let mut faults = Pump::new(sheet, &water()).unwrap_err();
    assert_eq!(faults.len(), 1, "{faults:#?}");
    faults.remove(0)
}

#[test]
fn a_hump_on_the_form_is_reproduced() {
    let pump = Pump::new(humped_sheet(), &water()).unwrap();
    let [h0, b, c] = pump.head_terms().unwrap();
    assert!((h0 - 50.0).abs() < 1e-9 && (b / 3600.0 - 0.8).abs() < 1e-9 && (c / 3600.0 / 3600.0 + 0.03).abs() < 1e-9);
    assert!(pump.fit_errors().head_misfit.share < 1e-12);
    // By hand at 40 Hz of 50, r = 0.8, and 16 m³/h: 0.64·50 + 0.8·0.8·16 − 0.03·256 = 32 + 10.24 − 7.68 = 34.56 m.
    assert!((pump.head_m(16.0 * M3_H, 0.8) - 34.56).abs() < 1e-9);
    // And back: the ratio at which 16 m³/h have 34.56 m.
    assert!((pump.ratio(16.0 * M3_H, 34.56) - 0.8).abs() < 1e-12);
}

#[test]
fn equal_highest_heads_are_a_hump() {
    // By numpy: H = 62.10857 + 0.184286·Q − 0.0218571·Q², highest at 4.2 m³/h; 0.2343 m off at 10 m³/h, 0.377 % of H0.
    let mut sheet = humped_sheet();
    sheet.head_m = vec![62.0, 62.0, 57.0, 47.8, 34.6];
    let pump = Pump::new(sheet, &water()).unwrap();
    let [h0, b, c] = pump.head_terms().unwrap();
    assert!((h0 - 62.108_571).abs() < 1e-5, "{h0}");
    assert!((b / 3600.0 - 0.184_286).abs() < 1e-5 && (c / 3600.0 / 3600.0 + 0.021_857_1).abs() < 1e-6);
    assert!((pump.fit_errors().head_misfit.share - 0.003_772_2).abs() < 1e-6);
}

#[test]
fn heads_that_make_no_hump_are_faults() {
    let of = |heads: [f64; 5]| fault(|sheet| sheet.head_m = heads.to_vec(), humped_sheet());
    // They only rise; they fall before the maximum; they rise again beyond it.
    assert!(of([34.0, 47.0, 50.0, 54.0, 55.0]).given.contains("55 m at the last point"));
    assert!(of([50.0, 49.0, 54.0, 47.0, 34.0]).given.contains("49 m after 50 m"));
    assert!(of([50.0, 55.0, 54.0, 54.5, 34.0]).given.contains("54.5 m after 54 m"));
    assert!(of([50.0, 55.0, 54.0, 54.0, 34.0]).given.contains("54 m after 54 m"));
    // One high point: by numpy the best curve is 61 − 0.12·Q − 0.01·Q².
    let dent = of([60.0, 61.0, 54.0, 47.0, 41.0]);
    assert!(dent.given.contains("a maximum at no flow"), "{dent}");
    assert!(dent.remedy.contains("from the highest head on"), "{dent}");
    // Far below the parabola at small flow: 8 % of the shut-off head. (By numpy 24.3 % of 21.83 m.)
    let far = of([20.0, 60.0, 62.0, 60.0, 30.0]);
    assert!(
        far.quantity.contains("head of the pump as fitted") && far.allowed == "up to 8%",
        "{far}"
    );
    assert!(far.remedy.contains("from the highest head on"), "{far}");
}

#[test]
fn a_straight_pump_curve_is_refused_and_followed_through_its_points() {
    // By numpy: H0 + c·Q² through a straight line from 80 to 40 m is 73.793 − 0.0229885·Q² (m³/h), 6.207 m too low at no
    // flow: 8.411 % of 73.793 m.
    let mut sheet = humped_sheet();
    sheet.head_m = vec![80.0, 70.0, 60.0, 50.0, 40.0];
    let fault = fault(|_| (), sheet.clone());
    assert_eq!(fault.key, "head_m");
    let text = fault.to_string();
    assert!(
        text.contains("73.8 m at 0 m³/h, where it gives 80 m: a difference of 8.41% of the shut-off head"),
        "{text}"
    );
    assert!(text.contains("`curve = \"through-points\"`"), "{text}");
    let pump = through(sheet);
    for (flow, head_m) in [(0.0, 80.0), (7.0, 73.0), (25.0, 55.0), (50.0, 30.0)] {
        assert!((pump.head_m(flow * M3_H, 1.0) - head_m).abs() < 1e-9);
    }
    assert_eq!(pump.fit_errors(), crate::PumpFitErrors::default());
}

#[test]
fn a_misfit_above_three_per_cent_gives_a_warning() {
    // By numpy: a straight line from 62 to 46 m is fitted by 59.5172 − 0.00919540·Q², 2.483 m too low: 4.171 %.
    let mut sheet = humped_sheet();
    sheet.head_m = vec![62.0, 58.0, 54.0, 50.0, 46.0];
    let pump = Pump::new(sheet, &water()).unwrap();
    let warnings: Vec<String> = pump.misfit_warnings().map(|w| w.to_string()).collect();
    assert_eq!(warnings.len(), 1);
    assert!(
        warnings[0].contains("59.5 m at 0 m³/h, where it gives 62 m: a difference of 4.17%"),
        "{warnings:?}"
    );
}

#[test]
fn curves_through_points_are_those_of_scipy() {
    // scipy.interpolate.PchipInterpolator through heads and efficiencies; beyond 38 m³/h lines with the slopes there,
    // −1.473611 m and −1.394444 points per m³/h.
    let pump = through(pump_sheet());
    for (flow, head_m, efficiency) in [
        (5.0, 61.544_642_857, 0.237_221_154),
        (25.0, 50.765_153_698, 0.698_416_667),
        (38.0, 35.0, 0.66),
        (40.0, 32.052_777_778, 0.632_111_111),
        (45.0, 24.684_722_222, 0.562_388_889),
    ] {
        assert!((pump.head_m(flow * M3_H, 1.0) - head_m).abs() < 1e-8, "{flow}");
        assert!((pump.efficiency(flow * M3_H, 1.0) - efficiency).abs() < 1e-8, "{flow}");
        // At 0.8 of the speed: 0.8 of the flow, 0.64 of the head, the same efficiency.
        assert!((pump.head_m(0.8 * flow * M3_H, 0.8) - 0.64 * head_m).abs() < 1e-8);
        assert!((pump.efficiency(0.8 * flow * M3_H, 0.8) - efficiency).abs() < 1e-8);
    }
    // Far beyond the data the efficiency is held at 5 %.
    assert!((pump.efficiency(90.0 * M3_H, 1.0) - 0.05).abs() < 1e-12);
    // scipy.optimize.brentq: 25 m³/h have 45.625 m at 47.91473114 Hz of 50.
    assert!((50.0 * pump.ratio(25.0 * M3_H, 45.625) - 47.914_731_14).abs() < 1e-7);
}

#[test]
fn heads_below_the_first_flow_go_on_with_the_slope_there() {
    // scipy gives −0.35 m per m³/h at the first point, 10 m³/h and 60.5 m: 64 m at no flow.
    let mut sheet = pump_sheet();
    sheet.flow_m3_s.remove(0);
    sheet.head_m.remove(0);
    sheet.efficiency = sheet.efficiency.map(|values| values[1..].to_vec());
    let pump = through(sheet);
    assert!((pump.shut_off_head_m() - 64.0).abs() < 1e-9);
    assert!((pump.head_m(4.0 * M3_H, 1.0) - 62.6).abs() < 1e-9);
}

#[test]
fn beyond_the_last_point_the_head_falls_at_least_as_between_the_last_two() {
    // scipy gives the slope 0 at the last of these points; the line to it falls by 0.1 m per m³/h.
    let curve = HeadCurve::through(&[(0.0, 60.0), (10.0, 55.0), (20.0, 30.0), (30.0, 29.0)]).unwrap();
    assert!((curve.head_m(50.0, 1.0) - 27.0).abs() < 1e-9);
}

#[test]
fn power_at_no_flow_is_finite_where_the_efficiency_first_rises_slowly() {
    // scipy gives the slope 0 at (0, 0); the line to 5 % at 10 m³/h has 0.005. With that slope (CubicHermiteSpline):
    let curve = EfficiencyCurve::through(&[(10.0, 0.05), (20.0, 0.4), (30.0, 0.7), (38.0, 0.66)]).unwrap();
    for (flow, efficiency) in [(2.0, 0.0088), (5.0, 0.020_312_5), (8.0, 0.0352), (10.0, 0.05)] {
        assert!(
            (curve.unlimited(flow) - efficiency).abs() < 1e-12,
            "{flow} {}",
            curve.unlimited(flow)
        );
        assert!((curve.per_flow(flow) * flow - efficiency).abs() < 1e-12);
    }
    assert!((curve.per_flow(0.0) - 0.005).abs() < 1e-15 && (curve.per_flow(1e-6) - 0.005).abs() < 1e-6);
}

#[test]
fn points_through_which_no_pump_curve_goes_are_faults() {
    let curve = CurveForm::ThroughPoints;
    let rising = fault(|sheet| sheet.curve = curve, humped_sheet());
    assert!(
        rising.given == "55 m after 50 m" && rising.remedy.contains("leave out the part"),
        "{rising}"
    );
    // Shaft powers of three quarters: 72 % becomes 96 %.
    let pump = Pump::new(pump_sheet(), &water()).unwrap();
    let high = fault(
        |sheet| {
            let power_w = sheet.flow_m3_s.iter().map(|&flow| 0.75 * pump.shaft_power_w(flow, 1.0));
            (sheet.shaft_power_w, sheet.efficiency, sheet.curve) = (Some(power_w.collect()), None, curve);
        },
        pump_sheet(),
    );
    assert_eq!(high.key, "shaft_power_kw");
}

proptest! {
    #[test]
    fn the_ratio_is_the_inverse_of_the_head(x in 0.02..1.6_f64, ratio in 0.3..1.3_f64) {
        for pump in [
            Pump::new(pump_sheet(), &water()).unwrap(),
            Pump::new(humped_sheet(), &water()).unwrap(),
            through(pump_sheet()),
        ] {
            let flow_m3_s = x * ratio * pump.greatest_flow_m3_s();
            let head_m = pump.head_m(flow_m3_s, ratio);
            prop_assume!(head_m > 0.1);
            prop_assert!((pump.ratio(flow_m3_s, head_m) / ratio - 1.0).abs() < 1e-9);
        }
    }
}
