//! The commands.

pub(crate) mod check;
pub(crate) mod compare;
pub(crate) mod desk;
pub(crate) mod new;
pub(crate) mod run;
pub(crate) mod schema;
pub(crate) mod strings;

use std::io::{ErrorKind, Write};
use std::path::Path;

use daylift_plant_file::{Read, read_plant};

use crate::exit::{DONE, Exit, FAULTS, UNUSABLE};
use crate::print::faults::print_faults;

/// Reads a plant, or prints all its faults and gives the exit code.
fn open(path: &Path) -> Result<Read, Exit> {
    read_plant(path).map_err(|faults| {
        print_faults(&faults);
        // A plant file that could not be read has no place in any file.
        if faults.iter().all(|f| f.place.is_none()) {
            UNUSABLE
        } else {
            FAULTS
        }
    })
}

/// Warning about result files that an earlier run left in the folder.
fn of_other_runs(names: &[String]) -> Option<String> {
    (!names.is_empty()).then(|| {
        format!(
            "out: the folder also contains {} from an earlier run, perhaps of another plant",
            names.join(", ")
        )
    })
}

/// A path as one word of a command.
fn as_typed(path: &Path) -> String {
    let text = path.display().to_string();
    if text.contains(char::is_whitespace) {
        format!("\"{text}\"")
    } else {
        text
    }
}

/// Prints to standard output, without colours where there is no terminal or none are wanted. A closed pipe is no
/// failure; a full disk is.
fn put(text: &str) -> Exit {
    let mut out = anstream::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(e) if e.kind() != ErrorKind::BrokenPipe => unusable(&format!("cannot write to standard output: {e}")),
        _ => DONE,
    }
}

/// Prints an error to standard error.
fn unusable(text: &str) -> Exit {
    eprintln!("error: {text}");
    UNUSABLE
}

/// A result as pretty JSON with a closing line break.
fn to_json(value: &impl serde::Serialize) -> Result<String, Exit> {
    serde_json::to_string_pretty(value)
        .map(|text| text + "\n")
        .map_err(|e| unusable(&e.to_string()))
}
