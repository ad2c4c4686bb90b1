//! Every value of the plant's files with what it may be, from the declarations that the reader uses.

use daylift_plant_file::outline::{self, Key, What};
use daylift_plant_file::provenance::without_numbers;
use daylift_plant_file::{OriginValue, ValueOrigin};
use daylift_units::Field;

use crate::api::{Input, InputValue, Range};
use crate::folder::Folder;

/// The inputs in the order in which they were read.
pub(crate) fn inputs(origins: &[ValueOrigin], folder: &Folder) -> Vec<Input> {
    let known = outline::paths();
    let of = |origin: &ValueOrigin| {
        let path = without_numbers(&origin.path);
        let key = known.iter().find(|(known, _)| *known == path).map(|(_, key)| *key);
        input(origin, key, folder)
    };
    origins.iter().map(of).collect()
}

fn input(origin: &ValueOrigin, key: Option<&'static Key>, folder: &Folder) -> Input {
    let section = origin.path.rsplit_once('.').map_or("", |(section, _)| section);
    let mark = origin.mark.clone().unwrap_or_default();
    Input {
        file: folder.shown(&origin.file),
        keys: origin.keys.clone(),
        section: section.to_owned(),
        quantity: key.map_or(origin.path.as_str(), |key| key.quantity).to_owned(),
        unit: origin.unit.to_owned(),
        value: match &origin.value {
            OriginValue::Number(number) => InputValue::Number(*number),
            OriginValue::Numbers(numbers) => InputValue::Numbers(numbers.clone()),
            OriginValue::Text(text) => InputValue::Text(text.clone()),
        },
        state: origin.origin.id().to_owned(),
        source: origin.source.clone(),
        date: mark.date.map(|date| date.to_string()),
        note: mark.note,
        range: key.and_then(Key::field).map(range),
        choices: key.map_or_else(Vec::new, choices),
        names_file: key.is_some_and(|key| matches!(key.what, What::Path)),
    }
}

fn range(field: &Field) -> Range {
    Range {
        least: field.least,
        greatest: field.greatest,
        whole: field.whole,
        reason: field.reason.to_owned(),
    }
}

fn choices(key: &'static Key) -> Vec<String> {
    match key.what {
        What::Choice(words) => words().into_iter().map(str::to_owned).collect(),
        _ => Vec::new(),
    }
}
