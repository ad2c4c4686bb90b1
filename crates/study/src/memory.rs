//! What earlier answers computed, under a hash of what it was computed from.
//!
//! A stage is computed once and serves every plant that has the same inputs for it: a change of tariff runs the year and the
//! money anew, a change of one pump that pump and what follows. A key is a hash of everything its inputs show of themselves,
//! so that a new field of an input counts without anybody thinking of it.

use std::collections::VecDeque;
use std::fmt::{self, Debug, Write};
use std::hash::{DefaultHasher, Hasher};
use std::sync::{Arc, Mutex, PoisonError};

use daylift_grid::Loads;
use daylift_sky::SkyYear;
use daylift_supply::{Clock, GroupYear, InverterOffers, PlaneLight, Route, SetOffers, Timeline, YearResult};

/// Hash of a stage's inputs. Of two different inputs it is the same with a chance of 2⁻⁶⁴.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Key(u64);

impl Key {
    /// The key of some inputs.
    pub(crate) fn of(inputs: &dyn Debug) -> Self {
        let mut hashed = Hashed(DefaultHasher::new());
        // Writing into a hasher never fails.
        let _ = write!(hashed, "{inputs:?}");
        Self(hashed.0.finish())
    }
}

/// A text that is only hashed.
struct Hashed(DefaultHasher);

impl Write for Hashed {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.0.write(text.as_bytes());
        Ok(())
    }
}

/// Results of one stage, the latest asked for in front.
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

    /// The result of some inputs, computed unless it is kept. Two threads that miss the same at once compute it both.
    pub(crate) fn recall(&self, key: Key, compute: impl FnOnce() -> T) -> Arc<T> {
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

/// Numbers for values of which each is compared as a whole: thousands of readings are told apart sooner than hashed.
#[derive(Debug)]
pub(crate) struct Numbers<T> {
    kept: Mutex<(u64, VecDeque<(u64, T)>)>,
}

impl<T: Clone + PartialEq> Numbers<T> {
    const MOST: usize = 8;

    fn new() -> Self {
        Self {
            kept: Mutex::new((0, VecDeque::new())),
        }
    }

    /// The number of a value: the same as that of an equal one, as long as it is kept, else one that none had before.
    pub(crate) fn of(&self, value: &T) -> u64 {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let (last, values) = &mut *kept;
        if let Some((number, _)) = values.iter().find(|(_, of)| of == value) {
            return *number;
        }
        *last += 1;
        values.push_front((*last, value.clone()));
        values.truncate(Self::MOST);
        *last
    }
}

/// The stages of earlier answers.
#[derive(Debug)]
pub struct Memory {
    pub(crate) suns: Shelf<SkyYear>,
    pub(crate) clocks: Shelf<Clock>,
    pub(crate) planes: Shelf<PlaneLight>,
    pub(crate) groups: Shelf<GroupYear>,
    pub(crate) sets: Shelf<SetOffers>,
    pub(crate) inverters: Shelf<InverterOffers>,
    pub(crate) timetables: Shelf<Timetable>,
    pub(crate) years: Shelf<YearResult>,
    pub(crate) loads: Numbers<Loads>,
}

/// When an arrangement does what.
#[derive(Debug, Clone)]
pub struct Timetable {
    /// Its routes.
    pub routes: Vec<Route>,
    /// When each of them holds.
    pub timeline: Timeline,
}

impl Memory {
    /// Keeps some results of each stage, the latest: as many as a plant with several of everything needs for a handful of
    /// variants side by side. A set's year takes about 5 MB at steps of ten minutes, 50 MB at one.
    #[must_use]
    pub fn new() -> Self {
        Self::keeping(32)
    }

    /// Keeps nothing: for one answer.
    #[must_use]
    pub fn none() -> Self {
        Self::keeping(0)
    }

    fn keeping(most: usize) -> Self {
        Self {
            suns: Shelf::new(most.min(4)),
            clocks: Shelf::new(most.min(4)),
            planes: Shelf::new(most),
            groups: Shelf::new(most),
            sets: Shelf::new(most),
            inverters: Shelf::new(most),
            timetables: Shelf::new(most),
            // A plant may have two dozen rows; a year takes some 20 kB.
            years: Shelf::new(4 * most),
            loads: Numbers::new(),
        }
    }

    /// Whether nothing is kept.
    pub(crate) fn is_none(&self) -> bool {
        self.years.most == 0
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
    fn what_is_kept_is_not_computed_again_and_the_oldest_goes_first() {
        let shelf = Shelf::new(2);
        let ask = |of: i32| *shelf.recall(Key::of(&of), || of * 10);
        assert_eq!((ask(1), ask(2), ask(1)), (10, 20, 10));
        ask(3);
        let kept = |of: i32| *shelf.recall(Key::of(&of), || -1);
        assert_eq!((kept(1), kept(3), kept(2)), (10, 30, -1));
    }

    #[test]
    fn equal_values_have_one_number_and_others_another() {
        let numbers = Numbers::new();
        let of = [vec![1.0], vec![2.0], vec![1.0]].map(|value: Vec<f64>| numbers.of(&value));
        assert!(of[0] == of[2] && of[0] != of[1]);
        // One that was forgotten is as new: its number was not given to another.
        let many: Vec<u64> = (10..30).map(|i| numbers.of(&vec![f64::from(i)])).collect();
        let again = numbers.of(&vec![1.0]);
        assert!(!many.contains(&again) && !of.contains(&again));
    }

    #[test]
    fn a_memory_of_nothing_keeps_nothing() {
        let shelf = Shelf::new(0);
        assert_eq!(*shelf.recall(Key::of(&1), || 10), 10);
        assert_eq!(*shelf.recall(Key::of(&1), || 11), 11);
    }

    #[test]
    fn numbers_that_differ_in_the_last_place_have_different_keys() {
        assert!(Key::of(&0.1_f64) != Key::of(&0.1_f64.next_up()));
        assert!(Key::of(&(1, 23)) != Key::of(&(12, 3)));
    }
}
