//! Changes written into the plant's files.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::Path;

use crate::answer::{Refused, Wanted, stamp};
use crate::api::{SaveRequest, Saved};
use crate::folder::Folder;

/// Writes the changes, each file whole or not at all; a plant with faults is not written, nor one whose files are not what
/// the page knows.
pub(crate) fn save(folder: &Folder, request: &SaveRequest) -> Result<Saved, Refused> {
    let as_they_are = Wanted::new(folder, &request.plant, &[])?;
    let origins_before = as_they_are.read(folder).map(|read| read.origins);
    // Files that have got faults since are not what the page knows either.
    let before = origins_before.map_err(|_| Refused::Changed)?;
    if stamp(&before, &as_they_are.plant_file) != request.stamp {
        return Err(Refused::Changed);
    }
    let wanted = Wanted::new(folder, &request.plant, &request.changes)?;
    let read = wanted.read(folder)?;
    for (path, text) in &wanted.texts {
        write_whole(path, text).map_err(|e| Refused::Unwritten(format!("cannot write {}: {e}", path.display())))?;
    }
    Ok(Saved {
        stamp: stamp(&read.origins, &wanted.plant_file),
    })
}

/// Writes a file so that at any moment either the old or the new one is there, whole: beside it, to the disk, then over it.
/// A link is written through, to the file that it names.
fn write_whole(path: &Path, text: &str) -> io::Result<()> {
    let real = fs::canonicalize(path)?;
    let folder = real.parent().unwrap_or(Path::new("."));
    let mut beside = tempfile::Builder::new().prefix(".daylift-").suffix(".part").tempfile_in(folder)?;
    beside.write_all(text.as_bytes())?;
    beside.as_file().set_permissions(fs::metadata(&real)?.permissions())?;
    beside.as_file().sync_all()?;
    beside.persist(&real)?;
    // The new name is only safe once the folder is on the disk; where folders cannot be opened this is not needed.
    if let Ok(folder) = File::open(folder) {
        folder.sync_all()?;
    }
    Ok(())
}
