//! When the utility is away: a list of intervals, in order and apart from each other.

/// From `start_s` up to, not including, `end_s`, seconds after the start of the year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Begin \[s\].
    pub start_s: f64,
    /// End \[s\].
    pub end_s: f64,
}

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

/// The year's outages, in order, none touching another.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Outages {
    intervals: Vec<Interval>,
}

impl Outages {
    /// Orders, clips to the year and merges. Intervals that do not end after they begin are left out by the reader.
    #[must_use]
    pub fn new(mut intervals: Vec<Interval>, year_s: f64) -> (Self, Tidied) {
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
        (Self { intervals: out }, tidied)
    }

    /// The grid away for the whole year.
    #[must_use]
    pub fn always(year_s: f64) -> Self {
        Self {
            intervals: vec![Interval {
                start_s: 0.0,
                end_s: year_s,
            }],
        }
    }

    /// The intervals in order.
    #[must_use]
    pub fn intervals(&self) -> &[Interval] {
        &self.intervals
    }

    /// Time away \[s\].
    #[must_use]
    pub fn total_s(&self) -> f64 {
        self.intervals.iter().map(Interval::length_s).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn i(start_s: f64, end_s: f64) -> Interval {
        Interval { start_s, end_s }
    }

    #[test]
    fn overlapping_and_touching_outages_are_merged_and_counted() {
        let (outages, tidied) = Outages::new(vec![i(50.0, 70.0), i(10.0, 20.0), i(15.0, 30.0), i(30.0, 40.0)], 1000.0);
        assert_eq!(outages.intervals(), [i(10.0, 40.0), i(50.0, 70.0)]);
        assert_eq!(tidied.merged, 2);
        assert!((outages.total_s() - 50.0).abs() < 1e-12);
    }

    #[test]
    fn outages_are_cut_to_the_year() {
        let (outages, tidied) = Outages::new(vec![i(-10.0, 5.0), i(990.0, 1200.0), i(2000.0, 2100.0)], 1000.0);
        assert_eq!(outages.intervals(), [i(0.0, 5.0), i(990.0, 1000.0)]);
        assert_eq!((tidied.clipped, tidied.outside), (2, 1));
    }
}
