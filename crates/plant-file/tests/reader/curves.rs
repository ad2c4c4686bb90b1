//! Curves of pump, motor, drive and inverter: what a file may say, and what the faults and warnings about it say.

use daylift_testing::Plant;

use crate::support::{read, refused_once, warned, warns};

const HEADS: &str = "head_m = [127.5, 125.5, 119.0, 109.0, 99.5, 89.0, 77.0, 64.0]";
const PUMP_EFFICIENCY: &str = "efficiency_pct = [0, 33.5, 53.0, 66.5, 71.5, 73.0, 71.5, 66.0]";
const MOTOR_EFFICIENCY: &str = "efficiency_pct = [69.0, 79.5, 82.5, 83.0]";
const DRIVE_EFFICIENCY: &str = "efficiency_pct = [88.5, 94.3, 96.4, 97.0, 97.1]";
const INVERTER_EFFICIENCY: &str = "efficiency_pct = [92.5, 95.8, 97.3, 97.8, 98.0, 97.9, 97.7]";
const THROUGH: &str = "\ncurve = \"through-points\"";

/// The worked example with a line of a file changed.
fn with(file: &str, from: &str, to: &str) -> Plant {
    Plant::new().replace(file, from, to)
}

fn pump(heads: &str) -> Plant {
    with("pump.toml", HEADS, heads)
}

#[test]
fn every_device_may_follow_its_points() {
    let plant = Plant::new()
        .replace("pump.toml", HEADS, &format!("{HEADS}{THROUGH}"))
        .replace("motor.toml", MOTOR_EFFICIENCY, &format!("{MOTOR_EFFICIENCY}{THROUGH}"))
        .replace("drive.toml", DRIVE_EFFICIENCY, &format!("{DRIVE_EFFICIENCY}{THROUGH}"))
        .replace(
            "inverter.toml",
            INVERTER_EFFICIENCY,
            &format!("{INVERTER_EFFICIENCY}{THROUGH}"),
        );
    let read = read(&plant);
    let set = &read.plant.sets.raw[0].pump_set;
    let m3_h = 1.0 / 3600.0;
    assert!((set.pump().head_m(14.0 * m3_h, 1.0) - 119.0).abs() < 1e-9);
    assert!((set.pump().efficiency(24.0 * m3_h, 1.0) - 0.715).abs() < 1e-12);
    assert!((set.motor().efficiency(0.5) - 0.795).abs() < 1e-12);
    let drive = set.drive().unwrap();
    assert!((drive.losses().efficiency(0.1 * 15e3) - 0.885).abs() < 1e-12);
    let inverter = &read.plant.feeders.raw[0].inverter;
    assert!((inverter.ac_w(inverter.dc_for_ac_w(1e3)) - 1e3).abs() < 1e-6);
    assert!((inverter.losses().efficiency(0.05 * 20e3) - 0.925).abs() < 1e-12);
    for misfit in [
        set.pump().fit_errors().head_misfit,
        set.motor().misfit(),
        drive.losses().misfit(),
        inverter.losses().misfit(),
    ] {
        assert!(misfit.share <= 0.0);
    }
}

#[test]
fn the_misfits_of_the_example_are_those_of_numpy() {
    // Least squares by numpy.linalg.lstsq, in per cent: head 0.65 of H0; efficiencies of pump 0.43, motor 0.35, drive 0.18
    // and inverter 0.06 of the ones given.
    let read = read(&Plant::new());
    let set = &read.plant.sets.raw[0].pump_set;
    let fit = set.pump().fit_errors();
    let found = [
        fit.head_misfit,
        fit.efficiency_misfit,
        set.motor().misfit(),
        set.drive().unwrap().losses().misfit(),
        read.plant.feeders.raw[0].inverter.losses().misfit(),
    ];
    for (misfit, percent) in found.into_iter().zip([0.65, 0.43, 0.35, 0.18, 0.06]) {
        assert!((100.0 * misfit.share - percent).abs() < 0.005, "{misfit:?} {percent}");
    }
    assert!(!warned(&Plant::new()).contains("as fitted to the datasheet"));
}

#[test]
fn heads_may_first_rise_and_then_fall() {
    let read = read(&pump("head_m = [122, 125, 120.5, 109, 99, 88, 76, 62]"));
    let [_, b, _] = read.plant.sets.raw[0].pump_set.pump().head_terms().unwrap();
    assert!(b > 0.0);
}

#[test]
fn heads_that_neither_fall_nor_hump_are_refused() {
    for (heads, says) in [
        (
            "[64, 77, 89, 99.5, 109, 119, 125.5, 127.5]",
            "127.5 m at the last point, the highest",
        ),
        ("[127.5, 125.5, 119, 121, 99.5, 89, 77, 64]", "121 m after 119 m"),
        ("[122, 120, 125, 109, 99, 88, 76, 62]", "120 m after 122 m"),
        ("[127, 128, 115, 104, 96.5, 89, 82, 75]", "a maximum at no flow"),
    ] {
        refused_once(pump(&format!("head_m = {heads}")), &["pump.toml:7: pump.head_m", says]);
    }
    refused_once(
        pump(&format!("head_m = [122, 125, 120.5, 109, 99, 88, 76, 62]{THROUGH}")),
        &[
            "125 m after 122 m",
            "on a curve through points, no part may rise",
            "leave out the part",
        ],
    );
}

#[test]
fn a_straight_pump_curve_is_refused_until_it_follows_its_points() {
    // By numpy: the straight line from 150 m to 60 m over 36 m³/h is fitted by 133.730 − 0.0633272·Q²: 16.270 m too low at
    // no flow, 12.166 % of 133.730 m.
    let straight = "head_m = [150, 130, 115, 100, 90, 80, 70, 60]";
    refused_once(
        pump(straight),
        &[
            "pump.toml:7: pump.head_m: head of the pump as fitted to the datasheet: ",
            "134 m at 0 m³/h, where it gives 150 m: a difference of 12.2% ",
            "of the shut-off head; allowed: up to 8%",
            "if they are right, write `curve = \"through-points\"` in this file",
        ],
    );
    read(&pump(&format!("{straight}{THROUGH}")));
}

#[test]
fn efficiencies_that_no_fit_follows_are_refused() {
    for (file, line, given, says) in [
        (
            "motor.toml",
            MOTOR_EFFICIENCY,
            "[40, 60, 80, 95]",
            "efficiency of the motor as fitted",
        ),
        (
            "drive.toml",
            DRIVE_EFFICIENCY,
            "[60, 96, 95, 96, 91]",
            "efficiency of the drive as fitted",
        ),
        (
            "inverter.toml",
            INVERTER_EFFICIENCY,
            "[60, 95, 97, 97, 96, 93, 90]",
            "efficiency of the inverter as fitted",
        ),
        (
            "pump.toml",
            PUMP_EFFICIENCY,
            "[0, 10, 53, 66.5, 71.5, 73, 71.5, 66]",
            "efficiency of the pump as fitted",
        ),
    ] {
        let points = format!("efficiency_pct = {given}");
        let says = [says, "allowed: up to 8%", "`curve = \"through-points\"`"];
        refused_once(with(file, line, &points), &says);
        read(&with(file, line, &format!("{points}{THROUGH}")));
    }
}

#[test]
fn a_smaller_misfit_is_a_warning() {
    warns(
        with("motor.toml", MOTOR_EFFICIENCY, "efficiency_pct = [70, 81, 86, 83]"),
        &[
            "motor: \"invented 11 kW submersible motor, 6 inch, water-filled\": the efficiency of the motor as fitted to the datasheet is 72.1% at 25% load, where it gives 70%: a \
             difference of 3.02%; to follow the datasheet, write `curve = \"through-points\"` in this file",
        ],
    );
}

#[test]
fn points_through_which_no_curve_goes_are_refused() {
    let twice = "load_pct = [25, 50, 50, 100]";
    refused_once(
        with(
            "motor.toml",
            "load_pct = [25, 50, 75, 100]",
            &format!("{twice}{THROUGH}"),
        ),
        &["motor.toml", "points at different loads", "give each load once"],
    );
    refused_once(
        with(
            "drive.toml",
            DRIVE_EFFICIENCY,
            &format!("efficiency_pct = [88.5, 30, 96.4, 97, 97.1]{THROUGH}"),
        ),
        &[
            "drive.toml",
            "an input that falls while the output rises",
            "point by point",
        ],
    );
}

#[test]
fn an_unknown_word_is_refused_with_the_words_there_are() {
    refused_once(
        with(
            "drive.toml",
            DRIVE_EFFICIENCY,
            &format!("{DRIVE_EFFICIENCY}\ncurve = \"through points\""),
        ),
        &["drive.toml", "\"fitted\", \"through-points\""],
    );
    refused_once(
        with(
            "motor.toml",
            MOTOR_EFFICIENCY,
            &format!("{MOTOR_EFFICIENCY}\ncurve = 2"),
        ),
        &["motor.toml", "curve"],
    );
}
