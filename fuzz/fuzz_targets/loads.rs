//! Loads as tables of months and hours, and as meter readings.

#![no_main]

use daylift_fuzz::{CHANGING, STEADY, check_within, read_twice, source};
use daylift_tables::loads;
use daylift_tables::meter::{self, Stamped};
use daylift_units::fields::grid::LOAD;
use libfuzzer_sys::{Corpus, fuzz_target};

daylift_fuzz::mutate_text!();

fuzz_target!(|data: &[u8]| -> Corpus {
    let Some(source) = source(data) else {
        return Corpus::Reject;
    };
    let table = read_twice(|| loads::read(&source, "load"));
    for w in table.iter().flat_map(|table| table.values()).flat_map(|hours| hours.values()) {
        check_within(&LOAD, *w);
    }
    // Another target reads whole years of readings.
    for (axis, stamped) in [(&*CHANGING, Stamped::End), (&*STEADY, Stamped::Begin)] {
        let series = read_twice(|| meter::read(&source, "load", stamped, axis));
        for w in series.iter().flat_map(|series| series.power_w()) {
            check_within(&LOAD, *w);
        }
    }
    Corpus::Keep
});
