//! Weather files in every layout.

#![no_main]

use daylift_fuzz::{check_row_faults, source};
use daylift_tables::weather::{Clock, StampAt};
use daylift_tables::weather_file::{self, Layout};
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
    let Some(layout) = Layout::of(&source.text) else {
        return Corpus::Keep;
    };
    for clock in CLOCKS {
        // A text of this length has less than a tenth of a year.
        let faults = weather_file::read(&source, layout, clock).err().expect("too short for a year");
        // The hourly layouts have no comments.
        check_row_faults(&faults, false);
        assert_eq!(
            Some(faults),
            weather_file::read(&source, layout, clock).err(),
            "read twice, two results"
        );
    }
    Corpus::Keep
});
