//! What is listed for a key that was not given.

use daylift_units::Field;

use crate::provenance::OriginValue;

/// A value that is listed where nothing was given.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Told {
    /// A number and its unit.
    Number(f64, &'static str),
    /// Numbers and their unit.
    Numbers(&'static [f64], &'static str),
    /// A word, or a description in words.
    Text(&'static str),
}

impl Told {
    pub(crate) fn value(self) -> (OriginValue, &'static str) {
        match self {
            Self::Number(value, unit) => (OriginValue::Number(value), unit),
            Self::Numbers(values, unit) => (OriginValue::Numbers(values.to_vec()), unit),
            Self::Text(text) => (OriginValue::Text(text.to_owned()), ""),
        }
    }
}

/// The value that holds when a key that applies was not given.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Usual<V> {
    pub(crate) value: V,
    pub(crate) told: Told,
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
        told: Told::Number(preset.value, field.unit.symbol),
        source: preset.source,
    }
}
