//! Random outages: a grid that alternates between on and down.
//!
//! A two-state process (Billinton & Allan, *Reliability Evaluation of Engineering Systems*). While on, the grid fails
//! at the rate λ(t); while down, it returns at the rate μ = 1/D, with D the mean length of an outage. The lengths are
//! therefore exponential. With a constant λ, the grid is down for the share U = λ/(λ + μ) of the time, and there are
//! f = λ·μ/(λ + μ) outages per unit of time.
//!
//! With weights, λ(t) = λ0·w(t), where w is the product of the civil hour's and the month's weight, divided by its mean
//! over the year. The probability u of being down follows du/dt = λ(t)·(1 − u) − μ·u, solved exactly hour by hour. λ0
//! is the rate for which the mean of u equals the wanted share, over a year with the same u at its start and end. The
//! *expected* share is therefore the wanted one; a single year differs from it by chance.
//!
//! Failures are drawn by thinning a Poisson process with the maximum rate (Lewis & Shedler 1979).

use daylift_units::fields::random::{HOUR_WEIGHT, MEAN_UP, MONTH_WEIGHT, SHARE};
use daylift_units::{Axis, Fault, Hourly, Monthly, root};

use crate::Interval;
use crate::draws::Draws;

/// Maximum failure rate \[1/s\]: a mean time of one minute with the grid on.
const GREATEST_RATE_PER_S: f64 = 1.0 / 60.0;

/// How often the grid fails.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OutageFrequency {
    /// Mean time from its return to its next failure \[s\].
    MeanUp(f64),
    /// Share of the time that the grid is down, a fraction.
    Share(f64),
}

/// Random outages as read from the plant file, unchecked.
#[derive(Debug, Clone, PartialEq)]
pub struct RandomSheet {
    /// Seed.
    pub seed: u32,
    /// Mean length of an outage \[s\].
    pub mean_outage_s: f64,
    /// How often the grid fails.
    pub frequency: OutageFrequency,
    /// Weight of each civil hour in the rate of failure.
    pub hour_weight: Hourly<f64>,
    /// Weight of each month in the rate of failure.
    pub month_weight: Monthly<f64>,
}

/// Random outages with the wanted expected share.
#[derive(Debug, Clone, PartialEq)]
pub struct RandomOutages {
    seed: u32,
    process: Process,
    /// Failure rate at weight 1 \[1/s\].
    failure_per_s: f64,
    expected: Expected,
}

/// Weights of a year and the repair rate.
#[derive(Debug, Clone, PartialEq)]
struct Process {
    repair_per_s: f64,
    year_s: f64,
    /// Start of each civil hour and its weight; the mean weight over the year is 1.
    weights: Vec<(f64, f64)>,
    greatest_weight: f64,
}

/// Long-run consequences of a failure rate.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Expected {
    /// Probability of being down at the start of the year.
    down_at_start: f64,
    /// Mean of that probability over the year.
    share: f64,
}

impl RandomOutages {
    /// Finds the failure rate that gives the wanted share.
    ///
    /// # Errors
    /// Faults for weights that are negative or all 0, and for a share that cannot be reached.
    pub fn new(sheet: &RandomSheet, axis: &Axis) -> Result<Self, Vec<Fault>> {
        let process = Process::new(sheet, axis)?;
        let (share, key, quantity) = match sheet.frequency {
            OutageFrequency::Share(share) => (share, SHARE.key, SHARE.quantity),
            OutageFrequency::MeanUp(up_s) => (
                sheet.mean_outage_s / (sheet.mean_outage_s + up_s),
                MEAN_UP.key,
                MEAN_UP.quantity,
            ),
        };
        let greatest = process.greatest_rate_per_s();
        // λ0 = μ·x/(1 − x): without weights, x is the share itself.
        let rate = |x: f64| process.repair_per_s * x / (1.0 - x);
        let highest = greatest / (greatest + process.repair_per_s);
        let missed = |x: f64| process.expected(rate(x)).share - share;
        let found = root::bracketed(0.0, highest, missed).ok_or_else(|| {
            let most = process.expected(greatest).share;
            vec![Fault::new(
                key,
                quantity,
                format!("the grid down for {:.2}% of the time", share * 100.0),
                format!(
                    "at most {:.2}% with these weights and this mean length of an outage, and a grid that stays on for at \
                     least a minute",
                    most * 100.0
                ),
                "raise `mean_outage_h`, give weight to more hours or months, or lower the share",
            )]
        })?;
        let failure_per_s = rate(found);
        Ok(Self {
            seed: sheet.seed,
            expected: process.expected(failure_per_s),
            process,
            failure_per_s,
        })
    }

    /// Expected share of the time that the grid is down, a fraction.
    #[must_use]
    pub fn expected_share(&self) -> f64 {
        self.expected.share
    }

    /// Expected failure rate while the grid is on, averaged over the year's hours \[1/s\].
    #[must_use]
    pub fn failure_per_s(&self) -> f64 {
        self.failure_per_s
    }

    /// The outages of the year, in whole seconds. The same seed gives the same outages on every machine.
    #[must_use]
    pub fn intervals(&self) -> Vec<Interval> {
        let mut draws = Draws::new(self.seed);
        let mut out = Vec::new();
        let year_s = self.process.year_s;
        let mut down = draws.unit() < self.expected.down_at_start;
        let mut at_s = 0.0;
        while at_s < year_s {
            let until_s = if down {
                at_s + draws.exponential(1.0 / self.process.repair_per_s)
            } else {
                self.next_failure_s(at_s, &mut draws)
            };
            let (start_s, end_s) = (at_s.round(), until_s.min(year_s).round());
            if down && end_s > start_s {
                out.push(Interval { start_s, end_s });
            }
            at_s = until_s;
            down = !down;
        }
        out
    }

    fn next_failure_s(&self, from_s: f64, draws: &mut Draws) -> f64 {
        let greatest = self.process.greatest_weight;
        let mean_s = 1.0 / (self.failure_per_s * greatest);
        let mut at_s = from_s;
        loop {
            at_s += draws.exponential(mean_s);
            if at_s >= self.process.year_s || draws.unit() * greatest < self.process.weight_at(at_s) {
                return at_s;
            }
        }
    }
}

impl Process {
    fn new(sheet: &RandomSheet, axis: &Axis) -> Result<Self, Vec<Fault>> {
        let mut faults = Vec::new();
        for (field, weights) in [
            (HOUR_WEIGHT, sheet.hour_weight.as_slice()),
            (MONTH_WEIGHT, sheet.month_weight.as_slice()),
        ] {
            let sum: f64 = weights.iter().sum();
            if !(sum > 0.0 && sum.is_finite() && weights.iter().all(|w| *w >= 0.0)) {
                faults.push(Fault::new(
                    field.key,
                    field.quantity,
                    "no weight above 0",
                    "at least one weight above 0, none negative",
                    "give the weights in any unit; only their proportions count",
                ));
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut weights: Vec<(f64, f64)> = axis
            .civil_hours()
            .iter()
            .map(|h| (h.start_s, sheet.month_weight[h.month] * sheet.hour_weight[h.hour]))
            .collect();
        let year_s = axis.length_s();
        let mean = lengths(&weights, year_s).map(|(length_s, w)| length_s * w).sum::<f64>() / year_s;
        for (_, w) in &mut weights {
            *w /= mean;
        }
        let greatest_weight = weights.iter().fold(0.0_f64, |most, (_, w)| most.max(*w));
        Ok(Self {
            repair_per_s: 1.0 / sheet.mean_outage_s,
            year_s,
            weights,
            greatest_weight,
        })
    }

    fn greatest_rate_per_s(&self) -> f64 {
        GREATEST_RATE_PER_S / self.greatest_weight
    }

    fn weight_at(&self, at_s: f64) -> f64 {
        let after = self.weights.partition_point(|(start_s, _)| *start_s <= at_s);
        self.weights.get(after.saturating_sub(1)).map_or(0.0, |(_, w)| *w)
    }

    /// Solves du/dt = λ·(1 − u) − μ·u, with λ constant within each civil hour, for a year with the same u at its start
    /// and end.
    fn expected(&self, failure_per_s: f64) -> Expected {
        let (end_of_up, kept, _) = self.pass(failure_per_s, 0.0);
        let down_at_start = end_of_up / (1.0 - kept);
        let (_, _, down_s) = self.pass(failure_per_s, down_at_start);
        Expected {
            down_at_start,
            share: down_s / self.year_s,
        }
    }

    /// From a probability at the start of the year: the probability at its end, how much of the start remains in it,
    /// and the expected time down \[s\].
    fn pass(&self, failure_per_s: f64, begin: f64) -> (f64, f64, f64) {
        let (mut u, mut kept, mut down_s) = (begin, 1.0, 0.0);
        for (length_s, weight) in lengths(&self.weights, self.year_s) {
            let failure = failure_per_s * weight;
            let sum = failure + self.repair_per_s;
            let settled = failure / sum;
            let left = libm::exp(-sum * length_s);
            down_s += settled * length_s + (u - settled) * (1.0 - left) / sum;
            u = settled + (u - settled) * left;
            kept *= left;
        }
        (u, kept, down_s)
    }
}

/// Length of each hour \[s\], with its value.
fn lengths(starts: &[(f64, f64)], year_s: f64) -> impl Iterator<Item = (f64, f64)> {
    let ends = starts.iter().skip(1).map(|(start_s, _)| *start_s).chain(std::iter::once(year_s));
    starts.iter().zip(ends).map(|((start_s, value), end_s)| (end_s - start_s, *value))
}

#[cfg(test)]
mod tests;
