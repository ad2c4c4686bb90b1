use std::fs;
use std::path::{Path, PathBuf};

use super::*;
use crate::outline::paths;

fn examples() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let folders = ["examples", "validation/plants"].map(|f| fs::read_dir(root.join(f)).unwrap());
    folders.into_iter().flatten().map(|e| e.unwrap().path()).filter(|p| p.is_dir()).collect()
}

fn json_of(path: &Path) -> Value {
    let text = fs::read_to_string(path).unwrap();
    let table: toml::Table = toml::from_str(&text).unwrap();
    serde_json::to_value(table).unwrap()
}

fn is_valid(kind: &str, file: &Value) -> bool {
    jsonschema::validator_for(&schema(kind).unwrap()).unwrap().is_valid(file)
}

#[test]
fn every_worked_plant_is_valid() {
    let mut seen = 0;
    for folder in examples() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_none_or(|e| e != "toml") {
                continue;
            }
            let file = json_of(&path);
            let kind = file["kind"].as_str().unwrap_or("plant");
            let validator = jsonschema::validator_for(&schema(kind).unwrap()).unwrap();
            let faults: Vec<String> = validator.iter_errors(&file).map(|e| e.to_string()).collect();
            assert!(faults.is_empty(), "{}: {faults:?}", path.display());
            seen += 1;
        }
    }
    assert!(seen >= 6, "{seen} files");
}

fn example() -> Value {
    json_of(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/mulenga-ridge/plant.toml"))
}

#[test]
fn unknown_keys_wrong_types_and_wrong_words_are_not_valid() {
    let spoil: [fn(&mut Value); 8] = [
        |v| v["site"]["altidude_m"] = json!(3),
        |v| v["pipes"] = json!([]),
        |v| v["tank"]["capacity_m3"] = json!("165"),
        |v| v["array"]["strings"] = json!(2.5),
        |v| v["grid"]["export"] = json!("maybe"),
        |v| v["demand"]["daily_m3"] = json!([1, 2, 3]),
        |v| v["pipe"][1] = json!({ "name": "x" }),
        |v| v["money"]["capital"][0]["arrangements"] = json!([]),
    ];
    for (i, spoil) in spoil.iter().enumerate() {
        let mut file = example();
        spoil(&mut file);
        assert!(!is_valid("plant", &file), "spoilt by {i}");
    }
    let mut file = example();
    file["origin"] = json!([{ "of": ["*", "well.static_level_m"], "is": "assumed", "date": "2026-11-30" }]);
    assert!(is_valid("plant", &file));
}

#[test]
fn every_number_outside_its_range_is_not_valid() {
    for (path, key) in paths() {
        let Some(field) = key.field() else { continue };
        for (value, allowed) in [
            (field.least, true),
            (field.greatest, true),
            (field.least - 1.0, false),
            (field.greatest + 1.0, false),
        ] {
            let item = Value::Object(property(key));
            let given = match key.what {
                What::Windows(_) => json!(vec![value; 2]),
                What::Numbers(_, length) => json!(vec![value; length.unwrap_or(3)]),
                _ => json!(value),
            };
            let valid = jsonschema::validator_for(&item).unwrap().is_valid(&given);
            assert_eq!(valid, allowed, "{path} = {given}");
        }
    }
}
