//! Writes changes into the plant's files.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use daylift_plant_file::write::{is_read_only, part_for, place};
use tempfile::NamedTempFile;

use crate::api::{SaveRequest, Saved};
use crate::folder::Folder;
use crate::refused::Refused;
use crate::stamp::Stamp;
use crate::wanted::{Draft, Wanted, text_of};

/// Writes the changes, each file in full or not at all. Nothing is written if the plant has faults, or if its files are
/// not as the page knows them.
pub(crate) fn save(folder: &Folder, request: &SaveRequest) -> Result<Saved, Refused> {
    let known: Stamp = request.stamp.parse().map_err(|()| Refused::changed())?;
    check_unchanged(folder, request, &known)?;
    let wanted = Wanted::new(folder, &request.plant, &request.changes)?;
    let read = wanted.read()?;
    // The page may not overwrite a text that it does not know, and a file may have changed since the check above.
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

/// Writes every new text to the disk next to its file, and only then moves each one into place. Whatever can fail fails
/// before the first file is replaced.
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
        place(beside, real).map_err(|e| cannot_write(draft, &e))?;
    }
    Ok(())
}

fn cannot_write(draft: &Draft, why: &io::Error) -> Refused {
    Refused::failed(format!("cannot write {}: {why}", draft.id))
}

/// Writes a new text to the disk next to its file. The old file stays complete until the new one replaces it.
fn written_beside(real: &Path, draft: &Draft) -> Result<NamedTempFile, Refused> {
    if is_read_only(real).map_err(|e| cannot_write(draft, &e))? {
        let why = format!("{} is read-only; make it writable, then save again", draft.id);
        return Err(Refused::forbidden(why));
    }
    part_for(real, &draft.after).map_err(|e| cannot_write(draft, &e))
}
