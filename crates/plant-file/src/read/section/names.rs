//! Texts that must be one of several names or words.

use daylift_units::Fault;

use super::{Section, nearest};

/// The fault of a text that is not one of the allowed words.
pub(in crate::read) fn not_among(key: &str, quantity: &str, text: &str, words: &[&str]) -> Fault {
    let near = nearest(text, words.iter().copied());
    let remedy = near.map_or_else(|| "choose one of them".to_owned(), |n| format!("did you mean \"{n}\"?"));
    Fault::new(key, quantity, format!("\"{text}\""), quoted(words), remedy)
}

/// Words in quotes, with commas between them.
pub(in crate::read) fn quoted(words: &[&str]) -> String {
    words.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", ")
}

impl Section {
    /// Finds the index of a name, or books a fault.
    ///
    /// `none` has the texts for an empty list of names: what is given, and the remedy. It is `None` when that fault was booked
    /// already. An empty name means a thing whose own name is missing. It may be the one meant, so no fault is added.
    pub(crate) fn named(
        &self,
        key: &str,
        quantity: &str,
        text: &str,
        names: &[&str],
        none: Option<(&str, &str)>,
    ) -> Option<usize> {
        if let Some(at) = names.iter().position(|name| *name == text) {
            return Some(at);
        }
        if names.is_empty() {
            if let Some((given, remedy)) = none {
                let given = format!("\"{text}\", and {given}");
                self.fault(Fault::new(key, quantity, given, "an existing name", remedy));
            }
            return None;
        }
        if names.iter().any(|name| name.is_empty()) {
            return None;
        }
        let mut names = names.to_vec();
        names.dedup();
        self.fault(not_among(key, quantity, text, &names));
        None
    }

    /// Books a fault for every repeated name in a list of tables. Returns whether all names differ.
    pub(crate) fn distinct(&self, key: &str, names: &[&str]) -> bool {
        let mut fine = true;
        for (i, name) in names.iter().enumerate() {
            if !name.is_empty() && names[..i].contains(name) {
                fine = false;
                let given = format!("\"{name}\" twice");
                let fault = Fault::new(key, "name", given, "each name once", "rename one of them");
                self.fault_of_item(key, i, fault);
            }
        }
        fine
    }
}
