//! Faults of TOML syntax in our words, with the text that they are about.

use std::ops::Range;

use daylift_units::Fault;
use toml::de::Error;

const TOML: &str = "TOML";
/// Quotes of word processors and telephones.
const TYPOGRAPHIC: [char; 7] = ['“', '”', '„', '‟', '‘', '’', '‚'];

/// The fault that an error of the parser is about, and its place in `text`.
pub(super) fn fault(error: &Error, text: &str) -> (Fault, Range<usize>) {
    let span = error.span().unwrap_or(0..0);
    let line = line_at(text, span.start);
    if let Some(place) = decimal_comma(text, &line) {
        return (comma_fault(&text[place.clone()]), place);
    }
    if let Some(place) = typographic_quote(text, &line) {
        let given = format!("typographic quote {}", &text[place.clone()]);
        return (
            Fault::new("", TOML, given, "straight quotes: \" or '", "use straight quotes"),
            place,
        );
    }
    let message = error.message().trim().replace('\n', "; ");
    if message == "duplicate key" {
        return (duplicate(text, &span, &line), span);
    }
    let shown = text.get(span.clone()).unwrap_or_default();
    (other(&message, shown), visible(text, span, line))
}

/// The line around a byte, without its end.
fn line_at(text: &str, at: usize) -> Range<usize> {
    let at = at.min(text.len());
    let start = text.as_bytes()[..at].iter().rposition(|&b| b == b'\n').map_or(0, |i| i + 1);
    let end = text.as_bytes()[at..].iter().position(|&b| b == b'\n').map_or(text.len(), |i| at + i);
    start..end
}

/// The part of a line that is neither in quotes nor a comment: the rest is replaced by spaces, byte for byte.
fn bare(line: &str) -> String {
    let mut quote = None;
    let mut is_comment = false;
    let hide = |c: char| " ".repeat(c.len_utf8());
    line.chars()
        .map(|c| match (quote, c) {
            _ if is_comment => hide(c),
            (Some(open), _) => {
                quote = Some(open).filter(|open| *open != c);
                hide(c)
            }
            (None, '"' | '\'') => {
                quote = Some(c);
                hide(c)
            }
            (None, '#') => {
                is_comment = true;
                hide(c)
            }
            (None, _) => c.to_string(),
        })
        .collect()
}

/// A number with a decimal comma directly after `=`.
fn decimal_comma(text: &str, line: &Range<usize>) -> Option<Range<usize>> {
    let bare = bare(text.get(line.clone())?);
    bare.match_indices('=').find_map(|(equals, _)| {
        let rest = &bare[equals + 1..];
        let value = rest.trim_start();
        let start = equals + 1 + (rest.len() - value.len());
        let length = value.find(|c: char| !matches!(c, '0'..='9' | ',' | '+' | '-')).unwrap_or(value.len());
        // A comma at the end separates the value from the next key.
        let number = value[..length].trim_end_matches(',');
        let (whole, decimals) = number.split_once(',')?;
        let digits = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
        let after = value[length..].trim_start();
        let ends = after.is_empty() || after.starts_with([',', '}']) || number.len() < length;
        (digits(whole.trim_start_matches(['+', '-'])) && digits(decimals) && ends)
            .then(|| line.start + start..line.start + start + number.len())
    })
}

fn comma_fault(number: &str) -> Fault {
    let with_point = number.replace(',', ".");
    Fault::new(
        "",
        "number",
        format!("{number}, with a decimal comma"),
        "numbers with a decimal point",
        format!("write {with_point}, with a point"),
    )
}

fn typographic_quote(text: &str, line: &Range<usize>) -> Option<Range<usize>> {
    let bare = bare(text.get(line.clone())?);
    let (at, c) = bare.char_indices().find(|(_, c)| TYPOGRAPHIC.contains(c))?;
    Some(line.start + at..line.start + at + c.len_utf8())
}

/// A key or a section that is in the file a second time.
fn duplicate(text: &str, span: &Range<usize>, line: &Range<usize>) -> Fault {
    let name = text.get(span.clone()).unwrap_or_default();
    let heading = text.get(line.clone()).unwrap_or_default().trim_start();
    if !heading.starts_with('[') {
        return Fault::new(
            "",
            TOML,
            format!("duplicate key `{name}`"),
            "each key once in a section",
            "remove one of the two lines",
        );
    }
    let heading = heading.find(']').map_or(heading, |end| &heading[..=end]);
    let before = text.get(..line.start).unwrap_or_default();
    let first = before.lines().position(|line| line.trim_start().starts_with(heading));
    let there = first.map_or_else(String::new, |i| format!("; the first is in line {}", i + 1));
    Fault::new(
        "",
        TOML,
        format!("duplicate section {heading}{there}"),
        "each section once",
        "merge the two, or remove one",
    )
}

/// Another fault. The parser also reports a date that is not in the calendar as a fault of syntax.
fn other(message: &str, shown: &str) -> Fault {
    match message.strip_prefix("invalid date, ") {
        Some(expected) => Fault::new(
            "",
            "date",
            format!("{shown} is not in the calendar ({expected})"),
            "year, month and day of the calendar, such as 2026-11-30",
            "correct the date",
        ),
        None => Fault::new(
            "",
            TOML,
            message,
            "a file in TOML 1.0",
            "correct the line; check that it is the right file",
        ),
    }
}

/// A place that can be shown: an empty one is widened to its line.
fn visible(text: &str, span: Range<usize>, line: Range<usize>) -> Range<usize> {
    let is_shown = text.get(span.clone()).is_some_and(|shown| !shown.trim().is_empty());
    if is_shown { span } else { line }
}
