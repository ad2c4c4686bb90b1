//! The house: imports run downward only.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

use std::collections::BTreeMap;

use cargo_metadata::{DependencyKind, MetadataCommand};

/// Rooms by floor; a room may import from lower floors only, never from its own.
const FLOORS: [&[&str]; 10] = [
    &["daylift-units"],
    &["daylift-lift", "daylift-sky", "daylift-array", "daylift-grid"],
    &["daylift-plant", "daylift-tables"],
    &["daylift-plant-file"],
    &["daylift-supply", "daylift-electrics"],
    &["daylift-money"],
    &["daylift-study"],
    &["daylift-present"],
    &["daylift-desk"],
    &["daylift"],
];

fn floors() -> BTreeMap<&'static str, usize> {
    FLOORS
        .iter()
        .enumerate()
        .flat_map(|(floor, rooms)| rooms.iter().map(move |room| (*room, floor)))
        .collect()
}

#[test]
fn imports_run_downward() {
    let metadata = MetadataCommand::new().no_deps().exec().unwrap();
    let floors = floors();
    let mut seen = 0;
    for package in &metadata.packages {
        let Some(&floor) = floors.get(package.name.as_str()) else {
            continue;
        };
        seen += 1;
        for dependency in &package.dependencies {
            if let Some(&below) = floors.get(dependency.name.as_str()) {
                assert!(below < floor, "{} must not import {}", package.name, dependency.name);
            }
        }
    }
    assert_eq!(
        seen,
        floors.len(),
        "a room is missing from the floors or from the workspace"
    );
}

#[test]
fn every_crate_of_the_house_has_a_floor() {
    let metadata = MetadataCommand::new().no_deps().exec().unwrap();
    let floors = floors();
    for package in &metadata.packages {
        let in_house = package.manifest_path.as_str().contains("/crates/");
        assert!(
            !in_house || floors.contains_key(package.name.as_str()),
            "{} has no floor",
            package.name
        );
    }
}

#[test]
fn nothing_but_the_desk_opens_a_socket() {
    let metadata = MetadataCommand::new().no_deps().exec().unwrap();
    let floors = floors();
    for package in metadata.packages.iter().filter(|p| floors.contains_key(p.name.as_str())) {
        let serves = package.dependencies.iter().any(|d| ["axum", "tokio"].contains(&d.name.as_str()));
        assert_eq!(serves, package.name.as_str() == "daylift-desk", "{}", package.name);
    }
}

#[test]
fn the_engine_reads_no_json_and_does_no_io() {
    let engine = [
        "daylift-units",
        "daylift-sky",
        "daylift-array",
        "daylift-lift",
        "daylift-grid",
        "daylift-plant",
        "daylift-supply",
        "daylift-electrics",
        "daylift-money",
    ];
    let forbidden = [
        "serde",
        "serde_json",
        "schemars",
        "csv",
        "parquet",
        "toml",
        "toml_edit",
        "strsim",
        "tempfile",
        "daylift-tables",
        "daylift-plant-file",
        "clap",
        "indicatif",
    ];
    let metadata = MetadataCommand::new().no_deps().exec().unwrap();
    for package in metadata.packages.iter().filter(|p| engine.contains(&p.name.as_str())) {
        // What its tests need is not in the program.
        for dependency in package.dependencies.iter().filter(|d| d.kind != DependencyKind::Development) {
            assert!(
                !forbidden.contains(&dependency.name.as_str()),
                "{} must not need {}",
                package.name,
                dependency.name
            );
        }
    }
}
