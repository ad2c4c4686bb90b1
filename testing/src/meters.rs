//! Meter readings that several tests use.

use jiff::tz::TimeZone;

/// An hourly meter on New York's clock, with a gap of six hours: 5 kW, and 3 kW more from 8 to 18 o'clock.
#[must_use]
pub fn meter_on_new_yorks_clock() -> String {
    let zone = TimeZone::get("America/New_York").unwrap();
    let mut at = jiff::civil::date(2025, 1, 1).to_zoned_datetime(zone.clone()).unwrap();
    let end = jiff::civil::date(2026, 1, 1).to_zoned_datetime(zone).unwrap();
    let mut out = "time,kw\n".to_owned();
    while at < end {
        let kw = if (8..18).contains(&at.hour()) { 8 } else { 5 };
        if !(at.month() == 5 && at.day() == 6 && (3..9).contains(&at.hour())) {
            out += &format!("{},{kw}\n", at.strftime("%Y-%m-%dT%H:%M"));
        }
        at = at.checked_add(jiff::Span::new().hours(1)).unwrap();
    }
    out
}
