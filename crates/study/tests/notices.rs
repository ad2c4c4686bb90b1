//! What the reader of a row must know of the plant's strings and of how it compares with today's way.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

use std::fs;
use std::path::Path;

use daylift_electrics::{Found, Rule, Subject, Weight};
use daylift_plant::{Arrangement, StartLimits};
use daylift_plant_file::{Read, read_plant};
use daylift_study::strings::Verdict;
use daylift_study::{Notice, Picture, Run, compare, run};
use daylift_supply::{Flow, NoRecorder, ShortfallCause};
use daylift_units::Step;

/// A worked example with texts of its plant file replaced.
fn example(name: &str, replaced: &[(&str, &str)]) -> Read {
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    let folder = tempfile::tempdir().unwrap();
    for entry in fs::read_dir(example).unwrap().map(Result::unwrap) {
        fs::copy(entry.path(), folder.path().join(entry.file_name())).unwrap();
    }
    let plant = folder.path().join("plant.toml");
    let mut text = fs::read_to_string(&plant).unwrap();
    for (from, to) in replaced {
        assert!(text.contains(from), "{name} has no {from:?}");
        text = text.replacen(from, to, 1);
    }
    fs::write(plant, text).unwrap();
    read_plant(folder.path()).unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn year(read: &Read, arrangement: &str) -> Run {
    let row = Arrangement::from_id(arrangement).unwrap();
    run(&read.plant, row, Step::Hour, &read.warnings, &mut NoRecorder).unwrap()
}

/// What is warned of the strings: weight and subject.
fn of_strings(read: &Read) -> Vec<(Weight, Subject)> {
    let notices = year(read, "dual-mode").notices;
    let finding = |notice: &Notice| match notice {
        Notice::Strings(finding) => Some((finding.weight, finding.id())),
        _ => None,
    };
    notices.iter().filter_map(finding).collect()
}

#[test]
fn strings_that_suit_are_not_warned_of() {
    assert_eq!(of_strings(&example("mulenga-ridge", &[])), []);
    assert_eq!(of_strings(&example("three-weirs", &[])), []);
}

/// Each of these was once a warning of reading the plant: a row that uses the strings still warns.
#[test]
fn strings_that_do_not_suit_are_warned_of_in_a_row() {
    let series = |count: &str| {
        let to = format!("modules_per_string = {count}");
        example("mulenga-ridge", &[("modules_per_string = 15", &to)])
    };
    // Modules of 39 V at maximum power and 47 V at open circuit; the window is 250 to 850 V, the drive's bus 540 V.
    for (read, weight, subject) in [
        (series("6"), Weight::Forbids, Subject::Rule(Rule::MpptFloor)),
        (series("6"), Weight::Forbids, Subject::Rule(Rule::PumpSpeed)),
        (series("6"), Weight::Warns, Subject::HeldBus),
        (series("13"), Weight::Warns, Subject::HeldBus),
        (
            example("mulenga-ridge", &[("line_voltage_v = 400", "line_voltage_v = 690")]),
            Weight::Warns,
            Subject::HeldBus,
        ),
        (series("22"), Weight::Warns, Subject::Rule(Rule::MpptCeiling)),
        (
            series("22"),
            Weight::Forbids,
            Subject::Rule(Rule::ColdVoltageOnInverter),
        ),
        (
            example("mulenga-ridge", &[("strings = 3 ", "strings = 9 ")]),
            Weight::Warns,
            Subject::DcOverAc,
        ),
    ] {
        let found = of_strings(&read);
        assert!(
            found.contains(&(weight, subject)),
            "{weight:?} {subject:?} is not in {found:?}"
        );
    }
}

#[test]
fn an_inverter_without_strings_is_warned_of() {
    let spare = "\n[[inverter]]\nname = \"spare\"\nfile = \"inverter-75.toml\"\n";
    let read = example("three-weirs", &[("\n[[inverter]]", &format!("{spare}\n[[inverter]]"))]);
    let notices = year(&read, "dual-mode").notices;
    let unused: Vec<&str> = notices
        .iter()
        .filter_map(|notice| match notice {
            Notice::Strings(finding) if finding.found == Found::NoStringsOnInverter => Some(finding.about.as_str()),
            _ => None,
        })
        .collect();
    assert_eq!(unused, ["inverter \"spare\""]);
}

#[test]
fn notices_on_the_plant_are_apart_from_those_on_a_row() {
    let read = example(
        "mulenga-ridge",
        &[("modules_per_string = 15", "modules_per_string = 16")],
    );
    let full = compare(&read.plant, Step::Hour, &read.warnings).with_origins(&read.plant, &read.origins);
    assert_eq!(full.can_be_built.as_ref().unwrap().verdict, Verdict::Forbidden);
    assert!(full.notices.iter().any(|notice| matches!(notice, Notice::Strings(_))));
    for row in &full.rows {
        assert_eq!(row.notices, [&full.notices[..], &row.own_notices].concat());
    }
    let own = |row: &str| &full.row(Arrangement::from_id(row).unwrap()).unwrap().own_notices;
    let low_load = |notice: &Notice| matches!(notice, Notice::GeneratorLowLoad { .. });
    assert!(own("grid-only+generator").iter().any(low_load));
    assert!(!full.notices.iter().any(low_load));
}

#[test]
fn the_picture_has_the_lift_of_the_outlet_apart_from_its_pressure() {
    let read = example(
        "tamarind-post",
        &[
            ("lift_m = 7.5", "lift_m = 2"),
            ("pressure_bar = 0", "pressure_bar = 0.3"),
        ],
    );
    let picture = Picture::of(&read.plant, read.plant.reference);
    assert!((picture.outlet_lift_m - 2.0).abs() < 1e-12);
    assert!((picture.outlet_pressure_bar - 0.3).abs() < 1e-12);
}

/// A value of water so high that every row pays is noticed, on the plant and on the rows that pay only because of it.
#[test]
fn a_value_of_lost_water_that_makes_every_row_pay_is_noticed() {
    let noticed = |value: &str| {
        let terms = format!("[money]\n{value}");
        // With a small tank the solar drive, today's way there, leaves water missing.
        let read = example(
            "tamarind-post",
            &[("[money]", &terms), ("capacity_m3 = 50", "capacity_m3 = 6")],
        );
        let full = compare(&read.plant, Step::Hour, &read.warnings);
        let by_value = full.rows.iter().any(|one| one.own_notices.contains(&Notice::PaysByValueOnly));
        (by_value, full.notices.contains(&Notice::EveryRowPaysByValue))
    };
    assert_eq!(noticed(""), (false, false));
    assert_eq!(noticed("value_of_lost_water_per_m3 = 0"), (false, false));
    assert_eq!(noticed("value_of_lost_water_per_m3 = 100000"), (true, true));
}

/// With a generator in the plant file every row that is not comparable has one beside it, listed there or not.
#[test]
fn a_row_that_serves_less_has_one_with_the_generator_beside_it() {
    let read = example("three-weirs", &[]);
    let full = compare(&read.plant, Step::Hour, &read.warnings);
    let listed = read.plant.arrangements();
    let mut added = 0;
    for one in full.rows.iter().filter(|one| !one.row.id.generator) {
        let with_set = one.row.id.with_generator();
        let wanted = !one.row.service.comparable || listed.contains(&with_set);
        assert_eq!(full.row(with_set).is_some(), wanted, "{with_set}");
        added += usize::from(full.row(with_set).is_some() && !listed.contains(&with_set));
    }
    assert!(added > 0, "the example lists every row with a generator");
    // `run` gives the same row.
    let new = full.rows.iter().find(|one| !listed.contains(&one.row.id)).unwrap();
    assert_eq!(year(&read, new.row.id.id()).row, new.row);
}

/// Whether a run has a notice on starts.
fn of_starts(read: &Read, row: &str) -> Vec<Notice> {
    let is_of_starts = |notice: &Notice| {
        matches!(
            notice,
            Notice::MotorStarts { .. }
                | Notice::MotorStartsTooClose { .. }
                | Notice::DrivePowerUps { .. }
                | Notice::ChangeoverCycles { .. }
        )
    };
    year(read, row).notices.into_iter().filter(is_of_starts).collect()
}

/// A limit that the year just keeps makes no notice; one less does. Only the row that exceeds it has the notice.
#[test]
fn starts_beyond_a_limit_are_warned_of() {
    let mut read = example("mulenga-ridge", &[]);
    let (before, dual) = (year(&read, "grid-only").row.starts, year(&read, "dual-mode").row.starts);
    assert!(
        before.motor >= before.most_in_a_day && before.most_in_a_day > 1,
        "{before:?}"
    );
    assert!(before.on_sun.is_none() && before.drive_power_ups == 0 && before.changeover_cycles == 0);
    assert!(dual.drive_power_ups > 0 && dual.changeover_cycles > 0);
    assert_eq!(of_starts(&read, "grid-only"), []);

    let most = f64::from(before.most_in_a_day);
    let limits =
        |read: &mut Read, limits: StartLimits| read.plant.sets.iter_mut().for_each(|set| set.start_limits = limits);
    for (allowed, warned) in [(most, 0), (most - 1.0, 1)] {
        let motor_per_day = Some(allowed);
        limits(
            &mut read,
            StartLimits {
                motor_per_day,
                ..StartLimits::default()
            },
        );
        assert_eq!(of_starts(&read, "grid-only").len(), warned);
    }
    limits(
        &mut read,
        StartLimits {
            power_ups_per_day: Some(1.0),
            ..StartLimits::default()
        },
    );
    let ups = of_starts(&read, "dual-mode");
    assert!(matches!(ups[..], [Notice::DrivePowerUps { set: None, .. }]), "{ups:?}");
    assert_eq!(of_starts(&read, "grid-only"), []);

    limits(&mut read, StartLimits::default());
    let years = f64::from(read.plant.costs.as_ref().unwrap().terms.years);
    let cycles = f64::from(u32::try_from(dual.changeover_cycles).unwrap()) * years;
    for (rated, warned) in [(cycles, 0), (cycles - 1.0, 1)] {
        read.plant.design.rated_cycles = Some(rated);
        assert_eq!(of_starts(&read, "dual-mode").len(), warned);
        assert_eq!(of_starts(&read, "grid-only"), []);
    }
}

/// Every loss of the grid is a loss of water where nobody is there, and the drive restarts itself.
#[test]
fn starters_closed_by_hand_cost_water_on_the_bus_alone() {
    let by_hand = "[pumping]\nrestart = \"by-hand\"\nattended_hours = [8, 16]\nrestart_delay_s = 1200";
    let (automatic, by_hand) = (
        example("mulenga-ridge", &[]),
        example("mulenga-ridge", &[("[pumping]", by_hand)]),
    );
    let waiting = |read: &Read, row: &str| {
        let run = year(read, row);
        (
            run.row.water_m3.of(Flow::Shortfall(ShortfallCause::WaitingForRestart)),
            run,
        )
    };
    for (row, waits) in [
        ("grid-only", true),
        ("grid-tied", true),
        ("solar-drive", false),
        ("dual-mode", false),
    ] {
        let (short_m3, now) = waiting(&by_hand, row);
        let (nothing_m3, before) = waiting(&automatic, row);
        assert!(nothing_m3 == 0.0 && (short_m3 > 0.0) == waits, "{row}: {short_m3} m³");
        assert_eq!(now.row.water_m3 == before.row.water_m3, !waits, "{row}");
    }
}
