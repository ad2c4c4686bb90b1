//! Weather files in every layout.

#![no_main]

use daylift_fuzz::{check_row_faults, source};
use daylift_plant::single::{Clock, StampAt, weather};
use libfuzzer_sys::{Corpus, fuzz_target};

const CLOCKS: [Clock; 2] = [
    Clock {
        stamp: StampAt::End,
        utc_offset_s: None,
    },
    Clock {
        stamp: StampAt::Middle,
        utc_offset_s: Some(7200),
    },
];

daylift_fuzz::mutate_text!();

fuzz_target!(|data: &[u8]| -> Corpus {
    let Some(source) = source(data) else {
        return Corpus::Reject;
    };
    for clock in CLOCKS {
        // A text of this length has no tenth of a year.
        let faults = weather(&source, clock).err().expect("too short for a year");
        // The layouts of hours have no comments.
        check_row_faults(&faults, false);
        assert_eq!(Some(faults), weather(&source, clock).err(), "read twice, two results");
    }
    Corpus::Keep
});
