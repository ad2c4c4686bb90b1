//! A clear, a mean and a poor day, chosen from the year.

use daylift_supply::DcYear;
use daylift_units::Axis;
use daylift_units::constants::{DAY_S, KWH_J};
use schemars::JsonSchema;
use serde::Serialize;

use super::{civil_days, date_of};
use crate::stages::Stages;

/// Share of the days with less energy from the array than the poor day.
const POOR: f64 = 0.1;

/// A day chosen from the year, with the reason.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct DayChoice {
    /// `clear`, `mean` or `poor`.
    pub kind: String,
    /// Day of the year, counted from 0.
    pub day: u32,
    /// Civil date.
    pub date: String,
    /// Why it was chosen.
    pub reason: String,
}

/// A clear, a mean and a poor day, by the array's available energy; empty without an array.
#[must_use]
pub fn days_to_choose(stages: &Stages<'_>) -> Vec<DayChoice> {
    let Some(dc) = &stages.dc else { return Vec::new() };
    let axis = &stages.axis;
    let days = civil_days(axis);
    let mut ranked: Vec<(usize, f64)> = array_by_day_kwh(dc, axis, &days).into_iter().enumerate().collect();
    // Parts of days at the ends of the year would count as poor days.
    ranked.retain(|(day, _)| days[*day].1 - days[*day].0 > 0.9 * DAY_S);
    ranked.sort_by(|a, b| a.1.total_cmp(&b.1));
    let count = ranked.len();
    if count == 0 {
        return Vec::new();
    }
    #[expect(clippy::cast_precision_loss, reason = "some hundred days")]
    let mean = ranked.iter().map(|(_, kwh)| kwh).sum::<f64>() / count as f64;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a share of some hundred days"
    )]
    let poor = (POOR * count as f64) as usize;
    let off = |day: &&(usize, f64)| (day.1 - mean).abs();
    let nearest = ranked.iter().min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(&ranked[0]);
    let choice = |kind: &str, (day, kwh): (usize, f64), reason: String| DayChoice {
        kind: kind.to_owned(),
        day: u32::try_from(day).unwrap_or(u32::MAX),
        date: date_of(axis, days[day].0),
        reason: format!("{kwh:.0} kWh from the array: {reason}"),
    };
    vec![
        choice("clear", ranked[count - 1], "the highest of the year".to_owned()),
        choice("mean", *nearest, format!("closest to the yearly mean, {mean:.0} kWh")),
        choice("poor", ranked[poor], "one day in ten has less".to_owned()),
    ]
}

fn array_by_day_kwh(dc: &DcYear, axis: &Axis, days: &[(f64, f64)]) -> Vec<f64> {
    let mut sums = vec![0.0; days.len()];
    let mut day = 0;
    let mut middle_s = axis.step_s() / 2.0;
    for step in 0..axis.steps() {
        while day + 1 < days.len() && middle_s >= days[day].1 {
            day += 1;
        }
        let power_w: f64 = dc.groups.iter().map(|group| group.available_w.at(step)).sum();
        sums[day] += power_w * axis.step_s() / KWH_J;
        middle_s += axis.step_s();
    }
    sums
}
