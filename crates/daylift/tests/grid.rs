//! Outages from several sources in the summary, and metered loads in an answer.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::fs;

use daylift_testing::meters::meter_on_new_yorks_clock;
use daylift_testing::{Plant, folder};
use support::{Run, stderr, summary_has};

/// The example with other lines in place of its list of outages.
fn grid(lines: &str) -> Plant {
    Plant::new().replace("plant.toml", "outages = \"outages.csv\"\n", "").replace(
        "plant.toml",
        "[[load]]",
        &format!("{lines}\n[[load]]"),
    )
}

/// The example with its cold room metered.
fn metered(content: &str) -> Plant {
    Plant::new()
        .replace("plant.toml", "file = \"cold-room.csv\"", "meter = \"meter.csv\"")
        .write("meter.csv", content)
}

/// A year of readings in the example's zone, which has no daylight saving.
fn year_of_readings(unit: &str, interval_min: usize, value: &str) -> String {
    let days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let mut out = format!("time,{unit}\n");
    for (month, days) in (1..).zip(days) {
        for day in 1..=days {
            for minute in (0..1440).step_by(interval_min) {
                out += &format!(
                    "2025-{month:02}-{day:02}T{:02}:{:02},{value}\n",
                    minute / 60,
                    minute % 60
                );
            }
        }
    }
    out
}

const TIMETABLE: &str = "[grid.timetable]\nfile = \"timetable.csv\"\narea_block = \"7\"\n";

const VOLTAGE: &str = "[grid.voltage]\nfile = \"voltage.csv\"\n";

const SLOTS: &str = "stage,block,day,start,end\n1,7,1,06:00,08:00\n2,7,2,22:00,00:30\n1,8,1,08:00,10:00\n";

#[test]
fn each_outage_source_is_listed_and_the_total_is_merged() {
    // Worked by hand, no published source: stage 1 is 12 × 2 h; the voltage is away from 07:00 to 10:00 on 1 January, of
    // which the timetable has an hour already; the list has an hour of its own.
    let plant = grid(&format!("{TIMETABLE}stage = 1\n{VOLTAGE}"))
        .replace(
            "plant.toml",
            "export = \"paid\"",
            "outages = \"outages.csv\"\nexport = \"paid\"",
        )
        .write("outages.csv", "start,end\n2025-05-05T10:00,2025-05-05T11:00\n")
        .write("timetable.csv", SLOTS)
        .write(
            "voltage.csv",
            "time,voltage_pu\n2025-01-01 00:00,1.0\n2025-01-01 07:00,0.8\n2025-01-01 10:00,0.99\n",
        );
    summary_has(
        plant,
        &[
            "list outages.csv: 1 in the year, 1 h",
            "timetable timetable.csv, block 7, stage 1: 12 in the year, 24 h",
            "voltage voltage.csv, outside 0.85 to 1.1 of nominal: 1 in the year, 3 h",
            "outages 13 in the year, 27 h, 0.3% of the hours",
            "1.0 h with outages from more than one source were counted once",
            "is used for 364.6 days",
        ],
    );
}

#[test]
fn a_constant_meter_gives_what_a_constant_table_gives() {
    let header: Vec<String> = (0..24).map(|h| format!("h{h:02}")).collect();
    let row = vec!["4"; 24].join(",");
    let rows: Vec<String> = (1..=12).map(|month| format!("{month},{row}")).collect();
    let table = Plant::new().write(
        "cold-room.csv",
        format!("month,{}\n{}\n", header.join(","), rows.join("\n")),
    );
    let meter = metered(&year_of_readings("kwh", 15, "1"));
    let json = |plant: &Plant| {
        let output = plant.run("compare", &["--json"]);
        assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
        serde_json::from_slice::<serde_json::Value>(&output.stdout).unwrap()["arrangements"].clone()
    };
    let found = json(&meter);
    // 4 kW through the year, and the pack shed.
    assert!(found[0]["load_kwh"]["demand"].as_f64().unwrap() > 4.0 * 8760.0);
    // A meter of quarter hours cuts the year finer, so that sums are added in another order.
    assert_near(&json(&table), &found);
}

/// The same but for the rounding of sums.
fn assert_near(a: &serde_json::Value, b: &serde_json::Value) {
    use serde_json::Value;
    match (a, b) {
        (Value::Object(a), Value::Object(b)) => {
            assert!(a.keys().eq(b.keys()));
            a.values().zip(b.values()).for_each(|(a, b)| assert_near(a, b));
        }
        (Value::Array(a), Value::Array(b)) => {
            assert_eq!(a.len(), b.len());
            a.iter().zip(b).for_each(|(a, b)| assert_near(a, b));
        }
        (Value::Number(a), Value::Number(b)) => {
            let (a, b) = (a.as_f64().unwrap(), b.as_f64().unwrap());
            assert!((a - b).abs() <= 1e-9 * a.abs().max(1.0), "{a} against {b}");
        }
        _ => assert_eq!(a, b),
    }
}

#[test]
fn a_meter_with_a_gap_and_two_clock_changes_reads_right() {
    let plants = folder("validation/plants/greensboro");
    let weather = fs::read_to_string(plants.join("../../data/tmy3/723170TYA.CSV")).unwrap();
    let plant = Plant::of(&plants)
        .replace(
            "plant.toml",
            "file = \"../../data/tmy3/723170TYA.CSV\"",
            "file = \"weather.csv\"",
        )
        .replace("plant.toml", "file = \"farm-loads.csv\"", "meter = \"meter.csv\"")
        .write("weather.csv", weather)
        .write("meter.csv", meter_on_new_yorks_clock());
    let output = plant.run("compare", &["--json", "--step", "1h"]);
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    for row in answer["arrangements"].as_array().unwrap() {
        // 365 days of 14 h at 5 kW and 10 h at 8 kW; the hour that spring skips is the one that autumn repeats.
        let demand = row["load_kwh"]["demand"].as_f64().unwrap();
        assert!((demand - 365.0 * 150.0).abs() < 1e-6, "{demand}");
    }
}
