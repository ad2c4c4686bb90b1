//! The reference tables and the weather stations.

use std::error::Error;
use std::fmt::Display;
use std::path::{Path, PathBuf};

use daylift_plant::Plant;
use daylift_plant_file::read_plant;
use daylift_sky::{Ephemeris, Observer, SkyYear, Weather, WeatherSeries};
use daylift_units::{Axis, Step};

/// Result of a check: nothing, or why it could not be made.
pub(crate) type Outcome<T = ()> = Result<T, Box<dyn Error>>;

/// The folder of the validation.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

/// Faults as one text.
pub(crate) fn faults_text<T: Display>(faults: impl IntoIterator<Item = T>) -> String {
    faults.into_iter().map(|fault| fault.to_string()).collect::<Vec<_>>().join("; ")
}

/// A reference table.
pub(crate) struct Table {
    header: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Table {
    /// Reads `data/NAME`; lines that begin with `#` are comments.
    pub(crate) fn read(name: &str) -> Outcome<Self> {
        let path = root().join("data").join(name);
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path)?;
        let header = reader.headers()?.iter().map(str::to_owned).collect();
        let rows = reader
            .records()
            .map(|row| row.map(|row| row.iter().map(str::to_owned).collect()))
            .collect::<Result<_, _>>()?;
        Ok(Self { header, rows })
    }

    /// Texts of a column.
    pub(crate) fn texts(&self, column: &str) -> Outcome<Vec<&str>> {
        let at = self.header.iter().position(|name| name == column);
        let at = at.ok_or_else(|| format!("no column {column}"))?;
        Ok(self.rows.iter().map(|row| row[at].as_str()).collect())
    }

    /// Numbers of a column.
    pub(crate) fn numbers(&self, column: &str) -> Outcome<Vec<f64>> {
        let texts = self.texts(column)?;
        Ok(texts.into_iter().map(str::parse).collect::<Result<_, _>>()?)
    }
}

/// A weather station with its year at a step of one hour.
pub(crate) struct Station {
    /// Number of the station.
    pub(crate) key: &'static str,
    /// Its location.
    pub(crate) observer: Observer,
    /// The sun of the year.
    pub(crate) ephemeris: Ephemeris,
    /// The year; its civil time is the station's standard time.
    pub(crate) axis: Axis,
    /// Sun and weather of the year.
    pub(crate) sky: SkyYear,
}

/// Both stations.
pub(crate) fn stations() -> Outcome<[Station; 2]> {
    Ok([
        Station::read("703165", "703165TY.csv")?,
        Station::read("723170", "723170TYA.CSV")?,
    ])
}

impl Station {
    fn read(key: &'static str, file: &str) -> Outcome<Self> {
        let path = root().join("data/tmy3").join(file);
        let text = std::fs::read_to_string(path)?;
        let (first, rest) = text.split_once('\n').ok_or("an empty file")?;
        let place: Vec<&str> = first.trim().split(',').collect();
        let number = |i: usize| place.get(i).ok_or("a short first line")?.parse::<f64>().map_err(|e| e.to_string());
        let offset_h = place[3].trim_end_matches(".0").parse::<i32>()?;
        let weather = Weather::new(series(rest, offset_h * 3600)?).map_err(faults_text)?;
        let observer = Observer::new(number(4)?, number(5)?, number(6)?, weather.mean_air_c()).map_err(faults_text)?;
        // The names of these zones count hours west of Greenwich.
        let zone = format!("Etc/GMT{:+}", -offset_h);
        let axis = Axis::new(2025, weather.days(), offset_h * 3600, &zone, Step::Hour).map_err(faults_text)?;
        #[expect(clippy::cast_precision_loss, reason = "seconds of our time are exact in f64")]
        let ephemeris = Ephemeris::new(axis.start_unix_s() as f64, axis.length_s());
        let sky = SkyYear::new(&weather, &ephemeris, &observer, &axis);
        Ok(Self {
            key,
            observer,
            ephemeris,
            axis,
            sky,
        })
    }
}

fn series(hours: &str, utc_offset_s: i32) -> Outcome<WeatherSeries> {
    let mut reader = csv::Reader::from_reader(hours.as_bytes());
    let header = reader.headers()?.clone();
    let rows = reader.records().collect::<Result<Vec<_>, _>>()?;
    let column = |name: &str| -> Outcome<Vec<f64>> {
        let at = header.iter().position(|text| text == name);
        let at = at.ok_or_else(|| format!("no column {name}"))?;
        Ok(rows.iter().map(|row| row[at].parse()).collect::<Result<_, _>>()?)
    };
    Ok(WeatherSeries {
        interval_s: 3600,
        utc_offset_s,
        ghi_w_m2: column("GHI (W/m^2)")?,
        dni_w_m2: column("DNI (W/m^2)")?,
        dhi_w_m2: column("DHI (W/m^2)")?,
        air_c: column("Dry-bulb (C)")?,
        wind_m_s: column("Wspd (m/s)")?,
    })
}

/// A plant of the whole-year comparison: its folder in `plants`.
pub(crate) fn plant(folder: &str) -> Outcome<Plant> {
    let read = read_plant(&root().join("plants").join(folder))
        .map_err(|faults| faults_text(faults.into_iter().map(|located| located.fault)))?;
    Ok(read.plant)
}
