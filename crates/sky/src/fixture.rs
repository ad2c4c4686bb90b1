//! A cloudless year for tests.

use daylift_units::{Axis, Step};

use crate::{Ephemeris, Observer, Weather, WeatherSeries};

/// A place, its cloudless weather in 2025, and the year's axis in hourly steps.
pub(crate) struct Place {
    pub(crate) observer: Observer,
    pub(crate) ephemeris: Ephemeris,
    pub(crate) axis: Axis,
    pub(crate) weather: Weather,
}

/// Cloudless hours by Haurwitz (1945): GHI = 1098·cos z·e^(−0.057/cos z) W/m², with the sun at the middle of the hour.
/// One fifth of it is diffuse.
pub(crate) fn cloudless(latitude_deg: f64, longitude_deg: f64) -> Place {
    #[expect(clippy::cast_possible_truncation, reason = "hours of the day")]
    let offset_s = (longitude_deg / 15.0).round() as i32 * 3600;
    let axis = Axis::new(2025, 365, offset_s, "UTC", Step::Hour).unwrap();
    let observer = Observer::new(latitude_deg, longitude_deg, 1200.0, 20.0).unwrap();
    #[expect(clippy::cast_precision_loss, reason = "seconds of our time are exact in f64")]
    let ephemeris = Ephemeris::new(axis.start_unix_s() as f64, axis.length_s());
    let mut series = WeatherSeries {
        interval_s: 3600,
        utc_offset_s: offset_s,
        ghi_w_m2: Vec::new(),
        dni_w_m2: Vec::new(),
        dhi_w_m2: Vec::new(),
        air_c: Vec::new(),
        wind_m_s: vec![2.0; 8760],
    };
    for hour in 0..8760_i32 {
        #[expect(clippy::cast_precision_loss, reason = "seconds of our time are exact in f64")]
        let middle_unix_s = axis.start_unix_s() as f64 + (f64::from(hour) + 0.5) * 3600.0;
        let c = ephemeris.position(&observer, middle_unix_s).zenith_cos;
        let ghi_w_m2 = if c > 0.0 { 1098.0 * c * (-0.057 / c).exp() } else { 0.0 };
        series.ghi_w_m2.push(ghi_w_m2);
        series.dhi_w_m2.push(0.2 * ghi_w_m2);
        series.dni_w_m2.push(if c > 0.0 { 0.8 * ghi_w_m2 / c } else { 0.0 });
        series
            .air_c
            .push(20.0 + 8.0 * (f64::from(hour % 24 - 14) / 24.0 * std::f64::consts::TAU).cos());
    }
    Place {
        observer,
        ephemeris,
        axis,
        weather: Weather::new(series).unwrap(),
    }
}
