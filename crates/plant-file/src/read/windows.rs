//! Hours of the civil day: one window of two hours, or two windows.

use daylift_plant::DayHours;
use daylift_units::{Fault, Field};
use toml::Spanned;
use toml::de::{DeArray, DeValue};

use super::walk::{Scalar, Walk};
use crate::outline::Key;

/// What hours of the day may be.
pub(crate) const ALLOWED_WINDOWS: &str = "two hours such as [22, 6], or two such windows: [[22, 6], [10, 15]]";

const GIVE_HOURS: &str = "give the start hour and the end hour";

impl Scalar for DayHours {
    type Of = &'static Field;

    fn from_value(
        walk: &Walk<'_>,
        key: &'static Key,
        field: &'static Field,
        value: &Spanned<DeValue<'_>>,
    ) -> Option<Self> {
        walk.given(key, value);
        let items = value.get_ref().as_array();
        let Some(items) = items else {
            walk.wrong_type(
                key,
                value,
                ALLOWED_WINDOWS.to_owned(),
                "write the hours in square brackets",
            );
            return None;
        };
        let lists: Option<Vec<_>> =
            items.iter().map(|item| item.get_ref().as_array().map(|list| (item, list))).collect();
        let windows = match lists.as_deref() {
            Some([one]) => vec![*one],
            Some([first, second]) => vec![*first, *second],
            None if items.len() == 2 => vec![(value, items)],
            _ => {
                let remedy = "write one window, or two windows each in its own square brackets";
                refuse(walk, key, value, &in_brackets(value, walk), ALLOWED_WINDOWS, remedy);
                return None;
            }
        };
        let read: Vec<Option<Self>> = windows.iter().map(|(at, hours)| window(walk, key, field, at, hours)).collect();
        let read: Vec<Self> = read.into_iter().collect::<Option<_>>()?;
        if let [first, second] = read.as_slice()
            && first.overlaps(second)
        {
            let remedy = "shorten one of them, or write one window";
            refuse(
                walk,
                key,
                value,
                &in_brackets(value, walk),
                "two windows that share no hour",
                remedy,
            );
            return None;
        }
        read.into_iter().reduce(Self::or)
    }

    fn when_absent(walk: &Walk<'_>, key: &'static Key, _: &'static Field) -> Option<Self> {
        walk.missing(key, ALLOWED_WINDOWS);
        None
    }
}

/// One window: two different hours.
fn window(
    walk: &Walk<'_>,
    key: &Key,
    field: &Field,
    at: &Spanned<DeValue<'_>>,
    hours: &DeArray<'_>,
) -> Option<DayHours> {
    if hours.len() != 2 {
        refuse(walk, key, at, &in_brackets(at, walk), ALLOWED_WINDOWS, GIVE_HOURS);
        return None;
    }
    let hours: Vec<Option<f64>> = hours.iter().map(|hour| walk.number(key, field, hour)).collect();
    let hours: Vec<f64> = hours.into_iter().collect::<Option<_>>()?;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "checked whole and within the field's range"
    )]
    let hours: Vec<u8> = hours.into_iter().map(|hour| hour as u8).collect();
    match hours.as_slice() {
        [from_h, to_h] if from_h != to_h && *from_h != 24 => Some(DayHours::between(*from_h, *to_h)),
        _ => {
            let allowed = "two different hours; [0, 24] is the whole day, [22, 5] passes midnight";
            refuse(walk, key, at, &in_brackets(at, walk), allowed, GIVE_HOURS);
            None
        }
    }
}

/// The value as it is written in the file.
fn in_brackets(value: &Spanned<DeValue<'_>>, walk: &Walk<'_>) -> String {
    let written = walk.section.source().text.get(value.span()).unwrap_or_default();
    written.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn refuse(walk: &Walk<'_>, key: &Key, at: &Spanned<DeValue<'_>>, given: &str, allowed: &str, remedy: &str) {
    walk.section
        .fault_at(Fault::new(key.name, key.quantity, given, allowed, remedy), at.span());
}
