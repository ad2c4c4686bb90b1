//! How meter readings cover the year.

/// Statistics of mapping meter readings onto the year.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct YearCoverage {
    /// Number of intervals in the year.
    pub intervals: usize,
    /// Intervals filled from the weeks before and after.
    pub from_weeks: usize,
    /// Intervals filled with the month's mean of that hour or, where there is none, the year's.
    pub from_means: usize,
    /// Start and length of the longest gap \[s\].
    pub longest_gap_s: (f64, f64),
    /// Readings left out because the clock skips their civil time.
    pub skipped: usize,
    /// Intervals of a repeated hour with only one reading, which is used twice.
    pub repeated_once: usize,
    /// Intervals with readings from years other than the simulation year.
    pub from_other_years: usize,
    /// Those years.
    pub other_years: Vec<i16>,
}

impl YearCoverage {
    /// Number of filled intervals.
    #[must_use]
    pub fn filled(&self) -> usize {
        self.from_weeks + self.from_means
    }
}
