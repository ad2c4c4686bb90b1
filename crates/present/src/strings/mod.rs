//! The answer on strings in words: conditions, verdict, findings.

pub mod layouts;
pub mod measures;
pub mod sub_array;

use daylift_study::strings::{CanBeBuilt, ExtremeRow, Finding, StringsAnswer, Verdict, Weight};

use crate::findings::{remedy, says};
use crate::{say, term};

/// Cautions that go with every check of strings.
#[must_use]
pub fn cautions() -> [String; 3] {
    [
        say!("caution-strings.live"),
        say!("caution-strings.scope"),
        say!("caution-strings.codes"),
    ]
}

/// Lines with the plant, the coldest air, the hot noon, and the module's voltages.
#[must_use]
pub fn head(found: &StringsAnswer) -> [String; 4] {
    let c = &found.conditions;
    let volts = |value: f64| format!("{value:.2}");
    [
        say!("strings-head", plant = &found.plant),
        say!("strings-coldest", air = air(&c.coldest)),
        say!(
            "strings-noon",
            sun = format!("{:.0}", c.noon_w_m2),
            air = air(&c.hottest),
            cells = format!("{:.1}", c.noon_cell_c),
        ),
        say!(
            "strings-module",
            cold = volts(c.module_cold_open_v),
            hot = volts(c.module_hot_open_v),
            best = volts(c.module_hot_max_power_v),
        ),
    ]
}

/// An extreme air temperature and its source.
fn air(e: &ExtremeRow) -> String {
    let degrees = |value: f64| format!("{value:.1}");
    let of_record = e
        .record_c
        .is_some_and(|record_c| (record_c - e.weather_c).abs() > 0.0 && record_c.eq(&e.air_c));
    match (of_record, e.record_c) {
        (true, _) => say!(
            "strings-air.on-record",
            air = degrees(e.air_c),
            weather = degrees(e.weather_c)
        ),
        (false, Some(record_c)) => {
            say!(
                "strings-air.of-weather",
                air = degrees(e.air_c),
                record = degrees(record_c)
            )
        }
        (false, None) => say!("strings-air", air = degrees(e.air_c)),
    }
}

/// Whether the strings can be built, in a sentence.
#[must_use]
pub fn verdict(found: &CanBeBuilt) -> String {
    let warns = found.warns;
    match found.verdict {
        Verdict::Good => say!("verdict-good.terminal", warns = warns),
        Verdict::Assumed => say!(
            "verdict-assumed.terminal",
            warns = warns,
            count = found.unconfirmed.len(),
            values = found.unconfirmed.join(", "),
        ),
        Verdict::Forbidden => say!("verdict-forbidden.terminal", warns = warns, count = found.forbids),
    }
}

/// Why the strings should not be built, in a line that names the command with the details; `None` if they can be built.
/// `plant` is the plant as the user types it.
#[must_use]
pub fn verdict_in_short(found: &CanBeBuilt, plant: &str) -> Option<String> {
    match found.verdict {
        Verdict::Good => None,
        Verdict::Assumed => Some(say!(
            "verdict-assumed.in-short",
            count = found.unconfirmed.len(),
            plant = plant,
        )),
        Verdict::Forbidden => Some(say!("verdict-forbidden.in-short", count = found.forbids, plant = plant,)),
    }
}

/// The text of a finding after its severity: the finding, its fix, and the values that it depends on.
#[must_use]
pub fn finding(finding: &Finding) -> String {
    let mut parts = vec![format!("{}: {}", finding.about, says(&finding.found))];
    let remedy = remedy(&finding.found);
    if !remedy.is_empty() {
        parts.push(say!("finding-remedy", remedy = remedy));
    }
    if finding.weight != Weight::Notes && !finding.unconfirmed.is_empty() {
        parts.push(say!("finding-unconfirmed", values = finding.unconfirmed.join(", ")));
    }
    parts.join(". ")
}

/// The severity of a finding in a word, on the terminal.
#[must_use]
pub fn weight(weight: Weight) -> String {
    term!("weight-", weight, ".terminal")
}
