//! The inputs of an answer: which kind of value each takes, and that it accepts a change of that kind.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use daylift_plant_file::read_plant;
use serde_json::{Value, json};
use support::{Asked, change, copy, input};
use tempfile::TempDir;

fn desk_at(name: &str) -> (TempDir, Asked) {
    let folder = TempDir::new().unwrap();
    copy(name, folder.path());
    let desk = Asked::at(folder.path());
    (folder, desk)
}

fn inputs(desk: &Asked) -> Vec<Value> {
    let answer = desk.answer("plant.toml", &json!([])).answered();
    answer["inputs"].as_array().unwrap().clone()
}

/// The kind comes from the outline, not from the value.
#[test]
fn every_value_has_the_kind_of_its_key_or_a_rule_decides() {
    for name in ["mulenga-ridge", "tamarind-post", "three-weirs"] {
        let (_folder, desk) = desk_at(name);
        for input in inputs(&desk) {
            let (value, length) = (&input["value"], input["length"].as_u64());
            if value.is_null() {
                assert!(input["rule"].is_string() && input["state"] == "default", "{input}");
                continue;
            }
            let has_length = |wanted: u64| value.as_array().is_some_and(|list| list.len() as u64 == wanted);
            let is_of_kind = match input["kind"].as_str().unwrap() {
                "number" => value.is_number(),
                "number-or-months" => value.is_number() || has_length(12),
                "number-or-hours" => value.is_number() || has_length(24),
                "windows" => has_length(1) || has_length(2),
                "numbers" => value.is_array() && length.is_none_or(has_length),
                "yes-no" => value.is_boolean(),
                "choice" => input["choices"].as_array().unwrap().contains(value),
                "file" | "text" => value.is_string(),
                _ => false,
            };
            assert!(is_of_kind, "{input}");
            assert_eq!(input["kind"] == "choice", input["choices"] != json!([]), "{input}");
        }
    }
}

#[test]
fn a_value_that_a_rule_decides_has_the_type_of_its_key() {
    let desk = Asked::new();
    let mut seen = Vec::new();
    for given in inputs(&desk).iter().filter(|input| input["rule"].is_string()) {
        let (file, keys) = (given["file"].as_str().unwrap(), given["keys"].as_str().unwrap());
        let set = |value: Value| json!([{ "file": file, "keys": keys, "value": value }]);
        let without = desk.answer("plant.toml", &set(Value::Null)).answered();
        let by_rule = input(&without, file, keys);
        assert_eq!(
            [&by_rule["value"], &by_rule["state"]],
            [&Value::Null, &json!("default")]
        );
        assert_eq!([&by_rule["kind"], &by_rule["rule"]], [&given["kind"], &given["rule"]]);
        // The words of the rule are not a value.
        let fault = desk.answer("plant.toml", &set(by_rule["rule"].clone())).fault();
        assert!(
            fault["path"].as_str().is_some_and(|path| path.ends_with(keys)),
            "{fault}"
        );
        seen.push((keys.to_owned(), given["rule"].as_str().unwrap().to_owned()));
    }
    let wanted = [
        ("greatest_frequency_hz", "the motor's rated frequency"),
        ("demand.hour_share", "even"),
        ("grid_input.hours", "as pumping.mains_hours"),
        ("battery.grid_charges_to_pct", "the reserve"),
    ];
    assert_eq!(seen, wanted.map(|(keys, rule)| (keys.to_owned(), rule.to_owned())));
}

#[test]
fn one_number_that_holds_at_every_hour_is_shown_for_each() {
    let (_folder, desk) = desk_at("three-weirs");
    let of = |keys: &str| inputs(&desk).into_iter().find(|input| input["keys"] == keys).unwrap();
    let speed = of("grid_input.wanted_speed_pct");
    assert_eq!(
        (&speed["state"], &speed["value"]),
        (&json!("default"), &json!(vec![100.0; 24]))
    );
}

#[test]
fn a_yes_or_no_is_written_as_one() {
    let desk = Asked::new();
    let flags: Vec<Value> = inputs(&desk).into_iter().filter(|input| input["kind"] == "yes-no").collect();
    assert!(!flags.is_empty());
    for flag in flags {
        let (keys, was) = (flag["keys"].as_str().unwrap(), flag["value"].as_bool().unwrap());
        let stamp = desk.stamp();
        assert_eq!(desk.save(&change(keys, !was), &stamp).status, 200);
        let key = keys.rsplit('.').next().unwrap();
        assert!(
            desk.text("plant.toml").contains(&format!("\n{key} = {}", !was)),
            "{keys}"
        );
        read_plant(desk.folder()).unwrap();
        // A text is refused, whatever it says.
        let fault = desk.answer("plant.toml", &change(keys, was.to_string())).fault();
        assert!(fault["allowed"].as_str().unwrap().contains("true or false"), "{fault}");
    }
}

/// As `check` lists them: defaults, generic and assumed ones.
#[test]
fn what_nobody_has_confirmed_is_marked() {
    let (_folder, desk) = desk_at("tamarind-post");
    let of_state = |state: &str| inputs(&desk).into_iter().filter(|input| input["state"] == state).collect::<Vec<_>>();
    let mut seen = 0;
    for (state, not_confirmed) in [
        ("default", true),
        ("generic", true),
        ("assumed", true),
        ("given", false),
        ("datasheet", false),
        ("found", false),
        ("confirmed", false),
    ] {
        for input in of_state(state) {
            assert_eq!(input["not_confirmed"], not_confirmed, "{input}");
            seen += 1;
        }
    }
    assert_eq!(seen, inputs(&desk).len());
}
