//! Random outages against the closed form of a two-state process.

use daylift_grid::{Interval, OutageFrequency, Outages, RandomOutages, RandomSheet};
use daylift_units::constants::{DAY_S, HOUR_S};
use daylift_units::{Axis, Hourly, Monthly, Step};
use daylift_validation::{Allowed, Report, Row};

use crate::data::Outcome;

const SOURCE: &str = "two-state Markov availability, Billinton & Allan (from memory)";
/// Years drawn, each with its own seed.
const YEARS: u32 = 200;
/// λ = 0.125/h, μ = 0.5/h.
const MEAN_UP_H: f64 = 8.0;
const MEAN_OUTAGE_H: f64 = 2.0;

/// Availability, frequency, and availability an hour after a known state, over many years. The tolerance is about
/// three standard errors of the mean over the independent years.
pub(crate) fn check(report: &mut Report) -> Outcome {
    let axis = Axis::new(2025, 365, 0, "UTC", Step::Hour).map_err(|faults| format!("{faults:?}"))?;
    let mut sum = Sums::default();
    for seed in 0..YEARS {
        let sheet = RandomSheet {
            seed,
            mean_outage_s: MEAN_OUTAGE_H * HOUR_S,
            frequency: OutageFrequency::MeanUp(MEAN_UP_H * HOUR_S),
            hour_weight: Hourly::from_array([1.0; 24]),
            month_weight: Monthly::from_array([1.0; 12]),
        };
        let random = RandomOutages::new(&sheet, &axis).map_err(|faults| format!("{faults:?}"))?;
        sum.add(Outages::new(random.intervals(), axis.length_s()).0.intervals());
    }
    let days = f64::from(YEARS) * axis.length_s() / DAY_S;
    let rows = [
        (
            "share of time with the grid up",
            1.0 - sum.down_s / (days * DAY_S),
            0.8,
            0.0016,
        ),
        ("outages a day", sum.outages / days, 2.40, 0.015),
        ("on an hour after it was on", sum.up_then_up / sum.up, 0.9071, 0.0008),
        (
            "on an hour after it was down",
            sum.down_then_up / sum.down,
            0.3718,
            0.0025,
        ),
    ];
    for (what, ours, theirs, allowed) in rows {
        let what = format!("random outages, {YEARS} years: {what}");
        report.push(Row::new(&what, SOURCE, ours, theirs, Allowed::absolute(allowed, "")));
    }
    Ok(())
}

#[derive(Default)]
struct Sums {
    down_s: f64,
    outages: f64,
    up: f64,
    up_then_up: f64,
    down: f64,
    down_then_up: f64,
}

impl Sums {
    fn add(&mut self, outages: &[Interval]) {
        for outage in outages {
            self.down_s += outage.length_s();
            self.outages += 1.0;
        }
        let up_at = |hour: u32| {
            let at_s = f64::from(hour) * HOUR_S;
            let after = outages.partition_point(|i| i.start_s <= at_s);
            after == 0 || at_s >= outages[after - 1].end_s
        };
        for hour in 0..8759 {
            let later = f64::from(up_at(hour + 1));
            if up_at(hour) {
                self.up += 1.0;
                self.up_then_up += later;
            } else {
                self.down += 1.0;
                self.down_then_up += later;
            }
        }
    }
}
