//! Sun from twelve monthly means, clouds within the hour, shade, and trackers.

use daylift_testing::Plant;

use crate::support::refused;

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
fn a_cloud_seed_is_allowed_only_with_clouds_within_the_hour() {
    let with = |more: &str| with_weather(&format!("file = \"weather.csv\"\n{more}"));
    refused(
        with("cloud_seed = 2"),
        &["add `minute_clouds = true`, or remove `cloud_seed`"],
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
