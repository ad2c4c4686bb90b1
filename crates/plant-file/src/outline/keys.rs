//! Declarations of keys, each with the type that its value is read as.
//!
//! A section is declared by `record!` or `frame!`: its table and what it is read into come from one line for each key. The
//! compiler warns of a field that nobody reads. The doc comment of a section is its description in `docs/plant-file.md`.

use daylift_plant::DayHours;
use daylift_units::Field;
use jiff::civil::Date;

use super::listed::{Listed, Usual, usual_of};
use super::table::{Key, What};
use super::words::{Word, ids};
use crate::read::{
    ByHour, ByMonth, Equipment, EquipmentFile, Group, List, Number, OneWord, Outlined, Part, Readable, Scalar, Texts,
    Used, Words,
};

/// A key whose value is read as a `V`.
pub(crate) struct Typed<V: Readable> {
    pub(crate) key: Key,
    pub(crate) of: V::Of,
}

const fn key(name: &'static str, quantity: &'static str, what: What) -> Key {
    Key {
        name,
        quantity,
        needed: true,
        what,
        allowed: "",
        is_listed: true,
        instead: None,
        usual: None,
        otherwise: None,
    }
}

const fn text_key(name: &'static str, quantity: &'static str, what: What, allowed: &'static str) -> Key {
    let mut key = key(name, quantity, what);
    key.allowed = allowed;
    key
}

const fn of_field(field: &'static Field, what: What) -> Key {
    let mut key = key(field.key, field.quantity, what);
    key.needed = field.preset.is_none();
    key
}

/// A number in SI; its default holds where it is not given.
pub(crate) const fn number(field: &'static Field) -> Typed<f64> {
    Typed {
        key: of_field(field, What::Number(field)),
        of: field,
    }
}

/// A whole number.
pub(crate) const fn count(field: &'static Field) -> Typed<u32> {
    assert!(
        field.whole && field.least >= 0.0 && field.greatest <= u32::MAX as f64,
        "a count is a whole number"
    );
    Typed {
        key: of_field(field, What::Number(field)),
        of: field,
    }
}

/// A small whole number: an hour of the day, a stage.
pub(crate) const fn small(field: &'static Field) -> Typed<u8> {
    assert!(
        field.whole && field.least >= 0.0 && field.greatest <= u8::MAX as f64,
        "a small whole number"
    );
    Typed {
        key: of_field(field, What::Number(field)),
        of: field,
    }
}

/// A number for the whole year, or one for each month.
pub(crate) const fn monthly(field: &'static Field) -> Typed<ByMonth> {
    Typed {
        key: of_field(field, What::Monthly(field)),
        of: field,
    }
}

/// A number for the whole day, or one for each hour of the civil day.
pub(crate) const fn hourly(field: &'static Field) -> Typed<ByHour> {
    Typed {
        key: of_field(field, What::Hourly(field)),
        of: field,
    }
}

/// Hours of the civil day: one window, or two.
pub(crate) const fn windows(field: &'static Field) -> Typed<DayHours> {
    Typed {
        key: of_field(field, What::Windows(field)),
        of: field,
    }
}

/// A list of one or more numbers.
pub(crate) const fn numbers<N: Number>(field: &'static Field) -> Typed<Vec<N>> {
    Typed {
        key: of_field(field, What::Numbers(field, None)),
        of: (field, false),
    }
}

/// A list of percentages: all of them given as fractions are one fault.
pub(crate) const fn percentages(field: &'static Field) -> Typed<Vec<f64>> {
    Typed {
        key: of_field(field, What::Numbers(field, None)),
        of: (field, true),
    }
}

/// A list of `K` numbers.
pub(crate) const fn numbers_of<N: Number, const K: usize>(field: &'static Field) -> Typed<[N; K]> {
    Typed {
        key: of_field(field, What::Numbers(field, Some(K))),
        of: field,
    }
}

/// The key `name`: a text without effect on the calculation.
pub(crate) const fn named(quantity: &'static str) -> Typed<String> {
    label("name", quantity)
}

/// A name under another key.
pub(crate) const fn label(name: &'static str, quantity: &'static str) -> Typed<String> {
    let mut key = text_key(name, quantity, What::Name, "a text");
    key.is_listed = false;
    Typed { key, of: () }
}

/// A text.
pub(crate) const fn text(name: &'static str, quantity: &'static str, allowed: &'static str) -> Typed<String> {
    Typed {
        key: text_key(name, quantity, What::Text, allowed),
        of: (),
    }
}

const PATH: &str = "a path relative to this file";

/// A path.
pub(crate) const fn path(name: &'static str, quantity: &'static str) -> Typed<String> {
    Typed {
        key: text_key(name, quantity, What::Path, PATH),
        of: (),
    }
}

/// A list of dotted keys. It is not listed among the values.
pub(crate) const fn keys(name: &'static str, quantity: &'static str, allowed: &'static str) -> Typed<Texts> {
    let mut key = text_key(name, quantity, What::Keys, allowed);
    key.is_listed = false;
    Typed { key, of: () }
}

/// A date about other values. It is not listed among the values.
pub(crate) const fn day(name: &'static str, quantity: &'static str) -> Typed<Date> {
    let mut key = text_key(name, quantity, What::Day, "a day such as 2026-11-30");
    key.is_listed = false;
    Typed { key, of: () }
}

/// One of a few words.
pub(crate) const fn choice<E: Word>(name: &'static str, quantity: &'static str) -> Typed<E> {
    Typed {
        key: key(name, quantity, What::Choice(ids::<E>)),
        of: None,
    }
}

/// A list of one or more of a few words.
pub(crate) const fn choices<E: Word>(name: &'static str, quantity: &'static str) -> Typed<Words<E>> {
    Typed {
        key: key(name, quantity, What::Choices(ids::<E>)),
        of: (),
    }
}

/// The kind of a file: always the same word.
pub(crate) const fn kind(word: &'static str) -> Typed<OneWord> {
    let mut key = key("kind", "kind of equipment", What::Word(word));
    key.is_listed = false;
    Typed { key, of: word }
}

/// `true` or `false`; `false` where it is not given.
pub(crate) const fn flag(name: &'static str, quantity: &'static str) -> Typed<bool> {
    let mut key = key(name, quantity, What::Flag);
    key.needed = false;
    key.usual = Some((Listed::Text("false"), ""));
    Typed { key, of: () }
}

/// An equipment file.
pub(crate) const fn equipment<T: EquipmentFile>(name: &'static str, quantity: &'static str) -> Typed<Equipment<T>> {
    Typed {
        key: text_key(name, quantity, What::Path, PATH),
        of: (),
    }
}

/// A section.
pub(crate) const fn section<T: Outlined>(name: &'static str) -> Typed<Part<T>> {
    Typed {
        key: key(name, name, What::Section(T::TABLE)),
        of: (),
    }
}

/// A list of sections.
pub(crate) const fn sections<T: Outlined>(name: &'static str, quantity: &'static str) -> Typed<List<T>> {
    Typed {
        key: key(name, quantity, What::Sections(T::TABLE)),
        of: (),
    }
}

/// A section, or a list of them.
pub(crate) const fn one_or_many<T: Outlined>(name: &'static str, quantity: &'static str) -> Typed<List<T>> {
    Typed {
        key: key(name, quantity, What::OneOrMany(T::TABLE)),
        of: (),
    }
}

/// Keys that are read together: all of them are valid, or none is used.
pub(crate) const fn group<T: Outlined>() -> Typed<Group<T>> {
    Typed {
        key: key("", "", What::Group(T::TABLE)),
        of: (),
    }
}

impl<V: Scalar> Typed<V> {
    /// The same, that may be left out.
    pub(crate) const fn optional(self) -> Typed<Option<V>> {
        let mut key = self.key;
        key.needed = false;
        key.usual = None;
        Typed { key, of: self.of }
    }

    /// The same, which is a path.
    pub(crate) const fn a_path(mut self) -> Self {
        self.key.what = What::Path;
        self
    }

    /// The same, a value that is not listed.
    pub(crate) const fn unlisted(mut self) -> Self {
        self.key.is_listed = false;
        self
    }
}

impl<V: Scalar> Typed<Option<V>> {
    /// The same, with the value that is listed when it is left out.
    pub(crate) const fn listed_as(mut self, listed: Listed, source: &'static str) -> Self {
        self.key.otherwise = Some((listed, source));
        self
    }
}

impl<V: Scalar> Typed<Option<V>> {
    /// The same, with what holds when it is left out. It is shown with the key; the value that was decided is listed by
    /// the section that decides it.
    pub(crate) const fn decided(mut self, rule: &'static str, source: &'static str) -> Self {
        self.key.usual = Some((Listed::Rule(rule), source));
        self
    }
}

impl<E: Word> Typed<Option<E>> {
    /// The same, with the word that holds when it is left out. It is not listed among the values.
    pub(crate) const fn usually(mut self, word: &'static str, source: &'static str) -> Self {
        self.key.usual = Some((Listed::Text(word), source));
        self
    }
}

impl<T: Outlined> Typed<Part<T>> {
    /// The same, that may be left out.
    pub(crate) const fn optional(mut self) -> Self {
        self.key.needed = false;
        self
    }
}

impl<V: Readable> Typed<V> {
    /// The same, but not read when the key `other` is given, so that faults about both are reported once.
    pub(crate) const fn unless(mut self, other: &'static str) -> Self {
        self.key.instead = Some(other);
        self
    }
}

impl<T: Outlined> Typed<List<T>> {
    /// The same, that may be left out.
    pub(crate) const fn optional(mut self) -> Self {
        self.key.needed = false;
        self
    }
}

impl<T: EquipmentFile> Typed<Equipment<T>> {
    /// The same, that may be left out.
    pub(crate) const fn optional(mut self) -> Self {
        self.key.needed = false;
        self
    }
}

impl<E: Word> Typed<E> {
    /// The same, with the word that holds when none is given.
    pub(crate) const fn or(mut self, (value, id): (E, &'static str), source: &'static str) -> Self {
        self.key.needed = false;
        self.key.usual = Some((Listed::Text(id), source));
        self.of = Some((value, source));
        self
    }
}

/// A key whose default applies, and is listed, only where something uses it.
const fn used<V: Scalar<Of = &'static Field> + Copy>(typed: &Typed<V>, value: V, usual: Usual<f64>) -> Typed<Used<V>> {
    let usual = Usual {
        value,
        listed: usual.listed,
        source: usual.source,
    };
    Typed {
        key: typed.key,
        of: (typed.of, usual),
    }
}

impl Typed<f64> {
    /// The same, whose default holds, and is listed, only where something uses it.
    pub(crate) const fn where_used(self) -> Typed<Used<f64>> {
        let usual = usual_of(self.of);
        used(&self, usual.value, usual)
    }
}

impl Typed<u32> {
    /// The same, whose default holds, and is listed, only where something uses it.
    pub(crate) const fn where_used(self) -> Typed<Used<u32>> {
        let usual = usual_of(self.of);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "the default of a count is whole and within its range"
        )]
        let value = usual.value as u32;
        used(&self, value, usual)
    }
}

impl Typed<ByMonth> {
    /// The same, whose default holds, and is listed, only where something uses it.
    pub(crate) const fn where_used(self) -> Typed<Used<ByMonth>> {
        let usual = usual_of(self.of);
        used(&self, ByMonth::all(usual.value), usual)
    }
}

impl Typed<ByHour> {
    /// The same, whose default holds, and is listed, only where something uses it.
    pub(crate) const fn where_used(self) -> Typed<Used<ByHour>> {
        let usual = usual_of(self.of);
        used(&self, ByHour::all(usual.value), usual)
    }
}

/// One of a few words; its default applies, and is listed, only where something uses it.
pub(crate) const fn choice_where_used<E: Word>(
    name: &'static str,
    quantity: &'static str,
    (value, id): (E, &'static str),
    source: &'static str,
) -> Typed<Used<E>> {
    let mut key = key(name, quantity, What::Choice(ids::<E>));
    let listed = Listed::Text(id);
    key.needed = false;
    key.usual = Some((listed, source));
    let usual = Usual { value, listed, source };
    Typed { key, of: (None, usual) }
}

/// The key of a declaration. The compiler checks that its type is `V`.
pub(crate) const fn untyped<V: Readable>(typed: &Typed<V>) -> Key {
    typed.key
}

/// Declares a section that is read as a whole: when one of its values has a fault, none is used.
macro_rules! record {
    ($($(#[doc = $doc:literal])* $name:ident { $($field:ident: $type:ty = $key:expr;)* })*) => {$(
        $(#[doc = $doc])*
        #[derive(Debug)]
        pub(crate) struct $name { $(pub(crate) $field: $type,)* }

        impl crate::read::Outlined for $name {
            const TABLE: &'static crate::outline::Table = &crate::outline::Table {
                about: concat!($($doc),*),
                entries: &[$(crate::outline::keys::untyped::<$type>(&$key)),*],
            };
            type Read = Option<Self>;

            fn read(walk: &crate::read::Walk<'_>) -> Option<Self> {
                $(let $field = {
                    const KEY: &crate::outline::Typed<$type> = &$key;
                    walk.take::<$type>(&KEY.key, KEY.of)
                };)*
                // All are read before the first `?`, so that all faults are reported.
                Some(Self { $($field: $field?,)* })
            }
        }
    )*};
}

/// Declares a section whose parts (lists, files and groups of keys) are read independently.
macro_rules! frame {
    ($($(#[doc = $doc:literal])* $name:ident { $($field:ident: $type:ty = $key:expr;)* })*) => {$(
        $(#[doc = $doc])*
        #[derive(Debug)]
        pub(crate) struct $name { $(pub(crate) $field: <$type as crate::read::Readable>::Read,)* }

        impl crate::read::Outlined for $name {
            const TABLE: &'static crate::outline::Table = &crate::outline::Table {
                about: concat!($($doc),*),
                entries: &[$(crate::outline::keys::untyped::<$type>(&$key)),*],
            };
            type Read = Self;

            fn read(walk: &crate::read::Walk<'_>) -> Self {
                Self { $($field: {
                    const KEY: &crate::outline::Typed<$type> = &$key;
                    walk.take::<$type>(&KEY.key, KEY.of)
                },)* }
            }
        }
    )*};
}

pub(crate) use {frame, record};
