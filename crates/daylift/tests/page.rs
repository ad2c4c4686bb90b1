//! Layout of the output: width, colour, warnings, progress.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::process::Command;

use daylift_testing::example;
use support::{daylift, stdout};

fn longest_line(text: &str) -> (usize, &str) {
    text.lines().map(|l| (l.chars().count(), l)).max().unwrap()
}

#[test]
fn no_line_is_wider_than_the_page() {
    let plant = example();
    let plant = plant.to_str().unwrap();
    for args in [
        vec!["compare", plant, "--step", "1h", "--months"],
        vec!["run", plant, "--step", "1h", "--arrangement", "dual-mode"],
    ] {
        let text = stdout(&daylift(&args));
        let (width, line) = longest_line(&text);
        assert!(width <= 100, "{width}: {line}");
    }
}

#[test]
fn bars_say_in_letters_what_they_say_in_colour() {
    let text = stdout(&daylift(&["compare", example().to_str().unwrap(), "--step", "1h"]));
    for wanted in ["P to the pump", "g grid-down", "A array   G grid", "D delivered"] {
        assert!(text.contains(wanted), "{wanted:?} is not in:\n{text}");
    }
}

/// Colours can be forced without a terminal; a pipe has none by default.
#[test]
fn colours_only_where_they_are_wanted() {
    let run = |name: &str, value: &str| {
        let output = Command::new(env!("CARGO_BIN_EXE_daylift"))
            .args(["compare", example().to_str().unwrap(), "--step", "1h"])
            .env_remove("NO_COLOR")
            .env_remove("CLICOLOR_FORCE")
            .env(name, value)
            .output()
            .unwrap();
        stdout(&output)
    };
    assert!(run("CLICOLOR_FORCE", "1").contains("\u{1b}[36mP█"));
    assert!(!run("NO_COLOR", "1").contains('\u{1b}'));
    assert!(!run("UNRELATED", "1").contains('\u{1b}'));
}

#[test]
fn a_pipe_sees_no_progress_and_each_warning_once() {
    let output = daylift(&["compare", example().to_str().unwrap(), "--step", "1min", "--json"]);
    let said = String::from_utf8(output.stderr).unwrap();
    let mut lines: Vec<&str> = said.lines().collect();
    assert!(
        !lines.is_empty() && lines.iter().all(|l| l.starts_with("warning: ")),
        "{said}"
    );
    lines.sort_unstable();
    let count = lines.len();
    lines.dedup();
    assert_eq!(lines.len(), count, "{said}");
    assert!(!said.contains(['\u{1b}', '\r']), "{said}");
    assert!(output.stdout.starts_with(b"{") && output.stdout.ends_with(b"}\n"));
}

#[test]
fn months_stand_side_by_side() {
    let text = stdout(&daylift(&[
        "compare",
        example().to_str().unwrap(),
        "--months",
        "--step",
        "1h",
    ]));
    let (_, months) = text.split_once("Water delivered by month").unwrap();
    let rows: Vec<&str> = months.lines().skip_while(|l| !l.starts_with('─')).skip(1).take(12).collect();
    assert!(
        rows[0].starts_with("  Jan ") && rows[11].starts_with("  Dec "),
        "{months}"
    );
    // In every month of every arrangement: delivered and what is short of it make the demand, to rounding.
    for row in rows {
        let cells: Vec<&str> = row.split("  ").map(str::trim).filter(|c| !c.is_empty()).collect();
        let number = |text: &str| text.replace(',', "").parse::<f64>().unwrap();
        assert!(cells.len() > 3, "{row}");
        for cell in &cells[2..] {
            let (delivered, short) = cell.trim_end_matches(')').split_once(" (").unwrap_or((cell, "0"));
            assert!(
                (number(delivered) + number(short) - number(cells[1])).abs() <= 1.0,
                "{row}"
            );
        }
    }
}
