//! Replaces a file's text as a whole: at any moment the file has either the old text or the new one.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::Path;
use std::time::Duration;

use tempfile::NamedTempFile;

const PREFIX: &str = ".daylift-";
const SUFFIX: &str = ".part";

/// Writes a text into a temporary file ("part") in a folder. Also removes parts left there by a process that was killed.
///
/// # Errors
/// When the part cannot be made or written.
pub fn part_in(folder: &Path, text: &str) -> io::Result<NamedTempFile> {
    sweep(folder);
    let mut part = tempfile::Builder::new().prefix(PREFIX).suffix(SUFFIX).tempfile_in(folder)?;
    part.write_all(text.as_bytes())?;
    Ok(part)
}

/// Whether a file is read-only. A part could replace it all the same, so the caller must ask first.
///
/// # Errors
/// When the file does not exist, or the system refuses to describe it.
pub fn is_read_only(real: &Path) -> io::Result<bool> {
    Ok(fs::metadata(real)?.permissions().readonly())
}

/// Writes a part for the file `real`, with that file's permissions, and waits until it is on the disk.
///
/// # Errors
/// When the part cannot be made or written, or the file's permissions cannot be read or set.
pub fn part_for(real: &Path, text: &str) -> io::Result<NamedTempFile> {
    let part = part_in(folder_of(real), text)?;
    part.as_file().set_permissions(fs::metadata(real)?.permissions())?;
    part.as_file().sync_all()?;
    Ok(part)
}

/// Replaces a file by its part.
///
/// # Errors
/// When the file cannot be replaced, or the folder cannot be synced. The file then has its old text or the whole new one.
pub fn place(part: NamedTempFile, real: &Path) -> io::Result<()> {
    part.persist(real).map_err(|e| e.error)?;
    // The change is safe only once the folder is on the disk. Systems on which folders cannot be opened do not need this.
    File::open(folder_of(real)).map_or(Ok(()), |folder| folder.sync_all())
}

fn folder_of(file: &Path) -> &Path {
    file.parent().unwrap_or(Path::new("."))
}

/// No process still writes a part older than this.
const LEFT_BEHIND: Duration = Duration::from_secs(60);

/// Removes parts that killed processes left in a folder.
fn sweep(folder: &Path) {
    let is_part = |name: &str| name.starts_with(PREFIX) && name.ends_with(SUFFIX);
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let named = entry.file_name().to_str().is_some_and(is_part);
        let age = || entry.metadata().ok().filter(fs::Metadata::is_file)?.modified().ok()?.elapsed().ok();
        if named && age().is_some_and(|age| age > LEFT_BEHIND) {
            // A part that cannot be removed does no harm.
            drop(fs::remove_file(entry.path()));
        }
    }
}

#[cfg(test)]
mod tests {
    use std::time::SystemTime;

    use super::*;

    #[test]
    fn old_parts_are_removed_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let old = SystemTime::now() - 2 * LEFT_BEHIND;
        let make = |name: &str, at: SystemTime| {
            let file = File::create(folder.path().join(name)).unwrap();
            file.set_modified(at).unwrap();
        };
        make(".daylift-a.part", old);
        make(".daylift-b.part", SystemTime::now());
        make(".daylift-c", old);
        make("d.part", old);
        sweep(folder.path());
        let mut left: Vec<_> = fs::read_dir(folder.path()).unwrap().map(|e| e.unwrap().file_name()).collect();
        left.sort();
        assert_eq!(left, [".daylift-b.part", ".daylift-c", "d.part"]);
    }
}
