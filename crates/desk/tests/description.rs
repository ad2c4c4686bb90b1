//! The description from which the types of the page are made.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fs;
use std::path::Path;

use daylift_desk::description::description;

#[test]
fn the_committed_description_is_up_to_date() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../ui/openapi.json");
    // As `daylift schema desk` prints it.
    let wanted = serde_json::to_string_pretty(&description()).unwrap() + "\n";
    let committed = fs::read_to_string(path).unwrap();
    assert!(
        committed == wanted,
        "ui/openapi.json is stale: run `cargo xtask schema`"
    );
}
