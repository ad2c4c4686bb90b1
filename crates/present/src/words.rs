//! Looks up texts by id in the Fluent files.

use std::sync::LazyLock;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use unic_langid::LanguageIdentifier;

/// The files with the texts of terminal and JSON. The page has `terms.ftl` and `page.ftl`.
const FILES: [&str; 3] = [
    include_str!("../words/en/terms.ftl"),
    include_str!("../words/en/answers.ftl"),
    include_str!("../words/en/terminal.ftl"),
];

/// The language, which decides the plural forms.
const LANGUAGE: &str = "en";

static ENGLISH: LazyLock<FluentBundle<FluentResource>> = LazyLock::new(|| {
    let mut bundle = FluentBundle::new_concurrent(LANGUAGE.parse::<LanguageIdentifier>().into_iter().collect());
    // Values are inserted unchanged, without marks of text direction.
    bundle.set_use_isolating(false);
    for text in FILES {
        // A test checks that every file parses. If one did not, its readable part would be used.
        let resource = FluentResource::try_new(text.to_owned()).unwrap_or_else(|(rest, _)| rest);
        bundle.add_resource_overriding(resource);
    }
    bundle
});

/// A value that fills a placeholder.
#[derive(Debug, Clone, PartialEq)]
pub enum Fill {
    /// Text, which includes formatted numbers.
    Text(String),
    /// A count, which chooses singular or plural.
    Count(usize),
}

impl From<&str> for Fill {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<&String> for Fill {
    fn from(text: &String) -> Self {
        Self::Text(text.clone())
    }
}

impl From<String> for Fill {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<usize> for Fill {
    fn from(count: usize) -> Self {
        Self::Count(count)
    }
}

impl From<u32> for Fill {
    fn from(count: u32) -> Self {
        Self::Count(count as usize)
    }
}

impl From<&Fill> for FluentValue<'_> {
    fn from(fill: &Fill) -> Self {
        match fill {
            Fill::Text(text) => FluentValue::from(text.clone()),
            Fill::Count(count) => FluentValue::from(*count),
        }
    }
}

/// The text of an id such as `loss-cables` or `loss-cables.terminal`; the id itself if there is no such text. Prefer
/// [`crate::say!`], whose ids a test compares with the files.
#[must_use]
pub fn words(id: &str, fills: &[(&'static str, Fill)]) -> String {
    let (message, attribute) = id.split_once('.').map_or((id, None), |(m, a)| (m, Some(a)));
    let found = ENGLISH.get_message(message).and_then(|message| match attribute {
        Some(attribute) => message.get_attribute(attribute).map(|attribute| attribute.value()),
        None => message.value(),
    });
    let Some(pattern) = found else { return id.to_owned() };
    let args: FluentArgs<'_> = fills.iter().map(|(name, fill)| (*name, FluentValue::from(fill))).collect();
    // A placeholder without a value shows its name.
    ENGLISH.format_pattern(pattern, Some(&args), &mut Vec::new()).into_owned()
}

/// The text of an id with its values: `say!("flows-sun")`, `say!("service-less-water", share = text)`.
#[macro_export]
macro_rules! say {
    ($id:literal $(, $name:ident = $fill:expr)* $(,)?) => {
        $crate::words::words($id, &[$((stringify!($name), $crate::words::Fill::from($fill))),*])
    };
}

/// The text of a member of a closed list: `term!("loss-", cause)`. With an attribute: `term!("loss-", cause, ".terminal")`.
/// Values follow at the end: `term!("change-", quantity, amount = text)`.
#[macro_export]
macro_rules! term {
    ($family:literal, $member:expr, $attribute:literal $(, $name:ident = $fill:expr)* $(,)?) => {
        $crate::words::words(
            &format!("{}{}{}", $family, $crate::Id::id($member), $attribute),
            &[$((stringify!($name), $crate::words::Fill::from($fill))),*],
        )
    };
    ($family:literal, $member:expr $(, $name:ident = $fill:expr)* $(,)?) => {
        $crate::words::words(
            &format!("{}{}", $family, $crate::Id::id($member)),
            &[$((stringify!($name), $crate::words::Fill::from($fill))),*],
        )
    };
}

/// The text of a key of results: `key_term!("use-", key, ".terminal")`.
#[macro_export]
macro_rules! key_term {
    ($family:literal, $key:expr, $attribute:literal) => {
        $crate::words::words(&format!("{}{}{}", $family, $key, $attribute), &[])
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_reads_without_an_error() {
        for text in FILES {
            let errors = FluentResource::try_new(text.to_owned()).err().map(|(_, errors)| errors);
            assert!(errors.is_none(), "{errors:?}");
        }
    }

    #[test]
    fn values_are_inserted_unchanged() {
        assert_eq!(
            say!("verdict-good.terminal", warns = 0_usize),
            "The strings can be built: no rule violated."
        );
        assert_eq!(
            say!(
                "verdict-assumed.terminal",
                warns = 2_usize,
                count = 1_usize,
                values = "site.record_low_c"
            ),
            "The strings are not ready to build yet: no rule violated; 2 warnings, but 1 value that this depends on is not \
             confirmed: site.record_low_c."
        );
        assert_eq!(say!("service-less-water", share = "13%"), "13% less water");
    }

    #[test]
    fn a_missing_text_or_value_shows_its_id_or_name() {
        assert_eq!(words("no-such-thing", &[]), "no-such-thing");
        assert_eq!(words("loss-cables.nowhere", &[]), "loss-cables.nowhere");
        assert_eq!(words("service-less-water", &[]), "{$share} less water");
    }
}
