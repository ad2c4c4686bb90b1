//! `[site]`, and the weather on its year.

use daylift_sky::synthetic::air::LAPSE_C_M;
use daylift_sky::world::great_circle_km;
use daylift_sky::{Horizon, Observer, Weather};
use daylift_tables::weather::Station;
use daylift_units::constants::HOUR_S;
use daylift_units::field::thousands;
use daylift_units::fields::site;
use daylift_units::{Axis, Fault, Step};
use jiff::civil::Date;

use super::weather::{self, WeatherRead};
use crate::outline::{PlantKeys, RecordKeys};
use crate::read::{Placed, Section};
use daylift_plant::{Site, WeatherSource};

/// A weather station farther from the site than this \[km\] is reported.
const FAR_STATION_KM: f64 = 50.0;
/// A weather station higher or lower than the site by more than this \[m\] is reported.
const HIGH_STATION_M: f64 = 300.0;
/// Standard time that differs from solar time by more than this \[h\] is reported. It hardly ever does (western China: 3 h).
const FAR_ZONE_H: f64 = 2.0;
/// Degrees of longitude per hour of solar time.
const DEG_PER_HOUR: f64 = 15.0;

#[derive(Clone)]
struct Coordinates {
    latitude_deg: f64,
    longitude_deg: f64,
    altitude_m: f64,
    record_low_c: Option<f64>,
    record_high_c: Option<f64>,
    horizon: Option<Horizon>,
}

/// What was read from `[site]` and `[weather]`: all of it, and the year alone for checking dates when the rest has faults.
#[derive(Default)]
pub(crate) struct SiteRead {
    pub(crate) whole: Option<SiteAndWeather>,
    pub(crate) axis: Option<Axis>,
    /// The horizon, for the planes of the array.
    pub(crate) horizon: Option<Horizon>,
}

/// Site, weather and where the weather comes from.
pub(crate) struct SiteAndWeather {
    pub(crate) site: Site,
    pub(crate) weather: Weather,
    pub(crate) source: WeatherSource,
}

pub(crate) fn read(root: &Placed<PlantKeys>) -> SiteRead {
    let weather = weather::read(root);
    let Some(Placed { at, keys }) = root.keys.site.there() else {
        return SiteRead::default();
    };
    if let Some(RecordKeys {
        low_c: Some(low_c),
        high_c: Some(high_c),
    }) = keys.records
        && low_c >= high_c
    {
        at.fault(exchanged_records(low_c, high_c));
    }
    let horizon = match &keys.horizon_deg {
        Some(Some(elevations_deg)) => at.booked(Horizon::new(elevations_deg)),
        _ => None,
    };
    let axis = match (keys.year, &keys.time_zone) {
        (Some(year), Some(zone)) => read_axis(at, year, zone, weather.as_ref()),
        _ => None,
    };
    let whole = || {
        let (place, records) = (keys.at.as_ref()?, keys.records.as_ref()?);
        let coordinates = Coordinates {
            latitude_deg: place.latitude_deg,
            longitude_deg: place.longitude_deg,
            altitude_m: place.altitude_m,
            record_low_c: records.low_c,
            record_high_c: records.high_c,
            horizon: horizon.clone(),
        };
        whole(root, at, &coordinates, axis.clone()?, weather.as_ref()?)
    };
    SiteRead {
        whole: whole(),
        axis,
        horizon,
    }
}

fn whole(
    root: &Placed<PlantKeys>,
    section: &Section,
    at: &Coordinates,
    axis: Axis,
    read: &WeatherRead,
) -> Option<SiteAndWeather> {
    let observer = Observer::new(
        at.latitude_deg,
        at.longitude_deg,
        at.altitude_m,
        read.mean_air_c(at.latitude_deg, at.altitude_m),
    );
    let site = Site {
        latitude_deg: at.latitude_deg,
        longitude_deg: at.longitude_deg,
        altitude_m: at.altitude_m,
        record_low_c: at.record_low_c,
        record_high_c: at.record_high_c,
        horizon: at.horizon.clone(),
        observer: section.booked(observer)?,
        axis,
    };
    warn_of_zone(section, &site);
    if let Some(station) = read.table().and_then(|table| table.station.as_ref()) {
        warn_when_far(section, at, station);
    }
    Some(SiteAndWeather {
        weather: weather::complete(&root.keys.weather.there()?.at, read, &site)?,
        site,
        source: read.source(at.latitude_deg),
    })
}

fn exchanged_records(low_c: f64, high_c: f64) -> Fault {
    Fault::new(
        site::RECORD_LOW.key,
        site::RECORD_LOW.quantity,
        site::RECORD_LOW.print(low_c),
        format!("below the hottest, {}", site::RECORD_HIGH.print(high_c)),
        "are `record_low_c` and `record_high_c` swapped?",
    )
}

/// The year's axis. Without weather, zone and year are still checked, with the days of the calendar year.
fn read_axis(section: &Section, year: u32, zone: &str, weather: Option<&WeatherRead>) -> Option<Axis> {
    let year = i16::try_from(year).unwrap_or(i16::MAX);
    let leap = Date::new(year, 1, 1).is_ok_and(Date::in_leap_year);
    let days = if leap { 366 } else { 365 };
    let of = |days, offset_s| section.booked(Axis::new(year, days, offset_s, zone, Step::Hour));
    match weather {
        Some(read) => match read.table() {
            Some(table) => of(table.days(), table.utc_offset_s),
            // A synthetic year runs on the zone's standard time.
            None => of(days, i32::try_from(of(days, 0)?.standard_offset_s()).unwrap_or(0)),
        },
        None => of(days, 0),
    }
}

/// Warns of a time zone far from solar time: it shifts outages, prices, loads and pumping hours against the sun.
fn warn_of_zone(section: &Section, site: &Site) {
    #[expect(clippy::cast_precision_loss, reason = "offsets of less than a day are exact in f64")]
    let zone_h = site.axis.standard_offset_s() as f64 / HOUR_S;
    let sun_h = site.longitude_deg / DEG_PER_HOUR;
    let apart_h = (zone_h - sun_h + 12.0).rem_euclid(24.0) - 12.0;
    if apart_h.abs() > FAR_ZONE_H {
        let text = format!(
            "the clock of `time_zone` is {:.1} h {} solar time at the site's longitude: check both",
            apart_h.abs(),
            if apart_h > 0.0 { "ahead of" } else { "behind" }
        );
        section.book().warn("site", text);
    }
}

fn warn_when_far(section: &Section, site: &Coordinates, station: &Station) {
    let km = great_circle_km(
        (site.latitude_deg, site.longitude_deg),
        (station.latitude_deg, station.longitude_deg),
    );
    if km > FAR_STATION_KM {
        let text = format!(
            "the weather was recorded {} km from the site, at {}; sun and clouds may differ",
            thousands(&format!("{km:.0}")),
            station.name
        );
        section.book().warn("weather", text);
    }
    let up_m = station.altitude_m - site.altitude_m;
    if up_m.abs() > HIGH_STATION_M {
        let (word, air) = if up_m > 0.0 {
            ("above", "cooler")
        } else {
            ("below", "warmer")
        };
        let text = format!(
            "the weather was recorded {} m {word} the site, where the air is about {:.1} °C {air}",
            thousands(&format!("{:.0}", up_m.abs())),
            up_m.abs() * LAPSE_C_M
        );
        section.book().warn("weather", text);
    }
}
