//! When the utility is away: a list of intervals, in order and apart from each other.

use daylift_units::{Fingerprinted, fingerprint};

#[cfg(test)]
mod tests;
/// From `start_s` up to, not including, `end_s`, seconds after the start of the year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Begin \[s\].
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

/// What was done to a list of intervals to make it orderly.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Tidied {
    /// Intervals that overlapped or touched an earlier one and were joined to it.
    pub merged: usize,
    /// Intervals wholly outside the year, left out.
    pub outside: usize,
    /// Intervals of which a part lay outside the year, shortened.
    pub clipped: usize,
}

/// One of the sources that outages come from, and what it gives by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct OutageSource {
    /// What it is, in words.
    pub name: String,
    /// Its outages.
    pub count: usize,
    /// Time away by it alone \[s\].
    pub total_s: f64,
}

/// The year's outages, in order, none touching another.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Outages {
    intervals: Fingerprinted<Vec<Interval>>,
    sources: Vec<OutageSource>,
}

fingerprint!(Outages { intervals } derived { sources });

impl Outages {
    /// Orders, clips to the year and merges. Intervals that do not end after they begin are left out by the reader.
    #[must_use]
    pub fn new(intervals: Vec<Interval>, year_s: f64) -> (Self, Tidied) {
        let (intervals, tidied) = tidy(intervals, year_s);
        let outages = Self {
            intervals: intervals.into(),
            sources: Vec::new(),
        };
        (outages, tidied)
    }

    /// The grid away for the whole year.
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

    /// The grid is away when any of the named sources says so; each is kept in mind with what it gives alone.
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

    /// The same with the grid away, or there, from one instant up to another whatever was before.
    #[must_use]
    pub fn switched(&self, from_s: f64, to_s: f64, away: bool) -> Self {
        let before = self.intervals.iter().map(|i| Interval {
            start_s: i.start_s,
            end_s: i.end_s.min(from_s),
        });
        let after = self.intervals.iter().map(|i| Interval {
            start_s: i.start_s.max(to_s),
            end_s: i.end_s,
        });
        let between = away.then_some(Interval {
            start_s: from_s,
            end_s: to_s,
        });
        Self {
            intervals: Self::new(before.chain(between).chain(after).collect(), f64::INFINITY).0.intervals,
            sources: self.sources.clone(),
        }
    }

    /// The sources that were added up; empty when they are not known.
    #[must_use]
    pub fn sources(&self) -> &[OutageSource] {
        &self.sources
    }

    /// The intervals in order.
    #[must_use]
    pub fn intervals(&self) -> &[Interval] {
        &self.intervals
    }

    /// Time away \[s\].
    #[must_use]
    pub fn total_s(&self) -> f64 {
        // A sum of nothing is −0.0.
        self.intervals.iter().map(Interval::length_s).sum::<f64>() + 0.0
    }
}

/// In order, within the year and apart from each other.
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
