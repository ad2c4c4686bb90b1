//! The second engine: a slow year of a plant, written from docs/model.md alone, to check the fast engine.
//!
//! Every operating point is solved where it occurs and every event is found in time; nothing is tabulated or lumped. It
//! shares with the fast engine the parts below it (sun, strings, pump sets, the plant as read), and nothing of how a
//! year is run.

mod account;
mod adapter;
mod basis;
mod bids;
mod bus;
mod derating;
mod devices;
mod drive;
mod flux;
mod fuel;
mod inverter;
mod least_flow;
mod lift;
mod lockout;
mod moment;
mod motor;
mod phases;
mod plan;
mod restart;
mod rule;
mod run;
mod starts;
mod strings;
mod tracking;

use daylift_plant::{Arrangement, Plant};
use daylift_units::Step;

pub use account::Account;
pub use basis::Basis;

/// A year of one row of a plant.
#[must_use]
pub fn year(plant: &Plant, arrangement: Arrangement, step: Step) -> Account {
    year_on(&Basis::new(plant, step), arrangement)
}

/// The same on a basis that several rows share.
#[must_use]
pub fn year_on(basis: &Basis<'_>, arrangement: Arrangement) -> Account {
    let plan = plan::Plan::new(basis, arrangement);
    let pieces = phases::pieces(&plan, &basis.axis);
    run::periodic(&plan, &pieces)
}
