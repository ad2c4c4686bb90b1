//! `daylift strings`: findings, layouts, files, and a layout written into the plant file.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::fs;
use std::process::Output;

use daylift_testing::{Plant, examples};
use serde_json::Value;
use support::{Run, daylift, stderr, stdout};

fn json(plant: &Plant) -> (i32, Value) {
    let output = plant.run("strings", &["--json", "--step", "1h"]);
    let code = output.status.code().unwrap();
    (
        code,
        serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", stderr(&output))),
    )
}

/// Ids of the findings that weigh so much.
fn ids<'v>(answer: &'v Value, weight: &str) -> Vec<&'v str> {
    let findings = answer["findings"].as_array().unwrap();
    findings
        .iter()
        .filter(|f| f["weight"] == weight)
        .map(|f| f["id"].as_str().unwrap())
        .collect()
}

fn code(output: &Output) -> i32 {
    output.status.code().unwrap()
}

#[test]
fn each_example_can_be_built_and_is_among_its_own_layouts() {
    for example in examples() {
        let (code, answer) = json(&Plant::of(&example));
        assert_eq!(code, 0, "{}", example.display());
        assert_eq!(answer["schema"], "daylift.strings.1");
        assert_eq!(answer["can_be_built"]["verdict"], "good", "{}", answer["can_be_built"]);
        for sub in answer["sub_arrays"].as_array().unwrap() {
            let layouts = sub["layouts"].as_array().unwrap();
            assert_eq!(layouts.iter().filter(|layout| layout["is_present"] == true).count(), 1);
            let ranks: Vec<u64> = layouts.iter().map(|layout| layout["rank"].as_u64().unwrap()).collect();
            assert_eq!(ranks, (1..=ranks.len() as u64).collect::<Vec<_>>());
            assert!(layouts.iter().all(|layout| layout["year"]["delivered_m3"].as_f64().unwrap() > 0.0));
        }
    }
}

/// Worked by hand: 16 modules of 47 V and −0.1316 V/K at 2 °C: 16 · 50.0268 V = 800.43 V.
#[test]
fn one_module_too_many_forbids_and_says_by_how_much() {
    let plant = Plant::new().replace("plant.toml", "modules_per_string = 15", "modules_per_string = 16");
    let (code, answer) = json(&plant);
    assert_eq!(code, 1);
    assert_eq!(ids(&answer, "forbids"), ["cold-voltage-on-drive"]);
    let finding = &answer["findings"][0];
    assert!((finding["value"].as_f64().unwrap() - 800.4288).abs() < 1e-9 && finding["limit"] == 800.0);
    let text = stdout(&plant.run("strings", &["--step", "1h"]));
    for words in [
        "Do not build these strings: 1 rule violation.",
        "16 modules in series reach 800.43 V at open circuit on the coldest morning; the maximum is 800.00 V: 0.43 V",
        "at most 15 in series, or a drive that withstands 801 V",
    ] {
        assert!(
            text.replace("\n           ", " ").contains(words),
            "{words} is not in:\n{text}"
        );
    }
    let check = plant.run("check", &[]);
    assert_eq!(check.status.code(), Some(1));
    assert!(
        stdout(&check).contains("Do not build these strings"),
        "{}",
        stdout(&check)
    );
    assert_eq!(code_of(&plant, "compare"), 0);
}

fn code_of(plant: &Plant, command: &str) -> i32 {
    code(&plant.run(command, &["--step", "1h"]))
}

/// Worked by hand: 1.25 · 4 · 13.8 A = 69 A against 63 A; the other layouts of these modules put three strings on it.
#[test]
fn one_string_too_many_for_the_drive_forbids_and_other_layouts_are_offered() {
    let plant = Plant::new()
        .replace("plant.toml", "strings = 3 #", "strings = 4 #")
        .replace(
            "inverter.toml",
            "greatest_dc_power_kw = 30",
            "greatest_dc_power_kw = 40",
        )
        .replace("inverter.toml", "mppt_inputs = 2", "mppt_inputs = 3")
        .replace("drive.toml", "greatest_dc_power_kw = 30", "greatest_dc_power_kw = 40");
    let (code, answer) = json(&plant);
    assert_eq!(code, 1);
    assert_eq!(ids(&answer, "forbids"), ["short-circuit-on-drive"]);
    let layouts = answer["sub_arrays"][0]["layouts"].as_array().unwrap();
    let three = |layout: &&Value| {
        layout["shares"][0]["to_drives"][0]["strings"] == 3
            && layout["shares"][0]["idle"] == 1
            && layout["modules_per_string"] == 15
    };
    assert_eq!(layouts.iter().filter(three).count(), 1);
    assert!(layouts.iter().all(|layout| layout["is_present"] == false));
}

#[test]
fn where_none_suits_it_says_what_would_have_to_change() {
    let plant = Plant::new().replace("drive.toml", "greatest_dc_v = 800", "greatest_dc_v = 640");
    let output = plant.run("strings", &["--step", "1h"]);
    assert_eq!(code(&output), 1);
    let text = stdout(&output).replace("\n    ", " ");
    for words in [
        "No layout is suitable",
        "drive: one that withstands 700.4 V DC instead of 640.0 V; then strings of 14 are suitable",
        "one with a boost stage",
    ] {
        assert!(text.contains(words), "{words} is not in:\n{text}");
    }
}

#[test]
fn what_nobody_confirmed_never_makes_it_good() {
    let plant = Plant::new().replace("plant.toml", "record_low_c = 2", "# record_low_c = 2");
    let (code, answer) = json(&plant);
    assert_eq!(code, 0);
    assert_eq!(answer["can_be_built"]["verdict"], "assumed");
    assert_eq!(
        answer["can_be_built"]["unconfirmed"],
        serde_json::json!(["site.record_low_c"])
    );
    // Without a record the weather file's coldest hour counts, 12 °C.
    assert_eq!(answer["conditions"]["coldest"]["record_c"], Value::Null);
    let listed = Plant::new().replace(
        "plant.toml",
        "format = 1",
        "format = 1\norigin = [{ of = [\"site.record_low_c\", \"drive\"], is = \"assumed\" }]",
    );
    let (_, answer) = json(&listed);
    assert_eq!(answer["can_be_built"]["verdict"], "assumed");
    let unconfirmed = answer["can_be_built"]["unconfirmed"].as_array().unwrap();
    assert!(unconfirmed.contains(&"site.record_low_c".into()) && unconfirmed.contains(&"drive".into()));
    let said = stdout(&listed.run("check", &[]));
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("not confirmed: site.record_low_c"), "{said}");
}

/// Whatever the verdict rests on: marked as assumed it is not good.
#[test]
fn no_assumed_value_behind_the_strings_leaves_it_good() {
    for entry in [
        "module.open_circuit_v_per_k",
        "module.max_power_a",
        "motor.rated_voltage_v",
        "pump.head_m",
        "drive.voltage_drop_pct",
        "array.strings",
        "array.modules_per_string",
        "array.strings_per_input",
        "inverter.mppt_min_v",
        "outlet.lift_m",
        "pipe",
        "well",
    ] {
        let listed = format!("format = 1\norigin = [{{ of = [\"{entry}\"], is = \"assumed\" }}]");
        let plant = Plant::new().replace("plant.toml", "format = 1", &listed);
        let output = plant.run("check", &[]);
        assert!(
            stdout(&output).contains("not ready to build yet"),
            "{entry}: {}",
            stdout(&output)
        );
    }
}

#[test]
fn a_plant_without_an_array_has_no_strings() {
    let cut = |text: String| {
        let until = |text: &str, from: &str, to: &str| {
            let (before, rest) = text.split_once(from).unwrap();
            let (_, after) = rest.split_once(to).unwrap();
            format!("{before}{to}{after}")
        };
        let text = until(&text, "[array]", "[pump]");
        let text = until(&text, "[grid_input]", "[generator]");
        text.replace("beside = [\"grid-tied\", \"dual-mode\"]", "beside = [\"grid-only\"]")
    };
    let plant = Plant::new().edit("plant.toml", cut);
    let output = plant.run("strings", &[]);
    assert_eq!(code(&output), 2, "{}{}", stdout(&output), stderr(&output));
    assert!(stderr(&output).contains("no [array]"), "{}", stderr(&output));
}

#[test]
fn files_hold_what_is_printed() {
    let plant = Plant::new();
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    assert_eq!(code(&plant.run("strings", &["--step", "1h", "--out", out])), 0);
    let lines = |name: &str| fs::read_to_string(folder.path().join(name)).unwrap().lines().count();
    let (_, answer) = json(&plant);
    let sub = &answer["sub_arrays"][0];
    let count = |of: &Value| of.as_array().unwrap().len();
    assert_eq!(lines("strings-layouts.csv"), 1 + count(&sub["layouts"]));
    assert_eq!(lines("strings-rules.csv"), 1 + count(&answer["measures"]));
    assert_eq!(lines("strings-findings.csv"), 1 + count(&answer["findings"]));
    assert_eq!(lines("strings-voltages.csv"), 1 + count(&sub["devices"][0]["points"]));
    let measures: usize = sub["lengths"].as_array().unwrap().iter().map(|l| count(&l["measures"])).sum();
    assert_eq!(lines("strings-lengths.csv"), 1 + measures);
}

#[test]
fn a_layout_that_is_taken_is_the_plants_own_from_then_on() {
    let plant = Plant::new();
    let (_, before) = json(&plant);
    let second = before["sub_arrays"][0]["layouts"][1].clone();
    let output = plant.run("strings", &["--step", "1h", "--take", "2"]);
    assert_eq!(code(&output), 0, "{}", stderr(&output));
    let (code_after, after) = json(&plant);
    assert_eq!(code_after, 0);
    let own: Vec<&Value> = after["sub_arrays"][0]["layouts"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|layout| layout["is_present"] == true)
        .collect();
    assert_eq!(own.len(), 1);
    assert_eq!(
        (&own[0]["shares"], &own[0]["modules_per_string"]),
        (&second["shares"], &second["modules_per_string"])
    );
    assert_eq!(own[0]["year"], second["year"]);
    let text = fs::read_to_string(plant.path().join("plant.toml")).unwrap();
    assert!(text.contains("# facing north, towards the equator") && text.contains("[[array.group]]"));
}

#[test]
fn a_layout_that_cannot_be_taken_changes_nothing() {
    let plant = Plant::new();
    let text = || fs::read_to_string(plant.path().join("plant.toml")).unwrap();
    let before = text();
    for (more, words) in [
        (&["--take", "99"][..], "layouts 1 to 3; 99 is not one of them"),
        (
            &["--take", "0"],
            "the number of a layout in the list of `daylift strings`, 1 or more",
        ),
        (
            &["--take", "1", "--of", "west"],
            "there is no sub-array \"west\"; allowed: \"inverter\"",
        ),
        (&["--of", "inverter"], "--take"),
        (&["--take", "1", "--json"], "cannot be used with"),
        (&["--take", "best"], "the number of a layout"),
    ] {
        let output = plant.run("strings", &[&["--step", "1h"], more].concat());
        assert_eq!(code(&output), 2, "{more:?}");
        assert!(stderr(&output).contains(words), "{more:?}: {}", stderr(&output));
    }
    assert_eq!(text(), before);
}

#[test]
fn datasheet_values_that_cannot_be_are_faults_with_their_place() {
    let plant = Plant::new()
        .replace("drive.toml", "start_dc_v = 400", "start_dc_v = 900")
        .replace(
            "inverter.toml",
            "input_short_circuit_a = 40",
            "input_short_circuit_a = 20",
        )
        .replace("inverter.toml", "mppt_inputs = 2", "mppt_inputs = 2.5")
        .replace("module.toml", "greatest_fuse_a = 25", "greatest_fuse_a = -25")
        .replace("plant.toml", "record_low_c = 2", "record_low_c = 40")
        .replace("plant.toml", "strings_per_input = 2", "strings_per_input = 0");
    let output = plant.run("strings", &[]);
    assert_eq!(code(&output), 1);
    let text = stderr(&output);
    for words in [
        "greatest_dc_v",
        "mppt_inputs",
        "greatest_fuse_a",
        "record_low_c",
        "strings_per_input",
        "6 faults found",
    ] {
        assert!(text.contains(words), "{words} is not in:\n{text}");
    }
}

#[test]
fn help_names_it() {
    let text = stdout(&daylift(&["strings", "--help"]));
    assert!(
        text.contains("--take") && text.contains("--all") && text.contains("--json"),
        "{text}"
    );
}
