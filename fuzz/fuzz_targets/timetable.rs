//! Timetables of outages, and the stages in force.

#![no_main]

use daylift_fuzz::{CHANGING, STEADY, check_within, read_twice, source};
use daylift_grid::{Outages, StageInForce, timetable::outages_of};
use daylift_tables::timetable::{read_slots, read_stages};
use daylift_units::Axis;
use daylift_units::fields::timetable::{DAY, STAGE};
use libfuzzer_sys::{Corpus, fuzz_target};

const BLOCK: &str = "7";

daylift_fuzz::mutate_text!();

fuzz_target!(|data: &[u8]| -> Corpus {
    let Some(source) = source(data) else {
        return Corpus::Reject;
    };
    for axis in [&*CHANGING, &*STEADY] {
        if let Some(stages) = read_twice(|| read_stages(&source, axis)) {
            for stage in &stages {
                assert!(stage.interval.end_s > stage.interval.start_s, "{stage:?}");
                check_within(&STAGE, f64::from(stage.stage));
            }
        }
    }
    if let Some(slots) = read_twice(|| read_slots(&source, BLOCK)) {
        for slot in &slots {
            check_within(&STAGE, f64::from(slot.stage));
            check_within(&DAY, f64::from(slot.day));
            assert!(slot.start_min < 1440 && slot.end_min < 1440, "{slot:?}");
        }
        // All year in the highest stage.
        let interval = daylift_grid::Interval {
            start_s: f64::NEG_INFINITY,
            end_s: f64::INFINITY,
        };
        check_year(
            &outages_of(&slots, &[StageInForce { interval, stage: 20 }], &CHANGING),
            &CHANGING,
        );
    }
    Corpus::Keep
});

fn check_year(intervals: &[daylift_grid::Interval], axis: &Axis) {
    let (outages, _) = Outages::new(intervals.to_vec(), axis.length_s());
    assert!((0.0..=axis.length_s()).contains(&outages.total_s()));
}
