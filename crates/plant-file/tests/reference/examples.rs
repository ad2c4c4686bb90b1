//! Example values: from the worked plants, otherwise from the user guide.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use daylift_testing::folder;
use toml::{Table, Value};

/// Folders with worked plants, in the order in which they are searched.
const FOLDERS: [&str; 2] = ["examples", "validation/plants"];

/// Most numbers of a list that are shown.
const SHOWN: usize = 3;

/// The guide, whose `toml` blocks are parts of files.
const GUIDE: &str = "docs/user-guide.md";

/// Every TOML file of the worked plants and every TOML block of the guide, by its kind.
pub(crate) struct Examples(Vec<(String, Table)>);

impl Examples {
    pub(crate) fn of_the_repository() -> Self {
        let mut files: Vec<PathBuf> = Vec::new();
        for top in FOLDERS {
            let mut plants = entries(&folder(top));
            plants.retain(|path| path.is_dir());
            files.extend(plants.iter().flat_map(|plant| entries(plant)));
        }
        let tables = files.iter().filter(|path| path.extension().is_some_and(|e| e == "toml")).map(|path| {
            let table: Table = toml::from_str(&fs::read_to_string(path).unwrap()).unwrap();
            let kind = table.get("kind").and_then(Value::as_str).unwrap_or("plant");
            (kind.to_owned(), table)
        });
        let guide = fs::read_to_string(folder(GUIDE)).unwrap();
        Self(tables.chain(blocks(&guide)).collect())
    }

    /// The kind of file and the dotted path of every key that is given.
    pub(crate) fn paths(&self) -> BTreeSet<(String, String)> {
        let mut out = BTreeSet::new();
        for (kind, table) in &self.0 {
            book(kind, "", table, &mut out);
        }
        out
    }

    /// The first value of a path in a kind of file, as TOML; a long list is cut short.
    pub(crate) fn value(&self, kind: &str, path: &[&str]) -> Option<String> {
        let tables = self.0.iter().filter(|(of, _)| of == kind);
        tables.flat_map(|(_, table)| find(table, path)).next().map(|value| shown(&value))
    }
}

/// The TOML blocks of the guide by kind of file: sections of a plant, or parts of an equipment file.
fn blocks(guide: &str) -> Vec<(String, Table)> {
    let starts = guide.split("\n```toml ").skip(1).filter_map(|block| {
        let (words, text) = block.split_once('\n')?;
        let kind = match words.split_once('=')? {
            ("sections", _) => "plant",
            ("example", kind) => kind,
            _ => return None,
        };
        Some((kind.to_owned(), text.split("```").next()?))
    });
    starts.map(|(kind, text)| (kind, toml::from_str(text).unwrap())).collect()
}

fn book(kind: &str, above: &str, table: &Table, out: &mut BTreeSet<(String, String)>) {
    for (key, value) in table {
        let path = format!("{above}{key}");
        let list = value.as_array().into_iter().flatten();
        for inner in list.chain([value]).filter_map(Value::as_table) {
            book(kind, &format!("{path}."), inner, out);
        }
        out.insert((kind.to_owned(), path));
    }
}

fn entries(folder: &Path) -> Vec<PathBuf> {
    let mut out: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    out.sort();
    out
}

fn find(table: &Table, path: &[&str]) -> Option<Value> {
    let (first, rest) = path.split_first()?;
    let value = table.get(*first)?;
    match value {
        _ if rest.is_empty() => Some(value.clone()),
        Value::Table(inner) => find(inner, rest),
        Value::Array(list) => list.iter().filter_map(Value::as_table).find_map(|inner| find(inner, rest)),
        _ => None,
    }
}

fn shown(value: &Value) -> String {
    let Value::Array(list) = value else {
        return value.to_string();
    };
    let mut parts: Vec<String> = list.iter().take(SHOWN).map(ToString::to_string).collect();
    if list.len() > SHOWN {
        parts.push("…".to_owned());
    }
    format!("[{}]", parts.join(", "))
}
