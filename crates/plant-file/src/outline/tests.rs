use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use daylift_tables::Source;
use daylift_units::fields;

use super::*;
use crate::files::read_text;
use crate::provenance::without_numbers;
use crate::read::Book;
use crate::sections::read_file;

fn folder() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/mulenga-ridge")
}

/// Paths that the reader asked for while it read a plant file and all that it names.
fn asked(text: &str) -> BTreeSet<(String, String)> {
    let book = Book::default();
    let source = Arc::new(Source {
        name: "plant.toml".to_owned(),
        text: text.to_owned(),
    });
    read_file(&book, &source, &folder());
    book.asked()
}

fn outlined() -> BTreeSet<(String, String)> {
    let mut out = BTreeSet::new();
    for (file, table) in FILES {
        let prefix = if file == "plant" {
            String::new()
        } else {
            format!("{file}.")
        };
        out.extend(table.walk().into_iter().map(|(path, _)| (file.to_owned(), format!("{prefix}{path}"))));
    }
    out
}

#[test]
fn reader_and_outline_agree() {
    let example = read_text(&folder().join("plant.toml"), "", "plant").unwrap().text.clone();
    // What the example does not have, each with as much as the reader needs to ask for the rest.
    let several = "array = { plane = [{}], group = [{ inverter = \"\", drive = \"\" }] }\ninverter = [{}]\n\
                   pump_set = [{ drive = \"\", well = {}, pipe = [{}], outlet = {} }]\nmoney = {}\n";
    let by_stage = "grid = { outages = \"x\", timetable = { stage = 2 }, random = { share_pct = 1 }, voltage = {} }\n\
                    load = [{ meter = \"x\" }]\n";
    let weak =
        "strings = {}\ngrid = { line = {} }\ngrid_input = { kind = \"switch\" }\nmoney = { replacement = [{}] }\n";
    let by_list = "grid = { timetable = { stages = \"x\" }, random = { mean_up_h = 1 } }\n";
    let asked: BTreeSet<_> = [&example, several, by_stage, by_list, weak].iter().flat_map(|text| asked(text)).collect();
    let outlined = outlined();
    let beyond: Vec<_> = asked.difference(&outlined).collect();
    let unread: Vec<_> = outlined.difference(&asked).collect();
    assert!(
        beyond.is_empty() && unread.is_empty(),
        "asked for and not in the outline: {beyond:?}; in the outline and never asked for: {unread:?}"
    );
}

#[test]
fn what_the_reader_wants_is_needed_in_the_outline_too() {
    // A plant file with every section of the example and no key in any of them, and no equipment.
    let text = "site = {}\nweather = {}\narray = {}\nstrings = {}\ninverter = {}\ndrive = {}\npump = {}\nwell = {}\npipe = [{}]\n\
                outlet = {}\ntank = {}\ndemand = {}\npumping = {}\ngrid = { line = {} }\nload = [{}]\nchangeover = {}\n\
                grid_input = {}\nbattery = {}\ngenerator = {}\nnight_tank = {}\n\
                tariff = { season = [{ prices = [{}] }] }\nmoney = { capital = [{}], upkeep = [{}], replacement = [{}] }\n";
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("plant.toml"), text).unwrap();
    let faults = crate::read_plant(dir.path()).unwrap_err();
    let wanted: BTreeSet<String> = faults.iter().map(|f| without_numbers(&f.fault.key)).collect();
    // Sections that this file does not have want nothing; what one of two forms may leave out the other wants.
    let absent = [
        "pump_set.",
        "array.plane.",
        "array.group.",
        "grid.timetable.",
        "grid.random.",
        "grid.voltage.",
    ];
    let short_form = ["tilt_deg", "azimuth_deg", "modules_per_string", "strings"].map(|key| format!("array.{key}"));
    let is_section = |key: &Key| matches!(key.what, What::Section(_) | What::Sections(_) | What::OneOrMany(_));
    let needed: BTreeSet<String> = PLANT
        .walk()
        .into_iter()
        .filter(|(path, key)| key.needed && !is_section(key) && !absent.iter().any(|a| path.starts_with(a)))
        .map(|(path, _)| path)
        .chain(short_form)
        .chain(["load.file", "weather.file"].map(str::to_owned))
        .collect();
    assert_eq!(wanted, needed);
}

#[test]
fn every_declared_field_is_in_the_outline_but_those_of_tables_of_loads() {
    let outlined: Vec<&Field> = paths().iter().filter_map(|(_, key)| key.field()).collect();
    for (section, all) in fields::SECTIONS {
        for field in *all {
            let of_csv = [&fields::grid::LOAD, &fields::timetable::DAY, &fields::voltage::READING];
            let is_of_csv = of_csv.contains(&field);
            assert!(is_of_csv || outlined.contains(&field), "{section}.{}", field.key);
        }
    }
}
