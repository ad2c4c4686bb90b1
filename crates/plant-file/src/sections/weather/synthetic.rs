//! `[weather] synthetic = true`: a year made from twelve monthly means, of the plant file or of the world grid.

use daylift_plant::{Site, WeatherSource};
use daylift_sky::synthetic::air::{self, MonthlyAir};
use daylift_sky::synthetic::{self, Climate, HourlySun, MonthlySun};
use daylift_sky::world::{self, FAR_FROM_EQUATOR_DEG, GridSun};
use daylift_sky::{Ephemeris, WeatherSeries};
use daylift_units::field::{number, thousands};
use daylift_units::fields::weather::{AIR_HIGH, AIR_LOW, AIR_MEAN, CORRECTION, DAILY_GHI};
use daylift_units::{Fault, Monthly, fingerprint};

use crate::outline::{Listed, MadeYearKeys};
use crate::read::{ByMonth, Outlined, Section};

/// What the file says about the synthetic year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct MadeYear {
    seed: u32,
    /// Monthly means of global irradiance in the file \[W/m²\].
    ghi_w_m2: Option<Monthly<f64>>,
    /// By how much the file takes the world grid to be too high, as a fraction.
    overestimate: Option<f64>,
    air: Air,
    wind_m_s: Monthly<f64>,
}

fingerprint!(MadeYear {
    seed,
    ghi_w_m2,
    overestimate,
    air,
    wind_m_s
});

/// What the file says about air temperature \[°C\].
#[derive(Debug, Clone, Copy, PartialEq)]
enum Air {
    Nothing,
    Mean(Monthly<f64>),
    All(MonthlyAir),
}

fingerprint!(
    enum Air {
        Nothing,
        Mean(mean_c),
        All(months),
    }
);

/// Reads the keys of a synthetic year.
pub(super) fn read(at: &Section, keys: &MadeYearKeys) -> Option<MadeYear> {
    if keys.correction.is_some() && keys.daily_ghi_w_m2.is_some() {
        at.fault(Fault::new(
            CORRECTION.key,
            CORRECTION.quantity,
            format!("`{}` together with `{}`", CORRECTION.key, DAILY_GHI.key),
            "a correction only where the means come from the world grid: the plant file's own means are used as given",
            format!("remove `{}`, or remove `{}`", CORRECTION.key, DAILY_GHI.key),
        ));
    }
    Some(MadeYear {
        seed: keys.seed.value(at),
        ghi_w_m2: keys.daily_ghi_w_m2.map(Monthly::from_array),
        overestimate: keys.correction,
        air: read_air(at, keys)?,
        wind_m_s: keys.wind_m_s.value(at).0,
    })
}

/// Books a fault for each key of a synthetic year that is given together with a weather file.
pub(super) fn refuse(at: &Section) {
    for key in MadeYearKeys::TABLE.keys().iter().map(|key| key.name).filter(|key| at.has(key)) {
        at.fault(Fault::new(
            key,
            "weather made from monthly means",
            format!("`{key}` together with a weather file"),
            "this key only for a synthetic year: the file has every hour",
            format!("remove `{key}`, or replace `file` by `synthetic = true`"),
        ));
    }
}

fn read_air(at: &Section, keys: &MadeYearKeys) -> Option<Air> {
    let of = |monthly: Option<ByMonth>| monthly.map(|monthly| monthly.0);
    let (mean, low, high) = (of(keys.air_mean_c), of(keys.air_low_c), of(keys.air_high_c));
    match (mean, low, high) {
        (None, None, None) => Some(Air::Nothing),
        (Some(mean_c), None, None) => Some(Air::Mean(mean_c)),
        (Some(mean_c), Some(low_c), Some(high_c)) => at.booked(MonthlyAir::new(mean_c, low_c, high_c)).map(Air::All),
        (mean, low, high) => {
            let all = [(mean, AIR_MEAN.key), (low, AIR_LOW.key), (high, AIR_HIGH.key)];
            let first = |given: bool| all.iter().find(|(value, _)| value.is_some() == given).map_or("", |(_, key)| key);
            let (there, missing) = (first(true), first(false));
            at.fault(Fault::new(
                there,
                "air temperature by month",
                format!("`{missing}` is missing"),
                "`air_mean_c` alone, or all of `air_mean_c`, `air_low_c` and `air_high_c`, or none",
                format!("add `{missing}`, or let Daylift estimate the minimum and maximum"),
            ));
            None
        }
    }
}

impl MadeYear {
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
    pub(crate) fn source(&self, latitude_deg: f64) -> WeatherSource {
        let means = if self.ghi_w_m2.is_some() {
            "twelve monthly means of the plant file".to_owned()
        } else {
            format!(
                "the world grid (NASA MERRA-2, 2011–2015){}",
                self.correction_in_words(latitude_deg)
            )
        };
        WeatherSource {
            station: format!("synthetic year from {means}, seed {}", self.seed),
            file: None,
        }
    }

    /// By how much the world grid is taken to be too high at a latitude, as a fraction.
    fn overestimate(&self, latitude_deg: f64) -> f64 {
        self.overestimate.unwrap_or_else(|| world::usual_overestimate(latitude_deg))
    }

    /// How the world grid is corrected, and why; follows its name.
    fn correction_in_words(&self, latitude_deg: f64) -> String {
        let overestimate = self.overestimate(latitude_deg);
        match self.overestimate {
            Some(0.0) => format!(", uncorrected (`{} = 0`)", CORRECTION.key),
            Some(_) => format!(", divided by {} (`{}`)", divisor(overestimate), CORRECTION.key),
            None => format!(
                ", divided by {} because it reads about {} too high at stations {} {FAR_FROM_EQUATOR_DEG}° of latitude",
                divisor(overestimate),
                CORRECTION.print_si(overestimate),
                if latitude_deg.abs() < FAR_FROM_EQUATOR_DEG {
                    "below"
                } else {
                    "above"
                },
            ),
        }
    }

    /// The world grid's sun at a site. If the file gives no monthly means, the grid is corrected, and its means are booked
    /// as a default.
    pub(super) fn sun_there(&self, section: &Section, site: &Site) -> Option<GridSun> {
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
        if self.ghi_w_m2.is_some() {
            return Some(grid);
        }
        let overestimate = self.overestimate(site.latitude_deg);
        let grid = grid.corrected(overestimate);
        if self.overestimate.is_none() {
            let pct = Listed::Number(as_typed(overestimate / CORRECTION.unit.factor), CORRECTION.unit.symbol);
            section.by_default(CORRECTION.key, pct, MadeYearKeys::CORRECTION_SOURCE);
        }
        let daily = grid
            .sun
            .mean_w_m2
            .into_array()
            .map(|w_m2| (w_m2 / DAILY_GHI.unit.factor * 100.0).round() / 100.0);
        let source = format!("the world grid, divided by {}; preliminary", divisor(overestimate));
        section.by_default_numbers(&DAILY_GHI, &daily, &source);
        Some(grid)
    }

    /// The year at a site; warnings say what is uncertain in it.
    pub(super) fn year(&self, section: &Section, site: &Site, grid: &GridSun) -> Option<WeatherSeries> {
        self.warn_of_estimates(section, grid, site.latitude_deg);
        #[expect(clippy::cast_precision_loss, reason = "seconds since 1970 are exact in f64")]
        let ephemeris = Ephemeris::new(site.axis.start_unix_s() as f64, site.axis.length_s());
        let suns = HourlySun::new(
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
            Air::Mean(mean_c) => MonthlyAir::from_mean(mean_c, &suns.clearness(&sun)),
            Air::All(air) => air,
        };
        let climate = Climate {
            sun,
            air,
            wind_m_s: self.wind_m_s,
        };
        section.booked(synthetic::year(&climate, &suns, self.seed))
    }

    fn warn_of_estimates(&self, section: &Section, grid: &GridSun, latitude_deg: f64) {
        let warn = |text: String| section.book().warn("weather", text);
        if self.ghi_w_m2.is_none() {
            warn(format!(
                "preliminary: the irradiation is from a world grid of 3° cells{}; twelve monthly means from a solar map \
                 (`{}`) or a weather file are more reliable",
                self.correction_in_words(latitude_deg),
                DAILY_GHI.key
            ));
        } else {
            warn(
                "preliminary: days and hours are generated from twelve monthly means; a weather file of the site is more \
                 reliable"
                    .to_owned(),
            );
        }
        if let Some(km) = grid.from_km {
            warn(format!(
                "no cell of the world grid around the site is land; the day-to-day spread{} of the cell {} km away \
                 {} used",
                if self.ghi_w_m2.is_none() { " and the means" } else { "" },
                thousands(&format!("{km:.0}")),
                if self.ghi_w_m2.is_none() { "are" } else { "is" },
            ));
        }
        if self.air == Air::Nothing {
            warn(
                "air temperature is estimated from latitude, altitude and month, and can be 5 °C off; give `air_mean_c`, \
                 and `air_low_c` and `air_high_c` if they are known"
                    .to_owned(),
            );
        }
    }
}

/// What the means of the world grid are divided by, in words.
fn divisor(overestimate: f64) -> String {
    number(as_typed(1.0 + overestimate))
}

/// The number without the rounding error of a division by its unit.
fn as_typed(value: f64) -> f64 {
    (value * 1e9).round() / 1e9
}
