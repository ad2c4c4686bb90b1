//! The opened folder, and the plants below it.

use std::fs;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use daylift_tables::Known;
use walkdir::{DirEntry, WalkDir};

use crate::api::ListedPlant;

const PLANT_FILE: &str = "plant.toml";
/// How many levels of folders are searched for plants.
const DEEPEST: usize = 4;
/// The most plants that are listed.
const MOST_PLANTS: usize = 200;

/// Whether a relative path never leads above its start. Equipment that plants share may be named `a/../pump.toml`.
fn stays_inside(path: &Path) -> bool {
    let mut depth = 0_usize;
    path.components().all(|part| match part {
        Component::Normal(_) => {
            depth += 1;
            true
        }
        Component::ParentDir => match depth.checked_sub(1) {
            Some(less) => {
                depth = less;
                true
            }
            None => false,
        },
        _ => false,
    })
}

/// The opened folder. Nothing outside it is read or written.
#[derive(Debug, Clone)]
pub(crate) struct Folder {
    path: PathBuf,
    /// The plant that was opened, if a plant was opened.
    first: Option<String>,
    /// Tables that earlier readings of the plants found.
    known: Arc<Known>,
}

impl Folder {
    /// Opens a folder, or the folder of a plant file.
    pub(crate) fn open(path: &Path) -> Result<Self, String> {
        let meta = fs::metadata(path).map_err(|e| format!("cannot open {}: {e}", path.display()))?;
        if meta.is_dir() {
            let first = path.join(PLANT_FILE).is_file().then(|| PLANT_FILE.to_owned());
            return Ok(Self {
                path: path.to_owned(),
                first,
                known: Arc::default(),
            });
        }
        if path.extension().is_none_or(|ending| ending != "toml") {
            return Err(format!(
                "{} is not a plant file; give a folder, or a file that ends in .toml",
                path.display()
            ));
        }
        let parent = path.parent().filter(|parent| *parent != Path::new("")).unwrap_or(Path::new("."));
        let name = path.file_name().and_then(|name| name.to_str());
        let name = name.ok_or_else(|| format!("the name of {} cannot be shown", path.display()))?;
        let folder = Self {
            path: parent.to_owned(),
            first: Some(name.to_owned()),
            known: Arc::default(),
        };
        if folder.file(name).is_none() {
            return Err(format!(
                "{} is a link to a file in another folder; open that file instead",
                path.display()
            ));
        }
        Ok(folder)
    }

    /// The absolute path of the folder.
    pub(crate) fn whole_name(&self) -> String {
        std::path::absolute(&self.path)
            .unwrap_or_else(|_| self.path.clone())
            .display()
            .to_string()
    }

    /// Tables that earlier readings of the plants found.
    pub(crate) fn known(&self) -> &Arc<Known> {
        &self.known
    }

    pub(crate) fn path(&self) -> &Path {
        &self.path
    }

    /// The plant that was opened; `None` if a folder with plants below it was opened.
    pub(crate) fn first(&self) -> Option<&str> {
        self.first.as_deref()
    }

    /// A file below the opened folder; `None` for a name that leads out of it or is not a plain path.
    pub(crate) fn file(&self, id: &str) -> Option<PathBuf> {
        let inner = Path::new(id);
        if !stays_inside(inner) {
            return None;
        }
        let path = self.path.join(inner);
        let real = fs::canonicalize(&path).ok()?;
        let within = fs::canonicalize(&self.path).ok()?;
        (real.starts_with(within) && real.is_file()).then_some(path)
    }

    /// The path of a file as the page knows it: relative to the opened folder, with `/` as separator.
    pub(crate) fn shown(&self, name: &str) -> String {
        let path = Path::new(name);
        let inner = path.strip_prefix(&self.path).unwrap_or(path);
        let parts = inner.components().filter(|part| !matches!(part, Component::CurDir));
        parts.map(|part| part.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/")
    }

    /// Plants in the folder and below it, sorted by the names of their files.
    pub(crate) fn plants(&self) -> Vec<ListedPlant> {
        let looked_into = |entry: &DirEntry| {
            let name = entry.file_name().to_string_lossy();
            entry.depth() == 0 || !(name.starts_with('.') || ["node_modules", "target"].contains(&&*name))
        };
        let walk = WalkDir::new(&self.path).max_depth(DEEPEST).sort_by_file_name();
        let found = walk.into_iter().filter_entry(looked_into).filter_map(Result::ok);
        let mut ids: Vec<String> = found
            .filter(|entry| entry.file_type().is_file() && entry.file_name() == PLANT_FILE)
            .filter_map(|entry| entry.path().to_str().map(|path| self.shown(path)))
            .take(MOST_PLANTS)
            .collect();
        if let Some(first) = self.first.as_ref().filter(|first| !ids.contains(first)) {
            ids.insert(0, first.clone());
        }
        let named = |id: String| ListedPlant {
            name: daylift_plant_file::single::plant_name(&self.path.join(&id)),
            id,
        };
        ids.into_iter().map(named).collect()
    }

    /// The path of a new folder in the opened one, for a name that the user typed.
    pub(crate) fn new_folder(&self, name: &str) -> Result<PathBuf, String> {
        let mut parts = Path::new(name).components();
        let plain = matches!((parts.next(), parts.next()), (Some(Component::Normal(_)), None));
        let odd = |c: char| c.is_control() || ['/', '\\'].contains(&c);
        if !plain || name.starts_with('.') || name.chars().any(odd) {
            return Err(format!(
                "\"{name}\" is not a valid folder name; use a simple name such as my-farm"
            ));
        }
        Ok(self.path.join(name))
    }
}
