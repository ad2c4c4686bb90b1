//! Faults and warnings for wrong and doubtful inputs: copies of the worked example with changes.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod beside;
mod curves;
mod faults;
mod grid;
mod metered;
mod prices;
mod pumping;
mod restart;
mod sun;
mod support;
mod weather;
