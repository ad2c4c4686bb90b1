//! A year of hours made from twelve means.

use std::hint::black_box;

use daylift_sky::synthetic::air;
use daylift_sky::synthetic::{Climate, HourlySun, year};
use daylift_sky::{Ephemeris, world};
use daylift_units::Monthly;
use serde::{Deserialize, Serialize};

use crate::engine;
use crate::measure::year_loop::PLANT;
use crate::timing::least_s;

const RUNS: usize = 20;

/// A year at the place of a plant, from the world grid.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(crate) struct Synthetic {
    /// From the sun's table to the hours of sun, air and wind \[s\].
    pub(crate) seconds: f64,
    /// The sun's table, which every year of the place shares \[s\].
    pub(crate) table_s: f64,
}

/// Uses a different seed in every run.
pub(crate) fn measure() -> Result<Synthetic, String> {
    let site = engine::plant(PLANT)?.site;
    let grid = world::sun_at(site.latitude_deg, site.longitude_deg).ok_or("no cell of the grid")?;
    #[expect(clippy::cast_precision_loss, reason = "seconds since 1970 are exact in f64")]
    let table = || Ephemeris::new(site.axis.start_unix_s() as f64, site.axis.length_s());
    let ephemeris = table();
    let mut seed = 0;
    let seconds = least_s(RUNS, || {
        seed += 1;
        let place = (site.latitude_deg, site.longitude_deg);
        let suns = HourlySun::new(black_box(&ephemeris), &site.observer, place, &site.axis);
        let air = air::estimate(site.latitude_deg, site.altitude_m, &suns.clearness(&grid.sun));
        let climate = Climate {
            sun: grid.sun,
            air,
            wind_m_s: Monthly::from_array([1.0; 12]),
        };
        year(&climate, &suns, seed)
    });
    Ok(Synthetic {
        seconds,
        table_s: least_s(RUNS, table),
    })
}
