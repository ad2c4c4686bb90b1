//! Reads a table against its outline, and books every fault of a single value and the origin of every value.

use std::cell::RefCell;
use std::ops::Range;
use std::sync::Arc;

use daylift_units::{Fault, Field};
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use super::section::{Section, allowed};
use crate::outline::{Key, Later, Table, later_key};
use crate::provenance::OriginValue;
use daylift_tables::Place;
use daylift_tables::nearest;

/// A type that a table with an outline is read into.
pub(crate) trait Outlined: Sized + std::fmt::Debug {
    /// Its keys.
    const TABLE: &'static Table;
    /// The result: the type itself, or an `Option` of it when faults in it leave nothing.
    type Read: std::fmt::Debug;

    /// Reads the table key by key.
    fn read(walk: &Walk<'_>) -> Self::Read;
}

/// A section in a file: its place, and what was read from it.
#[derive(Debug)]
pub(crate) struct Placed<T: Outlined> {
    /// Its place.
    pub(crate) at: Section,
    /// What was read.
    pub(crate) keys: T::Read,
}

/// A type that a key's value can be read as: a single value, a section, a list, a file or a group of keys.
pub(crate) trait Readable: Sized {
    /// What the declaration of the key adds, such as the field of a number.
    type Of: Copy;
    /// The result of reading.
    type Read: std::fmt::Debug;

    /// Reads the value of the key; faults are booked.
    fn read(walk: &Walk<'_>, key: &'static Key, of: Self::Of) -> Self::Read;
}

/// A single value.
pub(crate) trait Scalar: Sized + std::fmt::Debug {
    /// What the declaration of the key adds, such as the field of a number.
    type Of: Copy;

    /// Reads the given value; `None` when it is wrong, with a fault booked.
    fn from_value(walk: &Walk<'_>, key: &'static Key, of: Self::Of, value: &Spanned<DeValue<'_>>) -> Option<Self>;

    /// The default of a key that is not given; `None` when there is none, with a fault booked.
    fn when_absent(walk: &Walk<'_>, key: &'static Key, of: Self::Of) -> Option<Self>;
}

impl<V: Scalar> Readable for V {
    type Of = V::Of;
    type Read = Option<V>;

    fn read(walk: &Walk<'_>, key: &'static Key, of: V::Of) -> Option<V> {
        match walk.value(key) {
            Some(value) => V::from_value(walk, key, of, value),
            None => V::when_absent(walk, key, of),
        }
    }
}

impl<V: Scalar> Readable for Option<V> {
    type Of = V::Of;
    type Read = Option<Option<V>>;

    fn read(walk: &Walk<'_>, key: &'static Key, of: V::Of) -> Option<Option<V>> {
        if let Some(value) = walk.value(key) {
            return V::from_value(walk, key, of, value).map(Some);
        }
        if let Some((listed, source)) = key.otherwise {
            walk.section.by_default(key.name, listed, source);
        }
        Some(None)
    }
}

/// Former keys of the plant file with their sections, and what to write now.
const FORMER: [(&str, &str, &str); 2] = [
    (
        "",
        "assumed",
        "[[origin]] after the keys of the whole file, with of = [\"*\"] and is = \"assumed\" below it",
    ),
    (
        "pumping",
        "grid_only_hours",
        "`mains_hours`, which holds for every row; a rule for some rows is [[pumping.row]] after the keys of [pumping], with \
         arrangements = [\"grid-only\"] and `mains_hours` below it",
    ),
];

/// Key of the entries that mark where values came from. Only the plant file has it, also for values in equipment files.
const ORIGIN: &str = "origin";

fn not_computed_yet(later: &Later) -> Fault {
    Fault::new(
        "",
        later.quantity,
        format!("`{}`, which Daylift does not calculate yet", later.key),
        "keys that this version reads",
        format!("comment it out with #; until then, {}", later.meanwhile),
    )
}

/// The fault of marks in an equipment file.
fn origin_elsewhere(kind: &str) -> Fault {
    Fault::new(
        "",
        "marks of values",
        "[[origin]] in an equipment file",
        format!("[[origin]] in the plant file, with of = [\"{kind}\"] for all values of this file, or one of its keys"),
        "move the entry to the end of plant.toml",
    )
}

/// A table while it is read.
pub(crate) struct Walk<'w> {
    pub(super) section: &'w Section,
    table: &'w DeTable<'w>,
    /// Faults of missing keys, held back until the unknown keys are known, so that a misspelt key is one fault.
    missing: RefCell<Vec<(&'static str, Fault)>>,
}

/// Reads the table of a section.
pub(super) fn walk<T: Outlined>(section: Section, table: &DeTable<'_>, span: Range<usize>) -> Placed<T> {
    let section = section.holding(table, span);
    let walk = Walk {
        section: &section,
        table,
        missing: RefCell::default(),
    };
    let keys = T::read(&walk);
    walk.finish();
    Placed { at: section, keys }
}

impl<'w> Walk<'w> {
    /// Reads the value of a key.
    pub(crate) fn take<V: Readable>(&self, key: &'static Key, of: V::Of) -> V::Read {
        V::read(self, key, of)
    }

    pub(super) fn value(&self, key: &Key) -> Option<&'w Spanned<DeValue<'w>>> {
        if key.instead.is_some_and(|other| self.table.get(other).is_some()) {
            return None;
        }
        self.table.get(key.name)
    }

    /// Books a given value and its place, if the key's values are listed.
    pub(super) fn given(&self, key: &Key, value: &Spanned<DeValue<'_>>) {
        if let (true, Some(given)) = (key.is_listed, as_listed(value.get_ref())) {
            let place = Place {
                source: Arc::clone(self.section.source()),
                span: value.span(),
            };
            let unit = key.field().map_or("", |field| field.unit.symbol);
            self.section.book().given(self.section.at(key.name), given, unit, &place);
        }
    }

    pub(super) fn missing(&self, key: &Key, allowed: &str) {
        let fault = self.section.missing_fault(key.name, key.quantity, allowed);
        self.missing.borrow_mut().push((key.name, fault));
    }

    pub(super) fn wrong_type(&self, key: &Key, value: &Spanned<DeValue<'_>>, allowed: String, remedy: &str) {
        let text: String = self.section.source().text.get(value.span()).unwrap_or("").chars().take(40).collect();
        let given = format!("{text} ({})", value.get_ref().type_str());
        let fault = Fault::new(key.name, key.quantity, given, allowed, remedy);
        self.section.fault_at(fault, value.span());
    }

    /// A number of a field, in SI.
    pub(super) fn number(&self, key: &Key, field: &Field, value: &Spanned<DeValue<'_>>) -> Option<f64> {
        let Some(number) = as_number(value.get_ref()) else {
            let remedy = match field.unit.symbol {
                "" => "write a plain number".to_owned(),
                symbol => format!("write a plain number; the unit ({symbol}) is in the key"),
            };
            self.wrong_type(key, value, allowed(field), &remedy);
            return None;
        };
        field.check(number).map_err(|fault| self.section.fault_at(fault, value.span())).ok()
    }

    /// Books a fault for every unknown key, with the nearest known one. Books a fault for every missing key, unless a misspelt
    /// one is in its place.
    fn finish(self) {
        let known = self.section.outline().keys();
        let mut missing = self.missing.take();
        for (key, _) in self.table.iter() {
            let name: &str = key.get_ref();
            if known.iter().any(|k| k.name == name) {
                continue;
            }
            if let Some(later) = later_key(self.section.title(), name) {
                self.section.fault_at(not_computed_yet(later), key.span());
                continue;
            }
            if name == ORIGIN && self.section.is_whole_file() {
                self.section.fault_at(origin_elsewhere(self.section.title()), key.span());
                continue;
            }
            let title = self.section.title();
            if let Some((_, _, now)) = FORMER.iter().find(|(of, gone, _)| *gone == name && *of == title) {
                let fault = Fault::new("", "unknown key", format!("`{name}`"), *now, "write that instead");
                self.section.fault_at(fault, key.span());
                continue;
            }
            let absent = known.iter().map(|k| k.name).filter(|k| self.table.get(*k).is_none());
            let near = nearest(name, missing.iter().map(|(key, _)| *key))
                .or_else(|| nearest(name, absent))
                .map(str::to_owned);
            let all = known.iter().map(|k| format!("`{}`", k.name)).collect::<Vec<_>>().join(", ");
            let remedy = near.as_ref().map_or_else(|| "remove it".to_owned(), |n| format!("did you mean `{n}`?"));
            let place = if self.section.is_whole_file() {
                "this file".to_owned()
            } else {
                format!("[{}]", self.section.title())
            };
            let fault = Fault::new(
                "",
                "unknown key",
                format!("`{name}`"),
                format!("in {place}: {all}"),
                remedy,
            );
            self.section.fault_at(fault, key.span());
            if let Some(near) = near {
                missing.retain(|(key, _)| *key != near);
                self.section.meant(near);
            }
        }
        for (_, fault) in missing {
            self.section.fault(fault);
        }
    }
}

pub(super) fn as_number(value: &DeValue<'_>) -> Option<f64> {
    match value {
        DeValue::Integer(i) => i64::from_str_radix(&i.as_str().replace('_', ""), i.radix()).ok().map(whole_as_f64),
        DeValue::Float(f) => f.as_str().replace('_', "").parse().ok(),
        _ => None,
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "integers beyond 2^53 are outside every field's range"
)]
fn whole_as_f64(i: i64) -> f64 {
    i as f64
}

/// A number, a list of numbers or of such lists, a text or a flag as it was given; `None` for anything else, which is always a fault.
fn as_listed(value: &DeValue<'_>) -> Option<OriginValue> {
    if let Some(text) = value.as_str() {
        return Some(OriginValue::Text(text.to_owned()));
    }
    if let Some(flag) = value.as_bool() {
        return Some(OriginValue::Flag(flag));
    }
    match value.as_array() {
        Some(items) => {
            let list =
                |items: &DeArray<'_>| items.iter().map(|item| as_number(item.get_ref())).collect::<Option<Vec<f64>>>();
            let lists = || items.iter().map(|item| list(item.get_ref().as_array()?)).collect::<Option<_>>();
            list(items).map(OriginValue::Numbers).or_else(|| lists().map(OriginValue::Lists))
        }
        None => as_number(value).map(OriginValue::Number),
    }
}
