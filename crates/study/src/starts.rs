//! Starts of motors and drives and cycles of the changeover.

use crate::answer::Starts;
use crate::stages::Stages;
use crate::year::ArrangementYear;

/// The starts of a year.
pub(crate) fn starts(stages: &Stages<'_>, year: &ArrangementYear) -> Starts {
    let sets = &year.result.starts;
    let on_sun: Option<f64> = sets.iter().map(|set| set.on_sun).sum();
    Starts {
        motor: whole(sets.iter().map(|set| set.on_bus).sum()),
        most_in_a_day: whole(sets.iter().map(|set| set.most_in_a_day).fold(0.0, f64::max)),
        on_sun: on_sun.map(whole),
        drive_power_ups: year.result.power_ups.iter().map(|set| set.in_year).sum(),
        changeover_cycles: stages.changeover_cycles(year.arrangement),
    }
}

/// A count as a whole number.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a count: at most a few for each second of a year"
)]
pub(crate) fn whole(count: f64) -> u32 {
    count.round() as u32
}
