//! The same weather in another layout, with gaps, or by other models gives the answer that it should.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::fs;

use daylift_testing::layouts::{Hour, epw, hours, local, plain};
use daylift_testing::{Plant, example};
use serde_json::Value;
use support::{Run, stderr};

fn example_hours() -> Vec<Hour> {
    hours(&fs::read_to_string(example().join("weather.csv")).unwrap())
}

/// The example with another weather file and more keys in `[weather]`.
fn with_weather(file: &str, keys: &str) -> Plant {
    let plant = Plant::new().write("weather.csv", file);
    plant.replace(
        "plant.toml",
        "file = \"weather.csv\"",
        &format!("file = \"weather.csv\"\nminute_clouds = false\n{keys}\n"),
    )
}

/// The example without clouds within the hour, which differ with the length of the weather's intervals.
fn smooth() -> Plant {
    Plant::new().replace(
        "plant.toml",
        "file = \"weather.csv\"",
        "file = \"weather.csv\"\nminute_clouds = false",
    )
}

fn compare(plant: &Plant, step: &str) -> Value {
    let output = plant.run("compare", &["--json", "--step", step]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// What an answer says of energy and water, in a fixed order.
fn figures(answer: &Value) -> Vec<f64> {
    let mut out = vec![answer["weather"]["plane_kwh_m2"].as_f64().unwrap()];
    // Rows without an array know no weather.
    let rows = answer["arrangements"].as_array().unwrap().iter();
    for row in rows.filter(|row| row["array_kwh"]["available"].as_f64().unwrap() > 0.0) {
        for path in [
            "/array_kwh/available",
            "/array_kwh/to_pump",
            "/grid_kwh/imported",
            "/water_m3/delivered",
        ] {
            out.push(row.pointer(path).and_then(Value::as_f64).unwrap());
        }
    }
    out
}

fn same(of: &str, ours: &Value, theirs: &Value, within: f64) {
    for (a, b) in figures(ours).into_iter().zip(figures(theirs)) {
        assert!((a - b).abs() <= within * b.abs().max(1.0), "{of}: {a} {b}");
    }
}

#[test]
fn the_same_hours_in_another_layout_give_the_same_answer() {
    let hours = example_hours();
    let theirs = compare(&smooth(), "10min");
    for (of, plant) in [
        ("EPW", with_weather(&epw(&hours), "")),
        (
            "local times",
            with_weather(&plain(&hours, 1, local), "utc_offset_h = 2"),
        ),
    ] {
        same(of, &compare(&plant, "10min"), &theirs, 1e-12);
    }
}

#[test]
fn shorter_intervals_give_nearly_the_same_answer() {
    // Hours repeated within themselves: at a step of an hour their means are the hours again, but for rounding; in
    // steps of ten minutes the light is flat within the hour instead of following the sun.
    let hours = example_hours();
    let (hourly, fine) = (compare(&smooth(), "1h"), compare(&smooth(), "10min"));
    for parts in [2, 4, 5, 20, 60] {
        let plant = with_weather(&plain(&hours, parts, local), "utc_offset_h = 2");
        let of = format!("{parts} parts an hour");
        same(&of, &compare(&plant, "1h"), &hourly, 1e-9);
        let answer = compare(&plant, "10min");
        let (ours, theirs) = (figures(&answer), figures(&fine));
        for (a, b) in ours.into_iter().zip(theirs) {
            assert!((a - b).abs() <= 0.03 * b.abs().max(1.0), "{of}: {a} {b}");
        }
    }
}

#[test]
fn a_zone_with_half_hours_is_laid_onto_its_own_standard_time() {
    // The example moved to India: 28.1° E at UTC+2 is 1.9° behind its meridian; 80.6° E at UTC+5:30 is so as well.
    let times = |s: i64| local(s) + "+05:30";
    let plant = with_weather(&plain(&example_hours(), 1, times), "")
        .replace("plant.toml", "longitude_deg = 28.1", "longitude_deg = 80.6")
        .replace("plant.toml", "Africa/Lusaka", "Asia/Kolkata");
    same("moved east", &compare(&plant, "1h"), &compare(&smooth(), "1h"), 0.002);
}

#[test]
fn light_that_is_not_given_is_worked_out() {
    let without = |columns: &[usize]| {
        let text = plain(&example_hours(), 1, local);
        let keep = |line: &str| {
            let cells = line.split(',').enumerate().filter(|(i, _)| !columns.contains(i));
            cells.map(|(_, cell)| cell).collect::<Vec<_>>().join(",")
        };
        with_weather(
            &text.lines().map(keep).collect::<Vec<_>>().join("\n"),
            "utc_offset_h = 2",
        )
    };
    let theirs = compare(&smooth(), "1h");
    // The file's three columns agree with each other but for rounding and low sun.
    same("DHI left out", &compare(&without(&[3]), "1h"), &theirs, 0.01);
    same("DNI left out", &compare(&without(&[2]), "1h"), &theirs, 0.01);
    // A split by correlation is another sky with the same sum: near, and not the same.
    let (ours, theirs) = (figures(&compare(&without(&[2, 3]), "1h")), figures(&theirs));
    assert!((ours[0] / theirs[0] - 1.0).abs() < 0.03 && (ours[0] - theirs[0]).abs() > 0.1);
}

#[test]
fn a_filled_gap_changes_little() {
    let text = plain(&example_hours(), 1, local);
    let lines: Vec<&str> = text.lines().collect();
    let kept = |gap: std::ops::Range<usize>| {
        let left = lines.iter().enumerate().filter(|(i, _)| !gap.contains(i));
        left.map(|(_, line)| *line).collect::<Vec<_>>().join("\n")
    };
    let theirs = compare(&smooth(), "1h");
    // Line 1 is 00:00 on 1 January: 9 o'clock to noon of 10 February, and three days of May.
    for gap in [970..973, 3200..3272] {
        let plant = with_weather(&kept(gap), "utc_offset_h = 2");
        same("a gap", &compare(&plant, "1h"), &theirs, 0.01);
    }
}

#[test]
fn sky_and_cells_by_the_other_models() {
    let with = |from: &str, more: &str| Plant::new().replace("plant.toml", from, &format!("{from}\n{more}"));
    let theirs = figures(&compare(&smooth(), "1h"));
    let perez = figures(&compare(&with("file = \"weather.csv\"", "sky_model = \"perez\""), "1h"));
    assert!((perez[0] / theirs[0] - 1.0).abs() < 0.03 && (perez[0] - theirs[0]).abs() > 0.5);
    let noct = figures(&compare(
        &with("azimuth_deg = 0", "cell_temperature = \"noct\"\nnoct_c = 45"),
        "1h",
    ));
    assert!((noct[0] - theirs[0]).abs() < 1e-9 && (noct[1] / theirs[1] - 1.0).abs() > 1e-4);
}
