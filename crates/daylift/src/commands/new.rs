//! `daylift new`.

use std::fs;
use std::path::Path;

use super::{put, unusable};
use crate::args::NewArgs;
use crate::examples;
use crate::exit::Exit;

pub(crate) fn new(args: &NewArgs) -> Exit {
    match start(&args.folder, &args.from) {
        Ok(count) => {
            let (folder, from) = (as_typed(&args.folder), &args.from);
            put(&format!(
                "{folder}: a plant of {count} files from the worked example {from}.\n\
                 Its values are those of the example and are marked as assumed: change them, and shorten the list\n\
                 `assumed` in plant.toml as each is confirmed on the farm.\n\n\
                 Next:\n  daylift check {folder}\n  daylift compare {folder}\n"
            ))
        }
        Err(why) => unusable(&why),
    }
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

/// Writes an example's files beside the place where they shall be and moves them there together. Gives how many there
/// are.
pub(super) fn start(folder: &Path, from: &str) -> Result<usize, String> {
    refuse_what_is_there(folder)?;
    let cannot = |e: std::io::Error| format!("cannot make {}: {e}; name another folder", folder.display());
    let parent = match folder.parent() {
        Some(parent) if parent != Path::new("") => parent,
        _ => Path::new("."),
    };
    fs::create_dir_all(parent).map_err(cannot)?;
    let beside = tempfile::Builder::new().prefix(".daylift-new-").tempdir_in(parent).map_err(cannot)?;
    let ready = beside.path().join("plant");
    fs::create_dir(&ready).map_err(cannot)?;
    let files = examples::files(from);
    for (name, text) in &files {
        fs::write(ready.join(name), text).map_err(cannot)?;
    }
    if folder.exists() {
        // An empty folder gives way; this fails on any other.
        fs::remove_dir(folder).map_err(cannot)?;
    }
    fs::rename(&ready, folder).map_err(cannot)?;
    Ok(files.len())
}

fn refuse_what_is_there(folder: &Path) -> Result<(), String> {
    let shown = folder.display();
    let Ok(meta) = fs::symlink_metadata(folder) else {
        return Ok(());
    };
    if !meta.is_dir() {
        return Err(format!("{shown} is there already and is not a folder; name another"));
    }
    let mut entries = fs::read_dir(folder).map_err(|e| format!("cannot look into {shown}: {e}"))?;
    if entries.next().is_some() {
        return Err(format!(
            "{shown} is not empty, and nothing in it is overwritten; name a new folder"
        ));
    }
    Ok(())
}
