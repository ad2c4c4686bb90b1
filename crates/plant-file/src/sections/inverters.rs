//! `[inverter]` or `[[inverter]]`: the grid-tied inverters.

use std::path::Path;

use daylift_plant::Feeder;
use daylift_units::fields::inverter;

use super::equipment::{open, read_inverter};
use crate::read::Section;

/// The inverters by name, each `None` when it has faults.
pub(crate) fn read(root: &Section<'_>, folder: &Path) -> Vec<(String, Option<Feeder>)> {
    let (sections, many) = root.one_or_many("inverter", "inverter");
    sections.into_iter().map(|section| read_one(section, folder, many)).collect()
}

fn read_one(section: Section<'_>, folder: &Path, named: bool) -> (String, Option<Feeder>) {
    let name = if named || section.has("name") {
        section.text("name", "name of the inverter", "a text")
    } else {
        Some("inverter".to_owned())
    };
    let cable = section.number(&inverter::AC_CABLE_LOSS);
    let reconnection_s = section.number(&inverter::RECONNECTION);
    // A cable loss with a fault of its own must not hide those of the datasheet.
    let inverter = open(&section, folder, "file", "inverter", |file, name| {
        read_inverter(file, name, cable.unwrap_or(0.0))
    })
    .filter(|_| cable.is_some());
    section.finish();
    let feeder = (|| {
        Some(Feeder {
            name: name.clone()?,
            inverter: inverter?,
            reconnection_s: reconnection_s?,
        })
    })();
    (name.unwrap_or_default(), feeder)
}
