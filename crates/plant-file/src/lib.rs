//! Plant file, equipment and tables made into one checked [`Plant`](daylift_plant::Plant).
//!
//! What this crate hands up cannot hold an impossible value. Faults come all at once, each with its place.

pub mod edit;
pub mod files;
pub mod outline;
pub mod provenance;
mod read;
pub mod schema;
mod sections;
pub mod single;
pub mod write;

pub use edit::{EditError, NewValue, WrittenGroup, set_origin, set_strings, set_value};
pub use files::Files;
pub use provenance::{Mark, Origin, OriginValue, ValueOrigin};
pub use sections::{Read, read_plant, read_plant_from, read_plant_knowing};
