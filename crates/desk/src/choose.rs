//! The plants that can be opened, and starting a new plant from an example.

use crate::Starter;
use crate::api::{PlantList, StartRequest, Started};
use crate::folder::Folder;
use crate::refused::Refused;

pub(crate) fn plant_list(folder: &Folder, starter: &Starter) -> PlantList {
    PlantList {
        folder: folder.whole_name(),
        plants: folder.plants(),
        examples: (starter.examples)(),
    }
}

pub(crate) fn start(folder: &Folder, starter: &Starter, request: &StartRequest) -> Result<Started, Refused> {
    if !(starter.examples)().contains(&request.example) {
        return Err(Refused::request(format!("there is no example \"{}\"", request.example)));
    }
    let path = folder.new_folder(&request.folder).map_err(Refused::request)?;
    (starter.start)(&path, &request.example).map_err(Refused::request)?;
    Ok(Started {
        id: format!("{}/plant.toml", request.folder),
    })
}
