//! A memory of computed stages, found again by a fingerprint of their inputs.
//!
//! A stage is computed once for all plants with the same inputs. In a comparison, a change of tariff repeats only the
//! money. A change of one pump repeats only that pump and what depends on it. Each input type declares which of its
//! fields count ([`Fingerprint`]). A field that is added later counts too, or the code does not compile.

use std::collections::VecDeque;
use std::hash::Hasher;
use std::sync::{Arc, Mutex, PoisonError};

use daylift_plant::Arrangement;
use daylift_sky::SkyYear;
use daylift_supply::{
    Clock, Conditions, GroupYear, InverterOffers, PlaneLight, Route, RouteId, SetOffers, Timeline, YearResult,
};
use daylift_units::{Fingerprint, fingerprint};
use typed_index_collections::TiVec;

use crate::rules::Rules;

/// Fingerprint of a stage's inputs. Two different inputs have the same key with a probability of 2⁻⁶⁴.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Key(u64);

impl Key {
    /// The key of some inputs.
    pub(crate) fn of(inputs: &impl Fingerprint) -> Self {
        Self(fingerprint::of(inputs))
    }
}

impl Fingerprint for Key {
    fn feed(&self, into: &mut impl Hasher) {
        self.0.feed(into);
    }
}

/// Kept results of one stage, the most recently used first.
#[derive(Debug)]
pub(crate) struct Shelf<T> {
    kept: Mutex<VecDeque<(Key, Arc<T>)>>,
    most: usize,
}

impl<T> Shelf<T> {
    fn new(most: usize) -> Self {
        Self {
            kept: Mutex::new(VecDeque::new()),
            most,
        }
    }

    /// The result for some inputs; computed unless it is kept. Two threads that miss the same result at once both compute
    /// it.
    fn recall(&self, key: Key, compute: impl FnOnce() -> T) -> Arc<T> {
        if let Some(kept) = self.look_up(key) {
            return kept;
        }
        let made = Arc::new(compute());
        if self.most > 0 {
            let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
            kept.push_front((key, Arc::clone(&made)));
            kept.truncate(self.most);
        }
        made
    }

    fn look_up(&self, key: Key) -> Option<Arc<T>> {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let place = kept.iter().position(|(k, _)| *k == key)?;
        let found = kept.remove(place)?;
        let value = Arc::clone(&found.1);
        kept.push_front(found);
        Some(value)
    }
}

/// A type of result that the memory keeps.
pub(crate) trait Kept: Sized {
    /// The shelf for this type.
    fn shelf(memory: &Memory) -> &Shelf<Self>;
}

/// Declares the memory: for each stage its shelf, the type of its results, and the maximum number of them in a memory of
/// size `$most`.
macro_rules! shelves {
    ($most:ident => $($shelf:ident: $of:ty = $kept:expr,)+) => {
        /// Computed stages of earlier answers.
        #[derive(Debug)]
        pub struct Memory {
            $($shelf: Shelf<$of>,)+
            most: usize,
            /// Rules of pumping of the last search, with the name of its plant.
            rules: Mutex<(String, Rules)>,
        }

        impl Memory {
            fn keeping($most: usize) -> Self {
                Self {
                    $($shelf: Shelf::new($kept),)+
                    most: $most,
                    rules: Mutex::default(),
                }
            }
        }

        $(impl Kept for $of {
            fn shelf(memory: &Memory) -> &Shelf<Self> {
                &memory.$shelf
            }
        })+
    };
}

shelves! { most =>
    suns: SkyYear = most.min(4),
    clocks: Clock = most.min(4),
    conditions: Conditions = most.min(4),
    planes: PlaneLight = most,
    groups: GroupYear = most,
    sets: SetOffers = most,
    inverters: InverterOffers = most,
    timetables: Timetable = most,
    // A plant may have two dozen rows; a year takes about 20 kB.
    years: YearResult = 4 * most,
}

/// The routes of an arrangement, and when each applies.
#[derive(Debug, Clone)]
pub struct Timetable {
    /// Its routes.
    pub routes: TiVec<RouteId, Route>,
    /// When each route applies.
    pub timeline: Timeline,
}

impl Memory {
    /// Keeps the 32 most recently used results of most stages: enough for a few variants of a plant with several planes,
    /// inverters and pumps. The year of a pump set takes about 5 MB at steps of ten minutes, 50 MB at steps of one minute.
    #[must_use]
    pub fn new() -> Self {
        Self::keeping(32)
    }

    /// Keeps nothing: for one answer.
    #[must_use]
    pub fn none() -> Self {
        Self::keeping(0)
    }

    /// The result for some inputs; computed unless it is kept.
    pub(crate) fn recall<T: Kept>(&self, key: Key, compute: impl FnOnce() -> T) -> Arc<T> {
        T::shelf(self).recall(key, compute)
    }

    /// The rules of pumping that were last found for a plant.
    pub(crate) fn held_rules(&self, plant: &str) -> Rules {
        let held = self.rules.lock().unwrap_or_else(PoisonError::into_inner);
        if held.0 == plant {
            held.1.clone()
        } else {
            Rules::default()
        }
    }

    /// Keeps the rules of pumping that were found for some rows of a plant, in addition to those of its other rows.
    pub(crate) fn hold_rules(&self, plant: &str, rows: &[Arrangement], rules: &Rules) {
        if self.is_none() {
            return;
        }
        let mut held = self.rules.lock().unwrap_or_else(PoisonError::into_inner);
        if held.0 != plant {
            *held = (plant.to_owned(), Rules::default());
        }
        held.1.replace(rows, rules.clone());
    }

    /// Whether nothing is kept.
    pub(crate) fn is_none(&self) -> bool {
        self.most == 0
    }
}

impl Default for Memory {
    fn default() -> Self {
        Self::new()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_kept_result_is_not_computed_again_and_the_least_recently_used_is_dropped() {
        let shelf = Shelf::new(2);
        let ask = |of: i32| *shelf.recall(Key::of(&of), || of * 10);
        assert_eq!((ask(1), ask(2), ask(1)), (10, 20, 10));
        ask(3);
        let kept = |of: i32| *shelf.recall(Key::of(&of), || -1);
        assert_eq!((kept(1), kept(3), kept(2)), (10, 30, -1));
    }

    #[test]
    fn a_shelf_of_size_0_keeps_nothing() {
        let shelf = Shelf::new(0);
        assert_eq!(*shelf.recall(Key::of(&1_i32), || 10), 10);
        assert_eq!(*shelf.recall(Key::of(&1_i32), || 11), 11);
    }

    #[test]
    fn numbers_that_differ_in_the_last_place_have_different_keys() {
        assert!(Key::of(&0.1_f64) != Key::of(&0.1_f64.next_up()));
        assert!(Key::of(&(1_u32, 23_u32)) != Key::of(&(12_u32, 3_u32)));
    }
}
