//! `[weather]`: a weather file and its clock, or a year made from twelve monthly means.
//!
//! The result has no gaps, and all of GHI, DNI and DHI.

mod synthetic;

use std::sync::Arc;

use daylift_plant::{Site, WeatherSource};
use daylift_sky::split::{self, Parts};
use daylift_sky::{Ephemeris, SkyModel, Weather, WeatherSeries};
use daylift_tables::weather::{AIR, Clock, StampAt, Timing, WIND, WeatherTable, seconds_of_hours};
use daylift_tables::weather_file::Layout;
use daylift_tables::{gaps, weather_file};
use daylift_units::fields::weather;
use daylift_units::{Fault, fingerprint};

use super::sunlight::{self, Light};
use crate::outline::{CloudKeys, Listed, PlantKeys, WeatherFileKeys};
use crate::read::{Outlined, Placed, Section};
use synthetic::MadeYear;

/// Seconds in a minute.
const MINUTE_S: u32 = 60;

/// What was read from `[weather]`.
pub(crate) struct WeatherRead {
    pub(crate) from: From,
    sky_model: SkyModel,
    clouds: Option<Clouds>,
}

/// Clouds within the hour.
#[derive(Clone, Copy)]
struct Clouds {
    seed: u32,
    /// Whether the file asks for them; otherwise they are the default.
    asked: bool,
}

/// Where the year comes from.
pub(crate) enum From {
    File(FileRead),
    /// Twelve monthly means.
    Made(Box<MadeYear>),
}

impl From {
    /// Whether its intervals are longer than a minute.
    fn is_coarse(&self) -> bool {
        match self {
            Self::File(file) => file.table.interval_s > MINUTE_S,
            Self::Made(_) => true,
        }
    }
}

/// A weather file as it was read.
pub(crate) struct FileRead {
    /// Air and wind without gaps.
    pub(crate) table: Arc<WeatherTable>,
    /// Mean air temperature \[°C\].
    mean_air_c: f64,
    /// Fingerprint of the file and of how it is read.
    key: u64,
    name: String,
}

impl WeatherRead {
    /// The file as a table, if there is one.
    pub(crate) fn table(&self) -> Option<&WeatherTable> {
        match &self.from {
            From::File(file) => Some(&file.table),
            From::Made(_) => None,
        }
    }

    /// Mean air temperature of the year at a place \[°C\].
    pub(crate) fn mean_air_c(&self, latitude_deg: f64, altitude_m: f64) -> f64 {
        match &self.from {
            From::File(file) => file.mean_air_c,
            From::Made(made_year) => made_year.mean_air_c(latitude_deg, altitude_m),
        }
    }

    /// Where the weather comes from, for reports.
    pub(crate) fn source(&self, latitude_deg: f64) -> WeatherSource {
        match &self.from {
            From::File(file) => WeatherSource {
                station: file.table.name.clone(),
                file: Some(file.name.clone()),
            },
            From::Made(made_year) => made_year.source(latitude_deg),
        }
    }
}

pub(crate) fn read(root: &Placed<PlantKeys>) -> Option<WeatherRead> {
    let Placed { at, keys } = root.keys.weather.there()?;
    let from = if keys.synthetic == Some(true) {
        refuse_file(at);
        let made_year = keys.made.as_ref().and_then(|made| synthetic::read(at, made));
        made_year.map(|made_year| From::Made(Box::new(made_year)))
    } else {
        synthetic::refuse(at);
        keys.of_file.as_ref().and_then(|of_file| read_file(at, of_file)).map(From::File)
    };
    let by_the_minute = from.as_ref().is_some_and(|from| !from.is_coarse());
    let clouds = keys.clouds.as_ref().map(|clouds| read_clouds(at, clouds, by_the_minute));
    keys.synthetic?;
    Some(WeatherRead {
        from: from?,
        sky_model: keys.sky_model?,
        clouds: clouds?,
    })
}

/// The clouds within the hour, unless they are refused or the weather shows every minute itself.
fn read_clouds(at: &Section, keys: &CloudKeys, by_the_minute: bool) -> Option<Clouds> {
    let seed_is_given = keys.cloud_seed.given().is_some();
    match keys.minute_clouds {
        Some(false) => {
            if seed_is_given {
                at.fault(Fault::new(
                    weather::CLOUD_SEED.key,
                    weather::CLOUD_SEED.quantity,
                    "given together with `minute_clouds = false`",
                    "a seed only where clouds vary within the hour",
                    "remove `cloud_seed`, or remove `minute_clouds = false`",
                ));
            }
            return None;
        }
        None if by_the_minute => {
            if seed_is_given {
                at.book().warn(
                    "weather",
                    "`cloud_seed` has no effect: the weather file has a value for every minute",
                );
            }
            return None;
        }
        None => at.by_default("minute_clouds", Listed::Flag(true), CloudKeys::SOURCE),
        Some(true) => {}
    }
    Some(Clouds {
        seed: keys.cloud_seed.value(at),
        asked: keys.minute_clouds.is_some(),
    })
}

/// Books a fault for each key of a weather file that is given together with a synthetic year.
fn refuse_file(at: &Section) {
    for key in WeatherFileKeys::TABLE.keys().iter().map(|key| key.name).filter(|key| at.has(key)) {
        at.fault(Fault::new(
            key,
            "weather file",
            format!("`{key}` together with `synthetic = true`"),
            "a weather file, or a synthetic year from twelve monthly means",
            format!("remove `{key}`, or remove `synthetic`"),
        ));
    }
}

fn read_file(at: &Section, keys: &WeatherFileKeys) -> Option<FileRead> {
    let Some(file) = &keys.file else {
        at.missing_text(&WeatherFileKeys::FILE.key);
        return None;
    };
    let source = at.load("file", "weather file", file)?;
    let layout = layout_of(at, &source.text)?;
    let clock = read_clock(at, keys, layout);
    let key = fingerprint::of(&(&source.text, &source.name, layout, clock));
    let book = at.book();
    let table = book.recall(
        |known| &known.tables,
        key,
        || {
            let mut table = at.noted(weather_file::read(&source, layout, clock))?;
            fill_air(&mut table);
            Some(Arc::new(table))
        },
    )?;
    Some(FileRead {
        mean_air_c: mean_air_c(&table),
        table,
        key,
        name: file.clone(),
    })
}

fn layout_of(at: &Section, text: &str) -> Option<Layout> {
    let layout = Layout::of(text);
    if layout.is_none() {
        let first: String = text.lines().next().unwrap_or("").chars().take(60).collect();
        at.fault(Fault::new(
            "file",
            "weather file",
            if text.trim().is_empty() {
                "an empty file".to_owned()
            } else {
                format!("it begins with \"{first}\"")
            },
            "an EPW file (first line LOCATION), a TMY3 file (a station line, then Date (MM/DD/YYYY) …), or a CSV with the \
             header time,ghi_w_m2,air_c and optionally dni_w_m2,dhi_w_m2,wind_m_s",
            "check that it is the right file, or give it one of these headers",
        ));
    }
    layout
}

/// The clock of a file. TMY3 files define their own, so the keys for it are refused.
fn read_clock(at: &Section, keys: &WeatherFileKeys, layout: Layout) -> Clock {
    let stamp = match layout {
        Layout::Plain => Some(keys.stamp.value(at)),
        Layout::Epw => Some(keys.stamp.given().unwrap_or(StampAt::End)),
        Layout::Tmy3 => None,
    };
    if let Some(stamp) = stamp {
        return Clock {
            stamp,
            utc_offset_s: keys.utc_offset_h.map(seconds_of_hours),
        };
    }
    let refused = [
        (
            "stamp",
            keys.stamp.given().is_some(),
            "is stamped at the end of each hour by definition",
        ),
        (
            weather::UTC_OFFSET.key,
            keys.utc_offset_h.is_some(),
            "states its time zone in its first line",
        ),
    ];
    for (key, _, states) in refused.iter().filter(|(_, is_given, _)| *is_given) {
        at.fault(Fault::new(
            *key,
            "clock of the weather file",
            format!("`{key}` for a file in {} layout, which {states}", layout.name()),
            "this key for a plain CSV or an EPW file only",
            format!("remove `{key}`"),
        ));
    }
    Clock {
        stamp: StampAt::End,
        utc_offset_s: None,
    }
}

/// Fills gaps in air temperature and wind, which do not depend on the sun.
fn fill_air(table: &mut WeatherTable) {
    for i in [AIR, WIND] {
        if let Some(values) = &mut table.columns[i] {
            gaps::fill(values, table.interval_s, None);
        }
    }
}

fn mean_air_c(table: &WeatherTable) -> f64 {
    let air_c = table.columns[AIR].as_deref().unwrap_or(&[]);
    #[expect(clippy::cast_precision_loss, reason = "intervals of one year are exact in f64")]
    let count = air_c.len().max(1) as f64;
    air_c.iter().sum::<f64>() / count
}

/// The sun at the middle of every interval: cosine of its zenith angle, and irradiance outside the atmosphere \[W/m²\].
struct HourlySun {
    zenith_cos: Vec<f64>,
    extraterrestrial_w_m2: Vec<f64>,
}

impl HourlySun {
    fn of(site: &Site, intervals: usize, interval_s: u32) -> Self {
        #[expect(clippy::cast_precision_loss, reason = "seconds since 1970 are exact in f64")]
        let start_s = site.axis.start_unix_s() as f64;
        let ephemeris = Ephemeris::new(start_s, site.axis.length_s());
        let interval_s = f64::from(interval_s);
        let mut out = Self {
            zenith_cos: Vec::with_capacity(intervals),
            extraterrestrial_w_m2: Vec::with_capacity(intervals),
        };
        let mut middle_s = start_s + interval_s / 2.0;
        for _ in 0..intervals {
            let sun = ephemeris.position(&site.observer, middle_s);
            out.zenith_cos.push(sun.zenith_cos);
            out.extraterrestrial_w_m2.push(sun.extraterrestrial_w_m2());
            middle_s += interval_s;
        }
        out
    }

    /// Irradiance without an atmosphere \[W/m²\] on a horizontal surface or on one that faces the sun; 0 when the sun is down.
    fn potential(&self, horizontal: bool) -> Vec<f64> {
        let suns = self.zenith_cos.iter().zip(&self.extraterrestrial_w_m2);
        suns.map(|(&c, &e0)| match (c > 0.0, horizontal) {
            (false, _) => 0.0,
            (true, true) => e0 * c,
            (true, false) => e0,
        })
        .collect()
    }
}

/// The year's weather without gaps; direct and diffuse light are calculated if they are not given.
pub(crate) fn complete(section: &Section, read: &WeatherRead, site: &Site) -> Option<Weather> {
    let at = (site.latitude_deg, site.longitude_deg, site.altitude_m);
    let key = |year: u64| fingerprint::of(&(year, read.sky_model, at, &site.axis));
    let recall = |key, find: &dyn Fn() -> Option<Weather>| section.book().recall(|known| &known.weathers, key, find);
    let weather = match &read.from {
        From::File(file) => recall(key(file.key), &|| {
            let columns = file.table.columns.clone();
            found(
                section,
                columns,
                FileClock {
                    interval_s: file.table.interval_s,
                    utc_offset_s: file.table.utc_offset_s,
                    timing: Some(file.table.timing),
                },
                read.sky_model,
                site,
            )
        }),
        From::Made(made_year) => {
            let grid = made_year.sun_there(section, site)?;
            recall(key(fingerprint::of(&**made_year)), &|| {
                let year = made_year.year(section, site, &grid)?;
                let columns = [Some(year.ghi_w_m2), None, None, Some(year.air_c), Some(year.wind_m_s)];
                found(
                    section,
                    columns,
                    FileClock {
                        interval_s: year.interval_s,
                        utc_offset_s: year.utc_offset_s,
                        timing: None,
                    },
                    read.sky_model,
                    site,
                )
            })
        }
    };
    weather.map(|weather| match read.clouds {
        Some(Clouds { seed, asked: false }) => weather.with_usual_clouds(seed),
        clouds => weather.with_clouds(clouds.map(|clouds| clouds.seed)),
    })
}

/// When the intervals of a year of weather are.
#[derive(Clone, Copy)]
struct FileClock {
    interval_s: u32,
    utc_offset_s: i32,
    /// What can be corrected about it; `None` for a year that was made.
    timing: Option<Timing>,
}

fn found(
    section: &Section,
    columns: [Option<Vec<f64>>; 5],
    clock: FileClock,
    sky_model: SkyModel,
    site: &Site,
) -> Option<Weather> {
    let FileClock {
        interval_s,
        utc_offset_s,
        timing,
    } = clock;
    let [ghi, mut dni, mut dhi, air, wind] = columns;
    let (mut ghi_w_m2, air_c, wind_m_s) = (ghi?, air?, wind?);
    let all_given = timing.filter(|_| dni.is_some() && dhi.is_some());
    let with_gaps = [Some(&ghi_w_m2), dni.as_ref(), dhi.as_ref()].into_iter().flatten().any(|v| gaps::any(v));
    if with_gaps || dni.is_none() || dhi.is_none() {
        let suns = HourlySun::of(site, ghi_w_m2.len(), interval_s);
        for (values, horizontal) in [(Some(&mut ghi_w_m2), true), (dni.as_mut(), false), (dhi.as_mut(), true)] {
            if let Some(values) = values {
                gaps::fill(values, interval_s, Some(&suns.potential(horizontal)));
            }
        }
        split_all(&ghi_w_m2, &mut dni, &mut dhi, &suns);
    }
    let (dni_w_m2, dhi_w_m2) = (dni?, dhi?);
    let light = Light {
        ghi_w_m2: &ghi_w_m2,
        dni_w_m2: &dni_w_m2,
        dhi_w_m2: &dhi_w_m2,
        interval_s,
        all_given,
    };
    section.book().warnings(section.booked(sunlight::check(&light, site))?);
    let series = WeatherSeries {
        interval_s,
        utc_offset_s,
        ghi_w_m2,
        dni_w_m2,
        dhi_w_m2,
        air_c,
        wind_m_s,
    };
    let weather = Weather::new(series).map_err(|faults| {
        for mut fault in faults {
            // The fault names columns of the weather; in the plant file its place is the key `file`.
            fault.key = "file".to_owned();
            section.fault(fault);
        }
    });
    weather.ok().map(|weather| weather.with_sky_model(sky_model))
}

/// Calculates direct and diffuse light, whichever is missing.
fn split_all(ghi_w_m2: &[f64], dni: &mut Option<Vec<f64>>, dhi: &mut Option<Vec<f64>>, suns: &HourlySun) {
    let parts = |of: &dyn Fn(usize, f64, f64) -> Parts| -> (Vec<f64>, Vec<f64>) {
        (0..ghi_w_m2.len())
            .map(|i| of(i, suns.zenith_cos[i], suns.extraterrestrial_w_m2[i]))
            .map(|parts| (parts.dni_w_m2, parts.dhi_w_m2))
            .unzip()
    };
    let found = match (&*dni, &*dhi) {
        (Some(_), Some(_)) => return,
        (None, None) => parts(&|i, c, e0| split::by_clearness(ghi_w_m2[i], c, e0)),
        (None, Some(dhi)) => parts(&|i, c, e0| split::by_diffuse(ghi_w_m2[i], dhi[i], c, e0)),
        (Some(dni), None) => parts(&|i, c, _| split::by_direct(ghi_w_m2[i], dni[i], c)),
    };
    (*dni, *dhi) = (Some(found.0), Some(found.1));
}
