//! What changes from one row of a comparison to another: ids and figures; the words are the reader's.

use daylift_plant::{Arrangement, Wiring};
use daylift_supply::{Flow, LossCause};
use daylift_units::Id;

use crate::answer::Row;
use crate::compare::{ComparedRow, RowDetail};

/// Figures that a farmer asks for, the most telling first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// Water delivered a year, in m³.
    Water,
    /// Pumping in outages, in h.
    OutagePumping,
    /// The longest dry spell, in days.
    DrySpell,
    /// Load not served, in kWh.
    Unserved,
    /// Capital, in the plant's currency.
    Capital,
    /// A year's running: bill, fuel and upkeep of the first year, in the plant's currency.
    YearlyCost,
    /// Taken from the grid, in kWh.
    Imported,
    /// Exported at a credit, in kWh.
    ExportedPaid,
    /// Sun lost while the grid is away, in kWh.
    LostInOutages,
    /// Sun that nobody takes, in kWh.
    NotTaken,
    /// Through the battery, in kWh.
    ThroughBattery,
    /// Fuel, in l.
    Fuel,
}

impl Id for Quantity {
    const ALL: &'static [Self] = &[
        Self::Water,
        Self::OutagePumping,
        Self::DrySpell,
        Self::Unserved,
        Self::Capital,
        Self::YearlyCost,
        Self::Imported,
        Self::ExportedPaid,
        Self::LostInOutages,
        Self::NotTaken,
        Self::ThroughBattery,
        Self::Fuel,
    ];

    fn id(self) -> &'static str {
        match self {
            Self::Water => "water",
            Self::OutagePumping => "outage-pumping",
            Self::DrySpell => "dry-spell",
            Self::Unserved => "unserved",
            Self::Capital => "capital",
            Self::YearlyCost => "yearly-cost",
            Self::Imported => "imported",
            Self::ExportedPaid => "exported-paid",
            Self::LostInOutages => "lost-in-outages",
            Self::NotTaken => "not-taken",
            Self::ThroughBattery => "through-battery",
            Self::Fuel => "fuel",
        }
    }
}

impl Quantity {
    /// Its value in a row.
    fn of(self, row: &Row, detail: &RowDetail) -> f64 {
        match self {
            Self::Water => row.water_m3.of(Flow::Delivered),
            Self::OutagePumping => row.hours.of(Flow::PumpingInOutage),
            Self::DrySpell => as_f64(detail.water_secured.longest_dry_spell_days),
            Self::Unserved => row.load_kwh.of(Flow::Unserved),
            Self::Capital => row.money.capital,
            Self::YearlyCost => row.money.first_year_bill + detail.first_year_fuel + detail.first_year_upkeep,
            Self::Imported => row.grid_kwh.of(Flow::Imported),
            Self::ExportedPaid => row.array_kwh.of(Flow::ExportedPaid),
            Self::LostInOutages => row.array_kwh.lost(LossCause::GridDown),
            Self::NotTaken => NOT_TAKEN.iter().map(|cause| row.array_kwh.lost(*cause)).sum(),
            Self::ThroughBattery => row.battery_kwh.of(Flow::Discharged),
            Self::Fuel => row.generator.of(Flow::Fuel),
        }
    }
}

/// Causes for which nobody takes the sun.
const NOT_TAKEN: [LossCause; 4] = [
    LossCause::WaterNotWanted,
    LossCause::PumpAtFullSpeed,
    LossCause::ExportLimit,
    LossCause::BatteryLimit,
];

/// A figure that changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Change {
    /// Which.
    pub of: Quantity,
    /// By how much, above 0.
    pub amount: f64,
    /// Whether there is more of it.
    pub more: bool,
}

/// How the plant works otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Works {
    /// What runs while its sources are there.
    WithPower(Wiring),
    /// What becomes of pump and loads while there is no grid.
    WithoutGrid {
        /// The wiring.
        wiring: Wiring,
        /// Whether a generating set stands beside it.
        generator: bool,
    },
    /// A bigger tank takes the place of the tank.
    BiggerTank,
    /// It does not.
    TankStays,
}

/// What changes between two rows.
#[derive(Debug, Clone, PartialEq)]
pub struct Changes {
    /// How the plant works otherwise.
    pub works: Vec<Works>,
    /// What it does otherwise, the most telling first.
    pub figures: Vec<Change>,
}

/// A change below this share of the larger figure is none worth a word.
const WORTH_A_WORD: f64 = 0.005;

/// What changes when `to` takes the place of `from`.
#[must_use]
pub fn between(from: &ComparedRow, to: &ComparedRow) -> Changes {
    let worth = |of: &Quantity| {
        let (before, after) = (of.of(&from.row, &from.detail), of.of(&to.row, &to.detail));
        let amount = (after - before).abs();
        (amount > WORTH_A_WORD * before.abs().max(after.abs()) && amount > 0.0).then_some(Change {
            of: *of,
            amount,
            more: after > before,
        })
    };
    let mut figures: Vec<Change> = Quantity::ALL.iter().filter_map(worth).collect();
    // Less pumping for the same water is only a faster pump.
    let same_water = !figures.iter().any(|c| c.of == Quantity::Water);
    figures.retain(|c| !(same_water && c.of == Quantity::OutagePumping && !c.more));
    Changes {
        works: works(from.row.id, to.row.id),
        figures,
    }
}

#[expect(clippy::cast_precision_loss, reason = "days of a year")]
fn as_f64(days: usize) -> f64 {
    days as f64
}

fn works(from: Arrangement, to: Arrangement) -> Vec<Works> {
    let Arrangement { wiring, generator, .. } = to;
    let mut out = Vec::new();
    if from.wiring != wiring {
        out.push(Works::WithPower(wiring));
    }
    if from.wiring != wiring || from.generator != generator {
        out.push(Works::WithoutGrid { wiring, generator });
    }
    match (from.night_tank, to.night_tank) {
        (false, true) => out.push(Works::BiggerTank),
        (true, false) => out.push(Works::TankStays),
        _ => {}
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_generator_or_a_tank_beside_the_same_wiring_is_told_by_itself() {
        let plain = Arrangement::GRID_ONLY;
        assert!(works(plain, plain).is_empty());
        let with_generator = Works::WithoutGrid {
            wiring: Wiring::GridOnly,
            generator: true,
        };
        assert_eq!(works(plain, plain.with_generator()), [with_generator]);
        assert_eq!(works(plain.with_night_tank(), plain), [Works::TankStays]);
        assert_eq!(works(plain, Arrangement::DUAL_MODE.with_generator()).len(), 2);
    }
}
