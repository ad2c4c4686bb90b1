//! Whether another clock makes GHI, DNI and DHI agree: they are measured or modelled separately, and only the sun's true
//! height joins them.

use daylift_plant::Site;
use daylift_sky::Ephemeris;
use daylift_tables::weather::{StampAt, Timing};
use daylift_units::field::number;
use daylift_units::{Id, Warning};

use super::{HIGH_SUN_DEG, Light};

/// Shifts of the clock that are tried \[min\].
const SHIFTS_MIN: [i32; 4] = [-60, -30, 30, 60];
/// A shift is reported where the mean difference falls to this share of what it was or less (usual practice, no source) …
const SHARE_LEFT: f64 = 2.0 / 3.0;
/// … and by at least this much of GHI (usual practice, no source).
const LEAST_GAIN: f64 = 0.01;
/// Rounding of a mean difference.
const ROUNDING: f64 = 1e-12;

/// The warning about a clock that is off by half an hour or an hour; `None` where no shift is clearly better.
pub(super) fn warning(light: &Light<'_>, ephemeris: &Ephemeris, site: &Site) -> Option<Warning> {
    let timing = light.all_given?;
    let differences = differences(light, ephemeris, site);
    let best = best(differences)?;
    let (shift_min, before, after) = (SHIFTS_MIN[best], differences.0, differences.1[best]);
    let text = format!(
        "its times seem to be {} min {}: with that shift, DNI·cos z + DHI differ from GHI by {:.1}% on average, without \
         it by {:.1}%; {}",
        shift_min.abs(),
        if shift_min > 0 { "early" } else { "late" },
        after * 100.0,
        before * 100.0,
        remedy(timing, light.interval_s, shift_min * 60)
    );
    Some(Warning::new("weather", text))
}

/// Mean absolute difference between GHI and DNI·cos z + DHI as a share of GHI: with the file's clock, and with each shift.
/// The intervals are those in which the sun is high with the file's clock.
fn differences(light: &Light<'_>, ephemeris: &Ephemeris, site: &Site) -> (f64, [f64; 4]) {
    #[expect(clippy::cast_precision_loss, reason = "seconds since 1970 are exact in f64")]
    let start_s = site.axis.start_unix_s() as f64;
    let interval_s = f64::from(light.interval_s);
    let (mut ghi, mut own, mut shifted) = (0.0, 0.0, [0.0; 4]);
    let mut middle_s = start_s + interval_s / 2.0;
    let columns = light.ghi_w_m2.iter().zip(light.dni_w_m2).zip(light.dhi_w_m2);
    for ((&global, &direct), &diffuse) in columns {
        let sun = ephemeris.position(&site.observer, middle_s);
        if sun.elevation_deg > HIGH_SUN_DEG {
            let off = |zenith_cos: f64| (global - direct * zenith_cos.max(0.0) - diffuse).abs();
            ghi += global;
            own += off(sun.zenith_cos);
            for (sum, minutes) in shifted.iter_mut().zip(SHIFTS_MIN) {
                let there_s = middle_s + f64::from(minutes) * 60.0;
                *sum += off(ephemeris.position(&site.observer, there_s).zenith_cos);
            }
        }
        middle_s += interval_s;
    }
    let share = |sum: f64| sum / f64::max(ghi, 1.0);
    (share(own), shifted.map(share))
}

/// The index of the shift with the smallest difference, if it is clearly better than no shift.
fn best((own, shifted): (f64, [f64; 4])) -> Option<usize> {
    let (at, least) = shifted.into_iter().enumerate().min_by(|a, b| a.1.total_cmp(&b.1))?;
    let clearly = least <= SHARE_LEFT * own + ROUNDING && own - least >= LEAST_GAIN - ROUNDING;
    clearly.then_some(at)
}

/// What to change, so that every value moves `shift_s` later.
fn remedy(timing: Timing, interval_s: u32, shift_s: i32) -> String {
    let moved = |from: StampAt, to: StampAt| to.to_middle_s(interval_s) - from.to_middle_s(interval_s) == shift_s;
    let stamp = timing.stamp.and_then(|from| StampAt::ALL.iter().find(|to| moved(from, **to)));
    let offset_h = timing
        .utc_offset_s
        .map(|now_s| f64::from(now_s - shift_s) / 3600.0)
        .filter(|h| h.abs() <= 14.0);
    let stamp = stamp.map(|to| format!("`stamp` (\"{}\")", to.id()));
    let offset = offset_h.map(|h| format!("`utc_offset_h` ({})", number((h * 1e6).round() / 1e6)));
    match (stamp, offset) {
        (Some(stamp), Some(offset)) => format!("check {stamp} or {offset} in [weather]"),
        (Some(one), None) | (None, Some(one)) => format!("check {one} in [weather]"),
        (None, None) if timing.stamp.is_none() => "check the time zone in its first line".to_owned(),
        (None, None) => "check the offsets from UTC in its times".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shift_is_clearly_better_by_a_third_and_by_a_percentage_point() {
        // By hand: 9 % to 6 % is a third less and 3 points; 6.1 % is less than a third better. 3 % to 2 % just passes both;
        // 1.2 % to 0.3 % gains only 0.9 points.
        assert_eq!(best((0.09, [0.2, 0.06, 0.1, 0.3])), Some(1));
        assert_eq!(best((0.09, [0.2, 0.061, 0.1, 0.3])), None);
        assert_eq!(best((0.03, [0.2, 0.1, 0.05, 0.02])), Some(3));
        assert_eq!(best((0.012, [0.003, 0.1, 0.1, 0.1])), None);
        assert_eq!(best((0.0, [0.0; 4])), None);
    }

    #[test]
    fn the_remedy_names_the_value_that_moves_the_times() {
        // By hand, hourly rows: from the end of the interval to its middle is half an hour later. Local times at UTC+2 that
        // are half an hour early are times at UTC+1:30.
        let of = |stamp, utc_offset_s| Timing { stamp, utc_offset_s };
        let ending = of(Some(StampAt::End), Some(7200));
        assert_eq!(
            remedy(ending, 3600, 1800),
            "check `stamp` (\"middle\") or `utc_offset_h` (1.5) in [weather]"
        );
        assert_eq!(
            remedy(ending, 3600, 3600),
            "check `stamp` (\"start\") or `utc_offset_h` (1) in [weather]"
        );
        assert_eq!(remedy(ending, 3600, -1800), "check `utc_offset_h` (2.5) in [weather]");
        // Rows of ten minutes: no stamp moves them by half an hour.
        let starting = of(Some(StampAt::Start), None);
        assert_eq!(remedy(starting, 600, -1800), "check the offsets from UTC in its times");
        assert_eq!(remedy(starting, 3600, -3600), "check `stamp` (\"end\") in [weather]");
        assert_eq!(
            remedy(of(None, None), 3600, 3600),
            "check the time zone in its first line"
        );
    }
}
