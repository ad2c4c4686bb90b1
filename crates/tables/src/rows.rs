//! Rows of a CSV file with their positions, and a limit on how many faults of one file are reported.

use std::sync::Arc;

use csv::{ReaderBuilder, StringRecord};
use daylift_units::{Fault, Warning};

use crate::outcome::{Noted, Outcome};
use crate::source::{Located, Place, Source};

/// Faults reported individually for one file; a wrong column would otherwise give thousands.
const MOST_FAULTS: usize = 12;

/// The fault of a file whose values are separated by semicolons: given, allowed, remedy.
pub(crate) const SEMICOLONS: (&str, &str, &str) = (
    "values separated by `;`",
    "values separated by commas",
    "save the file as CSV with commas",
);

/// Faults and warnings found in one file; only the first faults are reported individually.
pub(crate) struct Notes {
    faults: Vec<Located>,
    warnings: Vec<Warning>,
    source: Arc<Source>,
    key: &'static str,
    quantity: String,
    count: usize,
    last_byte: usize,
}

impl Notes {
    pub(crate) fn new(source: &Arc<Source>, key: &'static str, quantity: impl Into<String>) -> Self {
        Self {
            faults: Vec::new(),
            warnings: Vec::new(),
            source: Arc::clone(source),
            key,
            quantity: quantity.into(),
            count: 0,
            last_byte: 0,
        }
    }

    /// Records a fault in the row that starts at this byte; 0 means the header, which may follow comments.
    pub(crate) fn at_byte(&mut self, byte: usize, given: String, allowed: &str, remedy: &str) {
        self.count += 1;
        if self.count > MOST_FAULTS {
            return;
        }
        self.last_byte = byte;
        let text = &self.source.text;
        let begin = if byte == 0 { row_begin(text, 0, true) } else { byte };
        // A file with only comments has no row; its fault is placed at its start.
        let start = if begin < text.len() { begin } else { 0 };
        let length = self.source.text[start..].find(['\n', '\r']).unwrap_or(self.source.text.len() - start);
        let fault = Fault::new(self.key, self.quantity.as_str(), given, allowed, remedy);
        let place = Place {
            source: Arc::clone(&self.source),
            span: start..start + length,
        };
        self.add_fault(fault, Some(place));
    }

    /// Adds a fault unless it is already there.
    fn add_fault(&mut self, fault: Fault, place: Option<Place>) {
        let located = Located { fault, place };
        if !self.faults.contains(&located) {
            self.faults.push(located);
        }
    }

    /// Records a fault of the file as a whole.
    pub(crate) fn whole(&mut self, fault: Fault) {
        self.count += 1;
        self.add_fault(fault, None);
    }

    /// Records a warning.
    pub(crate) fn warn(&mut self, subject: &str, text: impl Into<String>) {
        self.warnings.push(Warning::new(subject, text));
    }

    /// Records a fault in a row.
    pub(crate) fn at(&mut self, row: &StringRecord, given: String, allowed: &str, remedy: &str) {
        self.at_byte(byte_of(row), given, allowed, remedy);
    }

    /// Whether no fault has been found so far.
    pub(crate) fn is_clean(&self) -> bool {
        self.count == 0
    }

    /// The value with its warnings if there are no faults; else the faults, and how many more were not reported.
    pub(crate) fn close<T>(mut self, value: Option<T>) -> Outcome<T> {
        let count = self.count;
        if count > MOST_FAULTS {
            self.count = 0;
            let given = format!("and {} more faults in this file", count - MOST_FAULTS);
            self.at_byte(
                self.last_byte,
                given,
                "",
                "fix the first ones; often all have the same cause",
            );
        }
        match value {
            Some(value) if count == 0 => Ok(Noted {
                value,
                warnings: self.warnings,
            }),
            _ => Err(self.faults),
        }
    }
}

/// Books one fault if the rows have decimal commas, which split each number into two values; returns whether they have.
/// `columns`: the number of values in a row.
pub(crate) fn has_decimal_commas(columns: usize, rows: &[StringRecord], notes: &mut Notes) -> bool {
    let Some((row, number)) = rows.iter().find_map(|row| Some((row, split_number(columns, row)?))) else {
        return false;
    };
    let count = rows.iter().filter(|row| split_number(columns, row).is_some()).count();
    let given = format!(
        "{} values, too many in {count} row{}",
        row.len(),
        if count == 1 { "" } else { "s" }
    );
    notes.at(
        row,
        given,
        &format!("{columns} values"),
        &format!("decimal comma? write {number}"),
    );
    true
}

/// The first number that a decimal comma split into two values, with a point; `None` if the row is not longer than it
/// should be or has no such number.
pub(crate) fn split_number(columns: usize, row: &StringRecord) -> Option<String> {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
    if row.len() <= columns {
        return None;
    }
    let values: Vec<&str> = row.iter().collect();
    // The first value is a time or a month.
    values[1..].windows(2).find_map(|pair| match pair {
        [whole, decimals] if digits(whole.trim_start_matches('-')) && digits(decimals) => {
            Some(format!("{whole}.{decimals}"))
        }
        _ => None,
    })
}

fn byte_of(row: &StringRecord) -> usize {
    row.position().and_then(|p| usize::try_from(p.byte()).ok()).unwrap_or(0)
}

/// Sets a row's position to its first byte. The reader assigns the preceding line end, blank lines and comments (only
/// if `comments`) to the following row. Returns whether there is a row at all: the reader makes one from a comment at
/// the end of the file without a line end.
pub(crate) fn set_place(row: &mut StringRecord, source: &Source, comments: bool) -> bool {
    let Some(mut position) = row.position().cloned() else {
        return true;
    };
    let at = row_begin(&source.text, byte_of(row), comments);
    position.set_byte(at as u64);
    row.set_position(Some(position));
    at < source.text.len()
}

/// Start of the next row at or after a byte, skipping line ends, blank lines and (if `comments`) comments.
fn row_begin(text: &str, from: usize, comments: bool) -> usize {
    let mut at = from;
    while let Some(rest) = text.get(at..) {
        let line_end = || rest.find('\n').unwrap_or(rest.len());
        match rest.as_bytes() {
            [b'\n' | b'\r', ..] => at += 1,
            [b'#', ..] if comments => at += line_end(),
            _ => break,
        }
    }
    at
}

/// A reader for CSV files as people write them: comments, spaces around values, rows of unequal length.
pub(crate) fn reader(source: &Source) -> csv::Reader<&[u8]> {
    ReaderBuilder::new()
        .comment(Some(b'#'))
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(source.text.as_bytes())
}

/// The header and the rows after it, without comments (`#`).
pub(crate) fn read_rows(source: &Source, notes: &mut Notes) -> Option<(StringRecord, Vec<StringRecord>)> {
    let mut reader = reader(source);
    let header = match reader.headers() {
        Ok(header) if header.len() == 1 && header[0].contains(';') => {
            notes.at_byte(0, SEMICOLONS.0.to_owned(), SEMICOLONS.1, SEMICOLONS.2);
            return None;
        }
        Ok(header) if !header.is_empty() && header.iter().any(|c| !c.is_empty()) => header.clone(),
        _ => {
            notes.at_byte(
                0,
                "an empty file".to_owned(),
                "a CSV file with a header line",
                "check that it is the right file",
            );
            return None;
        }
    };
    let mut rows = Vec::new();
    for row in reader.records() {
        match row {
            Ok(mut row) => {
                if set_place(&mut row, source, true) {
                    rows.push(row);
                }
            }
            Err(e) => {
                notes.at_byte(
                    0,
                    e.to_string(),
                    "comma-separated values",
                    "check the file's quotes and commas",
                );
                return None;
            }
        }
    }
    Some((header, rows))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lines in which faults of the rows are reported, with their text.
    fn lines(text: &str) -> Vec<(usize, String)> {
        let source = Arc::new(Source::of_text("rows.csv", text.to_owned()));
        let mut notes = Notes::new(&source, "rows", "rows");
        let (_, rows) = read_rows(&source, &mut notes).unwrap();
        for row in &rows {
            notes.at(row, "x".to_owned(), "y", "z");
        }
        let places = notes
            .close(Some(()))
            .err()
            .unwrap_or_default()
            .into_iter()
            .map(|located| located.place.unwrap());
        places.map(|place| (place.line(), source.text[place.span].to_owned())).collect()
    }

    #[test]
    fn a_fault_is_reported_in_the_line_of_its_row() {
        let wanted = |at: &[usize]| at.iter().map(|line| (*line, format!("{line},x"))).collect::<Vec<_>>();
        assert_eq!(lines("a,b\n2,x\n3,x\n"), wanted(&[2, 3]));
        assert_eq!(lines("a,b\r\n2,x\r\n3,x\r\n"), wanted(&[2, 3]));
        assert_eq!(lines("# c\r\n\r\na,b\r\n\r\n5,x\r\n# c\r\n7,x"), wanted(&[5, 7]));
        assert_eq!(lines("a,b\n\n# c\n\n# c\n6,x\n\n8,x\n"), wanted(&[6, 8]));
    }

    #[test]
    fn decimal_commas_are_one_fault_that_shows_the_number() {
        let text = format!("time,kw\n{}", "2025-01-01T00:00,0,56\n".repeat(30));
        let source = Arc::new(Source::of_text("meter.csv", text));
        let mut notes = Notes::new(&source, "load.meter", "load");
        let (header, rows) = read_rows(&source, &mut notes).unwrap();
        assert!(has_decimal_commas(header.len(), &rows, &mut notes));
        let faults = notes.close(Some(())).err().unwrap();
        assert!(faults.len() == 1 && faults[0].place.as_ref().unwrap().line() == 2);
        assert_eq!(
            faults[0].fault.to_string(),
            "load: 3 values, too many in 30 rows; allowed: 2 values; decimal comma? write 0.56"
        );
    }

    #[test]
    fn rows_of_the_right_length_have_no_decimal_commas() {
        let source = Arc::new(Source::of_text(
            "load.csv",
            "month,h00,h01\n1,0,3\n2,a,3,5x\n".to_owned(),
        ));
        let mut notes = Notes::new(&source, "load.file", "load");
        let (header, rows) = read_rows(&source, &mut notes).unwrap();
        assert!(!has_decimal_commas(header.len(), &rows, &mut notes) && notes.is_clean());
    }

    #[test]
    fn the_last_of_many_faults_has_nothing_allowed() {
        let source = Arc::new(Source::of_text("rows.csv", format!("a\n{}", "x\n".repeat(14))));
        let mut notes = Notes::new(&source, "rows", "rows");
        let (_, rows) = read_rows(&source, &mut notes).unwrap();
        for row in &rows {
            notes.at(row, "x".to_owned(), "y", "z");
        }
        let faults = notes.close(Some(())).err().unwrap();
        assert_eq!(
            faults.last().unwrap().fault.to_string(),
            "rows: and 2 more faults in this file; fix the first ones; often all have the same cause"
        );
    }

    #[test]
    fn a_comment_at_the_end_of_the_file_is_no_row() {
        for end in ["", "# c", "# c\n", "\n# c\r\n", "#"] {
            assert_eq!(lines(&format!("a,b\n2,x\n{end}")), [(2, "2,x".to_owned())], "{end:?}");
        }
    }
}
