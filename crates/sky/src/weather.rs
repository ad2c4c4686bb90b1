//! The checked weather of one year, in regular intervals.

use daylift_units::constants::{DAY_S, HOUR_S};
use daylift_units::field::number;
use daylift_units::{Fault, Field, Fingerprinted, Unit, fingerprint};

use crate::light::SkyModel;

const W_M2: Unit = Unit {
    symbol: "W/m²",
    factor: 1.0,
};
const M_S: Unit = Unit {
    symbol: "m/s",
    factor: 1.0,
};

/// The middle one of the steps that a run can have \[s\].
const TEN_MINUTES_S: u32 = 600;

const GHI: Field = Field::new(
    "ghi_w_m2",
    "global horizontal irradiance",
    W_M2,
    0.0,
    1500.0,
    "more than outside the atmosphere is an error of the file",
);
const DNI: Field = Field::new(
    "dni_w_m2",
    "direct normal irradiance",
    W_M2,
    0.0,
    1500.0,
    "more than outside the atmosphere is an error of the file",
);
const DHI: Field = Field::new(
    "dhi_w_m2",
    "diffuse horizontal irradiance",
    W_M2,
    0.0,
    1000.0,
    "more than any sky has given",
);
const AIR: Field = Field::new(
    "air_c",
    "air temperature",
    Unit::CELSIUS,
    -60.0,
    60.0,
    "colder and hotter than any farm",
);
const WIND: Field = Field::new("wind_m_s", "wind speed", M_S, 0.0, 60.0, "more than a hurricane's mean");

/// Weather as read from a file: one value per interval; the first interval starts at 00:00 on 1 January.
#[derive(Debug, Clone, PartialEq)]
pub struct WeatherSeries {
    /// Length of an interval \[s\].
    pub interval_s: u32,
    /// Standard time of the file, seconds east of UTC.
    pub utc_offset_s: i32,
    /// Global horizontal irradiance, mean of the interval \[W/m²\].
    pub ghi_w_m2: Vec<f64>,
    /// Direct normal irradiance, mean of the interval \[W/m²\].
    pub dni_w_m2: Vec<f64>,
    /// Diffuse horizontal irradiance, mean of the interval \[W/m²\].
    pub dhi_w_m2: Vec<f64>,
    /// Air temperature \[°C\].
    pub air_c: Vec<f64>,
    /// Wind speed \[m/s\].
    pub wind_m_s: Vec<f64>,
}

fingerprint!(WeatherSeries {
    interval_s,
    utc_offset_s,
    ghi_w_m2,
    dni_w_m2,
    dhi_w_m2,
    air_c,
    wind_m_s
});

impl WeatherSeries {
    fn columns(&self) -> [(&Field, &[f64]); 5] {
        [
            (&GHI, &self.ghi_w_m2),
            (&DNI, &self.dni_w_m2),
            (&DHI, &self.dhi_w_m2),
            (&AIR, &self.air_c),
            (&WIND, &self.wind_m_s),
        ]
    }
}

/// Weather of one whole year, complete and within plausible limits.
#[derive(Debug, Clone, PartialEq)]
pub struct Weather {
    series: Fingerprinted<WeatherSeries>,
    days: u32,
    mean_air_c: f64,
    sky_model: SkyModel,
    clouds: Option<u32>,
    clouds_asked: bool,
    ghi_j_m2: f64,
}

// Whether clouds were asked for decides about a warning, not about the light.
fingerprint!(Weather { series, sky_model, clouds } derived { days, mean_air_c, clouds_asked, ghi_j_m2 });

impl Weather {
    /// Checks a year of weather.
    ///
    /// Intervals that do not fit steps of ten minutes (3, 4, 6, 12 and 15 minutes) are cut into equal parts that do.
    /// Each part has the value of the whole interval.
    ///
    /// # Errors
    /// A fault for an interval that fits no step, and for an offset of more than 15 h. Also a fault for each column that
    /// is not a year long or has values outside its range; it names the first such value and counts the others.
    pub fn new(series: WeatherSeries) -> Result<Self, Vec<Fault>> {
        let mut faults = Vec::new();
        if series.utc_offset_s.unsigned_abs() > 15 * 3600 {
            faults.push(Fault::new(
                "utc_offset_s",
                "time zone of the weather",
                format!("UTC{:+} h", f64::from(series.utc_offset_s) / HOUR_S),
                "within 15 h of UTC",
                "correct the time zone in the weather file's first line",
            ));
        }
        if !is_known(series.interval_s) {
            faults.push(Fault::new(
                "interval_s",
                "interval of the weather",
                format!("{} s", series.interval_s),
                "1, 2, 3, 4, 5, 6, 10, 12, 15, 20, 30 or 60 minutes",
                "give the weather by the hour",
            ));
            return Err(faults);
        }
        let per_day = 86_400 / series.interval_s;
        let days = if series.ghi_w_m2.len() == 366 * per_day as usize {
            366
        } else {
            365
        };
        for (field, values) in series.columns() {
            faults.extend(length_fault(field, values, per_day, days));
            faults.extend(value_fault(field, values));
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let mean_air_c = series.air_c.iter().sum::<f64>() / f64::from(days * per_day);
        let series = fitted(series);
        Ok(Self {
            ghi_j_m2: series.ghi_w_m2.iter().sum::<f64>() * f64::from(series.interval_s),
            series: series.into(),
            days,
            mean_air_c,
            sky_model: SkyModel::default(),
            clouds: None,
            clouds_asked: false,
        })
    }

    /// The same weather, with this model for diffuse light on tilted planes.
    #[must_use]
    pub fn with_sky_model(mut self, sky_model: SkyModel) -> Self {
        self.sky_model = sky_model;
        self
    }

    /// Model for diffuse light on tilted planes.
    #[must_use]
    pub fn sky_model(&self) -> SkyModel {
        self.sky_model
    }

    /// The same weather with clouds that pass within its intervals, drawn from a seed; `None` for no such clouds.
    #[must_use]
    pub fn with_clouds(mut self, seed: Option<u32>) -> Self {
        self.clouds = seed;
        self.clouds_asked = seed.is_some();
        self
    }

    /// The same weather with clouds that nobody asked for: those of the default.
    #[must_use]
    pub fn with_usual_clouds(self, seed: u32) -> Self {
        Self {
            clouds_asked: false,
            ..self.with_clouds(Some(seed))
        }
    }

    /// Whether clouds within the intervals were asked for; false where they are only the default.
    #[must_use]
    pub fn clouds_asked(&self) -> bool {
        self.clouds_asked
    }

    /// Seed of the clouds that pass within the intervals; `None` without such clouds.
    #[must_use]
    pub fn clouds(&self) -> Option<u32> {
        self.clouds
    }

    /// Days in the year, 365 or 366.
    #[must_use]
    pub fn days(&self) -> u32 {
        self.days
    }

    /// Length of an interval \[s\].
    #[must_use]
    pub fn interval_s(&self) -> u32 {
        self.series.interval_s
    }

    /// Number of intervals in the year.
    #[must_use]
    pub fn intervals(&self) -> usize {
        self.series.ghi_w_m2.len()
    }

    /// Standard time of the weather, seconds east of UTC.
    #[must_use]
    pub fn utc_offset_s(&self) -> i32 {
        self.series.utc_offset_s
    }

    /// Mean air temperature of the year \[°C\].
    #[must_use]
    pub fn mean_air_c(&self) -> f64 {
        self.mean_air_c
    }

    /// Global horizontal irradiance by interval \[W/m²\].
    #[must_use]
    pub fn ghi_w_m2(&self) -> &[f64] {
        &self.series.ghi_w_m2
    }

    /// Direct normal irradiance by interval \[W/m²\].
    #[must_use]
    pub fn dni_w_m2(&self) -> &[f64] {
        &self.series.dni_w_m2
    }

    /// Diffuse horizontal irradiance by interval \[W/m²\].
    #[must_use]
    pub fn dhi_w_m2(&self) -> &[f64] {
        &self.series.dhi_w_m2
    }

    /// Air temperature by interval \[°C\].
    #[must_use]
    pub fn air_c(&self) -> &[f64] {
        &self.series.air_c
    }

    /// Wind speed by interval \[m/s\].
    #[must_use]
    pub fn wind_m_s(&self) -> &[f64] {
        &self.series.wind_m_s
    }

    /// Energy of the global horizontal irradiance over the year \[J/m²\].
    #[must_use]
    pub fn ghi_j_m2(&self) -> f64 {
        self.ghi_j_m2
    }
}

/// Whether an interval is a whole number of minutes and divides an hour.
fn is_known(interval_s: u32) -> bool {
    interval_s > 0 && interval_s.is_multiple_of(60) && 3600_u32.is_multiple_of(interval_s)
}

/// Cuts intervals so that they divide into, or are made of, whole steps of an hour, ten minutes and one minute.
fn fitted(series: WeatherSeries) -> WeatherSeries {
    let interval_s = series.interval_s;
    if TEN_MINUTES_S.is_multiple_of(interval_s) || interval_s.is_multiple_of(TEN_MINUTES_S) {
        return series;
    }
    let part_s = common_divisor(interval_s, TEN_MINUTES_S);
    let parts = (interval_s / part_s) as usize;
    let cut = |values: &[f64]| -> Vec<f64> { values.iter().flat_map(|&v| std::iter::repeat_n(v, parts)).collect() };
    WeatherSeries {
        interval_s: part_s,
        utc_offset_s: series.utc_offset_s,
        ghi_w_m2: cut(&series.ghi_w_m2),
        dni_w_m2: cut(&series.dni_w_m2),
        dhi_w_m2: cut(&series.dhi_w_m2),
        air_c: cut(&series.air_c),
        wind_m_s: cut(&series.wind_m_s),
    }
}

/// Greatest common divisor (Euclid).
fn common_divisor(a: u32, b: u32) -> u32 {
    if b == 0 { a } else { common_divisor(b, a % b) }
}

fn length_fault(field: &Field, values: &[f64], per_day: u32, days: u32) -> Option<Fault> {
    (values.len() != (per_day * days) as usize).then(|| {
        Fault::new(
            field.key,
            field.quantity,
            format!("{} intervals of {} s", values.len(), DAY_S / f64::from(per_day)),
            format!(
                "{} intervals (365 days) or {} (366 days), the same in every column",
                365 * per_day,
                366 * per_day
            ),
            "give a whole year without gaps",
        )
    })
}

fn value_fault(field: &Field, values: &[f64]) -> Option<Fault> {
    let outside = |value: f64| !(value >= field.least && value <= field.greatest);
    let first = values.iter().position(|&value| outside(value))?;
    let more = values[first + 1..].iter().filter(|&&value| outside(value)).count();
    let place = format!("interval {} of {}", first + 1, values.len());
    let and_more = match more {
        0 => String::new(),
        _ => format!(" and {more} more"),
    };
    Some(Fault::new(
        field.key,
        field.quantity,
        format!("{} in {place}{and_more}", field.print(values[first])),
        format!(
            "{} to {} ({})",
            number(field.least),
            field.print(field.greatest),
            field.reason
        ),
        format!(
            "correct `{}` there, or fill it from the hours before and after",
            field.key
        ),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn year(intervals: usize, interval_s: u32) -> WeatherSeries {
        WeatherSeries {
            interval_s,
            utc_offset_s: 2 * 3600,
            ghi_w_m2: vec![200.0; intervals],
            dni_w_m2: vec![150.0; intervals],
            dhi_w_m2: vec![90.0; intervals],
            air_c: (0..intervals).map(|i| if i % 2 == 0 { 10.0 } else { 30.0 }).collect(),
            wind_m_s: vec![2.0; intervals],
        }
    }

    #[test]
    fn common_and_leap_years_are_accepted_at_every_fitting_interval() {
        for (interval_s, days) in [
            (3600, 365),
            (3600, 366),
            (1800, 365),
            (900, 365),
            (600, 366),
            (300, 365),
        ] {
            let weather = Weather::new(year(days * 86_400 / interval_s, u32::try_from(interval_s).unwrap())).unwrap();
            assert_eq!(weather.days() as usize, days);
            assert!((weather.mean_air_c() - 20.0).abs() < 1e-9);
        }
        for interval_s in [0, 59, 420, 7200] {
            assert_eq!(Weather::new(year(8760, interval_s)).unwrap_err()[0].key, "interval_s");
        }
    }

    #[test]
    fn intervals_between_the_steps_are_cut_into_equal_parts() {
        for (interval_s, part_s) in [(900, 300), (720, 120), (360, 120), (240, 120), (180, 60), (1200, 1200)] {
            let whole = year(365 * 86_400 / interval_s, u32::try_from(interval_s).unwrap());
            let weather = Weather::new(whole.clone()).unwrap();
            assert_eq!(weather.interval_s(), part_s);
            let parts = interval_s / part_s as usize;
            assert_eq!(weather.intervals(), 365 * 86_400 / part_s as usize);
            for (i, air_c) in weather.air_c().iter().enumerate().take(100) {
                assert!((air_c - whole.air_c[i / parts]).abs() < 1e-12);
            }
            assert!((weather.ghi_j_m2() - 6.3072e9).abs() < 1.0);
        }
    }

    #[test]
    fn a_wrong_value_is_named_with_its_interval_and_the_others_counted() {
        let mut series = year(8760, 3600);
        series.ghi_w_m2[4710] = 1612.0;
        series.ghi_w_m2[4712] = f64::NAN;
        series.ghi_w_m2[8759] = -1.0;
        series.wind_m_s[0] = 99.0;
        let faults = Weather::new(series).unwrap_err();
        assert_eq!(faults.len(), 2);
        let text = faults[0].to_string();
        assert!(text.contains("1612 W/m² in interval 4711 of 8760 and 2 more"), "{text}");
        assert!(text.contains("allowed: 0 to 1500 W/m²"), "{text}");
        assert!(faults[1].to_string().contains("99 m/s in interval 1 of 8760;"));
    }

    #[test]
    fn columns_must_be_equally_long_and_a_whole_year() {
        let mut series = year(8760, 3600);
        series.air_c.pop();
        series.dni_w_m2.extend([0.0; 24]);
        let keys: Vec<String> = Weather::new(series).unwrap_err().into_iter().map(|f| f.key).collect();
        assert_eq!(keys, ["dni_w_m2", "air_c"]);
    }

    #[test]
    fn energy_of_the_year_is_the_sum_of_the_intervals() {
        // 200 W/m² all year: 200 · 8760 h · 3600 s
        let weather = Weather::new(year(8760, 3600)).unwrap();
        assert!((weather.ghi_j_m2() - 6.3072e9).abs() < 1.0);
    }
}
