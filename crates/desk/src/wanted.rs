//! A plant's files with the changes of the page applied to them.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use daylift_plant_file::{EditError, Files, NewValue, Read, read_plant_knowing, set_value};

use crate::api::{Change, FaultAt, InputValue};
use crate::folder::Folder;
use crate::refused::Refused;
use crate::stamp::Stamp;

/// The most changes in one request. A large plant has a few hundred values.
const MOST_CHANGES: usize = 1000;

/// The text of a file on the disk, and the text that the page wants.
#[derive(Debug)]
pub(crate) struct Draft {
    /// The file as the page named it.
    pub(crate) id: String,
    pub(crate) before: String,
    pub(crate) after: String,
}

/// A plant, and those of its files that the page wants to change.
#[derive(Debug)]
pub(crate) struct Wanted<'f> {
    folder: &'f Folder,
    plant_file: PathBuf,
    /// By the real path: two names of one file share one draft.
    pub(crate) drafts: BTreeMap<PathBuf, Draft>,
}

impl<'f> Wanted<'f> {
    /// Applies the changes of the page to the files that they name. Other files are not read.
    pub(crate) fn new(folder: &'f Folder, plant: &str, changes: &[Change]) -> Result<Self, Refused> {
        if changes.len() > MOST_CHANGES {
            let why = format!("{} changes at once; at most {MOST_CHANGES} are allowed", changes.len());
            return Err(Refused::request(why));
        }
        let mut wanted = Self {
            folder,
            plant_file: toml_file(folder, plant)?,
            drafts: BTreeMap::new(),
        };
        for change in changes {
            wanted.lay(change)?;
        }
        Ok(wanted)
    }

    fn lay(&mut self, change: &Change) -> Result<(), Refused> {
        let path = toml_file(self.folder, &change.file)?;
        let real = fs::canonicalize(&path).map_err(|e| no_file(&change.file, &e))?;
        if !self.drafts.contains_key(&real) {
            let before = text_of(self.folder, &change.file, &path)?;
            let (id, after) = (change.file.clone(), before.clone());
            self.drafts.insert(real.clone(), Draft { id, before, after });
        }
        let Some(draft) = self.drafts.get_mut(&real) else {
            return Ok(());
        };
        match set_value(&draft.after, &change.keys, &new_value(change)) {
            Ok(after) => draft.after = after,
            Err(why) => return Err(self.cannot_set(change, &why)),
        }
        Ok(())
    }

    fn cannot_set(&self, change: &Change, why: &EditError) -> Refused {
        // The reader of plant files reports the line.
        if matches!(why, EditError::Syntax(_))
            && let Err(faults) = self.as_it_is().read()
        {
            return faults;
        }
        Refused::request(format!("{}, `{}`: {why}", change.file, change.keys))
    }

    /// The plant without the changes.
    fn as_it_is(&self) -> Self {
        Self {
            folder: self.folder,
            plant_file: self.plant_file.clone(),
            drafts: BTreeMap::new(),
        }
    }

    /// Reads the plant. A change to a file that is not one of the plant's is refused.
    pub(crate) fn read(&self) -> Result<Read, Refused> {
        let mut files = files(self.folder)?;
        for (path, draft) in &self.drafts {
            files = files.with_draft(path, draft.after.clone()).map_err(|e| no_file(&draft.id, &e))?;
        }
        let shown = |name: &str| self.folder.shown(name);
        let faults = |faults: Vec<_>| faults.iter().map(|located| FaultAt::of(located, shown)).collect();
        let read = read_plant_knowing(&self.plant_file, files, Arc::clone(self.folder.known()));
        let read = read.map_err(|found| Refused::faults(faults(found)))?;
        let mut strays = self.strays(&read);
        if !strays.is_empty() {
            // A change may have replaced a file that an earlier change edits.
            let known = self.as_it_is().read().map(|before| self.strays(&before)).unwrap_or_default();
            strays.retain(|id| known.contains(id));
        }
        match strays.first() {
            Some(id) => Err(Refused::request(format!("\"{id}\" is not a file of this plant"))),
            None => Ok(read),
        }
    }

    /// Drafts of files that the plant does not use.
    fn strays(&self, read: &Read) -> Vec<&str> {
        let of_plant: Vec<PathBuf> = read.documents.iter().filter_map(|d| fs::canonicalize(&d.name).ok()).collect();
        let drafts = self.drafts.iter().filter(|(real, _)| !of_plant.contains(real));
        drafts.map(|(_, draft)| draft.id.as_str()).collect()
    }

    /// The stamp of the plant's files and of the drafts: of the texts before the changes, or after them if they have been
    /// `written`.
    pub(crate) fn stamp(&self, read: &Read, written: bool) -> Stamp {
        let mut stamp = Stamp::default();
        for document in &read.documents {
            let real = fs::canonicalize(&document.name).ok();
            let text = match real.and_then(|real| self.drafts.get(&real)) {
                Some(draft) if !written => &draft.before,
                _ => &document.text,
            };
            stamp.add(self.folder.shown(&document.name), text);
        }
        for draft in self.drafts.values() {
            let text = if written { &draft.after } else { &draft.before };
            stamp.add(draft.id.clone(), text);
        }
        stamp
    }
}

fn no_file(id: &str, why: &std::io::Error) -> Refused {
    Refused::request(format!("cannot read \"{id}\": {why}"))
}

fn files(folder: &Folder) -> Result<Files, Refused> {
    let within = Files::within(folder.path());
    within.map_err(|e| Refused::request(format!("cannot open the folder: {e}")))
}

/// A TOML file below the opened folder.
fn toml_file(folder: &Folder, id: &str) -> Result<PathBuf, Refused> {
    let path = folder.file(id);
    let path = path.ok_or_else(|| Refused::request(format!("\"{id}\" is not a file in the opened folder")))?;
    if path.extension().is_none_or(|ending| ending != "toml") {
        return Err(Refused::request(format!("\"{id}\" is not a TOML file")));
    }
    Ok(path)
}

/// The text of a file, every byte of it.
pub(crate) fn text_of(folder: &Folder, id: &str, path: &Path) -> Result<String, Refused> {
    // The reader of plant files says what is wrong with a file that is not text.
    let checked = files(folder)?.read(path, "", "file");
    checked.map_err(|fault| Refused::faults(vec![FaultAt::of_file(id, &fault)]))?;
    fs::read_to_string(path).map_err(|e| no_file(id, &e))
}

fn new_value(change: &Change) -> NewValue {
    match &change.value {
        Some(InputValue::Number(number)) => NewValue::Number(*number),
        Some(InputValue::Numbers(numbers)) => NewValue::Numbers(numbers.clone()),
        Some(InputValue::Lists(lists)) => NewValue::Lists(lists.clone()),
        Some(InputValue::Flag(flag)) => NewValue::Flag(*flag),
        Some(InputValue::Text(text)) => NewValue::Text(text.clone()),
        None => NewValue::Absent,
    }
}
