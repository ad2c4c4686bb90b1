//! The bill of one year.

/// Parts of a year's electricity bill.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Bill {
    /// Imported energy at the price of its hour.
    pub energy_charge: f64,
    /// Fixed charges of the twelve months.
    pub fixed_charge: f64,
    /// Credit for exported energy: a positive number, which is subtracted.
    pub export_credit: f64,
}

impl Bill {
    /// The bill of a year.
    ///
    /// `imported` gives, for each price, the energy taken from the grid \[J\] and the price \[per J\]. `exported` gives, for
    /// each credit, the energy exported \[J\] and the credit \[per J\]. The fixed charge is due twelve times.
    ///
    /// ```
    /// // Worked by hand: 1000 kWh at 0.20, twelve months at 10, and 100 kWh exported at 0.05.
    /// let kwh = 3.6e6;
    /// let bill = daylift_money::Bill::of_year([(1000.0 * kwh, 0.20 / kwh)], [(100.0 * kwh, 0.05 / kwh)], 10.0);
    /// assert!((bill.total() - (200.0 + 120.0 - 5.0)).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn of_year(
        imported: impl IntoIterator<Item = (f64, f64)>,
        exported: impl IntoIterator<Item = (f64, f64)>,
        fixed_per_month: f64,
    ) -> Self {
        Self {
            energy_charge: imported.into_iter().map(|(energy_j, price_per_j)| energy_j * price_per_j).sum(),
            fixed_charge: 12.0 * fixed_per_month,
            export_credit: exported.into_iter().map(|(energy_j, credit_per_j)| energy_j * credit_per_j).sum(),
        }
    }

    /// What the farm is charged, before the credit.
    #[must_use]
    pub fn charges(&self) -> f64 {
        self.energy_charge + self.fixed_charge
    }

    /// What the farm pays: charges less credit; below 0 when the credit is more than the charges.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.charges() - self.export_credit
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use daylift_units::constants::KWH_J;

    #[test]
    fn two_prices_a_fixed_charge_and_a_credit() {
        // Worked by hand: 5000·0.24 + 3000·0.11 + 12·15 − 2000·0.06 = 1200 + 330 + 180 − 120 = 1590.
        let imported = [(5000.0 * KWH_J, 0.24 / KWH_J), (3000.0 * KWH_J, 0.11 / KWH_J)];
        let bill = Bill::of_year(imported, [(2000.0 * KWH_J, 0.06 / KWH_J)], 15.0);
        assert!((bill.energy_charge - 1530.0).abs() < 1e-9);
        assert!((bill.charges() - 1710.0).abs() < 1e-9);
        assert!((bill.total() - 1590.0).abs() < 1e-9);
    }

    #[test]
    fn a_farm_without_a_grid_pays_nothing() {
        assert!(Bill::of_year([], [], 0.0).total() == 0.0);
    }
}
