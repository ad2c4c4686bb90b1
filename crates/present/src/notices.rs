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
        Notice::PaysByValueOnly => say!("notice-pays-by-value"),
        Notice::EveryRowPaysByValue => say!("notice-every-row-pays"),
    }
}

/// Several notices in words.
#[must_use]
pub fn notices(all: &[Notice]) -> Vec<String> {
    all.iter().map(notice).collect()
}
