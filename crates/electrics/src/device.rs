//! Names of the devices that rules are about.

use daylift_plant::Plant;

use crate::judge::Device;

/// Name of a device, as findings show it: `modules`, `inverter`, `drive of "borehole"`.
#[must_use]
pub fn device_name(plant: &Plant, device: Device) -> String {
    match device {
        Device::Module => "modules".to_owned(),
        Device::Inverter(i) => match plant.feeders[i].name.as_str() {
            name if name.starts_with("inverter") => name.to_owned(),
            name => format!("inverter \"{name}\""),
        },
        Device::Drive(set) => match plant.sets[set].name.as_str() {
            "pump" => "drive".to_owned(),
            name => format!("drive of \"{name}\""),
        },
    }
}
