//! Nothing outside the opened folder is read or written.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::fs;
use std::path::Path;

use daylift_desk::Desk;
use serde_json::{Value, json};
use support::{Asked, PORT, change, copy, options};
use tempfile::TempDir;

/// A folder with the example in `in`, and a plant next to it that the desk may not see.
fn beside_another() -> TempDir {
    let folder = TempDir::new().unwrap();
    copy("mulenga-ridge", &folder.path().join("in"));
    copy("mulenga-ridge", &folder.path().join("out"));
    folder
}

/// Every file below a folder with its content.
fn contents(folder: &Path) -> Vec<(std::path::PathBuf, Vec<u8>)> {
    let files = walkdir::WalkDir::new(folder).sort_by_file_name().into_iter().map(Result::unwrap);
    let files = files.filter(|entry| entry.file_type().is_file());
    files.map(|entry| (entry.path().to_owned(), fs::read(entry.path()).unwrap())).collect()
}

#[test]
fn wrong_files_are_refused() {
    let folder = beside_another();
    let desk = Asked::at(folder.path().join("in"));
    fs::create_dir(folder.path().join("in/sub.toml")).unwrap();
    let before = contents(folder.path());
    let absolute = folder.path().join("in/plant.toml").display().to_string();
    let stamp = desk.stamp();
    let wrong = [
        "../out/plant.toml",
        "../in/plant.toml",
        "x/../../out/plant.toml",
        "./plant.toml",
        "plant.toml/",
        &absolute,
        "/etc/passwd",
        "weather.csv",
        "README.md",
        "sub.toml",
        "none.toml",
        "",
        ".",
        "..",
        "plant.toml\u{0}",
        "plant.toml\n",
        &"a/".repeat(5000),
    ];
    for file in wrong {
        let why = desk.answer(file, &json!([])).why(400);
        assert!(
            why.contains("is not a file in the opened folder") || why.contains("is not a TOML file"),
            "{file}: {why}"
        );
        let change = json!([{ "file": file, "keys": "tank.capacity_m3", "value": 200 }]);
        desk.answer("plant.toml", &change).why(400);
        desk.save(&change, &stamp).why(400);
    }
    assert_eq!(contents(folder.path()), before);
}

#[test]
fn a_file_that_the_plant_does_not_use_is_not_written() {
    let folder = beside_another();
    let desk = Asked::at(folder.path().join("in"));
    let other = folder.path().join("in/other.toml");
    fs::write(&other, "a = 1\n").unwrap();
    let stamp = desk.stamp();
    let change = json!([{ "file": "other.toml", "keys": "a", "value": 2 }]);
    assert!(desk.answer("plant.toml", &change).why(400).contains("not a file of this plant"));
    desk.save(&change, &stamp).why(400);
    desk.save(&change, &format!("{stamp}0000000000000000 other.toml\n")).why(409);
    assert_eq!(fs::read_to_string(&other).unwrap(), "a = 1\n");
}

#[test]
fn paths_in_a_plants_files_lead_nowhere_else() {
    let folder = beside_another();
    let desk = Asked::at(folder.path().join("in"));
    let plain = [
        ("pump.file", "pump.toml"),
        ("pump.motor", "motor.toml"),
        ("drive.file", "drive.toml"),
        ("weather.file", "weather.csv"),
        ("grid.outages", "outages.csv"),
        ("load[1].file", "cold-room.csv"),
        ("battery.file", "battery.toml"),
        ("array.module", "module.toml"),
    ];
    for (keys, file) in plain {
        for (path, words) in [
            (format!("../out/{file}"), "which is outside"),
            (format!("../in/../out/{file}"), "which is outside"),
            (
                folder.path().join("in").join(file).display().to_string(),
                "path relative",
            ),
            ("/dev/zero".to_owned(), "path relative"),
            (".".to_owned(), "is not a file"),
            ("none.toml".to_owned(), "no such file"),
            (String::new(), "path relative"),
        ] {
            let fault = desk.answer("plant.toml", &change(keys, path.clone())).fault();
            assert_eq!(fault["file"], "plant.toml");
            assert_eq!(fault["path"], keys, "{path}");
            assert!(fault["line"].as_u64().unwrap() > 1);
            let text = format!("{} {}", fault["given"], fault["allowed"]);
            assert!(text.contains(words), "{keys} = {path}: {text}");
        }
    }
    // A path up and back down leads to the folder itself.
    desk.answer("plant.toml", &change("pump.file", "../in/pump.toml")).answered();
}

#[cfg(unix)]
#[test]
fn links_out_of_the_folder_are_not_followed() {
    use std::os::unix::fs::symlink;
    let folder = beside_another();
    let inside = folder.path().join("in");
    symlink("../out/plant.toml", inside.join("link.toml")).unwrap();
    symlink("../out", inside.join("linked")).unwrap();
    symlink("plant.toml", inside.join("own.toml")).unwrap();
    symlink("nowhere.toml", inside.join("dangling.toml")).unwrap();
    symlink("loop.toml", inside.join("loop.toml")).unwrap();
    let desk = Asked::at(&inside);
    let stamp = desk.stamp();
    let before = contents(&folder.path().join("out"));
    for file in [
        "link.toml",
        "linked/plant.toml",
        "linked/../plant.toml",
        "dangling.toml",
        "loop.toml",
    ] {
        if file != "linked/../plant.toml" {
            desk.answer(file, &json!([])).why(400);
        }
        let change = json!([{ "file": file, "keys": "tank.capacity_m3", "value": 200 }]);
        let status = desk.save(&change, &stamp).status.as_u16();
        assert!([400, 409].contains(&status), "{file}: {status}");
    }
    for (path, words) in [
        ("linked/pump.toml", "is outside"),
        ("link.toml", "is outside"),
        ("dangling.toml", "no such file"),
    ] {
        let fault = desk.answer("plant.toml", &change("pump.file", path)).fault();
        assert!(fault["given"].as_str().unwrap().contains(words), "{fault}");
    }
    assert_eq!(contents(&folder.path().join("out")), before);
    let plant_list = desk.get("/api/plants").answered();
    let ids: Vec<&Value> = plant_list["plants"].as_array().unwrap().iter().map(|plant| &plant["id"]).collect();
    assert_eq!(ids, ["plant.toml"]);
    // A link within the folder counts as the file that it names, also for writing.
    let own = desk.answer("own.toml", &json!([])).answered();
    let body = json!({
        "plant": "own.toml", "stamp": own["stamp"],
        "changes": [{ "file": "own.toml", "keys": "tank.capacity_m3", "value": 200 }],
    });
    desk.post("/api/save", &body).answered();
    assert!(fs::symlink_metadata(inside.join("own.toml")).unwrap().is_symlink());
    assert!(
        fs::read_to_string(inside.join("plant.toml"))
            .unwrap()
            .contains("capacity_m3 = 200 # about")
    );
    // The desk is opened with a link to a plant file in another folder.
    let why = Desk::open(&options(&inside.join("link.toml")), PORT).unwrap_err();
    assert!(why.contains("is a link"), "{why}");
}

#[cfg(unix)]
#[test]
fn a_folder_may_be_opened_through_a_link() {
    let folder = beside_another();
    std::os::unix::fs::symlink("in", folder.path().join("way")).unwrap();
    let desk = Asked::at(folder.path().join("way"));
    let stamp = desk.stamp();
    desk.save(&change("tank.capacity_m3", 200), &stamp).answered();
    assert!(
        fs::read_to_string(folder.path().join("in/plant.toml"))
            .unwrap()
            .contains("capacity_m3 = 200")
    );
    let fault = desk.answer("plant.toml", &change("tank.capacity_m3", -1)).fault();
    assert_eq!(fault["file"], "plant.toml");
}

#[test]
fn equipment_that_plants_share_is_one_file() {
    let folder = TempDir::new().unwrap();
    copy("mulenga-ridge", &folder.path().join("a"));
    fs::rename(folder.path().join("a/motor.toml"), folder.path().join("motor.toml")).unwrap();
    let plant = folder.path().join("a/plant.toml");
    let text = fs::read_to_string(&plant)
        .unwrap()
        .replace("motor = \"motor.toml\"", "motor = \"../motor.toml\"");
    fs::write(&plant, text).unwrap();
    let desk = Asked::at(folder.path());
    let answer = desk.answer("a/plant.toml", &json!([])).answered();
    let power = |answer: &Value| support::input(answer, "a/../motor.toml", "rated_power_kw")["value"].clone();
    assert_eq!(power(&answer), 11.0);
    // Under two names; the second change counts.
    let changes = json!([
        { "file": "a/../motor.toml", "keys": "rated_power_kw", "value": 12 },
        { "file": "motor.toml", "keys": "rated_power_kw", "value": 11.5 },
    ]);
    let changed = desk.answer("a/plant.toml", &changes).answered();
    assert_eq!(power(&changed), 11.5);
    let body = json!({ "plant": "a/plant.toml", "stamp": changed["stamp"], "changes": changes });
    desk.post("/api/save", &body).answered();
    let written = fs::read_to_string(folder.path().join("motor.toml")).unwrap();
    assert!(written.contains("rated_power_kw = 11.5 # at the shaft"), "{written}");
}

#[test]
fn a_plant_file_may_have_any_name() {
    let folder = TempDir::new().unwrap();
    copy("mulenga-ridge", folder.path());
    let file = folder.path().join("my farm.toml");
    fs::rename(folder.path().join("plant.toml"), &file).unwrap();
    let desk = Desk::open(&options(&file), PORT).unwrap();
    assert_eq!(desk.first_view(), "#/plant/my%20farm.toml");
    let desk = Asked::at(&file);
    let plant_list = desk.get("/api/plants").answered();
    assert_eq!(
        plant_list["plants"],
        json!([{ "id": "my farm.toml", "name": "Mulenga Ridge" }])
    );
    let answer = desk.answer("my farm.toml", &json!([])).answered();
    let changes = json!([{ "file": "my farm.toml", "keys": "tank.capacity_m3", "value": 180 }]);
    let body = json!({ "plant": "my farm.toml", "stamp": answer["stamp"], "changes": changes });
    desk.post("/api/save", &body).answered();
    assert!(fs::read_to_string(&file).unwrap().contains("capacity_m3 = 180 # about"));
    let why = Desk::open(&options(&folder.path().join("weather.csv")), PORT).unwrap_err();
    assert!(why.contains("is not a plant file"), "{why}");
    let why = Desk::open(&options(&folder.path().join("none")), PORT).unwrap_err();
    assert!(why.contains("cannot open"), "{why}");
}

#[test]
fn files_that_are_not_text_are_reported_with_their_line() {
    let desk = Asked::new();
    let put = |file: &str, bytes: &[u8]| fs::write(desk.folder().join(file), bytes).unwrap();
    let sound = desk.text("pump.toml");
    put("pump.toml", b"format = 1\nname = \"\xff\"\n");
    let fault = desk.answer("plant.toml", &json!([])).fault();
    assert_eq!(
        (&fault["file"], &fault["path"]),
        (&json!("plant.toml"), &json!("pump.file"))
    );
    assert!(
        fault["given"].as_str().unwrap().contains("is not UTF-8 text (line 2)"),
        "{fault}"
    );
    let changes = json!([{ "file": "pump.toml", "keys": "name", "value": "x" }]);
    let fault = desk.answer("plant.toml", &changes).fault();
    assert_eq!(fault["file"], "pump.toml");
    assert!(fault["given"].as_str().unwrap().contains("(line 2)"), "{fault}");
    put("pump.toml", sound.as_bytes());
    put("plant.toml", b"\xff\xfe");
    let fault = desk.answer("plant.toml", &json!([])).fault();
    assert!(fault["given"].as_str().unwrap().contains("UTF-8"), "{fault}");
}

#[test]
fn a_new_plant_has_a_plain_name() {
    let folder = TempDir::new().unwrap();
    let desk = Asked::at(folder.path());
    let start = |name: &str, example: &str| desk.post("/api/plants", &json!({ "example": example, "folder": name }));
    for name in [
        "", ".", "..", "../x", "a/b", "a/", "/x", ".hidden", "a\\b", "a\nb", "a\u{0}",
    ] {
        assert!(
            start(name, "mulenga-ridge").why(400).contains("is not a valid folder name"),
            "{name:?}"
        );
    }
    start("farm", "none").why(400);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    assert_eq!(
        start("my farm", "mulenga-ridge").answered(),
        json!({ "id": "my farm/plant.toml" })
    );
    start("my farm", "mulenga-ridge").why(400);
    desk.answer("my farm/plant.toml", &json!([])).answered();
    let plant_list = desk.get("/api/plants").answered();
    assert_eq!(
        plant_list["plants"],
        json!([{ "id": "my farm/plant.toml", "name": "Mulenga Ridge" }])
    );
    assert!(Path::new(plant_list["folder"].as_str().unwrap()).is_absolute());
}
