//! Loads as tables of months and hours, and as meter readings.

#![no_main]

use daylift_fuzz::{CHANGING, STEADY, check_within, read_twice, source};
use daylift_plant::single::{load_table, meter};
use daylift_units::fields::grid::LOAD;
use libfuzzer_sys::{Corpus, fuzz_target};

daylift_fuzz::mutate_text!();

fuzz_target!(|data: &[u8]| -> Corpus {
    let Some(source) = source(data) else {
        return Corpus::Reject;
    };
    for w in read_twice(|| load_table(&source)).iter().flatten().flatten() {
        check_within(&LOAD, *w);
    }
    // Whole years of readings are the matter of another target.
    for (axis, at_end) in [(&*CHANGING, true), (&*STEADY, false)] {
        for w in read_twice(|| meter(&source, at_end, axis)).iter().flat_map(|series| series.power_w()) {
            check_within(&LOAD, *w);
        }
    }
    Corpus::Keep
});
