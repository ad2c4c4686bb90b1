//! Sunlight by land cells of 3°, for places where nothing else is known.
//!
//! Monthly mean and day-to-day spread of global horizontal irradiance, from NASA's MERRA-2 reanalysis of 2011–2015
//! (Gelaro et al. 2017), taken from the open data package gsee-climate-data 1.0.0 (Pfenninger & Staffell 2016).
//! `data/sun/make_world_grid.py` makes the table.

use crate::synthetic::MonthlySun;

/// The table; comments in the file describe it.
const TABLE: &str = include_str!("../../../data/sun/world_grid.csv");

/// Size of a cell \[°\].
const CELL_DEG: f64 = 3.0;
/// A land cell farther away than this is not used \[km\].
const FARTHEST_KM: f64 = 1000.0;

/// By how much the table's yearly sunlight exceeds that of three stations \[%\]: Sand Point (Alaska), Greensboro (North
/// Carolina) and Miami (Florida). The stations have typical years of measurements (two TMY3 files and a TMY2 file).
pub const OVERESTIMATE_PCT: [(&str, f64); 3] = [("Alaska", 10.6), ("North Carolina", 10.9), ("Florida", 1.1)];

/// Latitude from which the table is taken to read as high as at the two stations farther from the equator \[°\].
pub const FAR_FROM_EQUATOR_DEG: f64 = 30.0;

/// By how much the table's sunlight is taken to be too high at a latitude, as a fraction of the true one.
///
/// 0.01 where |latitude| is below 30°, 0.11 from there on: rounded from [`OVERESTIMATE_PCT`], whose stations are at 26°, 36°
/// and 55° north. Three stations do not show how it varies within these bands.
///
/// ```
/// use daylift_sky::world::usual_overestimate;
/// assert_eq!([-29.9, 30.0, -45.0].map(usual_overestimate), [0.01, 0.11, 0.11]);
/// ```
#[must_use]
pub fn usual_overestimate(latitude_deg: f64) -> f64 {
    if latitude_deg.abs() < FAR_FROM_EQUATOR_DEG {
        0.01
    } else {
        0.11
    }
}

/// Sunlight from the table at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GridSun {
    /// Mean and spread by month.
    pub sun: MonthlySun,
    /// Distance to the middle of the nearest land cell \[km\], if none of the cells around the place is land.
    pub from_km: Option<f64>,
}

impl GridSun {
    /// The same, with means and spreads divided by 1 + `overestimate` (a fraction).
    #[must_use]
    pub fn corrected(mut self, overestimate: f64) -> Self {
        self.sun.scale(1.0 / (1.0 + overestimate));
        self
    }
}

/// Sunlight at a place, interpolated bilinearly between the middles of the land cells around it. If none of the four
/// cells is land, the nearest land cell is used; `None` if it is more than 1000 km away.
///
/// ```
/// use daylift_units::Month;
/// let there = daylift_sky::world::sun_at(-15.6, 28.1).unwrap();
/// assert!(there.sun.mean_w_m2[Month::October] > there.sun.mean_w_m2[Month::January] && there.from_km.is_none());
/// assert!(daylift_sky::world::sun_at(-45.0, -130.0).is_none());
/// ```
#[must_use]
pub fn sun_at(latitude_deg: f64, longitude_deg: f64) -> Option<GridSun> {
    let mut sun = MonthlySun::default();
    let mut weights = 0.0;
    for cell in cells() {
        let weight = cell.weight_at(latitude_deg, longitude_deg);
        if weight > 0.0 {
            sun.add(&cell.sun(), weight);
            weights += weight;
        }
    }
    if weights > 0.0 {
        sun.scale(1.0 / weights);
        return Some(GridSun { sun, from_km: None });
    }
    let km = |cell: &Cell| great_circle_km((latitude_deg, longitude_deg), (cell.latitude_deg, cell.longitude_deg));
    let nearest = cells().min_by(|a, b| km(a).total_cmp(&km(b)))?;
    let from_km = km(&nearest);
    (from_km <= FARTHEST_KM).then(|| GridSun {
        sun: nearest.sun(),
        from_km: Some(from_km),
    })
}

/// A row of the table; its numbers are parsed when needed.
struct Cell {
    latitude_deg: f64,
    longitude_deg: f64,
    numbers: &'static str,
}

impl Cell {
    /// Weight of the cell at a place: 1 at its middle, 0 one cell size away.
    fn weight_at(&self, latitude_deg: f64, longitude_deg: f64) -> f64 {
        let north = (self.latitude_deg - latitude_deg).abs() / CELL_DEG;
        let east = ((self.longitude_deg - longitude_deg + 540.0).rem_euclid(360.0) - 180.0).abs() / CELL_DEG;
        (1.0 - north).max(0.0) * (1.0 - east).max(0.0)
    }

    /// A number that cannot be parsed counts as 0; a test checks that there is none.
    fn sun(&self) -> MonthlySun {
        let mut sun = MonthlySun::default();
        let values = sun.mean_w_m2.values_mut().chain(sun.spread_w_m2.values_mut());
        for (value, text) in values.zip(self.numbers.split(',')) {
            *value = text.parse().unwrap_or(0.0);
        }
        sun
    }
}

fn cells() -> impl Iterator<Item = Cell> {
    TABLE.lines().filter_map(|line| {
        let mut parts = line.splitn(3, ',');
        let mut number = || parts.next()?.parse().ok();
        let (latitude_deg, longitude_deg) = (number()?, number()?);
        Some(Cell {
            latitude_deg,
            longitude_deg,
            numbers: parts.next()?,
        })
    })
}

/// Great-circle distance between two places (latitude, longitude) \[km\], on a sphere of 6371 km (haversine).
#[must_use]
pub fn great_circle_km(a: (f64, f64), b: (f64, f64)) -> f64 {
    let (p1, p2) = (a.0.to_radians(), b.0.to_radians());
    let half = |angle: f64| (angle / 2.0).sin().powi(2);
    let h = half(p2 - p1) + p1.cos() * p2.cos() * half((b.1 - a.1).to_radians());
    2.0 * 6371.0 * h.clamp(0.0, 1.0).sqrt().asin()
}

#[cfg(test)]
mod tests {
    use daylift_units::Month;

    use super::*;

    #[test]
    fn a_degree_of_latitude_is_about_111_km() {
        assert!((great_circle_km((10.0, 20.0), (11.0, 20.0)) - 111.2).abs() < 0.1);
    }

    #[test]
    fn every_cell_is_read() {
        assert_eq!(
            cells().count(),
            TABLE.lines().filter(|l| !l.starts_with(['#', 'l'])).count()
        );
        for cell in cells() {
            assert_eq!(cell.numbers.split(',').count(), 24);
            let sun = cell.sun();
            assert!(
                sun.mean_w_m2.values().all(|&w| (0.0..420.0).contains(&w)) && sun.mean_w_m2.values().any(|&w| w > 90.0)
            );
        }
    }

    #[test]
    fn interpolation_gives_the_cell_at_its_middle_and_the_mean_half_way() {
        // Rows of the table at 15° S, 27° E and 15° S, 30° E.
        let cell = |longitude_deg: f64| {
            let is_it = |c: &Cell| (c.latitude_deg + 15.0).abs() < 0.1 && (c.longitude_deg - longitude_deg).abs() < 0.1;
            cells().find(is_it).unwrap().sun()
        };
        let (west, east) = (cell(27.0), cell(30.0));
        let there = sun_at(-15.0, 27.0).unwrap();
        let between = sun_at(-15.0, 28.5).unwrap();
        for month in Month::ALL {
            assert!((there.sun.mean_w_m2[month] - west.mean_w_m2[month]).abs() < 1e-9);
            let mean = 0.5 * (west.mean_w_m2[month] + east.mean_w_m2[month]);
            assert!((between.sun.mean_w_m2[month] - mean).abs() < 1e-9);
        }
    }

    #[test]
    fn a_correction_divides_means_and_spreads() {
        let there = sun_at(-15.0, 27.0).unwrap();
        let corrected = there.corrected(0.25);
        for month in Month::ALL {
            // 1/1.25 = 0.8, by hand.
            assert!((corrected.sun.mean_w_m2[month] - 0.8 * there.sun.mean_w_m2[month]).abs() < 1e-9);
            assert!((corrected.sun.spread_w_m2[month] - 0.8 * there.sun.spread_w_m2[month]).abs() < 1e-9);
        }
    }

    #[test]
    fn cells_on_both_sides_of_the_date_line_count() {
        // Eastern Siberia, 67° N 179° E: cells at 177° E and at 180° W.
        let there = sun_at(67.0, 179.0).unwrap();
        let past = sun_at(67.0, -179.0).unwrap();
        assert!(there.from_km.is_none() && past.from_km.is_none());
        assert!((there.sun.mean_w_m2[Month::June] - past.sun.mean_w_m2[Month::June]).abs() < 40.0);
    }

    #[test]
    fn an_island_uses_the_nearest_land_and_reports_the_distance() {
        // The Seychelles; the northern tip of Madagascar is about 1000 km away.
        let there = sun_at(-4.6, 55.5).unwrap();
        assert!(
            there.from_km.is_some_and(|km| (900.0..1000.0).contains(&km)),
            "{there:?}"
        );
    }
}
