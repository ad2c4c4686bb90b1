//! The desk killed while it saves.

use crate::chore::{cargo, sh};
use crate::words::number_and_name;

/// Kills when none are given; an ordinary test run has two hundred.
const TIMES: u32 = 10_000;

/// Kills a desk while it saves, as often as told, and looks at the plant file each time.
pub(crate) fn run(words: &[&str]) -> Result<(), String> {
    let times = number_and_name(words, "kills", &[])?.0.unwrap_or(TIMES);
    let (cargo, kills) = (cargo(), format!("DAYLIFT_KILLS={times}"));
    let test = [
        "test",
        "--release",
        "--locked",
        "--package",
        "daylift",
        "--test",
        "desk",
    ];
    let words = [&*kills, &*cargo].into_iter().chain(test).chain(["--", "--nocapture"]);
    sh("env", words)
}
