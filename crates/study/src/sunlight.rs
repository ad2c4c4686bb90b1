//! The sun on the array by month and hour.

use daylift_units::constants::KWH_J;
use daylift_units::{Hour, Month, MonthHour};
use schemars::JsonSchema;
use serde::Serialize;

use crate::stages::Stages;

/// Irradiation on the array's planes lost to shade, in kWh/m² in a year.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct ShadeRow {
    /// Lost to the horizon.
    pub to_horizon_kwh_m2: f64,
    /// Lost to neighbouring rows.
    pub to_rows_kwh_m2: f64,
}

/// Irradiation lost to shade, each plane weighted by the power of its strings.
pub(crate) fn shade(stages: &Stages<'_>) -> ShadeRow {
    let light = stages.dc.as_ref().zip(stages.plant.array.as_ref());
    let shade = light.map(|(dc, array)| dc.mean_shade(array)).unwrap_or_default();
    ShadeRow {
        to_horizon_kwh_m2: shade.horizon_j_m2 / KWH_J,
        to_rows_kwh_m2: shade.rows_j_m2 / KWH_J,
    }
}

/// Mean irradiance on the array's planes \[W/m²\], by month (January first) and hour of the civil day (from 00:00).
///
/// Each plane is weighted by the power of its strings. Empty without an array. Each hour of the simulation counts in the
/// civil hour of its middle. In time zones with an offset of half an hour, this shifts the values by half an hour.
pub(crate) fn by_month_and_hour(stages: &Stages<'_>) -> Vec<Vec<f64>> {
    let (Some(dc), Some(array)) = (&stages.dc, &stages.plant.array) else {
        return Vec::new();
    };
    let whole_w = array.stc_w().max(1.0);
    let weights: Vec<f64> = array.groups.iter().map(|g| g.strings.stc_w() / whole_w).collect();
    let (mut sums, mut counts) = (MonthHour::<f64>::default(), MonthHour::<f64>::default());
    let per_hour = dc.clock.per_hour;
    for hour in 0..dc.clock.hour.len() / per_hour {
        let middle = hour * per_hour + per_hour / 2;
        let (month, of_day) = (dc.clock.month[middle], dc.clock.hour[middle]);
        let groups = weights.iter().zip(&dc.plane_of);
        let light_w_m2: f64 = groups.map(|(weight, &plane)| weight * dc.planes[plane].by_hour_w_m2[hour]).sum();
        sums[month][of_day] += light_w_m2;
        counts[month][of_day] += 1.0;
    }
    let mean = |month: Month, hour: Hour| sums[month][hour] / f64::max(counts[month][hour], 1.0);
    Month::ALL.map(|month| Hour::ALL.map(|hour| mean(month, hour)).to_vec()).to_vec()
}
