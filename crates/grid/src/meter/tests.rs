use daylift_units::Step;
use jiff::ToSpan;
use jiff::civil::date;

use super::*;

fn lusaka() -> Axis {
    Axis::new(2025, 365, 7200, "Africa/Lusaka", Step::Hour).unwrap()
}

/// Readings at equal civil intervals, starting on 1 January.
fn readings(year: i16, interval_min: i64, days: i64, power_w: impl Fn(DateTime) -> f64) -> Vec<Reading> {
    let first = date(year, 1, 1).at(0, 0, 0, 0);
    (0..days * 1440 / interval_min)
        .map(|i| {
            let at = first.checked_add((i * interval_min).minutes()).unwrap();
            Reading {
                at,
                second: false,
                power_w: power_w(at),
            }
        })
        .collect()
}

/// A load that depends on hour and weekday.
fn weekly(at: DateTime) -> f64 {
    1000.0 * f64::from(at.weekday().to_monday_one_offset()) + 10.0 * f64::from(at.hour())
}

#[test]
fn a_whole_year_is_mapped_unchanged() {
    let axis = lusaka();
    for interval_min in [60, 30, 15, 1] {
        let given = readings(2025, interval_min, 365, |at| {
            f64::from(at.hour()) + 100.0 * f64::from(at.minute())
        });
        let interval_s = u32::try_from(interval_min * 60).unwrap();
        let (series, coverage) = map_to_year(&given, interval_s, &axis).unwrap();
        assert_eq!(series.interval_s(), interval_s);
        assert_eq!(series.power_w(), given.iter().map(|r| r.power_w).collect::<Vec<_>>());
        assert_eq!(
            coverage,
            YearCoverage {
                intervals: given.len(),
                ..YearCoverage::default()
            }
        );
    }
}

#[test]
fn gaps_are_filled_from_the_neighbouring_weeks_and_then_from_the_months_mean() {
    let axis = lusaka();
    let mut given = readings(2025, 60, 365, weekly);
    // One day with readings a week before and after; and four weeks in July, of which only the outer two have a
    // neighbour.
    given.retain(|r| r.at.date() != date(2025, 3, 4) && !(date(2025, 7, 1)..date(2025, 7, 29)).contains(&r.at.date()));
    let (series, coverage) = map_to_year(&given, 3600, &axis).unwrap();
    assert_eq!((coverage.from_weeks, coverage.from_means), (24 + 14 * 24, 14 * 24));
    assert!((coverage.longest_gap_s.1 - 28.0 * DAY_S).abs() < 1e-9);
    assert_eq!(axis.civil_text(coverage.longest_gap_s.0), "2025-07-01 00:00");
    let at = |day_of_year: usize, hour: usize| series.power_w()[day_of_year * 24 + hour];
    let tuesday = weekly(date(2025, 3, 4).at(9, 0, 0, 0));
    assert!((at(31 + 28 + 3, 9) - tuesday).abs() < 1e-9);
    // July has readings only on the 29th, 30th and 31st (Tuesday to Thursday); their mean at 09:00 is 3000 + 90 W.
    assert!((at(195, 9) - 3090.0).abs() < 1e-9);
}

#[test]
fn too_much_missing_and_too_short_a_time_are_faults() {
    let axis = lusaka();
    let mut given = readings(2025, 60, 365, weekly);
    given.retain(|r| !(4..8).contains(&r.at.month()));
    let fault = map_to_year(&given, 3600, &axis).unwrap_err();
    assert!(fault.given.contains("33.4% of the year"), "{}", fault.given);
    assert!(
        fault.given.contains("begins at 2025-04-01 00:00 and lasts 122.0 days"),
        "{}",
        fault.given
    );
    let fault = map_to_year(&readings(2025, 60, 334, weekly), 3600, &axis).unwrap_err();
    assert!(
        fault.given.contains("from 2025-01-01 00:00 to 2025-11-30 23:00, 334 days"),
        "{}",
        fault.given
    );
    assert!(
        fault.remedy.contains("after 2025-11-30 23:00 and before 2026-01-01"),
        "{}",
        fault.remedy
    );
    assert!(map_to_year(&[], 3600, &axis).is_err());
}

#[test]
fn readings_of_another_year_are_mapped_by_month_day_and_hour() {
    // 2024 has a 29 February, 2025 does not; in a leap year, readings of 2025 leave a gap of one day.
    let (series, coverage) = map_to_year(&readings(2024, 60, 366, weekly), 3600, &lusaka()).unwrap();
    assert_eq!(
        (coverage.other_years.as_slice(), coverage.from_other_years),
        ([2024].as_slice(), 8760)
    );
    assert_eq!(coverage.filled(), 0);
    let march = (31 + 28) * 24;
    assert!((series.power_w()[march] - weekly(date(2024, 3, 1).at(0, 0, 0, 0))).abs() < 1e-9);
    let leap = Axis::new(2024, 366, 7200, "Africa/Lusaka", Step::Hour).unwrap();
    let (_, coverage) = map_to_year(&readings(2025, 60, 365, weekly), 3600, &leap).unwrap();
    assert_eq!((coverage.from_weeks, coverage.from_means), (24, 0));
}

#[test]
fn readings_of_the_simulation_year_take_precedence() {
    let mut given = readings(2024, 60, 366, |_| 1.0);
    given.extend(readings(2025, 60, 100, |_| 2.0));
    let (series, coverage) = map_to_year(&given, 3600, &lusaka()).unwrap();
    let own = series.power_w().iter().filter(|w| (**w - 2.0).abs() < 1e-9).count();
    assert_eq!((own, coverage.other_years.as_slice()), (2400, [2024].as_slice()));
}

#[test]
fn clock_changes_skip_one_reading_and_repeat_one() {
    // New York 2025: 9 March 02:00 becomes 03:00, 2 November 02:00 becomes 01:00.
    let axis = Axis::new(2025, 365, -5 * 3600, "America/New_York", Step::Hour).unwrap();
    let wall = readings(2025, 60, 365, weekly);
    let (series, coverage) = map_to_year(&wall, 3600, &axis).unwrap();
    // A meter without daylight saving: one reading at a skipped time, and one where there should be two.
    assert_eq!((coverage.skipped, coverage.repeated_once, coverage.filled()), (1, 1, 0));
    let november = 305 * 24;
    let [first, again] = [series.power_w()[november], series.power_w()[november + 1]];
    // In standard time, 1 a.m. on 2 November begins at 00:00 and again at 01:00.
    assert!((first - again).abs() < 1e-9);
    let mut both = wall;
    both.push(Reading {
        at: date(2025, 11, 2).at(1, 0, 0, 0),
        second: true,
        power_w: 5.0,
    });
    let (series, coverage) = map_to_year(&both, 3600, &axis).unwrap();
    assert_eq!(coverage.repeated_once, 0);
    assert!((series.power_w()[november + 1] - 5.0).abs() < 1e-9);
}

#[test]
fn a_half_hour_zone_makes_the_series_finer() {
    let axis = Axis::new(2025, 365, 5 * 3600, "Asia/Kolkata", Step::Hour).unwrap();
    let (series, _) = map_to_year(&readings(2025, 60, 365, |at| f64::from(at.hour())), 3600, &axis).unwrap();
    assert_eq!(series.interval_s(), 1800);
    // The axis starts at 00:30 civil time.
    assert_eq!(series.power_w()[..4], [0.0, 1.0, 1.0, 2.0]);
}
