//! One mutant, as cargo-mutants names it.

use std::collections::HashMap;
use std::fmt;
use std::fs;

use crate::chore::root;

/// A change to the code, and its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Mutant {
    /// File, relative to the workspace's folder.
    pub(super) file: String,
    /// Line and column, from 1.
    pub(super) place: (usize, usize),
    /// What is changed, and in which function.
    pub(super) what: String,
    /// The line of code, with a mark before the changed place: it stays the same when lines move.
    pub(super) at: String,
}

/// The mark before the changed place.
const MARK: char = '¦';

impl Mutant {
    /// Reads a list of cargo-mutants, one mutant per line.
    pub(super) fn all(list: &str) -> Result<Vec<Self>, String> {
        let mut texts: HashMap<String, String> = HashMap::new();
        let mut out = Vec::new();
        for line in list.lines().filter(|line| !line.trim().is_empty()) {
            let mut mutant = Self::of(line).ok_or_else(|| format!("not a line of cargo-mutants: `{line}`"))?;
            if !texts.contains_key(&mutant.file) {
                let path = root().join(&mutant.file);
                let text = fs::read_to_string(&path).map_err(|e| format!("cannot read {}: {e}", path.display()))?;
                texts.insert(mutant.file.clone(), text);
            }
            mutant.at = marked(&texts[&mutant.file], mutant.place);
            out.push(mutant);
        }
        Ok(out)
    }

    /// `FILE:LINE:COLUMN: WHAT`.
    fn of(line: &str) -> Option<Self> {
        let (place, what) = line.split_once(": ")?;
        let (place, column) = place.rsplit_once(':')?;
        let (file, line) = place.rsplit_once(':')?;
        Some(Self {
            file: file.to_owned(),
            place: (line.parse().ok()?, column.parse().ok()?),
            what: what.to_owned(),
            at: String::new(),
        })
    }

    /// Whether it is in the file of that name, without folder and extension.
    pub(super) fn is_in(&self, stem: &str) -> bool {
        self.file.ends_with(&format!("/{stem}.rs"))
    }
}

/// The line of code, with a mark before the place.
fn marked(text: &str, (line, column): (usize, usize)) -> String {
    let code = text.lines().nth(line.saturating_sub(1)).unwrap_or_default();
    let before = code.chars().take(column.saturating_sub(1));
    let behind = code.chars().skip(column.saturating_sub(1));
    let marked: String = before.chain([MARK]).chain(behind).collect();
    marked.trim().to_owned()
}

impl fmt::Display for Mutant {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (line, column) = self.place;
        write!(f, "{}:{line}:{column}: {}", self.file, self.what)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_the_list_is_read() {
        let line = "crates/supply/src/bus.rs:12:34: replace Uses::less -> Self with Default::default()";
        let mutant = Mutant::of(line).unwrap();
        assert_eq!(
            (mutant.file.as_str(), mutant.place),
            ("crates/supply/src/bus.rs", (12, 34))
        );
        assert_eq!(mutant.what, "replace Uses::less -> Self with Default::default()");
        assert_eq!(mutant.to_string(), line);
        assert!(mutant.is_in("bus") && !mutant.is_in("us"));
        assert_eq!(Mutant::of("Found 12 mutants to test"), None);
    }

    #[test]
    fn the_place_is_marked_in_its_line() {
        let text = "fn a() {\n    let ß = b < c;\n}\n";
        assert_eq!(marked(text, (2, 15)), "let ß = b ¦< c;");
    }
}
