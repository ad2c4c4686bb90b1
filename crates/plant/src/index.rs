//! Indices into the lists of a plant: one type for each list, so that an index of one list cannot read another.

use daylift_units::fingerprint;
use typed_index_collections::TiVec;

/// Declares the type of an index and the list that it reads.
macro_rules! indices {
    ($($(#[$of_index:meta])* $index:ident, $(#[$of_list:meta])* $list:ident;)+) => {$(
        $(#[$of_index])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $index(usize);

        impl From<usize> for $index {
            #[inline]
            fn from(place: usize) -> Self {
                Self(place)
            }
        }

        impl From<$index> for usize {
            #[inline]
            fn from(index: $index) -> Self {
                index.0
            }
        }

        fingerprint!(by Hash: $index);

        $(#[$of_list])*
        pub type $list<T> = TiVec<$index, T>;
    )+};
}

indices! {
    /// Index of a plane of the array.
    ///
    /// ```
    /// use daylift_plant::{ByPlane, PlaneId};
    /// let tilt_deg = ByPlane::from(vec![18.0, 30.0]);
    /// assert_eq!(tilt_deg[PlaneId::from(1)], 30.0);
    /// ```
    ///
    /// ```compile_fail
    /// use daylift_plant::{ByPlane, SetId};
    /// let tilt_deg = ByPlane::from(vec![18.0, 30.0]);
    /// assert_eq!(tilt_deg[SetId::from(1)], 30.0);
    /// ```
    PlaneId,
    /// A value for every plane, in the plant's order.
    ByPlane;
    /// Index of a string group of the array.
    GroupId,
    /// A value for every string group, in the plant's order.
    ByGroup;
    /// Index of a grid-tied inverter.
    InverterId,
    /// A value for every grid-tied inverter, in the plant's order.
    ByInverter;
    /// Index of a pump set.
    SetId,
    /// A value for every pump set, in the plant's order.
    BySet;
}
