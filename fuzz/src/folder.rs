//! Folders with the files that a plant file may name.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

/// A folder with the files of all worked plants, each named by its folder and its own name:
/// `mulenga-ridge-pump.toml`.
#[derive(Debug)]
pub struct Folder(PathBuf);

/// Without any weather: reading weather takes most of the time, and everything else is read without it too.
pub static BARE: LazyLock<Folder> = LazyLock::new(|| Folder::make("bare", |name| !is_weather(name)));
/// With all files.
pub static FULL: LazyLock<Folder> = LazyLock::new(|| Folder::make("full", |_| true));

/// Folders of the repository; a plant may name the files in their subfolders.
const SHELVES: [&str; 4] = ["examples", "validation/plants", "validation/data", "fuzz/seeds"];

fn is_weather(name: &str) -> bool {
    name.ends_with("weather.csv") || name.starts_with("tmy3-")
}

impl Folder {
    fn make(name: &str, wanted: impl Fn(&str) -> bool) -> Self {
        let own = Path::new(env!("CARGO_MANIFEST_DIR"));
        // One for each process, so that several can run at once; process ids are reused.
        let out = own.join("work").join(format!("{name}-{}", std::process::id()));
        fs::create_dir_all(&out).expect("a folder to work in");
        for shelf in SHELVES {
            for folder in entries(&own.join("..").join(shelf)).iter().filter(|path| path.is_dir()) {
                for file in entries(folder).iter().filter(|path| path.is_file()) {
                    let name = format!("{}-{}", last(folder), last(file));
                    if wanted(&name) {
                        fs::copy(file, out.join(name)).expect("a copy");
                    }
                }
            }
        }
        Self(out)
    }

    /// Writes a file there; returns its path.
    pub fn write(&self, name: &str, data: &[u8]) -> PathBuf {
        let path = self.0.join(name);
        fs::write(&path, data).expect("a file written");
        path
    }
}

fn entries(folder: &Path) -> Vec<PathBuf> {
    let mut out: Vec<PathBuf> = fs::read_dir(folder).into_iter().flatten().flatten().map(|e| e.path()).collect();
    out.sort();
    out
}

fn last(path: &Path) -> String {
    path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}
