//! Strings in words.

use crate::say;

/// What is said beside every judgement of strings.
#[must_use]
pub fn cautions() -> Vec<String> {
    vec![
        say!("caution-strings.live"),
        say!("caution-strings.scope"),
        say!("caution-strings.codes"),
    ]
}
