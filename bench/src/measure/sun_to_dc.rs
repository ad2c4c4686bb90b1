//! Sun to DC on one-minute steps, at the two stations.

use std::hint::black_box;

use daylift_units::Step;
use daylift_units::constants::KWH_J;
use serde::{Deserialize, Serialize};

use crate::engine;
use crate::timing::least_s;

/// Plants on the stations' weather; folders of `bench/plants`.
pub(crate) const SITES: [&str; 2] = ["greensboro", "sand-point"];

const RUNS: usize = 5;

/// A site's year.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(crate) struct Site {
    /// Its folder.
    pub(crate) site: String,
    /// Time from the weather in memory to the DC power of every step \[s\].
    pub(crate) seconds: f64,
    /// Energy at maximum power \[kWh\].
    pub(crate) kwh: f64,
}

/// Both sites.
pub(crate) fn measure() -> Result<Vec<Site>, String> {
    SITES.into_iter().map(site).collect()
}

fn site(folder: &str) -> Result<Site, String> {
    let plant = engine::plant(&format!("bench/plants/{folder}"))?;
    let array = plant.array.as_ref().ok_or("no array")?;
    let axis = plant.site.axis.with_step(Step::Minute);
    let seconds = least_s(RUNS, || engine::sun_to_dc(black_box(&plant), black_box(array), &axis));
    let dc = engine::sun_to_dc(&plant, array, &axis);
    Ok(Site {
        site: folder.to_owned(),
        seconds,
        kwh: engine::available_j(&dc, &axis) / KWH_J,
    })
}
