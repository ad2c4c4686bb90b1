//! The checked [`Plant`]: the plain types that the simulation, the string rules and the cost calculation share.
//!
//! A plant holds site, weather, array, pump sets, tank, demand, grid, costs and the [arrangements](Arrangement) to compare.
//! The crate neither reads nor writes files (`plant-file` does), and it simulates nothing (`supply` does).
//!
//! - [`Plant`]: everything that is known about a farm, checked.
//! - [`Arrangement`]: a row of a comparison: a [`Wiring`], with or without a generator and a bigger tank.
//! - [`MainsRule`]: when the pumps of a row run on the bus.
//! - [`Costs`]: capital, upkeep and replacements, and the rows that they apply to.
//!
//! ```
//! use daylift_plant::{Arrangement, CostLine, CostScope, Costs, Terms, Wiring};
//!
//! let line = |item: &str, cost: f64, scope: CostScope| CostLine { item: item.to_owned(), cost, applies_to: vec![scope] };
//! let costs = Costs {
//!     capital: vec![
//!         line("array and drive", 9000.0, CostScope::Wiring(Wiring::SolarDrive)),
//!         line("generator", 4000.0, CostScope::Generator),
//!     ],
//!     upkeep: Vec::new(),
//!     replacements: Vec::new(),
//!     terms: Terms { years: 20, discount_rate: 0.1, price_escalation: 0.0, export_credit_escalation: 0.0, inflation: 0.0 },
//! };
//!
//! // Added by hand: the solar drive alone costs 9000, with a generator 9000 + 4000.
//! let row = Arrangement::from_id("solar-drive+generator").unwrap();
//! assert_eq!(row, Arrangement::SOLAR_DRIVE.with_generator());
//! assert!((costs.capital_of(Arrangement::SOLAR_DRIVE) - 9000.0).abs() < 1e-9);
//! assert!((costs.capital_of(row) - 13_000.0).abs() < 1e-9);
//! ```

pub mod arrangement;
pub mod beside;
pub mod costs;
pub mod design;
pub mod hours;
mod ids;
pub mod index;
pub mod plant;
pub mod pumping;
pub mod starter;

pub use arrangement::{Arrangement, Traits, Wiring, WithoutGrid};
pub use beside::{Beside, GeneratorUse, InputKind, LoadsFed, NightTank, SecondInput};
pub use costs::{CostLine, CostScope, Costs, Replacement, Terms};
pub use design::{Design, StringRules, SwitchTimes};
pub use hours::DayHours;
pub use index::{ByGroup, ByInverter, ByPlane, BySet, GroupId, InverterId, PlaneId, SetId};
pub use plant::{Array, Facing, Feeder, GridSide, Group, PlaneOf, Plant, Set, Site, WeatherSource};
pub use pumping::{GivenRule, MainsRule, Pumping, RowRule, RuleSearch};
pub use starter::{Restart, StartLimits};
