//! What the reader says of wrong and of doubtful inputs, on spoilt copies of the worked example.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod beside;
mod faults;
mod grid;
mod metered;
mod sun;
mod support;
mod weather;
