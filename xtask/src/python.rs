//! The Python environment of the independent scripts.

use std::path::PathBuf;

use crate::chore::{root, sh};

/// The environment's Python, with the packages to which the scripts are pinned; created if it is missing.
pub(crate) fn python() -> Result<PathBuf, String> {
    let folder = root().join("validation");
    let venv = folder.join(".venv");
    let python = venv.join("bin").join("python");
    if !python.exists() {
        sh("python3", ["-m".as_ref(), "venv".as_ref(), venv.as_os_str()])?;
    }
    let requirements = folder.join("scripts").join("requirements.txt");
    sh(
        &python.to_string_lossy(),
        [
            "-m".as_ref(),
            "pip".as_ref(),
            "install".as_ref(),
            "--quiet".as_ref(),
            "--requirement".as_ref(),
            requirements.as_os_str(),
        ],
    )?;
    Ok(python)
}
