//! A metered load: mean power in equal intervals from the start of the year.

use daylift_units::{Fingerprinted, fingerprint};

/// Mean power \[W\] in intervals of equal length that cover the year.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadSeries {
    interval_s: u32,
    power_w: Fingerprinted<Vec<f64>>,
}

fingerprint!(LoadSeries { interval_s, power_w });

impl LoadSeries {
    /// Intervals of a length \[s\] (0 counts as 1 s) with their mean power \[W\]. Negative values and values that are
    /// not finite count as 0; the reader has already refused them.
    #[must_use]
    pub fn new(interval_s: u32, mut power_w: Vec<f64>) -> Self {
        for w in &mut power_w {
            *w = if w.is_finite() { w.max(0.0) } else { 0.0 };
        }
        Self {
            interval_s: interval_s.max(1),
            power_w: power_w.into(),
        }
    }

    /// Length of an interval \[s\].
    #[must_use]
    pub fn interval_s(&self) -> u32 {
        self.interval_s
    }

    /// Mean power of each interval \[W\].
    #[must_use]
    pub fn power_w(&self) -> &[f64] {
        &self.power_w
    }

    /// Energy of the year \[J\].
    #[must_use]
    pub fn energy_j(&self) -> f64 {
        self.power_w.iter().sum::<f64>() * f64::from(self.interval_s)
    }

    /// Power in the interval that contains an instant \[W\]; 0 outside the year.
    #[must_use]
    pub fn power_at_w(&self, at_s: f64) -> f64 {
        if at_s < 0.0 {
            return 0.0;
        }
        self.power_w.get(self.index(at_s)).copied().unwrap_or(0.0)
    }

    /// Mean power over a period \[W\]: the energy of the intervals in it, divided by its length. The sum over all
    /// intervals in it is exact; within one interval the result is exactly that interval's power.
    #[must_use]
    pub fn mean_power_w(&self, start_s: f64, length_s: f64) -> f64 {
        let end_s = start_s + length_s;
        let interval_s = f64::from(self.interval_s);
        let first = self.index(start_s);
        let mut edge_s = (start_s / interval_s).floor() * interval_s + interval_s;
        // An end that rounding puts slightly beyond the interval's edge counts as the edge.
        let hair_s = 1e-6;
        if length_s <= 0.0 || end_s <= edge_s + hair_s {
            return self.power_at_w(start_s);
        }
        let (mut at_s, mut energy_j) = (start_s, 0.0);
        for power_w in self.power_w.get(first..).unwrap_or_default() {
            let until_s = edge_s.min(end_s);
            energy_j += power_w * (until_s - at_s);
            at_s = until_s;
            edge_s += interval_s;
            if at_s >= end_s {
                break;
            }
        }
        energy_j / length_s
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "an instant of the year over at least 1 s; the cast saturates"
    )]
    fn index(&self, at_s: f64) -> usize {
        (at_s / f64::from(self.interval_s)).floor() as usize
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_period_over_several_intervals_has_their_mean() {
        // Worked by hand: 300 s at 10 W, 900 s at 20 W, 600 s at 40 W are 45 kJ in 1800 s.
        let series = LoadSeries::new(900, vec![10.0, 20.0, 40.0]);
        assert!((series.mean_power_w(600.0, 1800.0) - 25.0).abs() < 1e-12);
        assert!((series.mean_power_w(900.0, 60.0) - 20.0).abs() < 1e-12);
        assert!((series.energy_j() - 63_000.0).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn periods_that_cover_the_year_add_up_to_its_energy(
            power_w in proptest::collection::vec(0.0..1e5_f64, 4..60),
            cuts in proptest::collection::vec(0.0..1.0_f64, 0..20),
        ) {
            let series = LoadSeries::new(900, power_w);
            let count = u32::try_from(series.power_w().len()).unwrap();
            let year_s = f64::from(count * 900);
            let mut edges: Vec<f64> = cuts.iter().map(|c| c * year_s).chain([0.0, year_s]).collect();
            edges.sort_by(f64::total_cmp);
            let sum: f64 = edges.windows(2).map(|w| series.mean_power_w(w[0], w[1] - w[0]) * (w[1] - w[0])).sum();
            prop_assert!((sum - series.energy_j()).abs() < 1e-9 * series.energy_j().max(1.0) + 20.0 * 1e-6 * 1e5);
        }
    }
}
