//! Weather as a plain CSV: a header with named columns, the unit in each name, and ISO 8601 times.

use csv::StringRecord;

use crate::nearest::nearest;
use crate::plain_times::{Calendar, Row, Time};
use crate::rows::{Notes, SEMICOLONS, reader, set_place, split_number};
use crate::source::Source;
use crate::weather::{AIR, Clock, QUANTITIES, Timing, WeatherTable};

/// Names of the columns, in the order of [`QUANTITIES`].
const NAMES: [&str; 5] = ["ghi_w_m2", "dni_w_m2", "dhi_w_m2", "air_c", "wind_m_s"];
const TIME: &str = "time";
const ALLOWED: &str = "time, ghi_w_m2, air_c and optionally dni_w_m2, dhi_w_m2, wind_m_s";
/// Sunlight down to this value is the offset of a sensor at night and counts as 0 \[W/m²\] (usual practice).
const SENSOR_OFFSET_W_M2: f64 = -20.0;

/// Whether a column's name starts like a name of a sunlight column.
pub(crate) fn is_light(name: &str) -> bool {
    ["ghi_", "dni_", "dhi_"].iter().any(|start| name.starts_with(start))
}

pub(crate) fn read(source: &Source, clock: Clock, notes: &mut Notes) -> Option<WeatherTable> {
    let mut reader = reader(source);
    let header = match reader.headers() {
        Ok(header) => header.clone(),
        Err(e) => {
            let remedy = "check the file's quotes and commas";
            notes.at_byte(0, e.to_string(), "comma-separated values", remedy);
            return None;
        }
    };
    let columns = find_columns(&header, notes)?;
    let mut rows = Rows {
        columns,
        width: header.len(),
        rows: Vec::new(),
        below_zero: 0,
        has_commas: false,
    };
    let mut record = StringRecord::new();
    loop {
        match reader.read_record(&mut record) {
            Ok(true) => {
                if set_place(&mut record, source, true) {
                    rows.take(&record, notes);
                }
            }
            Ok(false) => break,
            Err(e) => {
                let remedy = "check the file's quotes and commas";
                notes.at_byte(0, e.to_string(), "comma-separated values", remedy);
                return None;
            }
        }
    }
    if rows.below_zero > 0 {
        let text = format!(
            "{} small negative values of sunlight (a sensor's offset at night) were set to 0",
            rows.below_zero
        );
        notes.warn("weather", text);
    }
    let calendar = Calendar::of(&rows.rows, clock, notes)?;
    let has_local_times = rows.rows.iter().all(|row| row.time.is_local());
    let mut values = calendar.values(&rows.rows, notes)?.map(Some);
    for (column, at) in values.iter_mut().zip(&rows.columns.values) {
        if at.is_none() {
            *column = None;
        }
    }
    Some(WeatherTable {
        station: None,
        name: format!("plain CSV, {}", calendar.interval_text()),
        interval_s: calendar.interval_s,
        utc_offset_s: calendar.utc_offset_s,
        timing: Timing {
            stamp: Some(clock.stamp),
            // Times with an offset of their own are instants; `utc_offset_h` does not move them.
            utc_offset_s: has_local_times.then_some(calendar.utc_offset_s),
        },
        columns: values,
    })
}

/// Positions of the columns; `None` for an optional quantity without a column.
struct Columns {
    time: usize,
    values: [Option<usize>; 5],
}

fn find_columns(header: &StringRecord, notes: &mut Notes) -> Option<Columns> {
    if header.len() == 1 && header[0].contains(';') {
        notes.at_byte(0, SEMICOLONS.0.to_owned(), SEMICOLONS.1, SEMICOLONS.2);
        return None;
    }
    let unknown_names = unknown(header, notes);
    if !unknown_names.unused.is_empty() {
        let text = format!(
            "columns of the file that are not used: {}",
            unknown_names.unused.join(", ")
        );
        notes.warn("weather", text);
    }
    let mut ok = !unknown_names.wrong;
    let mut find = |name: &'static str, needed: bool| {
        let found: Vec<usize> = header.iter().enumerate().filter(|(_, n)| *n == name).map(|(i, _)| i).collect();
        if found.len() > 1 {
            ok = false;
            let given = format!("{} columns \"{name}\"", found.len());
            notes.at_byte(0, given, "one", "remove or rename the others");
        } else if found.is_empty() && needed && !unknown_names.is_reported(name) {
            ok = false;
            let remedy = "add the column; its unit is in its name";
            notes.at_byte(0, format!("no column \"{name}\""), ALLOWED, remedy);
        }
        found.first().copied()
    };
    let time = find(TIME, true);
    let values = NAMES.map(|name| find(name, name == "ghi_w_m2" || name == "air_c"));
    if !ok {
        return None;
    }
    Some(Columns { time: time?, values })
}

/// Columns with unknown names.
struct Unknown<'h> {
    /// Other quantities, such as humidity or pressure.
    unused: Vec<&'h str>,
    /// Quantities in another unit or with a misspelt name.
    quantities: Vec<&'static str>,
    wrong: bool,
}

impl Unknown<'_> {
    /// Whether a fault already reports this column.
    fn is_reported(&self, name: &str) -> bool {
        self.quantities.contains(&name)
    }
}

fn unknown<'h>(header: &'h StringRecord, notes: &mut Notes) -> Unknown<'h> {
    let mut out = Unknown {
        unused: Vec::new(),
        quantities: Vec::new(),
        wrong: false,
    };
    for name in header.iter().filter(|name| *name != TIME && !NAMES.contains(name)) {
        let lower = name.to_lowercase();
        let start = lower.split('_').next().unwrap_or("");
        let same = NAMES
            .iter()
            .find(|known| known.split('_').next() == Some(start) && !lower.contains("dir"));
        let meant = same.copied().or_else(|| nearest(&lower, NAMES.into_iter().chain([TIME])));
        let Some(meant) = meant.and_then(|m| NAMES.into_iter().chain([TIME]).find(|known| *known == m)) else {
            out.unused.push(name);
            continue;
        };
        out.wrong = true;
        out.quantities.push(meant);
        let remedy = format!("give the values in the unit of `{meant}` and rename the column");
        notes.at_byte(0, format!("column \"{name}\""), ALLOWED, &remedy);
    }
    out
}

struct Rows {
    columns: Columns,
    width: usize,
    rows: Vec<Row>,
    below_zero: usize,
    /// Whether a row with decimal commas was found; only the first is reported.
    has_commas: bool,
}

impl Rows {
    fn take(&mut self, record: &StringRecord, notes: &mut Notes) {
        if let Some(number) = split_number(self.width, record) {
            if !self.has_commas {
                let allowed = format!("{} values, one for each column", self.width);
                let remedy = format!("decimal comma? write {number}");
                notes.at(record, format!("{} values", record.len()), &allowed, &remedy);
            }
            self.has_commas = true;
            return;
        }
        if record.len() != self.width {
            let given = format!(
                "{} values at {}",
                record.len(),
                record.get(self.columns.time).unwrap_or("")
            );
            let allowed = format!("{}, one for each column", self.width);
            notes.at(
                record,
                given,
                &allowed,
                "correct the row; leave a cell empty where its value is missing",
            );
            return;
        }
        let text = &record[self.columns.time];
        let Some(time) = Time::read(text) else {
            let allowed = "a date and time that exists, such as 2025-06-01T13:30+02:00 or 2025-06-01T11:30Z";
            notes.at(
                record,
                format!("time \"{text}\""),
                allowed,
                "write the time by ISO 8601",
            );
            return;
        };
        let mut values = [f64::NAN; 5];
        for (i, value) in values.iter_mut().enumerate() {
            if let Some(at) = self.columns.values[i] {
                *value = self.cell(record, at, i, text, notes);
            }
        }
        let byte = record.position().and_then(|p| usize::try_from(p.byte()).ok()).unwrap_or(0);
        self.rows.push(Row { time, byte, values });
    }

    fn cell(&mut self, record: &StringRecord, at: usize, i: usize, time: &str, notes: &mut Notes) -> f64 {
        let (text, quantity) = (&record[at], &QUANTITIES[i]);
        if text.is_empty() {
            return f64::NAN;
        }
        let value = text.parse::<f64>().unwrap_or(f64::NAN);
        if (quantity.least..=quantity.greatest).contains(&value) {
            return value;
        }
        if i < AIR && (SENSOR_OFFSET_W_M2..0.0).contains(&value) {
            self.below_zero += 1;
            return 0.0;
        }
        let given = format!("{time}: {} = \"{text}\"", NAMES[i]);
        let allowed = format!("a number from {} to {}", quantity.least, quantity.greatest);
        let remedy = "correct the value, or leave the cell empty where it is missing";
        notes.at(record, given, &allowed, remedy);
        f64::NAN
    }
}
