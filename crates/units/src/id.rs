//! Members of closed lists and their names in files and results.

/// A member of a closed list that has a name of its own in files and results.
///
/// The engine works with the member; its name is written and read at the edge alone.
pub trait Id: Copy + 'static {
    /// All members, in the order in which they are printed.
    const ALL: &'static [Self];

    /// Name in files and results.
    fn id(self) -> &'static str;

    /// The member of a name.
    #[must_use]
    fn from_id(id: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|member| member.id() == id)
    }
}

/// Implements [`Id`](crate::Id) for an enum without fields: its members in the order in which they are printed, each
/// with its name. A member that is left out does not compile.
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
