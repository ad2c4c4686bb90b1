//! The utility's outages: a list of intervals, sorted and separate.

use daylift_units::{Fingerprinted, fingerprint};

#[cfg(test)]
mod tests;
/// From `start_s` to `end_s`, end excluded, in seconds after the start of the year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Start \[s\].
    pub start_s: f64,
    /// End \[s\].
    pub end_s: f64,
}

fingerprint!(Interval { start_s, end_s });

impl Interval {
    /// Length \[s\].
    #[must_use]
    pub fn length_s(&self) -> f64 {
        self.end_s - self.start_s
    }
}

/// What was changed to sort and separate a list of intervals.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Tidied {
    /// Intervals merged with an earlier one because they overlapped or touched it.
    pub merged: usize,
    /// Intervals dropped because they are completely outside the year.
    pub outside: usize,
    /// Intervals shortened because they are partly outside the year.
    pub clipped: usize,
}

/// One source of outages, and what it contributes by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct OutageSource {
    /// Description of the source.
    pub name: String,
    /// Number of its outages.
    pub count: usize,
    /// Total outage time of this source alone \[s\].
    pub total_s: f64,
}

/// The year's outages, sorted; no two touch each other.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Outages {
    intervals: Fingerprinted<Vec<Interval>>,
    sources: Vec<OutageSource>,
}

fingerprint!(Outages { intervals } derived { sources });

impl Outages {
    /// Sorts the intervals, clips them to the year and merges them. Intervals that do not end after their start are
    /// dropped and not counted.
    #[must_use]
    pub fn new(intervals: Vec<Interval>, year_s: f64) -> (Self, Tidied) {
        let (intervals, tidied) = tidy(intervals, year_s);
        let outages = Self {
            intervals: intervals.into(),
            sources: Vec::new(),
        };
        (outages, tidied)
    }

    /// An outage for the whole year.
    #[must_use]
    pub fn always(year_s: f64) -> Self {
        Self {
            intervals: vec![Interval {
                start_s: 0.0,
                end_s: year_s,
            }]
            .into(),
            sources: Vec::new(),
        }
    }

    /// Outages while any of the sources has one. The sources are kept with what each contributes alone.
    #[must_use]
    pub fn union(parts: &[(String, Outages)], year_s: f64) -> Self {
        let all = parts.iter().flat_map(|(_, part)| part.intervals.iter().copied()).collect();
        let (mut outages, _) = Self::new(all, year_s);
        outages.sources = parts
            .iter()
            .map(|(name, part)| OutageSource {
                name: name.clone(),
                count: part.intervals.len(),
                total_s: part.total_s(),
            })
            .collect();
        outages
    }

    /// The same outages, except that from `from_s` to `to_s` the grid is down, or on, throughout.
    #[must_use]
    pub fn switched(&self, from_s: f64, to_s: f64, down: bool) -> Self {
        let before = self.intervals.iter().map(|i| Interval {
            start_s: i.start_s,
            end_s: i.end_s.min(from_s),
        });
        let after = self.intervals.iter().map(|i| Interval {
            start_s: i.start_s.max(to_s),
            end_s: i.end_s,
        });
        let between = down.then_some(Interval {
            start_s: from_s,
            end_s: to_s,
        });
        Self {
            intervals: Self::new(before.chain(between).chain(after).collect(), f64::INFINITY).0.intervals,
            sources: self.sources.clone(),
        }
    }

    /// The combined sources; empty if they are not known.
    #[must_use]
    pub fn sources(&self) -> &[OutageSource] {
        &self.sources
    }

    /// The intervals, sorted.
    #[must_use]
    pub fn intervals(&self) -> &[Interval] {
        &self.intervals
    }

    /// Total outage time \[s\].
    #[must_use]
    pub fn total_s(&self) -> f64 {
        // The sum of an empty list is −0.0.
        self.intervals.iter().map(Interval::length_s).sum::<f64>() + 0.0
    }
}

/// Sorts, clips and merges intervals.
fn tidy(mut intervals: Vec<Interval>, year_s: f64) -> (Vec<Interval>, Tidied) {
    let mut tidied = Tidied::default();
    intervals.retain(|i| i.end_s > i.start_s);
    intervals.sort_by(|a, b| a.start_s.total_cmp(&b.start_s).then(a.end_s.total_cmp(&b.end_s)));
    let mut out: Vec<Interval> = Vec::with_capacity(intervals.len());
    for i in intervals {
        let clipped = Interval {
            start_s: i.start_s.max(0.0),
            end_s: i.end_s.min(year_s),
        };
        if clipped.end_s <= clipped.start_s {
            tidied.outside += 1;
            continue;
        }
        if clipped != i {
            tidied.clipped += 1;
        }
        match out.last_mut() {
            Some(last) if clipped.start_s <= last.end_s => {
                last.end_s = last.end_s.max(clipped.end_s);
                tidied.merged += 1;
            }
            _ => out.push(clipped),
        }
    }
    (out, tidied)
}
