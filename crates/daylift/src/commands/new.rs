//! `daylift new`.

mod readme;

use std::fs;
use std::path::Path;

use daylift_plant_file::edit::{NewPlace, NewValue, set_place, set_value};
use daylift_plant_file::{Mark, Origin, set_origin};
use daylift_units::field::number;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::Offset;

use super::{as_typed, put, unusable};
use crate::args::NewArgs;
use crate::examples;
use crate::exit::Exit;

/// Files by their names.
type Files = Vec<(String, Vec<u8>)>;

pub(crate) fn new(args: &NewArgs) -> Exit {
    let place = place(args);
    match files(&args.folder, &args.from, place.as_ref()).and_then(|files| write(&args.folder, &files)) {
        Ok(count) => put(&created(args, count, place.as_ref())),
        Err(why) => unusable(&why),
    }
}

/// The files of a new plant: the example's, at its place or another, and a README of its own.
fn files(folder: &Path, from: &str, place: Option<&NewPlace>) -> Result<Files, String> {
    let today = Offset::UTC.to_datetime(Timestamp::now()).date();
    let mut files = match place {
        Some(place) => at(from, place, &name_of(folder), today)?,
        None => examples::files(from).map_err(|e| e.to_string())?,
    };
    let readme = readme::text(&name_of(folder), from, place, today, &files);
    files.push((readme::NAME.to_owned(), readme.into_bytes()));
    Ok(files)
}

fn created(args: &NewArgs, count: usize, place: Option<&NewPlace>) -> String {
    let (folder, from) = (as_typed(&args.folder), &args.from);
    let at_place = place.map_or_else(String::new, |place| {
        format!(
            "Place: {}°, {}°. The weather year is generated from a world grid of monthly means and is preliminary.\n{}",
            number(place.latitude_deg),
            number(place.longitude_deg),
            if place.altitude_m.is_some() {
                ""
            } else {
                "Altitude: 0 m for now. Set `altitude_m` in plant.toml: a highland is cooler.\n"
            }
        )
    });
    let values = if place.is_some() {
        "All other values come from the example"
    } else {
        "All values come from the example"
    };
    format!(
        "Created {folder}: {count} files, based on the worked example {from}.\n{at_place}\
         {values} and are marked as assumed. README.md says what to change first.\n\n\
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

/// The folder's name, used for the plant.
fn name_of(folder: &Path) -> String {
    folder
        .file_name()
        .map_or_else(|| "New plant".to_owned(), |name| name.to_string_lossy().into_owned())
}

/// An example's files at another place, without its weather file.
fn at(from: &str, place: &NewPlace, name: &str, today: Date) -> Result<Files, String> {
    let cannot =
        || format!("the worked example {from} cannot be moved; start without coordinates and set them in plant.toml");
    let mut files = examples::files(from).map_err(|e| e.to_string())?;
    files.retain(|(file, _)| file != examples::WEATHER);
    for (file, content) in &mut files {
        if file == examples::PLANT {
            let text = set_place(&String::from_utf8_lossy(content), place).ok_or_else(cannot)?;
            let named = set_value(&text, "name", &NewValue::Text(name.to_owned())).map_err(|e| e.to_string())?;
            let given = set_origin(&named, &keys_of(place), Origin::Given, &as_typed_in(today));
            *content = given.map_err(|e| e.to_string())?.into_bytes();
        }
    }
    Ok(files)
}

/// The keys that a place gives.
fn keys_of(place: &NewPlace) -> Vec<String> {
    let altitude = place.altitude_m.map(|_| "site.altitude_m");
    let zone = place.time_zone.as_ref().map(|_| "site.time_zone");
    let keys = [Some("site.latitude_deg"), Some("site.longitude_deg"), altitude, zone];
    keys.into_iter().flatten().map(str::to_owned).collect()
}

/// The mark of values that were typed on the command line.
fn as_typed_in(today: Date) -> Mark {
    Mark {
        date: Some(today),
        note: Some("entered with `daylift new`".to_owned()),
    }
}

/// Writes an example's files into a new folder; returns their number.
pub(super) fn start(folder: &Path, from: &str) -> Result<usize, String> {
    write(folder, &files(folder, from, None)?)
}

/// Writes files into a temporary folder and renames it; returns their number.
fn write(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<usize, String> {
    refuse_what_is_there(folder)?;
    let cannot = |e: std::io::Error| format!("cannot create {}: {e}; choose another folder", folder.display());
    let parent = match folder.parent() {
        Some(parent) if parent != Path::new("") => parent,
        _ => Path::new("."),
    };
    fs::create_dir_all(parent).map_err(cannot)?;
    let temporary = tempfile::Builder::new().prefix(".daylift-new-").tempdir_in(parent).map_err(cannot)?;
    let ready = temporary.path().join("plant");
    fs::create_dir(&ready).map_err(cannot)?;
    for (name, text) in files {
        fs::write(ready.join(name), text).map_err(cannot)?;
    }
    if folder.exists() {
        // Removes only an empty folder; fails on any other.
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
        return Err(format!("{shown} already exists and is not a folder; choose another"));
    }
    let mut entries = fs::read_dir(folder).map_err(|e| format!("cannot read the folder {shown}: {e}"))?;
    if entries.next().is_some() {
        return Err(format!(
            "{shown} is not empty; `new` overwrites nothing: choose a new or empty folder"
        ));
    }
    Ok(())
}
