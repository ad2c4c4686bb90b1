//! What an arrangement costs and saves over its years, in plain numbers.
//!
//! The caller gives the costs of the first year; prices and tariffs are looked up elsewhere. From them, this crate
//! calculates:
//!
//! - the bill ([`Bill`]) and the costs of every year ([`RowCosts::years`]);
//! - the yearly flows compared with today's way ([`Cashflow`]), with payback, net present value and internal rate of return;
//! - the cost of a cubic metre of water ([`cost_per_m3`]).
//!
//! All amounts are in one currency and nominal: what is paid in its year. Rates are fractions per year.
//!
//! # Example
//!
//! An array costs 200 and cuts the year's charges from 500 to 400. It loses 1 % of its output a year, and prices rise by
//! 3 %. Worked by hand, the savings of three years are 100, 100 · 0.99 · 1.03 = 101.97 and 100 · 0.9801 · 1.0609 =
//! 103.978 809. Without discounting they repay the outlay of 200 and leave 105.948 809.
//!
//! ```
//! use daylift_money::{Bill, Cashflow, EnergyCost, RowCosts, Terms};
//!
//! let charged = |energy_charge| EnergyCost { bill: Bill { energy_charge, ..Bill::default() }, fuel: 0.0 };
//! let today = RowCosts {
//!     capital: 0.0,
//!     upkeep_per_year: 0.0,
//!     energy: charged(500.0),
//!     missing_per_year: 0.0,
//!     replacements: Vec::new(),
//!     delivered_m3: 1000.0,
//!     has_array: false,
//!     loads_only_bill: 0.0,
//! };
//! let with_array = RowCosts { capital: 200.0, energy: charged(400.0), has_array: true, ..today.clone() };
//! let terms = Terms {
//!     years: 3,
//!     discount_rate: 0.0,
//!     price_escalation: 0.03,
//!     export_credit_escalation: 0.0,
//!     inflation: 0.0,
//!     fuel_escalation: 0.0,
//!     yearly_degradation: 0.01,
//! };
//! let flow = Cashflow::against(&today, &with_array, &terms);
//! assert!((flow.npv() - 105.948_809).abs() < 1e-9);
//! assert_eq!(flow.simple_payback_years(), Some(2.0));
//! ```

mod bill;
mod cashflow;
mod costs;
mod energy;
mod measures;
mod rate_of_return;
mod water;

pub use bill::Bill;
pub use cashflow::Cashflow;
pub use costs::{RowCosts, Terms, YearCost};
pub use energy::EnergyCost;
pub use measures::{
    LEAST_RATE, annuity_factor, capital_recovery_factor, discounted_payback_years, npv, simple_payback_years,
};
pub use rate_of_return::irr;
pub use water::cost_per_m3;
