//! Weather in the TMY3 layout (Wilcox & Marion 2008, NREL/TP-581-43156): station line, column names, hour-ending rows.

use std::sync::Arc;

use csv::{ReaderBuilder, StringRecord};
use daylift_sky::{Weather, WeatherSeries};

use super::rows::{RowFaults, SEMICOLONS};
use super::stamp::Stamp;
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

/// Reads the file; every fault is booked with its line.
pub(crate) fn read(book: &Book, source: &Arc<Source>) -> Option<StationWeather> {
    let mut faults = RowFaults::new(book, source, "weather.file", "weather");
    let station = read_file(source, &mut faults);
    if faults.close() == 0 { station } else { None }
}

fn read_file(source: &Source, faults: &mut RowFaults<'_>) -> Option<StationWeather> {
    let records = read_records(source, faults)?;
    let [station, header, rows @ ..] = records.as_slice() else {
        let given = format!("{} lines", records.len());
        let allowed = "a station line, a line of column names and a row for every hour";
        faults.at_byte(0, given, allowed, "check that it is the right file");
        return None;
    };
    if header.len() == 1 && header[0].contains(';') {
        faults.at(header, SEMICOLONS.0.to_owned(), SEMICOLONS.1, SEMICOLONS.2);
        return None;
    }
    let place = station_place(station, faults);
    let columns = find_columns(header, faults);
    let (place, columns) = (place?, columns?);
    let days = days_of(rows, header, faults)?;
    let values = read_values(rows, header, columns, days, faults);
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
                let given = format!("{}: {}", fault.quantity, fault.given);
                faults.at_byte(0, given, &fault.allowed, &fault.remedy);
            }
            None
        }
    }
}

fn read_records(source: &Source, faults: &mut RowFaults<'_>) -> Option<Vec<StringRecord>> {
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
                let remedy = "check the file's quotes and commas";
                faults.at_byte(0, e.to_string(), "comma-separated values", remedy);
                return None;
            }
        }
    }
    Some(records)
}

/// Days of the year by the number of rows; the first hour that is doubled or missing is told when they are no year.
fn days_of(rows: &[StringRecord], header: &StringRecord, faults: &mut RowFaults<'_>) -> Option<u32> {
    let days = match rows.len() {
        8760 => return Some(365),
        8784 => return Some(366),
        n if n > 8772 => 366,
        _ => 365,
    };
    let allowed = "8760 rows, one for every hour of a year (8784 with 29 February)";
    let mut stamp = Stamp::FIRST;
    for row in rows {
        if !stamp.is(row) {
            let given = format!("{} rows; {} where {stamp} is expected", rows.len(), text_of(row));
            faults.at(row, given, allowed, "an hour is missing, doubled or out of order there");
            return None;
        }
        stamp.advance(days);
    }
    let last = rows.last().unwrap_or(header);
    let given = format!("{} rows; the file ends at {}", rows.len(), text_of(last));
    faults.at(last, given, allowed, "get the whole file again; it looks cut off");
    None
}

fn text_of(row: &StringRecord) -> String {
    format!("{} {}", row.get(0).unwrap_or(""), row.get(1).unwrap_or(""))
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
    let wanted = [
        (3, "time zone in hours", -14.0, 14.0),
        (4, "latitude", -90.0, 90.0),
        (5, "longitude", -180.0, 180.0),
        (6, "elevation in m", -430.0, 9000.0),
    ];
    let numbers = wanted.map(|(i, name, least, greatest)| {
        let found = number(i, least, greatest);
        if found.is_none() {
            let given = format!("{name}: \"{}\"", record.get(i).unwrap_or(""));
            let allowed = format!("a number from {least} to {greatest}, value {} of the first line", i + 1);
            faults.at(record, given, &allowed, "mend the station line");
        }
        found
    });
    let [Some(zone_h), Some(latitude_deg), Some(longitude_deg), Some(altitude_m)] = numbers else {
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
        let found: Vec<usize> = header
            .iter()
            .enumerate()
            .filter(|(_, name)| *name == column.name)
            .map(|(i, _)| i)
            .collect();
        match found[..] {
            [i] => *slot = i,
            [] => {
                all = false;
                let others = header.iter().filter(|name| COLUMNS.iter().all(|c| c.name != *name));
                let remedy = match nearest(column.name, others) {
                    Some(near) => format!("found \"{near}\"; name and unit must be \"{}\"", column.name),
                    None => "add the column, or use a file that has it".to_owned(),
                };
                let allowed = "GHI, DNI and DHI in W/m^2, Dry-bulb in C, Wspd in m/s";
                faults.at(header, format!("no column \"{}\"", column.name), allowed, &remedy);
            }
            _ => {
                all = false;
                let given = format!("{} columns \"{}\"", found.len(), column.name);
                faults.at(header, given, "one", "remove or rename the others");
            }
        }
    }
    all.then_some(out)
}

fn read_values(
    rows: &[StringRecord],
    header: &StringRecord,
    columns: [usize; 5],
    days: u32,
    faults: &mut RowFaults<'_>,
) -> [Vec<f64>; 5] {
    let mut out: [Vec<f64>; 5] = Default::default();
    let mut stamp = Stamp::FIRST;
    let mut in_order = true;
    for row in rows {
        if in_order && !stamp.is(row) {
            let given = format!("{} where {stamp} is expected", text_of(row));
            let allowed = "the hours of a year in order, month/day, hour-ending 01:00 to 24:00";
            faults.at(
                row,
                given,
                allowed,
                "put the hours in order; none may be missing or doubled",
            );
            in_order = false;
        }
        if row.len() != header.len() {
            let given = format!("{} values at {}", row.len(), text_of(row));
            let allowed = format!("{}, one for each column", header.len());
            faults.at(row, given, &allowed, "mend the row");
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
    let given = format!("{}: {} = \"{text}\"", text_of(row), column.name);
    let allowed = format!("a number from {} to {}", column.least, column.greatest);
    let remedy = if (-20.0..0.0).contains(&value) && column.greatest >= 1000.0 {
        "small negative values at night are a sensor's offset: set them to 0"
    } else if text.starts_with("-9900") || text.is_empty() {
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
