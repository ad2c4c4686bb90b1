//! The checked [`Plant`]: the plain types that the simulation, the string rules and the cost calculation share.
//!
//! A plant holds site, weather, array, pump sets, tank, demand, grid, costs and the [arrangements](Arrangement) to compare.
//! The crate neither reads nor writes files (`plant-file` does), and it simulates nothing (`supply` does).
//!
//! - [`Plant`]: everything that is known about a farm, checked.
//! - [`Arrangement`]: a row of a comparison: a [`Wiring`], with or without a generator and a bigger tank.
//! - [`MainsRule`]: when the pumps of a row run on the bus.
//! - [`Costs`]: capital, upkeep and replacements, the rows that they apply to, and the [`Quantities`] that they count.
//!
//! ```
//! use daylift_plant::{Arrangement, CostLine, CostScope, Costs, LostValue, Per, Quantities, Terms, Wiring};
//!
//! let line = |item: &str, cost: f64, per: Per, scope: CostScope| CostLine {
//!     item: item.to_owned(), cost, per, owned: 0.0, applies_to: vec![scope],
//! };
//! let costs = Costs {
//!     currency: "USD".to_owned(),
//!     capital: vec![
//!         line("modules", 150.0, Per::Module, CostScope::Wiring(Wiring::SolarDrive)),
//!         line("generator", 4000.0, Per::One, CostScope::Generator),
//!     ],
//!     upkeep: Vec::new(),
//!     replacements: Vec::new(),
//!     terms: Terms { years: 20, discount_rate: 0.1, price_escalation: 0.0, export_credit_escalation: 0.0, inflation: 0.0 },
//!     lost: LostValue::default(),
//! };
//!
//! // Worked by hand: 60 modules at 150 cost 9000; with a generator 9000 + 4000.
//! let has = Quantities {
//!     modules: 60.0, kwp: 30.0, inverter_kw: 0.0, drive_kw: 15.0, motor_kw: 11.0, battery_kwh: 0.0, tank_m3: 80.0, pipe_m: 200.0,
//! };
//! let row = Arrangement::from_id("solar-drive+generator").unwrap();
//! assert_eq!(row, Arrangement::SOLAR_DRIVE.with_generator());
//! assert!((costs.capital_of(Arrangement::SOLAR_DRIVE, &has) - 9000.0).abs() < 1e-9);
//! assert!((costs.capital_of(row, &has) - 13_000.0).abs() < 1e-9);
//! ```

pub mod arrangement;
pub mod beside;
pub mod costs;
mod counted;
pub mod design;
pub mod hours;
mod ids;
pub mod index;
pub mod lost_value;
pub mod plant;
pub mod pumping;
pub mod quantities;
pub mod starter;

pub use arrangement::{Arrangement, Traits, Wiring, WithoutGrid};
pub use beside::{Beside, GeneratorUse, InputKind, LoadsFed, NightTank, SecondInput};
pub use costs::{CostLine, CostScope, Costs, Replacement, Terms};
pub use design::{Design, StringRules, SwitchTimes};
pub use hours::DayHours;
pub use index::{ByGroup, ByInverter, ByPlane, BySet, GroupId, InverterId, PlaneId, SetId};
pub use lost_value::LostValue;
pub use plant::{Array, Facing, Feeder, GridSide, Group, PlaneOf, Plant, Set, Site, WeatherSource};
pub use pumping::{GivenRule, MainsRule, Pumping, RowRule, RuleSearch};
pub use quantities::{Per, Quantities};
pub use starter::{Restart, StartLimits};
