//! Rules of pumping: what a file may say, and what the faults and warnings about it say.

use daylift_plant::{Arrangement, DayHours, MainsRule};
use daylift_testing::Plant;
use daylift_units::Hour;

use crate::support::{read, refused_once, warns};

const HOURS: &str = "mains_hours = [6, 18]";
const ROW: &str = "arrangements = [\"grid-only\", \"grid-only+generator\"]";

/// The worked example with more keys of `[pumping]`.
fn with(keys: &str) -> Plant {
    Plant::new().replace("plant.toml", HOURS, &format!("{HOURS}\n{keys}"))
}

/// The worked example with more keys of its `[[pumping.row]]`, which is for today's way.
fn of_today(keys: &str) -> Plant {
    Plant::new().replace("plant.toml", ROW, &format!("{ROW}\n{keys}"))
}

fn rule(plant: &Plant, row: Arrangement) -> MainsRule {
    read(plant).plant.written_rule(row)
}

#[test]
fn windows_that_allow_nothing_or_overlap_are_refused() {
    let hours = |hours: &str| Plant::new().replace("plant.toml", HOURS, &format!("mains_hours = {hours}"));
    for (given, said) in [
        ("[5, 5]", "two different hours; [0, 24] is the whole day"),
        ("[24, 6]", "two different hours"),
        ("[[22, 6], [5, 8]]", "two windows that share no hour"),
        ("[[22, 6], [9, 9]]", "two different hours"),
        ("[22, 6, 10, 15]", "two such windows: [[22, 6], [10, 15]]"),
        ("[[1, 2], [3, 4], [5, 6]]", "write one window, or two windows"),
        ("[[22, 6], 10]", "[22, 6] (array)"),
        ("[]", "two hours such as [22, 6]"),
        ("[6, 25]", "hours of pumping on mains: 25 h"),
    ] {
        refused_once(hours(given), &["pumping.mains_hours", said]);
    }
}

#[test]
fn both_windows_apply() {
    let plant = Plant::new().replace("plant.toml", HOURS, "mains_hours = [[22, 6], [10, 15]]");
    let both = DayHours::between(22, 6).or(DayHours::between(10, 15));
    assert_eq!(rule(&plant, Arrangement::GRID_TIED).hours, both);
}

#[test]
fn levels_that_contradict_each_other_are_refused() {
    refused_once(
        with("mains_fill_pct = 15"),
        &[
            "pumping.mains_fill_pct",
            "15% in \"grid-only\"",
            "above the low mark, 20%",
        ],
    );
    refused_once(
        of_today("mains_fill_pct = 20"),
        &["pumping.row[1].mains_fill_pct", "20% in \"grid-only\""],
    );
    refused_once(
        with("mains_fill_pct = 50\n[[pumping.row]]\narrangements = [\"grid-tied\"]\nlow_mark_pct = 60"),
        &[
            "pumping.row[1].low_mark_pct",
            "50% in \"grid-tied\"",
            "above the low mark, 60%",
        ],
    );
    refused_once(
        of_today("low_mark_pct = 92"),
        &["pumping.row[1].low_mark_pct", "92%", "below the restart level, 90%"],
    );
    let one_bad = format!("mains_fill_pct = [{}, 104]", ["70"; 23].join(", "));
    refused_once(with(&one_bad), &["tank level at which mains stops pumping: 104%"]);
    refused_once(
        with("mains_fill_pct = [70, 80]"),
        &["2 numbers", "one number for each hour, starting at 0:00"],
    );
}

#[test]
fn a_surplus_of_zero_is_refused() {
    refused_once(
        with("surplus_pct = 0"),
        &["pumping.surplus_pct", "0%; allowed: 1 to 150%"],
    );
}

#[test]
fn faults_in_rules_of_single_rows() {
    refused_once(
        of_today("").replace("plant.toml", ROW, "arrangements = [\"grid_only\"]"),
        &["did you mean \"grid-only\"?"],
    );
    refused_once(
        with("[[pumping.row]]\narrangements = [\"grid-only\"]\nmains_hours = [1, 5]"),
        &[
            "pumping.row[2].mains_hours",
            "for \"grid-only\", which [[pumping.row]] number 1 gives too",
        ],
    );
    refused_once(
        with("[[pumping.row]]\narrangements = [\"grid-tied\"]"),
        &["pumping.row[1].arrangements", "arrangements without a rule"],
    );
    warns(
        with("[[pumping.row]]\narrangements = [\"solar-drive+night-tank\"]\nmains_hours = [1, 5]"),
        &["[[pumping.row]] number 1 belongs to arrangements that this plant does not have"],
    );
}

#[test]
fn the_old_key_grid_only_hours_names_its_replacement() {
    refused_once(
        with("grid_only_hours = [0, 24]"),
        &[
            "unknown key: `grid_only_hours`",
            "[[pumping.row]]",
            "arrangements = [\"grid-only\"]",
        ],
    );
}

#[test]
fn a_part_comes_from_the_first_place_that_gives_it() {
    let plant = with("mains_fill_pct = 70\nsurplus_pct = 80").replace(
        "plant.toml",
        ROW,
        &format!("{ROW}\nlow_mark_pct = 30\nmains_fill_pct = 60"),
    );
    let today = rule(&plant, Arrangement::GRID_ONLY);
    assert_eq!(today.hours, DayHours::ALL);
    assert!((today.fill[Hour::H5] - 0.6).abs() < 1e-12 && (today.low_mark - 0.3).abs() < 1e-12);
    assert!(today.surplus.is_some_and(|share| (share - 0.8).abs() < 1e-12));
    // The rule of `grid-only` is not that of the row with a bigger tank, which has the tank's hours.
    let night = rule(&plant, Arrangement::GRID_ONLY.with_night_tank());
    assert_eq!(night.hours, DayHours::between(22, 8));
    assert!((night.fill[Hour::H5] - 0.7).abs() < 1e-12 && (night.low_mark - 0.2).abs() < 1e-12);
    let with_grid = rule(&plant, Arrangement::SOLAR_DRIVE_WITH_GRID);
    assert_eq!(with_grid.hours, DayHours::between(6, 18));
    // Without any key: all hours, to the top.
    let bare = Plant::new().replace("plant.toml", HOURS, "");
    let rule = rule(&bare, Arrangement::GRID_TIED);
    assert!(rule.hours == DayHours::ALL && rule.fills_the_tank() && rule.surplus.is_none());
    let given = read(&bare).plant.given_rule(Arrangement::GRID_TIED);
    assert!(given.hours.is_none() && given.fill.is_none() && given.low_mark.is_some());
}
