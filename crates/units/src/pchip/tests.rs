//! Expected values: `scipy.interpolate.PchipInterpolator` of SciPy 1.17.1, evaluated at these places.

use super::*;

const SHARES: [f64; 8] = [0.05, 0.13, 0.3, 0.46, 0.62, 0.77, 0.91, 0.98];

struct Case {
    points: &'static [(f64, f64)],
    values: [f64; 8],
    slopes: &'static [f64],
    least_slope: f64,
}

const CASES: [Case; 5] = [
    // Falling, as the heads of a pump.
    Case {
        points: &[(0.0, 62.0), (10.0, 60.5), (20.0, 55.0), (30.0, 45.5), (38.0, 35.0)],
        values: [
            61.927_052_214_285_71,
            61.554_564_575_428_57,
            60.080_146_133_333_336,
            56.742_081_510_4,
            52.121_637_464_886_84,
            46.316_603_102_535_254,
            39.839_854_089_981_09,
            36.111_095_700_700_446,
        ],
        slopes: &[
            0.0,
            -0.235_714_285_714_285_74,
            -0.696_666_666_666_666_5,
            -1.108_789_625_360_230_5,
            -1.473_611_111_111_111,
        ],
        least_slope: -1.473_611_111_111_111,
    },
    // Up, level, down and up again, with uneven steps.
    Case {
        points: &[(0.0, 0.0), (1.0, 0.1), (2.0, 2.0), (4.0, 2.0), (5.0, 1.0), (7.0, 3.0)],
        values: [
            0.013_046_25,
            0.083_555_29,
            2.0,
            2.0,
            1.731_808,
            1.055_643_25,
            1.839_912_75,
            2.689_438,
        ],
        slopes: &[0.0, 0.19, 0.0, 0.0, 0.0, 2.333_333_333_333_333_5],
        least_slope: -1.5,
    },
    // The slope at the first point is as the parabola has it; at the last it is limited.
    Case {
        points: &[(0.0, 0.0), (1.0, 5.0), (3.0, 4.0)],
        values: [
            1.044_312_5,
            2.679_956_5,
            4.9215,
            4.993_141,
            4.920_493,
            4.718_988_625,
            4.352_785_375,
            4.087_327,
        ],
        slopes: &[6.833_333_333_333_333, 0.0, -1.5],
        least_slope: -1.5,
    },
    // Two points: a straight line.
    Case {
        points: &[(1.0, 3.0), (2.0, 5.0)],
        values: [3.1, 3.26, 3.6, 3.92, 4.24, 4.54, 4.82, 4.96],
        slopes: &[2.0, 2.0],
        least_slope: 2.0,
    },
    // Losses of a converter.
    Case {
        points: &[(0.0, 0.01), (0.25, 0.0313), (0.5, 0.0272), (0.75, 0.0309), (1.0, 0.04)],
        values: [
            0.016_567_2,
            0.025_362_131_2,
            0.030_873_6,
            0.027_481_292_8,
            0.028_308_756_8,
            0.031_352_151_8,
            0.036_007_441_6,
            0.039_066_573_2,
        ],
        slopes: &[0.136, 0.0, 0.0, 0.021_043_75, 0.0472],
        least_slope: -0.0246,
    },
];

#[test]
fn values_and_slopes_are_those_of_scipy() {
    for case in &CASES {
        let curve = Pchip::through(case.points).unwrap();
        let (first, last) = (curve.first().x, curve.last().x);
        for (share, value) in SHARES.iter().zip(case.values) {
            let found = curve.at(first + (last - first) * share);
            assert!(
                (found - value).abs() < 1e-12 * (1.0 + value.abs()),
                "{share}: {found} {value}"
            );
        }
        for (knot, &slope) in curve.knots().iter().zip(case.slopes) {
            assert!((knot.slope - slope).abs() < 1e-12, "{} {slope}", knot.slope);
        }
        let least = curve.least_slope();
        assert!((least - case.least_slope).abs() < 1e-9, "{least} {}", case.least_slope);
    }
}

#[test]
fn it_goes_through_its_points_and_on_in_straight_lines() {
    for case in &CASES {
        let curve = Pchip::through(case.points).unwrap();
        for &(x, y) in case.points {
            assert!((curve.at(x) - y).abs() < 1e-12);
        }
        let (first, last) = (curve.first(), curve.last());
        assert!((curve.at(first.x - 2.0) - (first.y - 2.0 * first.slope)).abs() < 1e-12);
        assert!((curve.at(last.x + 2.0) - (last.y + 2.0 * last.slope)).abs() < 1e-12);
    }
    let curve = Pchip::through(CASES[0].points).unwrap().with_slope_beyond(-3.0).with_first_slope(-0.1);
    // 35 − 3·2 = 29; 62 + 0.1·1 = 62.1
    assert!((curve.at(40.0) - 29.0).abs() < 1e-12 && (curve.at(-1.0) - 62.1).abs() < 1e-12);
    assert!((curve.least_slope() + 3.0).abs() < 1e-12);
}

#[test]
fn points_that_make_no_curve_are_refused() {
    for points in [
        &[][..],
        &[(1.0, 1.0)],
        &[(1.0, 1.0), (1.0, 2.0)],
        &[(2.0, 1.0), (1.0, 2.0)],
        &[(0.0, f64::NAN), (1.0, 2.0)],
        &[(0.0, 1.0), (f64::INFINITY, 2.0)],
    ] {
        assert!(Pchip::through(points).is_none(), "{points:?}");
    }
}
