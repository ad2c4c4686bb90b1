//! Parts of a plant that refer to each other: names, parts given twice, parts without effect.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use daylift_testing::{Plant, example};
use support::{Run, refused, stderr, stdout, summary_has};

/// The example with two planes and two groups in place of the one.
fn grouped(groups: &str) -> Plant {
    Plant::new()
        .replace("plant.toml", "tilt_deg = 18 #", "#")
        .replace("plant.toml", "azimuth_deg = 0 #", "#")
        .replace("plant.toml", "modules_per_string = 15 #", "#")
        .replace("plant.toml", "strings = 3 #", "#")
        .replace("plant.toml", "strings_per_input = 2 #", "#")
        .replace("plant.toml", "\n[inverter]", &format!("\n{groups}\n[inverter]"))
}

const PLANES: &str = "
[[array.plane]]
name = \"north\"
tilt_deg = 18
azimuth_deg = 0
[[array.plane]]
name = \"west\"
tilt_deg = 10
azimuth_deg = 270
";

fn group(name: &str, plane: &str, modules: u32, devices: &str) -> String {
    format!(
        "[[array.group]]\nname = \"{name}\"\nplane = \"{plane}\"\nmodules_per_string = {modules}\nstrings = 2\n{devices}\n"
    )
}

#[test]
fn groups_refer_to_planes_inverters_and_drives_by_name() {
    let both = "inverter = \"inverter\"\ndrive = \"pump\"";
    let fine = grouped(&[PLANES, &group("a", "north", 15, both), &group("b", "west", 15, both)].concat());
    let output = fine.run("check", &[]);
    assert!(stdout(&output).contains("no faults"), "{}", stderr(&output));
    refused(
        grouped(&[PLANES, &group("a", "nord", 15, both)].concat()),
        &["did you mean \"north\"?"],
    );
    refused(
        grouped(&[PLANES, &group("a", "north", 15, "")].concat()),
        &["neither `inverter` nor `drive`"],
    );
    refused(
        grouped(&[PLANES, &group("a", "north", 15, both), &group("b", "west", 14, both)].concat()),
        &["strings of 14 and of 15 modules in parallel", "they share one voltage"],
    );
    refused(grouped(PLANES), &["no [[array.group]]"]);
    let twice = [PLANES, &group("a", "north", 15, both), &group("a", "west", 15, both)].concat();
    refused(grouped(&twice), &["array.group: name: \"a\" twice", "1 fault found"]);
    let twice = PLANES.replace("west", "north") + &group("a", "north", 15, both);
    refused(
        grouped(&twice),
        &["array.plane: name: \"north\" twice", "1 fault found"],
    );
    refused(
        grouped(&group("a", "north", 15, both)),
        &["no [[array.plane]]", "1 fault found"],
    );
}

#[test]
fn a_part_given_in_two_places_is_one_fault() {
    let both = "inverter = \"inverter\"\ndrive = \"pump\"";
    let inline = grouped(&[PLANES, &group("a", "north", 15, both)].concat()).replace(
        "plant.toml",
        "[array]\n",
        "[array]\nstrings = 3\ntilt_deg = 18\n",
    );
    refused(
        inline,
        &[
            "`tilt_deg`, `strings` in [array] together with [[array.plane]] or [[array.group]]",
            "1 fault found",
        ],
    );
    let sets = Plant::of(&example().with_file_name("three-weirs"));
    refused(
        sets.edit("plant.toml", |text| text + "\n[pump]\nfile = \"pump.toml\"\n"),
        &["[[pump_set]] together with [pump]", "1 fault found"],
    );
}

#[test]
fn a_group_of_a_pump_set_without_a_drive_is_a_fault() {
    let plant = Plant::of(&example().with_file_name("three-weirs")).edit("plant.toml", |text| {
        let (before, after) = text.split_once("name = \"lower weir\"").unwrap();
        let after: Vec<&str> = after.lines().filter(|line| !line.starts_with("drive = \"")).collect();
        format!("{before}name = \"lower weir\"{}\n", after.join("\n"))
    });
    refused(plant, &["\"lower weir\", which has no drive", "2 faults found"]);
}

#[test]
fn parts_without_effect_are_reported() {
    let both = "inverter = \"inverter\"\ndrive = \"pump\"";
    summary_has(
        grouped(&[PLANES, &group("a", "north", 15, both)].concat()),
        &["no strings are on the plane west: it is not used"],
    );
    let off_grid = || Plant::of(&example().with_file_name("tamarind-post"));
    summary_has(
        off_grid().edit("plant.toml", |text| text + "\n[changeover]\nto_drive_s = 30\n"),
        &["without [grid] nothing uses [changeover]"],
    );
    summary_has(
        off_grid().edit("plant.toml", |text| {
            text + "\n[[money.capital]]\nitem = \"a feed\"\ncost = 10\narrangements = [\"grid-tied\"]\n"
        }),
        &["\"a feed\" belongs to arrangements that this plant does not have"],
    );
}

#[test]
fn a_zone_far_from_the_longitude_is_reported() {
    summary_has(
        Plant::new().replace("plant.toml", "Africa/Lusaka", "America/New_York"),
        &["the clock of `time_zone` is 6.9 h behind solar time"],
    );
}

#[test]
fn a_farm_without_a_grid_names_its_currency_and_another_reference() {
    let off = |text: String| {
        let mut out = Vec::new();
        let mut skipping = false;
        for line in text.lines() {
            if line.starts_with('[') {
                skipping = line.starts_with("[grid") || line.starts_with("[tariff") || line.starts_with("[[tariff");
            }
            if !skipping {
                out.push(line);
            }
        }
        out.join("\n")
    };
    let plant = Plant::new().edit("plant.toml", off);
    refused(
        plant,
        &["currency: not given", "an arrangement that works without a grid"],
    );
    let plant = Plant::new()
        .edit("plant.toml", off)
        .replace("plant.toml", "reference = \"grid-only\"", "reference = \"solar-drive\"")
        .replace("plant.toml", "[money]", "[money]\ncurrency = \"USD\"");
    let output = plant.run("compare", &["--step", "1h", "--json"]);
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let rows = answer["arrangements"].as_array().unwrap();
    let ids: Vec<&str> = rows.iter().map(|row| row["id"].as_str().unwrap()).collect();
    let able = [
        "grid-only+generator",
        "grid-only+generator+night-tank",
        "solar-drive",
        "battery-hybrid",
        // It delivers less water than today, so the generator is added.
        "battery-hybrid+generator",
    ];
    assert_eq!(ids, able);
    for row in rows {
        assert!((row["hours"]["outage"].as_f64().unwrap() - 8760.0).abs() < 1e-6);
        assert_eq!(row["grid_kwh"]["imported"], 0.0);
    }
}
