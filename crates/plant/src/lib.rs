//! The checked [`Plant`]: plain types that the rooms above share.
//!
//! How a plant is written in files is the matter of the crate above; here nothing is read and nothing is written.

pub mod arrangement;
pub mod beside;
pub mod costs;
pub mod design;
pub mod hours;
mod ids;
pub mod index;
pub mod plant;

pub use arrangement::{Arrangement, Traits, Wiring, WithoutGrid};
pub use beside::{Beside, GeneratorUse, InputKind, LoadsFed, NightTank, SecondInput};
pub use costs::{Bearer, CostLine, Costs, Replacement, Terms};
pub use design::{Design, StringRules, SwitchTimes};
pub use hours::DayHours;
pub use index::{ByGroup, ByInverter, ByPlane, BySet, GroupId, InverterId, PlaneId, SetId};
pub use plant::{Array, Facing, Feeder, GridSide, Group, PlaneOf, Plant, Pumping, Set, Site, WeatherSource};
