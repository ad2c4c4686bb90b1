//! Money: the bill of a year, yearly costs and flows, payback, net present value, internal rate of return, cost per cubic
//! metre.
//!
//! Plain numbers in one currency; tariffs and prices are looked up elsewhere. Money is nominal: what is paid in its year.

mod bill;
mod cashflow;
mod costs;
mod measures;
mod rate_of_return;
mod water;

pub use bill::Bill;
pub use cashflow::Cashflow;
pub use costs::{RowCosts, Terms, YearCost};
pub use measures::{
    LEAST_RATE, annuity_factor, capital_recovery_factor, discounted_payback_years, npv, simple_payback_years,
};
pub use rate_of_return::irr;
pub use water::cost_per_m3;
