//! Clouds within the hour against a month of one-minute measurements.

use daylift_sky::clouds::PassingClouds;
use daylift_validation::{Allowed, Report, Row};

use crate::data::{Outcome, Table};

const BSRN: &str = "BSRN Payerne, June 2016, by clouds.py";
/// How often every hour is drawn.
const SEEDS: u32 = 20;
const MINUTES: usize = 60;
/// Classes of hours, by share of the clear beam.
const CLASSES: [(f64, f64); 5] = [(0.02, 0.1), (0.1, 0.3), (0.3, 0.7), (0.7, 0.9), (0.9, 1.3)];

/// The spread of the minutes by how sunny the hour is, and their correlation over time.
pub(crate) fn check(report: &mut Report) -> Outcome {
    let table = Table::read("clouds.csv")?;
    let shares = table.numbers("share_of_clear")?;
    let measured: Vec<Hour> = shares
        .iter()
        .zip(table.numbers("spread")?)
        .zip(table.numbers("covariance_1")?)
        .zip(table.numbers("covariance_5")?)
        .map(|(((share, spread), one), five)| Hour {
            share: *share,
            variance: spread * spread,
            covariance: [one, five],
        })
        .collect();
    let drawn: Vec<Hour> = (1..=SEEDS)
        .flat_map(|seed| {
            let mut passing = PassingClouds::new(seed);
            shares.iter().map(move |share| Hour::drawn(*share, &mut passing)).collect::<Vec<_>>()
        })
        .collect();
    for (low, high) in CLASSES {
        let mean = |hours: &[Hour]| {
            let of: Vec<f64> = hours
                .iter()
                .filter(|h| (low..high).contains(&h.share))
                .map(|h| h.variance.sqrt())
                .collect();
            of.iter().sum::<f64>() / f64::from(u32::try_from(of.len()).unwrap_or(1))
        };
        let what = format!("spread of the beam's minutes, hours of {low} to {high} of the clear beam");
        report.push(Row::new(
            &what,
            BSRN,
            mean(&drawn),
            mean(&measured),
            Allowed::absolute(0.06, ""),
        ));
    }
    for (lag, minutes) in [1, 5].into_iter().enumerate() {
        let memory = |hours: &[Hour]| {
            let broken = || hours.iter().filter(|h| (0.1..0.9).contains(&h.share));
            broken().map(|h| h.covariance[lag]).sum::<f64>() / broken().map(|h| h.variance).sum::<f64>()
        };
        let what = format!("correlation of the beam of a minute with that {minutes} min later, partly cloudy hours");
        report.push(Row::new(
            &what,
            BSRN,
            memory(&drawn),
            memory(&measured),
            Allowed::absolute(0.1, ""),
        ));
    }
    Ok(())
}

struct Hour {
    share: f64,
    variance: f64,
    /// At a lag of one and of five minutes.
    covariance: [f64; 2],
}

impl Hour {
    fn drawn(share: f64, passing: &mut PassingClouds) -> Self {
        let beam = passing.beam_w_m2(&[share; MINUTES], &[1.0; MINUTES]);
        let off: Vec<f64> = beam.iter().map(|b| b - share).collect();
        let pooled = |lag: usize| {
            let pairs = off.iter().zip(&off[lag..]);
            pairs.map(|(a, b)| a * b).sum::<f64>() / f64::from(u32::try_from(MINUTES - lag).unwrap_or(1))
        };
        Self {
            share,
            variance: pooled(0),
            covariance: [pooled(1), pooled(5)],
        }
    }
}
