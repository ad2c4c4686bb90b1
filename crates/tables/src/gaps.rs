//! Missing values of a weather file: how many, how long in a row, and how they are filled.

use std::fmt;

use daylift_units::field::{number, thousands};
use std::ops::Range;

/// Longest gap that is filled by interpolation between its ends \[s\] (usual practice).
const SHORT_S: u32 = 3 * 3600;
/// Longest gap that is filled at all \[days\] (usual practice).
const LONGEST_DAYS: f64 = 14.0;
/// Largest share of the year that is filled (usual practice).
const GREATEST_SHARE: f64 = 0.10;

/// How gaps are filled, in words.
pub(crate) const HOW: &str = "gaps up to 3 h from the values before and after, sunlight by clearness; longer gaps from the same time on the nearest day";

/// Missing values of a column.
pub(crate) struct Missing {
    count: usize,
    of: usize,
    longest: usize,
    interval_s: u32,
}

impl Missing {
    /// Counts the missing values (NaN); `None` when nothing is missing.
    pub(crate) fn of(values: &[f64], interval_s: u32) -> Option<Self> {
        let gaps = gaps(values);
        let longest = gaps.iter().map(Range::len).max()?;
        Some(Self {
            count: gaps.iter().map(Range::len).sum(),
            of: values.len(),
            longest,
            interval_s,
        })
    }

    #[expect(clippy::cast_precision_loss, reason = "intervals of one year are exact in f64")]
    fn share(&self) -> f64 {
        self.count as f64 / self.of as f64
    }

    #[expect(clippy::cast_precision_loss, reason = "intervals of one year are exact in f64")]
    fn longest_h(&self) -> f64 {
        self.longest as f64 * f64::from(self.interval_s) / 3600.0
    }

    /// What would be allowed, if too much is missing to be filled; else `None`.
    pub(crate) fn refused(&self) -> Option<String> {
        (self.share() > GREATEST_SHARE || self.longest_h() > LONGEST_DAYS * 24.0).then(|| {
            format!(
                "at most {:.0}% of the year missing, and no gap longer than {LONGEST_DAYS} days",
                GREATEST_SHARE * 100.0
            )
        })
    }
}

impl fmt::Display for Missing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hours = self.longest_h();
        let longest = if hours < 1.0 {
            format!("{:.0} min", hours * 60.0)
        } else {
            format!("{} h", number((hours * 10.0).round() / 10.0))
        };
        write!(
            f,
            "{} of {} values missing ({:.2}%, longest gap {longest})",
            thousands(&self.count.to_string()),
            thousands(&self.of.to_string()),
            self.share() * 100.0
        )
    }
}

/// Runs of missing values.
fn gaps(values: &[f64]) -> Vec<Range<usize>> {
    let mut out: Vec<Range<usize>> = Vec::new();
    for (i, _) in values.iter().enumerate().filter(|(_, v)| v.is_nan()) {
        match out.last_mut() {
            Some(gap) if gap.end == i => gap.end = i + 1,
            _ => out.push(i..i + 1),
        }
    }
    out
}

/// Whether any value is missing (NaN).
#[must_use]
pub fn any(values: &[f64]) -> bool {
    values.iter().any(|v| v.is_nan())
}

/// Fills every gap.
///
/// A gap of up to 3 h is interpolated linearly between its ends. If `potential` is given, the ratio of value to
/// potential (at most 1) is interpolated instead; an end without potential takes the other end's ratio, and values
/// without potential become 0. A longer gap repeats the same time of the nearest day with a value, the earlier of two.
pub fn fill(values: &mut [f64], interval_s: u32, potential: Option<&[f64]>) {
    let short = (SHORT_S / interval_s.max(1)) as usize;
    for gap in gaps(values).into_iter().filter(|gap| gap.len() <= short.max(1)) {
        fill_between(values, gap, potential);
    }
    let known = values.to_vec();
    let per_day = (86_400 / interval_s.max(1)) as usize;
    for i in gaps(&known).into_iter().flatten() {
        values[i] = nearest_day(&known, i, per_day).unwrap_or(0.0);
    }
}

fn fill_between(values: &mut [f64], gap: Range<usize>, potential: Option<&[f64]>) {
    let level = |i: usize| -> Option<f64> {
        let value = *values.get(i)?;
        match potential.map(|p| p[i]) {
            None => Some(value),
            Some(p) if p > 0.0 => Some((value / p).min(1.0)),
            Some(_) => None,
        }
    };
    let before = gap.start.checked_sub(1).and_then(level);
    let after = level(gap.end);
    let (from, to) = match (before, after) {
        (Some(a), Some(b)) => (a, b),
        (Some(one), None) | (None, Some(one)) => (one, one),
        (None, None) => (0.0, 0.0),
    };
    #[expect(clippy::cast_precision_loss, reason = "a gap of hours")]
    let steps = (gap.len() + 1) as f64;
    let mut done = 0.0;
    for i in gap {
        done += 1.0;
        values[i] = (from + (to - from) * done / steps) * potential.map_or(1.0, |p| p[i].max(0.0));
    }
}

fn nearest_day(known: &[f64], i: usize, per_day: usize) -> Option<f64> {
    let has = |i: Option<usize>| known.get(i?).copied().filter(|v| !v.is_nan());
    (1..=known.len() / per_day.max(1)).find_map(|day| {
        let away = day * per_day;
        has(i.checked_sub(away)).or_else(|| has(i.checked_add(away)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const NONE: f64 = f64::NAN;

    fn close(a: &[f64], b: &[f64]) {
        assert_eq!(a.len(), b.len());
        assert!(a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-12), "{a:?} {b:?}");
    }

    #[test]
    fn a_short_gap_is_interpolated_between_its_ends() {
        let mut values = [NONE, 10.0, NONE, NONE, NONE, 18.0, NONE];
        fill(&mut values, 3600, None);
        close(&values, &[10.0, 10.0, 12.0, 14.0, 16.0, 18.0, 18.0]);
    }

    #[test]
    fn sunlight_is_interpolated_by_clearness() {
        // Clearness 0.4 before and 0.6 after; potentials 400 and 200 in between: 0.4667·400, 0.5333·200.
        let mut values = [100.0, NONE, NONE, 60.0];
        fill(&mut values, 3600, Some(&[250.0, 400.0, 200.0, 100.0]));
        close(&values, &[100.0, 400.0 * 1.4 / 3.0, 200.0 * 1.6 / 3.0, 60.0]);
        // A dark end takes the other end's clearness; without sun the value is 0.
        let mut values = [0.0, NONE, NONE, 60.0];
        fill(&mut values, 3600, Some(&[0.0, 0.0, 50.0, 100.0]));
        close(&values, &[0.0, 0.0, 30.0, 60.0]);
    }

    #[test]
    fn a_long_gap_repeats_the_nearest_day() {
        // Three days of hours; the second has a gap of 4 h, longer than 3 h.
        let mut values: Vec<f64> = (0..72).map(f64::from).collect();
        values[30..34].fill(NONE);
        fill(&mut values, 3600, None);
        close(&values[29..35], &[29.0, 6.0, 7.0, 8.0, 9.0, 34.0]);
        // At the start of the year only the following day is available.
        values[..10].fill(NONE);
        fill(&mut values, 3600, None);
        close(&values[..2], &[24.0, 25.0]);
    }

    #[test]
    fn too_many_missing_values_are_refused() {
        let mut values = vec![1.0; 8760];
        assert!(Missing::of(&values, 3600).is_none());
        values[100..100 + 14 * 24].fill(NONE);
        let missing = Missing::of(&values, 3600).unwrap();
        assert!(missing.refused().is_none());
        assert_eq!(
            missing.to_string(),
            "336 of 8,760 values missing (3.84%, longest gap 336 h)"
        );
        values[100 + 14 * 24] = NONE;
        assert!(Missing::of(&values, 3600).unwrap().refused().is_some());
        // Every ninth value: 11.1%.
        let values: Vec<f64> = (0..8760).map(|i| if i % 9 == 0 { NONE } else { 1.0 }).collect();
        assert!(Missing::of(&values, 3600).unwrap().refused().is_some());
    }
}
