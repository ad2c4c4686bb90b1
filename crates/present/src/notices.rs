//! Notices on a row, in words.

use daylift_study::Notice;
use daylift_study::strings::Weight;

use crate::findings;
use crate::number::grouped;
use crate::say;

/// A notice in words.
#[must_use]
pub fn notice(notice: &Notice) -> String {
    let tenth = |value: f64| grouped(value, 1);
    let whole = |value: f64| grouped(value, 0);
    let tiny = |value: f64| format!("{value:.1e}");
    match notice {
        Notice::Reading(text) => text.clone(),
        Notice::Strings(finding) => {
            let (about, says) = (&finding.about, findings::says(&finding.found));
            if finding.weight == Weight::Forbids {
                say!("notice-strings.forbids", about = about, says = says)
            } else {
                say!("notice-strings", about = about, says = says)
            }
        }
        Notice::TankDisagrees { start_m3, end_m3 } => {
            say!("notice-tank-disagrees", start = tenth(*start_m3), end = tenth(*end_m3))
        }
        Notice::BatteryDisagrees { start_kwh, end_kwh } => {
            say!(
                "notice-battery-disagrees",
                start = tenth(*start_kwh),
                end = tenth(*end_kwh)
            )
        }
        Notice::Imbalance { energy, water, hours } => {
            say!(
                "notice-books-miss",
                energy = tiny(*energy),
                water = tiny(*water),
                hours = tiny(*hours)
            )
        }
        Notice::GeneratorIdle => say!("notice-generator-idle"),
        Notice::GeneratorLowLoad { hours } => say!("notice-generator-low-load", hours = whole(*hours)),
        Notice::MotorStarts { .. }
        | Notice::MotorStartsTooClose { .. }
        | Notice::DrivePowerUps { .. }
        | Notice::ChangeoverCycles { .. } => of_starts(notice),
        Notice::PaysByValueOnly => say!("notice-pays-by-value"),
        Notice::EveryRowPaysByValue => say!("notice-every-row-pays"),
    }
}

/// A notice on starts that exceed a limit.
fn of_starts(notice: &Notice) -> String {
    let whole = |value: f64| grouped(value, 0);
    let minutes = |seconds: f64| grouped(seconds / 60.0, 1);
    let part = |of_one: String, of_set: fn(&str) -> String, set: &Option<String>| match set {
        Some(set) => of_set(set),
        None => of_one,
    };
    let motor = |set: &Option<String>| part(say!("part-motor"), |set| say!("part-motor.of", set = set), set);
    let drive = |set: &Option<String>| part(say!("part-drive"), |set| say!("part-drive.of", set = set), set);
    match notice {
        Notice::MotorStarts {
            set,
            most_in_a_day,
            allowed,
        } => say!(
            "notice-motor-starts",
            part = motor(set),
            most = whole(*most_in_a_day),
            allowed = whole(*allowed)
        ),
        Notice::MotorStartsTooClose {
            set,
            least_gap_s,
            allowed_s,
        } => say!(
            "notice-motor-starts-close",
            part = motor(set),
            gap = minutes(*least_gap_s),
            allowed = minutes(*allowed_s)
        ),
        Notice::DrivePowerUps {
            set,
            most_in_a_day,
            allowed,
        } => say!(
            "notice-power-ups",
            part = drive(set),
            most = most_in_a_day.to_string(),
            allowed = whole(*allowed)
        ),
        Notice::ChangeoverCycles { cycles, years, rated } => say!(
            "notice-changeover-cycles",
            cycles = whole(*cycles),
            years = *years,
            rated = whole(*rated)
        ),
        _ => String::new(),
    }
}

/// Several notices in words.
#[must_use]
pub fn notices(all: &[Notice]) -> Vec<String> {
    all.iter().map(notice).collect()
}
