//! The outputs in README and user guide.

use crate::chore::{cargo, sh};

/// Writes what the commands in README and user guide print now into them; lines left out stay left out.
pub(crate) fn write() -> Result<(), String> {
    let test = [
        "test",
        "--locked",
        "--package",
        "daylift",
        "--test",
        "guide",
        "--",
        "--ignored",
    ];
    sh(&cargo(), test)
}
