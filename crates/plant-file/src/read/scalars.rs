//! Single values: numbers, lists of numbers, texts, words and flags.

use daylift_units::{Fault, Field, Hourly, Monthly};
use jiff::civil::Date;
use toml::Spanned;
use toml::de::DeValue;

use super::section::names::{not_among, quoted};
use super::section::{Section, allowed, allowed_list, wanted_list};
use super::walk::{Readable, Scalar, Walk, as_number};
use crate::outline::{Key, Listed, Usual, Word, ids};

/// A number type that a value in SI can be read as.
pub(crate) trait Number: Copy + std::fmt::Debug {
    /// Converts; for an integer type the value is whole and in range.
    fn of_si(si: f64) -> Self;
}

impl Number for f64 {
    fn of_si(si: f64) -> Self {
        si
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "checked whole and within the field's range"
)]
impl Number for u32 {
    fn of_si(si: f64) -> Self {
        si as Self
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "checked whole and within the field's range"
)]
impl Number for u8 {
    fn of_si(si: f64) -> Self {
        si as Self
    }
}

/// The default of a field, which is then listed. Without a default, the missing key is a fault.
fn preset<N: Number>(walk: &Walk<'_>, key: &Key, field: &Field, wanted: &str) -> Option<N> {
    if let Some(si) = field.preset_si() {
        walk.section.book().preset(walk.section.at(key.name), field);
        return Some(N::of_si(si));
    }
    walk.missing(key, wanted);
    None
}

macro_rules! numbers {
    ($($type:ty),*) => {$(
        impl Scalar for $type {
            type Of = &'static Field;

            fn from_value(
                walk: &Walk<'_>,
                key: &'static Key,
                field: &'static Field,
                value: &Spanned<DeValue<'_>>,
            ) -> Option<Self> {
                walk.given(key, value);
                walk.number(key, field, value).map(Self::of_si)
            }

            fn when_absent(walk: &Walk<'_>, key: &'static Key, field: &'static Field) -> Option<Self> {
                preset(walk, key, field, &allowed(field))
            }
        }
    )*};
}

numbers!(f64, u32, u8);

/// Twelve numbers, January first. A single number in the file applies to every month.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ByMonth(pub(crate) Monthly<f64>);

impl ByMonth {
    /// The same in every month.
    pub(crate) const fn all(value: f64) -> Self {
        Self(Monthly::from_array([value; 12]))
    }
}

impl Scalar for ByMonth {
    type Of = &'static Field;

    fn from_value(
        walk: &Walk<'_>,
        key: &'static Key,
        field: &'static Field,
        value: &Spanned<DeValue<'_>>,
    ) -> Option<Self> {
        if value.get_ref().is_array() {
            <[f64; 12]>::from_value(walk, key, field, value).map(|values| Self(Monthly::from_array(values)))
        } else {
            f64::from_value(walk, key, field, value).map(Self::all)
        }
    }

    fn when_absent(walk: &Walk<'_>, key: &'static Key, field: &'static Field) -> Option<Self> {
        f64::when_absent(walk, key, field).map(Self::all)
    }
}

/// Twenty-four numbers, from 0:00 on. A single number in the file applies to every hour.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ByHour(pub(crate) Hourly<f64>);

impl ByHour {
    /// The same in every hour.
    pub(crate) const fn all(value: f64) -> Self {
        Self(Hourly::from_array([value; 24]))
    }
}

impl Scalar for ByHour {
    type Of = &'static Field;

    fn from_value(
        walk: &Walk<'_>,
        key: &'static Key,
        field: &'static Field,
        value: &Spanned<DeValue<'_>>,
    ) -> Option<Self> {
        if value.get_ref().is_array() {
            <[f64; 24]>::from_value(walk, key, field, value).map(|values| Self(Hourly::from_array(values)))
        } else {
            f64::from_value(walk, key, field, value).map(Self::all)
        }
    }

    fn when_absent(walk: &Walk<'_>, key: &'static Key, field: &'static Field) -> Option<Self> {
        f64::when_absent(walk, key, field).map(Self::all)
    }
}

/// A list of numbers in SI of a given length (`None`: one or more).
fn list<N: Number>(
    walk: &Walk<'_>,
    key: &Key,
    field: &Field,
    length: Option<usize>,
    value: &Spanned<DeValue<'_>>,
) -> Option<Vec<N>> {
    walk.given(key, value);
    let wanted = wanted_list(length);
    let Some(items) = value.get_ref().as_array() else {
        walk.wrong_type(key, value, wanted, "write the numbers in square brackets");
        return None;
    };
    if length.is_some_and(|n| n != items.len()) || items.is_empty() {
        let given = format!("{} numbers", items.len());
        let remedy = match length {
            Some(12) => "give one number for each month, January first",
            Some(24) => "give one number for each hour, starting at 0:00",
            _ => "give the required number of values",
        };
        let fault = Fault::new(key.name, key.quantity, given, wanted, remedy);
        walk.section.fault_at(fault, value.span());
        return None;
    }
    let numbers: Vec<Option<f64>> = items.iter().map(|item| walk.number(key, field, item)).collect();
    numbers.into_iter().map(|number| number.map(N::of_si)).collect()
}

impl<N: Number, const K: usize> Scalar for [N; K] {
    type Of = &'static Field;

    fn from_value(
        walk: &Walk<'_>,
        key: &'static Key,
        field: &'static Field,
        value: &Spanned<DeValue<'_>>,
    ) -> Option<Self> {
        list(walk, key, field, Some(K), value)?.try_into().ok()
    }

    fn when_absent(walk: &Walk<'_>, key: &'static Key, field: &'static Field) -> Option<Self> {
        walk.missing(key, &allowed_list(field, Some(K)));
        None
    }
}

impl<N: Number> Scalar for Vec<N> {
    /// The field, and whether a list of percentages written as fractions is one fault for the whole list.
    type Of = (&'static Field, bool);

    fn from_value(
        walk: &Walk<'_>,
        key: &'static Key,
        (field, in_per_cent): (&'static Field, bool),
        value: &Spanned<DeValue<'_>>,
    ) -> Option<Self> {
        if in_per_cent {
            let items = value.get_ref().as_array();
            let raw: Option<Vec<f64>> = items.and_then(|items| items.iter().map(|i| as_number(i.get_ref())).collect());
            let si: Vec<f64> = raw.unwrap_or_default().iter().map(|v| v * field.unit.factor).collect();
            if let Some(fault) = field.given_as_fractions(&si, 0.01) {
                walk.section.fault_at(fault, value.span());
                return None;
            }
        }
        list(walk, key, field, None, value)
    }

    fn when_absent(walk: &Walk<'_>, key: &'static Key, (field, _): (&'static Field, bool)) -> Option<Self> {
        walk.missing(key, &allowed_list(field, None));
        None
    }
}

/// A text that is neither empty nor has control characters; its faults are booked.
fn text(walk: &Walk<'_>, key: &Key, allowed: &str, value: &Spanned<DeValue<'_>>) -> Option<String> {
    let fault = match value.get_ref().as_str() {
        Some(text) if text.trim().is_empty() => Fault::new(
            key.name,
            key.quantity,
            "an empty text",
            allowed,
            "write a text between the quotes",
        ),
        Some(text) if text.chars().any(char::is_control) => {
            let given = format!("{} (with control characters)", text.escape_debug());
            Fault::new(key.name, key.quantity, given, allowed, "remove them")
        }
        Some(text) => {
            walk.given(key, value);
            return Some(text.to_owned());
        }
        None => {
            walk.wrong_type(key, value, allowed.to_owned(), "write it in quotes");
            return None;
        }
    };
    walk.section.fault_at(fault, value.span());
    None
}

impl Scalar for String {
    type Of = ();

    fn from_value(walk: &Walk<'_>, key: &'static Key, (): (), value: &Spanned<DeValue<'_>>) -> Option<Self> {
        text(walk, key, key.allowed, value)
    }

    fn when_absent(walk: &Walk<'_>, key: &'static Key, (): ()) -> Option<Self> {
        walk.missing(key, key.allowed);
        None
    }
}

/// A list of texts.
#[derive(Debug)]
pub(crate) struct Texts(pub(crate) Vec<String>);

impl Scalar for Texts {
    type Of = ();

    fn from_value(walk: &Walk<'_>, key: &'static Key, (): (), value: &Spanned<DeValue<'_>>) -> Option<Self> {
        let items = value.get_ref().as_array();
        let texts: Option<Vec<String>> =
            items.and_then(|items| items.iter().map(|item| item.get_ref().as_str().map(str::to_owned)).collect());
        if texts.is_none() {
            let allowed = format!("a list of {}", key.allowed);
            walk.wrong_type(key, value, allowed, "write them in quotes, in square brackets");
        }
        texts.map(Self)
    }

    fn when_absent(walk: &Walk<'_>, key: &'static Key, (): ()) -> Option<Self> {
        walk.missing(key, &format!("a list of {}", key.allowed));
        None
    }
}

impl Scalar for Date {
    type Of = ();

    fn from_value(walk: &Walk<'_>, key: &'static Key, (): (), value: &Spanned<DeValue<'_>>) -> Option<Self> {
        let allowed = key.allowed.to_owned();
        let DeValue::Datetime(given) = value.get_ref() else {
            walk.wrong_type(key, value, allowed, "write year, month and day, without quotes");
            return None;
        };
        let day = given.date.filter(|_| given.time.is_none() && given.offset.is_none());
        let part = |number: u8| i8::try_from(number).ok();
        let date = day.and_then(|day| Self::new(i16::try_from(day.year).ok()?, part(day.month)?, part(day.day)?).ok());
        if date.is_none() {
            walk.wrong_type(key, value, allowed, "write year, month and day, without a time of day");
        }
        date
    }

    fn when_absent(walk: &Walk<'_>, key: &'static Key, (): ()) -> Option<Self> {
        walk.missing(key, key.allowed);
        None
    }
}

/// The only word that a key may have. A wrong word was refused before the table was read, so any text is accepted here.
#[derive(Debug, Clone, Copy)]
pub(crate) struct OneWord;

impl Scalar for OneWord {
    type Of = &'static str;

    fn from_value(
        walk: &Walk<'_>,
        key: &'static Key,
        word: &'static str,
        value: &Spanned<DeValue<'_>>,
    ) -> Option<Self> {
        text(walk, key, &quoted(&[word]), value).map(|_| Self)
    }

    fn when_absent(walk: &Walk<'_>, key: &'static Key, word: &'static str) -> Option<Self> {
        walk.missing(key, &quoted(&[word]));
        None
    }
}

impl Scalar for bool {
    type Of = ();

    fn from_value(walk: &Walk<'_>, key: &'static Key, (): (), value: &Spanned<DeValue<'_>>) -> Option<Self> {
        let flag = value.get_ref().as_bool();
        if flag.is_some() {
            walk.given(key, value);
        } else {
            walk.wrong_type(key, value, "true or false".to_owned(), "write it without quotes");
        }
        flag
    }

    fn when_absent(_: &Walk<'_>, _: &'static Key, (): ()) -> Option<Self> {
        Some(false)
    }
}

impl<E: Word> Scalar for E {
    /// The default and its source.
    type Of = Option<(E, &'static str)>;

    fn from_value(walk: &Walk<'_>, key: &'static Key, _: Self::Of, value: &Spanned<DeValue<'_>>) -> Option<Self> {
        let words = ids::<E>();
        let text = text(walk, key, &quoted(&words), value)?;
        let found = E::of_word(&text);
        if found.is_none() {
            walk.section.fault_at(not_among(key.name, key.quantity, &text, &words), value.span());
        }
        found
    }

    fn when_absent(walk: &Walk<'_>, key: &'static Key, otherwise: Self::Of) -> Option<Self> {
        let Some((value, source)) = otherwise else {
            walk.missing(key, &quoted(&ids::<E>()));
            return None;
        };
        walk.section.by_default(key.name, Listed::Text(value.id()), source);
        Some(value)
    }
}

/// One or more of a few words.
#[derive(Debug)]
pub(crate) struct Words<E>(pub(crate) Vec<E>);

impl<E: Word> Scalar for Words<E> {
    type Of = ();

    fn from_value(walk: &Walk<'_>, key: &'static Key, (): (), value: &Spanned<DeValue<'_>>) -> Option<Self> {
        let allowed = quoted(&ids::<E>());
        let Some(items) = value.get_ref().as_array() else {
            let remedy = "write the names in square brackets";
            walk.wrong_type(key, value, format!("a list of {allowed}"), remedy);
            return None;
        };
        if items.is_empty() {
            let fault = Fault::new(
                key.name,
                key.quantity,
                "an empty list",
                format!("one or more of {allowed}"),
                "list them, or remove the entry",
            );
            walk.section.fault_at(fault, value.span());
            return None;
        }
        let mut out = Vec::new();
        for item in items.iter() {
            let Some(text) = item.get_ref().as_str() else {
                walk.wrong_type(key, item, allowed.clone(), "write names from the list, in quotes");
                continue;
            };
            match E::of_word(text) {
                Some(is) => out.push(is),
                None => {
                    let fault = not_among(key.name, key.quantity, text, &ids::<E>());
                    walk.section.fault_at(fault, item.span());
                }
            }
        }
        (out.len() == items.len()).then_some(Self(out))
    }

    fn when_absent(walk: &Walk<'_>, key: &'static Key, (): ()) -> Option<Self> {
        let allowed = quoted(&ids::<E>());
        walk.missing(key, &format!("a list of {allowed}"));
        None
    }
}

/// The default of a field of a missing section. It is listed if `$at`, the section above, is `Some`.
///
/// A field without a default does not compile.
macro_rules! usual {
    ($at:expr, $section:literal, $field:path) => {{
        const USUAL: $crate::outline::Usual<f64> = $crate::outline::usual_of(&$field);
        if let Some(at) = $at {
            at.by_default(&format!("{}.{}", $section, $field.key), USUAL.listed, USUAL.source);
        }
        USUAL.value
    }};
}

pub(crate) use usual;

/// A value whose default is listed only where something uses it.
#[derive(Debug)]
pub(crate) struct Used<V> {
    given: Option<V>,
    usual: Usual<V>,
    key: &'static str,
}

impl<V: Scalar + Copy + std::fmt::Debug> Readable for Used<V> {
    type Of = (V::Of, Usual<V>);
    type Read = Option<Self>;

    fn read(walk: &Walk<'_>, key: &'static Key, (of, usual): Self::Of) -> Option<Self> {
        let given = match walk.value(key) {
            Some(value) => Some(V::from_value(walk, key, of, value)?),
            None => None,
        };
        Some(Self {
            given,
            usual,
            key: key.name,
        })
    }
}

impl<V: Copy> Used<V> {
    /// What was given.
    pub(crate) fn given(&self) -> Option<V> {
        self.given
    }

    /// The given value, or the default, which is then listed.
    pub(crate) fn value(&self, section: &Section) -> V {
        self.given.unwrap_or_else(|| {
            section.by_default(self.key, self.usual.listed, self.usual.source);
            self.usual.value
        })
    }

    /// The given value, or the default without listing it.
    pub(crate) fn value_unlisted(&self) -> V {
        self.given.unwrap_or(self.usual.value)
    }
}
