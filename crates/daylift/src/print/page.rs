//! Width of the output, and line breaks that fit it.

use textwrap::{Options, WordSplitter};

/// Width where there is no terminal.
pub(crate) const PLAIN_WIDTH: usize = 100;
/// Lines beyond this are tiring to read.
const WIDEST: usize = 120;
/// Below this no table fits anyway.
const NARROWEST: usize = 60;

/// Width of standard output.
pub(crate) fn width() -> usize {
    terminal_size::terminal_size_of(std::io::stdout()).map_or(PLAIN_WIDTH, |(width, _)| fitting(width.0))
}

/// Width of a terminal on standard error; `None` without one, where lines are not broken.
pub(crate) fn error_width() -> Option<usize> {
    terminal_size::terminal_size_of(std::io::stderr()).map(|(width, _)| fitting(width.0))
}

fn fitting(columns: u16) -> usize {
    usize::from(columns).clamp(NARROWEST, WIDEST)
}

/// Indents lines.
pub(crate) fn indented(text: &str, by: usize) -> String {
    textwrap::indent(text, &" ".repeat(by))
}

/// A sentence broken at blanks, with all lines but the first indented.
pub(crate) fn hang(text: &str, width: usize, indent: usize) -> String {
    let indent = " ".repeat(indent);
    let options = Options::new(width)
        .subsequent_indent(&indent)
        .break_words(false)
        .word_splitter(WordSplitter::NoHyphenation);
    textwrap::fill(text, options)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_sentence_hangs_behind_its_indent() {
        assert_eq!(
            hang("warning: too much sun", 14, 9),
            "warning: too\n         much\n         sun"
        );
    }

    #[test]
    fn a_page_is_neither_too_wide_nor_too_narrow() {
        assert_eq!([1, 99, 300].map(fitting), [60, 99, 120]);
    }
}
