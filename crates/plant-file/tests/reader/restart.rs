//! Restart by hand, and limits of starts.

use daylift_plant::{DayHours, Restart, StartLimits};
use daylift_testing::Plant;
use daylift_units::Hour;

use crate::support::{read, refused, refused_once};

/// The worked example with keys added to `[pumping]`.
fn pumping(keys: &str) -> Plant {
    Plant::new().replace("plant.toml", "[pumping]\n", &format!("[pumping]\n{keys}\n"))
}

/// The worked example with a line added to a file.
fn with_line(file: &str, line: &str) -> Plant {
    let kind = format!("kind = \"{}\"", file.trim_end_matches(".toml"));
    Plant::new().replace(file, &kind, &format!("{kind}\n{line}"))
}

#[test]
fn by_hand_somebody_must_be_there() {
    refused_once(
        pumping("restart = \"by-hand\""),
        &[
            "attended_hours",
            "hours in which somebody is there",
            "[[22, 6], [10, 15]]",
        ],
    );
    for (hours, says) in [
        ("[6, 6]", "two different hours"),
        ("[24, 6]", "two different hours"),
        ("[6, 25]", "0 to 24 h"),
        ("[6.5, 18]", "whole"),
        ("[6]", "two hours such as"),
        ("[]", "two hours such as"),
        ("[[6, 12], [11, 18]]", "two windows that share no hour"),
        ("[[6, 9], [11, 13], [15, 18]]", "two hours such as"),
        ("\"always\"", "square brackets"),
    ] {
        let keys = format!("restart = \"by-hand\"\nattended_hours = {hours}");
        refused(pumping(&keys), &["attended_hours", says]);
    }
}

#[test]
fn a_delay_is_not_negative_and_at_most_a_day() {
    for delay in ["-60", "90000"] {
        let keys = format!("restart = \"by-hand\"\nattended_hours = [6, 18]\nrestart_delay_s = {delay}");
        refused_once(pumping(&keys), &["restart_delay_s", "0 to 86400 s"]);
    }
}

#[test]
fn keys_of_restart_by_hand_stand_only_beside_it() {
    let only = "with restart = \"by-hand\" only";
    refused_once(
        pumping("attended_hours = [6, 18]"),
        &["attended_hours", "without `restart`", only],
    );
    refused_once(
        pumping("restart = \"automatic\"\nrestart_delay_s = 60"),
        &["restart_delay_s", "beside restart = \"automatic\"", only],
    );
    refused_once(
        pumping("restart = \"manual\""),
        &["restart", "\"automatic\", \"by-hand\""],
    );
}

#[test]
fn starters_close_in_one_or_two_windows() {
    let restart = |keys: &str| read(&pumping(keys)).plant.restart;
    assert_eq!(restart(""), Restart::Automatic);
    assert_eq!(restart("restart = \"automatic\""), Restart::Automatic);
    let one = restart("restart = \"by-hand\"\nattended_hours = [18, 6]\nrestart_delay_s = 900");
    let night = DayHours::between(18, 6);
    assert!(
        matches!(one, Restart::ByHand { attended, delay_s } if attended == night && (delay_s - 900.0).abs() < 1e-9)
    );
    let two = restart("restart = \"by-hand\"\nattended_hours = [[6, 12], [14, 18]]");
    let Restart::ByHand { attended, delay_s } = two else {
        panic!("{two:?}");
    };
    let allowed = Hour::ALL.iter().filter(|hour| attended.allows(**hour)).count();
    assert!(allowed == 10 && !attended.allows(Hour::H12) && attended.allows(Hour::H14) && delay_s == 0.0);
}

#[test]
fn limits_of_starts_are_whole_and_within_reach() {
    for (file, line, says) in [
        ("motor.toml", "max_starts_per_day = 0", "1 to 1440"),
        ("motor.toml", "max_starts_per_day = 20.5", "whole"),
        ("motor.toml", "min_time_between_starts_s = 0", "1 to 7200 s"),
        ("motor.toml", "min_time_between_starts_s = -5", "1 to 7200 s"),
        ("drive.toml", "max_power_ups_per_day = 0", "1 to 1440"),
        ("drive.toml", "max_power_ups_per_day = 100000", "1 to 1440"),
    ] {
        let key = line.split(' ').next().unwrap();
        refused_once(with_line(file, line), &[key, says]);
    }
    for (file, line, says) in [
        ("drive.toml", "tracking_broken_loss_pct = 12", "0 to 10%"),
        ("drive.toml", "restart_power_pct = 90", "100 to 300%"),
        ("drive.toml", "restart_confirm_s = 700", "0 to 600 s"),
        ("drive.toml", "retry_wait_s = [300, 8000]", "0 to 7200 s"),
        ("drive.toml", "retry_wait_s = [1, 2, 3, 4, 5, 6, 7]", "1 to 6 values"),
        ("inverter.toml", "tracking_loss_pct = 11", "0 to 10%"),
        ("inverter.toml", "heat_derating_pct_per_k = -1", "0 to 10 %/K"),
        ("inverter.toml", "derating_temperature_c = 80", "20 to 70 °C"),
    ] {
        let key = line.split(' ').next().unwrap();
        refused_once(with_line(file, line), &[key, says]);
    }
    let changeover = |cycles: &str| {
        let keys = format!("[changeover]\nrated_cycles = {cycles}\n");
        Plant::new().replace("plant.toml", "[changeover]\n", &keys)
    };
    refused_once(changeover("1.5"), &["rated_cycles", "whole"]);
    refused_once(changeover("10"), &["rated_cycles", "100 to 100000000"]);
    assert_eq!(read(&changeover("100000")).plant.design.rated_cycles, Some(100_000.0));
}

#[test]
fn limits_of_starts_come_from_the_files_of_motor_and_drive() {
    let limits = |plant: &Plant| read(plant).plant.sets.first().unwrap().start_limits;
    assert_eq!(limits(&Plant::new()), StartLimits::default());
    let plant = with_line("motor.toml", "max_starts_per_day = 20\nmin_time_between_starts_s = 300");
    let plant = plant.replace(
        "drive.toml",
        "kind = \"drive\"",
        "kind = \"drive\"\nmax_power_ups_per_day = 50",
    );
    let given = StartLimits {
        motor_per_day: Some(20.0),
        motor_gap_s: Some(300.0),
        power_ups_per_day: Some(50.0),
    };
    assert_eq!(limits(&plant), given);
}

#[test]
fn a_drive_has_the_usual_way_of_starting_unless_its_file_gives_another() {
    let rule = |plant: &Plant| {
        let read = read(plant);
        read.plant.sets.first().unwrap().pump_set.drive().unwrap().start_rule().clone()
    };
    let usual = rule(&Plant::new());
    assert_eq!((usual.restart_power, usual.confirm_s), (1.25, 60.0));
    assert_eq!(usual.waits_s, [300.0, 600.0, 1200.0, 1800.0]);
    let lines = "kind = \"drive\"\nrestart_power_pct = 100\nrestart_confirm_s = 0\nretry_wait_s = [0]";
    assert!(rule(&Plant::new().replace("drive.toml", "kind = \"drive\"", lines)).is_at_once());
}
