//! A text written in the place of a file whole: at any moment the old text or the new one is there.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::Path;
use std::time::Duration;

use tempfile::NamedTempFile;

const PREFIX: &str = ".daylift-";
const SUFFIX: &str = ".part";

/// A text in a file of its own, to be put in a place of its folder when it is on the disk. What an earlier process left
/// there when it was killed is taken away.
///
/// # Errors
/// When the folder or the disk refuses it.
pub fn part_in(folder: &Path, text: &str) -> io::Result<NamedTempFile> {
    sweep(folder);
    let mut part = tempfile::Builder::new().prefix(PREFIX).suffix(SUFFIX).tempfile_in(folder)?;
    part.write_all(text.as_bytes())?;
    Ok(part)
}

/// Whether a file is protected: a new one could take its place all the same, against the wish of whoever protected it.
///
/// # Errors
/// When there is no such file.
pub fn is_read_only(real: &Path) -> io::Result<bool> {
    Ok(fs::metadata(real)?.permissions().readonly())
}

/// The same, on the disk and as open to others as the file whose place it is to take.
///
/// # Errors
/// What the disk says.
pub fn part_for(real: &Path, text: &str) -> io::Result<NamedTempFile> {
    let part = part_in(folder_of(real), text)?;
    part.as_file().set_permissions(fs::metadata(real)?.permissions())?;
    part.as_file().sync_all()?;
    Ok(part)
}

/// Puts a part in its file's place.
///
/// # Errors
/// What the disk says; the file is then as it was, or whole and new.
pub fn place(part: NamedTempFile, real: &Path) -> io::Result<()> {
    part.persist(real).map_err(|e| e.error)?;
    // The new name is only safe once the folder is on the disk; where folders cannot be opened this is not needed.
    File::open(folder_of(real)).map_or(Ok(()), |folder| folder.sync_all())
}

fn folder_of(file: &Path) -> &Path {
    file.parent().unwrap_or(Path::new("."))
}

/// A part older than this is nobody's who still writes.
const LEFT_BEHIND: Duration = Duration::from_secs(60);

/// Takes away what a process killed while it wrote has left in a folder.
fn sweep(folder: &Path) {
    let is_part = |name: &str| name.starts_with(PREFIX) && name.ends_with(SUFFIX);
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let named = entry.file_name().to_str().is_some_and(is_part);
        let age = || entry.metadata().ok().filter(fs::Metadata::is_file)?.modified().ok()?.elapsed().ok();
        if named && age().is_some_and(|age| age > LEFT_BEHIND) {
            // What cannot be taken away hinders nothing.
            drop(fs::remove_file(entry.path()));
        }
    }
}

#[cfg(test)]
mod tests {
    use std::time::SystemTime;

    use super::*;

    #[test]
    fn parts_left_behind_are_swept_and_nothing_else() {
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
