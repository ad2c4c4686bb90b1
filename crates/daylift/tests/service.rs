//! Every money figure for less service than today's is marked, wherever it is printed, and what is missing is next to it.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::path::{Path, PathBuf};

use daylift_testing::Plant;
use serde_json::Value;
use support::{Run, compare_json, daylift, stdout};

const EXAMPLES: [&str; 3] = ["mulenga-ridge", "three-weirs", "tamarind-post"];
const MONEY: [&str; 4] = ["first-year-bill", "payback", "npv", "cost-per-m3"];
/// Beginnings of the lines with money figures, apart from capital, on the terminal.
const LINES: [&str; 6] = [
    "first year's bill",
    "first year's fuel",
    "payback, years",
    "net present value",
    "internal rate of return",
    "cost per m³",
];

fn folder(example: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(example)
}

fn printed(example: &str, command: &str, more: &[&str]) -> String {
    let folder = folder(example);
    stdout(&daylift(
        &[&[command, folder.to_str().unwrap(), "--step", "1h"], more].concat(),
    ))
}

/// Whether water or load is less than today's, by definition: 1 % of today's water in the year, or of the load. A month may
/// fall short, too; `service` says so, and a test of `study` has it by hand.
fn is_less(row: &Value, today: &Value) -> bool {
    let of = |row: &Value, path: &str| row.pointer(path).and_then(Value::as_f64).unwrap();
    let month = of(row, "/service/worst_month_delta_m3") < 0.0 && row["service"]["water"] == "less";
    let water = of(row, "/water_m3/delivered") < 0.99 * of(today, "/water_m3/delivered");
    let darker = of(row, "/load_kwh/unserved") - of(today, "/load_kwh/unserved");
    water || month || darker > 0.01 * of(row, "/load_kwh/demand")
}

/// The rows of an example, each with whether it serves less than today.
fn rows(example: &str) -> Vec<(String, bool)> {
    let answer = compare_json(&folder(example), &["--step", "1h"]);
    let all = answer["arrangements"].as_array().unwrap();
    let today = all.iter().find(|row| row["id"] == answer["reference"]).unwrap();
    let judged = all.iter().map(|row| {
        let less = is_less(row, today);
        assert_eq!(row["service"]["comparable"], !less, "{example}: {}", row["id"]);
        (row["id"].as_str().unwrap().to_owned(), less)
    });
    judged.collect()
}

/// The text between the ends of lines as one line.
fn joined(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Number of figures and of marks on the lines of money.
fn marks(text: &str) -> (usize, usize) {
    let lines = || text.lines().filter(|line| LINES.iter().any(|label| line.trim_start().starts_with(label)));
    (lines().count(), lines().map(|line| line.matches(" *").count()).sum())
}

#[test]
fn a_comparison_marks_every_money_figure_for_less_service() {
    let mut seen = 0;
    for example in EXAMPLES {
        let (rows, text) = (rows(example), printed(example, "compare", &[]));
        let less: Vec<&String> = rows.iter().filter(|(_, less)| *less).map(|(id, _)| id).collect();
        for label in LINES {
            let lines = text.lines().filter(|line| line.trim_start().starts_with(label));
            let marks: usize = lines.map(|line| line.matches(" *").count()).sum();
            // A table of rows that burn no fuel has no line of fuel.
            let all = marks == less.len() || (label.contains("fuel") && marks < less.len());
            assert!(all, "{example}, {label}: {marks} marks for {less:?}");
        }
        let text = joined(&text);
        for (id, is_less) in &rows {
            assert_eq!(
                text.contains(&format!("* {id}, compared with ")),
                *is_less,
                "{example}: {id}"
            );
        }
        seen += less.len();
    }
    assert!(seen > 0);
}

#[test]
fn a_run_marks_every_money_figure_for_less_service() {
    for example in EXAMPLES {
        for (id, less) in rows(example) {
            let text = printed(example, "run", &["--arrangement", &id]);
            let (figures, marks) = marks(&text);
            assert_eq!(
                (figures, marks),
                (4, if less { 4 } else { 0 }),
                "{example} {id}: {text}"
            );
            let text = joined(&text);
            assert_eq!(
                text.contains(&format!("* {id}, compared with ")),
                less,
                "{example} {id}"
            );
            assert_eq!(
                text.contains("Its money figures are for less service."),
                less,
                "{example} {id}"
            );
        }
    }
}

#[test]
fn an_explanation_marks_every_money_figure_for_less_service() {
    for example in EXAMPLES {
        for (id, less) in rows(example) {
            let text = printed(example, "run", &["--arrangement", &id, "--explain", "all"]);
            for name in MONEY {
                let Some(line) = text.lines().find(|line| line.trim_start().starts_with(&format!("{name} = "))) else {
                    continue;
                };
                assert_eq!(line.ends_with(" *"), less, "{example} {id}: {line}");
            }
            let cautions = text.lines().filter(|line| line.trim_start().starts_with("Caution: "));
            let said = cautions.filter(|line| line.contains(" less water") || line.contains("loads a year unserved"));
            assert_eq!(said.count() > 0, less, "{example} {id}");
        }
    }
}

#[test]
fn values_of_what_is_missing_make_all_rows_comparable_and_are_stated() {
    let plant = Plant::new().replace(
        "plant.toml",
        "[money]",
        "[money]\nvalue_of_lost_water_per_m3 = 0.4\nvalue_of_lost_load_per_kwh = 0.5",
    );
    let text = stdout(&plant.run("compare", &["--step", "1h"]));
    assert_eq!(marks(&text).1, 0, "{text}");
    let joined = joined(&text);
    let priced = "Missing water and unserved load are priced at 0.40 USD per m³ of water, 0.50 USD per kWh of load";
    assert!(
        joined.contains(priced) && joined.contains("so all arrangements are comparable"),
        "{joined}"
    );
    let answer: Value = serde_json::from_str(&stdout(&plant.run("compare", &["--step", "1h", "--json"]))).unwrap();
    assert_eq!(answer["priced_at"]["water_per_m3"], 0.4);
    let all = answer["arrangements"].as_array().unwrap();
    assert!(all.iter().all(|row| row["service"]["comparable"] == true));
    assert!(all.iter().any(|row| row["service"]["water"] == "less"));
    // The bill and the cost of water stay as without the values; the money of a row with other service does not.
    let before = compare_json(&folder("mulenga-ridge"), &["--step", "1h"]);
    let mut moved = 0;
    for row in before["arrangements"].as_array().unwrap() {
        // The generator stays beside rows that fall short, priced or not.
        let now = all.iter().find(|one| one["id"] == row["id"]).unwrap();
        for key in ["capital", "first_year_bill", "cost_per_m3"] {
            assert_eq!(row["money"][key], now["money"][key], "{} {key}", row["id"]);
        }
        moved += usize::from(row["money"]["npv"] != now["money"]["npv"]);
    }
    assert!(moved > 0 && all.len() == before["arrangements"].as_array().unwrap().len());
}

#[test]
fn pairs_are_listed_on_request_only() {
    let without = compare_json(&folder("three-weirs"), &["--step", "1h"]);
    assert!(without.get("pairs").is_none());
    let with = compare_json(&folder("three-weirs"), &["--step", "1h", "--pairs"]);
    let less: Vec<(String, bool)> = rows("three-weirs");
    let comparable = less.iter().filter(|(_, less)| !less).count();
    let pairs = with["pairs"].as_array().unwrap();
    assert_eq!(pairs.len(), comparable * (comparable - 1) / 2);
    assert!(pairs.contains(&with["runner_up"]), "{}", with["runner_up"]);
    let text = joined(&printed("three-weirs", "compare", &["--pairs"]));
    assert!(
        text.contains("What each arrangement without a star adds to every cheaper one, USD"),
        "{text}"
    );
    assert!(!joined(&printed("three-weirs", "compare", &[])).contains("every cheaper one"));
}
