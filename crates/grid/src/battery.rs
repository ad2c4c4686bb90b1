//! The battery with its grid-forming inverter, as plain checked data. Its state of charge is tracked where the year is
//! simulated (`supply`).

use daylift_units::Fault;
use daylift_units::fields::battery as fields;
use daylift_units::{fingerprint, ids};

/// Values from a battery's datasheet. Powers are at the AC side of its inverter.
#[derive(Debug, Clone, PartialEq)]
pub struct BatterySheet {
    /// Name.
    pub name: String,
    /// Energy between empty and full \[J\].
    pub capacity_j: f64,
    /// Content at which discharging stops, a fraction of the capacity.
    pub least_content: f64,
    /// Maximum charge power \[W\].
    pub charge_w: f64,
    /// Maximum discharge power \[W\].
    pub discharge_w: f64,
    /// Efficiency from AC into the battery, a fraction.
    pub charge_efficiency: f64,
    /// Efficiency from the battery to AC, a fraction.
    pub discharge_efficiency: f64,
}

fingerprint!(BatterySheet {
    name,
    capacity_j,
    least_content,
    charge_w,
    discharge_w,
    charge_efficiency,
    discharge_efficiency
});

/// When the battery discharges while the grid is available.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BatteryRule {
    /// It covers what the sun does not, down to its reserve.
    SelfConsumption,
    /// It does not discharge; it waits for outages.
    Reserve,
}

fingerprint!(by Hash: BatteryRule);
ids!(BatteryRule { SelfConsumption = "self-consumption", Reserve = "reserve" });

/// How the battery is used. Contents are fractions of the capacity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BatteryUse {
    /// When it discharges while the grid is available.
    pub rule: BatteryRule,
    /// Content kept for outages.
    pub reserve: f64,
    /// Content up to which the grid charges it.
    pub grid_charges_to: f64,
    /// Content at which an island that shut down is restarted.
    pub restart: f64,
}

fingerprint!(BatteryUse {
    rule,
    reserve,
    grid_charges_to,
    restart
});

/// A battery and its use, checked against each other: minimum content ≤ reserve and minimum content < restart. In
/// self-consumption the grid charges at most to the reserve.
#[derive(Debug, Clone, PartialEq)]
pub struct Battery {
    sheet: BatterySheet,
    uses: BatteryUse,
}

fingerprint!(Battery { sheet, uses });

impl Battery {
    /// A battery from its datasheet and its use. The caller has already checked the range of each value.
    ///
    /// # Errors
    /// Faults for contents in conflict with each other.
    pub fn new(sheet: BatterySheet, uses: BatteryUse) -> Result<Self, Vec<Fault>> {
        use daylift_units::fields::battery_use;
        let mut faults = Vec::new();
        let least = fields::LEAST.print_si(sheet.least_content);
        if uses.reserve < sheet.least_content {
            let field = &battery_use::RESERVE;
            faults.push(Fault::new(
                field.key,
                field.quantity,
                field.print_si(uses.reserve),
                format!("not below the minimum content, {least}"),
                "raise it: below the minimum content the battery does not discharge",
            ));
        }
        if uses.restart <= sheet.least_content {
            let field = &battery_use::RESTART;
            faults.push(Fault::new(
                field.key,
                field.quantity,
                field.print_si(uses.restart),
                format!("above the minimum content, {least}"),
                "raise it, or the island would switch on and off",
            ));
        }
        if uses.rule == BatteryRule::SelfConsumption && uses.grid_charges_to > uses.reserve {
            let field = &battery_use::GRID_CHARGES;
            faults.push(Fault::new(
                field.key,
                field.quantity,
                field.print_si(uses.grid_charges_to),
                format!(
                    "at most the reserve, {}, with rule = \"self-consumption\"",
                    battery_use::RESERVE.print_si(uses.reserve)
                ),
                "lower it, or raise `reserve_pct`: otherwise the grid would charge what the farm uses at once",
            ));
        }
        if faults.is_empty() {
            Ok(Self { sheet, uses })
        } else {
            Err(faults)
        }
    }

    /// The datasheet.
    #[must_use]
    pub fn sheet(&self) -> &BatterySheet {
        &self.sheet
    }

    /// When it discharges while the grid is available.
    #[must_use]
    pub fn rule(&self) -> BatteryRule {
        self.uses.rule
    }

    /// Energy between empty and full \[J\].
    #[must_use]
    pub fn capacity_j(&self) -> f64 {
        self.sheet.capacity_j
    }

    /// Content at which discharging stops \[J\].
    #[must_use]
    pub fn least_j(&self) -> f64 {
        self.sheet.least_content * self.sheet.capacity_j
    }

    /// Content kept for outages \[J\].
    #[must_use]
    pub fn reserve_j(&self) -> f64 {
        self.uses.reserve * self.sheet.capacity_j
    }

    /// Content up to which the grid charges it \[J\].
    #[must_use]
    pub fn grid_charges_to_j(&self) -> f64 {
        self.uses.grid_charges_to * self.sheet.capacity_j
    }

    /// Content at which an island that shut down is restarted \[J\].
    #[must_use]
    pub fn restart_j(&self) -> f64 {
        self.uses.restart * self.sheet.capacity_j
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet() -> BatterySheet {
        BatterySheet {
            name: String::new(),
            capacity_j: 36e6,
            least_content: 0.1,
            charge_w: 5e3,
            discharge_w: 8e3,
            charge_efficiency: 0.95,
            discharge_efficiency: 0.95,
        }
    }

    #[test]
    fn all_conflicting_contents_are_faults() {
        let uses = BatteryUse {
            rule: BatteryRule::SelfConsumption,
            reserve: 0.05,
            grid_charges_to: 0.5,
            restart: 0.1,
        };
        let faults = Battery::new(sheet(), uses).unwrap_err();
        let keys: Vec<&str> = faults.iter().map(|f| f.key.as_str()).collect();
        assert_eq!(keys, ["reserve_pct", "restart_pct", "grid_charges_to_pct"]);
    }

    #[test]
    fn under_the_reserve_rule_the_grid_may_charge_above_the_reserve() {
        let uses = BatteryUse {
            rule: BatteryRule::Reserve,
            reserve: 0.4,
            grid_charges_to: 0.9,
            restart: 0.2,
        };
        let battery = Battery::new(sheet(), uses).unwrap();
        assert!((battery.grid_charges_to_j() - 32.4e6).abs() < 1.0);
    }
}
