//! One key as a row of a table.

use daylift_plant_file::outline::{FILES, Key, What};

use crate::examples::Examples;

pub(crate) const HEAD: &str =
    "| key | what it is | unit | allowed | if left out | example |\n|---|---|---|---|---|---|\n";

const NOTHING: &str = "–";

/// A key below `path` in a kind of file.
pub(crate) fn row(key: &Key, kind: &str, path: &[&str], examples: &Examples) -> String {
    let unit = key.field().map_or("", |field| field.unit.symbol);
    let place = [path, &[key.name]].concat();
    let given = examples.value(kind, &place).or_else(|| elsewhere(key, kind, examples));
    let example = given.or_else(|| own_example(key));
    let cells = [
        format!("`{}`", key.name),
        key.quantity.to_owned(),
        or_nothing(unit.to_owned()),
        or_nothing(allowed(key)),
        if_left_out(key),
        example.map_or_else(|| NOTHING.to_owned(), |value| format!("`{value}`")),
    ];
    format!("| {} |\n", cells.map(|cell| cell.replace('|', "\\|")).join(" | "))
}

fn or_nothing(text: String) -> String {
    if text.is_empty() { NOTHING.to_owned() } else { text }
}

fn allowed(key: &Key) -> String {
    match key.what {
        What::Number(field) => field.allowed(),
        What::Monthly(field) => format!("one value, or twelve from January on; each {}", field.allowed()),
        What::Hourly(field) => format!("one value, or 24 from 0:00 on; each {}", field.allowed()),
        What::Windows(field) => format!(
            "two hours, or two such windows: `[[22, 6], [10, 15]]`; each {}",
            field.allowed()
        ),
        What::Numbers(field, Some(length)) => format!("a list of {length}; each {}", field.allowed()),
        What::Numbers(field, None) => format!("a list; each {}", field.allowed()),
        What::Choice(words) => one_of(&words()),
        What::Choices(words) => format!("a list of {}", one_of(&words())),
        What::Word(word) => format!("`{word:?}`"),
        What::Flag => "`true`, `false`".to_owned(),
        What::Name | What::Text | What::Path | What::Day => key.allowed_text().to_owned(),
        What::Keys => format!("a list of {}", key.allowed_text()),
        What::Section(_) | What::Sections(_) | What::OneOrMany(_) | What::Group(_) => String::new(),
    }
}

fn one_of(words: &[&str]) -> String {
    words.iter().map(|word| format!("`{word:?}`")).collect::<Vec<_>>().join(", ")
}

/// Whether a key must be given, and what applies when it is not.
pub(crate) fn if_left_out(key: &Key) -> String {
    let holds = key.default().map(|(value, source)| {
        if source.is_empty() {
            value
        } else {
            format!("{value} ({source})")
        }
    });
    match (holds, key.replaced_by()) {
        (Some(holds), _) => holds,
        (None, _) if key.needed => "**must be given**".to_owned(),
        (None, Some(other)) => format!("must be given unless `{other}` is"),
        (None, None) => "may be left out".to_owned(),
    }
}

/// The example of the same quantity in another section of the same kind of file.
fn elsewhere(key: &Key, kind: &str, examples: &Examples) -> Option<String> {
    let field = key.field()?;
    let (_, table) = FILES.iter().find(|(of, _)| *of == kind)?;
    let same = table.walk().into_iter().filter(|(_, other)| other.field().is_some_and(|of| of == field));
    let mut paths = same.map(|(path, _)| path);
    paths.find_map(|path| examples.value(kind, &path.split('.').collect::<Vec<_>>()))
}

/// An example for a key that no worked plant gives: its default, or the first of its words.
fn own_example(key: &Key) -> Option<String> {
    match key.what {
        What::Choice(words) => words().first().map(|word| format!("{word:?}")),
        What::Choices(words) => words().first().map(|word| format!("[{word:?}]")),
        What::Flag => Some("true".to_owned()),
        _ => key.field()?.preset.map(|preset| daylift_units::field::number(preset.value)),
    }
}
