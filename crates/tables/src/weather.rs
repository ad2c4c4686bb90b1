//! A year of weather as read from a file.

use daylift_units::{fingerprint, ids};

/// Which instant of its interval the time of a row refers to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum StampAt {
    /// The start.
    Start,
    /// The middle.
    Middle,
    /// The end.
    End,
}

fingerprint!(by Hash: StampAt);
ids!(StampAt { Start = "start", End = "end", Middle = "middle" });

impl StampAt {
    /// How far the middle of the interval is after the instant that the times refer to \[s\].
    #[must_use]
    pub fn to_middle_s(self, interval_s: u32) -> i32 {
        let half_s = i32::try_from(interval_s / 2).unwrap_or(0);
        match self {
            Self::Start => half_s,
            Self::Middle => 0,
            Self::End => -half_s,
        }
    }
}

/// How to interpret the times of a plain CSV or an EPW file, from `[weather]`.
#[derive(Debug, Clone, Copy)]
pub struct Clock {
    /// Which instant of the interval the times refer to.
    pub stamp: StampAt,
    /// Standard time of the times, seconds east of UTC; `None` to use the one that the file states.
    pub utc_offset_s: Option<i32>,
}

fingerprint!(Clock { stamp, utc_offset_s });

/// What decides at which instant a row's values were recorded, and can be corrected when they seem to be shifted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Timing {
    /// Which instant of its interval a row's time refers to; `None` where the layout leaves no choice.
    pub stamp: Option<StampAt>,
    /// Standard time of the rows, seconds east of UTC, where `utc_offset_h` replaces it.
    pub utc_offset_s: Option<i32>,
}

/// A quantity of the weather and its range.
pub(crate) struct Quantity {
    /// Name in messages.
    pub(crate) name: &'static str,
    pub(crate) least: f64,
    pub(crate) greatest: f64,
}

/// Index of GHI among the quantities in [`WeatherTable::columns`]; DNI and DHI follow it.
pub const GHI: usize = 0;
/// Index of the air temperature.
pub const AIR: usize = 3;
/// Index of the wind speed.
pub const WIND: usize = 4;

pub(crate) const QUANTITIES: [Quantity; 5] = [
    quantity("GHI", 0.0, 1500.0),
    quantity("DNI", 0.0, 1500.0),
    quantity("DHI", 0.0, 1000.0),
    quantity("air temperature", -60.0, 60.0),
    quantity("wind", 0.0, 60.0),
];

const fn quantity(name: &'static str, least: f64, greatest: f64) -> Quantity {
    Quantity { name, least, greatest }
}

/// Where the weather was recorded.
#[derive(Debug)]
pub struct Station {
    /// Name as written in the file.
    pub name: String,
    /// Standard time, seconds east of UTC.
    pub utc_offset_s: i32,
    /// Latitude \[°\], north positive.
    pub latitude_deg: f64,
    /// Longitude \[°\], east positive.
    pub longitude_deg: f64,
    /// Altitude above sea level \[m\].
    pub altitude_m: f64,
}

/// A year of weather as read from the file. Missing values are NaN; a quantity without any value is `None`.
#[derive(Debug)]
pub struct WeatherTable {
    /// Where it was recorded, if the file says so.
    pub station: Option<Station>,
    /// Layout and interval, or the station's name.
    pub name: String,
    /// Length of an interval \[s\].
    pub interval_s: u32,
    /// Standard time of the year, seconds east of UTC.
    pub utc_offset_s: i32,
    /// What can be corrected about its times.
    pub timing: Timing,
    /// GHI, DNI, DHI \[W/m²\], air \[°C\] and wind \[m/s\] of every interval.
    pub columns: [Option<Vec<f64>>; 5],
}

impl WeatherTable {
    /// Intervals per day.
    #[must_use]
    pub fn per_day(&self) -> usize {
        (86_400 / self.interval_s.max(1)) as usize
    }

    /// Days in the year.
    #[must_use]
    pub fn days(&self) -> u32 {
        let intervals = self.columns.iter().flatten().map(Vec::len).max().unwrap_or(0);
        if intervals == 366 * self.per_day() { 366 } else { 365 }
    }
}

/// Hours east of UTC (within a day) in whole seconds.
#[expect(clippy::cast_possible_truncation, reason = "within a day of seconds")]
#[must_use]
pub fn seconds_of_hours(hours: f64) -> i32 {
    (hours * 3600.0).round() as i32
}
