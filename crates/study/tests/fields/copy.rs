//! A copy of the example in which values can be changed by path.

use std::fs;
use std::path::{Path, PathBuf};

use daylift_plant_file::outline::FILES;
use daylift_plant_file::{Read, read_plant};
use daylift_tables::Located;
use tempfile::TempDir;
use toml::{Table, Value};

/// A value of a file, by the file's kind and its path in it; `None` removes it.
pub(crate) type Edit = (&'static str, String, Option<Value>);

fn example() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/mulenga-ridge")
}

fn file_name(kind: &str) -> String {
    format!("{kind}.toml")
}

/// The example's files of every kind.
#[derive(Clone)]
pub(crate) struct Copy(Vec<(&'static str, Table)>);

impl Copy {
    pub(crate) fn new() -> Self {
        Self(
            FILES
                .map(|(kind, _)| {
                    let text = fs::read_to_string(example().join(file_name(kind))).unwrap();
                    (kind, toml::from_str(&text).unwrap())
                })
                .to_vec(),
        )
    }

    pub(crate) fn with(mut self, edits: &[Edit]) -> Self {
        for (kind, path, value) in edits {
            let (table, key) = self.parent(kind, path);
            match value {
                Some(value) => table.insert(key.to_owned(), value.clone()),
                None => table.remove(key),
            };
        }
        self
    }

    pub(crate) fn get(&self, kind: &str, path: &str) -> Option<Value> {
        let mut copy = self.clone();
        let (table, key) = copy.parent(kind, path);
        table.get(key).cloned()
    }

    /// The table with the last key of a path. In a list of tables it is the first, unless the path has a number.
    fn parent<'a, 'p>(&'a mut self, kind: &str, path: &'p str) -> (&'a mut Table, &'p str) {
        let mut table = self.0.iter_mut().find(|(k, _)| *k == kind).map(|(_, table)| table).unwrap();
        let mut parts: Vec<&str> = path.split('.').collect();
        let key = parts.pop().unwrap();
        for part in parts {
            let (name, number) = part.split_once('#').unwrap_or((part, "0"));
            table = match table.entry(name).or_insert_with(|| Value::Table(Table::new())) {
                Value::Table(inner) => inner,
                Value::Array(items) => items[number.parse::<usize>().unwrap()].as_table_mut().unwrap(),
                other => panic!("{path}: {name} is {other}"),
            };
        }
        (table, key)
    }

    /// Writes the copy and the example's other files into a new folder, and reads the plant there.
    pub(crate) fn read(&self) -> Result<Read, Vec<Located>> {
        let folder = TempDir::new().unwrap();
        for entry in fs::read_dir(example()).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|e| e == "csv") {
                fs::copy(&path, folder.path().join(path.file_name().unwrap())).unwrap();
            }
        }
        for (kind, table) in &self.0 {
            fs::write(folder.path().join(file_name(kind)), toml::to_string(table).unwrap()).unwrap();
        }
        read_plant(folder.path())
    }
}
