//! The start of a run: the worked plants, shortened, and the words of the file formats.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use super::{fuzz_folder, inputs};
use crate::chore::root;

/// Rows kept of a long table.
const ROWS: usize = 24;
/// Words of the tables, which are in no schema.
const TABLE_WORDS: [&str; 24] = [
    "start,end",
    "start,end,stage",
    "stage,block,day,start,end",
    "time,kw",
    "time,kwh",
    "time,voltage_pu",
    "time,voltage_v",
    "ghi_w_m2",
    "dni_w_m2",
    "dhi_w_m2",
    "air_c",
    "wind_m_s",
    "LOCATION",
    "DATA PERIODS",
    "GHI (W/m^2)",
    "Dry-bulb (C)",
    "2025-01-03T18:30",
    "2024-03-10T02:30",
    "2024-11-03T01:30",
    "+02:00",
    "Z",
    "NaN",
    "inf",
    "-9900",
];

/// Puts the seeds of a target into its corpus.
pub(super) fn plant(target: &str, corpus: &Path) -> Result<(), String> {
    let put = |path: &Path, text: String| {
        let name = flat_name(path);
        fs::write(corpus.join(&name), text).map_err(|e| format!("cannot write {name}: {e}"))
    };
    for path in inputs(&fuzz_folder().join("seeds").join(target)) {
        put(&path, read(&path)?)?;
    }
    for path in worked_files() {
        let name = flat_name(&path);
        match target {
            "plant" if name.ends_with("-plant.toml") => put(&path, with_flat_names(&read(&path)?, &path))?,
            "equipment" if name.ends_with(".toml") && !name.ends_with("-plant.toml") => put(&path, read(&path)?)?,
            "outages" if name.ends_with("-outages.csv") => put(&path, first_rows(&read(&path)?))?,
            "weather" if name.ends_with("-weather.csv") => put(&path, first_rows(&read(&path)?))?,
            "loads" if name.ends_with(".csv") && read(&path)?.contains("month,h00") => put(&path, read(&path)?)?,
            _ => {}
        }
    }
    Ok(())
}

/// Writes the keys and words of the file formats as a dictionary for the fuzzer.
pub(super) fn write_dictionary(path: &Path) -> Result<(), String> {
    let mut words: BTreeSet<String> = TABLE_WORDS.iter().map(|word| (*word).to_owned()).collect();
    for schema in inputs(&root().join("docs").join("schema")) {
        // Every second piece between quotes is a string.
        let is_word = |text: &&str| {
            (2..40).contains(&text.len())
                && text
                    .bytes()
                    .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || matches!(b, b'_' | b'-' | b'+'))
        };
        words.extend(read(&schema)?.split('"').skip(1).step_by(2).filter(is_word).map(str::to_owned));
    }
    let text: String = words.iter().map(|word| format!("\"{word}\"\n")).collect();
    fs::write(path, text).map_err(|e| format!("cannot write {}: {e}", path.display()))
}

/// Removes the folders in which plant files were read.
pub(super) fn clear_work(work: &Path) {
    for path in inputs(work).iter().filter(|path| path.is_dir()) {
        // A folder that cannot be removed is in an ignored folder and does no harm.
        drop(fs::remove_dir_all(path));
    }
}

/// Files of all worked plants.
fn worked_files() -> Vec<PathBuf> {
    let shelves = ["examples", "validation/plants"].map(|shelf| inputs(&root().join(shelf)));
    shelves
        .iter()
        .flatten()
        .flat_map(|folder| inputs(folder))
        .filter(|path| path.is_file())
        .collect()
}

/// The name of a file for the targets: the name of its folder, then its own.
fn flat_name(path: &Path) -> String {
    let last = |path: Option<&Path>| {
        let name = path.and_then(Path::file_name).unwrap_or_default();
        name.to_string_lossy().into_owned()
    };
    format!("{}-{}", last(path.parent()), last(Some(path)))
}

/// A plant file that refers to its own files, and to those of other plants, by their flat names.
fn with_flat_names(text: &str, path: &Path) -> String {
    let folder = path.parent().unwrap_or(path);
    let pieces = text.split('"').map(|piece| {
        let is_path = [".toml", ".csv", ".CSV"].iter().any(|end| piece.ends_with(end)) && !piece.contains('\n');
        if is_path {
            flat_name(&folder.join(piece))
        } else {
            piece.to_owned()
        }
    });
    pieces.collect::<Vec<_>>().join("\"")
}

fn first_rows(text: &str) -> String {
    text.lines().take(ROWS).map(|line| format!("{line}\n")).collect()
}

fn read(path: &Path) -> Result<String, String> {
    fs::read_to_string(path).map_err(|e| format!("cannot read {}: {e}", path.display()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_are_named_by_their_folders() {
        let text = "file = \"pump.toml\"\nname = \"x\"\noutages = \"../greensboro/outages.csv\"\n";
        let flat = with_flat_names(text, Path::new("plants/pair/plant.toml"));
        let wanted = "file = \"pair-pump.toml\"\nname = \"x\"\noutages = \"greensboro-outages.csv\"\n";
        assert_eq!(flat, wanted);
    }
}
