//! The words that files may use as values, and what they mean.

use std::fmt::Debug;

use daylift_grid::BatteryRule;
use daylift_lift::Filter;
use daylift_plant::{Arrangement, CostScope, LoadsFed, Per, RuleSearch, Wiring};
use daylift_sky::{RowShade, SkyModel};
use daylift_tables::{meter::Stamped, weather::StampAt};
use daylift_units::{CurveForm, Id};

use crate::provenance::Origin;

/// An enum whose ids are words of a file.
pub(crate) trait Word: Id + Debug {
    /// The members that a file may name, in the order in which they are listed.
    const WORDS: &'static [Self] = Self::ALL;

    /// The member of this name; `None` when a file may not name it.
    fn of_word(word: &str) -> Option<Self> {
        Self::WORDS.iter().copied().find(|member| member.id() == word)
    }
}

/// Every word of an enum.
pub(crate) fn ids<E: Word>() -> Vec<&'static str> {
    E::WORDS.iter().map(|member| member.id()).collect()
}

/// Declares enums that exist only for the files, with their words.
macro_rules! words {
    ($($(#[$doc:meta])* $type:ident { $($(#[$of:meta])* $id:literal = $variant:ident),* $(,)? })*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub(crate) enum $type { $($(#[$of])* $variant),* }
        daylift_units::ids!($type { $($variant = $id),* });
        impl $crate::outline::Word for $type {}
    )*};
}

pub(crate) use words;

impl Word for Arrangement {}
impl Word for BatteryRule {}
impl Word for CostScope {}
impl Word for CurveForm {}
impl Word for Filter {}
impl Word for LoadsFed {}
impl Word for Per {}
impl Word for RowShade {}
impl Word for RuleSearch {}
impl Word for SkyModel {}
impl Word for Wiring {}

impl Word for Stamped {
    /// The word `begin` of earlier versions still means `start`.
    fn of_word(word: &str) -> Option<Self> {
        Self::from_id(start_for_begin(word))
    }
}

impl Word for StampAt {
    /// The word `begin` means `start`, as it does for meter readings.
    fn of_word(word: &str) -> Option<Self> {
        Self::from_id(start_for_begin(word))
    }
}

fn start_for_begin(word: &str) -> &str {
    if word == "begin" { "start" } else { word }
}

impl Word for Origin {
    const WORDS: &'static [Self] = &Self::MARKS;
}
