//! How faults and warnings come out at the terminal: exit codes, places, one input of each kind. What the reader of plants
//! says of every other wrong input is tested next to it.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use daylift_testing::Plant;
use support::{Run, daylift, refused, stderr, summary_has};

fn spoilt(from: &str, to: &str) -> Plant {
    Plant::new().replace("plant.toml", from, to)
}

#[test]
fn a_fault_of_each_kind_has_its_place() {
    for (plant, fragments) in [
        (
            spoilt("latitude_deg = -15.6", "latitude_deg = -95.6"),
            &[
                "site.latitude_deg: latitude: -95.6°",
                "allowed: -66 to 66°",
                "plant.toml:",
            ][..],
        ),
        (
            spoilt("altitude_m = 1150", "altitude_m = \"1150 m\""),
            &[
                "\"1150 m\" (string)",
                "write a plain number; the unit (m) is in the key",
            ],
        ),
        (
            spoilt("altitude_m", "altidude_m"),
            &["unknown key: `altidude_m`", "did you mean `altitude_m`?"],
        ),
        (spoilt("[site]", "[site"), &["TOML", "plant.toml:"]),
        (
            spoilt("file = \"weather.csv\"", "file = \"wether.csv\""),
            &["wether.csv: no such file"],
        ),
        (
            Plant::new().write("outages.csv", "start,end\n2025-01-02T10:00,2025-01-02T09:00\n"),
            &["an end after the start", "outages.csv:2"],
        ),
        (
            Plant::new().write("weather.csv", b"\xff\xfe\x00"),
            &["is not UTF-8 text (line 1)"],
        ),
    ] {
        refused(plant, fragments);
    }
}

#[test]
fn all_faults_come_at_once() {
    let plant = spoilt("latitude_deg = -15.6", "latitude_deg = 99")
        .replace("plant.toml", "strings = 3", "strings = 0")
        .replace("motor.toml", "rated_voltage_v", "rated_voltage_kv");
    refused(
        plant,
        &[
            "99°",
            "strings in parallel: 0",
            "unknown key: `rated_voltage_kv`",
            "motor.toml:",
            "plant.toml:",
            "3 faults found; nothing was calculated.",
        ],
    );
}

#[test]
fn a_single_fault_is_counted_as_one() {
    let plant = Plant::new().edit("motor.toml", |text| {
        text.lines()
            .map(|line| {
                if line.starts_with("efficiency_pct") {
                    "efficiency_pct = [0.69, 0.78, 0.82, 0.83]"
                } else {
                    line
                }
            })
            .collect::<Vec<_>>()
            .join("\n")
    });
    refused(
        plant,
        &[
            "motor.efficiency_pct",
            "did you give fractions?",
            "1 fault found; nothing was calculated.",
        ],
    );
}

#[test]
fn a_warning_is_printed_with_the_summary() {
    let plant = Plant::new().write(
        "outages.csv",
        "start,end\n2025-01-02T10:00,2025-01-02T12:00\n2025-01-02T11:00,2025-01-02T13:30\n",
    );
    summary_has(
        plant,
        &[
            "1 of 2 outages overlapped",
            "outages 1 in the year, 3.5 h, <0.1% of the hours",
        ],
    );
}

#[test]
fn a_plant_that_works_badly_is_reported() {
    // Strings that break a rule end with 1.
    for (from, to, fragment, code) in [
        (
            "modules_per_string = 15",
            "modules_per_string = 6",
            "3 strings of 6 modules cannot run the pump",
            1,
        ),
        ("azimuth_deg = 0", "azimuth_deg = 180", "away from the equator", 0),
        ("strings = 3", "strings = 9", "68.9 kW of modules are connected", 1),
    ] {
        let output = spoilt(from, to).run("check", &[]);
        let said = support::stdout(&output);
        assert!(
            output.status.code() == Some(code) && said.contains(fragment),
            "{fragment:?} is not in: {said}"
        );
    }
}

#[test]
fn calls_that_cannot_be_used_exit_with_2() {
    for (args, fragment) in [
        (vec!["check", "no/such/plant"], "no such file"),
        (vec!["run", "x"], "--arrangement"),
        (
            vec!["run", "x", "--arrangement", "wind-hybrid"],
            "`+generator`, `+night-tank` or both",
        ),
        (
            vec!["compare", "x", "--step", "5min"],
            "possible values: 1h, 10min, 1min",
        ),
        (
            vec!["compare", "x", "--explain", "nothing"],
            "possible values: total-dynamic-head, drawdown",
        ),
        (
            vec!["run", "x", "--arrangement", "dualmode"],
            "did you mean dual-mode? Allowed: grid-only,",
        ),
        (
            vec!["strings", "x", "--take", "two"],
            "invalid value 'two' for '--take <NUMBER>': allowed: the number of a layout in the list of `daylift strings`, 1 or more",
        ),
        (vec!["strings", "x", "--take", "-1"], "unexpected argument '-1'"),
        (vec!["desk", "--port", "web"], "allowed: a whole number, 0 to 65535"),
        (vec!["desk", "--port", "65536"], "allowed: a whole number, 0 to 65535"),
        (
            vec!["new", "x", "--from", "mulenga"],
            "did you mean mulenga-ridge? Allowed: mulenga-ridge, sable-hollow, tamarind-post, three-weirs",
        ),
    ] {
        let output = daylift(&args);
        assert_eq!(output.status.code(), Some(2), "{args:?}");
        assert!(stderr(&output).contains(fragment), "{args:?}: {}", stderr(&output));
    }
}

/// The rules of strings are one set: each finding is printed once by `check`, and `run` warns of the same.
#[test]
fn a_broken_rule_of_strings_is_printed_once_and_warned_of_by_run() {
    let plant = || spoilt("modules_per_string = 15", "modules_per_string = 22");
    let found = "22 modules in series reach 1,100.6 V at open circuit on the coldest morning; the maximum is 1,000.0 V";
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let check = words(&support::stdout(&plant().run("check", &[])));
    assert_eq!(check.matches(found).count(), 1, "{check}");
    assert!(!check.contains("this version does not"), "{check}");
    let run = stderr(&plant().run("run", &["--arrangement", "dual-mode", "--step", "1h"]));
    assert_eq!(run.matches(found).count(), 1, "{run}");
    assert!(run.contains("do not build these strings"), "{run}");
}

/// The line under the heading: the verdict of `check`, on standard output.
#[test]
fn compare_and_run_say_under_their_heading_when_the_strings_should_not_be_built() {
    let second_line = |plant: Plant, command: &str, args: &[&str]| {
        let text = support::stdout(&plant.run(command, args));
        text.lines().nth(1).unwrap().to_owned()
    };
    let forbidden = || spoilt("modules_per_string = 15", "modules_per_string = 22");
    let run = ["--arrangement", "dual-mode", "--step", "1h"];
    for line in [
        second_line(forbidden(), "compare", &["--step", "1h"]),
        second_line(forbidden(), "run", &run),
    ] {
        assert!(line.starts_with("Do not build these strings: "), "{line}");
        assert!(line.contains(" (see `daylift strings "), "{line}");
    }
    let assumed = || {
        Plant::new().replace(
            "plant.toml",
            "format = 1",
            "format = 1\norigin = [{ of = [\"site\"], is = \"assumed\" }]",
        )
    };
    let line = second_line(assumed(), "run", &run);
    assert!(line.starts_with("The strings are not ready to build yet: "), "{line}");
    let line = second_line(Plant::new(), "run", &run);
    assert!(line.starts_with("weather: "), "{line}");
}

#[test]
fn results_are_not_half_written() {
    let plant = Plant::new().write("out", "a file, not a folder");
    let out = plant.path().join("out");
    let output = plant.run("compare", &["--step", "1h", "--out", out.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    assert!(stderr(&output).contains("choose another with --out"));
}
