//! Serializes members of closed lists by their ids.

use daylift_units::Id;
use serde::{Serialize, Serializer};

/// Writes a member's id.
///
/// # Errors
/// The errors of the serializer.
pub fn by_id<T: Id, S: Serializer>(member: &T, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(member.id())
}

/// Writes the ids of members as a list.
///
/// # Errors
/// The errors of the serializer.
pub fn all_by_id<T: Id, S: Serializer>(members: &[T], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_seq(members.iter().map(|member| member.id()))
}

/// Writes a member's id, or null for `None`.
///
/// # Errors
/// The errors of the serializer.
pub fn maybe_by_id<T: Id, S: Serializer>(member: &Option<T>, serializer: S) -> Result<S::Ok, S::Error> {
    member.map(T::id).serialize(serializer)
}
