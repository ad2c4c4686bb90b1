//! Battery, generator, second input and bigger tank in answers and files.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use daylift_testing::Plant;
use support::{Run, stderr, stdout};

fn spoilt(from: &str, to: &str) -> Plant {
    Plant::new().replace("plant.toml", from, to)
}

#[test]
fn a_generator_that_never_runs_is_reported() {
    let said = stderr(&spoilt("start_delay_s = 600", "start_delay_s = 86400").run("compare", &["--step", "1h"]));
    assert!(said.contains("generator: it never runs in this arrangement"), "{said}");
}

#[test]
fn files_have_battery_and_generator() {
    let plant = Plant::new();
    let out = plant.path().join("results");
    plant.run("compare", &["--step", "1h", "--out", out.to_str().unwrap()]);
    let table = std::fs::read_to_string(out.join("compare.csv")).unwrap();
    for column in [
        "to_battery_kwh",
        "load_from_generator_kwh",
        "battery_discharged_kwh",
        "fuel_l",
    ] {
        assert!(
            table.lines().next().unwrap().split(',').any(|c| c == column),
            "{column}"
        );
    }
}

#[test]
fn what_changes_is_held_against_the_row_asked_for() {
    let plant = Plant::new();
    let output = plant.run("compare", &["--step", "1h", "--against", "dual-mode"]);
    let text = stdout(&output);
    assert!(text.contains("What changes compared with dual-mode"), "{text}");
    assert!(
        text.contains("grid-only: No array. In an outage nothing runs."),
        "{text}"
    );
    let output = plant.run("compare", &["--step", "1h", "--against", "battery-hybrid+generator"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("this plant has no arrangement `battery-hybrid+generator`; it has grid-only,"));
}

/// Every loss and use of the seven arrangements and of those with a generator or a bigger tank, for the arrangements of the examples.
#[test]
fn the_seven_arrangements_stand_side_by_side() {
    let text = stdout(&Plant::new().run("compare", &["--step", "1h"]));
    for word in [
        "held-off-by-grid",
        "battery-limit",
        "battery-conversion",
        "loads on generator",
        "generator fuel, l",
    ] {
        assert!(text.contains(word), "{word} is not in:\n{text}");
    }
}
