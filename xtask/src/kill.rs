//! Kills the desk while it saves.

use crate::chore::{cargo, sh};
use crate::words::number_and_name;

/// Default number of kills; an ordinary test run has two hundred.
const TIMES: u32 = 10_000;

/// Kills a desk while it saves, the given number of times, and checks the plant file each time.
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
