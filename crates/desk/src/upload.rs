//! A file that the user uploads: weather, meter readings, a datasheet.

use std::io;
use std::path::{Component, Path};

use daylift_plant_file::write::part_in;

use crate::api::{UploadRequest, Uploaded};
use crate::folder::Folder;
use crate::refused::Refused;

/// Extensions of the files that a plant can name.
const ENDINGS: [&str; 6] = ["csv", "epw", "tmy", "tmy3", "txt", "toml"];
/// How many names are tried until one is free.
const MOST_TRIES: u32 = 1000;

/// Writes a file into the folder of another file of a plant. Nothing is overwritten: `weather.csv` becomes
/// `weather-2.csv` if the name is taken.
pub(crate) fn upload(folder: &Folder, request: &UploadRequest, file: &[u8]) -> Result<Uploaded, Refused> {
    let beside = folder.file(&request.beside);
    let into = beside.as_deref().and_then(Path::parent);
    let into =
        into.ok_or_else(|| Refused::request(format!("\"{}\" is not a file in the opened folder", request.beside)))?;
    let (stem, ending) = plain_name(&request.name).ok_or_else(|| {
        Refused::request(format!(
            "\"{}\" is not a valid file name for a plant; use a name that ends in .{}",
            request.name,
            ENDINGS.join(", .")
        ))
    })?;
    let text = std::str::from_utf8(file).map_err(|_| {
        Refused::request(format!(
            "\"{}\" is not UTF-8 text; save it as UTF-8, or check that it is the right file",
            request.name
        ))
    })?;
    let written = (1..MOST_TRIES).find_map(|number| {
        let name = if number == 1 {
            format!("{stem}.{ending}")
        } else {
            format!("{stem}-{number}.{ending}")
        };
        match write_new(&into.join(&name), text) {
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists => None,
            done => Some(done.map(|()| name)),
        }
    });
    match written {
        Some(Ok(name)) => Ok(Uploaded { name }),
        Some(Err(e)) => Err(Refused::failed(format!("cannot write into {}: {e}", into.display()))),
        None => Err(Refused::request(format!(
            "there are too many files named \"{}\"",
            request.name
        ))),
    }
}

/// Stem and extension of a name without a folder in it.
fn plain_name(name: &str) -> Option<(&str, &str)> {
    let mut parts = Path::new(name).components();
    let plain = matches!((parts.next(), parts.next()), (Some(Component::Normal(part)), None) if part == name);
    let (stem, ending) = name.rsplit_once('.')?;
    let known = ENDINGS.iter().any(|known| ending.eq_ignore_ascii_case(known));
    let shown = !stem.is_empty()
        && !stem.starts_with('.')
        && !name.contains(['\\', ':'])
        && !name.chars().any(char::is_control);
    (plain && known && shown).then_some((stem, ending))
}

/// Writes a new file, in full or not at all.
fn write_new(path: &Path, text: &str) -> io::Result<()> {
    let part = part_in(path.parent().unwrap_or(Path::new(".")), text)?;
    part.as_file().sync_all()?;
    part.persist_noclobber(path).map(|_| ()).map_err(|e| e.error)
}

#[cfg(test)]
mod tests {
    use super::plain_name;

    #[test]
    fn a_name_is_one_file_of_a_kind_that_plants_name() {
        assert_eq!(plain_name("my weather.CSV"), Some(("my weather", "CSV")));
        assert_eq!(plain_name("a.b.epw"), Some(("a.b", "epw")));
        for name in [
            "",
            "csv",
            ".csv",
            "../a.csv",
            "a/b.csv",
            "/a.csv",
            "a.exe",
            "a.csv/",
            "c:a.csv",
            "a\\b.csv",
            "a\n.csv",
            ".hidden.csv",
        ] {
            assert_eq!(plain_name(name), None, "{name:?}");
        }
    }
}
