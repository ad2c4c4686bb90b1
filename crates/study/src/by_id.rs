//! Members of closed lists, written into results by their names.

use daylift_units::Id;
use serde::{Serialize, Serializer};

/// Writes a member's name.
///
/// # Errors
/// Those of the serializer.
pub fn by_id<T: Id, S: Serializer>(member: &T, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(member.id())
}

/// Writes a member's name, null where there is none.
///
/// # Errors
/// Those of the serializer.
pub fn maybe_by_id<T: Id, S: Serializer>(member: &Option<T>, serializer: S) -> Result<S::Ok, S::Error> {
    member.map(T::id).serialize(serializer)
}
