//! A year of routing, step by step: who feeds whom, and where every kilowatt-hour and cubic metre went.
//!
//! The stages, each needing only the one before: [`DcYear`] (sun, plane, array), [`Offers`] (what pump and inverter make
//! of it in each step), and [`run_year`] (a [`Timeline`] of spans settled into a [`Ledger`]). An arrangement is a
//! constructor of routes and phases in [`routes`]; the loop never asks which one it serves.

pub mod battery;
mod bus;
pub mod cause;
pub mod dc;
pub mod flow;
mod flows;
mod ids;
mod inputs;
pub mod ledger;
pub mod limits;
mod now;
pub mod offers;
mod pass;
pub mod piece;
pub mod route;
pub mod routes;
mod settle;
mod steady;
pub mod stream;
pub mod strings;
mod sun_on_bus;
mod surroundings;
pub mod tank;
pub mod timeline;
mod uses;
pub mod year;

pub use battery::BatteryState;
pub use cause::{LossCause, ShortfallCause};
pub use dc::{Clock, DcYear, GroupYear, PlaneLight};
pub use flow::{Flow, Measure, Place, Table};
pub use inputs::YearInputs;
pub use ledger::{Ledger, MonthBook, Residuals};
pub use offers::{BusOffer, BusYear, DriveOffer, DriveYear, InverterOffers, Mains, Offers, SetOffers};
pub use piece::{NoRecorder, Piece, Recorder};
pub use route::{ArrayFeed, Bus, Phase, PumpFeed, Route, RouteId, Schedule};
pub use stream::{Bounded, ByCause, Stream, Words};
pub use surroundings::GeneratorRules;
pub use timeline::{Span, Timeline};
pub use year::{YearResult, run_year};
