//! Hashes that identify values: the keys under which computed stages are kept.

use std::hash::{DefaultHasher, Hash, Hasher};
use std::ops::Deref;
use std::sync::Arc;

use enum_map::{EnumArray, EnumMap};
use typed_index_collections::{TiSlice, TiVec};

#[cfg(test)]
mod tests;

/// A value that can feed everything that identifies it into a hash.
///
/// Floating-point numbers count by their bits: 0.0 and −0.0 differ, and so do two NaNs with different bits. Lists also
/// feed their length, enums their variant. Implement the trait with [`fingerprint!`](crate::fingerprint!), which does
/// not compile when a field is missing.
pub trait Fingerprint {
    /// Feeds the value into a hash.
    fn feed(&self, into: &mut impl Hasher);
}

/// The hash of a value. Equal values have the same hash within one run of the program; two different values have the
/// same hash with a probability of 2⁻⁶⁴.
///
/// ```
/// use daylift_units::fingerprint::of;
/// assert_eq!(of(&[1.5, 2.5]), of(&vec![1.5, 2.5]));
/// assert_ne!(of(&0.0), of(&-0.0));
/// ```
#[must_use]
pub fn of(value: &(impl Fingerprint + ?Sized)) -> u64 {
    let mut hasher = DefaultHasher::new();
    value.feed(&mut hasher);
    hasher.finish()
}

/// Implements [`Fingerprint`]: for a struct by its fields, for an enum by its variants and their fields. With `by
/// Hash`, a type without floating-point numbers uses the `Hash` that it derives.
///
/// Every field must be named, or the macro does not compile. Fields under `derived` follow from the others and are not
/// fed.
///
/// ```
/// use daylift_units::{fingerprint, fingerprint::of};
///
/// struct Disc { radius_m: f64, area_m2: f64 }
/// fingerprint!(Disc { radius_m } derived { area_m2 });
///
/// enum Shape { Point, Ring { radius_m: f64 }, Full(Disc) }
/// fingerprint!(enum Shape { Point, Ring { radius_m }, Full(disc) });
///
/// #[derive(Hash)]
/// enum Colour { Red, Blue }
/// fingerprint!(by Hash: Colour);
///
/// assert_ne!(of(&Shape::Ring { radius_m: 1.0 }), of(&Shape::Full(Disc { radius_m: 1.0, area_m2: 3.14 })));
/// assert_ne!(of(&Shape::Point), of(&Shape::Ring { radius_m: 0.0 }));
/// assert_ne!(of(&Colour::Red), of(&Colour::Blue));
/// ```
///
/// ```compile_fail
/// struct Disc { radius_m: f64, forgotten: f64 }
/// daylift_units::fingerprint!(Disc { radius_m });
/// ```
#[macro_export]
macro_rules! fingerprint {
    (by Hash: $($of:ty),+ $(,)?) => {
        $(impl $crate::Fingerprint for $of {
            fn feed(&self, into: &mut impl ::std::hash::Hasher) {
                ::std::hash::Hash::hash(self, into);
            }
        })+
    };
    (enum $of:ident { $($variant:ident $({ $($field:ident),+ })? $(( $($item:ident),+ ))?),+ $(,)? }) => {
        impl $crate::Fingerprint for $of {
            fn feed(&self, into: &mut impl ::std::hash::Hasher) {
                ::std::hash::Hash::hash(&::std::mem::discriminant(self), into);
                match self {
                    $(Self::$variant $({ $($field),+ })? $(( $($item),+ ))? => {
                        $($($crate::Fingerprint::feed($field, into);)+)?
                        $($($crate::Fingerprint::feed($item, into);)+)?
                    })+
                }
            }
        }
    };
    ($of:ident $(<$life:lifetime>)? { $($field:ident),+ $(,)? } $(derived { $($derived:ident),+ $(,)? })?) => {
        impl $crate::Fingerprint for $of $(<$life>)? {
            fn feed(&self, into: &mut impl ::std::hash::Hasher) {
                let Self { $($field,)+ $($($derived: _,)+)? } = self;
                $($crate::Fingerprint::feed($field, into);)+
            }
        }
    };
}

impl Fingerprint for f64 {
    fn feed(&self, into: &mut impl Hasher) {
        into.write_u64(self.to_bits());
    }
}

fingerprint!(by Hash: bool, u8, u16, u32, u64, usize, i16, i32, i64, str, String);

impl<T: Fingerprint> Fingerprint for [T] {
    fn feed(&self, into: &mut impl Hasher) {
        into.write_usize(self.len());
        for item in self {
            item.feed(into);
        }
    }
}

impl<T: Fingerprint, const N: usize> Fingerprint for [T; N] {
    fn feed(&self, into: &mut impl Hasher) {
        self.as_slice().feed(into);
    }
}

impl<K: EnumArray<T>, T: Fingerprint> Fingerprint for EnumMap<K, T> {
    fn feed(&self, into: &mut impl Hasher) {
        self.as_slice().feed(into);
    }
}

impl<T: Fingerprint> Fingerprint for Vec<T> {
    fn feed(&self, into: &mut impl Hasher) {
        self.as_slice().feed(into);
    }
}

impl<K, T: Fingerprint> Fingerprint for TiSlice<K, T> {
    fn feed(&self, into: &mut impl Hasher) {
        self.raw.feed(into);
    }
}

impl<K, T: Fingerprint> Fingerprint for TiVec<K, T> {
    fn feed(&self, into: &mut impl Hasher) {
        self.raw.feed(into);
    }
}

impl<T: Fingerprint> Fingerprint for Option<T> {
    fn feed(&self, into: &mut impl Hasher) {
        self.is_some().hash(into);
        if let Some(value) = self {
            value.feed(into);
        }
    }
}

impl<T: Fingerprint + ?Sized> Fingerprint for &T {
    fn feed(&self, into: &mut impl Hasher) {
        (**self).feed(into);
    }
}

impl<T: Fingerprint + ?Sized> Fingerprint for Arc<T> {
    fn feed(&self, into: &mut impl Hasher) {
        (**self).feed(into);
    }
}

/// A large value stored with its hash, which is computed once.
#[derive(Debug, Clone, PartialEq)]
pub struct Fingerprinted<T> {
    value: T,
    hash: u64,
}

impl<T> Fingerprint for Fingerprinted<T> {
    fn feed(&self, into: &mut impl Hasher) {
        self.hash.feed(into);
    }
}

impl<T: Fingerprint> From<T> for Fingerprinted<T> {
    fn from(value: T) -> Self {
        Self {
            hash: of(&value),
            value,
        }
    }
}

impl<T: Fingerprint + Default> Default for Fingerprinted<T> {
    fn default() -> Self {
        T::default().into()
    }
}

impl<T> Deref for Fingerprinted<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.value
    }
}

/// A tuple feeds its parts in order.
macro_rules! tuples {
    ($(($($part:ident)+))+) => {
        $(impl<$($part: Fingerprint),+> Fingerprint for ($($part,)+) {
            fn feed(&self, into: &mut impl Hasher) {
                #[expect(non_snake_case, reason = "each part is called as its type")]
                let ($($part,)+) = self;
                $($part.feed(into);)+
            }
        })+
    };
}

tuples!((A B) (A B C) (A B C D) (A B C D E) (A B C D E F));
