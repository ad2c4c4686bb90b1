//! Replaces a value in the text of a file. Everything else stays as it is: comments, order and blank lines.

mod origin;
mod place;
mod strings;

use std::fmt;

use toml_edit::{Array, Document, DocumentMut, Item, Table, TableLike, Value};

pub use origin::set_origin;
pub use place::{NewPlace, set_place};
pub use strings::{WrittenGroup, set_strings};

/// A value to be written, in the unit of the file.
#[derive(Debug, Clone, PartialEq)]
pub enum NewValue {
    /// A number.
    Number(f64),
    /// A list of numbers.
    Numbers(Vec<f64>),
    /// Several lists of numbers, such as two windows of hours.
    Lists(Vec<Vec<f64>>),
    /// `true` or `false`.
    Flag(bool),
    /// A word, or the path of a file.
    Text(String),
    /// No value: the key is removed, and its default holds.
    Absent,
}

/// Why a value could not be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EditError {
    /// The text is not valid TOML.
    Syntax(String),
    /// The keys lead to no place in the text: a part of them is not a section, or there are fewer sections than the number
    /// asks for.
    NoPlace(String),
    /// The number is not finite, so TOML cannot hold it.
    NotANumber,
}

impl fmt::Display for EditError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Syntax(why) => write!(f, "the file is not valid TOML: {why}"),
            Self::NoPlace(keys) => write!(f, "`{keys}` has no place in the file"),
            Self::NotANumber => write!(f, "not a finite number"),
        }
    }
}

impl std::error::Error for EditError {}

/// The longest keys that are followed \[characters\], and the most sections in them. Real keys are far shorter. Without a
/// limit, deeply nested sections could exhaust the stack of the reader.
const LONGEST_KEYS: usize = 200;
const DEEPEST: usize = 8;

/// Sets the value under dotted keys, `tank.capacity_m3` or `pipe[2].bore_mm` (numbers count from 1), and returns the new
/// text.
///
/// - In a list of numbers of the same length, only those that differ change.
/// - A missing key is added at the end of its section. A missing section without a number is added at the end of the file.
/// - Removing a key keeps the comments above it.
///
/// # Errors
/// When the text is not valid TOML, when there is no place for the keys, and for a number that is not finite.
pub fn set_value(text: &str, keys: &str, value: &NewValue) -> Result<String, EditError> {
    let (mark, plain) = match text.strip_prefix(MARK) {
        Some(plain) => (MARK, plain),
        None => ("", text),
    };
    let parts: Vec<&str> = keys.split('.').collect();
    let Some((key, sections)) = parts.split_last() else {
        return Err(EditError::NoPlace(keys.to_owned()));
    };
    let followed = keys.len() <= LONGEST_KEYS && parts.len() <= DEEPEST && !parts.contains(&"") && !key.contains('[');
    if !followed {
        return Err(EditError::NoPlace(keys.to_owned()));
    }
    if *value == NewValue::Absent
        && let Some(out) = without_line(plain, sections, key)?
    {
        return Ok(format!("{mark}{out}"));
    }
    let out = set_in_document(plain, sections, key, value)?.ok_or_else(|| EditError::NoPlace(keys.to_owned()))?;
    Ok(format!("{mark}{}", with_ends_of(plain, out)))
}

/// Byte order mark, which some editors write at the start of a text.
const MARK: &str = "\u{feff}";

fn syntax(error: &toml_edit::TomlError) -> EditError {
    EditError::Syntax(error.message().to_owned())
}

/// Returns the text with the value set, or `None` when there is no place for it.
fn set_in_document(text: &str, sections: &[&str], key: &str, value: &NewValue) -> Result<Option<String>, EditError> {
    let mut document: DocumentMut = text.parse().map_err(|e| syntax(&e))?;
    let mut table: &mut dyn TableLike = document.as_table_mut();
    for part in sections {
        let Some(inner) = below(table, part) else {
            return Ok(None);
        };
        table = inner;
    }
    match table.get_mut(key) {
        Some(Item::Value(_)) if *value == NewValue::Absent => {
            table.remove(key);
        }
        // The search may have added a section for a key that does not exist.
        None if *value == NewValue::Absent => return Ok(Some(text.to_owned())),
        Some(Item::Value(old)) => replace(old, value)?,
        Some(_) => return Ok(None),
        None => {
            table.insert(key, Item::Value(made(value, None).ok_or(EditError::NotANumber)?));
        }
    }
    Ok(Some(document.to_string()))
}

/// The text without the lines of a key that has its lines to itself; `None` for any other key.
fn without_line(text: &str, sections: &[&str], key: &str) -> Result<Option<String>, EditError> {
    let document = Document::parse(text).map_err(|e| syntax(&e))?;
    let Some((from, to)) = span_of(document.as_table(), sections, key) else {
        return Ok(None);
    };
    let begin = text[..from].rfind('\n').map_or(0, |at| at + 1);
    let end = text[to..].find('\n').map_or(text.len(), |at| to + at + 1);
    let (before, after) = (text[begin..from].trim(), text[to..end].trim());
    // A dotted key has its sections before it, a value its comment after it.
    let alone = !before.contains(['{', '[', ',', '=']) && (after.is_empty() || after.starts_with('#'));
    Ok(alone.then(|| format!("{}{}", &text[..begin], &text[end..])))
}

/// Where a key with its value begins and ends.
fn span_of(root: &Table, sections: &[&str], key: &str) -> Option<(usize, usize)> {
    let mut table: &dyn TableLike = root;
    for part in sections {
        table = match part.split_once('[') {
            None => table.get(part)?.as_table_like()?,
            Some((name, number)) => {
                let index = index_of(number)?;
                match table.get(name)? {
                    Item::ArrayOfTables(tables) => tables.get(index)?,
                    Item::Value(Value::Array(items)) => items.get(index)?.as_inline_table()?,
                    _ => return None,
                }
            }
        };
    }
    let (key, item) = table.get_key_value(key)?;
    Some((key.span()?.start, item.as_value()?.span()?.end))
}

/// The index in a list for a number that counts from 1, followed by a bracket.
fn index_of(number: &str) -> Option<usize> {
    number.strip_suffix(']')?.parse::<usize>().ok()?.checked_sub(1)
}

/// The new text with the line ends of the old text, also at its end.
fn with_ends_of(before: &str, mut after: String) -> String {
    if !before.is_empty() && !before.ends_with('\n') && after.ends_with('\n') {
        after.pop();
    }
    if before.contains("\r\n") {
        after.replace("\r\n", "\n").replace('\n', "\r\n")
    } else {
        after
    }
}

/// The section under one part of dotted keys. A section without a number is added if it does not exist.
fn below<'t>(table: &'t mut dyn TableLike, part: &str) -> Option<&'t mut dyn TableLike> {
    let Some((name, number)) = part.split_once('[') else {
        if !table.contains_key(part) {
            table.insert(part, toml_edit::table());
        }
        return table.get_mut(part)?.as_table_like_mut();
    };
    let index = index_of(number)?;
    match table.get_mut(name)? {
        Item::ArrayOfTables(tables) => tables.get_mut(index).map(|table| table as &mut dyn TableLike),
        Item::Value(Value::Array(items)) => {
            items.get_mut(index)?.as_inline_table_mut().map(|table| table as &mut dyn TableLike)
        }
        _ => None,
    }
}

/// Replaces a value and keeps the comments and blanks around it.
fn replace(old: &mut Value, value: &NewValue) -> Result<(), EditError> {
    if let (Value::Array(items), NewValue::Numbers(numbers)) = (&mut *old, value)
        && items.len() == numbers.len()
    {
        for (item, number) in items.iter_mut().zip(numbers) {
            replace(item, &NewValue::Number(*number))?;
        }
        return Ok(());
    }
    if matches!(value, NewValue::Number(new) if as_number(old) == Some(*new)) {
        return Ok(());
    }
    let mut new = made(value, Some(old)).ok_or(EditError::NotANumber)?;
    *new.decor_mut() = old.decor().clone();
    *old = new;
    Ok(())
}

/// A value in TOML; `None` for a number that is not finite. A whole number is written without a decimal point, unless it
/// replaces a single number that had one.
fn made(value: &NewValue, old: Option<&Value>) -> Option<Value> {
    let keeps_point = matches!((value, old), (NewValue::Number(_), Some(Value::Float(_))));
    let number = |number: f64| -> Option<Value> {
        let whole = number.fract() == 0.0 && number.abs() < 1e15 && !keeps_point;
        #[expect(clippy::cast_possible_truncation, reason = "whole and within the exact range")]
        number.is_finite().then(|| {
            if whole {
                Value::from(number as i64)
            } else {
                Value::from(number)
            }
        })
    };
    let list = |new: &[f64]| new.iter().map(|new| number(*new)).collect::<Option<Array>>().map(Value::Array);
    match value {
        NewValue::Number(new) => number(*new),
        NewValue::Numbers(new) => list(new),
        NewValue::Lists(new) => new.iter().map(|new| list(new)).collect::<Option<Array>>().map(Value::Array),
        NewValue::Flag(flag) => Some(Value::from(*flag)),
        NewValue::Text(text) => Some(Value::from(text.as_str())),
        NewValue::Absent => None,
    }
}

fn as_number(value: &Value) -> Option<f64> {
    #[expect(
        clippy::cast_precision_loss,
        reason = "integers beyond 2^53 are outside every field's range"
    )]
    value.as_float().or_else(|| value.as_integer().map(|i| i as f64))
}

#[cfg(test)]
mod tests;
