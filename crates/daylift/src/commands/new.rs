//! `daylift new`.

use std::fs;
use std::path::Path;

use daylift_plant_file::edit::{NewPlace, NewValue, set_place, set_value};
use daylift_units::field::number;

use super::{put, unusable};
use crate::args::NewArgs;
use crate::examples;
use crate::exit::Exit;

pub(crate) fn new(args: &NewArgs) -> Exit {
    let place = place(args);
    let files = match &place {
        Some(place) => at(&args.from, place, &name_of(&args.folder)),
        None => examples::files(&args.from).map_err(|e| e.to_string()),
    };
    match files.and_then(|files| write(&args.folder, &files)) {
        Ok(count) => put(&told(args, count, place.as_ref())),
        Err(why) => unusable(&why),
    }
}

fn told(args: &NewArgs, count: usize, place: Option<&NewPlace>) -> String {
    let (folder, from) = (as_typed(&args.folder), &args.from);
    let where_it_stands = place.map_or_else(String::new, |place| {
        format!(
            "It stands at {}°, {}°; its sun is made from a world grid of monthly means and is preliminary.\n{}",
            number(place.latitude_deg),
            number(place.longitude_deg),
            if place.altitude_m.is_some() {
                ""
            } else {
                "Its altitude is taken as 0 m until `altitude_m` in plant.toml says it: a highland is cooler.\n"
            }
        )
    });
    format!(
        "{folder}: a plant of {count} files from the worked example {from}.\n{where_it_stands}\
         Its values are those of the example and are marked as assumed: change them, and mark each that is\n\
         confirmed on the farm under [[origin]] at the end of plant.toml.\n\n\
         Next:\n  daylift check {folder}\n  daylift compare {folder}\n"
    )
}

fn place(args: &NewArgs) -> Option<NewPlace> {
    Some(NewPlace {
        latitude_deg: args.latitude?,
        longitude_deg: args.longitude?,
        altitude_m: args.altitude,
        time_zone: args.time_zone.clone(),
    })
}

/// The folder's own name, for the plant.
fn name_of(folder: &Path) -> String {
    folder
        .file_name()
        .map_or_else(|| "New plant".to_owned(), |name| name.to_string_lossy().into_owned())
}

/// An example's files at another place: without its weather file.
fn at(from: &str, place: &NewPlace, name: &str) -> Result<Vec<(String, Vec<u8>)>, String> {
    let cannot =
        || format!("the worked example {from} cannot be moved; start without coordinates and set them in plant.toml");
    let mut files = examples::files(from).map_err(|e| e.to_string())?;
    files.retain(|(file, _)| file != examples::WEATHER);
    for (file, content) in &mut files {
        if file == examples::PLANT {
            let text = set_place(&String::from_utf8_lossy(content), place).ok_or_else(cannot)?;
            let named = set_value(&text, "name", &NewValue::Text(name.to_owned())).map_err(|e| e.to_string())?;
            *content = named.into_bytes();
        }
    }
    Ok(files)
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

/// Writes an example's files into a new folder. Gives how many there are.
pub(super) fn start(folder: &Path, from: &str) -> Result<usize, String> {
    write(folder, &examples::files(from).map_err(|e| e.to_string())?)
}

/// Writes files beside the place where they shall be and moves them there together. Gives how many there are.
fn write(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<usize, String> {
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
    for (name, text) in files {
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
