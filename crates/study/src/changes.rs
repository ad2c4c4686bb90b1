//! What changes from one row of a comparison to another, in words and figures.

use daylift_plant::{Arrangement, Wiring};
use daylift_supply::LossCause;

use crate::answer::Row;
use crate::compare::RowDetail;

/// A figure that changes: `amount` `unit` more or less of something.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// By how much, above 0.
    pub amount: f64,
    /// Unit, empty for a pure number.
    pub unit: String,
    /// Whether there is more of it.
    pub more: bool,
    /// Of what.
    pub of: &'static str,
}

/// What changes between two rows.
#[derive(Debug, Clone, PartialEq)]
pub struct Changes {
    /// How the plant works otherwise, a sentence each.
    pub works: Vec<&'static str>,
    /// What it does otherwise, the most telling first.
    pub figures: Vec<Change>,
}

/// A change below this share of the larger figure is none worth a word.
const WORTH_A_WORD: f64 = 0.005;

/// What changes when `to` takes the place of `from`.
#[must_use]
pub fn between(from: (&Row, &RowDetail), to: (&Row, &RowDetail)) -> Changes {
    let rows = [&from.0.id, &to.0.id].map(|id| Arrangement::from_id(id));
    let works = match rows {
        [Some(from), Some(to)] => works(from, to),
        _ => Vec::new(),
    };
    let currency = to.0.money.currency.as_str();
    let worth = |(of, unit, value): &Figure| {
        let (before, after) = (value(from.0, from.1), value(to.0, to.1));
        let amount = (after - before).abs();
        (amount > WORTH_A_WORD * before.abs().max(after.abs()) && amount > 0.0).then(|| Change {
            amount,
            unit: if unit.is_empty() {
                currency.to_owned()
            } else {
                (*unit).to_owned()
            },
            more: after > before,
            of,
        })
    };
    let mut figures: Vec<Change> = FIGURES.iter().filter_map(worth).collect();
    // Less pumping for the same water is only a faster pump.
    let same_water = !figures.iter().any(|c| c.of == WATER);
    figures.retain(|c| !(same_water && c.of == OUTAGE_PUMPING && !c.more));
    Changes { works, figures }
}

const WATER: &str = "water delivered a year";
const OUTAGE_PUMPING: &str = "pumping in outages";

/// What there is more or less of, its unit, and its value in a row.
type Figure = (&'static str, &'static str, fn(&Row, &RowDetail) -> f64);

/// Figures that a farmer asks for, the most telling first; money has the plant's currency as its unit. A year's running is
/// bill, fuel and upkeep of the first year.
const FIGURES: [Figure; 12] = [
    (WATER, "m³", |r, _| r.water_m3.delivered),
    (OUTAGE_PUMPING, "h", |r, _| r.hours.pumping_in_outage),
    ("in the longest dry spell", "days", |_, d| {
        as_f64(d.water_secured.longest_dry_spell_days)
    }),
    ("of load not served", "kWh", |r, _| r.load_kwh.unserved),
    ("to build", "", |r, _| r.money.capital),
    ("a year to run", "", |r, d| {
        r.money.first_year_bill + d.first_year_fuel + d.first_year_upkeep
    }),
    ("taken from the grid", "kWh", |r, _| r.grid_kwh.imported),
    ("exported at a credit", "kWh", |r, _| r.array_kwh.exported_paid),
    ("of the sun lost while the grid is away", "kWh", |r, _| {
        r.array_kwh.lost.of(LossCause::GridDown)
    }),
    ("of the sun that nobody takes", "kWh", |r, _| {
        let causes = [
            LossCause::WaterNotWanted,
            LossCause::PumpAtFullSpeed,
            LossCause::ExportLimit,
            LossCause::BatteryLimit,
        ];
        causes.iter().map(|c| r.array_kwh.lost.of(*c)).sum()
    }),
    ("through the battery", "kWh", |r, _| r.battery_kwh.discharged),
    ("of fuel", "l", |r, _| r.generator.fuel_l),
];

#[expect(clippy::cast_precision_loss, reason = "days of a year")]
fn as_f64(days: usize) -> f64 {
    days as f64
}

fn works(from: Arrangement, to: Arrangement) -> Vec<&'static str> {
    let mut out = Vec::new();
    if from.wiring != to.wiring {
        out.push(with_power(to.wiring));
    }
    if from.wiring != to.wiring || from.generator != to.generator {
        out.push(without_grid(to));
    }
    match (from.night_tank, to.night_tank) {
        (false, true) => out.push("A bigger tank is filled at its own hours."),
        (true, false) => out.push("The tank stays as it is."),
        _ => {}
    }
    out
}

/// How a wiring works while its sources are there, for a farmer.
const fn with_power(wiring: Wiring) -> &'static str {
    match wiring {
        Wiring::GridOnly => "No array.",
        Wiring::SolarDrive => "The pump runs from the sun alone; sun that it does not take is lost.",
        Wiring::SolarDriveWithGrid => {
            "The pump runs from the sun, and mains helps on its drive; sun that it does not take is lost."
        }
        Wiring::GridTied | Wiring::DualMode => "Sun feeds pump, loads and export as long as the grid is there.",
        Wiring::BatteryHybrid => "Sun and battery feed pump and loads, and export while the grid is there.",
    }
}

/// What becomes of pump and loads while there is no grid, for a farmer.
const fn without_grid(row: Arrangement) -> &'static str {
    match (row.wiring, row.generator) {
        (Wiring::GridOnly, false) => "Without the grid nothing runs.",
        (Wiring::GridOnly, true) => {
            "Without the grid a generating set runs the pump, and the loads that it is to feed."
        }
        (Wiring::SolarDrive | Wiring::SolarDriveWithGrid, false) => {
            "Without the grid the pump goes on, the loads do not."
        }
        (Wiring::SolarDrive | Wiring::SolarDriveWithGrid, true) => {
            "Without the grid the pump goes on, and a generating set runs what the sun does not."
        }
        (Wiring::GridTied, false) => "Without the grid nothing runs, and the sun is lost.",
        (Wiring::GridTied, true) => {
            "Without the grid the sun is lost, and a generating set runs the pump and what it is to feed."
        }
        (Wiring::DualMode, false) => {
            "Without the grid the array moves to the drive and runs the pump; the loads are dark."
        }
        (Wiring::DualMode, true) => {
            "Without the grid the array moves to the drive and runs the pump; a generating set runs what the sun does not."
        }
        (Wiring::BatteryHybrid, false) => "Without the grid pump and backed-up loads go on until the battery is empty.",
        (Wiring::BatteryHybrid, true) => {
            "Without the grid pump and backed-up loads go on; a generating set takes over when the battery is empty."
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_generator_or_a_tank_beside_the_same_wiring_is_told_by_itself() {
        let plain = Arrangement::GRID_ONLY;
        assert!(works(plain, plain).is_empty());
        assert!(works(plain, plain.with_generator())[0].contains("generating set"));
        assert!(works(plain.with_night_tank(), plain)[0].contains("tank stays"));
        assert_eq!(works(plain, Arrangement::DUAL_MODE.with_generator()).len(), 2);
    }
}
