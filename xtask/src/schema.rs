//! The JSON Schemas of results, plant files and equipment files.

use std::fs;

use crate::chore::{cargo, output, root};

const SCHEMAS: [&str; 10] = [
    "compare",
    "run",
    "plant",
    "module",
    "inverter",
    "drive",
    "motor",
    "pump",
    "battery",
    "generator",
];

/// Writes them where the documentation has them.
pub(crate) fn write() -> Result<(), String> {
    for of in SCHEMAS {
        let text = output(
            &cargo(),
            &["run", "--quiet", "--package", "daylift", "--", "schema", of],
        )?;
        let path = root().join("docs").join("schema").join(format!("{of}.schema.json"));
        fs::write(&path, text).map_err(|e| format!("cannot write {}: {e}", path.display()))?;
        eprintln!("wrote {}", path.display());
    }
    Ok(())
}
