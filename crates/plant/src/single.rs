//! One file that a plant names, read by itself: its text without a plant around it.

use std::path::Path;
use std::rc::Rc;
use std::sync::Arc;

use daylift_array::{Inverter, Module};
use daylift_grid::{BatterySheet, GeneratingSet, LoadSeries, MonthHour, Outages, Slot, StageInForce, VoltageReading};
use daylift_lift::{Drive, Motor, Pump, Water};
use daylift_units::{Axis, Fault, Warning};

use crate::files::Files;
use crate::read::{Book, read_equipment};
use crate::sections::equipment::{
    build_battery, build_drive, build_generator, build_inverter, build_module, build_motor, build_pump,
};
use crate::source::{Located, Place, Source};
use crate::tables;
use crate::tables::meter::Stamped;
use crate::tables::weather::Layout;
pub use crate::tables::weather::{Clock, StampAt};

/// What a file holds, and what the reader of it must know.
#[derive(Debug)]
pub struct Single<T> {
    /// What it holds, checked.
    pub value: T,
    /// What was noticed.
    pub warnings: Vec<Warning>,
}

/// A file's content, or all its faults.
pub type Outcome<T> = Result<Single<T>, Vec<Located>>;

fn single<T>(read: impl FnOnce(&Rc<Book>) -> Option<T>) -> Outcome<T> {
    let book = Rc::new(Book::default());
    let value = read(&book);
    let gathered = book.close();
    match value {
        Some(value) if gathered.faults.is_empty() => Ok(Single {
            value,
            warnings: gathered.warnings,
        }),
        _ => Err(gathered.faults),
    }
}

/// The name that a plant file gives its plant; `None` when there is none to read.
#[must_use]
pub fn plant_name(file: &Path) -> Option<String> {
    let source = Files::default().read(file, "", "plant file").ok()?;
    let root: toml::Table = source.text.parse().ok()?;
    root.get("name")?.as_str().map(str::to_owned)
}

/// A fault of the file as a whole, which within a plant stands where the file is named.
fn of_whole<T>(book: &Book, source: &Arc<Source>, read: Result<T, Fault>) -> Option<T> {
    let place = Place {
        source: Arc::clone(source),
        span: 0..0,
    };
    read.map_err(|fault| book.fault(fault, Some(place))).ok()
}

/// Equipment of any kind.
#[derive(Debug)]
pub enum Equipment {
    /// A PV module.
    Module(Module),
    /// A grid-tied inverter, without its cable.
    Inverter(Inverter),
    /// A drive.
    Drive(Drive),
    /// A motor.
    Motor(Motor),
    /// A pump.
    Pump(Pump),
    /// A battery, not yet put to a use.
    Battery(BatterySheet),
    /// A generating set.
    Generator(GeneratingSet),
}

/// Water temperature at which a pump by itself is read \[°C\] (usual practice).
const WATER_C: f64 = 20.0;

/// Reads an equipment file as one of a kind: `module`, `inverter`, `drive`, `motor`, `pump`, `battery`, `generator`.
///
/// # Errors
/// Every fault of the file; one fault when there is no such kind.
pub fn equipment(source: &Arc<Source>, kind: &str) -> Outcome<Equipment> {
    single(|book| match kind {
        "module" => read_equipment(book, source).as_ref().and_then(build_module).map(Equipment::Module),
        "inverter" => {
            let file = read_equipment(book, source);
            file.and_then(|file| build_inverter(&file, 0.0)).map(Equipment::Inverter)
        }
        "drive" => read_equipment(book, source).as_ref().and_then(build_drive).map(Equipment::Drive),
        "motor" => read_equipment(book, source).as_ref().and_then(build_motor).map(Equipment::Motor),
        "pump" => {
            let file = read_equipment(book, source)?;
            let water = file.at.booked(Water::at(WATER_C))?;
            build_pump(&file, &water).map(Equipment::Pump)
        }
        "battery" => read_equipment(book, source).as_ref().and_then(build_battery).map(Equipment::Battery),
        "generator" => read_equipment(book, source).as_ref().and_then(build_generator).map(Equipment::Generator),
        other => {
            let allowed = "module, inverter, drive, motor, pump, battery or generator";
            let fault = Fault::new("kind", "kind of equipment", other, allowed, "choose one of them");
            of_whole(book, source, Err(fault))
        }
    })
}

/// A year of weather as its file has it.
#[derive(Debug)]
pub struct WeatherColumns {
    /// Length of an interval \[s\].
    pub interval_s: u32,
    /// Standard time of the year, seconds east of UTC.
    pub utc_offset_s: i32,
    /// GHI, DNI, DHI \[W/m²\], air \[°C\] and wind \[m/s\] of every interval: `None` for a quantity that the file does not
    /// have, not-a-number for a value that it does not.
    pub columns: [Option<Vec<f64>>; 5],
}

/// Reads a weather file in any layout; `clock` belongs to a plain CSV.
///
/// # Errors
/// Every fault of the file.
pub fn weather(source: &Arc<Source>, clock: Clock) -> Outcome<WeatherColumns> {
    single(|book| {
        let layout = Layout::of(&source.text).ok_or_else(|| {
            let allowed = "EPW, TMY3 or a plain CSV with named columns";
            let remedy = "check that it is the right file";
            Fault::new("weather.file", "weather file", "another layout", allowed, remedy)
        });
        let table = tables::weather::read(book, source, of_whole(book, source, layout)?, clock)?;
        Some(WeatherColumns {
            interval_s: table.interval_s,
            utc_offset_s: table.utc_offset_s,
            columns: table.columns,
        })
    })
}

/// Reads a list of outages in the civil time of `axis`.
///
/// # Errors
/// Every fault of the file.
pub fn outages(source: &Arc<Source>, axis: &Axis) -> Outcome<Outages> {
    single(|book| tables::outages::read(book, source, axis))
}

/// Reads the slots that a timetable of outages has for a block.
///
/// # Errors
/// Every fault of the file; one when it does not know the block.
pub fn timetable(source: &Arc<Source>, block: &str) -> Outcome<Vec<Slot>> {
    single(|book| of_whole(book, source, tables::timetable::read_slots(book, source, block)?))
}

/// Reads which stages of a timetable were in force when, in the civil time of `axis`.
///
/// # Errors
/// Every fault of the file.
pub fn stages(source: &Arc<Source>, axis: &Axis) -> Outcome<Vec<StageInForce>> {
    single(|book| tables::timetable::read_stages(book, source, axis))
}

/// Reads voltage readings; `nominal_v` \[V\] belongs to a file in volts.
///
/// # Errors
/// Every fault of the file.
pub fn voltage(source: &Arc<Source>, axis: &Axis, nominal_v: Option<f64>) -> Outcome<Vec<VoltageReading>> {
    single(|book| tables::voltage::read(book, source, axis, nominal_v))
}

/// Reads a load as a table of months and hours; power in W.
///
/// # Errors
/// Every fault of the file.
pub fn load_table(source: &Arc<Source>) -> Outcome<MonthHour<f64>> {
    single(|book| tables::loads::read(book, source, "load"))
}

/// Reads a load as meter readings and lays it onto the year of `axis`; `at_end` when they are stamped at the end of their
/// interval.
///
/// # Errors
/// Every fault of the file.
pub fn meter(source: &Arc<Source>, at_end: bool, axis: &Axis) -> Outcome<LoadSeries> {
    let stamped = if at_end { Stamped::End } else { Stamped::Begin };
    single(|book| of_whole(book, source, tables::meter::read(book, source, "load", stamped, axis)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weather_at_the_end_of_the_calendar_is_refused_with_a_fault() {
        // The interval of the row in the middle begins before the first instant that there is.
        let rows = [3, 4, 2, 3, 4].map(|hour| format!("-009999-01-02T{hour:02}:00Z,1,20\n"));
        let text = format!("time,ghi_w_m2,air_c\n{}", rows.concat());
        let source = Arc::new(Source::of_text("weather.csv", text));
        let clock = Clock {
            stamp: StampAt::End,
            utc_offset_s: None,
        };
        let faults = weather(&source, clock).unwrap_err();
        assert!(faults.iter().any(|located| located.place.as_ref().is_some_and(|place| place.line() == 2)));
    }
}
