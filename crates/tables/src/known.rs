//! What earlier readings found in the weather, so that a plant of which only another value has changed is read at once.

use std::collections::VecDeque;
use std::fmt::Debug;
use std::sync::{Arc, Mutex, PoisonError};

use daylift_sky::Weather;
use daylift_units::Warning;

use crate::weather::WeatherTable;

/// Findings of each kind that are kept.
const MOST: usize = 4;

/// Findings of earlier readings, each under the fingerprint of all that it was found from.
#[derive(Default)]
pub struct Known {
    /// Weather files as tables, air and wind without gaps.
    pub tables: Kept<Arc<WeatherTable>>,
    /// Weather at a site.
    pub weathers: Kept<Weather>,
}

impl Debug for Known {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Known").finish_non_exhaustive()
    }
}

/// A finding and what was noticed on the way to it.
pub type Finding<T> = (T, Vec<Warning>);

/// Findings of one kind, the latest in front.
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
    /// What was found under a key.
    #[must_use]
    pub fn look_up(&self, key: u64) -> Option<Finding<T>> {
        let findings = self.findings.lock().unwrap_or_else(PoisonError::into_inner);
        findings.iter().find(|(of, _)| *of == key).map(|(_, finding)| finding.clone())
    }

    /// Keeps a finding; the oldest goes when there are too many.
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
    fn the_latest_findings_are_kept() {
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
