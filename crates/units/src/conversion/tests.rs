use super::*;

#[test]
fn input_and_output_are_inverse() {
    let c = LossCurve::new(
        CurveForm::Fitted,
        10e3,
        &[(0.1, 0.93), (0.5, 0.97), (1.0, 0.965)],
        "k",
        "q",
    )
    .unwrap();
    for output_w in [1.0, 500.0, 5e3, 10e3, 11e3] {
        let back = c.output_w(c.input_w(output_w));
        assert!((back - output_w).abs() < 1e-9 * output_w, "{output_w} {back}");
    }
    assert!(c.output_w(0.0) == 0.0);
}

#[test]
fn three_points_are_fitted_exactly_when_no_part_is_negative() {
    let c = LossCurve::new(
        CurveForm::Fitted,
        10e3,
        &[(0.1, 0.93), (0.5, 0.97), (1.0, 0.965)],
        "k",
        "q",
    )
    .unwrap();
    assert!(c.misfit().share < 1e-12, "{}", c.misfit().share);
}

#[test]
fn an_efficiency_in_per_cent_instead_of_a_fraction_is_a_fault() {
    assert_eq!(
        LossCurve::new(CurveForm::Fitted, 1e3, &[(1.0, 97.0)], "k", "q").unwrap_err().len(),
        1
    );
}

/// The losses rise to a peak and fall again at low load, which no sum of positive parts does.
const UNEVEN: [(f64, f64); 5] = [(0.1, 0.80), (0.25, 0.96), (0.5, 0.965), (0.75, 0.955), (1.0, 0.94)];

fn through_points(points: &[(f64, f64)]) -> LossCurve {
    LossCurve::new(CurveForm::ThroughPoints, 10e3, points, "k", "q").unwrap()
}

#[test]
fn a_curve_far_from_the_datasheet_is_refused() {
    // By numpy: p = (0.0128416, 0, 0.0469567), so 88.25 % at 10 % load instead of 80 %: a difference of 10.3157 %.
    let faults = LossCurve::new(
        CurveForm::Fitted,
        10e3,
        &UNEVEN,
        "efficiency_pct",
        "efficiency of the drive",
    )
    .unwrap_err();
    assert_eq!((faults.len(), faults[0].key.as_str()), (1, "efficiency_pct"));
    let text = faults[0].to_string();
    assert!(
        text.contains("88.3% at 10% load, where it gives 80%: a difference of 10.3%"),
        "{text}"
    );
    assert!(text.contains("`curve = \"through-points\"`"), "{text}");
}

#[test]
fn a_misfit_above_three_per_cent_gives_a_warning() {
    // By numpy: p = (0.0287549, 0, 0.0165945), so 93.826 % at half load instead of 91 %; misfits 0.9354 %, 3.1051 %,
    // 2.5479 % and 0.1694 %.
    let points = [(0.2, 0.88), (0.5, 0.91), (0.6, 0.97), (1.0, 0.955)];
    let curve = LossCurve::new(CurveForm::Fitted, 10e3, &points, "k", "efficiency of the inverter").unwrap();
    assert!((curve.misfit().share - 0.031_051).abs() < 1e-6, "{:?}", curve.misfit());
    let warning = curve.misfit_warning("inverter", "name", "efficiency of the inverter").unwrap();
    assert_eq!(warning.subject, "inverter");
    assert!(
        warning.text.contains("93.8% at 50% load, where it gives 91%: a difference of 3.11%"),
        "{}",
        warning.text
    );
    assert!(through_points(&points).misfit_warning("inverter", "name", "q").is_none());
}

#[test]
fn a_curve_through_the_points_is_that_of_scipy() {
    // By scipy.interpolate.PchipInterpolator through (0, 0.0104167), the smallest loss given, and the five losses; beyond
    // the last point a line with the slope there, 0.136526. Outputs by scipy.optimize.brentq.
    let curve = through_points(&UNEVEN);
    let losses_w = [
        (0.0, 104.166_666_667),
        (0.05, 207.465_277_778),
        (0.2, 141.975_308_642),
        (0.6, 236.659_399_894),
        (0.9, 509.461_847_998),
        (1.0, 638.297_872_340),
        (1.1, 774.823_512_707),
    ];
    for (x, loss_w) in losses_w {
        assert!(
            (curve.loss_w(x * 10e3) - loss_w).abs() < 1e-7,
            "{x}: {}",
            curve.loss_w(x * 10e3)
        );
    }
    for (input_w, output_w) in [
        (1e3, 760.486_700_665),
        (5.5e3, 5_304.407_115_953),
        (10e3, 9_436.337_068_359),
    ] {
        assert!(
            (curve.output_w(input_w) - output_w).abs() < 1e-7,
            "{}",
            curve.output_w(input_w)
        );
    }
    for (x, efficiency) in UNEVEN {
        assert!((curve.efficiency(x * 10e3) - efficiency).abs() < 1e-12);
    }
    assert!(curve.misfit().share <= 0.0);
    assert!(curve.output_w(104.0) <= 0.0 && curve.output_w(105.0) > 0.0);
}

#[test]
fn losses_that_fall_at_the_end_stay_the_same_beyond_it() {
    // Losses 1.1111, 1.5464 and 0.9091 % at 10, 50 and 90 % load. (0, p0) has the smallest of them; scipy gives the slope
    // −0.02934 at the end.
    let curve = through_points(&[(0.9, 0.99), (0.1, 0.90), (0.5, 0.97)]);
    for (x, loss_w) in [
        (0.05, 101.887_463_483),
        (0.6, 150.182_560_137),
        (0.9, 90.909_090_909),
        (1.2, 90.909_090_909),
    ] {
        assert!(
            (curve.loss_w(x * 10e3) - loss_w).abs() < 1e-7,
            "{x}: {}",
            curve.loss_w(x * 10e3)
        );
    }
    assert!((curve.output_w(10e3) - 9_909.090_909_091).abs() < 1e-6);
}

#[test]
fn one_point_is_a_straight_line_through_nothing() {
    // 4 % of the input is lost at every output, as with the fitted form.
    let curve = through_points(&[(0.8, 0.96)]);
    for output_w in [1e3, 8e3, 11e3] {
        assert!((curve.efficiency(output_w) - 0.96).abs() < 1e-12);
    }
}

#[test]
fn points_that_make_no_curve_are_faults() {
    let of = |points: &[(f64, f64)]| {
        LossCurve::new(CurveForm::ThroughPoints, 10e3, points, "k", "q")
            .unwrap_err()
            .remove(0)
            .to_string()
    };
    // Twice the same load.
    assert!(of(&[(0.2, 0.9), (0.5, 0.95), (0.5, 0.96), (1.0, 0.95)]).contains("give each load once"));
    // 0.5 of the rating takes 1.25, all of it takes 1.04.
    assert!(of(&[(0.5, 0.4), (1.0, 0.96)]).contains("an input that falls while the output rises"));
    assert!(of(&[]).contains("no points"));
}
