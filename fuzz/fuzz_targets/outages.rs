//! Lists of outages.

#![no_main]

use daylift_fuzz::{CHANGING, STEADY, read_twice, source};
use daylift_tables::outages;
use libfuzzer_sys::{Corpus, fuzz_target};

daylift_fuzz::mutate_text!();

fuzz_target!(|data: &[u8]| -> Corpus {
    let Some(source) = source(data) else {
        return Corpus::Reject;
    };
    for axis in [&*CHANGING, &*STEADY] {
        let Some(outages) = read_twice(|| outages::read(&source, axis)) else {
            continue;
        };
        let mut before_s = -1.0;
        for interval in outages.intervals() {
            assert!(
                interval.start_s > before_s && interval.end_s > interval.start_s,
                "{interval:?}"
            );
            before_s = interval.end_s;
        }
        assert!(before_s <= axis.length_s());
    }
    Corpus::Keep
});
