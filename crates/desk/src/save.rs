//! Changes written into the plant's files.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use tempfile::NamedTempFile;

use crate::api::{SaveRequest, Saved};
use crate::folder::Folder;
use crate::refused::Refused;
use crate::stamp::Stamp;
use crate::wanted::{Draft, Wanted, text_of};

/// Writes the changes, each file whole or not at all; a plant with faults is not written, nor one whose files are not what
/// the page knows.
pub(crate) fn save(folder: &Folder, request: &SaveRequest) -> Result<Saved, Refused> {
    let known: Stamp = request.stamp.parse().map_err(|()| Refused::changed())?;
    check_unchanged(folder, request, &known)?;
    let wanted = Wanted::new(folder, &request.plant, &request.changes)?;
    let read = wanted.read()?;
    // What the page does not know it may not overwrite; and it may have changed since the look at all of them.
    if wanted.drafts.values().any(|draft| !known.has(&draft.id, &draft.before)) {
        return Err(Refused::changed());
    }
    let drafts = wanted.drafts.iter().filter(|(_, draft)| draft.after != draft.before);
    write_all(&drafts.collect::<Vec<_>>())?;
    Ok(Saved {
        stamp: wanted.stamp(&read, true).to_string(),
    })
}

fn check_unchanged(folder: &Folder, request: &SaveRequest, known: &Stamp) -> Result<(), Refused> {
    if !known.ids().any(|id| id == request.plant) {
        return Err(Refused::changed());
    }
    for id in known.ids() {
        let path = folder.file(id).ok_or_else(Refused::changed)?;
        let text = text_of(folder, id, &path).map_err(|_| Refused::changed())?;
        if !known.has(id, &text) {
            return Err(Refused::changed());
        }
    }
    Ok(())
}

/// Writes every new text beside its file and to the disk, and only then puts one after the other in place: what can fail
/// has failed before the first file is another.
fn write_all(drafts: &[(&PathBuf, &Draft)]) -> Result<(), Refused> {
    let mut ready = Vec::new();
    for (real, draft) in drafts {
        ready.push((*real, *draft, written_beside(real, draft)?));
    }
    for (real, draft, _) in &ready {
        if fs::read(real).ok().as_deref() != Some(draft.before.as_bytes()) {
            return Err(Refused::changed());
        }
    }
    for (real, draft, beside) in ready {
        let placed = beside.persist(real).map_err(|e| e.error).and_then(|_| sync_folder(real));
        placed.map_err(|e| cannot_write(draft, &e))?;
    }
    Ok(())
}

fn cannot_write(draft: &Draft, why: &io::Error) -> Refused {
    Refused::failed(format!("cannot write {}: {why}", draft.id))
}

const PREFIX: &str = ".daylift-";
const SUFFIX: &str = ".part";

/// A new text beside its file, on the disk. Until it is put in the file's place the old one is there, whole; then the new.
fn written_beside(real: &Path, draft: &Draft) -> Result<NamedTempFile, Refused> {
    let permissions = fs::metadata(real).map_err(|e| cannot_write(draft, &e))?.permissions();
    // A new file could take its place all the same, against the wish of whoever protected it.
    if permissions.readonly() {
        let why = format!("{} is read-only; allow writing to it, then save again", draft.id);
        return Err(Refused::forbidden(why));
    }
    let write = || {
        let beside = part_in(folder_of(real), &draft.after)?;
        beside.as_file().set_permissions(permissions)?;
        beside.as_file().sync_all()?;
        Ok(beside)
    };
    write().map_err(|e| cannot_write(draft, &e))
}

/// A text in a file of its own, to be put in a place of its folder when it is on the disk.
pub(crate) fn part_in(folder: &Path, text: &str) -> io::Result<NamedTempFile> {
    sweep(folder);
    let mut part = tempfile::Builder::new().prefix(PREFIX).suffix(SUFFIX).tempfile_in(folder)?;
    part.write_all(text.as_bytes())?;
    Ok(part)
}

fn folder_of(file: &Path) -> &Path {
    file.parent().unwrap_or(Path::new("."))
}

/// The new name is only safe once the folder is on the disk; where folders cannot be opened this is not needed.
fn sync_folder(file: &Path) -> io::Result<()> {
    File::open(folder_of(file)).map_or(Ok(()), |folder| folder.sync_all())
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
