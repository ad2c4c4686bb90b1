//! What `compare` and `run` print: the contract with other programs.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::fs;
use std::path::Path;

use daylift_testing::{Plant, example};
use serde_json::Value;
use support::{Run, daylift, stderr, stdout};

fn compare_json(more: &[&str]) -> Value {
    support::compare_json(&example(), more)
}

fn number(row: &Value, path: &str) -> f64 {
    row.pointer(path)
        .and_then(Value::as_f64)
        .unwrap_or_else(|| panic!("{path} is not a number in {row}"))
}

fn keys(value: &Value) -> Vec<&str> {
    value.as_object().unwrap().keys().map(String::as_str).collect()
}

#[test]
fn the_layout_is_the_contract() {
    let answer = compare_json(&["--step", "1h"]);
    assert_eq!(
        keys(&answer),
        [
            "schema",
            "plant",
            "reference",
            "step_s",
            "steps",
            "weather",
            "priced_at",
            "runner_up",
            "arrangements"
        ]
    );
    assert_eq!(answer["schema"], "daylift.compare.1");
    assert_eq!(answer["steps"], 8760);
    assert_eq!(keys(&answer["weather"]), ["source", "ghi_kwh_m2", "plane_kwh_m2"]);
    let rows = answer["arrangements"].as_array().unwrap();
    let ids: Vec<&str> = rows.iter().map(|r| r["id"].as_str().unwrap()).collect();
    assert_eq!(
        ids,
        [
            "grid-only",
            "grid-only+best-rule",
            "grid-only+generator",
            "grid-only+night-tank",
            "grid-only+generator+night-tank",
            "solar-drive",
            // It delivers less water than today, so the plant's generator is added beside it.
            "solar-drive+generator",
            "solar-drive-with-grid",
            "grid-tied",
            "grid-tied+generator",
            "dual-mode",
            "dual-mode+generator",
            "battery-hybrid",
        ]
    );
    for row in rows {
        let layout = [
            (
                "",
                "id array_kwh export_limit_ac_kwh array_use grid_kwh pump_kwh load_kwh battery_kwh generator water_m3 shortage hours starts service \
                 rule money worst_residual warnings",
            ),
            (
                "/array_kwh",
                "available to_pump to_loads to_battery exported_paid exported_unpaid lost",
            ),
            (
                "/array_kwh/lost",
                "grid-down idle-strings changeover waiting-to-reconnect grid-voltage-trip start-lockout water-not-wanted \
                 tracking well-limit below-start mppt-window voltage-limited-speed held-off-by-grid drive-limit pump-at-full-speed \
                 inverter-clipping export-limit battery-limit inverter-conversion drive-conversion battery-conversion cables",
            ),
            ("/grid_kwh", "imported exported pump_feed_loss charging_loss"),
            ("/pump_kwh", "array grid battery generator"),
            ("/load_kwh", "demand array grid battery generator unserved"),
            ("/battery_kwh", "from_array from_grid discharged stored_change"),
            ("/generator", "kwh hours fuel_l"),
            (
                "/water_m3",
                "demand pumped rain delivered shortfall overflow evaporated stored_change",
            ),
            ("/shortage", "short_days dry_spell_days worst_m3 worst_days"),
            ("/hours", "outage pumping pumping_in_outage"),
            (
                "/starts",
                "motor most_in_a_day on_sun drive_power_ups changeover_cycles",
            ),
            (
                "/service",
                "water water_delta_m3 worst_month_delta_m3 water_in_outages water_in_outages_delta_m3 loads load_delta_kwh \
                 comparable",
            ),
            (
                "/money",
                "currency capital first_year_bill payback_years npv irr cost_per_m3",
            ),
            ("/worst_residual", "energy water hours"),
        ];
        for (path, wanted) in layout {
            assert_eq!(
                keys(row.pointer(path).unwrap()),
                wanted.split_whitespace().collect::<Vec<_>>(),
                "{path}"
            );
        }
    }
}

fn row_of(answer: &Value, id: &str) -> Value {
    let rows = answer["arrangements"].as_array().unwrap();
    rows.iter().find(|row| row["id"] == id).unwrap().clone()
}

#[test]
fn the_parts_add_up_to_the_whole() {
    let station = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../validation/plants/greensboro");
    let rivals = station.with_file_name("rivals-pair");
    for (plant, step) in [
        (example(), "1h"),
        (example(), "10min"),
        (station, "10min"),
        (rivals, "10min"),
    ] {
        for row in support::compare_json(&plant, &["--step", step])["arrangements"].as_array().unwrap() {
            let lost: f64 = row["array_kwh"]["lost"].as_object().unwrap().values().map(|v| v.as_f64().unwrap()).sum();
            let uses: f64 = ["to_pump", "to_loads", "to_battery", "exported_paid", "exported_unpaid"]
                .iter()
                .map(|k| number(row, &format!("/array_kwh/{k}")))
                .sum();
            let available = number(row, "/array_kwh/available");
            assert!(
                (available - uses - lost).abs() <= 1e-9 * available.max(1.0),
                "{} {available} {uses} {lost}",
                row["id"]
            );
            assert!((number(row, "/array_kwh/to_pump") - number(row, "/pump_kwh/array")).abs() < 1e-9);
            let load: f64 = ["array", "grid", "battery", "generator", "unserved"]
                .iter()
                .map(|source| number(row, &format!("/load_kwh/{source}")))
                .sum();
            assert!((number(row, "/load_kwh/demand") - load).abs() < 1e-6);
            let of_battery = |key: &str| number(row, &format!("/battery_kwh/{key}"));
            let stored = of_battery("from_array") + of_battery("from_grid") - of_battery("discharged");
            assert!((stored - of_battery("stored_change")).abs() < 1e-6);
            assert!((number(row, "/array_kwh/to_battery") - of_battery("from_array")).abs() < 1e-9);
            let water = number(row, "/water_m3/pumped")
                - number(row, "/water_m3/delivered")
                - number(row, "/water_m3/stored_change");
            assert!(water.abs() < 1e-6);
            let wanted = number(row, "/water_m3/demand")
                - number(row, "/water_m3/delivered")
                - number(row, "/water_m3/shortfall");
            assert!(wanted.abs() < 1e-6);
            for residual in ["energy", "water", "hours"] {
                assert!(number(row, &format!("/worst_residual/{residual}")) <= 1e-9);
            }
        }
    }
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let run = || daylift(&["compare", example().to_str().unwrap(), "--json", "--step", "1h"]).stdout;
    assert_eq!(run(), run());
}

/// The names are the program's own: those that its help lists.
#[test]
fn committed_schemas_are_fresh() {
    let help = String::from_utf8(daylift(&["schema", "--help"]).stdout).unwrap();
    let listed = help.lines().filter_map(|line| line.trim().strip_prefix("- ")?.split_once(':'));
    let names: Vec<&str> = listed.map(|(name, _)| name).collect();
    assert!(names.contains(&"compare") && names.contains(&"generator"), "{help}");
    for of in names {
        let place = match of {
            "desk" => "ui/openapi.json".to_owned(),
            of => format!("docs/schema/{of}.schema.json"),
        };
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(place);
        let committed = fs::read_to_string(&path).unwrap_or_default();
        assert!(
            committed == stdout(&daylift(&["schema", of])),
            "{} is stale: run `cargo xtask schema`",
            path.display()
        );
    }
}

#[test]
fn tables_name_every_arrangement_and_every_answer() {
    let text = stdout(&daylift(&["compare", example().to_str().unwrap(), "--step", "1h"]));
    for word in [
        "grid-only",
        "solar-drive",
        "grid-tied",
        "dual-mode",
        "water secured in outages",
        "sun used",
        "payback",
        "pump-at-full-speed",
    ] {
        assert!(text.contains(word), "{word} is not in:\n{text}");
    }
}

#[test]
fn files_hold_the_series() {
    let plant = Plant::new();
    let out = plant.path().join("results");
    let output = plant.run("compare", &["--step", "1h", "--out", out.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let series = fs::read_to_string(out.join("series-dual-mode.csv")).unwrap();
    assert_eq!(series.lines().count(), 8761);
    let answer = compare_json(&["--step", "1h"]);
    let available: f64 = series.lines().skip(1).map(|l| l.split(',').nth(2).unwrap().parse::<f64>().unwrap()).sum();
    assert!((available / number(&row_of(&answer, "dual-mode"), "/array_kwh/available") - 1.0).abs() < 1e-4);
    let months = fs::read_to_string(out.join("months-grid-tied.csv")).unwrap();
    assert_eq!(months.lines().count(), 13);
    let names: Vec<_> = fs::read_dir(&out).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert_eq!(names.len(), 40, "{names:?}");
}

#[test]
fn one_arrangement_is_the_comparisons_row() {
    let output = daylift(&[
        "run",
        example().to_str().unwrap(),
        "--arrangement",
        "dual-mode",
        "--json",
        "--step",
        "1h",
    ]);
    let run: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(run["schema"], "daylift.run.1");
    assert_eq!(run["row"], row_of(&compare_json(&["--step", "1h"]), "dual-mode"));
    let months = run["months"].as_array().unwrap();
    let delivered: f64 = months.iter().map(|m| number(m, "/delivered_m3")).sum();
    assert!((delivered - number(&run["row"], "/water_m3/delivered")).abs() < 1e-6);
}

#[test]
fn a_plant_without_an_array_has_the_rows_of_grid_only() {
    let plant = Plant::new().edit("plant.toml", |text| {
        let mut out = Vec::new();
        let mut skipping = false;
        for line in text.lines() {
            if line.starts_with('[') {
                skipping = ["[array]", "[inverter]", "[drive]", "[grid_input]", "[battery]"].contains(&line.trim());
            }
            if !skipping {
                out.push(line);
            }
        }
        out.join("\n")
    });
    let output = plant.run("compare", &["--json", "--step", "1h"]);
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    let rows = answer["arrangements"].as_array().unwrap();
    assert!(rows.iter().all(|row| row["id"].as_str().unwrap().starts_with("grid-only")));
    assert_eq!(answer["weather"]["plane_kwh_m2"], 0.0);
    assert_eq!(answer["arrangements"][0]["array_use"], Value::Null);
}

#[test]
fn who_gets_the_sun_first_moves_energy_and_no_money() {
    let grid_tied = |plant: &Plant| -> Value {
        let output = plant.run("compare", &["--json", "--step", "1h"]);
        let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
        row_of(&answer, "grid-tied")
    };
    // As written: what is left for pumping on surplus depends on it, and so would the best rule.
    let first = |uses: &str| format!("[pumping]\nrule = \"as-written\"\nsun_first = \"{uses}\"");
    let [pump, loads] =
        ["pump", "loads"].map(|uses| grid_tied(&Plant::new().replace("plant.toml", "[pumping]", &first(uses))));
    assert_eq!(loads["id"], "grid-tied");
    assert!(number(&loads, "/load_kwh/array") > number(&pump, "/load_kwh/array") + 100.0);
    assert!(number(&loads, "/pump_kwh/array") < number(&pump, "/pump_kwh/array") - 100.0);
    let bill = |row: &Value| number(row, "/money/first_year_bill");
    assert!((bill(&loads) - bill(&pump)).abs() < 1e-6);
}
