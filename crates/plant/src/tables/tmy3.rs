//! Weather in the TMY3 layout (Wilcox & Marion 2008, NREL/TP-581-43156): station line, column names, hour-ending rows.

use std::sync::Arc;

use csv::{ReaderBuilder, StringRecord};
use daylift_sky::{Weather, WeatherSeries};

use super::rows::RowFaults;
use crate::read::Book;
use crate::read::section::nearest;
use crate::source::Source;

/// Weather and where it was taken.
pub(crate) struct StationWeather {
    pub(crate) weather: Weather,
    pub(crate) name: String,
    pub(crate) latitude_deg: f64,
    pub(crate) longitude_deg: f64,
    pub(crate) altitude_m: f64,
}

const COLUMNS: [Column; 5] = [
    Column {
        name: "GHI (W/m^2)",
        least: 0.0,
        greatest: 1500.0,
    },
    Column {
        name: "DNI (W/m^2)",
        least: 0.0,
        greatest: 1500.0,
    },
    Column {
        name: "DHI (W/m^2)",
        least: 0.0,
        greatest: 1000.0,
    },
    Column {
        name: "Dry-bulb (C)",
        least: -60.0,
        greatest: 60.0,
    },
    Column {
        name: "Wspd (m/s)",
        least: 0.0,
        greatest: 60.0,
    },
];

struct Column {
    name: &'static str,
    least: f64,
    greatest: f64,
}

const DAYS_IN_MONTH: [u32; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Reads the file; every fault is booked with its line.
pub(crate) fn read(book: &Book, source: &Arc<Source>) -> Option<StationWeather> {
    let mut faults = RowFaults::new(book, source, "weather.file", "weather");
    let station = read_file(source, &mut faults);
    if faults.close() == 0 { station } else { None }
}

fn read_file(source: &Source, faults: &mut RowFaults<'_>) -> Option<StationWeather> {
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(source.text.as_bytes());
    let mut records = Vec::with_capacity(8800);
    for record in reader.records() {
        match record {
            Ok(record) => records.push(record),
            Err(e) => {
                faults.at_byte(
                    0,
                    e.to_string(),
                    "comma-separated values",
                    "check the file's quotes and commas",
                );
                return None;
            }
        }
    }
    let [station, header, rows @ ..] = records.as_slice() else {
        faults.at_byte(
            0,
            format!("{} lines", records.len()),
            "a station line, a line of column names and a row for every hour",
            "check that it is the right file",
        );
        return None;
    };
    let place = station_place(station, faults);
    let columns = find_columns(header, faults);
    let (place, columns) = (place?, columns?);
    let days = match rows.len() {
        8760 => 365,
        8784 => 366,
        n => {
            let last = rows.last().map_or("none", |r| r.get(0).unwrap_or(""));
            faults.at(
                header,
                format!("{n} rows, the last of {last}"),
                "8760 rows, one for every hour of a year (8784 with 29 February)",
                "get the whole file again; it looks cut off",
            );
            return None;
        }
    };
    let values = read_values(rows, columns, days, faults);
    check_magnitude(&values[0], header, faults);
    let [ghi_w_m2, dni_w_m2, dhi_w_m2, air_c, wind_m_s] = values;
    let series = WeatherSeries {
        interval_s: 3600,
        utc_offset_s: place.utc_offset_s,
        ghi_w_m2,
        dni_w_m2,
        dhi_w_m2,
        air_c,
        wind_m_s,
    };
    match Weather::new(series) {
        Ok(weather) => Some(StationWeather {
            weather,
            name: place.name,
            latitude_deg: place.latitude_deg,
            longitude_deg: place.longitude_deg,
            altitude_m: place.altitude_m,
        }),
        Err(found) => {
            for fault in found {
                faults.at_byte(
                    0,
                    format!("{}: {}", fault.quantity, fault.given),
                    &fault.allowed,
                    &fault.remedy,
                );
            }
            None
        }
    }
}

struct StationPlace {
    name: String,
    utc_offset_s: i32,
    latitude_deg: f64,
    longitude_deg: f64,
    altitude_m: f64,
}

fn station_place(record: &StringRecord, faults: &mut RowFaults<'_>) -> Option<StationPlace> {
    let number = |i: usize, least: f64, greatest: f64| {
        record.get(i)?.parse::<f64>().ok().filter(|v| (least..=greatest).contains(v))
    };
    let numbers = (
        number(3, -14.0, 14.0),
        number(4, -90.0, 90.0),
        number(5, -180.0, 180.0),
        number(6, -430.0, 9000.0),
    );
    let (Some(zone_h), Some(latitude_deg), Some(longitude_deg), Some(altitude_m)) = numbers else {
        let given = record.iter().collect::<Vec<_>>().join(",").chars().take(80).collect();
        faults.at(
            record,
            given,
            "station number, name, state, time zone in hours, latitude, longitude, elevation in m",
            "mend the station line",
        );
        return None;
    };
    #[expect(clippy::cast_possible_truncation, reason = "within 14 hours of seconds")]
    let utc_offset_s = (zone_h * 3600.0).round() as i32;
    Some(StationPlace {
        name: record.get(1).unwrap_or("").to_owned(),
        utc_offset_s,
        latitude_deg,
        longitude_deg,
        altitude_m,
    })
}

fn find_columns(header: &StringRecord, faults: &mut RowFaults<'_>) -> Option<[usize; 5]> {
    let mut out = [0; 5];
    let mut all = true;
    for (slot, column) in out.iter_mut().zip(&COLUMNS) {
        match header.iter().position(|name| name == column.name) {
            Some(i) => *slot = i,
            None => {
                all = false;
                let remedy = match nearest(column.name, header.iter()) {
                    Some(near) => format!("found \"{near}\"; name and unit must be \"{}\"", column.name),
                    None => "add the column, or use a file that has it".to_owned(),
                };
                faults.at(
                    header,
                    format!("no column \"{}\"", column.name),
                    "GHI, DNI and DHI in W/m^2, Dry-bulb in C, Wspd in m/s",
                    &remedy,
                );
            }
        }
    }
    all.then_some(out)
}

fn read_values(rows: &[StringRecord], columns: [usize; 5], days: u32, faults: &mut RowFaults<'_>) -> [Vec<f64>; 5] {
    let mut out: [Vec<f64>; 5] = Default::default();
    let mut stamp = Stamp {
        month: 1,
        day: 1,
        hour: 1,
    };
    let mut in_order = true;
    for row in rows {
        if in_order && !stamp.is(row) {
            let given = format!("{} {}", row.get(0).unwrap_or(""), row.get(1).unwrap_or(""));
            let allowed = format!(
                "{:02}/{:02}, {:02}:00 here (month/day, hour-ending 01:00 to 24:00)",
                stamp.month, stamp.day, stamp.hour
            );
            faults.at(
                row,
                given,
                &allowed,
                "put the hours in order; none may be missing or doubled",
            );
            in_order = false;
        }
        stamp.advance(days);
        for ((value, column), i) in out.iter_mut().zip(&COLUMNS).zip(columns) {
            value.push(cell(row, i, column, faults));
        }
    }
    out
}

fn cell(row: &StringRecord, i: usize, column: &Column, faults: &mut RowFaults<'_>) -> f64 {
    let text = row.get(i).unwrap_or("");
    let value = text.parse::<f64>().unwrap_or(f64::NAN);
    if (column.least..=column.greatest).contains(&value) {
        return value;
    }
    let stamp = format!("{} {}", row.get(0).unwrap_or(""), row.get(1).unwrap_or(""));
    let given = format!("{stamp}: {} = \"{text}\"", column.name);
    let allowed = format!("a number from {} to {}", column.least, column.greatest);
    let remedy = if text.starts_with("-9900") || text.is_empty() {
        "the value is missing: use a file without gaps"
    } else {
        "correct the value, or check the column's unit"
    };
    faults.at(row, given, &allowed, remedy);
    0.0
}

/// A year whose brightest hour is dimmer than this is not in W/m².
const DIMMEST_BRIGHTEST_HOUR_W_M2: f64 = 50.0;

fn check_magnitude(ghi_w_m2: &[f64], header: &StringRecord, faults: &mut RowFaults<'_>) {
    let brightest = ghi_w_m2.iter().copied().fold(0.0, f64::max);
    if brightest < DIMMEST_BRIGHTEST_HOUR_W_M2 {
        faults.at(
            header,
            format!("GHI never exceeds {brightest} W/m^2"),
            "at least one hour above 50 W/m^2 in a year",
            "check the unit: kW/m^2 times 1000, or kWh/m^2 and hour times 1000, gives W/m^2",
        );
    }
}

struct Stamp {
    month: u32,
    day: u32,
    hour: u32,
}

impl Stamp {
    fn is(&self, row: &StringRecord) -> bool {
        let date: Vec<Option<u32>> = row.get(0).unwrap_or("").split('/').map(|p| p.parse().ok()).collect();
        let hour = row.get(1).unwrap_or("").strip_suffix(":00").and_then(|h| h.parse::<u32>().ok());
        matches!(date[..], [Some(m), Some(d), Some(_)] if m == self.month && d == self.day) && hour == Some(self.hour)
    }

    fn advance(&mut self, days: u32) {
        self.hour += 1;
        if self.hour > 24 {
            self.hour = 1;
            self.day += 1;
        }
        let leap = u32::from(days == 366 && self.month == 2);
        if self.day > DAYS_IN_MONTH[(self.month as usize - 1) % 12] + leap {
            self.day = 1;
            self.month = self.month % 12 + 1;
        }
    }
}
