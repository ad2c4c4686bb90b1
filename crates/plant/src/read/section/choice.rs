//! Texts that must be one of a few.

use daylift_units::Fault;

use super::{Section, nearest};
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
}
