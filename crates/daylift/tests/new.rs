//! `new`, and what becomes of values that are not confirmed.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::fs;
use std::path::Path;

use daylift_testing::{Plant, example};
use serde_json::Value;
use support::{Run, daylift, stderr, stdout};
use tempfile::TempDir;

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn a_new_plant_is_the_example_with_its_values_assumed() {
    let dir = TempDir::new().unwrap();
    let folder = dir.path().join("farms/north");
    let output = daylift(&["new", folder.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let shown = folder.display();
    let text = stdout(&output);
    assert!(text.contains(&format!("daylift check {shown}")) && text.contains(&format!("daylift compare {shown}")));
    let wanted: Vec<String> = names(&example()).into_iter().filter(|n| !n.ends_with(".py")).collect();
    assert_eq!(names(&folder), wanted);
    assert_eq!(
        names(folder.parent().unwrap()),
        ["north"],
        "a temporary folder is left next to it"
    );
    let plant = fs::read_to_string(folder.join("plant.toml")).unwrap();
    assert!(
        plant.ends_with("\n[[origin]]\nof = [\"*\"]\nis = \"assumed\"\n")
            && plant.starts_with("# Started from the worked example mulenga-ridge. ")
            && !plant.contains("citrus")
    );
    assert_eq!(
        fs::read(folder.join("weather.csv")).unwrap(),
        fs::read(example().join("weather.csv")).unwrap()
    );
    let readme = fs::read_to_string(folder.join("README.md")).unwrap();
    assert!(
        readme.starts_with("# north\n") && readme.contains("worked example *mulenga-ridge*"),
        "{readme}"
    );
    for name in names(&folder).iter().filter(|name| *name != "README.md") {
        assert!(readme.contains(&format!("| `{name}` | ")), "{name} is not in: {readme}");
    }
    assert!(!readme.contains(".py"), "{readme}");
    let check = stdout(&daylift(&["check", folder.to_str().unwrap()]));
    assert!(
        check.contains("\n  0 values given, ") && check.contains("    well.static_level_m  "),
        "{check}"
    );
    assert!(
        check.contains("--values` lists every value") && check.lines().count() < 45,
        "{check}"
    );
    let all = stdout(&daylift(&["check", folder.to_str().unwrap(), "--values"]));
    assert!(
        all.contains("assumed: plant.toml, line ") && all.contains("array.albedo"),
        "{all}"
    );
}

#[test]
fn an_empty_folder_is_filled_and_any_other_refused() {
    let dir = TempDir::new().unwrap();
    let folder = dir.path().join("farm");
    fs::create_dir(&folder).unwrap();
    let call = || daylift(&["new", folder.to_str().unwrap(), "--from", "mulenga-ridge"]);
    assert_eq!(call().status.code(), Some(0));
    let before = names(&folder);
    let again = call();
    assert_eq!(again.status.code(), Some(2));
    assert!(stderr(&again).contains("is not empty; `new` overwrites nothing"));
    assert_eq!(names(&folder), before);
    let file = dir.path().join("file");
    fs::write(&file, "x").unwrap();
    let output = daylift(&["new", file.to_str().unwrap()]);
    assert!(output.status.code() == Some(2) && stderr(&output).contains("is not a folder"));
    assert_eq!(fs::read_to_string(&file).unwrap(), "x");
    assert_eq!(names(dir.path()), ["farm", "file"]);
}

#[test]
fn an_unknown_example_lists_those_there_are() {
    let output = daylift(&["new", "nowhere", "--from", "atlantis"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("mulenga-ridge"));
    assert!(!Path::new("nowhere").exists());
}

fn assuming(list: &str) -> Plant {
    Plant::new().replace(
        "plant.toml",
        "format = 1",
        &format!("format = 1\norigin = [{{ of = {list}, is = \"assumed\" }}]"),
    )
}

#[test]
fn assumed_values_are_reported_in_every_row_and_listed_with_their_origin() {
    let plant = assuming("[\"well\", \"tank.capacity_m3\", \"pump.head_m\"]");
    let compare: Value = serde_json::from_slice(&plant.run("compare", &["--json", "--step", "1h"]).stdout).unwrap();
    for row in compare["arrangements"].as_array().unwrap() {
        let warnings = row["warnings"].as_array().unwrap();
        let expected = "assumed: 8 values are assumed or generic: pump, well, tank";
        assert!(
            warnings.iter().any(|w| {
                let mut words: Vec<&str> = w.as_str().unwrap().split([' ', ',']).collect();
                let mut wanted: Vec<&str> = expected.split([' ', ',']).collect();
                words.sort_unstable();
                wanted.sort_unstable();
                words == wanted
            }),
            "{warnings:?}"
        );
    }
    let run: Value =
        serde_json::from_slice(&plant.run("run", &["--arrangement", "grid-only", "--json", "--step", "1h"]).stdout)
            .unwrap();
    let origins = run["origins"].as_array().unwrap();
    let of = |path: &str| origins.iter().find(|o| o["path"] == path).unwrap_or_else(|| panic!("{path}"));
    assert_eq!(of("well.intake_depth_m")["state"], "assumed");
    assert_eq!(of("pump.head_m")["value"][1], 125.5);
    let tank = of("tank.restart_pct");
    assert!(tank["state"] == "given" && tank["value"] == 90.0 && tank["unit"] == "%");
    let albedo = of("array.albedo");
    assert!(albedo["state"] == "default" && albedo["source"] == "usual practice for grass and soil");
    assert_eq!(of("grid.export")["value"], "paid");
    assert!(of("well.static_level_m")["source"].as_str().unwrap().starts_with("plant.toml, line "));
}

#[test]
fn an_entry_that_names_nothing_is_a_fault() {
    let output = assuming("[\"well\", \"tank.capcity_m3\", \"pipe[7].bore_mm\"]").run("check", &[]);
    assert_eq!(output.status.code(), Some(1));
    let text = stderr(&output);
    assert!(
        text.contains("values that this entry marks: \"tank.capcity_m3\""),
        "{text}"
    );
    assert!(text.contains("did you mean \"tank.capacity_m3\"?"), "{text}");
    assert!(
        text.contains("\"pipe[7].bore_mm\"") && text.contains("2 faults found"),
        "{text}"
    );
    let wrong_type = assuming("\"well\"").run("check", &[]);
    assert!(stderr(&wrong_type).contains("write them in quotes, in square brackets"));
}

#[test]
fn an_unknown_working_lists_all_names_and_all_prints_every_working() {
    let plant = example();
    let run = |row: &str, name: &str| {
        daylift(&[
            "run",
            plant.to_str().unwrap(),
            "--arrangement",
            row,
            "--step",
            "1h",
            "--explain",
            name,
        ])
    };
    let unknown = run("grid-tied", "luck");
    assert_eq!(unknown.status.code(), Some(2));
    // The performance ratio is of an inverter alone, the current back through a string of a drive.
    let all = stdout(&run("grid-tied", "all")) + &stdout(&run("dual-mode", "all"));
    for name in daylift_study::workings::NAMES {
        assert!(stderr(&unknown).contains(name), "{name} is not listed");
        assert!(all.contains(&format!("\n  {name} = ")), "{name} is not printed");
    }
}

#[test]
fn an_entry_that_covers_no_value_is_reported() {
    let output = assuming("[\"pump_set\", \"array.albedo\", \"well\"]").run("check", &[]);
    let said = stdout(&output).split_whitespace().collect::<Vec<_>>().join(" ");
    for entry in ["pump_set", "array.albedo"] {
        let expected = format!("\"{entry}\" in the list matches no value given in the files");
        assert!(said.contains(&expected), "{said}");
    }
    assert!(!said.contains("\"well\" in the list"), "{said}");
}

fn at(folder: &Path, more: &[&str]) -> std::process::Output {
    let mut words = vec!["new", folder.to_str().unwrap()];
    words.extend(more);
    daylift(&words)
}

#[test]
fn coordinates_alone_make_a_plant_that_runs_at_once() {
    let dir = TempDir::new().unwrap();
    for (name, from, latitude, longitude) in [
        ("ridge", "mulenga-ridge", "31.5", "74.3"),
        ("weirs", "three-weirs", "-33", "-70.6"),
        ("post", "tamarind-post", "14.7", "-17.4"),
    ] {
        let folder = dir.path().join(name);
        let made = at(
            &folder,
            &["--from", from, "--latitude", latitude, "--longitude", longitude],
        );
        assert_eq!(made.status.code(), Some(0), "{}", stderr(&made));
        assert!(stdout(&made).contains("preliminary"), "{}", stdout(&made));
        assert!(!names(&folder).contains(&"weather.csv".to_owned()));
        let text = fs::read_to_string(folder.join("plant.toml")).unwrap();
        assert!(text.contains(&format!("name = \"{name}\"")) && text.contains(&format!("latitude_deg = {latitude} ")));
        assert!(!text.contains("\nrecord_low_c"), "another place's record");
        let given = "\n[[origin]]\nof = [\"site.latitude_deg\", \"site.longitude_deg\"]\nis = \"given\"\ndate = 20";
        assert!(text.contains(given), "{text}");
        let values = stdout(&daylift(&["check", folder.to_str().unwrap(), "--values"]));
        assert!(
            values.contains("2 values given, ") && values.contains(", entered with `daylift new`: plant.toml"),
            "{values}"
        );
        let compared = daylift(&["compare", folder.to_str().unwrap(), "--step", "1h", "--json"]);
        assert_eq!(compared.status.code(), Some(0), "{}", stderr(&compared));
        let answer: Value = serde_json::from_str(&stdout(&compared)).unwrap();
        let source = answer["weather"]["source"].as_str().unwrap();
        assert!(
            source.contains("world grid") && source.contains("preliminary"),
            "{source}"
        );
        assert!(
            stderr(&compared).contains("reads 1 to 11% too high at three stations"),
            "{}",
            stderr(&compared)
        );
        assert!(answer["weather"]["ghi_kwh_m2"].as_f64().unwrap() > 1500.0);
    }
}

#[test]
fn the_array_faces_the_equator_wherever_the_farm_is() {
    let dir = TempDir::new().unwrap();
    for (name, latitude, azimuth) in [
        ("south", "-33", "azimuth_deg = 0 "),
        ("north", "33", "azimuth_deg = 180 "),
    ] {
        let folder = dir.path().join(name);
        let more = [
            "--latitude",
            latitude,
            "--longitude",
            "20",
            "--altitude",
            "900",
            "--time-zone",
            "Africa/Johannesburg",
        ];
        assert_eq!(at(&folder, &more).status.code(), Some(0));
        let text = fs::read_to_string(folder.join("plant.toml")).unwrap();
        assert!(text.contains(azimuth) && text.contains("tilt_deg = 33 "), "{text}");
        assert!(
            text.contains("altitude_m = 900 ") && text.contains("time_zone = \"Africa/Johannesburg\""),
            "{text}"
        );
    }
}

#[test]
fn an_invalid_place_is_refused_before_anything_is_written() {
    let dir = TempDir::new().unwrap();
    for (more, expected) in [
        (&["--latitude", "10"][..], "--longitude"),
        (&["--longitude", "10"], "--latitude"),
        (&["--latitude", "91", "--longitude", "0"], "-66 to 66°"),
        (&["--latitude", "15,6", "--longitude", "0"], "not a number"),
        (&["--latitude", "NaN", "--longitude", "0"], "-66 to 66°"),
        (&["--latitude", "10", "--longitude", "200"], "-180 to 180°"),
        (
            &["--latitude", "10", "--longitude", "20", "--altitude", "9000"],
            "-430 to",
        ),
        (&["--altitude", "10"], "--latitude"),
        (
            &["--latitude", "10", "--longitude", "20", "--time-zone", "Lusaka"],
            "Africa/Lusaka",
        ),
        (&["--time-zone", "Africa/Lusaka"], "--latitude"),
        (&["--latitude", "", "--longitude", "0"], "not a number"),
        (&["--latitude", "1e400", "--longitude", "0"], "-66 to 66°"),
    ] {
        let folder = dir.path().join("farm");
        let output = at(&folder, more);
        assert_eq!(output.status.code(), Some(2), "{more:?}");
        assert!(stderr(&output).contains(expected), "{more:?}: {}", stderr(&output));
        assert!(!folder.exists());
    }
}
