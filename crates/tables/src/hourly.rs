//! Common parts of the layouts with hour-ending rows: one row for every hour of a year, in order.

use std::ops::RangeInclusive;

use csv::{ReaderBuilder, StringRecord};

use crate::rows::{Notes, set_place};
use crate::source::Source;
use crate::stamp::Stamp;
use crate::weather::{QUANTITIES, Quantity, Station, seconds_of_hours};

/// How the rows of a layout are read.
pub(crate) struct Hourly {
    /// Month, day and hour of a row.
    pub(crate) stamp: fn(&StringRecord) -> Option<[u32; 3]>,
    /// Date and time of a row, as written in the file.
    pub(crate) text: fn(&StringRecord) -> String,
    /// Columns in the order of [`QUANTITIES`].
    pub(crate) columns: [HourlyColumn; 5],
    /// Allowed numbers of values in a row.
    pub(crate) width: RangeInclusive<usize>,
}

/// A column of an hourly layout.
#[derive(Clone, Copy)]
pub(crate) struct HourlyColumn {
    /// Name in messages.
    pub(crate) name: &'static str,
    /// Position in the row.
    pub(crate) at: usize,
    /// Whether a value means "missing".
    pub(crate) missing: fn(f64) -> bool,
}

/// All records of the file.
pub(crate) fn records(source: &Source, quoting: bool, notes: &mut Notes) -> Option<Vec<StringRecord>> {
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .quoting(quoting)
        .trim(csv::Trim::All)
        .from_reader(source.text.as_bytes());
    let mut records = Vec::with_capacity(8800);
    for record in reader.records() {
        match record {
            Ok(mut record) => {
                if set_place(&mut record, source, false) {
                    records.push(record);
                }
            }
            Err(e) => {
                let remedy = "check the file's quotes and commas";
                notes.at_byte(0, e.to_string(), "comma-separated values", remedy);
                return None;
            }
        }
    }
    Some(records)
}

/// Positions of the station's name, time zone, latitude, longitude and elevation in the first line.
pub(crate) struct StationAt {
    pub(crate) name: usize,
    pub(crate) zone: usize,
    pub(crate) latitude: usize,
    pub(crate) longitude: usize,
    pub(crate) elevation: usize,
}

pub(crate) fn station(record: &StringRecord, at: &StationAt, notes: &mut Notes) -> Option<Station> {
    let number = |i: usize, least: f64, greatest: f64| {
        record.get(i)?.parse::<f64>().ok().filter(|v| (least..=greatest).contains(v))
    };
    let wanted = [
        (at.zone, "time zone in hours", -14.0, 14.0),
        (at.latitude, "latitude", -90.0, 90.0),
        (at.longitude, "longitude", -180.0, 180.0),
        (at.elevation, "elevation in m", -430.0, 9000.0),
    ];
    let numbers = wanted.map(|(i, name, least, greatest)| {
        let found = number(i, least, greatest);
        if found.is_none() {
            let given = format!("{name}: \"{}\"", record.get(i).unwrap_or(""));
            let allowed = format!("a number from {least} to {greatest}, value {} of the first line", i + 1);
            notes.at(record, given, &allowed, "correct the station line");
        }
        found
    });
    let [Some(zone_h), Some(latitude_deg), Some(longitude_deg), Some(altitude_m)] = numbers else {
        return None;
    };
    Some(Station {
        name: record.get(at.name).unwrap_or("").to_owned(),
        utc_offset_s: seconds_of_hours(zone_h),
        latitude_deg,
        longitude_deg,
        altitude_m,
    })
}

impl Hourly {
    /// Days of the year, from the number of rows. If the rows do not make a year, a fault names the first doubled or
    /// missing hour.
    pub(crate) fn days(&self, rows: &[StringRecord], header: &StringRecord, notes: &mut Notes) -> Option<u32> {
        let days = match rows.len() {
            8760 => return Some(365),
            8784 => return Some(366),
            n if n > 8772 => 366,
            _ => 365,
        };
        let allowed = "8760 rows, one for every hour of a year (8784 with 29 February)";
        let mut stamp = Stamp::FIRST;
        for row in rows {
            if !stamp.is((self.stamp)(row)) {
                let given = format!("{} rows; {} where {stamp} is expected", rows.len(), (self.text)(row));
                notes.at(
                    row,
                    given,
                    allowed,
                    "an hour is missing, duplicated or out of order there",
                );
                return None;
            }
            stamp.advance(days);
        }
        let last = rows.last().unwrap_or(header);
        let given = format!("{} rows; the file ends at {}", rows.len(), (self.text)(last));
        notes.at(
            last,
            given,
            allowed,
            "download or export the complete file again; it seems to be incomplete",
        );
        None
    }

    /// The values of every hour; missing ones are NaN.
    pub(crate) fn values(&self, rows: &[StringRecord], days: u32, notes: &mut Notes) -> [Option<Vec<f64>>; 5] {
        let mut out: [Vec<f64>; 5] = Default::default();
        let mut stamp = Stamp::FIRST;
        let mut in_order = true;
        for row in rows {
            if in_order && !stamp.is((self.stamp)(row)) {
                let given = format!("{} where {stamp} is expected", (self.text)(row));
                let allowed = "the hours of a year in order, month/day, hour-ending 01:00 to 24:00";
                let remedy = "put the hours in order; none may be missing or duplicated";
                notes.at(row, given, allowed, remedy);
                in_order = false;
            }
            if !self.width.contains(&row.len()) {
                let given = format!("{} values at {}", row.len(), (self.text)(row));
                let allowed = format!("{}, one for each column", self.width.start());
                notes.at(row, given, &allowed, "correct the row");
            }
            stamp.advance(days);
            for ((values, column), quantity) in out.iter_mut().zip(&self.columns).zip(&QUANTITIES) {
                values.push(self.cell(row, column, quantity, notes));
            }
        }
        out.map(Some)
    }

    fn cell(&self, row: &StringRecord, column: &HourlyColumn, quantity: &Quantity, notes: &mut Notes) -> f64 {
        let text = row.get(column.at).unwrap_or("");
        let value = text.parse::<f64>();
        if text.is_empty() || value.as_ref().is_ok_and(|v| (column.missing)(*v)) {
            return f64::NAN;
        }
        let value = value.unwrap_or(f64::NAN);
        if (quantity.least..=quantity.greatest).contains(&value) {
            return value;
        }
        let given = format!("{}: {} = \"{text}\"", (self.text)(row), column.name);
        let allowed = format!("a number from {} to {}", quantity.least, quantity.greatest);
        let remedy = if (-20.0..0.0).contains(&value) && quantity.greatest >= 1000.0 {
            "small negative values at night are a sensor's offset: set them to 0"
        } else {
            "correct the value, or check the column's unit"
        };
        notes.at(row, given, &allowed, remedy);
        f64::NAN
    }
}
