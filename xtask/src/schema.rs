//! The JSON Schemas of results, plant files and equipment files, and the reference page of the files.

use std::fs;
use std::path::Path;

use crate::chore::{cargo, output, root, sh};
use crate::ui;

const SCHEMAS: [&str; 11] = [
    "compare",
    "run",
    "strings",
    "plant",
    "module",
    "inverter",
    "drive",
    "motor",
    "pump",
    "battery",
    "generator",
];

/// Writes them into `docs/schema`, the reference page into `docs`, and the description of the desk with its types into `ui`.
pub(crate) fn write() -> Result<(), String> {
    for of in SCHEMAS {
        write_one(
            of,
            &root().join("docs").join("schema").join(format!("{of}.schema.json")),
        )?;
    }
    reference_page()?;
    write_one("desk", &root().join("ui").join("openapi.json"))?;
    ui::types()
}

/// Writes `docs/plant-file.md`.
fn reference_page() -> Result<(), String> {
    let test = [
        "test",
        "--locked",
        "--package",
        "daylift-plant-file",
        "--test",
        "reference",
        "--",
        "--ignored",
    ];
    sh(&cargo(), test)
}

fn write_one(of: &str, path: &Path) -> Result<(), String> {
    let text = output(
        &cargo(),
        &["run", "--quiet", "--package", "daylift", "--", "schema", of],
    )?;
    fs::write(path, text).map_err(|e| format!("cannot write {}: {e}", path.display()))?;
    eprintln!("wrote {}", path.display());
    Ok(())
}
