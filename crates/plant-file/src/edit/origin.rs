//! Writes into a plant file where its values came from: its `[[origin]]` entries.

use jiff::civil::Date;
use toml_edit::{Array, ArrayOfTables, DocumentMut, Item, Table, Value, value};

use super::{EditError, MARK, syntax, with_ends_of};
use crate::provenance::{Mark, Origin, covers};

const ORIGIN: &str = "origin";

/// Marks keys, sections or `*` in a plant file, and removes their earlier marks.
///
/// The keys join an entry that already says the same; otherwise a new entry is added at the end of the file. Entries left
/// without a key are removed. Comments stay, except those of removed entries.
///
/// [`Origin::Default`] is not a mark: it only removes earlier ones. So does [`Origin::Given`] without date and note, for
/// keys that no wider entry covers.
///
/// # Errors
/// When the text is not valid TOML, and when `origin` in it is not a list of tables.
pub fn set_origin(text: &str, of: &[String], origin: Origin, mark: &Mark) -> Result<String, EditError> {
    let (bom, plain) = match text.strip_prefix(MARK) {
        Some(plain) => (MARK, plain),
        None => ("", text),
    };
    let mut document: DocumentMut = plain.parse().map_err(|e| syntax(&e))?;
    mark_in(&mut document, of, origin, mark)?;
    Ok(format!("{bom}{}", with_ends_of(plain, document.to_string())))
}

/// As [`set_origin`], in a parsed document.
pub(super) fn mark_in(document: &mut DocumentMut, of: &[String], origin: Origin, mark: &Mark) -> Result<(), EditError> {
    change(document, |entries| {
        for key in of {
            rename(
                entries,
                |known| if known == key { None } else { Some(known.to_owned()) },
            );
        }
        entries.retain(|entry| keys_of(entry).is_none_or(|keys| !keys.is_empty()));
        let says_nothing = origin == Origin::Given && *mark == Mark::default();
        let of: Vec<String> = of.iter().filter(|key| !says_nothing || is_covered(entries, key)).cloned().collect();
        if Origin::MARKS.contains(&origin) && !of.is_empty() {
            let same = entries.iter().position(|entry| says(entry, origin, mark));
            match same.and_then(|at| entries.get_mut(at)) {
                Some(entry) => add(entry, &of),
                None => entries.push(written(&of, origin, mark)),
            }
        }
    })
}

/// Renames the keys in all entries, and removes those for which `name` returns `None`.
pub(super) fn rename_in(document: &mut DocumentMut, name: impl Fn(&str) -> Option<String>) -> Result<(), EditError> {
    change(document, |entries| {
        rename(entries, name);
        entries.retain(|entry| keys_of(entry).is_none_or(|keys| !keys.is_empty()));
    })
}

fn change(document: &mut DocumentMut, change: impl FnOnce(&mut ArrayOfTables)) -> Result<(), EditError> {
    let entries = document.remove(ORIGIN).map_or(Ok(ArrayOfTables::new()), Item::into_array_of_tables);
    let mut entries = entries.map_err(|_| EditError::NoPlace(ORIGIN.to_owned()))?;
    change(&mut entries);
    if !entries.is_empty() {
        document.insert(ORIGIN, Item::ArrayOfTables(entries));
    }
    Ok(())
}

fn keys_of(entry: &Table) -> Option<&Array> {
    entry.get("of").and_then(Item::as_array)
}

/// Whether an entry covers a key.
fn is_covered(entries: &ArrayOfTables, key: &str) -> bool {
    let marked = entries.iter().filter_map(keys_of).flatten().filter_map(Value::as_str);
    marked.into_iter().any(|of| covers(of, key))
}

fn rename(entries: &mut ArrayOfTables, name: impl Fn(&str) -> Option<String>) {
    for entry in entries.iter_mut() {
        let Some(keys) = entry.get_mut("of").and_then(Item::as_array_mut) else {
            continue;
        };
        keys.retain(|item| item.as_str().is_none_or(|known| name(known).is_some()));
        for item in keys.iter_mut() {
            let new = item.as_str().and_then(|known| name(known).filter(|new| new != known));
            if let Some(new) = new {
                let decor = item.decor().clone();
                *item = Value::from(new);
                *item.decor_mut() = decor;
            }
        }
    }
}

/// Whether an entry has exactly this origin, date and note.
fn says(entry: &Table, origin: Origin, mark: &Mark) -> bool {
    let text = |key: &str| entry.get(key).and_then(Item::as_str);
    let date = entry.get("date").and_then(Item::as_datetime).map(ToString::to_string);
    keys_of(entry).is_some()
        && text("is") == Some(origin.id())
        && text("note") == mark.note.as_deref()
        && date == mark.date.map(|date| date.to_string())
}

fn add(entry: &mut Table, of: &[String]) {
    if let Some(keys) = entry.get_mut("of").and_then(Item::as_array_mut) {
        keys.extend(of.iter().map(String::as_str));
    }
}

fn written(of: &[String], origin: Origin, mark: &Mark) -> Table {
    let mut table = Table::new();
    table.decor_mut().set_prefix("\n");
    table.insert("of", value(of.iter().map(String::as_str).collect::<Array>()));
    table.insert("is", value(origin.id()));
    if let Some(date) = mark.date {
        table.insert("date", Item::Value(day(date)));
    }
    if let Some(note) = &mark.note {
        table.insert("note", value(note));
    }
    table
}

/// A date as TOML writes it.
fn day(date: Date) -> Value {
    let part = |number: i8| u8::try_from(number).unwrap_or_default();
    Value::from(toml_edit::Datetime {
        date: Some(toml_edit::Date {
            year: u16::try_from(date.year()).unwrap_or_default(),
            month: part(date.month()),
            day: part(date.day()),
        }),
        time: None,
        offset: None,
    })
}

#[cfg(test)]
mod tests;
