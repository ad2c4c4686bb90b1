//! Texts that must be one of a few.

use daylift_tables::nearest;
use daylift_units::Fault;

use super::Section;
use crate::provenance::OriginValue;

impl Section<'_> {
    /// A text that must be one of a few.
    pub(crate) fn choice<T: Copy>(&self, key: &str, quantity: &str, choices: &[(&str, T)]) -> Option<T> {
        let allowed = choices.iter().map(|(name, _)| format!("\"{name}\"")).collect::<Vec<_>>().join(", ");
        let text = self.text(key, quantity, &allowed)?;
        let found = choices.iter().find(|(name, _)| *name == text).map(|(_, t)| *t);
        if found.is_none() {
            let near = nearest(&text, choices.iter().map(|(name, _)| *name));
            let remedy = near.map_or_else(|| "choose one of them".to_owned(), |n| format!("did you mean \"{n}\"?"));
            self.fault(Fault::new(key, quantity, format!("\"{text}\""), allowed, remedy));
        }
        found
    }

    /// A text that must be one of a few; the first of them when it is not given, for the reason stated.
    pub(crate) fn choice_or<T: Copy>(
        &self,
        key: &str,
        quantity: &str,
        choices: &[(&str, T)],
        reason: &'static str,
    ) -> Option<T> {
        if self.has(key) {
            return self.choice(key, quantity, choices);
        }
        let (name, value) = choices.first()?;
        self.by_default(key, OriginValue::Text((*name).to_owned()), "", reason);
        Some(*value)
    }

    /// `true` or `false`; `false` when it is not given.
    pub(crate) fn flag(&self, key: &str, quantity: &str) -> Option<bool> {
        let Some(value) = self.find(key) else {
            return Some(false);
        };
        let flag = value.get_ref().as_bool();
        match flag {
            Some(flag) => self.book.given(
                self.at(key),
                OriginValue::Text(flag.to_string()),
                "",
                &self.place(value),
            ),
            None => self.wrong_type(
                key,
                quantity,
                value,
                "true or false".to_owned(),
                "write it without quotes",
            ),
        }
        flag
    }

    /// A text that must be the name of one of some things; gives its place among them.
    ///
    /// `none` is what to say when there are none, given and remedy; `None` when that has been said already. A thing whose own
    /// name is missing, here an empty text, may be the one that is meant: its fault is enough.
    pub(crate) fn named(&self, key: &str, quantity: &str, names: &[&str], none: Option<(&str, &str)>) -> Option<usize> {
        let text = self.text(key, quantity, "a name")?;
        if let Some(at) = names.iter().position(|name| *name == text) {
            return Some(at);
        }
        if names.is_empty() {
            if let Some((given, remedy)) = none {
                let given = format!("\"{text}\", and {given}");
                self.fault(Fault::new(
                    key,
                    quantity,
                    given,
                    "the name of one that is there",
                    remedy,
                ));
            }
            return None;
        }
        if names.iter().any(|name| name.is_empty()) {
            return None;
        }
        let mut choices: Vec<(&str, ())> = names.iter().map(|name| (*name, ())).collect();
        choices.dedup();
        self.choice(key, quantity, &choices);
        None
    }

    /// Books a fault for every name that stands twice in a list of tables; gives whether each stands once.
    pub(crate) fn distinct(&self, key: &str, names: &[&str]) -> bool {
        let mut fine = true;
        for (i, name) in names.iter().enumerate() {
            if !name.is_empty() && names[..i].contains(name) {
                fine = false;
                let given = format!("\"{name}\" twice");
                let fault = Fault::new(key, "name", given, "each name once", "give one of them another name");
                self.fault_of_item(key, i, fault);
            }
        }
        fine
    }
}
