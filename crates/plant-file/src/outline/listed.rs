//! What is listed for a key that was not given.

use daylift_units::Field;
use daylift_units::field::number;

use crate::provenance::OriginValue;

/// A value that is listed when none was given.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Listed {
    /// A number and its unit.
    Number(f64, &'static str),
    /// Numbers and their unit.
    Numbers(&'static [f64], &'static str),
    /// `true` or `false`.
    Flag(bool),
    /// A word of the file.
    Text(&'static str),
    /// No value: a rule decides, given here in words.
    Rule(&'static str),
}

impl Listed {
    /// The value as a reference page shows it.
    pub(crate) fn in_words(self) -> String {
        match self {
            Self::Number(value, unit) => with_unit(number(value), unit),
            Self::Numbers(values, unit) => {
                let values: Vec<String> = values.iter().map(|value| number(*value)).collect();
                with_unit(format!("[{}]", values.join(", ")), unit)
            }
            Self::Flag(flag) => flag.to_string(),
            Self::Text(text) | Self::Rule(text) => text.to_owned(),
        }
    }

    pub(crate) fn value(self) -> (OriginValue, &'static str) {
        match self {
            Self::Number(value, unit) => (OriginValue::Number(value), unit),
            Self::Numbers(values, unit) => (OriginValue::Numbers(values.to_vec()), unit),
            Self::Flag(flag) => (OriginValue::Flag(flag), ""),
            Self::Text(text) => (OriginValue::Text(text.to_owned()), ""),
            Self::Rule(words) => (OriginValue::Rule(words), ""),
        }
    }
}

fn with_unit(value: String, unit: &str) -> String {
    if unit.is_empty() {
        value
    } else {
        format!("{value} {unit}")
    }
}

/// The value that holds when a key that applies was not given.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Usual<V> {
    pub(crate) value: V,
    pub(crate) listed: Listed,
    pub(crate) source: &'static str,
}

/// The value that holds when a field is not given, in SI.
pub(crate) const fn usual_of(field: &'static Field) -> Usual<f64> {
    #[expect(
        clippy::panic,
        reason = "declarations are constants: it stops the compiler, not the program"
    )]
    let Some(preset) = field.preset else {
        panic!("a field without a default cannot be one that holds where it is used");
    };
    Usual {
        value: preset.value * field.unit.factor,
        listed: Listed::Number(preset.value, field.unit.symbol),
        source: preset.source,
    }
}
