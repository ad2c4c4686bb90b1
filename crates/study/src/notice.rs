//! Notices for the reader of a row, as facts and figures. The words are in `present`.

mod starts;

use daylift_electrics::{Finding, Weight};
use daylift_plant::Plant;
use daylift_supply::Flow;
use daylift_units::Warning;
use daylift_units::constants::KWH_J;

use self::starts::notices_of_starts;
use crate::money::pays_by_value_only;
use crate::stages::Stages;
use crate::strings::can_be_built;
use crate::year::ArrangementYear;

/// Residual of a balance above which there is a notice. Rounding stays far below.
const MAX_RESIDUAL: f64 = 1e-9;
/// Running hours of a generator below its minimum load above which there is a notice \[h a year\].
const LOW_LOAD_H: f64 = 10.0;

/// A notice for the reader of a row.
#[derive(Debug, Clone, PartialEq)]
pub enum Notice {
    /// A warning of reading the plant or of the shared stages, as text.
    Reading(String),
    /// A rule that the plant's own strings break, or another warning about them.
    Strings(Finding),
    /// Repeating the year did not make the tank's content at the end agree with that at the start.
    TankDisagrees {
        /// Content at the start \[m³\].
        start_m3: f64,
        /// Content at the end \[m³\].
        end_m3: f64,
    },
    /// The same for the battery.
    BatteryDisagrees {
        /// Content at the start \[kWh\].
        start_kwh: f64,
        /// Content at the end \[kWh\].
        end_kwh: f64,
    },
    /// A balance does not close. Residuals are fractions of the flow.
    Imbalance {
        /// Residual of energy.
        energy: f64,
        /// Residual of water.
        water: f64,
        /// Residual of hours.
        hours: f64,
    },
    /// The generator never runs.
    GeneratorIdle,
    /// The generator runs below its minimum load.
    GeneratorLowLoad {
        /// Running time below the minimum load \[h a year\].
        hours: f64,
    },
    /// A motor starts more often in a day than its file allows.
    MotorStarts {
        /// The pump set, if there are several.
        set: Option<String>,
        /// The most starts in a civil day.
        most_in_a_day: f64,
        /// The most that are allowed.
        allowed: f64,
    },
    /// A motor starts again sooner than its file allows.
    MotorStartsTooClose {
        /// The pump set, if there are several.
        set: Option<String>,
        /// Least time between two starts on the bus \[s\].
        least_gap_s: f64,
        /// The least that is allowed \[s\].
        allowed_s: f64,
    },
    /// A drive is powered up more often in a day than its file allows.
    DrivePowerUps {
        /// The pump set, if there are several.
        set: Option<String>,
        /// The most power-ups in a civil day.
        most_in_a_day: u32,
        /// The most that are allowed.
        allowed: f64,
    },
    /// The changeover makes more cycles than its contacts are rated for.
    ChangeoverCycles {
        /// Cycles in the years of the money calculation.
        cycles: f64,
        /// Those years.
        years: u32,
        /// The rating.
        rated: f64,
    },
    /// The row pays only because of the value of what is missing.
    PaysByValueOnly,
    /// With the values of what is missing every row pays, and some pay only because of them.
    EveryRowPaysByValue,
}

/// What forbids building the plant's own strings, or warns of them: the verdict of `strings` and `check`.
pub(crate) fn of_strings(plant: &Plant) -> Vec<Notice> {
    // What is not confirmed decides how far a finding may be relied on, not whether it is one.
    let found = can_be_built(plant, &[]).map_or_else(Vec::new, |(_, findings)| findings);
    found
        .into_iter()
        .filter(|finding| finding.weight != Weight::Notes)
        .map(Notice::Strings)
        .collect()
}

/// Warnings of reading the plant, then those of the stages.
pub(crate) fn warnings_of<'a>(read: &'a [Warning], stages: &'a Stages<'_>) -> impl Iterator<Item = Notice> + 'a {
    read.iter().chain(&stages.warnings).map(|warning| Notice::Reading(warning.to_string()))
}

/// Notices on a year by itself and compared with the reference.
pub(crate) fn notices(stages: &Stages<'_>, year: &ArrangementYear, reference: &ArrangementYear) -> Vec<Notice> {
    let result = &year.result;
    let tank = (!result.tank_agrees).then_some(Notice::TankDisagrees {
        start_m3: result.tank_start_m3,
        end_m3: result.tank_end_m3,
    });
    let battery = (!result.battery_agrees).then(|| Notice::BatteryDisagrees {
        start_kwh: result.battery_j[0] / KWH_J,
        end_kwh: result.battery_j[1] / KWH_J,
    });
    let r = result.residuals;
    let imbalance = (r.energy.max(r.water).max(r.hours) > MAX_RESIDUAL).then_some(Notice::Imbalance {
        energy: r.energy,
        water: r.water,
        hours: r.hours,
    });
    let sum = result.ledger.year();
    let idle = (year.arrangement.generator && sum[Flow::GeneratorRunning] <= 0.0).then_some(Notice::GeneratorIdle);
    let hours = sum.shown(Flow::GeneratorBelowLeast);
    let low = (hours > LOW_LOAD_H).then_some(Notice::GeneratorLowLoad { hours });
    let by_value = pays_by_value_only(stages.plant, year, reference).then_some(Notice::PaysByValueOnly);
    let of_year = [tank, battery, imbalance, idle, low, by_value].into_iter().flatten();
    of_year.chain(notices_of_starts(stages, year)).collect()
}
