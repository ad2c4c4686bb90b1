//! What the losses and limits of real devices cost, each alone and all together: the table of `docs/model.md`.
//!
//! `cargo xtask device-effects` writes it; an ordinary test run checks one of its rows.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use daylift_plant::Plant;
use daylift_plant_file::{Files, read_plant_from};
use daylift_study::run;
use daylift_supply::{Flow, NoRecorder};
use daylift_units::Step;
use toml_edit::{DocumentMut, Item, value};

const BEGIN: &str = "<!-- the effects begin -->\n";
const END: &str = "<!-- the effects end -->";
const PLANTS: [(&str, &str); 2] = [
    ("Sable Hollow", "examples/sable-hollow"),
    ("Mulenga Ridge", "examples/mulenga-ridge"),
];
const ROWS: [&str; 2] = ["solar-drive", "dual-mode"];

/// A key with the value that takes its effect away; a section of the plant file, or a datasheet.
type Neutral = (&'static str, &'static str, Value);

#[derive(Clone, Copy)]
enum Value {
    Number(f64),
    Word(&'static str),
    No,
    /// A list of one number.
    One(f64),
}

use Value::{No, Number, One, Word};

/// Each effect with the keys that take it away.
const EFFECTS: [(&str, &[Neutral]); 9] = [
    (
        "tracking",
        &[
            ("drive.toml", "tracking_static_loss_pct", Number(0.0)),
            ("drive.toml", "tracking_clear_loss_pct", Number(0.0)),
            ("drive.toml", "tracking_broken_loss_pct", Number(0.0)),
            ("inverter.toml", "tracking_loss_pct", Number(0.0)),
            ("inverter.toml", "tracking_broken_loss_pct", Number(0.0)),
        ],
    ),
    ("output filter", &[("pump", "filter", Word("none"))]),
    ("harmonics in the motor", &[("pump", "harmonic_loss_pct", Number(0.0))]),
    (
        "derating by heat and altitude",
        &[
            ("drive.toml", "altitude_derating_pct_per_100m", Number(0.0)),
            ("drive.toml", "heat_derating_pct_per_k", Number(0.0)),
            ("inverter.toml", "heat_derating_pct_per_k", Number(0.0)),
            ("motor.toml", "water_derating_pct_per_k", Number(0.0)),
        ],
    ),
    ("least flow", &[("pump", "least_flow_pct", Number(0.0))]),
    (
        "waits and restarts on the sun",
        &[
            ("drive.toml", "restart_power_pct", Number(100.0)),
            ("drive.toml", "restart_confirm_s", Number(0.0)),
            ("drive.toml", "retry_wait_s", One(0.0)),
        ],
    ),
    (
        "flux down to 90 % (a gain)",
        &[("drive.toml", "least_flux_pct", Number(100.0))],
    ),
    ("clouds within the hour", &[("weather", "minute_clouds", No)]),
    (
        "soiling 5 %, unavailability 2 %",
        &[
            ("array", "soiling_pct", Number(3.0)),
            ("array", "unavailability_pct", Number(0.5)),
        ],
    ),
];

/// Values that a plant file gives itself stay in every row of the table.
const MAY_BE_GIVEN: [&str; 4] = ["minute_clouds", "soiling_pct", "unavailability_pct", "filter"];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The plant without some effects; its rows run as written, so that only the devices differ.
fn plant(folder: &str, without: &[usize]) -> Plant {
    let folder = root().join(folder);
    let mut files = Files::default();
    for name in ["plant.toml", "drive.toml", "inverter.toml", "motor.toml"] {
        let path = folder.join(name);
        let mut document: DocumentMut = fs::read_to_string(&path).unwrap().parse().unwrap();
        if name == "plant.toml" {
            document["pumping"]["rule"] = value("as-written");
        }
        for (place, key, neutral) in without.iter().flat_map(|&effect| EFFECTS[effect].1) {
            let table: &mut Item = match (name, *place) {
                ("plant.toml", section) if !section.ends_with(".toml") => &mut document[section],
                (file, datasheet) if file == datasheet => document.as_item_mut(),
                _ => continue,
            };
            if !is_given(table, key) {
                table[key] = written(*neutral);
            }
        }
        files = files.with_draft(&path, document.to_string()).unwrap();
    }
    read_plant_from(&folder.join("plant.toml"), files)
        .unwrap_or_else(|faults| panic!("{}: {faults:?}", folder.display()))
        .plant
}

fn is_given(table: &Item, key: &str) -> bool {
    MAY_BE_GIVEN.contains(&key) && table.get(key).is_some()
}

fn written(neutral: Value) -> Item {
    match neutral {
        Number(number) => value(number),
        Word(word) => value(word),
        No => value(false),
        One(number) => value(toml_edit::Array::from_iter([number])),
    }
}

/// Whether the plant file gives all keys of an effect itself.
fn is_as_given(folder: &str, effect: usize) -> bool {
    let text = fs::read_to_string(root().join(folder).join("plant.toml")).unwrap();
    let document: DocumentMut = text.parse().unwrap();
    EFFECTS[effect]
        .1
        .iter()
        .all(|(place, key, _)| !place.ends_with(".toml") && is_given(&document[*place], key))
}

/// Water delivered \[m³\] and the share of the array's energy that is used.
#[derive(Clone, Copy)]
struct Outcome {
    water_m3: f64,
    array_use: f64,
}

fn outcomes(plant: &Plant) -> [Outcome; 2] {
    ROWS.map(|id| {
        let arrangement = plant.arrangements().into_iter().find(|one| one.to_string() == id).unwrap();
        let row = run(plant, arrangement, Step::TenMinutes, &[], &mut NoRecorder).unwrap().row;
        Outcome {
            water_m3: row.water_m3.of(Flow::Delivered),
            array_use: row.array_use.unwrap(),
        }
    })
}

/// A row: effects that are left in, and the outcome as a difference from ideal devices.
fn line(name: &str, effect: &str, now: [Outcome; 2], ideal: [Outcome; 2]) -> String {
    let mut out = format!("| {name} | {effect} |");
    for (now, ideal) in now.iter().zip(&ideal) {
        let water = 100.0 * (now.water_m3 / ideal.water_m3 - 1.0);
        let points = 100.0 * (now.array_use - ideal.array_use);
        write!(out, " {} % | {} |", signed(water), signed(points)).unwrap();
    }
    out + "\n"
}

fn signed(number: f64) -> String {
    format!("{number:+.1}").replace("-0.0", "0.0").replace("+0.0", "0.0").replace('-', "−")
}

fn lines(name: &str, folder: &str) -> String {
    let all: Vec<usize> = (0..EFFECTS.len()).collect();
    let ideal = outcomes(&plant(folder, &all));
    let mut out = format!("| {name} | *ideal devices* |");
    for one in &ideal {
        write!(out, " {:.0} m³ | {:.1} % |", one.water_m3, 100.0 * one.array_use).unwrap();
    }
    out += "\n";
    for (effect, (title, _)) in EFFECTS.iter().enumerate() {
        if is_as_given(folder, effect) {
            writeln!(out, "| {name} | {title} | as given | | as given | |").unwrap();
            continue;
        }
        let others: Vec<usize> = all.iter().copied().filter(|&one| one != effect).collect();
        out += &line(name, title, outcomes(&plant(folder, &others)), ideal);
    }
    out + &line(name, "**all together**", outcomes(&plant(folder, &[])), ideal)
}

fn table() -> String {
    let mut out = String::from(
        "| plant | effect alone | `solar-drive`: water | array use, points | `dual-mode`: water | array use, points |\n|---|---|---|---|---|---|\n",
    );
    for (name, folder) in PLANTS {
        out += &lines(name, folder);
    }
    out
}

fn page() -> (PathBuf, String) {
    let path = root().join("docs/model.md");
    let text = fs::read_to_string(&path).unwrap();
    (path, text)
}

#[test]
#[ignore = "a minute; `cargo xtask device-effects` runs it"]
fn write_the_table() {
    let (path, text) = page();
    let (begin, end) = (text.find(BEGIN).unwrap() + BEGIN.len(), text.find(END).unwrap());
    fs::write(path, [&text[..begin], &table(), &text[end..]].concat()).unwrap();
}

#[test]
fn a_row_of_the_page_is_what_the_program_computes() {
    let (_, text) = page();
    let (name, folder) = PLANTS[0];
    let all: Vec<usize> = (0..EFFECTS.len()).collect();
    let ideal = outcomes(&plant(folder, &all));
    let together = line(name, "**all together**", outcomes(&plant(folder, &[])), ideal);
    assert!(
        text.contains(&together),
        "the page is stale, it should have\n{together}run `cargo xtask device-effects`"
    );
}
