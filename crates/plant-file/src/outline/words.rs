//! Words of the files and what they stand for.

use daylift_grid::BatteryRule;
use daylift_sky::{RowShade, SkyModel};

use crate::provenance::Origin;
use daylift_plant::{Arrangement, Bearer, LoadsFed, Wiring};
use daylift_tables::{meter::Stamped, weather::StampAt};

/// What one of a few words stands for.
pub(crate) trait Word: Copy + std::fmt::Debug + 'static {
    /// Every word with what it stands for.
    fn choices() -> Vec<(&'static str, Self)>;

    /// Its word.
    fn id(self) -> &'static str;
}

/// Every word of a kind.
pub(crate) fn ids<E: Word>() -> Vec<&'static str> {
    E::choices().into_iter().map(|(id, _)| id).collect()
}

/// Words of enums that others declare.
macro_rules! words_of {
    ($($type:ident { $($id:literal = $variant:ident),* $(,)? })*) => {$(
        impl $crate::outline::Word for $type {
            fn choices() -> Vec<(&'static str, Self)> {
                vec![$(($id, Self::$variant)),*]
            }

            fn id(self) -> &'static str {
                match self { $(Self::$variant => $id),* }
            }
        }
    )*};
}

/// Declares enums with their words.
macro_rules! words {
    ($($(#[$doc:meta])* $type:ident { $($(#[$of:meta])* $id:literal = $variant:ident),* $(,)? })*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub(crate) enum $type { $($(#[$of])* $variant),* }
        $crate::outline::words::words_of! { $type { $($id = $variant),* } }
    )*};
}

pub(crate) use {words, words_of};

words_of! {
    SkyModel { "hay-davies" = HayDavies, "perez" = Perez }
    RowShade { "in-proportion" = InProportion, "whole" = Whole }
    StampAt { "start" = Start, "end" = End, "middle" = Middle }
    Stamped { "begin" = Begin, "end" = End }
    BatteryRule { "self-consumption" = SelfConsumption, "reserve" = Reserve }
    LoadsFed { "none" = None, "backed-up" = BackedUp, "all" = All }
}

impl Word for Wiring {
    fn choices() -> Vec<(&'static str, Self)> {
        Self::choices().to_vec()
    }

    fn id(self) -> &'static str {
        self.id()
    }
}

impl Word for Arrangement {
    fn choices() -> Vec<(&'static str, Self)> {
        Self::choices().to_vec()
    }

    fn id(self) -> &'static str {
        self.id()
    }
}

/// What an entry may mark.
impl Word for Origin {
    fn choices() -> Vec<(&'static str, Self)> {
        Self::MARKS.map(|origin| (origin.id(), origin)).to_vec()
    }

    fn id(self) -> &'static str {
        self.id()
    }
}

impl Word for Bearer {
    fn choices() -> Vec<(&'static str, Self)> {
        Self::all()
    }

    fn id(self) -> &'static str {
        match self {
            Self::Wiring(wiring) => wiring.id(),
            Self::Generator => "generator",
            Self::NightTank => "night-tank",
            Self::Row(row) => row.id(),
        }
    }
}
