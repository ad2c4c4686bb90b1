//! The reference page of the files, `docs/plant-file.md`: every key with its unit, range, default, source and an example.
//!
//! It is made from the outline and the declared fields; only its introduction is written by hand.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod examples;
mod page;
mod row;

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use daylift_plant_file::outline::paths;
use daylift_testing::folder;

use examples::Examples;

fn page_path() -> PathBuf {
    folder("docs/plant-file.md")
}

#[test]
fn the_reference_page_is_up_to_date() {
    let committed = fs::read_to_string(page_path()).unwrap_or_default().replace("\r\n", "\n");
    assert!(
        committed == page::page(&Examples::of_the_repository()),
        "docs/plant-file.md is stale: run `cargo xtask schema`"
    );
}

#[test]
#[ignore = "writes docs/plant-file.md: run `cargo xtask schema`"]
fn write_the_reference_page() {
    fs::write(page_path(), page::page(&Examples::of_the_repository())).unwrap();
}

/// Examples of the guide must not name a key that was renamed. (Examples that are run would be refused anyway.)
#[test]
fn every_example_has_an_existing_key() {
    let known: BTreeSet<String> = paths().into_iter().map(|(path, _)| path).collect();
    for (kind, path) in Examples::of_the_repository().paths() {
        let listed = if kind == "plant" {
            path
        } else {
            format!("{kind}.{path}")
        };
        // The guide shows a key without its unit as a mistake.
        assert!(known.contains(&listed) || listed == "well.intake_depth", "{listed}");
    }
}

#[test]
fn every_key_of_every_file_is_on_the_page() {
    let page = page::page(&Examples::of_the_repository());
    let shown: BTreeSet<&str> = page.lines().filter_map(|line| line.strip_prefix("| `")?.split('`').next()).collect();
    for (path, key) in paths() {
        let heading = page.lines().any(|line| line.starts_with('#') && line.contains(key.name));
        assert!(shown.contains(key.name) || heading, "{path}");
    }
    // The row of every key has an example.
    let without: Vec<&str> = page.lines().filter(|line| line.ends_with("| – |")).collect();
    assert!(without.is_empty(), "{without:#?}");
}
