//! What became of the readings.

/// What was done to lay the readings onto the year.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Laid {
    /// Intervals of the year.
    pub intervals: usize,
    /// Of them filled from the weeks before and after.
    pub from_weeks: usize,
    /// Of them filled with the month's or, where it has none, the year's mean of that hour.
    pub from_means: usize,
    /// Begin and length of the longest gap \[s\].
    pub longest_gap_s: (f64, f64),
    /// Readings at civil times that the clock skips, left out.
    pub skipped: usize,
    /// Intervals of a repeated hour for which there is one reading, used twice.
    pub repeated_once: usize,
    /// Intervals with readings of other years than the simulation year.
    pub from_other_years: usize,
    /// Those years.
    pub other_years: Vec<i16>,
}

impl Laid {
    /// Intervals filled.
    #[must_use]
    pub fn filled(&self) -> usize {
        self.from_weeks + self.from_means
    }
}
