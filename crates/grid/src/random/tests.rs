use std::ops::RangeInclusive;

use daylift_units::{Hour, Month, Step};
use proptest::prelude::*;

use super::*;
use crate::Outages;

/// λ = 0.125/h and μ = 0.5/h: three failures per day with the grid on, two hours each.
const UP_H: f64 = 8.0;
const DOWN_H: f64 = 2.0;
const SEEDS: u32 = 200;

fn axis() -> Axis {
    Axis::new(2025, 365, 0, "UTC", Step::Hour).unwrap()
}

fn sheet(seed: u32, frequency: OutageFrequency) -> RandomSheet {
    RandomSheet {
        seed,
        mean_outage_s: DOWN_H * 3600.0,
        frequency,
        hour_weight: Hourly::from_array([1.0; 24]),
        month_weight: Monthly::from_array([1.0; 12]),
    }
}

fn year(sheet: &RandomSheet, axis: &Axis) -> Vec<Interval> {
    let (outages, tidied) = Outages::new(RandomOutages::new(sheet, axis).unwrap().intervals(), axis.length_s());
    assert_eq!(tidied.outside + tidied.clipped, 0);
    outages.intervals().to_vec()
}

/// Mean over independent years, and its standard error.
fn mean_and_error(values: &[f64]) -> (f64, f64) {
    let n = values.iter().map(|_| 1.0).sum::<f64>();
    let mean = values.iter().sum::<f64>() / n;
    let variance = values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1.0);
    (mean, (variance / n).sqrt())
}

fn agrees(what: &str, values: &[f64], wanted: f64) {
    let (mean, error) = mean_and_error(values);
    println!("{what}: {mean:.5} ± {error:.5}, closed form {wanted:.5}");
    assert!(
        (mean - wanted).abs() < 3.0 * error,
        "{what}: {mean} ± {error}, not {wanted}"
    );
}

/// Whether the grid is on at every whole hour.
fn up_at_hours(intervals: &[Interval]) -> Vec<bool> {
    (0..8760_u32)
        .map(|h| {
            let at_s = f64::from(h) * 3600.0;
            let after = intervals.partition_point(|i| i.start_s <= at_s);
            after == 0 || at_s >= intervals[after - 1].end_s
        })
        .collect()
}

fn count(condition: impl Iterator<Item = bool>) -> f64 {
    condition.map(f64::from).sum()
}

#[test]
fn long_run_means_match_the_closed_form_of_two_states() {
    // Billinton & Allan, Reliability Evaluation of Engineering Systems (formulae from memory), with λ = 0.125/h and μ =
    // 0.5/h. A = μ/(λ + μ) = 0.8; 4.8 h down per day; f = λ·μ/(λ + μ) = 2.40 per day (not 3).
    // A(t | up) = A + U·e^(−(λ+μ)t) and A(t | down) = A·(1 − e^(−(λ+μ)t)): 0.9071 and 0.3718 after an hour.
    // Two hundred years, each with its own seed; tolerance: three standard errors of their mean.
    let axis = axis();
    let mut found: [Vec<f64>; 6] = Default::default();
    for seed in 0..SEEDS {
        let outages = year(&sheet(seed, OutageFrequency::MeanUp(UP_H * 3600.0)), &axis);
        let down_s: f64 = outages.iter().map(Interval::length_s).sum();
        let up = up_at_hours(&outages);
        let pairs = |from: bool| up.windows(2).filter(move |w| w[0] == from);
        let begun = count(outages.iter().map(|_| true));
        found[0].push(1.0 - down_s / axis.length_s());
        found[1].push(down_s / 3600.0 / 365.0);
        found[2].push(begun / 365.0);
        found[3].push(count(pairs(true).map(|w| w[1])) / count(pairs(true).map(|_| true)));
        found[4].push(count(pairs(false).map(|w| w[1])) / count(pairs(false).map(|_| true)));
        found[5].push(down_s / 3600.0 / begun);
    }
    agrees("availability", &found[0], 0.8);
    agrees("hours down a day", &found[1], 4.8);
    agrees("outages a day", &found[2], 2.40);
    agrees("A(1 h | up)", &found[3], 0.907_05);
    agrees("A(1 h | down)", &found[4], 0.371_79);
    agrees("mean length, h", &found[5], DOWN_H);
}

#[test]
fn successive_lengths_are_independent() {
    // Alternating renewal process: successive lengths are independent, so their correlation is 0. The states at
    // successive whole hours are correlated by e^(−(λ+μ)·1 h) = e^(−0.625).
    let axis = axis();
    let (mut lengths, mut states) = (Vec::new(), Vec::new());
    for seed in 0..SEEDS {
        let outages = year(&sheet(seed, OutageFrequency::Share(0.2)), &axis);
        let down: Vec<f64> = outages.iter().map(Interval::length_s).collect();
        lengths.push(lag_one(&down));
        let up: Vec<f64> = up_at_hours(&outages).into_iter().map(f64::from).collect();
        states.push(lag_one(&up));
    }
    agrees("correlation of successive outages", &lengths, 0.0);
    agrees("correlation of the state over an hour", &states, (-0.625_f64).exp());
}

fn lag_one(values: &[f64]) -> f64 {
    let (mean, _) = mean_and_error(values);
    let variance: f64 = values.iter().map(|v| (v - mean).powi(2)).sum();
    values.windows(2).map(|w| (w[0] - mean) * (w[1] - mean)).sum::<f64>() / variance
}

/// Hours and months in which the grid fails more often.
const EVENING: RangeInclusive<Hour> = Hour::H17..=Hour::H21;
const WINTER: RangeInclusive<Month> = Month::June..=Month::August;

fn evening(seed: u32, share: f64) -> RandomSheet {
    let mut sheet = sheet(seed, OutageFrequency::Share(share));
    sheet.hour_weight = Hourly::from_fn(|hour| if EVENING.contains(&hour) { 5.0 } else { 1.0 });
    sheet.month_weight = Monthly::from_fn(|month| if WINTER.contains(&month) { 2.0 } else { 1.0 });
    sheet
}

#[test]
fn weights_keep_the_share_and_set_the_rate() {
    let axis = axis();
    let (mut shares, mut ratios) = (Vec::new(), Vec::new());
    for seed in 0..SEEDS {
        let outages = year(&evening(seed, 0.33), &axis);
        shares.push(outages.iter().map(Interval::length_s).sum::<f64>() / axis.length_s());
        // Failures per hour with the grid on, in the evening and in the rest of the day, in the months with weight 1.
        let (mut begun, mut up_h) = ([0.0; 2], [0.0; 2]);
        for (h, up) in (0_u32..).zip(up_at_hours(&outages)) {
            let civil = axis.civil_hours()[h as usize];
            let evening = usize::from(EVENING.contains(&civil.hour));
            if !WINTER.contains(&civil.month) {
                up_h[evening] += f64::from(up);
                let (from_s, to_s) = (f64::from(h) * 3600.0, f64::from(h + 1) * 3600.0);
                begun[evening] += count(outages.iter().map(|i| i.start_s >= from_s && i.start_s < to_s));
            }
        }
        // The state at the start of an hour represents the hour: the same small bias in both, far below the tolerance.
        ratios.push((begun[1] / up_h[1]) / (begun[0] / up_h[0]));
    }
    agrees("share with weights", &shares, 0.33);
    let (ratio, _) = mean_and_error(&ratios);
    assert!((4.0..6.0).contains(&ratio), "{ratio}");
}

#[test]
fn the_expected_share_is_the_requested_one() {
    let axis = axis();
    for share in [0.001, 0.15, 0.33, 0.5, 0.7] {
        let found = RandomOutages::new(&evening(0, share), &axis).unwrap().expected_share();
        assert!((found - share).abs() < 1e-9, "{found}");
    }
    // Without weights the rate follows the closed form U/(1 − U)·μ.
    let plain = RandomOutages::new(&sheet(0, OutageFrequency::Share(0.2)), &axis).unwrap();
    assert!((plain.failure_per_s() * 3600.0 - 0.125).abs() < 1e-9);
}

#[test]
fn an_unreachable_share_is_a_fault_that_says_what_is_possible() {
    let mut sheet = sheet(0, OutageFrequency::Share(0.9));
    sheet.hour_weight = Hourly::default();
    sheet.hour_weight[Hour::H18] = 1.0;
    let faults = RandomOutages::new(&sheet, &axis()).unwrap_err();
    assert_eq!(faults[0].key, "share_pct");
    assert!(faults[0].allowed.starts_with("at most 1"), "{}", faults[0].allowed);
    sheet.hour_weight = Hourly::default();
    assert_eq!(RandomOutages::new(&sheet, &axis()).unwrap_err()[0].key, "hour_weight");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn the_same_seed_gives_the_same_whole_seconds(seed: u32, share in 0.01..0.7_f64) {
        let axis = axis();
        let once = year(&evening(seed, share), &axis);
        prop_assert_eq!(&once, &year(&evening(seed, share), &axis));
        prop_assert_ne!(&once, &year(&evening(seed.wrapping_add(1), share), &axis));
        for i in &once {
            prop_assert!(i.start_s.fract().abs() < 1e-12 && i.end_s.fract().abs() < 1e-12 && i.end_s > i.start_s);
        }
    }
}
