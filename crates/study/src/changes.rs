//! What changes from one row of a comparison to another: ids and figures. The words are in `present`.

use daylift_plant::{Arrangement, Wiring};
use daylift_supply::{Flow, LossCause};
use daylift_units::Id;

use crate::answer::Row;
use crate::compare::{ComparedRow, RowDetail};

/// Figures that matter to a farmer, the most important first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// Capital, in the plant's currency.
    Capital,
    /// Running cost: bill, fuel and upkeep of the first year, in the plant's currency.
    YearlyCost,
    /// Water delivered in a year, in m³.
    Water,
    /// Load not served, in kWh.
    Unserved,
    /// Pumping in outages, in h.
    OutagePumping,
    /// The worst shortage of water, in m³.
    WorstShortage,
    /// Imported from the grid, in kWh.
    Imported,
    /// Exported for a credit, in kWh.
    ExportedPaid,
    /// Array energy lost while the grid is down, in kWh.
    LostInOutages,
    /// Array energy lost because nothing can use it, in kWh.
    NotTaken,
    /// Discharged from the battery, in kWh.
    ThroughBattery,
    /// Fuel, in litres.
    Fuel,
}

impl Id for Quantity {
    const ALL: &'static [Self] = &[
        Self::Capital,
        Self::YearlyCost,
        Self::Water,
        Self::Unserved,
        Self::OutagePumping,
        Self::WorstShortage,
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
            Self::WorstShortage => "worst-shortage",
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
            Self::WorstShortage => row.shortage.worst_m3,
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

/// Causes of loss when nothing can use the array's energy.
const NOT_TAKEN: [LossCause; 4] = [
    LossCause::WaterNotWanted,
    LossCause::PumpAtFullSpeed,
    LossCause::ExportLimit,
    LossCause::BatteryLimit,
];

/// A figure that changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Change {
    /// The figure.
    pub of: Quantity,
    /// Size of the change, above 0.
    pub amount: f64,
    /// Whether it increases.
    pub more: bool,
}

/// A difference in how the plant works.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Works {
    /// How pump and loads are supplied while the grid is on or the sun shines.
    WithPower(Wiring),
    /// What happens to pump and loads while the grid is down.
    WithoutGrid {
        /// The wiring.
        wiring: Wiring,
        /// Whether there is a generator.
        generator: bool,
    },
    /// A bigger tank replaces the tank.
    BiggerTank,
    /// The present tank is kept instead of a bigger one.
    TankStays,
}

/// What changes between two rows.
#[derive(Debug, Clone, PartialEq)]
pub struct Changes {
    /// Differences in how the plant works.
    pub works: Vec<Works>,
    /// Figures that change, the most important first.
    pub figures: Vec<Change>,
}

/// A change below this share of the larger figure is not reported.
const SMALLEST_CHANGE: f64 = 0.005;

/// What changes when `to` replaces `from`.
#[must_use]
pub fn between(from: &ComparedRow, to: &ComparedRow) -> Changes {
    let change = |of: &Quantity| {
        let (before, after) = (of.of(&from.row, &from.detail), of.of(&to.row, &to.detail));
        let amount = (after - before).abs();
        (amount > SMALLEST_CHANGE * before.abs().max(after.abs()) && amount > 0.0).then_some(Change {
            of: *of,
            amount,
            more: after > before,
        })
    };
    let mut figures: Vec<Change> = Quantity::ALL.iter().filter_map(change).collect();
    // Without all prices, bill, fuel and upkeep are not the whole running cost.
    figures.retain(|c| c.of != Quantity::YearlyCost || to.row.money.npv.is_some());
    // Fewer hours of pumping for the same water only mean a faster pump.
    let same_water = !figures.iter().any(|c| c.of == Quantity::Water);
    figures.retain(|c| !(same_water && c.of == Quantity::OutagePumping && !c.more));
    Changes {
        works: works(from.row.id, to.row.id),
        figures,
    }
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
    fn a_generator_or_a_tank_with_the_same_wiring_is_reported_alone() {
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
