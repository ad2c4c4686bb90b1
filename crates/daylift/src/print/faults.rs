//! Faults with their places, on standard error.

use std::fmt;

use daylift_tables::Located;
use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceCode};
use textwrap::WordSplitter;

/// A fault as the terminal shows it.
#[derive(Debug)]
struct Shown<'a> {
    located: &'a Located,
    source: Option<NamedSource<String>>,
}

impl fmt::Display for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let fault = &self.located.fault;
        if !fault.key.is_empty() {
            write!(f, "{}: ", fault.key)?;
        }
        write!(f, "{}: {}", fault.quantity, fault.given)
    }
}

impl std::error::Error for Shown<'_> {}

impl Diagnostic for Shown<'_> {
    fn help<'b>(&'b self) -> Option<Box<dyn fmt::Display + 'b>> {
        let fault = &self.located.fault;
        Some(Box::new(match fault.allowed.as_str() {
            "" => fault.remedy.clone(),
            allowed => format!("allowed: {allowed}\n{}", fault.remedy),
        }))
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.source.as_ref().map(|s| s as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let place = self.located.place.as_ref()?;
        let (start, length) = first_line(&place.source.text, place.span.start, place.span.len());
        Some(Box::new(std::iter::once(LabeledSpan::new(None, start, length))))
    }
}

/// The first line of a span: enough to find a table without printing it whole.
fn first_line(text: &str, start: usize, length: usize) -> (usize, usize) {
    let start = start.min(text.len());
    let spanned = text.get(start..(start + length).min(text.len())).unwrap_or("");
    (start, spanned.find('\n').unwrap_or(spanned.len()))
}

/// Prints every fault and how many there are.
pub(crate) fn print_faults(faults: &[Located]) {
    let color = std::io::IsTerminal::is_terminal(&std::io::stderr()) && std::env::var_os("NO_COLOR").is_none();
    let theme = if color {
        GraphicalTheme::unicode()
    } else {
        GraphicalTheme::unicode_nocolor()
    };
    let handler = GraphicalReportHandler::new_themed(theme)
        .with_width(110)
        .with_context_lines(0)
        .with_word_splitter(WordSplitter::NoHyphenation);
    for located in faults {
        let source = located.place.as_ref().map(|p| NamedSource::new(&p.source.name, p.source.text.clone()));
        let mut text = String::new();
        let shown = Shown { located, source };
        if handler.render_report(&mut text, &shown).is_err() {
            text = format!("{shown}\n");
        }
        eprint!("{text}");
    }
    let n = faults.len();
    eprintln!(
        "{n} fault{} found; nothing was calculated.",
        if n == 1 { "" } else { "s" }
    );
}
