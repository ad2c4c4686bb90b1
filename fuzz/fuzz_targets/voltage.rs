//! Voltage readings.

#![no_main]

use daylift_fuzz::{CHANGING, STEADY, check_within, read_twice, source};
use daylift_grid::VoltageWindow;
use daylift_tables::voltage;
use daylift_units::fields::voltage::READING;
use libfuzzer_sys::{Corpus, fuzz_target};

daylift_fuzz::mutate_text!();

fuzz_target!(|data: &[u8]| -> Corpus {
    let Some(source) = source(data) else {
        return Corpus::Reject;
    };
    for (axis, nominal_v) in [(&*CHANGING, Some(230.0)), (&*STEADY, None)] {
        let Some(readings) = read_twice(|| voltage::read(&source, axis, nominal_v)) else {
            continue;
        };
        assert!(!readings.is_empty());
        assert!(readings.is_sorted_by(|a, b| a.at_s < b.at_s), "{readings:?}");
        for reading in &readings {
            check_within(&READING, reading.per_unit);
        }
        let window = VoltageWindow {
            least_pu: 0.9,
            greatest_pu: 1.1,
        };
        for outage in window.outside(&readings, axis.length_s()) {
            assert!(outage.start_s >= 0.0 && outage.end_s <= axis.length_s(), "{outage:?}");
        }
    }
    Corpus::Keep
});
