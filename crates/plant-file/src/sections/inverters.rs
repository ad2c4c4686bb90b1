//! `[inverter]` or `[[inverter]]`: the grid-tied inverters.

use super::equipment::build_inverter;
use crate::outline::{FeederKeys, PlantKeys};
use crate::read::Placed;
use daylift_plant::Feeder;

/// The inverters by name, each `None` when it has faults.
pub(crate) fn read(root: &Placed<PlantKeys>) -> Vec<(String, Option<Feeder>)> {
    let inverters = &root.keys.inverter;
    inverters.items.iter().map(|placed| read_one(placed, inverters.is_list)).collect()
}

fn read_one(placed: &Placed<FeederKeys>, is_list: bool) -> (String, Option<Feeder>) {
    let keys = &placed.keys;
    let name = match keys.name.clone() {
        Some(None) if is_list => {
            placed.at.missing_text(&FeederKeys::NAME.key);
            None
        }
        Some(None) => Some("inverter".to_owned()),
        given => given.flatten(),
    };
    // With a fault in the cable loss the datasheet is still read for faults of its own.
    let cable = keys.keys.as_ref().map_or(0.0, |feeding| feeding.ac_cable_loss);
    let inverter = keys.file.file.as_ref().and_then(|file| build_inverter(file, cable));
    let feeder = (|| {
        Some(Feeder {
            name: name.clone()?,
            inverter: inverter?,
            reconnection_s: keys.keys.as_ref()?.reconnection_s,
        })
    })();
    (name.unwrap_or_default(), feeder)
}
