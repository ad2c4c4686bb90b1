//! The program's own functions, each called from one place.

use std::path::{Path, PathBuf};

use daylift_plant::{Arrangement, Array, Plant, Wiring};
use daylift_plant_file::read_plant;
use daylift_sky::{Ephemeris, SkyYear};
use daylift_study::{Memory, Stages};
use daylift_supply::{DcYear, NoRecorder, YearResult};
use daylift_units::{Axis, Step};

/// The arrangement whose year is timed.
pub(crate) const DUAL_MODE: Arrangement = Arrangement {
    wiring: Wiring::DualMode,
    generator: false,
    night_tank: false,
    best_rule: false,
};

/// The workspace's folder.
pub(crate) fn root() -> PathBuf {
    let own = Path::new(env!("CARGO_MANIFEST_DIR"));
    own.parent().unwrap_or(own).to_owned()
}

/// A plant by its folder within the workspace.
pub(crate) fn plant(folder: &str) -> Result<Plant, String> {
    match read_plant(&root().join(folder)) {
        Ok(read) => Ok(read.plant),
        Err(faults) => Err(format!("{folder}: {} faults", faults.len())),
    }
}

/// From weather to DC: the sun of the year, the weather converted to its steps, the plane, the cells, the maximum power.
pub(crate) fn sun_to_dc(plant: &Plant, array: &Array, axis: &Axis) -> DcYear {
    #[expect(clippy::cast_precision_loss, reason = "seconds since 1970 are exact in f64")]
    let ephemeris = Ephemeris::new(axis.start_unix_s() as f64, axis.length_s());
    let sky = SkyYear::new(&plant.weather, &ephemeris, &plant.site.observer, axis);
    DcYear::new(&sky, array, axis)
}

/// Energy of all string groups at maximum power through the year \[J\].
pub(crate) fn available_j(dc: &DcYear, axis: &Axis) -> f64 {
    dc.groups.iter().flat_map(|group| group.available_w.steps()).sum::<f64>() * axis.step_s()
}

/// Sun, array and devices; computed again with `Memory::none`.
pub(crate) fn stages<'p>(plant: &'p Plant, step: Step, memory: &'p Memory) -> Stages<'p> {
    Stages::new(plant, step, memory)
}

/// The year of `dual-mode`, all passes, without a recorder.
pub(crate) fn year(stages: &Stages<'_>) -> YearResult {
    stages.year(DUAL_MODE, &mut NoRecorder)
}

/// A finished answer of `dual-mode` at steps of ten minutes, with money.
pub(crate) fn answer(plant: &Plant) -> Result<daylift_study::Run, String> {
    daylift_study::run(plant, DUAL_MODE, Step::TenMinutes, &[], &mut NoRecorder)
        .map_err(|row| format!("the plant lacks parts for {}", row.id()))
}
