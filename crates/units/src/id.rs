//! Closed lists whose members have fixed names in files and results.

/// A member of a closed list, with a fixed name in files and results.
///
/// The engine works with the member; only the code at the edge reads and writes the name.
pub trait Id: Copy + 'static {
    /// All members, in print order.
    const ALL: &'static [Self];

    /// Name in files and results.
    fn id(self) -> &'static str;

    /// The member with this name.
    #[must_use]
    fn from_id(id: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|member| member.id() == id)
    }
}

/// Implements [`Id`](crate::Id) for an enum without fields: list the members in print order, each with its name. The
/// macro does not compile when a member is missing.
///
/// ```
/// use daylift_units::{Id, ids};
///
/// #[derive(Debug, Clone, Copy, PartialEq)]
/// enum Colour { Red, DarkBlue }
/// ids!(Colour { Red = "red", DarkBlue = "dark-blue" });
///
/// assert_eq!(Colour::DarkBlue.id(), "dark-blue");
/// assert_eq!(Colour::from_id("red"), Some(Colour::Red));
/// assert_eq!(Colour::from_id("blue"), None);
/// ```
///
/// ```compile_fail
/// #[derive(Clone, Copy)]
/// enum Colour { Red, DarkBlue }
/// daylift_units::ids!(Colour { Red = "red" });
/// ```
#[macro_export]
macro_rules! ids {
    ($of:ident { $($member:ident = $id:literal),+ $(,)? }) => {
        impl $crate::Id for $of {
            const ALL: &'static [Self] = &[$(Self::$member),+];

            fn id(self) -> &'static str {
                match self { $(Self::$member => $id),+ }
            }
        }
    };
}
