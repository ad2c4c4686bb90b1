//! `[weather] synthetic = true`: a year made from twelve means, the plant's own or those of the world grid.

use daylift_plant::{Site, WeatherSource};
use daylift_sky::synthetic::air::{self, MonthlyAir};
use daylift_sky::synthetic::{self, Climate, MonthlySun, Suns};
use daylift_sky::world::{self, GridSun};
use daylift_sky::{Ephemeris, WeatherSeries};
use daylift_units::fields::weather::{self, AIR_HIGH, AIR_LOW, AIR_MEAN, DAILY_GHI};
use daylift_units::{Fault, Monthly};

use crate::provenance::OriginValue;
use crate::read::Section;
use crate::sections::equipment::booked;

/// Keys that only a synthetic year has.
const ONLY_HERE: [&str; 6] = [
    DAILY_GHI.key,
    weather::SEED.key,
    AIR_MEAN.key,
    AIR_LOW.key,
    AIR_HIGH.key,
    weather::WIND.key,
];

/// What the file says of the year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Said {
    seed: u32,
    /// Own means of global irradiance \[W/m²\].
    ghi_w_m2: Option<Monthly<f64>>,
    air: Air,
    wind_m_s: Monthly<f64>,
}

/// What is said of the air's temperature \[°C\].
#[derive(Debug, Clone, Copy, PartialEq)]
enum Air {
    Nothing,
    Mean(Monthly<f64>),
    All(MonthlyAir),
}

/// Reads the keys of a synthetic year.
pub(super) fn read(section: &Section<'_>) -> Option<Said> {
    let seed = section.count(&weather::SEED);
    let ghi_w_m2 = if section.has(DAILY_GHI.key) {
        section.list(&DAILY_GHI, Some(12)).and_then(|list| list.try_into().ok()).map(Some)
    } else {
        Some(None)
    };
    let air = read_air(section);
    let wind_m_s = section.monthly(&weather::WIND);
    Some(Said {
        seed: seed?,
        ghi_w_m2: ghi_w_m2?.map(Monthly::from_array),
        air: air?,
        wind_m_s: Monthly::from_array(wind_m_s?),
    })
}

/// Refuses the keys of a synthetic year where there is none.
pub(super) fn refuse(section: &Section<'_>) {
    for key in ONLY_HERE {
        section.know(key);
        if section.has(key) {
            section.fault(Fault::new(
                key,
                "weather made from monthly means",
                format!("`{key}` beside a weather file"),
                "this key for a synthetic year only: the file has every hour",
                format!("remove `{key}`, or replace `file` by `synthetic = true`"),
            ));
        }
    }
}

fn read_air(section: &Section<'_>) -> Option<Air> {
    let [mean, low, high] = [AIR_MEAN, AIR_LOW, AIR_HIGH].map(|field| section.optional_monthly(&field));
    match (mean?, low?, high?) {
        (None, None, None) => Some(Air::Nothing),
        (Some(mean_c), None, None) => Some(Air::Mean(Monthly::from_array(mean_c))),
        (Some(mean_c), Some(low_c), Some(high_c)) => {
            let [mean_c, low_c, high_c] = [mean_c, low_c, high_c].map(Monthly::from_array);
            booked(section, MonthlyAir::new(mean_c, low_c, high_c)).map(Air::All)
        }
        (mean, low, _) => {
            let missing = [
                (mean.is_none(), AIR_MEAN.key),
                (low.is_none(), AIR_LOW.key),
                (true, AIR_HIGH.key),
            ];
            let missing = missing.iter().find(|(is, _)| *is).map_or(AIR_HIGH.key, |(_, key)| key);
            let there = [AIR_MEAN.key, AIR_LOW.key, AIR_HIGH.key].into_iter().find(|key| section.has(key));
            section.fault(Fault::new(
                there.unwrap_or(AIR_MEAN.key),
                "air temperature by month",
                format!("no `{missing}` beside it"),
                "`air_mean_c` alone, or all of `air_mean_c`, `air_low_c` and `air_high_c`, or none",
                format!("add `{missing}`, or leave the extremes to the estimate"),
            ));
            None
        }
    }
}

impl Said {
    /// Mean air temperature of the year at a place, before the year is made \[°C\].
    pub(crate) fn mean_air_c(&self, latitude_deg: f64, altitude_m: f64) -> f64 {
        let mean_c = match self.air {
            // The mean of the estimate does not depend on the clearness.
            Air::Nothing => air::estimate(latitude_deg, altitude_m, &Monthly::from_array([0.5; 12])).mean_c,
            Air::Mean(mean_c) => mean_c,
            Air::All(air) => air.mean_c,
        };
        mean_c.values().sum::<f64>() / 12.0
    }

    /// Where the year comes from.
    pub(crate) fn source(&self) -> WeatherSource {
        let means = if self.ghi_w_m2.is_some() {
            "twelve means of the plant file"
        } else {
            "the world grid (NASA MERRA-2, 2011–2015)"
        };
        WeatherSource {
            station: format!("synthetic year from {means}, seed {}", self.seed),
            file: None,
        }
    }

    /// The grid's sun at a site; where the file gives no means, these are booked as a default.
    pub(super) fn sun_there(&self, section: &Section<'_>, site: &Site) -> Option<GridSun> {
        let grid = world::sun_at(site.latitude_deg, site.longitude_deg);
        let Some(grid) = grid else {
            section.fault(Fault::new(
                "synthetic",
                "weather of the world grid",
                format!("a site at {}°, {}°", site.latitude_deg, site.longitude_deg),
                "a site within 1000 km of a land cell of the grid",
                "check `latitude_deg` and `longitude_deg`, or give a weather `file`",
            ));
            return None;
        };
        if self.ghi_w_m2.is_none() {
            let daily = grid
                .sun
                .mean_w_m2
                .into_array()
                .map(|w_m2| (w_m2 / DAILY_GHI.unit.factor * 100.0).round() / 100.0);
            let source = "the world grid; preliminary";
            section.by_default(
                DAILY_GHI.key,
                OriginValue::Numbers(daily.to_vec()),
                DAILY_GHI.unit.symbol,
                source,
            );
        }
        Some(grid)
    }

    /// The year at a site; what is not sure of it is told.
    pub(super) fn year(&self, section: &Section<'_>, site: &Site, grid: &GridSun) -> Option<WeatherSeries> {
        self.tell(section, grid);
        #[expect(clippy::cast_precision_loss, reason = "seconds since 1970 are exact in f64")]
        let ephemeris = Ephemeris::new(site.axis.start_unix_s() as f64, site.axis.length_s());
        let suns = Suns::new(
            &ephemeris,
            &site.observer,
            (site.latitude_deg, site.longitude_deg),
            &site.axis,
        );
        let sun = MonthlySun {
            mean_w_m2: self.ghi_w_m2.unwrap_or(grid.sun.mean_w_m2),
            ..grid.sun
        };
        let air = match self.air {
            Air::Nothing => air::estimate(site.latitude_deg, site.altitude_m, &suns.clearness(&sun)),
            Air::Mean(mean_c) => MonthlyAir::about(mean_c, &suns.clearness(&sun)),
            Air::All(air) => air,
        };
        let climate = Climate {
            sun,
            air,
            wind_m_s: self.wind_m_s,
        };
        booked(section, synthetic::year(&climate, &suns, self.seed))
    }

    fn tell(&self, section: &Section<'_>, grid: &GridSun) {
        let tell = |text: String| section.book().warn("weather", text);
        if self.ghi_w_m2.is_none() {
            let high: Vec<String> =
                world::READS_HIGH_PCT.iter().map(|(place, pct)| format!("{pct:.0}% in {place}")).collect();
            tell(format!(
                "preliminary: the sun is that of a world grid of 3° cells, which against stations reads high by {}; a \
                 solar map's twelve means (`{}`) or a weather file make it firmer",
                high.join(", "),
                DAILY_GHI.key
            ));
        } else {
            tell(
                "preliminary: days and hours are made around twelve monthly means; a weather file of the site makes \
                 them firmer"
                    .to_owned(),
            );
        }
        if let Some(km) = grid.from_km {
            tell(format!(
                "no cell of the world grid around the site is land; the day-to-day spread{} of the cell {km:.0} km away \
                 {} taken",
                if self.ghi_w_m2.is_none() { " and the means" } else { "" },
                if self.ghi_w_m2.is_none() { "are" } else { "is" },
            ));
        }
        if self.air == Air::Nothing {
            tell(
                "air temperature is estimated from latitude, altitude and month, and can be 5 °C off; give `air_mean_c`, \
                 with `air_low_c` and `air_high_c` where they are known"
                    .to_owned(),
            );
        }
    }
}
