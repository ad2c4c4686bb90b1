//! The same weather gives the same result in every layout; gaps are filled and reported; wrong files are refused.

use std::fs;

use daylift_testing::layouts::{Hour, epw, hours, local, plain};
use daylift_testing::{Plant, example};

use crate::support::{read, refused, refused_once, warned, warns};

fn example_hours() -> Vec<Hour> {
    hours(&fs::read_to_string(example().join("weather.csv")).unwrap())
}

/// The example, with another weather file and more keys in `[weather]`.
fn with_weather(file: &str, keys: &str) -> Plant {
    let plant = Plant::new().write("weather.csv", file);
    plant.replace(
        "plant.toml",
        "file = \"weather.csv\"",
        &format!("file = \"weather.csv\"\n{keys}\n"),
    )
}

/// Interval length and standard time, then GHI, DNI, DHI, air and wind of every interval.
fn series(plant: &Plant) -> Vec<f64> {
    let weather = read(plant).plant.weather;
    let mut out = vec![f64::from(weather.interval_s()), f64::from(weather.utc_offset_s())];
    for column in [
        weather.ghi_w_m2(),
        weather.dni_w_m2(),
        weather.dhi_w_m2(),
        weather.air_c(),
        weather.wind_m_s(),
    ] {
        out.extend(column);
    }
    out
}

fn same(of: &str, ours: &[f64], theirs: &[f64]) {
    assert_eq!(ours.len(), theirs.len(), "{of}");
    for (a, b) in ours.iter().zip(theirs) {
        assert!((a - b).abs() <= 1e-12 * b.abs().max(1.0), "{of}: {a} {b}");
    }
}

#[test]
fn the_same_hours_in_other_layouts_give_the_same_weather() {
    let hours = example_hours();
    let theirs = series(&Plant::new());
    for (of, plant) in [
        ("EPW", with_weather(&epw(&hours), "")),
        (
            "local times",
            with_weather(&plain(&hours, 1, local), "utc_offset_h = 2"),
        ),
        (
            "own offset",
            with_weather(&plain(&hours, 1, |s| local(s) + "+02:00"), ""),
        ),
        (
            "UTC",
            with_weather(&plain(&hours, 1, |s| local(s - 7200) + "Z"), "utc_offset_h = 2"),
        ),
        (
            "half-hour offset",
            with_weather(&plain(&hours, 1, |s| local(s + 12_600) + "+05:30"), "utc_offset_h = 2"),
        ),
        (
            "hour-ending",
            with_weather(
                &plain(&hours, 1, |s| local(s + 3600)),
                "utc_offset_h = 2\nstamp = \"end\"",
            ),
        ),
        (
            "middle",
            with_weather(
                &plain(&hours, 1, |s| local(s + 1800)),
                "utc_offset_h = 2\nstamp = \"middle\"",
            ),
        ),
    ] {
        same(of, &series(&plant), &theirs);
    }
}

#[test]
fn missing_wind_is_reported() {
    let text = plain(&example_hours(), 1, local);
    let keep = |line: &str| line.rsplit_once(',').unwrap().0.to_owned();
    let plant = with_weather(
        &text.lines().map(keep).collect::<Vec<_>>().join("\n"),
        "utc_offset_h = 2",
    );
    warns(plant, &["the file has no wind; 1 m/s is used all year"]);
}

#[test]
fn gaps_are_filled_and_reported() {
    let text = plain(&example_hours(), 1, local);
    let lines: Vec<&str> = text.lines().collect();
    let kept = |gap: std::ops::Range<usize>| {
        let left = lines.iter().enumerate().filter(|(i, _)| !gap.contains(i));
        left.map(|(_, line)| *line).collect::<Vec<_>>().join("\n")
    };
    // Line 1 is 00:00 on 1 January. Removed are 9 o'clock to noon of 10 February, and three days of May.
    for (gap, longest) in [(970..973, "longest gap 3 h"), (3200..3272, "longest gap 72 h")] {
        let plant = with_weather(&kept(gap.clone()), "utc_offset_h = 2");
        let count = format!("missing values were filled: GHI {} of 8,760 values missing", gap.len());
        warns(plant, &[&count, longest]);
    }
    let coded = epw(&example_hours()).replacen(",60,?9?9,19.3,", ",60,?9?9,99.9,", 1);
    warns(with_weather(&coded, ""), &["air temperature 1 of 8,760 values missing"]);
    let coded = |text: String| text.replacen(",0,0,0,0,0,19.1,", ",0,0,-9900,0,0,19.1,", 1);
    warns(
        Plant::new().edit("weather.csv", coded),
        &["GHI 1 of 8,760 values missing"],
    );
    for gap in [1000..1400, 1..900] {
        refused(
            with_weather(&kept(gap), "utc_offset_h = 2"),
            &["at most 10% of the year missing, and no gap longer than 14 days"],
        );
    }
}

#[test]
fn columns_that_cannot_be_used() {
    let text = plain(&example_hours(), 1, local);
    let header = |from: &str, to: &str| with_weather(&text.replacen(from, to, 1), "utc_offset_h = 2");
    refused(
        header("ghi_w_m2", "ghi_kwh_m2"),
        &[
            "column \"ghi_kwh_m2\"",
            "allowed: time, ghi_w_m2, air_c",
            "in the unit of `ghi_w_m2`",
        ],
    );
    refused(
        header("air_c", "air_f"),
        &["column \"air_f\"", "in the unit of `air_c`"],
    );
    refused(header("air_c", "humidity_pct"), &["no column \"air_c\""]);
    refused(header("dni_w_m2", "ghi_w_m2"), &["2 columns \"ghi_w_m2\""]);
    refused(header("time", "stamp"), &["no column \"time\""]);
    refused(with_weather(&text.replace(',', ";"), ""), &["values separated by `;`"]);
    refused(
        with_weather("a,b\n1,2\n", ""),
        &["it begins with \"a,b\"", "an EPW file (first line LOCATION)"],
    );
    let extra = text.replacen("wind_m_s", "humidity_pct", 1);
    warns(
        with_weather(&extra, "utc_offset_h = 2"),
        &["columns of the file that are not used: humidity_pct"],
    );
}

#[test]
fn times_that_cannot_be_used() {
    let text = plain(&example_hours(), 1, local);
    let key = "utc_offset_h = 2";
    refused(
        with_weather(&text, ""),
        &["local times without an offset", "add `utc_offset_h`"],
    );
    refused(
        with_weather(&text, "utc_offset_h = 200"),
        &["offset of the weather file's standard time from UTC: 200 h"],
    );
    let once = |from: &str, to: &str| with_weather(&text.replacen(from, to, 1), key);
    refused(
        once("2025-03-05T10:00:00", "5 March"),
        &["time \"5 March\"", "weather.csv:1524"],
    );
    refused(
        once("2025-03-05T10:00:00", "2025-03-05T10:00:00Z"),
        &["times with and times without an offset"],
    );
    refused(
        once("2025-03-05T10:00:00", "2025-03-05T10:20:00"),
        &["times at whole intervals of 1 h"],
    );
    refused(
        once("2025-03-05T10:00:00", "2025-03-05T09:00:00"),
        &["times in order, each once"],
    );
    refused(
        once("2025-01-01T00:00:00", "2024-12-31T23:00:00"),
        &["times of one civil year, 2025"],
    );
    refused(
        with_weather(
            &plain(&example_hours(), 1, |s| {
                local(s) + if s < 9_000_000 { "+01:00" } else { "+02:00" }
            }),
            "",
        ),
        &["times with several offsets from UTC"],
    );
    refused(
        once("T10:00:00,", "T10:00:00,x"),
        &["ghi_w_m2 = \"x", "leave the cell empty"],
    );
    let every = |hours: usize| {
        let rows = text.lines().skip(1).step_by(hours).collect::<Vec<_>>().join("\n");
        format!("{}\n{rows}", text.lines().next().unwrap())
    };
    refused(
        with_weather(&every(3), key),
        &["most rows are 180 min apart", "15, 20, 30 or 60 minutes"],
    );
    // Rows stamped at the end of the hour, read as its start: the last one is in the next year.
    let ending = plain(&example_hours(), 1, |s| local(s + 3600));
    refused(
        with_weather(&ending, key),
        &["times of one civil year, 2025", "`stamp`"],
    );
}

#[test]
fn keys_that_the_layout_does_not_allow() {
    let hours = example_hours();
    refused(
        Plant::new().replace(
            "plant.toml",
            "file = \"weather.csv\"",
            "file = \"weather.csv\"\nstamp = \"end\"\nutc_offset_h = 2",
        ),
        &["by definition", "`utc_offset_h` for a file in TMY3 layout"],
    );
    let spoilt = |keys: &str| with_weather(&plain(&hours, 1, local), keys);
    refused(
        spoilt("utc_offset_h = 2\nstamp = \"noon\""),
        &["\"noon\"", "\"start\", \"end\", \"middle\""],
    );
    refused(
        spoilt("utc_offset_h = 2\nsky_model = \"isotropic\""),
        &["\"hay-davies\", \"perez\""],
    );
}

#[test]
fn epw_files_that_cannot_be_used() {
    let text = epw(&example_hours());
    let spoilt = |from: &str, to: &str| with_weather(&text.replacen(from, to, 1), "");
    refused(
        spoilt("DATA PERIODS,1,1,", "DATA PERIODS,1,4,"),
        &["4 rows in an hour", "plain CSV"],
    );
    refused(spoilt("COMMENTS 2,\n", ""), &["DATA PERIODS in line 7"]);
    refused(
        spoilt("28.100,2.0,", "28.100,two,"),
        &["time zone in hours: \"two\"", "value 9 of the first line"],
    );
    refused(
        spoilt("2025,1,1,3,", "2025,1,1,4,"),
        &["1/1 hour 4 where 01/01 03:00 is expected"],
    );
    let cut = text.lines().take(4000).collect::<Vec<_>>().join("\n");
    refused(with_weather(&cut, ""), &["3992 rows", "it seems to be incomplete"]);
    refused(
        spoilt(",60,?9?9,19.3,", ",60,?9?9,hot,"),
        &["dry bulb temperature (C) = \"hot\""],
    );
}

#[test]
fn a_cell_model_has_only_its_own_keys() {
    let with = |from: &str, more: &str| Plant::new().replace("plant.toml", from, &format!("{from}\n{more}"));
    refused(
        with(
            "azimuth_deg = 0",
            "cell_temperature = \"noct\"\nu0_w_per_m2_k = 25\nu1_w_s_per_m3_k = 6.84",
        ),
        &[
            "given although `cell_temperature` is \"noct\"",
            "remove `u0_w_per_m2_k`",
            "remove `u1_w_s_per_m3_k`",
        ],
    );
    refused(
        with("azimuth_deg = 0", "noct_c = 45"),
        &[
            "given although `cell_temperature` is \"faiman\"",
            "remove `noct_c`, or change `cell_temperature`",
        ],
    );
    refused(
        with("azimuth_deg = 0", "cell_temperature = \"noct\"\nnoct_c = 20"),
        &["nominal operating cell temperature: 20 °C"],
    );
}

#[test]
fn a_small_sensor_offset_at_night_counts_as_zero() {
    let text = plain(&example_hours(), 1, local).replace(",0,0,0,", ",-1.5,0,0,");
    let plant = with_weather(&text, "utc_offset_h = 2");
    same("night offset", &series(&plant), &series(&Plant::new()));
    warns(
        plant,
        &["small negative values of sunlight (a sensor's offset at night) were set to 0"],
    );
}

#[test]
fn a_plain_csv_with_one_cause_has_one_fault() {
    let hours = example_hours();
    let first = plain(&hours, 1, local);
    let second = plain(&hours, 1, |s| local(s).replace("2025-", "2026-"));
    let both = first + second.split_once('\n').unwrap().1;
    refused_once(
        with_weather(&both, "utc_offset_h = 2"),
        &["8760 rows of 2025, 8760 rows of 2026"],
    );
    refused_once(
        with_weather(&plain(&hours, 1, |s| local(s + 1800)), "utc_offset_h = 2"),
        &["2025-01-01T00:30:00 and every other row, not at whole intervals of 1 h"],
    );
}

#[test]
fn the_word_begin_means_start() {
    let with = |keys: &str| series(&with_weather(&plain(&example_hours(), 1, local), keys));
    same(
        "begin",
        &with("utc_offset_h = 2\nstamp = \"begin\""),
        &with("utc_offset_h = 2"),
    );
}

#[test]
fn an_epw_file_may_have_another_stamp_and_another_offset() {
    let file = epw(&example_hours());
    let ending = series(&with_weather(&file, ""));
    // By hand: the first row is stamped 01:00 at UTC+2. Where that is the start of its hour, the hour begins at 00:00 of
    // UTC+1; where it is the middle, at 00:00 of UTC+1:30. The values of the hours stay as they are.
    for (keys, offset_h) in [
        ("stamp = \"end\"", 2.0),
        ("stamp = \"middle\"", 1.5),
        ("stamp = \"start\"", 1.0),
        ("stamp = \"begin\"", 1.0),
        ("utc_offset_h = 2", 2.0),
        ("utc_offset_h = 3.5", 3.5),
        ("utc_offset_h = 3\nstamp = \"middle\"", 2.5),
    ] {
        let ours = series(&with_weather(&file, keys));
        assert!((ours[1] - 3600.0 * offset_h).abs() < 1e-9, "{keys}: {} s", ours[1]);
        same(keys, &ours[2..], &ending[2..]);
    }
    let replaced = "`utc_offset_h` replaces the time zone of the file's first line: UTC+3.5 instead of UTC+2";
    warns(with_weather(&file, "utc_offset_h = 3.5"), &[replaced]);
    assert!(!warned(&with_weather(&file, "utc_offset_h = 2")).contains("replaces"));
}

#[test]
fn a_shifted_clock_of_a_file_with_all_three_is_named() {
    let hours = example_hours();
    let of_plain = |offset_h: &str| with_weather(&plain(&hours, 1, local), &format!("utc_offset_h = {offset_h}"));
    let of_epw = |keys: &str| with_weather(&epw(&hours), keys);
    // By hand: the true clock is UTC+2. Read as UTC+3 the light is an hour early; rows of local times then need
    // `utc_offset_h = 2`. Rows stamped at the start would need a stamp an hour later than that, and there is none.
    for (plant, early, keys) in [
        (of_plain("3"), "60 min early", "check `utc_offset_h` (2) in"),
        (of_plain("2.5"), "30 min early", "check `utc_offset_h` (2) in"),
        (
            of_plain("1.5"),
            "30 min late",
            "check `stamp` (\"middle\") or `utc_offset_h` (2) in",
        ),
        (
            of_plain("1"),
            "60 min late",
            "check `stamp` (\"end\") or `utc_offset_h` (2) in",
        ),
        (
            of_epw("stamp = \"start\""),
            "60 min late",
            "check `stamp` (\"end\") or `utc_offset_h` (3) in",
        ),
        (
            of_epw("stamp = \"middle\""),
            "30 min late",
            "check `stamp` (\"end\") or `utc_offset_h` (2.5) in",
        ),
        (
            of_epw("utc_offset_h = 2.5"),
            "30 min early",
            "check `stamp` (\"middle\") or `utc_offset_h` (2) in",
        ),
    ] {
        let warnings = warned(&plant);
        assert!(
            warnings.contains(&format!("its times seem to be {early}")),
            "{warnings}"
        );
        assert!(
            warnings.contains(keys) && !warnings.contains("solar noon"),
            "{warnings}"
        );
    }
}

#[test]
fn the_clock_of_measured_years_is_not_suspected() {
    for folder in [
        "examples/mulenga-ridge",
        "validation/plants/greensboro",
        "bench/plants/sand-point",
    ] {
        let read = daylift_plant_file::read_plant(&daylift_testing::folder(folder)).unwrap();
        let suspicions = read.warnings.iter().filter(|warning| warning.to_string().contains("its times seem"));
        assert_eq!(suspicions.count(), 0, "{folder}");
    }
}

#[test]
fn a_clock_that_is_an_hour_off_is_found_by_the_mornings() {
    // GHI alone.
    let keep = |line: &str| {
        let cells: Vec<&str> = line.split(',').collect();
        [cells[0], cells[1], cells[4], cells[5]].join(",")
    };
    let file = plain(&example_hours(), 1, local).lines().map(keep).collect::<Vec<_>>().join("\n");
    let with_offset = |offset_h: i32| warned(&with_weather(&file, &format!("utc_offset_h = {offset_h}")));
    assert!(with_offset(3).contains("its times may be an hour or more early"));
    assert!(with_offset(1).contains("its times may be an hour or more late"));
    assert!(!with_offset(2).contains("solar noon"));
}
