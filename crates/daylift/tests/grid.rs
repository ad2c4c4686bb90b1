//! Outages from several sources and metered loads: what is understood, and what is said of wrong ones.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::fs;
use std::path::Path;

use jiff::tz::TimeZone;

use support::{Plant, refused, stderr, stdout, told};

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
const RANDOM: &str = "[grid.random]\nseed = 7\nmean_outage_h = 2\n";
const VOLTAGE: &str = "[grid.voltage]\nfile = \"voltage.csv\"\n";
const SLOTS: &str = "stage,block,day,start,end\n1,7,1,06:00,08:00\n2,7,2,22:00,00:30\n1,8,1,08:00,10:00\n";

#[test]
fn each_source_is_told_and_the_whole_is_merged() {
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
    told(
        plant,
        &[
            "list outages.csv: 1 in the year, 1 h",
            "timetable timetable.csv, block 7, stage 1: 12 in the year, 24 h",
            "voltage voltage.csv, outside 0.85 to 1.1 of nominal: 1 in the year, 3 h",
            "outages 13 in the year, 27 h, 0.3% of the hours",
            "1.0 h in which more than one source has the grid away were counted once",
            "is held for 364.6 days",
        ],
    );
}

#[test]
fn stages_in_force_and_random_outages_are_told() {
    let stages = grid(&format!("{TIMETABLE}stages = \"stages.csv\"\n"))
        .write("timetable.csv", SLOTS)
        .write(
            "stages.csv",
            "start,end,stage\n2025-03-01T00:00,2025-05-01T00:00,2\n2024-03-01T00:00,2024-04-01T00:00,1\n",
        );
    told(
        stages,
        &[
            "stages of stages.csv: 4 in the year, 9 h",
            "1 of 2 stages in force lie outside the simulation year",
        ],
    );
    let random = || grid(&format!("{RANDOM}share_pct = 33\n"));
    told(random(), &["random, seed 7, expected 33.0% of the hours"]);
    assert_eq!(random().run("check", &[]).stdout, random().run("check", &[]).stdout);
    told(
        grid(&format!("{RANDOM}share_pct = 0.33\n")),
        &["share_pct = 0.33 is less than one per cent of the hours; 33% is written 33"],
    );
}

#[test]
fn timetables_that_make_no_sense() {
    let slots = |rows: &str| {
        grid(&format!("{TIMETABLE}stage = 2\n")).write("timetable.csv", format!("stage,block,day,start,end\n{rows}"))
    };
    refused(
        slots("1,9,1,06:00,08:00\n"),
        &["grid.timetable.area_block", "\"7\"", "one of \"9\""],
    );
    refused(
        slots("1,7,32,06:00,08:00\n"),
        &["day \"32\"", "1 to 31", "timetable.csv:2"],
    );
    refused(slots("1,7,1,6 am,08:00\n"), &["\"6 am\"", "a time from 00:00 to 24:00"]);
    refused(slots("1,7,1,06:00,24:30\n"), &["\"24:30\""]);
    refused(slots("1,7,1,06:00\n"), &["4 values", "stage,block,day,start,end"]);
    refused(
        slots("half,7,1,06:00,08:00\n"),
        &["stage \"half\"", "write a whole number"],
    );
    let both = grid(&format!("{TIMETABLE}stage = 2\nstages = \"stages.csv\"\n")).write("timetable.csv", SLOTS);
    refused(both, &["a fixed `stage` and a list of `stages`"]);
    let neither = grid(TIMETABLE).write("timetable.csv", SLOTS);
    refused(
        neither,
        &["grid.timetable.stage: stage of the timetable in force: neither `stage` nor `stages`"],
    );
    let number = grid("[grid.timetable]\nfile = \"timetable.csv\"\narea_block = 7\nstage = 1\n");
    refused(
        number.write("timetable.csv", SLOTS),
        &["7 (integer)", "write it in quotes"],
    );
}

#[test]
fn random_outages_that_make_no_sense() {
    refused(grid(RANDOM), &["neither `share_pct` nor `mean_up_h`"]);
    refused(
        grid(&format!("{RANDOM}share_pct = 20\nmean_up_h = 8\n")),
        &["remove one: each follows from the other"],
    );
    refused(
        grid(&format!("{RANDOM}share_pct = 20\nhour_weight = [1, 2]\n")),
        &["2 numbers", "a list of 24 numbers"],
    );
    let evening = "[0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0]";
    refused(
        grid(&format!("{RANDOM}share_pct = 60\nhour_weight = {evening}\n")),
        &["60.00% of the time", "with these weights", "lengthen `mean_outage_h`"],
    );
    refused(
        grid(&format!(
            "{RANDOM}share_pct = 60\nmonth_weight = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]\n"
        )),
        &["no weight above 0"],
    );
    refused(
        grid("[grid.random]\nseed = -1\nmean_outage_h = 2\nshare_pct = 120\n"),
        &["seed of the random outages: -1", "120%"],
    );
}

#[test]
fn voltages_that_make_no_sense() {
    let readings = |content: &str| grid(VOLTAGE).write("voltage.csv", content);
    refused(
        readings("time,voltage_pu\n2025-01-01 00:00,231\n"),
        &["voltage \"231\"", "is it in the unit of the column's name?"],
    );
    refused(
        readings("time,voltage_v\n2025-01-01 00:00,231\n"),
        &["add `nominal_v` to [grid.voltage]"],
    );
    refused(
        readings("time,voltage_pu\n2025-01-02 00:00,1\n2025-01-01 00:00,1\n"),
        &["not after the row before", "voltage.csv:3"],
    );
    refused(
        readings("time,voltage_pu\n2023-01-02 00:00,1\n2026-01-01 00:00,1\n").replace(
            "plant.toml",
            "file = \"voltage.csv\"",
            "file = \"voltage.csv\"\nleast_pu = 1.2",
        ),
        &["least voltage that is of use: 1.2"],
    );
    refused(
        readings("time,voltage_pu\n2031-01-02 00:00,1\n"),
        &["no reading in the simulation year; the first is of 2031-01-02"],
    );
}

#[test]
fn readings_of_any_interval_are_read() {
    for (unit, interval_min, value) in [("kw", 60, "4"), ("kwh", 30, "2"), ("kwh", 15, "1"), ("kw", 1, "4")] {
        told(metered(&year_of_readings(unit, interval_min, value)), &["no faults"]);
    }
    // Stamped at the end of the interval in UTC: on the farm's clock the readings begin at 01:00 and the last one is of
    // the next year's first hour.
    let ends = year_of_readings("kw", 60, "4").replace(":00,4", ":00Z,4");
    let plant = metered(&ends).replace(
        "plant.toml",
        "meter = \"meter.csv\"",
        "meter = \"meter.csv\"\nstamp = \"end\"",
    );
    told(
        plant,
        &["1 of 8760 intervals have readings of 2026, laid by month, day and hour"],
    );
}

#[test]
fn gaps_and_other_years_are_told() {
    let gap = year_of_readings("kw", 60, "4").replace("2025-06-01T03:00,4", "2025-06-01T03:00,");
    told(
        metered(&gap),
        &[
            "\"cold room\": 1 of 8760 intervals (0.01%)",
            "1 from the weeks before and after",
            "lasts 1.0 h",
        ],
    );
    let older = year_of_readings("kw", 60, "4").replace("2025-", "2023-");
    told(metered(&older), &["8760 of 8760 intervals have readings of 2023"]);
}

#[test]
fn readings_that_make_no_sense() {
    let whole = year_of_readings("kw", 60, "4");
    // A year left short would make a series of a thousand million minutes.
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
        &["a second reading for 2025-01-01T00:00", "remove the double"],
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
fn ready_made_lists_have_their_shares() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data/outages");
    for share in [15, 33, 50, 70] {
        let list = fs::read_to_string(folder.join(format!("outages-{share}.csv"))).unwrap();
        let plant = Plant::new().write("outages.csv", list);
        let output = plant.run("check", &[]);
        let said = stdout(&output);
        assert!(said.contains(&format!("{share}.0% of the hours")), "{said}");
        assert!(!said.contains("overlapped"), "{said}");
    }
}

/// An hourly meter on New York's clock, with a gap of six hours: 5 kW, and 3 kW more from 8 to 18 o'clock.
fn meter_on_new_yorks_clock() -> String {
    let zone = TimeZone::get("America/New_York").unwrap();
    let mut at = jiff::civil::date(2025, 1, 1).to_zoned_datetime(zone.clone()).unwrap();
    let end = jiff::civil::date(2026, 1, 1).to_zoned_datetime(zone).unwrap();
    let mut out = "time,kw\n".to_owned();
    while at < end {
        let kw = if (8..18).contains(&at.hour()) { 8 } else { 5 };
        if !(at.month() == 5 && at.day() == 6 && (3..9).contains(&at.hour())) {
            out += &format!("{},{kw}\n", at.strftime("%Y-%m-%dT%H:%M"));
        }
        at = at.checked_add(jiff::Span::new().hours(1)).unwrap();
    }
    out
}

#[test]
fn a_meter_with_a_gap_and_two_clock_changes_reads_right() {
    let plants = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../validation/plants/greensboro");
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
    told(
        Plant::of(plant.path()),
        &[
            "6 of 8760 intervals (0.07%) were missing and were filled",
            "lasts 6.0 h",
        ],
    );
    let output = plant.run("compare", &["--json", "--step", "1h"]);
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    for row in answer["arrangements"].as_array().unwrap() {
        // 365 days of 14 h at 5 kW and 10 h at 8 kW; the hour that spring skips is the one that autumn repeats.
        let demand = row["load_kwh"]["demand"].as_f64().unwrap();
        assert!((demand - 365.0 * 150.0).abs() < 1e-6, "{demand}");
    }
}

#[test]
fn a_source_without_outages_is_not_taken_for_a_perfect_grid_in_silence() {
    told(
        grid(""),
        &[
            "[grid] names no outages: the grid counts as up all year",
            "0 in the year, 0 h, 0.0% of the hours",
        ],
    );
    let timetable = |more: &str| grid(&format!("{TIMETABLE}{more}\n")).write("timetable.csv", SLOTS);
    told(
        timetable("stages = \"stages.csv\"").write("stages.csv", "start,end,stage\n"),
        &["stages of stages.csv: no outage in the year"],
    );
    told(
        timetable("stage = 9"),
        &["stage 9 is in force, and the timetable's slots for block 7 go up to stage 2"],
    );
    refused(timetable(""), &["neither `stage` nor `stages`", "1 fault found"]);
    refused(
        grid(&format!("{TIMETABLE}stage = 1\n")).write("timetable.csv", "stage,block,day,start,end\n"),
        &["timetable of outages: no rows", "1 fault found"],
    );
    refused(
        grid(VOLTAGE).write("voltage.csv", "time,voltage_pu\n"),
        &["voltage readings: no rows", "1 fault found"],
    );
    refused(
        grid(VOLTAGE).write("voltage.csv", "time,voltage_pu\n2025-01-01T00:00,230\n"),
        &["voltage \"230\"", "1 fault found"],
    );
}

#[test]
fn a_load_is_a_table_or_a_meter() {
    let line = "file = \"cold-room.csv\"";
    refused(
        Plant::new().replace("plant.toml", line, ""),
        &["neither `file` nor `meter`", "1 fault found"],
    );
    refused(
        Plant::new().replace("plant.toml", line, &format!("{line}\nstamp = \"end\"")),
        &["`stamp` beside a table", "1 fault found"],
    );
}
