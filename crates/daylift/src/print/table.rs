//! A table with names in the first column and numbers in the others.

use comfy_table::{CellAlignment, ContentArrangement, LineStyle, Table, presets};

/// A longer name is broken in a header, at a hyphen or plus sign.
const LONGEST_NAME: usize = 11;
/// With more columns than this, they are set closer.
const AIRY: usize = 6;

/// A table with a header, few lines, numbers to the right. Headers of several lines end on the same one.
pub(crate) fn new(header: &[String]) -> Table {
    let mut table = Table::new();
    table
        .load_style(presets::NOTHING.header_separator(LineStyle::none().fill('─').junction('─')))
        .set_content_arrangement(ContentArrangement::Disabled);
    let tallest = header.iter().map(|h| h.matches('\n').count()).max().unwrap_or(0);
    table.set_header(
        header
            .iter()
            .map(|h| "\n".repeat(tallest - h.matches('\n').count()) + h)
            .collect::<Vec<_>>(),
    );
    let after = u16::from(header.len() <= AIRY);
    for i in 0..header.len() {
        if let Some(column) = table.column_mut(i) {
            column.set_padding((if i == 0 { 2 } else { 1 }, after));
            column.set_cell_alignment(if i == 0 {
                CellAlignment::Left
            } else {
                CellAlignment::Right
            });
        }
    }
    table
}

/// Name of an arrangement as a header: `solar-drive-with-grid` takes two lines.
pub(crate) fn broken(name: &str) -> String {
    let (mut out, mut length) = (String::new(), 0);
    for piece in pieces(name) {
        let more = piece.chars().count();
        if length > 0 && length + more > LONGEST_NAME {
            out.push('\n');
            length = 0;
        }
        out += piece;
        length += more;
    }
    out
}

/// A sentence as a cell of several lines, no longer than those of a broken name. Digits of a number stay on one line.
pub(crate) fn wrapped(sentence: &str) -> String {
    let blank_in_number = |(at, c): (usize, char)| {
        let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
        let inside = digit(sentence[..at].chars().next_back()) && digit(sentence[at + c.len_utf8()..].chars().next());
        if c == ' ' && inside { '\u{a0}' } else { c }
    };
    let kept: String = sentence.char_indices().map(blank_in_number).collect();
    let options = textwrap::Options::new(LONGEST_NAME)
        .break_words(false)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::fill(&kept, options).replace('\u{a0}', " ")
}

/// A name cut before each sign.
fn pieces(name: &str) -> impl Iterator<Item = &str> {
    let cuts: Vec<usize> = std::iter::once(0)
        .chain(name.match_indices(['-', '+']).map(|(i, _)| i).filter(|i| *i > 0))
        .chain(std::iter::once(name.len()))
        .collect();
    (1..cuts.len()).map(move |i| &name[cuts[i - 1]..cuts[i]])
}

/// Text of a table without trailing blanks.
pub(crate) fn text(table: &Table) -> String {
    let lines: Vec<String> = table.lines().map(|l| l.trim_end().to_owned()).collect();
    lines.join("\n") + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_names_are_broken_at_a_sign() {
        assert_eq!(broken("solar-drive"), "solar-drive");
        assert_eq!(broken("solar-drive-with-grid"), "solar-drive\n-with-grid");
        assert_eq!(broken("grid-only+generator"), "grid-only\n+generator");
        assert_eq!(broken("battery-hybrid"), "battery\n-hybrid");
    }

    #[test]
    fn a_sentence_is_broken_at_blanks_but_not_within_a_number() {
        assert_eq!(wrapped("as today"), "as today");
        assert_eq!(
            wrapped("35 000 kWh of loads unserved"),
            "35 000 kWh\nof loads\nunserved"
        );
        assert_eq!(wrapped("10:00–15:00, 22:00–6:00"), "10:00–15:00,\n22:00–6:00");
    }
}
