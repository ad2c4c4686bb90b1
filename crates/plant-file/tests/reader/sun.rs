//! Sun from twelve monthly means, clouds within the hour, shade, and trackers.

use daylift_testing::Plant;

use daylift_testing::layouts::{hours, local, plain};

use crate::support::{read, refused, warned, warns};

const FILE: &str = "file = \"weather.csv\" # hour-ending stamps in local standard time, UTC+2";

const DIRECTION: &str = "tilt_deg = 18 # close to the latitude, steep enough for rain to wash it\n\
                         azimuth_deg = 0 # facing north, towards the equator";

fn with_weather(keys: &str) -> Plant {
    Plant::new().replace("plant.toml", FILE, keys)
}

fn with_array(keys: &str) -> Plant {
    Plant::new().replace("plant.toml", DIRECTION, keys)
}

#[test]
fn the_inputs_of_a_synthetic_year_must_be_plausible() {
    let twelve = |value: &str| format!("[{}]", [value; 12].join(", "));
    for (keys, text) in [
        ("", "without a weather file, `synthetic = true` makes a year"),
        (
            "synthetic = false",
            "without a weather file, `synthetic = true` makes a year",
        ),
        ("synthetic = \"yes\"", "synthetic"),
        (
            "synthetic = true\nfile = \"weather.csv\"",
            "remove `file`, or remove `synthetic`",
        ),
        ("synthetic = true\nstamp = \"end\"", "remove `stamp`"),
        ("synthetic = true\nutc_offset_h = 2", "remove `utc_offset_h`"),
        (
            "file = \"weather.csv\"\nseed = 3",
            "replace `file` by `synthetic = true`",
        ),
        ("synthetic = true\nseed = 1.5", "random seed of the synthetic year"),
        (
            "synthetic = true\ndaily_ghi_kwh_m2 = 5.5",
            "write the numbers in square brackets",
        ),
        (
            "synthetic = true\ndaily_ghi_kwh_m2 = [5, 6]",
            "give one number for each month, January first",
        ),
        ("synthetic = true\nair_low_c = 12", "`air_mean_c` is missing"),
        ("synthetic = true\nair_mean_c = 20\nair_high_c = 30", "add `air_low_c`"),
        (
            "synthetic = true\nair_mean_c = 31\nair_low_c = 12\nair_high_c = 30",
            "31 °C with days from 12 to 30 °C in every month",
        ),
    ] {
        refused(with_weather(keys), &[text]);
    }
    refused(
        with_weather(&format!("synthetic = true\ndaily_ghi_kwh_m2 = {}", twelve("170"))),
        &["divide a monthly sum by the days of the month"],
    );
    // At 15.6° S, 7.6 kWh/m² a day arrive outside the atmosphere in June.
    refused(
        with_weather(&format!("synthetic = true\ndaily_ghi_kwh_m2 = {}", twelve("7"))),
        &["7.00 kWh/m² a day in", "outside the atmosphere", "January first"],
    );
    let at_sea = with_weather("synthetic = true").replace("plant.toml", "longitude_deg = 28.1", "longitude_deg = -130");
    refused(at_sea, &["a site within 1000 km of a land cell"]);
}

#[test]
fn clouds_pass_within_the_hour_unless_they_are_refused() {
    let clouds = |keys: &str| {
        let weather = read(&with_weather(keys)).plant.weather;
        (weather.clouds(), weather.clouds_asked())
    };
    let file = |more: &str| format!("file = \"weather.csv\"\n{more}");
    assert_eq!(clouds(&file("")), (Some(1), false));
    assert_eq!(clouds(&file("cloud_seed = 2")), (Some(2), false));
    assert_eq!(clouds(&file("minute_clouds = true")), (Some(1), true));
    assert_eq!(clouds(&file("minute_clouds = false")), (None, false));
    assert_eq!(clouds("synthetic = true"), (Some(1), false));
}

#[test]
fn weather_of_every_minute_gets_no_clouds_unless_they_are_asked_for() {
    let text = std::fs::read_to_string(daylift_testing::example().join("weather.csv")).unwrap();
    let minutes = plain(&hours(&text), 60, local);
    let with = |more: &str| {
        with_weather(&format!("file = \"minutes.csv\"\nutc_offset_h = 2\n{more}")).write("minutes.csv", &minutes)
    };
    assert_eq!(read(&with("")).plant.weather.clouds(), None);
    let seeded = with("cloud_seed = 2");
    assert_eq!(read(&seeded).plant.weather.clouds(), None);
    warns(seeded, &["`cloud_seed` has no effect"]);
    assert!(read(&with("minute_clouds = true")).plant.weather.clouds_asked());
}

#[test]
fn the_world_grid_is_corrected_by_latitude_or_as_the_file_says() {
    let at = |latitude_deg: &str, more: &str| {
        with_weather(&format!("synthetic = true\n{more}")).replace(
            "plant.toml",
            "latitude_deg = -15.6",
            &format!("latitude_deg = {latitude_deg}"),
        )
    };
    let yearly = |latitude_deg: &str, more: &str| read(&at(latitude_deg, more)).plant.weather.ghi_j_m2();
    // Every month keeps its mean exactly, so the year is divided by 1 + the correction, worked by hand.
    for (latitude_deg, more, divisor) in [
        ("-15.6", "", 1.01),
        ("-29.9", "", 1.01),
        ("-30", "", 1.11),
        ("36", "", 1.11),
        ("36", "correction_pct = -5", 0.95),
        ("-15.6", "correction_pct = 7.5", 1.075),
    ] {
        let ratio = yearly(latitude_deg, "correction_pct = 0") / yearly(latitude_deg, more);
        assert!((ratio - divisor).abs() < 1e-6, "{latitude_deg} {more}: {ratio}");
    }
    for (more, source) in [
        (
            "",
            "divided by 1.01 because it reads about 1% too high at stations below 30° of latitude, seed 1",
        ),
        ("correction_pct = 7.5", "divided by 1.075 (`correction_pct`)"),
        ("correction_pct = 0", "uncorrected (`correction_pct = 0`)"),
    ] {
        let plant = at("-15.6", more);
        let station = read(&plant).plant.weather_source.station;
        assert!(station.contains(source), "{station}");
        let warnings = warned(&plant);
        assert!(warnings.contains(source.trim_end_matches(", seed 1")), "{warnings}");
    }
}

#[test]
fn only_the_world_grid_is_corrected() {
    let means = format!("daily_ghi_kwh_m2 = [{}]", ["5.5"; 12].join(", "));
    refused(
        with_weather(&format!("synthetic = true\ncorrection_pct = 5\n{means}")),
        &["remove `correction_pct`, or remove `daily_ghi_kwh_m2`"],
    );
    refused(
        with_weather("file = \"weather.csv\"\ncorrection_pct = 5"),
        &["remove `correction_pct`, or replace `file` by `synthetic = true`"],
    );
    refused(with_weather("synthetic = true\ncorrection_pct = 31"), &["-30 to 30%"]);
    let own = read(&with_weather(&format!("synthetic = true\n{means}"))).plant;
    // By hand: 365 days of 5.5 kWh/m².
    assert!((own.weather.ghi_j_m2() / 3.6e6 - 2007.5).abs() < 1e-6);
    assert!(!own.weather_source.station.contains("divided"));
}

#[test]
fn a_cloud_seed_is_not_allowed_without_clouds() {
    let with = |more: &str| with_weather(&format!("file = \"weather.csv\"\n{more}"));
    refused(
        with("minute_clouds = false\ncloud_seed = 2"),
        &["remove `cloud_seed`, or remove `minute_clouds = false`"],
    );
    refused(with("minute_clouds = \"yes\""), &["minute_clouds"]);
    refused(
        with("minute_clouds = true\ncloud_seed = -1"),
        &["seed of the clouds within the hour"],
    );
}

#[test]
fn impossible_arrays_are_refused() {
    let fixed = |more: &str| with_array(&format!("{DIRECTION}\n{more}"));
    for (plant, text) in [
        (fixed("row_pitch_m = 3"), "add `row_width_m`"),
        (fixed("row_shade = \"whole\""), "add `row_pitch_m`"),
        (
            fixed("row_pitch_m = 2\nrow_width_m = 5"),
            "are `row_pitch_m` and `row_width_m` swapped?",
        ),
        (fixed("axis_tilt_deg = 5"), "add `mounting = \"single-axis\"`"),
        (fixed("backtracking = true"), "`backtracking` on a fixed plane"),
        (
            with_array("mounting = \"single-axis\"\ntilt_deg = 20"),
            "a tracker has an axis instead",
        ),
        (
            with_array("mounting = \"single-axis\"\nbacktracking = true"),
            "true, without rows",
        ),
        (with_array("mounting = \"two-axis\""), "\"fixed\", \"single-axis\""),
        (with_array("mounting = \"fixed\""), "add `tilt_deg` to [array]"),
        (
            Plant::new().replace(
                "plant.toml",
                "record_high_c = 37",
                "record_high_c = 37\nhorizon_deg = [20, 20]",
            ),
            "4 to 360 values",
        ),
    ] {
        refused(plant, &[text]);
    }
}
