//! Limits of starts and cycles that a year exceeds.

use daylift_plant::SetId;

use super::Notice;
use crate::stages::Stages;
use crate::starts::whole;
use crate::year::ArrangementYear;

/// A time between starts counts as the minimum if it is less by no more than this \[s\]: rounding stays far below.
const SAME_TIME_S: f64 = 1e-3;

/// Notices on limits of motors, drives and changeover that a year exceeds.
pub(super) fn notices_of_starts(stages: &Stages<'_>, year: &ArrangementYear) -> Vec<Notice> {
    let sets = stages.plant.sets.keys();
    let mut out: Vec<Notice> = sets.flat_map(|set| of_set(stages, year, set)).collect();
    out.extend(of_changeover(stages, year));
    out
}

fn of_set(stages: &Stages<'_>, year: &ArrangementYear, id: SetId) -> Vec<Notice> {
    let plant = stages.plant;
    let (Some(set), Some(starts), Some(ups)) = (
        plant.sets.get(id),
        year.result.starts.get(id),
        year.result.power_ups.get(id),
    ) else {
        return Vec::new();
    };
    let limits = &set.start_limits;
    let name = || (plant.sets.len() > 1).then(|| set.name.clone());
    let a_day = limits.motor_per_day.filter(|allowed| whole(starts.most_in_a_day) > whole(*allowed));
    let gap = limits.motor_gap_s.filter(|allowed_s| starts.least_gap_s < allowed_s - SAME_TIME_S);
    let power_ups = limits.power_ups_per_day.filter(|allowed| ups.most_in_a_day > whole(*allowed));
    let a_day = a_day.map(|allowed| Notice::MotorStarts {
        set: name(),
        most_in_a_day: starts.most_in_a_day,
        allowed,
    });
    let gap = gap.map(|allowed_s| Notice::MotorStartsTooClose {
        set: name(),
        least_gap_s: starts.least_gap_s,
        allowed_s,
    });
    let power_ups = power_ups.map(|allowed| Notice::DrivePowerUps {
        set: name(),
        most_in_a_day: ups.most_in_a_day,
        allowed,
    });
    [a_day, gap, power_ups].into_iter().flatten().collect()
}

/// Years over which the cycles of a changeover are counted where the plant gives no years of money: a common life of such
/// gear, usual practice, no source.
const YEARS_WITHOUT_MONEY: u32 = 15;

fn of_changeover(stages: &Stages<'_>, year: &ArrangementYear) -> Option<Notice> {
    let rated = stages.plant.design.rated_cycles?;
    let years = stages.plant.costs.as_ref().map_or(YEARS_WITHOUT_MONEY, |costs| costs.terms.years);
    let in_year = u32::try_from(stages.changeover_cycles(year.arrangement)).unwrap_or(u32::MAX);
    let cycles = f64::from(in_year) * f64::from(years);
    (cycles > rated).then_some(Notice::ChangeoverCycles { cycles, years, rated })
}
