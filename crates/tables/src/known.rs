//! A cache of weather from earlier readings, so that a plant is read quickly when only other values have changed.

use std::collections::VecDeque;
use std::fmt::Debug;
use std::sync::{Arc, Mutex, PoisonError};

use daylift_sky::Weather;
use daylift_units::Warning;

use crate::weather::WeatherTable;

/// Number of entries kept of each kind.
const MOST: usize = 4;

/// Cached weather, each entry under the fingerprint of everything that it was made from.
#[derive(Default)]
pub struct Known {
    /// Weather files as tables, with gaps in air temperature and wind filled.
    pub tables: Kept<Arc<WeatherTable>>,
    /// Weather at a site.
    pub weathers: Kept<Weather>,
}

impl Debug for Known {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Known").finish_non_exhaustive()
    }
}

/// A cached value with the warnings from making it.
pub type Finding<T> = (T, Vec<Warning>);

/// Cached values of one kind, the latest first.
pub struct Kept<T> {
    findings: Mutex<VecDeque<(u64, Finding<T>)>>,
}

impl<T> Default for Kept<T> {
    fn default() -> Self {
        Self {
            findings: Mutex::default(),
        }
    }
}

impl<T: Clone> Kept<T> {
    /// The value under a key.
    #[must_use]
    pub fn look_up(&self, key: u64) -> Option<Finding<T>> {
        let findings = self.findings.lock().unwrap_or_else(PoisonError::into_inner);
        findings.iter().find(|(of, _)| *of == key).map(|(_, finding)| finding.clone())
    }

    /// Stores a value; when there are too many, the oldest is dropped.
    pub fn keep(&self, key: u64, finding: Finding<T>) {
        let mut findings = self.findings.lock().unwrap_or_else(PoisonError::into_inner);
        findings.push_front((key, finding));
        findings.truncate(MOST);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_latest_entries_are_kept() {
        let kept = Kept::default();
        for of in 0..=MOST as u64 {
            kept.keep(of, (of * 10, Vec::new()));
        }
        assert!(kept.look_up(0).is_none());
        assert_eq!(
            kept.look_up(MOST as u64).map(|(value, _)| value),
            Some(MOST as u64 * 10)
        );
    }
}
