//! The mutants that no test can notice or needs to notice, each with the reason.

use std::fs;

use serde::Deserialize;

use super::mutant::Mutant;
use crate::chore::root;

/// The file with the list.
pub(super) const PATH: &str = "docs/mutants.toml";

/// The list.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Survivors {
    #[serde(default)]
    survivor: Vec<Survivor>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Survivor {
    file: String,
    what: String,
    at: String,
    reason: String,
}

impl Survivor {
    fn is(&self, mutant: &Mutant) -> bool {
        (&self.file, &self.what, &self.at) == (&mutant.file, &mutant.what, &mutant.at)
    }
}

impl Survivors {
    /// Reads the list; an entry without a reason is refused.
    pub(super) fn read() -> Result<Self, String> {
        let path = root().join(PATH);
        let text = fs::read_to_string(&path).map_err(|e| format!("cannot read {PATH}: {e}"))?;
        Self::of(&text)
    }

    fn of(text: &str) -> Result<Self, String> {
        let list: Self = toml::from_str(text).map_err(|e| format!("{PATH}: {e}"))?;
        match list.survivor.iter().find(|s| s.reason.trim().is_empty()) {
            None => Ok(list),
            Some(s) => Err(format!("{PATH}: no reason for `{}` at `{}`", s.what, s.at)),
        }
    }

    /// Refuses entries for code that is no longer there.
    pub(super) fn check(&self, all: &[Mutant]) -> Result<(), String> {
        let gone = self.survivor.iter().filter(|s| !all.iter().any(|mutant| s.is(mutant)));
        let lines: Vec<String> = gone.map(|s| format!("\n  {}: `{}` at `{}`", s.file, s.what, s.at)).collect();
        if lines.is_empty() {
            return Ok(());
        }
        Err(format!(
            "{PATH}: no longer in the code; remove the entry, or check whether its reason still holds:{}",
            lines.concat()
        ))
    }

    /// Whether one is in the list.
    pub(super) fn has(&self, mutant: &Mutant) -> bool {
        self.survivor.iter().any(|s| s.is(mutant))
    }
}

/// An entry for the list, with an empty reason to be filled in.
pub(super) fn entry(mutant: &Mutant) -> String {
    let text = |s: &str| toml::Value::String(s.to_owned()).to_string();
    format!(
        "[[survivor]]\nfile = {}\nwhat = {}\nat = {}\nreason = \"\"",
        text(&mutant.file),
        text(&mutant.what),
        text(&mutant.at)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mutant() -> Mutant {
        Mutant {
            file: "a/b.rs".to_owned(),
            place: (3, 7),
            what: "replace < with <= in \"f\"".to_owned(),
            at: "if a ¦< b {".to_owned(),
        }
    }

    #[test]
    fn an_entry_is_found_again_wherever_its_line_moves() {
        let entry = entry(&mutant());
        assert!(Survivors::of(&entry).unwrap_err().contains("no reason"));
        let list = Survivors::of(&entry.replace("reason = \"\"", "reason = \"only speed\"")).unwrap();
        let moved = Mutant {
            place: (9, 7),
            ..mutant()
        };
        assert!(list.has(&moved) && list.check(&[moved]).is_ok());
        let changed = Mutant {
            at: "if a ¦< c {".to_owned(),
            ..mutant()
        };
        assert!(!list.has(&changed));
        assert!(list.check(&[changed]).unwrap_err().contains("no longer in the code"));
    }
}
