//! Whether the sunlight of a weather file is consistent: with the sun's position, among its parts, and with its clock.

mod clock;

use daylift_plant::Site;
use daylift_sky::Ephemeris;
use daylift_tables::weather::Timing;
use daylift_units::{Fault, Warning};

/// Elevation above which the parts of sunlight are compared \[°\]. Lower down, the sun at the middle of an hour does not
/// represent the hour.
const HIGH_SUN_DEG: f64 = 10.0;
/// Relative difference between GHI and the sum of its parts above which there is a warning, and above which a fault.
const PARTS_REPORTED: f64 = 0.10;
const PARTS_REFUSED: f64 = 0.40;
/// Share of sunlight with the sun below the horizon above which there is a warning, and above which a fault.
const DARK_REPORTED: f64 = 0.03;
const DARK_REFUSED: f64 = 0.20;

/// Range for the share of the year's light before noon; outside it there is a warning about the clock. A shift of an hour
/// moves the share by 0.13 (sin 15° / 2, on a day of 12 h), the climate by less than half as much.
const MORNING_REPORTED: std::ops::RangeInclusive<f64> = 0.40..=0.60;

/// The year's irradiance in each interval.
pub(crate) struct Light<'a> {
    pub(crate) ghi_w_m2: &'a [f64],
    pub(crate) dni_w_m2: &'a [f64],
    pub(crate) dhi_w_m2: &'a [f64],
    pub(crate) interval_s: u32,
    /// What can be corrected about the times of a file that gives all three; `None` where some of the light was computed.
    pub(crate) all_given: Option<Timing>,
}

/// Compares GHI with DNI·cos z + DHI, the sunlight with the hours of daylight, and the mornings with the afternoons.
///
/// # Errors
/// A fault when one of the first two is off beyond doubt; smaller differences are warnings.
pub(crate) fn check(light: &Light<'_>, site: &Site) -> Result<Vec<Warning>, Vec<Fault>> {
    #[expect(clippy::cast_precision_loss, reason = "seconds since 1970 are exact in f64")]
    let start_s = site.axis.start_unix_s() as f64;
    let ephemeris = Ephemeris::new(start_s, site.axis.length_s());
    let interval_s = f64::from(light.interval_s);
    let (mut ghi, mut parts, mut all, mut dark, mut morning) = (0.0, 0.0, 0.0, 0.0, 0.0);
    let mut middle_s = start_s + interval_s / 2.0;
    for (i, &global) in light.ghi_w_m2.iter().enumerate() {
        let sun = ephemeris.position(&site.observer, middle_s);
        all += global;
        if sun.azimuth_deg() < 180.0 {
            morning += global;
        }
        if !sun.is_up() {
            dark += global;
        } else if sun.elevation_deg > HIGH_SUN_DEG {
            ghi += global;
            parts += light.dni_w_m2[i] * sun.zenith_cos + light.dhi_w_m2[i];
        }
        middle_s += interval_s;
    }
    let dark_share = dark / f64::max(all, 1.0);
    let off = parts / f64::max(ghi, 1.0) - 1.0;
    let in_the_dark = format!(
        "{:.0}% of the year's sunlight falls while the sun is below the horizon",
        dark_share * 100.0
    );
    let sums = format!(
        "DNI·cos z + DHI differ from GHI by {:+.0}% in the hours of high sun",
        off * 100.0
    );
    let mut faults = Vec::new();
    if dark_share > DARK_REFUSED {
        let remedy = "check the time zone in the weather file's first line or in its times, `utc_offset_h`, its stamps, and the site's longitude";
        faults.push(Fault::new(
            "file",
            "weather file",
            in_the_dark.as_str(),
            "sunlight in daytime only",
            remedy,
        ));
    } else if off.abs() > PARTS_REFUSED {
        let remedy = "check the columns DNI and DHI: are they missing, swapped or in another unit?";
        faults.push(Fault::new(
            "file",
            "weather file",
            sums.as_str(),
            "DNI·cos z + DHI equal to GHI",
            remedy,
        ));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut warnings: Vec<Warning> = clock::warning(light, &ephemeris, site).into_iter().collect();
    // A shift of the clock that explains the differences needs no second and third warning.
    let explained = !warnings.is_empty();
    let morning_share = morning / f64::max(all, 1.0);
    if !explained && !MORNING_REPORTED.contains(&morning_share) {
        let text = format!(
            "{:.0}% of the year's sunlight falls before solar noon: its times may be an hour or more {}; check its \
             time zone (`utc_offset_h` of a plain CSV or an EPW file), its stamps and the site's longitude",
            morning_share * 100.0,
            if morning_share > 0.5 { "early" } else { "late" }
        );
        warnings.push(Warning::new("weather", text));
    }
    if dark_share > DARK_REPORTED {
        let text = format!("{in_the_dark}: check its time zone, its stamps and the site's longitude");
        warnings.push(Warning::new("weather", text));
    }
    if !explained && off.abs() > PARTS_REPORTED {
        warnings.push(Warning::new(
            "weather",
            format!("{sums}: check the columns DNI and DHI"),
        ));
    }
    Ok(warnings)
}
