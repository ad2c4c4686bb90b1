//! A year of meter readings with a few of its rows changed.

#![no_main]

use std::sync::LazyLock;

use daylift_fuzz::{CHANGING, check_within, patched, read_twice, source};
use daylift_tables::meter::{self, Stamped};
use daylift_units::fields::grid::LOAD;
use libfuzzer_sys::{Corpus, fuzz_target};

/// Hours of a year on the zone's clock: the repeated one twice, the skipped one not at all.
static ROWS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let hours = (0..8784).map(|hour| CHANGING.civil_text(f64::from(hour) * 3600.0).replace(' ', "T"));
    hours.enumerate().map(|(i, time)| format!("{time},{}", i % 24)).collect()
});

daylift_fuzz::mutate_text!();

fuzz_target!(|data: &[u8]| -> Corpus {
    let Some(patch) = source(data) else {
        return Corpus::Reject;
    };
    let Some(source) = source(patched(&ROWS, &patch.text).as_bytes()) else {
        return Corpus::Reject;
    };
    let stamped = if data.len() % 2 == 1 {
        Stamped::End
    } else {
        Stamped::Begin
    };
    let Some(series) = read_twice(|| meter::read(&source, "load", stamped, &CHANGING)) else {
        return Corpus::Keep;
    };
    let covered_s =
        f64::from(series.interval_s()) * f64::from(u32::try_from(series.power_w().len()).unwrap_or(u32::MAX));
    assert!((covered_s - CHANGING.length_s()).abs() < 1e-6, "{covered_s} s covered");
    for w in series.power_w() {
        check_within(&LOAD, *w);
    }
    Corpus::Keep
});
