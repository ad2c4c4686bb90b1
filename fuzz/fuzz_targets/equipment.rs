//! Equipment files of every kind.

#![no_main]

use daylift_fuzz::{check_faults, check_finite, source};
use daylift_plant_file::single::equipment;
use libfuzzer_sys::{Corpus, fuzz_target};

const KINDS: [&str; 7] = ["module", "inverter", "drive", "motor", "pump", "battery", "generator"];

daylift_fuzz::mutate_text!();

fuzz_target!(|data: &[u8]| -> Corpus {
    let Some(source) = source(data) else {
        return Corpus::Reject;
    };
    let mut accepted = 0;
    for kind in KINDS {
        let (first, second) = (equipment(&source, kind), equipment(&source, kind));
        let printed = format!("{first:?}");
        assert_eq!(printed, format!("{second:?}"), "read twice, two results");
        match first {
            Ok(_) => {
                accepted += 1;
                check_finite(&printed);
            }
            Err(faults) => check_faults(&faults),
        }
    }
    assert!(accepted <= 1, "a file of {accepted} kinds");
    Corpus::Keep
});
