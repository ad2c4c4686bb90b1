//! Weather in the TMY3 layout (Wilcox & Marion 2008, NREL/TP-581-43156): station line, column names, hour-ending rows.

use csv::StringRecord;

use crate::hourly::{Hourly, HourlyColumn, StationAt, records, station};
use crate::nearest::nearest;
use crate::rows::{Notes, SEMICOLONS};
use crate::source::Source;
use crate::weather::{Timing, WeatherTable};

const NAMES: [&str; 5] = [
    "GHI (W/m^2)",
    "DNI (W/m^2)",
    "DHI (W/m^2)",
    "Dry-bulb (C)",
    "Wspd (m/s)",
];

const STATION: StationAt = StationAt {
    name: 1,
    zone: 3,
    latitude: 4,
    longitude: 5,
    elevation: 6,
};

pub(crate) fn read(source: &Source, notes: &mut Notes) -> Option<WeatherTable> {
    let records = records(source, true, notes)?;
    let [first, header, rows @ ..] = records.as_slice() else {
        let given = format!("{} lines", records.len());
        let allowed = "a station line, a line of column names and a row for every hour";
        notes.at_byte(0, given, allowed, "check that it is the right file");
        return None;
    };
    if header.len() == 1 && header[0].contains(';') {
        notes.at(header, SEMICOLONS.0.to_owned(), SEMICOLONS.1, SEMICOLONS.2);
        return None;
    }
    let station = station(first, &STATION, notes);
    let columns = find_columns(header, notes);
    let (station, columns) = (station?, columns?);
    let layout = Hourly {
        stamp: stamp_of,
        text: text_of,
        columns,
        width: header.len()..=header.len(),
    };
    let days = layout.days(rows, header, notes)?;
    Some(WeatherTable {
        name: station.name.clone(),
        interval_s: 3600,
        utc_offset_s: station.utc_offset_s,
        station: Some(station),
        timing: Timing {
            stamp: None,
            utc_offset_s: None,
        },
        columns: layout.values(rows, days, notes),
    })
}

/// Month, day and hour of `MM/DD/YYYY,HH:00`.
fn stamp_of(row: &StringRecord) -> Option<[u32; 3]> {
    let date: Vec<Option<u32>> = row.get(0)?.split('/').map(|part| part.parse().ok()).collect();
    let hour = row.get(1)?.strip_suffix(":00")?.parse().ok()?;
    match date[..] {
        [Some(month), Some(day), Some(_)] => Some([month, day, hour]),
        _ => None,
    }
}

fn text_of(row: &StringRecord) -> String {
    format!("{} {}", row.get(0).unwrap_or(""), row.get(1).unwrap_or(""))
}

/// −9900 means "missing".
fn is_missing(value: f64) -> bool {
    (-9901.0..=-9899.0).contains(&value)
}

fn find_columns(header: &StringRecord, notes: &mut Notes) -> Option<[HourlyColumn; 5]> {
    let mut all = true;
    let out = NAMES.map(|name| {
        let found: Vec<usize> = header.iter().enumerate().filter(|(_, n)| *n == name).map(|(i, _)| i).collect();
        match found[..] {
            [_] => {}
            [] => {
                all = false;
                let others = header.iter().filter(|other| !NAMES.contains(other));
                let remedy = match nearest(name, others) {
                    Some(near) => format!("found \"{near}\"; name and unit must be \"{name}\""),
                    None => "add the column, or use a file that has it".to_owned(),
                };
                let allowed = "GHI, DNI and DHI in W/m^2, Dry-bulb in C, Wspd in m/s";
                notes.at(header, format!("no column \"{name}\""), allowed, &remedy);
            }
            _ => {
                all = false;
                let given = format!("{} columns \"{name}\"", found.len());
                notes.at(header, given, "one", "remove or rename the others");
            }
        }
        HourlyColumn {
            name,
            at: found.first().copied().unwrap_or(0),
            missing: is_missing,
        }
    });
    all.then_some(out)
}
