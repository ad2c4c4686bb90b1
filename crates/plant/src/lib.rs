//! Plant file, equipment and weather made into one checked [`Plant`].
//!
//! What this crate hands up cannot hold an impossible value. Faults come all at once, each with its place.

pub mod arrangement;
pub mod beside;
pub mod costs;
pub mod design;
pub mod edit;
pub mod files;
pub mod hours;
pub mod known;
pub mod outline;
pub mod plant;
pub mod provenance;
mod read;
pub mod schema;
mod sections;
pub mod single;
pub mod source;
mod tables;
pub mod write;

pub use arrangement::{Arrangement, Wiring};
pub use beside::{Beside, GeneratorUse, InputKind, LoadsFed, NightTank, SecondInput};
pub use costs::{Bearer, CostLine, Costs, Replacement, Terms};
pub use design::{Design, StringRules, SwitchTimes};
pub use edit::{EditError, NewValue, WrittenGroup, set_origin, set_strings, set_value};
pub use files::Files;
pub use hours::DayHours;
pub use known::Known;
pub use plant::{Array, Facing, Feeder, GridSide, Group, PlaneOf, Plant, Pumping, Set, Site, WeatherSource};
pub use provenance::{Mark, Origin, OriginValue, ValueOrigin};
pub use sections::{Read, read_plant, read_plant_from};
pub use source::{Located, Place, Source};
