//! `[inverter]` or `[[inverter]]`: the grid-tied inverters.

use std::path::Path;

use daylift_array::Inverter;
use daylift_units::fields::inverter;

use super::equipment::{booked, open, read_inverter};
use crate::plant::Feeder;
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
    let inverter = open(&section, folder, "file", "inverter", |file, name| {
        let mut sheet = read_inverter(file, name)?;
        sheet.ac_cable_loss = cable?;
        booked(file, Inverter::new(sheet))
    });
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
