//! The file format of a plant: reads `plant.toml`, and the files that it names, into one checked
//! [`Plant`](daylift_plant::Plant), and edits these files.
//!
//! A plant that is returned has no impossible value. Otherwise all faults are returned at once, each with its place in the
//! text and how to fix it. Warnings, and the origin of each value, come with the plant.
//!
//! - [`read_plant`] and its variants return a [`Read`]. [`Files`] says where files are read from: the disk, or drafts in
//!   memory.
//! - [`single`] reads one equipment file without a plant.
//! - [`outline`] declares every section and key once. The reader, the lists of values and the JSON Schema ([`schema`])
//!   follow from it.
//! - [`provenance`] says where each value came from ([`Origin`], from a default to a value confirmed on the farm).
//! - [`set_value`], [`set_strings`] and [`set_origin`] change a file's text and keep its comments.
//!   [`mod@write`] puts the text on the disk safely.
//!
//! This crate calculates no results: the engine crates do that with the plant. The CSV tables that a plant file names are
//! read by `daylift_tables`.
//!
//! # Example
//!
//! A motor file with a misspelt key has one fault, which names the line and the key that is probably meant.
//!
//! ```
//! use std::sync::Arc;
//!
//! use daylift_plant_file::single::equipment;
//! use daylift_tables::Source;
//!
//! let text = r#"
//! format = 1
//! kind = "motor"
//! name = "11 kW, four poles"
//! rated_power_kw = 11
//! rated_frequency_hz = 50
//! rated_voltage_v = 400
//! load_pct = [50, 100]
//! eficiency_pct = [90, 91]
//! least_frequency_hz = 25
//! "#;
//! let source = Arc::new(Source::of_text("motor.toml", text.to_owned()));
//! let faults = equipment(&source, "motor").unwrap_err();
//! assert_eq!(faults.len(), 1);
//! assert_eq!(faults[0].place.as_ref().map(|place| place.line()), Some(9));
//! assert_eq!(faults[0].fault.given, "`eficiency_pct`");
//! assert_eq!(faults[0].fault.remedy, "did you mean `efficiency_pct`?");
//! ```

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
