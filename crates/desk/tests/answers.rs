//! An answer has the numbers and the words of the engine.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::fs;
use std::time::{Duration, Instant};

use daylift_plant::Plant;
use daylift_plant_file::read_plant;
use daylift_present::answers::Comparison;
use daylift_study::compare;
use daylift_units::Step;
use serde_json::{Value, json};
use support::{Asked, answer_request, change, copy, input};
use tempfile::TempDir;

/// The comparison of a plant, read as the command line reads it.
fn compared(folder: &std::path::Path) -> Value {
    let read = read_plant(folder).unwrap();
    // Through its text, like the answer: a number read from a text may differ in the last digit.
    let text = serde_json::to_string(&Comparison::from(&compare(
        &read.plant,
        Step::TenMinutes,
        &read.warnings,
    )))
    .unwrap();
    serde_json::from_str(&text).unwrap()
}

fn plant_of(desk: &Asked) -> Plant {
    read_plant(desk.folder()).unwrap().plant
}

#[test]
fn every_number_equals_that_of_a_comparison() {
    for name in ["mulenga-ridge", "tamarind-post"] {
        let folder = TempDir::new().unwrap();
        copy(name, folder.path());
        let desk = Asked::at(folder.path());
        let answer = desk.answer("plant.toml", &json!([])).answered();
        let wanted = compared(folder.path());
        assert!(answer["comparison"] == wanted, "{name}");
        let rows = wanted["arrangements"].as_array().unwrap().len();
        assert_eq!(answer["rows"].as_array().unwrap().len(), rows);
        assert!(rows >= 2 && answer["looked_at"]["id"] == wanted["reference"]);
    }
}

/// The id also says what an arrangement has, and the figures whether it delivers less water. The page uses neither.
#[test]
fn a_row_says_which_parts_it_has_and_whether_it_serves_as_today_does() {
    let desk = Asked::new();
    let answer = desk.answer("plant.toml", &json!([])).answered();
    let rows = answer["comparison"]["arrangements"].as_array().unwrap();
    let today = rows.iter().find(|row| row["id"] == answer["comparison"]["reference"]).unwrap();
    let delivered = |row: &Value| row["water_m3"]["delivered"].as_f64().unwrap();
    let mut thinner = 0;
    for (row, behind) in rows.iter().zip(answer["rows"].as_array().unwrap()) {
        let (id, traits) = (row["id"].as_str().unwrap(), &behind["traits"]);
        assert_eq!(traits["wiring"], id.split('+').next().unwrap());
        assert_eq!(traits["has_generator"], id.contains("+generator"), "{id}");
        assert_eq!(traits["bigger_tank"], id.contains("+night-tank"), "{id}");
        assert_eq!(traits["has_battery"], id.starts_with("battery"), "{id}");
        assert_eq!(
            traits["mains_on_drive"],
            id.starts_with("solar-drive-with-grid"),
            "{id}"
        );
        assert_eq!(traits["is_reference"], row["id"] == today["id"], "{id}");
        let is_less = delivered(row) < 0.99 * delivered(today);
        assert!(!is_less || row["service"]["water"] == "less", "{id}");
        thinner += usize::from(is_less);
        let said = behind["warnings"].as_array().unwrap();
        assert_eq!(said.len(), row["warnings"].as_array().unwrap().len());
        assert!(
            said.iter().all(|text| !text.as_str().unwrap().contains("grid-only")),
            "{said:?}"
        );
    }
    assert!(thinner > 0);
}

#[test]
fn a_change_is_answered_as_if_it_were_in_the_file_and_the_file_stays() {
    let desk = Asked::new();
    let before = desk.text("plant.toml");
    let changes = json!([
        { "file": "plant.toml", "keys": "tank.capacity_m3", "value": 200 },
        { "file": "motor.toml", "keys": "rated_power_kw", "value": 11.5 },
        { "file": "plant.toml", "keys": "well.static_level_m",
          "value": [46.0, 43.6, 42.2, 41.6, 41.9, 42.6, 43.4, 44.3, 45.2, 46.1, 46.8, 46.3] },
    ]);
    let answer = desk.answer("plant.toml", &changes).answered();
    assert_eq!(desk.text("plant.toml"), before);
    desk.replace("plant.toml", "capacity_m3 = 165", "capacity_m3 = 200");
    desk.replace("plant.toml", "static_level_m = [45.0", "static_level_m = [46.0");
    desk.replace("motor.toml", "rated_power_kw = 11", "rated_power_kw = 11.5");
    assert!(answer["comparison"] == compared(desk.folder()));
    assert_eq!(input(&answer, "plant.toml", "tank.capacity_m3")["value"], 200.0);
    assert_eq!(input(&answer, "motor.toml", "rated_power_kw")["value"], 11.5);
}

#[test]
fn a_brief_answer_has_the_figures_of_a_whole_one() {
    let desk = Asked::new();
    let mut request = answer_request("plant.toml", &change("tank.capacity_m3", json!(210)));
    let whole = desk.post("/api/answer", &request).answered();
    request["brief"] = json!(true);
    let mut brief = desk.post("/api/answer", &request).answered();
    assert!(brief["inputs"].is_null() && brief["looked_at"].is_null());
    for left_out in ["inputs", "looked_at"] {
        brief[left_out] = whole[left_out].clone();
    }
    assert!(brief == whole && !whole["inputs"].is_null() && !whole["looked_at"]["workings"].is_null());
}

#[test]
fn null_removes_a_value_so_that_its_default_holds() {
    let desk = Asked::new();
    let given = desk.answer("plant.toml", &json!([])).answered();
    let soiling = input(&given, "plant.toml", "array.soiling_pct");
    assert_eq!((&soiling["value"], &soiling["state"]), (&json!(4.0), &json!("given")));
    let answer = desk.answer("plant.toml", &change("array.soiling_pct", Value::Null)).answered();
    let soiling = input(&answer, "plant.toml", "array.soiling_pct");
    assert_eq!(soiling["state"], "default");
    assert!(answer["comparison"] != given["comparison"]);
    // Removing a key that is not there changes nothing.
    let none = desk.answer("plant.toml", &change("array.albedo", Value::Null)).answered();
    assert!(none["comparison"] == given["comparison"]);
    // A value without a default is then missing.
    let fault = desk.answer("plant.toml", &change("tank.capacity_m3", Value::Null)).fault();
    assert_eq!(
        (&fault["path"], &fault["file"]),
        (&json!("tank.capacity_m3"), &json!("plant.toml"))
    );
}

#[test]
fn faults_have_file_line_and_key_and_the_engines_words() {
    let desk = Asked::new();
    let line_of = |file: &str, text: &str| {
        let lines = desk.text(file);
        lines.lines().position(|line| line.starts_with(text)).unwrap() as u64 + 1
    };
    let tank = line_of("plant.toml", "capacity_m3 = 165");
    for (value, words) in [
        (json!(-1), "-1"),
        (json!(0), "0"),
        (json!(1e308), "m³"),
        (json!("large"), "large"),
        (json!([1, 2]), ""),
        (json!(true), "true"),
        (json!(""), ""),
    ] {
        let fault = desk.answer("plant.toml", &change("tank.capacity_m3", value.clone())).fault();
        assert_eq!(fault["file"], "plant.toml");
        assert_eq!(fault["line"], tank, "{value}");
        assert_eq!(fault["path"], "tank.capacity_m3");
        assert!(fault["given"].as_str().unwrap().contains(words), "{fault}");
        assert!(fault["allowed"] != "" && fault["remedy"] != "" && fault["quantity"] != "");
    }
    for list in [
        json!([]),
        json!([1.0]),
        json!(vec![45.0; 11]),
        json!(vec![45.0; 20_000]),
    ] {
        let faults = desk.answer("plant.toml", &change("well.static_level_m", list)).faults();
        assert_eq!(faults[0]["path"], "well.static_level_m");
        assert_eq!(faults[0]["line"], line_of("plant.toml", "static_level_m ="));
    }
    let changes = json!([{ "file": "pump.toml", "keys": "name", "value": 5 }]);
    let fault = desk.answer("plant.toml", &changes).fault();
    assert_eq!(
        (&fault["file"], &fault["line"]),
        (&json!("pump.toml"), &json!(line_of("pump.toml", "name =")))
    );
    // All faults at once, each with its place.
    let both = json!([
        { "file": "plant.toml", "keys": "tank.capacity_m3", "value": -1 },
        { "file": "plant.toml", "keys": "array.tilt_deg", "value": 500 },
    ]);
    assert_eq!(desk.answer("plant.toml", &both).faults().len(), 2);
    // The same fault as on the command line.
    let answered = desk.answer("plant.toml", &change("array.tilt_deg", 500)).fault();
    desk.replace("plant.toml", "tilt_deg = 18", "tilt_deg = 500");
    let found = read_plant(desk.folder()).unwrap_err();
    let fault = &found[0].fault;
    assert_eq!(
        [
            &answered["quantity"],
            &answered["given"],
            &answered["allowed"],
            &answered["remedy"]
        ],
        [&fault.quantity, &fault.given, &fault.allowed, &fault.remedy]
    );
}

#[test]
fn unknown_keys_are_reported() {
    let desk = Asked::new();
    for keys in [
        "tank.capacity_m4",
        "tonk.capacity_m3",
        "capacity_m3",
        "tank].a",
        "tank.\nx",
    ] {
        let faults = desk.answer("plant.toml", &change(keys, 200)).faults();
        assert!(faults[0]["line"].as_u64().unwrap() > 0, "{keys}: {faults:?}");
    }
    let near = desk.answer("plant.toml", &change("tank.capacity_m4", 200)).fault();
    assert!(near["allowed"].as_str().unwrap().contains("capacity_m3"), "{near}");
    let deep = "a.".repeat(60_000) + "b";
    for keys in [
        "",
        ".",
        "tank",
        "tank.",
        "pipe[3].bore_mm",
        "pipe[0].bore_mm",
        "pipe.bore_mm",
        "name.x",
        &deep,
    ] {
        let why = desk.answer("plant.toml", &change(keys, 200)).why(400);
        assert!(why.contains("has no place in the file"), "{why}");
    }
    // The desk still answers.
    desk.answer("plant.toml", &json!([])).answered();
}

#[test]
fn wrong_syntax_is_reported_with_its_line_whatever_changes() {
    let desk = Asked::new();
    desk.replace("plant.toml", "[tank]", "[tank");
    let line = desk.text("plant.toml").lines().position(|line| line == "[tank").unwrap() + 1;
    for changes in [
        json!([]),
        change("tank.capacity_m3", 200),
        change("tank.capacity_m3", Value::Null),
    ] {
        let faults = desk.answer("plant.toml", &changes).faults();
        assert_eq!(
            (&faults[0]["file"], &faults[0]["line"]),
            (&json!("plant.toml"), &json!(line))
        );
    }
    desk.save(&change("tank.capacity_m3", 200), "0000000000000000 plant.toml\n").why(409);
    assert!(desk.text("plant.toml").contains("[tank\n"));
}

#[test]
fn invalid_values_are_refused() {
    let desk = Asked::new();
    let sound = answer_request("plant.toml", &change("tank.capacity_m3", 200)).to_string();
    for value in [
        "NaN",
        "1e999",
        "-1e999",
        "{}",
        "[1,null]",
        "[1,\"a\"]",
        "[[[1]]]",
        "Infinity",
    ] {
        let request = support::by_page("/api/answer")
            .body(sound.replace(":200", &format!(":{value}")).into())
            .unwrap();
        desk.send(request).why(400);
    }
    let many: Vec<Value> = (0..1001).map(|_| change("tank.capacity_m3", 200)[0].clone()).collect();
    assert!(desk.answer("plant.toml", &json!(many)).why(400).contains("at most 1000"));
    desk.answer("plant.toml", &json!(many[..1000])).answered();
}

#[test]
fn the_row_that_is_looked_at_has_its_months_and_workings() {
    let desk = Asked::new();
    let today = change("reference", "grid-tied");
    for (changes, asked, given, name) in [
        (json!([]), json!("dual-mode"), "dual-mode", "Dual mode"),
        (json!([]), json!("no-such-row"), "grid-only", "Grid only"),
        (today.clone(), json!("no-such-row"), "grid-tied", "Grid-tied alone"),
        (today, Value::Null, "grid-tied", "Grid-tied alone"),
    ] {
        let mut request = answer_request("plant.toml", &changes);
        request["looked_at"] = asked;
        let answer = desk.post("/api/answer", &request).answered();
        assert_eq!(answer["looked_at"]["id"], given);
        assert_eq!(answer["looked_at"]["months"].as_array().unwrap().len(), 12);
        let workings = answer["looked_at"]["workings"].as_array().unwrap();
        let water = workings.iter().find(|working| working["name"] == "water-secured").unwrap();
        let title = format!("Water secured: share of the demand that was delivered, {name}");
        assert_eq!(water["title"], title.as_str());
        // The page shows these texts as they are, so they must not contain the id of an arrangement.
        // Capital lists the items of the file.
        let text: String = workings.iter().filter(|one| one["name"] != "capital").map(Value::to_string).collect();
        let ids = answer["comparison"]["arrangements"].as_array().unwrap();
        for id in ids.iter().map(|row| row["id"].as_str().unwrap()) {
            assert!(!text.contains(id), "{id}: {text}");
        }
    }
    let inputs = desk.answer("plant.toml", &json!([])).answered()["inputs"].as_array().unwrap().len();
    assert_eq!(inputs, read_plant(desk.folder()).unwrap().origins.len());
}

#[test]
fn closed_pages_do_not_pile_up() {
    let desk = Asked::new();
    desk.answer("plant.toml", &json!([])).answered();
    let started = Instant::now();
    desk.answer("plant.toml", &change("array.tilt_deg", 20)).answered();
    let one = started.elapsed();
    let started = Instant::now();
    for number in 2..42 {
        let mut request = answer_request(
            "plant.toml",
            &change("array.tilt_deg", 20.0 + f64::from(number) / 100.0),
        );
        request["turn"]["number"] = json!(number);
        desk.post_and_leave("/api/answer", &request);
    }
    let mut request = answer_request("plant.toml", &change("array.tilt_deg", 25));
    request["turn"]["number"] = json!(42);
    let answer = desk.post("/api/answer", &request).answered();
    // The request that had begun, the last one, and a second of slack for a busy machine. All forty would take forty times
    // as long.
    let took = started.elapsed();
    assert!(took < 6 * one + Duration::from_secs(1), "{took:?}, one alone {one:?}");
    assert_eq!(input(&answer, "plant.toml", "array.tilt_deg")["value"], 25.0);
    // A request older than the latest gets no answer.
    request["turn"]["number"] = json!(41);
    assert_eq!(desk.post("/api/answer", &request).status, 204);
}

#[test]
fn a_deleted_plant_is_reported() {
    let desk = Asked::new();
    assert!(!plant_of(&desk).name.is_empty());
    fs::remove_file(desk.folder().join("motor.toml")).unwrap();
    let fault = desk.answer("plant.toml", &json!([])).fault();
    assert_eq!(fault["path"], "pump.motor");
    assert!(fault["given"].as_str().unwrap().contains("no such file"));
    fs::remove_file(desk.folder().join("plant.toml")).unwrap();
    desk.answer("plant.toml", &json!([])).why(400);
}
