//! Metered loads: how readings are read, and what is reported about wrong ones.

use std::fs;

use daylift_testing::meters::meter_on_new_yorks_clock;
use daylift_testing::{Plant, folder};

use crate::support::{read, refused, refused_once, warns};

/// The example, with meter readings for its cold room.
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

#[test]
fn readings_of_any_interval_are_read() {
    for (unit, interval_min, value) in [("kw", 60, "4"), ("kwh", 30, "2"), ("kwh", 15, "1"), ("kw", 1, "4")] {
        read(&metered(&year_of_readings(unit, interval_min, value)));
    }
    // Stamped at the end of the interval in UTC. On the farm's clock the readings begin at 01:00, and the last one belongs
    // to the first hour of the next year.
    let ends = year_of_readings("kw", 60, "4").replace(":00,4", ":00Z,4");
    let plant = metered(&ends).replace(
        "plant.toml",
        "meter = \"meter.csv\"",
        "meter = \"meter.csv\"\nstamp = \"end\"",
    );
    warns(
        plant,
        &["1 of 8760 intervals have readings of 2026, placed by month, day and hour"],
    );
}

#[test]
fn gaps_and_other_years_are_reported() {
    let gap = year_of_readings("kw", 60, "4").replace("2025-06-01T03:00,4", "2025-06-01T03:00,");
    warns(
        metered(&gap),
        &[
            "\"cold room\": 1 of 8,760 intervals (0.01%)",
            "1 from the weeks before and after",
            "lasts 1.0 h",
        ],
    );
    let older = year_of_readings("kw", 60, "4").replace("2025-", "2023-");
    warns(metered(&older), &["8760 of 8760 intervals have readings of 2023"]);
}

#[test]
fn readings_that_make_no_sense() {
    let whole = year_of_readings("kw", 60, "4");
    // With a year 0, written by mistake, the series would have a thousand million minutes.
    refused(
        metered("time,kw\n2025-01-01T00:00,1.5\n2025-01-01T00:01,1\n0-01-01T00:30,2\n"),
        &["0-01-01T00:30", "a time of the years 1950 to 2100"],
    );
    refused(metered("# comments\n# alone\n"), &["an empty file"]);
    refused(
        metered("time,power\n"),
        &["columns time,power", "columns time,kw or time,kwh"],
    );
    refused(
        metered("time,kw\n2025-01-01T00:00,1\n2025-01-01T00:07,1\n2025-01-01T00:14,1\n"),
        &["readings 7 min apart", "divide the hour"],
    );
    refused(
        metered(&whole.replacen(":00,4", ":20,4", 1)),
        &["off the interval of 60 min", "meter.csv:2"],
    );
    let double = whole.replacen("2025-01-01T01:00,4", "2025-01-01T00:00,4", 1);
    refused(
        metered(&double),
        &["a second reading for 2025-01-01T00:00", "remove the duplicate"],
    );
    refused(metered(&whole.replacen(",4", ",-4", 1)), &["-4 kW at 2025-01-01T00:00"]);
    refused(
        metered(&whole.replacen(",4", ",four", 1)),
        &["\"four\"", "leave a missing reading blank"],
    );
    refused(
        metered(&whole.replacen("2025-01-01T00:00", "01/01/2025", 1)),
        &["time \"01/01/2025\""],
    );
    let half: String = whole.lines().take(4000).map(|line| format!("{line}\n")).collect();
    refused(
        metered(&half),
        &[
            "load[1].meter",
            "from 2025-01-01 00:00 to 2025-06-16 14:00, 167 days",
            "a whole year of readings",
        ],
    );
    let holes = whole
        .lines()
        .filter(|line| !line.starts_with("2025-04") && !line.starts_with("2025-05") && !line.starts_with("2025-07"));
    let holes: String = holes.map(|line| format!("{line}\n")).collect();
    refused(
        metered(&holes),
        &[
            "2208 of 8760 intervals are missing, 25.2% of the year",
            "at most 20% missing",
        ],
    );
    let both = Plant::new().replace(
        "plant.toml",
        "file = \"cold-room.csv\"",
        "file = \"cold-room.csv\"\nmeter = \"m.csv\"",
    );
    refused(both, &["a table under `file` and meter readings under `meter`"]);
    let neither = Plant::new().replace("plant.toml", "file = \"cold-room.csv\"\n", "");
    refused(
        neither,
        &[
            "load[1].file: load: neither `file` nor `meter`",
            "or meter readings under `meter`",
        ],
    );
}

#[test]
fn a_meter_with_a_gap_and_two_clock_changes_is_read_correctly() {
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
    warns(
        plant,
        &[
            "6 of 8,760 intervals (0.07%) were missing and were filled",
            "lasts 6.0 h",
        ],
    );
}

#[test]
fn a_load_is_a_table_or_a_meter() {
    let line = "file = \"cold-room.csv\"";
    refused_once(
        Plant::new().replace("plant.toml", line, ""),
        &["neither `file` nor `meter`"],
    );
    refused_once(
        Plant::new().replace("plant.toml", line, &format!("{line}\nstamp = \"end\"")),
        &["`stamp` with a table"],
    );
}
