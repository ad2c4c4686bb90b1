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
