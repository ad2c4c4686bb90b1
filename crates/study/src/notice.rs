//! What the reader of a row must know, as facts; the words are the reader's.

use daylift_electrics::{Finding, Weight};
use daylift_plant::{Arrangement, Plant};
use daylift_supply::Flow;
use daylift_units::Warning;
use daylift_units::constants::KWH_J;

use crate::same_service::{LessLoad, LessWater, less_load, less_water};
use crate::stages::Stages;
use crate::strings::can_be_built;
use crate::year::ArrangementYear;

/// Residual of a balance above which the row says so: rounding stays far below.
const GREATEST_RESIDUAL: f64 = 1e-9;
/// Running hours of a generating set below its least load that are worth a word.
const LOW_LOAD_H: f64 = 10.0;

/// Something that the reader of a row must know.
#[derive(Debug, Clone, PartialEq)]
pub enum Notice {
    /// A warning of reading the plant, in the words of the field that it is about.
    Reading(String),
    /// A rule that the plant's own strings break, or what else warns of them.
    Strings(Finding),
    /// The tank's content at the end of the year did not come to agree with that at its start \[m³\].
    TankDisagrees {
        /// At the start.
        start_m3: f64,
        /// At the end.
        end_m3: f64,
    },
    /// The same of the battery \[kWh\].
    BatteryDisagrees {
        /// At the start.
        start_kwh: f64,
        /// At the end.
        end_kwh: f64,
    },
    /// A balance does not close: what each misses as a fraction of the flow.
    BooksMiss {
        /// Energy.
        energy: f64,
        /// Water.
        water: f64,
        /// Hours.
        hours: f64,
    },
    /// The generating set never runs.
    GeneratorIdle,
    /// The generating set runs below its least load \[h a year\].
    GeneratorLowLoad {
        /// For so long.
        hours: f64,
    },
    /// More load is left in the dark than by today's way.
    LessLoad {
        /// How much more.
        less: LessLoad,
        /// Today's way.
        today: Arrangement,
    },
    /// Less water is delivered than by today's way.
    LessWater {
        /// How much less.
        less: LessWater,
        /// Today's way.
        today: Arrangement,
    },
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
pub(crate) fn noticed_of<'a>(read: &'a [Warning], stages: &'a Stages<'_>) -> impl Iterator<Item = Notice> + 'a {
    read.iter().chain(&stages.warnings).map(|warning| Notice::Reading(warning.to_string()))
}

/// What a year by itself, and beside the reference, gives to know.
pub(crate) fn notices(year: &ArrangementYear, reference: &ArrangementYear) -> Vec<Notice> {
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
    let books = (r.energy.max(r.water).max(r.hours) > GREATEST_RESIDUAL).then_some(Notice::BooksMiss {
        energy: r.energy,
        water: r.water,
        hours: r.hours,
    });
    let sum = result.ledger.year();
    let idle = (year.arrangement.generator && sum[Flow::GeneratorRunning] <= 0.0).then_some(Notice::GeneratorIdle);
    let hours = sum.shown(Flow::GeneratorBelowLeast);
    let low = (hours > LOW_LOAD_H).then_some(Notice::GeneratorLowLoad { hours });
    let today = reference.arrangement;
    let load = less_load(year, reference).map(|less| Notice::LessLoad { less, today });
    let water = less_water(year, reference).map(|less| Notice::LessWater { less, today });
    [tank, battery, books, idle, low, load, water].into_iter().flatten().collect()
}
