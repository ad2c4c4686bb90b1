//! A year of routing, step by step: who feeds whom, and where every kilowatt-hour and cubic metre went.
//!
//! Three stages, each of which needs only the one before:
//!
//! 1. [`DcYear`]: sun, plane and array.
//! 2. [`Offers`]: what each pump set and inverter would do with the array's power in each step.
//! 3. [`run_year`]: a [`Timeline`] of spans, settled into a [`Ledger`].
//!
//! An arrangement is a constructor of routes and phases in [`routes`]; the loop itself does not know which arrangement it
//! runs. Every piece of every step balances: [`Residuals`] keeps the worst imbalance of the year.
//!
//! # Example
//!
//! A farm on the grid wants 10 m³ of water in every hour. Its pump gives 30 m³/h on mains and takes 10 kW. Worked by hand:
//! it pumps 87 600 m³ in 2920 h of the year, for 29 200 kWh from the grid.
//!
//! ```
//! use std::sync::Arc;
//!
//! use daylift_grid::{Export, Loads};
//! use daylift_lift::{Demand, DemandSheet, Tank, TankSheet};
//! use daylift_plant::DayHours;
//! use daylift_supply::{
//!     Bus, Flow, Mains, NoRecorder, Offers, Phase, PumpFeed, Route, RouteId, SetOffers, Timeline, YearInputs, run_year,
//! };
//! use daylift_units::{Axis, Hourly, Monthly, Step};
//! use typed_index_collections::ti_vec;
//!
//! let axis = Axis::new(2025, 365, 0, "UTC", Step::Hour).unwrap();
//! let tank = Tank::new(TankSheet { capacity_m3: 100.0, restart_level: 0.9, low_mark: 0.2 }).unwrap();
//! let demand = Demand::new(DemandSheet {
//!     daily_m3: Monthly::from_array([240.0; 12]),
//!     hour_share: Hourly::from_array([1.0; 24]),
//! })
//! .unwrap();
//! let mains = Mains { flow_m3_s: 30.0 / 3600.0, motor_w: 10e3, lost_w: 0.0, throttled: false };
//! let (mains, wanted_m3_s) = (Monthly::from_array([mains; 12]), Monthly::default());
//! let set = SetOffers { drive: None, with_mains: None, mains, wanted_m3_s };
//! let offers = Offers { groups: ti_vec![], sets: ti_vec![Arc::new(set)], inverters: Vec::new() };
//! let on_the_grid = Route {
//!     groups: ti_vec![],
//!     sets: ti_vec![PumpFeed::Mains],
//!     utility: true,
//!     bus: Bus::Utility { battery: false },
//!     mains_hours: DayHours::ALL,
//! };
//! let routes = ti_vec![on_the_grid];
//! let all_year = Phase { start_s: 0.0, route: RouteId::default() };
//! let year = run_year(
//!     &YearInputs {
//!         axis: &axis,
//!         routes: &routes,
//!         timeline: &Timeline::new(&axis, &[all_year], 3600.0),
//!         offers: &offers,
//!         tank: &tank,
//!         fill: Hourly::from_array([1.0; 24]),
//!         surplus: None,
//!         demand: &demand,
//!         loads: &Loads::none(),
//!         backed_up: &Loads::none(),
//!         generator_loads: &Loads::none(),
//!         export: &Export::forbidden(),
//!         battery: None,
//!         generator: None,
//!         sun_to_pump_first: true,
//!     },
//!     &mut NoRecorder,
//! );
//! let shown = |flow| year.ledger.year().shown(flow);
//! // The year may end with up to 0.1 % of the tank more or less than it began with.
//! assert!((shown(Flow::Pumped) - 87_600.0).abs() < 0.1);
//! assert!((shown(Flow::Pumping) - 2920.0).abs() < 0.01);
//! assert!((shown(Flow::Imported) - 29_200.0).abs() < 0.1);
//! assert!(year.residuals.energy < 1e-9 && year.residuals.water < 1e-9);
//! ```

pub mod battery;
mod bus;
pub mod cause;
pub mod dc;
pub mod flow;
mod flows;
mod ids;
mod inputs;
pub mod ledger;
pub mod levels;
pub mod limits;
mod now;
pub mod offers;
mod pass;
pub mod piece;
mod power_ups;
pub mod route;
pub mod routes;
mod settle;
mod starts;
mod steady;
pub mod stream;
pub mod strings;
mod sun_on_bus;
mod surplus;
mod surroundings;
pub mod tank;
pub mod timeline;
mod uses;
pub mod year;

pub use battery::BatteryState;
pub use cause::{LossCause, ShortfallCause};
pub use dc::{Clock, Conditions, DcYear, GroupYear, PlaneLight};
pub use flow::{Flow, Measure, Place, Table};
pub use inputs::YearInputs;
pub use ledger::{Ledger, MonthBook, Residuals};
pub use offers::{BusOffer, BusYear, DriveOffer, DriveYear, InverterOffers, Mains, Offers, SetOffers};
pub use piece::{NoRecorder, Piece, Recorder};
pub use power_ups::PowerUps;
pub use route::{ArrayFeed, Bus, Phase, PumpFeed, Route, RouteId, Schedule};
pub use starts::MotorStarts;
pub use stream::{Bounded, ByCause, Stream, Words};
pub use surroundings::GeneratorRules;
pub use timeline::{Span, Timeline};
pub use year::{YearResult, run_year};
