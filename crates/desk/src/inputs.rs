//! Every value of the plant's files and what is allowed for it, from the declarations that the reader uses.

use daylift_plant_file::outline::{self, Key, What};
use daylift_plant_file::provenance::without_numbers;
use daylift_plant_file::{OriginValue, ValueOrigin};
use daylift_units::Field;

use crate::api::{Input, InputKind, InputValue, Range};
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
    let length = key.and_then(length);
    Input {
        file: folder.shown(&origin.file),
        keys: origin.keys.clone(),
        section: section.to_owned(),
        quantity: key.map_or(origin.path.as_str(), |key| key.quantity).to_owned(),
        unit: origin.unit.to_owned(),
        kind: key.map_or(InputKind::Text, kind),
        length,
        value: value(&origin.value, length),
        has_default: key.is_some_and(Key::has_default),
        rule: key.and_then(Key::rule).map(str::to_owned),
        state: origin.origin.id().to_owned(),
        not_confirmed: origin.origin.is_not_confirmed(),
        source: origin.source.clone(),
        date: mark.date.map(|date| date.to_string()),
        note: mark.note,
        range: key.and_then(Key::field).map(range),
        choices: key.map_or_else(Vec::new, choices),
    }
}

fn kind(key: &'static Key) -> InputKind {
    match key.what {
        What::Number(_) => InputKind::Number,
        What::Monthly(_) => InputKind::NumberOrMonths,
        What::Hourly(_) => InputKind::NumberOrHours,
        What::Windows(_) => InputKind::Windows,
        What::Numbers(..) => InputKind::Numbers,
        What::Flag => InputKind::YesNo,
        What::Choice(_) => InputKind::Choice,
        What::Path => InputKind::File,
        // Names, marks, lists of words and sections have no entry among the origins, so none of them comes here.
        What::Name
        | What::Text
        | What::Choices(_)
        | What::Word(_)
        | What::Keys
        | What::Day
        | What::Section(_)
        | What::Sections(_)
        | What::OneOrMany(_)
        | What::Group(_) => InputKind::Text,
    }
}

fn length(key: &'static Key) -> Option<usize> {
    match key.what {
        What::Numbers(_, length) => length,
        _ => None,
    }
}

/// The value; `None` where a rule decides.
fn value(origin: &OriginValue, length: Option<usize>) -> Option<InputValue> {
    Some(match (origin, length) {
        // A default may be one number that holds for the whole list.
        (OriginValue::Number(number), Some(length)) => InputValue::Numbers(vec![*number; length]),
        (OriginValue::Number(number), None) => InputValue::Number(*number),
        (OriginValue::Numbers(numbers), _) => InputValue::Numbers(numbers.clone()),
        (OriginValue::Lists(lists), _) => InputValue::Lists(lists.clone()),
        (OriginValue::Flag(flag), _) => InputValue::Flag(*flag),
        (OriginValue::Text(text), _) => InputValue::Text(text.clone()),
        (OriginValue::Rule(_), _) => return None,
    })
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
