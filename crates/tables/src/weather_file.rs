//! Recognises a weather file by its first lines and reads it.

use std::sync::Arc;

use daylift_units::fingerprint;

use crate::gaps::{self, Missing};
use crate::outcome::Outcome;
use crate::rows::Notes;
use crate::source::Source;
use crate::weather::{AIR, Clock, GHI, QUANTITIES, WIND, WeatherTable};
use crate::{epw, plain, tmy3};

/// Layout of a weather file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Layout {
    /// EnergyPlus weather.
    Epw,
    /// Station line, column names, hour-ending rows.
    Tmy3,
    /// Named columns with ISO 8601 times.
    Plain,
}

fingerprint!(by Hash: Layout);

impl Layout {
    /// The layout according to the first lines; `None` if they match none.
    #[must_use]
    pub fn of(text: &str) -> Option<Self> {
        let is_comment = |line: &str| line.trim_start().starts_with('#') || line.trim().is_empty();
        let mut lines = text.lines().filter(|line| !is_comment(line));
        let first = lines.next().unwrap_or("");
        let mut cells = first.split([',', ';']).map(|cell| cell.trim().trim_matches('"').trim());
        if cells.clone().next().is_some_and(|cell| cell.eq_ignore_ascii_case("location")) {
            Some(Self::Epw)
        } else if cells.any(|cell| cell == "time" || plain::is_light(cell)) {
            Some(Self::Plain)
        } else if first.split(',').count() >= 7 || lines.next().is_some_and(|line| line.starts_with("Date")) {
            Some(Self::Tmy3)
        } else {
            None
        }
    }

    /// Name in messages.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Epw => "EPW",
            Self::Tmy3 => "TMY3",
            Self::Plain => "plain CSV",
        }
    }
}

/// Reads the file. Every fault has its line, and missing values are reported.
///
/// # Errors
/// Every fault of the file.
pub fn read(source: &Arc<Source>, layout: Layout, clock: Clock) -> Outcome<WeatherTable> {
    let mut notes = Notes::new(source, "weather.file", "weather");
    let table = match layout {
        Layout::Epw => epw::read(source, clock, &mut notes),
        Layout::Tmy3 => tmy3::read(source, &mut notes),
        Layout::Plain => plain::read(source, clock, &mut notes),
    };
    let mut table = table.map(without_empty_columns);
    if let Some(table) = &mut table {
        check(table, &mut notes);
    }
    notes.close(table)
}

/// Replaces a column without a single value by `None`.
fn without_empty_columns(mut table: WeatherTable) -> WeatherTable {
    for column in &mut table.columns {
        if column.as_ref().is_some_and(|values| values.iter().all(|v| v.is_nan())) {
            *column = None;
        }
    }
    table
}

/// Wind speed if the file has none \[m/s\] (usual practice).
const WIND_M_S: f64 = 1.0;
/// If no interval of a year is brighter than this, the values are not in W/m².
const DIMMEST_BRIGHTEST_W_M2: f64 = 50.0;

fn check(table: &mut WeatherTable, notes: &mut Notes) {
    // Values omitted by rows with faults are not missing from the file.
    let rows_are_clean = notes.is_clean();
    for i in [GHI, AIR] {
        if table.columns[i].is_none() {
            let given = format!("no value of {} in the whole file", QUANTITIES[i].name);
            let remedy = "use a file that has these values";
            notes.at_byte(0, given, "global irradiance and air temperature all year", remedy);
        }
    }
    if rows_are_clean {
        check_magnitude(table, notes);
    }
    let mut filled = Vec::new();
    for (values, quantity) in table.columns.iter().zip(&QUANTITIES) {
        let Some(missing) = values.as_ref().and_then(|v| Missing::of(v, table.interval_s)) else {
            continue;
        };
        if let Some(allowed) = missing.refused().filter(|_| rows_are_clean) {
            let given = format!("{}: {missing}", quantity.name);
            let remedy = "use a more complete file; too much is missing to fill in";
            notes.at_byte(0, given, &allowed, remedy);
        }
        filled.push(format!("{} {missing}", quantity.name));
    }
    if !filled.is_empty() {
        let text = format!("missing values were filled: {} ({})", filled.join("; "), gaps::HOW);
        notes.warn("weather", text);
    }
    let intervals = table.days() as usize * table.per_day();
    table.columns[WIND].get_or_insert_with(|| {
        let text = format!("the file has no wind; {WIND_M_S} m/s is used all year (usual practice)");
        notes.warn("weather", text);
        vec![WIND_M_S; intervals]
    });
}

fn check_magnitude(table: &WeatherTable, notes: &mut Notes) {
    let Some(ghi_w_m2) = &table.columns[GHI] else { return };
    let brightest = ghi_w_m2.iter().copied().fold(0.0, f64::max);
    if brightest < DIMMEST_BRIGHTEST_W_M2 {
        notes.at_byte(
            0,
            format!("GHI never exceeds {brightest} W/m^2"),
            "at least one hour above 50 W/m^2 in a year",
            "check the unit: kW/m^2 times 1000, or kWh/m^2 and hour times 1000, gives W/m^2",
        );
    }
}

#[cfg(test)]
mod tests {
    use std::fmt::Write as _;

    use super::*;
    use crate::weather::StampAt;

    #[test]
    fn a_layout_is_recognised_by_the_first_lines() {
        for (text, layout) in [
            (
                "LOCATION,Lusaka,-,ZMB,SRC,676650,-15.3,28.4,2.0,1150\n",
                Some(Layout::Epw),
            ),
            (
                "723170,\"GREENSBORO\",NC,-5.0,36.1,-79.95,273\nDate (MM/DD/YYYY),",
                Some(Layout::Tmy3),
            ),
            ("# from the logger\ntime,ghi_w_m2,air_c\n", Some(Layout::Plain)),
            ("# from the logger\r\n\r\ntime,ghi_w_m2,air_c\r\n", Some(Layout::Plain)),
            ("\"time\";\"ghi_w_m2\"\n", Some(Layout::Plain)),
            ("stamp,ghi_kwh_m2\n", Some(Layout::Plain)),
            ("", None),
            ("start,end\n2025-01-01,2025-01-02\n", None),
        ] {
            assert_eq!(Layout::of(text), layout, "{text}");
        }
    }

    /// A year of hours with 100 W/m² and 20 °C, with some text replaced once: line and given value of each fault.
    fn faults(from: &str, to: &str) -> Vec<(usize, String)> {
        let first = jiff::civil::date(2025, 1, 1).at(0, 0, 0, 0);
        let mut text = "time,ghi_w_m2,air_c\n".to_owned();
        for hour in 0..8760 {
            let time = first.checked_add(jiff::Span::new().hours(hour)).unwrap();
            writeln!(text, "{},100,20", time.strftime("%Y-%m-%dT%H:%M")).unwrap();
        }
        let source = Arc::new(Source::of_text("weather.csv", text.replacen(from, to, 1)));
        let clock = Clock {
            stamp: StampAt::Start,
            utc_offset_s: Some(0),
        };
        let layout = Layout::of(&source.text).unwrap();
        let faults = read(&source, layout, clock).err().unwrap_or_default();
        faults.into_iter().map(|l| (l.place.unwrap().line(), l.fault.given)).collect()
    }

    #[test]
    fn a_fault_in_a_header_after_comments_has_the_headers_line() {
        assert_eq!(faults("time", "time"), []);
        let missing = faults("time,ghi_w_m2,air_c", "# from the logger\r\n\r\ntime,ghi_w_m2,wind_m_s");
        assert_eq!(missing, [(3, "no column \"air_c\"".to_owned())]);
    }

    #[test]
    fn an_unclosed_quote_is_one_fault_at_its_row() {
        // 10 January starts at line 2 + 9·24. What the quote swallows is not reported as missing.
        let found = faults("2025-01-10T00:00,100", "2025-01-10T00:00,\"100");
        assert_eq!(found, [(218, "2 values at 2025-01-10T00:00".to_owned())]);
    }

    #[test]
    fn a_year_at_the_end_of_the_calendar_is_a_fault() {
        // The interval of the middle row would start before the first possible instant.
        let rows = [3, 4, 2, 3, 4].map(|hour| format!("-009999-01-02T{hour:02}:00Z,1,20\n"));
        let text = format!("time,ghi_w_m2,air_c\n{}", rows.concat());
        let source = Arc::new(Source::of_text("weather.csv", text));
        let clock = Clock {
            stamp: StampAt::End,
            utc_offset_s: None,
        };
        let faults = read(&source, Layout::Plain, clock).unwrap_err();
        assert!(faults.iter().any(|located| located.place.as_ref().is_some_and(|place| place.line() == 2)));
    }
}
