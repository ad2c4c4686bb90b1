//! The worked examples: each reads without faults and closes its books, and on the one with several pump sets and
//! string groups it does not matter how they are written down.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::path::PathBuf;

use daylift_testing::{Plant, example, examples};
use serde_json::Value;
use support::{compare_json, daylift, stderr, stdout};

/// Relative difference allowed between two ways of writing the same plant.
const SAME: f64 = 1e-9;
const HOUR: [&str; 2] = ["--step", "1h"];

fn three_weirs() -> PathBuf {
    example().with_file_name("three-weirs")
}

#[test]
fn every_example_reads_without_faults() {
    assert!(examples().len() >= 3, "{:?}", examples());
    for plant in examples() {
        let output = daylift(&["check", plant.to_str().unwrap()]);
        assert_eq!(
            output.status.code(),
            Some(0),
            "{}: {}",
            plant.display(),
            stderr(&output)
        );
        assert!(stdout(&output).contains("no faults"), "{}", plant.display());
    }
}

#[test]
fn the_books_of_every_example_close() {
    for plant in examples() {
        let answer = compare_json(&plant, &HOUR);
        let rows = answer["arrangements"].as_array().unwrap();
        assert!(!rows.is_empty(), "{}", plant.display());
        for row in rows {
            for residual in ["energy", "water", "hours"] {
                let worst = row["worst_residual"][residual].as_f64().unwrap();
                assert!(
                    worst <= 1e-9,
                    "{}: {} of {}: {worst:e}",
                    plant.display(),
                    residual,
                    row["id"]
                );
            }
        }
    }
}

/// Blocks of a TOML file that begin with `header`, each up to the next header of its own rank or above.
///
/// A block's sub-tables (`[pump_set.well]` of `[[pump_set]]`) belong to it.
fn blocks<'a>(text: &'a str, header: &str) -> Vec<&'a str> {
    let own = header.trim_matches(['[', ']']);
    let starts: Vec<usize> = text
        .match_indices('\n')
        .map(|(i, _)| i + 1)
        .filter(|i| text[*i..].starts_with('['))
        .chain([text.len()])
        .collect();
    let inside = |i: usize| text[i..].trim_start_matches('[').starts_with(&format!("{own}."));
    starts
        .iter()
        .filter(|i| text[**i..].starts_with(header))
        .map(|i| {
            let end = starts.iter().find(|j| *j > i && !inside(**j)).unwrap();
            &text[*i..*end]
        })
        .collect()
}

/// Writes the blocks of a header in another order, at the place of the first.
fn reorder(text: &str, header: &str, order: &[usize]) -> String {
    let blocks = blocks(text, header);
    assert_eq!(blocks.len(), order.len(), "{header}");
    let begin = text.find(blocks[0]).unwrap();
    let whole = blocks.concat();
    assert!(
        text[begin..].starts_with(&whole),
        "the blocks of {header} stand together"
    );
    let new: String = order.iter().map(|i| blocks[*i]).collect();
    assert_ne!(new, whole);
    format!("{}{new}{}", &text[..begin], &text[begin + whole.len()..])
}

/// Makes two groups of the group with that name.
fn split(text: &str, name: &str, strings: usize, first: usize) -> String {
    let line = format!("name = \"{name}\"");
    let count = format!("strings = {strings}\n");
    let group = blocks(text, "[[array.group]]").into_iter().find(|b| b.contains(&line)).unwrap();
    assert!(group.contains(&count), "{group}");
    let part = |suffix: &str, strings: usize| {
        group.replacen(&line, &format!("name = \"{name} {suffix}\""), 1).replacen(
            &count,
            &format!("strings = {strings}\n"),
            1,
        )
    };
    let parts = format!("{}{}", part("a", first), part("b", strings - first));
    text.replacen(group, &parts, 1)
}

/// Every number of the two answers agrees, relative to its own size or to the smallest unit that is worth a thought.
fn assert_same(what: &str, path: &str, a: &Value, b: &Value) {
    match (a, b) {
        // The residual is what the books are out by, itself of the order of rounding; warnings name the sets in order.
        _ if path.ends_with("/worst_residual") || path.ends_with("/warnings") => {}
        (Value::Object(a), Value::Object(b)) => {
            assert_eq!(
                a.keys().collect::<Vec<_>>(),
                b.keys().collect::<Vec<_>>(),
                "{what}: {path}"
            );
            for (key, value) in a {
                assert_same(what, &format!("{path}/{key}"), value, &b[key]);
            }
        }
        (Value::Array(a), Value::Array(b)) => {
            assert_eq!(a.len(), b.len(), "{what}: {path}");
            for (i, (x, y)) in a.iter().zip(b).enumerate() {
                assert_same(what, &format!("{path}/{i}"), x, y);
            }
        }
        (Value::Number(x), Value::Number(y)) => {
            let (x, y) = (x.as_f64().unwrap(), y.as_f64().unwrap());
            let allowed = SAME * x.abs().max(y.abs()).max(1.0);
            assert!((x - y).abs() <= allowed, "{what}: {path} is {x} and {y}");
        }
        _ => assert_eq!(a, b, "{what}: {path}"),
    }
}

/// Compares Three Weirs as it is written with an edited copy.
fn assert_edit_changes_nothing(what: &str, edit: impl FnOnce(String) -> String) {
    // As written: on surplus the sets start in the order of the file, so the best rule may depend on that order.
    let written = || Plant::of(&three_weirs()).replace("plant.toml", "[pumping]", "[pumping]\nrule = \"as-written\"");
    let before = compare_json(written().path(), &HOUR);
    let after = compare_json(written().edit("plant.toml", edit).path(), &HOUR);
    assert_same(what, "", &before["arrangements"], &after["arrangements"]);
}

#[test]
fn a_group_split_in_two_changes_nothing() {
    // On an inverter and a drive; and on an inverter only.
    assert_edit_changes_nothing("upper east", |text| split(&text, "upper east", 4, 1));
    assert_edit_changes_nothing("spare west 3", |text| split(&text, "spare west 3", 3, 2));
}

#[test]
fn the_order_of_the_pump_sets_changes_nothing() {
    for order in [[2, 0, 1], [1, 0, 2]] {
        assert_edit_changes_nothing("pump sets", |text| reorder(&text, "[[pump_set]]", &order));
    }
}

#[test]
fn the_order_of_groups_planes_and_inverters_changes_nothing() {
    assert_edit_changes_nothing("groups", |text| {
        reorder(&text, "[[array.group]]", &[9, 0, 7, 3, 2, 5, 4, 6, 1, 8])
    });
    assert_edit_changes_nothing("planes", |text| reorder(&text, "[[array.plane]]", &[1, 0]));
    assert_edit_changes_nothing("inverters", |text| reorder(&text, "[[inverter]]", &[2, 0, 1]));
}

/// The tests above can fail: strings that are moved to another drive do change the answer.
#[test]
fn strings_moved_to_another_drive_change_the_answer() {
    let moved = Plant::of(&three_weirs()).edit("plant.toml", |text| {
        let group = blocks(&text, "[[array.group]]")[0];
        let to = group.replacen("drive = \"upper weir\"", "drive = \"lower weir\"", 1);
        assert_ne!(group, to);
        text.replacen(group, &to, 1)
    });
    let solar_drive = |answer: &Value| {
        let rows = answer["arrangements"].as_array().unwrap();
        rows.iter().find(|row| row["id"] == "solar-drive").unwrap().clone()
    };
    let pumped = |answer: &Value| solar_drive(answer)["water_m3"]["pumped"].as_f64().unwrap();
    let (before, after) = (compare_json(&three_weirs(), &HOUR), compare_json(moved.path(), &HOUR));
    assert!((pumped(&before) / pumped(&after) - 1.0).abs() > 1e-3);
}
