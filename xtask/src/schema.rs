//! The JSON Schemas of results.

use std::fs;

use crate::chore::{cargo, output, root};

/// Writes them where the documentation has them.
pub(crate) fn write() -> Result<(), String> {
    for result in ["compare", "run"] {
        let text = output(
            &cargo(),
            &["run", "--quiet", "--package", "daylift", "--", "schema", result],
        )?;
        let path = root().join("docs").join("schema").join(format!("{result}.schema.json"));
        fs::write(&path, text).map_err(|e| format!("cannot write {}: {e}", path.display()))?;
        eprintln!("wrote {}", path.display());
    }
    Ok(())
}
