//! Reading a plant with the remembered results of earlier readings gives the same plant as reading it without.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fs;
use std::sync::Arc;

use daylift_plant_file::{Files, Read, read_plant, read_plant_knowing};
use daylift_tables::Known;
use daylift_testing::Plant;

/// The whole result of a reading, as text.
fn as_text(read: &Read) -> String {
    format!("{:?}\n{:?}\n{:?}", read.plant, read.warnings, read.origins)
}

#[test]
fn cached_results_change_nothing() {
    let folder = Plant::new();
    let plant = folder.path().join("plant.toml");
    let known = Arc::new(Known::default());
    let with = || read_plant_knowing(&plant, Files::default(), Arc::clone(&known));
    let edit = |file: &str, from: &str, to: &str| {
        let path = folder.path().join(file);
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.contains(from), "{from}");
        fs::write(path, text.replacen(from, to, 1)).unwrap();
    };
    let mut all = vec![as_text(&with().unwrap())];
    for (file, from, to) in [
        ("plant.toml", "capacity_m3 = 165", "capacity_m3 = 200"),
        // A change of the site, its clock, the sky model or the file itself must read the weather again. A clock far from
        // solar time gives its warning each time.
        ("plant.toml", "latitude_deg = -15.6", "latitude_deg = -14.2"),
        ("plant.toml", "Africa/Lusaka", "Asia/Kolkata"),
        ("plant.toml", "[weather]\n", "[weather]\nsky_model = \"perez\"\n"),
    ] {
        edit(file, from, to);
        let alone = as_text(&read_plant(&plant).unwrap());
        assert_eq!(as_text(&with().unwrap()), alone, "{to}");
        assert_eq!(as_text(&with().unwrap()), alone, "{to}, a second time");
        assert!(!all.contains(&alone), "{to} changed nothing");
        all.push(alone);
    }
}

#[test]
fn faults_are_reported_each_time() {
    let folder = Plant::new();
    let plant = folder.path().join("plant.toml");
    let weather = folder.path().join("weather.csv");
    let text = fs::read_to_string(&weather).unwrap();
    let broken: String = text.lines().take(4000).map(|line| format!("{line}\n")).collect();
    let known = Arc::new(Known::default());
    let with = || read_plant_knowing(&plant, Files::default(), Arc::clone(&known));
    with().unwrap();
    fs::write(&weather, broken).unwrap();
    let faults = with().unwrap_err();
    assert_eq!(faults, with().unwrap_err());
    assert_eq!(faults, read_plant(&plant).unwrap_err());
    fs::write(&weather, text).unwrap();
    with().unwrap();
}
