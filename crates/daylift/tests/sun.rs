//! Sun from twelve means, and what shades or turns the array, as a run shows them.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use daylift_testing::Plant;
use serde_json::Value;
use support::{Run, stderr, stdout};

const FILE: &str = "file = \"weather.csv\" # hour-ending stamps in local standard time, UTC+2";

const DIRECTION: &str = "tilt_deg = 18 # close to the latitude, steep enough for rain to wash it\n\
                         azimuth_deg = 0 # facing north, towards the equator";

fn with_weather(keys: &str) -> Plant {
    Plant::new().replace("plant.toml", FILE, keys)
}

fn with_array(keys: &str) -> Plant {
    Plant::new().replace("plant.toml", DIRECTION, keys)
}

fn run(plant: &Plant) -> Value {
    let output = plant.run("run", &["--arrangement", "dual-mode", "--step", "1h", "--json"]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    serde_json::from_slice(&output.stdout).unwrap()
}

fn on_plane(run: &Value) -> f64 {
    run["weather"]["plane_kwh_m2"].as_f64().unwrap()
}

#[test]
fn own_means_hold_and_the_seed_decides_about_the_days() {
    // Worked by hand: 5.5 kWh/m² on each of 365 days.
    let means = "daily_ghi_kwh_m2 = [5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5]";
    let first = run(&with_weather(&format!("synthetic = true\n{means}")));
    let other = run(&with_weather(&format!("synthetic = true\nseed = 2\n{means}")));
    for year in [&first, &other] {
        assert!((year["weather"]["ghi_kwh_m2"].as_f64().unwrap() - 2007.5).abs() < 1e-6);
        let source = year["weather"]["source"].as_str().unwrap();
        assert!(
            source.contains("twelve monthly means of the plant file") && source.ends_with("preliminary"),
            "{source}"
        );
    }
    assert!((on_plane(&first) - on_plane(&other)).abs() > 0.01);
    let again = run(&with_weather(&format!("synthetic = true\n{means}")));
    assert!(first == again);
}

#[test]
fn clouds_pass_within_the_hour_and_keep_its_light() {
    let with = |more: &str| with_weather(&format!("file = \"weather.csv\"\n{more}"));
    let at = |plant: &Plant, step: &str| -> Value {
        let output = plant.run("run", &["--arrangement", "solar-drive", "--step", step, "--json"]);
        assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
        serde_json::from_slice(&output.stdout).unwrap()
    };
    let clouds = with("minute_clouds = true");
    for step in ["10min", "1min"] {
        let [smooth, broken, other] =
            [&with("minute_clouds = false"), &clouds, &with("cloud_seed = 2")].map(|plant| at(plant, step));
        let pumped = |run: &Value| run["row"]["water_m3"]["pumped"].as_f64().unwrap();
        assert!((on_plane(&smooth) / on_plane(&broken) - 1.0).abs() < 0.002);
        assert!(pumped(&broken) < pumped(&smooth) && (pumped(&broken) - pumped(&other)).abs() > 0.1);
    }
    assert!(at(&with(""), "10min") == at(&clouds, "10min"));
    for (plant, is_asked) in [(&clouds, true), (&with(""), false)] {
        let hourly = plant.run("compare", &["--step", "1h"]);
        let said = stderr(&hourly).contains("`minute_clouds` has no effect at this step");
        assert_eq!(said, is_asked, "{}", stderr(&hourly));
    }
}

#[test]
fn horizon_rows_and_trackers_show_in_the_run() {
    let base = run(&Plant::new());
    let hills = Plant::new().replace(
        "plant.toml",
        "record_high_c = 37",
        "record_high_c = 37\nhorizon_deg = [20, 20, 15, 0, 0, 0, 5, 15]",
    );
    let rows = with_array(&format!("{DIRECTION}\nrow_pitch_m = 3.0\nrow_width_m = 2.2"));
    let whole = with_array(&format!(
        "{DIRECTION}\nrow_pitch_m = 3.0\nrow_width_m = 2.2\nrow_shade = \"whole\""
    ));
    for (plant, key) in [
        (&hills, "to_horizon_kwh_m2"),
        (&rows, "to_rows_kwh_m2"),
        (&whole, "to_rows_kwh_m2"),
    ] {
        let run = run(plant);
        let taken = run["shade"][key].as_f64().unwrap();
        assert!(
            taken > 10.0 && (on_plane(&run) + taken - on_plane(&base)).abs() < 1e-6,
            "{key}: {taken}"
        );
    }
    assert!(on_plane(&run(&whole)) < on_plane(&run(&rows)));
    let turning = run(&with_array("mounting = \"single-axis\""));
    assert!(on_plane(&turning) > 1.15 * on_plane(&base));
    let printed = stdout(&hills.run("run", &["--arrangement", "solar-drive", "--step", "1h"]));
    assert!(
        printed.contains("shading by the horizon") && printed.contains("by month and hour of the day"),
        "{printed}"
    );
}

#[test]
fn rows_that_shade_each_other_much_are_reported() {
    let tight = "mounting = \"single-axis\"\nrow_pitch_m = 4\nrow_width_m = 2.2\nbacktracking = false";
    let output = with_array(tight).run("compare", &["--step", "1h"]);
    assert!(
        stderr(&output).contains("rows of array shade each other"),
        "{}",
        stderr(&output)
    );
}
