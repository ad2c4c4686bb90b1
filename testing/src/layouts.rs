//! The example's weather written in other layouts.

use std::fmt::Write as _;

/// An hour of the example's weather: GHI, DNI, DHI, air, wind as in the file.
pub type Hour = [f64; 5];

/// Columns GHI, DNI, DHI, air, wind of a TMY3 file with the example's header.
#[must_use]
pub fn hours(tmy3: &str) -> Vec<Hour> {
    let row = |line: &str| {
        let cells: Vec<&str> = line.split(',').collect();
        std::array::from_fn(|i| cells[4 + i].parse().unwrap())
    };
    tmy3.lines().skip(2).map(row).collect()
}

/// EPW with the coordinates and the time zone of the example.
#[must_use]
pub fn epw(hours: &[Hour]) -> String {
    let mut out = "LOCATION,Mulenga Ridge,-,ZMB,made,000000,-15.600,28.100,2.0,1150\nDESIGN CONDITIONS,0\n\
                   TYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\nHOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\n\
                   COMMENTS 1,a \"quote, and another\nCOMMENTS 2,\nDATA PERIODS,1,1,Data,Sunday,1/1,12/31\n"
        .to_owned();
    for (i, [ghi, dni, dhi, air, wind]) in hours.iter().enumerate() {
        let (month, day) = month_and_day(i / 24);
        writeln!(
            out,
            "2025,{month},{day},{},60,?9?9,{air},9.9,60,88000,0,0,300,{ghi},{dni},{dhi},0,0,0,0,180,{wind},5,5,10,77777,9,\
             999999999,10,0.1,0,88,0.2,0,1",
            i % 24 + 1
        )
        .unwrap();
    }
    out
}

/// Plain CSV with each hour repeated `parts` times; `time` writes the time of a second of the year, here of the start of the interval.
#[must_use]
pub fn plain(hours: &[Hour], parts: usize, time: impl Fn(i64) -> String) -> String {
    let mut out = "time,ghi_w_m2,dni_w_m2,dhi_w_m2,air_c,wind_m_s\n".to_owned();
    let interval_s = 3600 / parts;
    for i in 0..hours.len() * parts {
        let [ghi, dni, dhi, air, wind] = hours[i / parts];
        let at = time(i64::try_from(i * interval_s).unwrap());
        writeln!(out, "{at},{ghi},{dni},{dhi},{air},{wind}").unwrap();
    }
    out
}

/// A second of the year 2025 (or of the days around it) as a local time without an offset.
#[must_use]
pub fn local(second: i64) -> String {
    let (day, second) = (second.div_euclid(86_400), second.rem_euclid(86_400));
    let date = match usize::try_from(day) {
        Err(_) => "2024-12-31".to_owned(),
        Ok(365) => "2026-01-01".to_owned(),
        Ok(day) => {
            let (month, day) = month_and_day(day);
            format!("2025-{month:02}-{day:02}")
        }
    };
    format!("{date}T{:02}:{:02}:{:02}", second / 3600, second / 60 % 60, second % 60)
}

fn month_and_day(mut day: usize) -> (usize, usize) {
    for (month, days) in [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31].into_iter().enumerate() {
        if day < days {
            return (month + 1, day + 1);
        }
        day -= days;
    }
    panic!("beyond the year")
}
