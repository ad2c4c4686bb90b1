//! Saving changes in the plant's files: in full, with their comments, and never over an unknown text.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::fs;
use std::time::{Duration, SystemTime};

use serde_json::{Value, json};
use support::{Asked, change, input};

/// Files of the plant's folder.
fn names(desk: &Asked) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(desk.folder())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn only_the_values_change() {
    let desk = Asked::new();
    let (before, files) = (desk.text("plant.toml"), names(&desk));
    let changes = json!([
        { "file": "plant.toml", "keys": "tank.capacity_m3", "value": 200 },
        { "file": "plant.toml", "keys": "array.soiling_pct", "value": 3.5 },
        { "file": "plant.toml", "keys": "pipe[2].bore_mm", "value": 110 },
        { "file": "plant.toml", "keys": "tariff.season[2].prices[3].per_kwh", "value": 0.2 },
        { "file": "plant.toml", "keys": "name", "value": "Mulenga \"North\"" },
        { "file": "plant.toml", "keys": "pumping.mains_hours", "value": [7, 18] },
    ]);
    let saved = desk.save(&changes, &desk.stamp()).answered();
    let wanted = [
        ("capacity_m3 = 165 # about", "capacity_m3 = 200 # about"),
        ("soiling_pct = 4.0 # red", "soiling_pct = 3.5 # red"),
        ("bore_mm = 93.8", "bore_mm = 110.0"),
        ("per_kwh = 0.16", "per_kwh = 0.2"),
        ("\"Mulenga Ridge\"", "'Mulenga \"North\"'"),
        ("mains_hours = [6, 18]", "mains_hours = [7, 18]"),
    ];
    let wanted = wanted.iter().fold(before, |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    });
    assert_eq!(desk.text("plant.toml"), wanted);
    assert_eq!(names(&desk), files, "no temporary file is left");
    // The answer has the stamp of the files as they are now.
    assert_eq!(saved["stamp"], desk.stamp());
    desk.save(&change("tank.capacity_m3", 201), saved["stamp"].as_str().unwrap()).answered();
}

#[test]
fn removing_a_value_keeps_the_comments_of_the_others() {
    let desk = Asked::new();
    let before = desk.text("plant.toml");
    let line = "soiling_pct = 4.0 # red dust in the dry months, washed by hand every third week\n";
    desk.save(&change("array.soiling_pct", Value::Null), &desk.stamp()).answered();
    assert_eq!(desk.text("plant.toml"), before.replace(line, ""));
}

#[test]
fn equipment_and_plant_are_saved_together() {
    let desk = Asked::new();
    let pump = desk.text("pump.toml");
    let changes = json!([
        { "file": "plant.toml", "keys": "tank.capacity_m3", "value": 200 },
        { "file": "pump.toml", "keys": "name", "value": "Another" },
    ]);
    desk.save(&changes, &desk.stamp()).answered();
    let name = pump.lines().find(|line| line.starts_with("name =")).unwrap();
    assert_eq!(desk.text("pump.toml").lines().count(), pump.lines().count());
    assert!(!desk.text("pump.toml").contains(name) && desk.text("pump.toml").contains("name = \"Another\""));
    assert!(desk.text("plant.toml").contains("capacity_m3 = 200"));
}

#[test]
fn a_file_changed_by_another_program_is_reported_and_not_overwritten() {
    let changes = change("tank.capacity_m3", 200);
    for file in ["plant.toml", "pump.toml", "battery.toml"] {
        let desk = Asked::new();
        let stamp = desk.stamp();
        let edited = format!("{}# a remark\n", desk.text(file));
        fs::write(desk.folder().join(file), &edited).unwrap();
        assert!(desk.save(&changes, &stamp).why(409).contains("changed since"), "{file}");
        assert_eq!(desk.text(file), edited);
        assert!(desk.text("plant.toml").contains("capacity_m3 = 165"));
        // A new request reads them.
        desk.save(&changes, &desk.stamp()).answered();
        assert!(desk.text(file).contains("# a remark\n"));
    }
    let desk = Asked::new();
    let stamp = desk.stamp();
    for spoilt in [
        "",
        "x",
        "0000000000000000 plant.toml\n",
        &stamp.replace("plant.toml", "../plant.toml"),
    ] {
        desk.save(&changes, spoilt).why(409);
    }
    // A page that saved has the new stamp; a page with the old stamp gets a report.
    desk.save(&changes, &stamp).answered();
    desk.save(&change("tank.capacity_m3", 300), &stamp).why(409);
    // Faults of the new text, or of a broken file, do not hide that it changed.
    let stamp = desk.stamp();
    fs::remove_file(desk.folder().join("motor.toml")).unwrap();
    desk.save(&change("tank.capacity_m3", -1), &stamp).why(409);
    assert!(desk.text("plant.toml").contains("capacity_m3 = 200"));
}

#[test]
fn a_plant_with_faults_is_not_written() {
    let desk = Asked::new();
    let (before, stamp) = (desk.text("plant.toml"), desk.stamp());
    let changes = json!([
        { "file": "plant.toml", "keys": "name", "value": "Another" },
        { "file": "plant.toml", "keys": "tank.capacity_m3", "value": -1 },
    ]);
    let fault = desk.save(&changes, &stamp).fault();
    assert_eq!(fault["path"], "tank.capacity_m3");
    assert_eq!(desk.text("plant.toml"), before);
}

#[test]
fn a_file_may_be_replaced_by_another() {
    let desk = Asked::new();
    fs::write(desk.folder().join("pump-2.toml"), desk.text("pump.toml")).unwrap();
    let changes = json!([
        { "file": "pump.toml", "keys": "name", "value": "Old" },
        { "file": "plant.toml", "keys": "pump.file", "value": "pump-2.toml" },
    ]);
    let first = desk.answer("plant.toml", &changes).answered();
    assert_eq!(input(&first, "pump-2.toml", "flow_m3_h")["state"], "given");
    let mut all = changes.as_array().unwrap().clone();
    all.push(json!({ "file": "pump-2.toml", "keys": "name", "value": "New" }));
    // With the stamp of the answer that read the new file.
    desk.save(&json!(all), first["stamp"].as_str().unwrap()).answered();
    assert!(desk.text("pump-2.toml").contains("name = \"New\""));
    assert!(desk.text("plant.toml").contains("file = \"pump-2.toml\""));
    // The page has never read its text.
    let desk = Asked::new();
    fs::write(desk.folder().join("pump-2.toml"), desk.text("pump.toml")).unwrap();
    desk.save(&json!(all), &desk.stamp()).why(409);
    assert!(desk.text("plant.toml").contains("file = \"pump.toml\""));
}

#[test]
fn windows_line_ends_and_a_byte_order_mark_stay() {
    let desk = Asked::new();
    let windows = format!("\u{feff}{}", desk.text("plant.toml").replace('\n', "\r\n"));
    fs::write(desk.folder().join("plant.toml"), &windows).unwrap();
    let changes = json!([
        { "file": "plant.toml", "keys": "tank.capacity_m3", "value": 200 },
        { "file": "plant.toml", "keys": "array.albedo", "value": 0.25 },
    ]);
    let fault = desk.answer("plant.toml", &change("tank.capacity_m3", -1)).fault();
    let line = windows.lines().position(|line| line.starts_with("capacity_m3 = 165")).unwrap() + 1;
    assert_eq!(fault["line"], line);
    desk.save(&changes, &desk.stamp()).answered();
    let text = desk.text("plant.toml");
    let added = "light_induced_pct = 1.0 # as the datasheet states\r\n";
    assert!(windows.contains(added));
    assert_eq!(
        text.replace("albedo = 0.25\r\n", ""),
        windows.replace("capacity_m3 = 165", "capacity_m3 = 200")
    );
    assert!(text.contains("[array]\r\n") && text.contains("\r\nalbedo = 0.25\r\n"));
}

#[test]
fn a_read_only_file_stays() {
    let desk = Asked::new();
    let (before, stamp, files) = (desk.text("plant.toml"), desk.stamp(), names(&desk));
    let path = desk.folder().join("plant.toml");
    let mut permissions = fs::metadata(&path).unwrap().permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&path, permissions).unwrap();
    let changes = json!([
        { "file": "pump.toml", "keys": "name", "value": "Another" },
        { "file": "plant.toml", "keys": "tank.capacity_m3", "value": 200 },
    ]);
    let pump = desk.text("pump.toml");
    let why = desk.save(&changes, &stamp).why(403);
    assert!(why.contains("plant.toml is read-only"), "{why}");
    assert_eq!((desk.text("plant.toml"), desk.text("pump.toml")), (before, pump));
    assert_eq!(names(&desk), files, "no temporary file is left");
    // A file without changes need not be writable.
    desk.save(&json!(changes.as_array().unwrap()[..1]), &stamp).answered();
}

#[cfg(unix)]
#[test]
fn a_file_keeps_its_permissions() {
    use std::os::unix::fs::PermissionsExt;
    let desk = Asked::new();
    let path = desk.folder().join("plant.toml");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
    desk.save(&change("tank.capacity_m3", 200), &desk.stamp()).answered();
    assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o640);
}

#[test]
fn the_same_value_writes_nothing() {
    let desk = Asked::new();
    let path = desk.folder().join("plant.toml");
    let written = || fs::metadata(&path).unwrap().modified().unwrap();
    let long_ago = SystemTime::UNIX_EPOCH + Duration::from_secs(1_000_000_000);
    fs::File::options().write(true).open(&path).unwrap().set_modified(long_ago).unwrap();
    let before = written();
    let stamp = desk.stamp();
    let saved = desk.save(&change("tank.capacity_m3", 165), &stamp).answered();
    assert_eq!((saved["stamp"].as_str().unwrap(), written()), (&*stamp, before));
}
