//! `[array]`, `[inverter]` and `[drive]`.

use std::path::Path;

use daylift_array::{ArrayLosses, Inverter, StringGroup};
use daylift_lift::Drive;
use daylift_sky::Plane;
use daylift_units::fields::{array, inverter};

use super::cell::read_cell_model;
use super::equipment::{booked, open, read_drive, read_inverter, read_module};
use crate::plant::{Array, Feeder};
use crate::read::Section;

/// The array; `None` when the file has none or it has faults.
pub(crate) fn read_array(root: &Section<'_>, folder: &Path) -> Option<Array> {
    let section = root.table("array", "array")?;
    let module = open(&section, folder, "module", "module", read_module);
    let direction = (section.number(&array::TILT), section.number(&array::AZIMUTH));
    let albedo = section.number(&array::ALBEDO);
    let plane = (|| booked(&section, Plane::new(direction.0?, direction.1?, albedo?)))();
    let counts = (
        section.count(&array::MODULES_PER_STRING),
        section.count(&array::STRINGS),
    );
    let losses = read_losses(&section);
    let cell_model = read_cell_model(&section);
    let cable = section.number(&array::DC_CABLE_LOSS);
    let yearly_degradation = losses.as_ref().map(|l| l.yearly_degradation);
    let group = (|| {
        booked(
            &section,
            StringGroup::new(module?, counts.0?, counts.1?, losses?, cable?),
        )
    })();
    section.finish();
    Some(Array {
        plane: plane?,
        tilt_deg: direction.0?,
        azimuth_deg: direction.1?,
        cell_model: cell_model?,
        group: group?,
        yearly_degradation: yearly_degradation?,
    })
}

fn read_losses(section: &Section<'_>) -> Option<ArrayLosses> {
    let soiling = section.monthly(&array::SOILING);
    let shares = (
        section.number(&array::MISMATCH),
        section.number(&array::LIGHT_INDUCED),
        section.number(&array::UNAVAILABILITY),
        section.number(&array::DEGRADATION),
        section.number(&array::AGE),
    );
    Some(ArrayLosses {
        soiling: soiling?,
        mismatch: shares.0?,
        light_induced: shares.1?,
        unavailability: shares.2?,
        yearly_degradation: shares.3?,
        age_years: shares.4?,
    })
}

/// The grid-tied inverter.
pub(crate) fn read_feeder(root: &Section<'_>, folder: &Path) -> Option<Feeder> {
    let section = root.table("inverter", "inverter")?;
    let cable = section.number(&inverter::AC_CABLE_LOSS);
    let reconnection_s = section.number(&inverter::RECONNECTION);
    let inverter = open(&section, folder, "file", "inverter", |file, name| {
        let mut sheet = read_inverter(file, name)?;
        sheet.ac_cable_loss = cable?;
        booked(file, Inverter::new(sheet))
    });
    section.finish();
    Some(Feeder {
        inverter: inverter?,
        reconnection_s: reconnection_s?,
    })
}

/// The solar drive.
pub(crate) fn read_drive_section(root: &Section<'_>, folder: &Path) -> Option<Drive> {
    let section = root.table("drive", "drive")?;
    let drive = open(&section, folder, "file", "drive", read_drive);
    section.finish();
    drive
}
