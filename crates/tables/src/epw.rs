//! Weather in the EPW layout (EnergyPlus, *Auxiliary Programs*, chapter on weather files). Eight header lines, the
//! first with the station; then one row for every hour, stamped with the hour's end.
//!
//! Some programs write EPW files whose stamps are the start or the middle of the hour. Their rows stay the hours of the
//! year in order. The year then runs on a standard time that is an hour or half an hour behind the stamps'. So every value
//! is at its true instant, and no value is interpolated.

use csv::StringRecord;

use crate::hourly::{Hourly, HourlyColumn, StationAt, records, station};
use crate::rows::{Notes, SEMICOLONS};
use crate::source::Source;
use crate::weather::{Clock, StampAt, Timing, WeatherTable};

/// Number of header lines; the last of them is `DATA PERIODS`.
const HEADER_LINES: usize = 8;
const LAST_HEADER: &str = "DATA PERIODS";

const INTERVAL_S: u32 = 3600;

const STATION: StationAt = StationAt {
    name: 1,
    latitude: 6,
    longitude: 7,
    zone: 8,
    elevation: 9,
};

/// Columns by their position in a row, with the values that mean "missing": 9999 for sunlight, 99.9 for dry-bulb
/// temperature, 999 for wind speed.
const COLUMNS: [HourlyColumn; 5] = [
    column("global horizontal radiation (Wh/m2)", 13, |v| v >= 9999.0),
    column("direct normal radiation (Wh/m2)", 14, |v| v >= 9999.0),
    column("diffuse horizontal radiation (Wh/m2)", 15, |v| v >= 9999.0),
    column("dry bulb temperature (C)", 6, |v| v >= 99.9),
    column("wind speed (m/s)", 21, |v| v >= 999.0),
];

const fn column(name: &'static str, at: usize, missing: fn(f64) -> bool) -> HourlyColumn {
    HourlyColumn { name, at, missing }
}

const LAYOUT: Hourly = Hourly {
    stamp: stamp_of,
    text: text_of,
    columns: COLUMNS,
    width: 22..=40,
};

pub(crate) fn read(source: &Source, clock: Clock, notes: &mut Notes) -> Option<WeatherTable> {
    // Comment lines are free text, so quotes have no meaning here.
    let records = records(source, false, notes)?;
    let (first, periods) = header(&records, notes)?;
    let rows = &records[HEADER_LINES..];
    check_hourly(periods, notes);
    let station = station(first, &STATION, notes)?;
    let days = LAYOUT.days(rows, periods, notes)?;
    let stamped_utc_offset_s = clock.utc_offset_s.unwrap_or(station.utc_offset_s);
    if stamped_utc_offset_s != station.utc_offset_s {
        let text = format!(
            "`utc_offset_h` replaces the time zone of the file's first line: UTC{} instead of UTC{}",
            hours_east(stamped_utc_offset_s),
            hours_east(station.utc_offset_s)
        );
        notes.warn("weather", text);
    }
    let behind_s = clock.stamp.to_middle_s(INTERVAL_S) - StampAt::End.to_middle_s(INTERVAL_S);
    Some(WeatherTable {
        name: station.name.clone(),
        interval_s: INTERVAL_S,
        utc_offset_s: stamped_utc_offset_s - behind_s,
        station: Some(station),
        timing: Timing {
            stamp: Some(clock.stamp),
            utc_offset_s: Some(stamped_utc_offset_s),
        },
        columns: LAYOUT.values(rows, days, notes),
    })
}

/// An offset from UTC in hours with its sign.
fn hours_east(utc_offset_s: i32) -> String {
    format!("{:+}", f64::from(utc_offset_s) / 3600.0)
}

/// The first and the last header line.
fn header<'r>(records: &'r [StringRecord], notes: &mut Notes) -> Option<(&'r StringRecord, &'r StringRecord)> {
    if let Some(first) = records.first().filter(|first| first.len() == 1 && first[0].contains(';')) {
        notes.at(first, SEMICOLONS.0.to_owned(), SEMICOLONS.1, SEMICOLONS.2);
        return None;
    }
    let last = records.get(HEADER_LINES - 1);
    let named = |record: &&StringRecord| record.get(0).is_some_and(|name| name.eq_ignore_ascii_case(LAST_HEADER));
    if let (Some(first), Some(last)) = (records.first(), last.filter(named)) {
        return Some((first, last));
    }
    let given = match records.iter().position(|record| named(&record)) {
        Some(at) => format!("{LAST_HEADER} in line {}", at + 1),
        None => format!("no {LAST_HEADER} line"),
    };
    let allowed = "eight header lines from LOCATION to DATA PERIODS, then the hours";
    notes.at_byte(0, given, allowed, "download or export the complete file again");
    None
}

/// Value 3 of `DATA PERIODS` is the number of rows per hour.
fn check_hourly(periods: &StringRecord, notes: &mut Notes) {
    let in_an_hour = periods.get(2).unwrap_or("");
    if in_an_hour != "1" {
        let given = format!("{in_an_hour} rows in an hour");
        let remedy = "write shorter intervals as a plain CSV with the columns time, ghi_w_m2, air_c";
        notes.at(periods, given, "1, by the DATA PERIODS line", remedy);
    }
}

/// Month, day and hour; the year is that of a typical month, and the minute has no meaning.
fn stamp_of(row: &StringRecord) -> Option<[u32; 3]> {
    let number = |i: usize| row.get(i)?.parse().ok();
    Some([number(1)?, number(2)?, number(3)?])
}

fn text_of(row: &StringRecord) -> String {
    let cell = |i: usize| row.get(i).unwrap_or("");
    format!("{}/{} hour {}", cell(1), cell(2), cell(3))
}
