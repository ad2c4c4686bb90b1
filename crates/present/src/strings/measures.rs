//! Rules with their values and limits.

use daylift_study::strings::{MeasureRow, Rule};

use super::weight;
use crate::number::{NONE, decimals_apart, grouped, significant};
use crate::{say, term};

/// A rule as a line: rule, device, value, limit, margin.
pub type MeasureLine = [String; 5];

/// Names of the columns.
#[must_use]
pub fn header() -> MeasureLine {
    [
        say!("measures-title"),
        say!("measures-device"),
        say!("measures-value"),
        say!("measures-limit"),
        say!("measures-room"),
    ]
}

/// A line for every rule, for the device with the smallest margin; for every device if `all`.
#[must_use]
pub fn lines(measures: &[MeasureRow], all: bool) -> Vec<MeasureLine> {
    let of_rule = |of_rule: &[MeasureRow]| -> Vec<MeasureLine> {
        let mut devices: Vec<&MeasureRow> = of_rule.iter().collect();
        devices.sort_by(|a, b| margin(a).total_cmp(&margin(b)));
        let shown = if all { devices.len() } else { 1 };
        let of = (shown < devices.len()).then_some(devices.len());
        devices.iter().take(shown).map(|m| line(m, of)).collect()
    };
    measures.chunk_by(|a, b| a.rule == b.rule).flat_map(of_rule).collect()
}

/// The line of a measure; `of`: the number of devices, if only one of several is shown.
fn line(m: &MeasureRow, of: Option<usize>) -> MeasureLine {
    let about = match of {
        Some(count) => say!("measures-of", about = &m.about, count = count),
        None => m.about.clone(),
    };
    let decimals = m.limit.map_or(1, |limit| decimals_apart(m.value, limit, 1));
    let limit = m.limit.map_or_else(
        || say!("measures-not-given"),
        |limit| amount_with(limit, &m.unit, decimals),
    );
    [
        m.rule.id().to_owned(),
        about,
        amount_with(m.value, &m.unit, decimals),
        limit,
        margin_text(m),
    ]
}

/// Margin to the limit as a share of the limit; negative beyond it. Without a limit it sorts first.
fn margin(m: &MeasureRow) -> f64 {
    match (m.limit, m.weight) {
        (None, _) => f64::NEG_INFINITY,
        (Some(limit), None) => (limit - m.value).abs() / limit.abs().max(f64::MIN_POSITIVE),
        (Some(limit), Some(_)) => -(limit - m.value).abs() / limit.abs().max(f64::MIN_POSITIVE),
    }
}

fn margin_text(m: &MeasureRow) -> String {
    let Some(limit) = m.limit else { return NONE.to_owned() };
    let distance = amount((limit - m.value).abs(), &m.unit);
    match m.weight {
        // Above the modules' maximum without a fuse, but a fuse in each string is enough.
        None if matches!(m.rule, Rule::FuseOnInverter | Rule::FuseOnDrive) && m.value > limit => {
            say!("measures-by-fuses")
        }
        None => distance,
        Some(broken) => say!("measures-beyond", distance = distance, weight = weight(broken)),
    }
}

/// A value with its unit; less than one with a figure more, less than a hundredth with two figures.
fn amount(value: f64, unit: &str) -> String {
    amount_with(value, unit, 1)
}

/// The same, with `decimals` for values from 1 on.
fn amount_with(value: f64, unit: &str, decimals: usize) -> String {
    match unit {
        "" => grouped(value, 0),
        unit if value.abs() <= f64::EPSILON => format!("0 {unit}"),
        unit if value.abs() < 0.01 => format!("{} {unit}", significant(2, value)),
        unit if value.abs() < 1.0 => format!("{} {unit}", grouped(value, decimals.max(2))),
        unit => format!("{} {unit}", grouped(value, decimals)),
    }
}

/// A violated rule in a short phrase.
#[must_use]
pub fn broken(m: &MeasureRow) -> String {
    let decimals = match m.limit {
        Some(limit) if m.beyond < 1.0 => decimals_apart(m.value, limit, 2),
        _ => 1,
    };
    let (value, beyond) = (amount_with(m.value, &m.unit, decimals), amount(m.beyond, &m.unit));
    // A device with its own name needs no article.
    let about = if m.about.starts_with("inverter ") {
        m.about.clone()
    } else {
        say!("the-device", device = &m.about)
    };
    if m.rule == Rule::PumpSpeed && m.value <= 0.0 {
        return say!("short-pump-speed.stopped", about = about);
    }
    term!("short-", m.rule, value = value, beyond = beyond, about = about)
}
