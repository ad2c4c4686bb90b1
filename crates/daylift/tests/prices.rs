//! Every output of a plant without prices, and the working of the capital.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod support;

use daylift_testing::Plant;
use support::{Run, compare_json, stderr, stdout};

const ROW: [&str; 4] = ["--arrangement", "dual-mode", "--step", "1h"];

/// The example without the sections whose headings begin so.
fn without(starts: &[&str]) -> Plant {
    let kept = |text: String| {
        let mut skipping = false;
        let lines = text.lines().filter(|line| {
            if line.starts_with('[') {
                skipping = starts.iter().any(|start| line.trim_start_matches('[').starts_with(start));
            }
            !skipping
        });
        lines.collect::<Vec<_>>().join("\n")
    };
    Plant::new().edit("plant.toml", kept)
}

fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn without_prices_no_output_shows_money() {
    let none = without(&["money", "tariff"]);
    let compared = stdout(&none.run("compare", &["--step", "1h"]));
    let missing = "no prices given; add [money], and [tariff] if the farm has a grid";
    assert!(words(&compared).contains(missing), "{compared}");
    let ran = stdout(&none.run("run", &ROW));
    assert!(words(&ran).contains(missing), "{ran}");
    for text in [&compared, &ran] {
        for word in [
            "NaN",
            "capital",
            "payback",
            "net present value",
            "per m³",
            "bill",
            "today *",
            "* ",
        ] {
            assert!(!text.contains(word), "{word:?} is in: {text}");
        }
    }
    for name in ["capital", "npv", "payback", "cost-per-m3", "first-year-bill"] {
        let output = none.run("run", &[&ROW[..], &["--explain", name]].concat());
        assert_eq!(output.status.code(), Some(2), "{name}");
        assert!(stderr(&output).contains("does not apply"), "{}", stderr(&output));
    }
}

#[test]
fn with_some_prices_only_what_they_allow_is_shown() {
    let of_tariff = without(&["money"]);
    let text = stdout(&of_tariff.run("run", &ROW));
    assert!(
        words(&text).contains("no [money] given") && text.contains("USD"),
        "{text}"
    );
    assert!(
        !text.contains("capital  ") && !text.contains("payback, years"),
        "{text}"
    );
    let of_costs = without(&["tariff"]).replace("plant.toml", "[money]", "[money]\ncurrency = \"ZMW\"");
    let text = stdout(&of_costs.run("compare", &["--step", "1h"]));
    assert!(
        words(&text).contains("no [tariff] given") && text.contains("26,300"),
        "{text}"
    );
    assert!(!text.contains("per m³"), "{text}");
}

#[test]
fn without_prices_every_key_stays_in_the_json() {
    let none = without(&["money", "tariff"]);
    let answer = compare_json(none.path(), &["--step", "1h"]);
    for row in answer["arrangements"].as_array().unwrap() {
        let money = row["money"].as_object().unwrap();
        let expected = serde_json::json!({
            "currency": "", "capital": 0.0, "first_year_bill": 0.0, "payback_years": null, "npv": null, "irr": null,
            "cost_per_m3": 0.0,
        });
        assert_eq!(money, expected.as_object().unwrap());
    }
}

#[test]
fn the_working_of_the_capital_shows_quantity_and_price() {
    let plant = Plant::new().replace("plant.toml", "cost = 5400", "cost = 120\nper = \"module\"");
    let text = words(&stdout(
        &plant.run("run", &[&ROW[..], &["--explain", "capital"]].concat()),
    ));
    // Worked by hand: 45 · 120 = 5400.
    for part in [
        "capital = 26,300 USD",
        "Q1 = 45 modules",
        "P1 = 120 USD per module",
        "amount 5,400 USD",
    ] {
        assert!(text.contains(part), "{part:?} is not in: {text}");
    }
}
