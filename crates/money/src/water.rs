//! What a cubic metre costs.

use crate::costs::{RowCosts, Terms};
use crate::measures::{annuity_factor, npv};

/// Discounted cost per cubic metre over N years; `None` when no water is delivered or there are no years.
///
/// (capital + Σ yearly cost, discounted) ÷ (Σ delivered m³, discounted). The yearly cost is upkeep + fuel + replacements +
/// bill − the bill of the farm's loads alone on the grid: what the water costs, without what the rest of the farm would
/// have cost anyway. Savings against `reference` shrink with the array's age as in [`RowCosts::years`]. The delivered
/// water is the same in every year. The form is that of the levelised cost of Short, Packey & Holt (1995), *A Manual for
/// the Economic Evaluation of Energy Efficiency and Renewable Energy Technologies*, NREL/TP-462-5173.
#[must_use]
pub fn cost_per_m3(row: &RowCosts, reference: &RowCosts, terms: &Terms) -> Option<f64> {
    let yearly = row.years(reference, terms).map(|year| year.total() - year.loads_only_bill);
    let flows: Vec<f64> = std::iter::once(row.capital).chain(yearly).collect();
    let water_m3 = row.delivered_m3 * annuity_factor(terms.discount_rate, terms.years);
    (water_m3 > 0.0).then(|| npv(terms.discount_rate, &flows) / water_m3)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Bill, EnergyCost};

    const PLANT: RowCosts = RowCosts {
        capital: 20_000.0,
        upkeep_per_year: 300.0,
        energy: EnergyCost {
            bill: Bill {
                energy_charge: 0.0,
                fixed_charge: 0.0,
                export_credit: 0.0,
            },
            fuel: 0.0,
        },
        missing_per_year: 0.0,
        replacements: Vec::new(),
        delivered_m3: 30_000.0,
        has_array: true,
        loads_only_bill: 0.0,
    };
    const TERMS: Terms = Terms {
        years: 20,
        discount_rate: 0.08,
        price_escalation: 0.0,
        export_credit_escalation: 0.0,
        inflation: 0.0,
        fuel_escalation: 0.0,
        yearly_degradation: 0.0,
    };

    fn charged(energy_charge: f64) -> EnergyCost {
        let bill = Bill {
            energy_charge,
            ..Bill::default()
        };
        EnergyCost { bill, fuel: 0.0 }
    }

    #[test]
    fn levelised_cost_of_a_plant_of_twenty_thousand() {
        // Independent computation with the formula of Short, Packey & Holt (1995): per m³, and per unit of 18 000 a year.
        assert!((cost_per_m3(&PLANT, &PLANT, &TERMS).unwrap() - 0.0779).abs() < 0.5e-4);
        let smaller = RowCosts {
            delivered_m3: 18_000.0,
            ..PLANT
        };
        assert!((cost_per_m3(&smaller, &smaller, &TERMS).unwrap() - 0.129_84).abs() < 0.5e-5);
    }

    #[test]
    fn what_the_loads_would_have_cost_anyway_is_not_the_waters() {
        // Worked by hand: at a rate of 0, (20 000 + 20·(300 + 1000 − 400)) / 600 000 = 0.063 333…
        let row = RowCosts {
            energy: charged(1000.0),
            loads_only_bill: 400.0,
            ..PLANT
        };
        let terms = Terms {
            discount_rate: 0.0,
            ..TERMS
        };
        assert!((cost_per_m3(&row, &row, &terms).unwrap() - 38_000.0 / 600_000.0).abs() < 1e-12);
    }

    #[test]
    fn what_an_older_array_no_longer_saves_is_in_the_cost() {
        // Worked by hand: at a rate of 0 over two years, d = 2 %, a bill of 1000 against one of 3000 without the array:
        // 1000, then 3000 − 2000·0.98 = 1040; (20 000 + 2·300 + 2040) / 60 000 = 0.377 333…
        let row = RowCosts {
            energy: charged(1000.0),
            ..PLANT
        };
        let reference = RowCosts {
            energy: charged(3000.0),
            ..PLANT
        };
        let terms = Terms {
            years: 2,
            discount_rate: 0.0,
            yearly_degradation: 0.02,
            ..TERMS
        };
        assert!((cost_per_m3(&row, &reference, &terms).unwrap() - 22_640.0 / 60_000.0).abs() < 1e-12);
    }

    #[test]
    fn without_water_there_is_no_cost_of_it() {
        let dry = RowCosts {
            delivered_m3: 0.0,
            ..PLANT
        };
        assert_eq!(cost_per_m3(&dry, &dry, &TERMS), None);
    }
}
