//! The levels of the tank at which something may change.

use daylift_lift::Tank;
use daylift_units::Hourly;

/// Level differences below this fraction of the capacity are rounding.
const SAME_LEVEL: f64 = 1e-12;

/// The levels of the tank in an hour \[m³\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Levels {
    pub(crate) capacity_m3: f64,
    pub(crate) restart_m3: f64,
    pub(crate) low_mark_m3: f64,
    /// The fill latch; `None` where every hour fills the tank, as the latch is then the stop at full.
    pub(crate) fill: Option<FillLevels>,
}

/// The levels at which the fill latch stops the pumps on the bus and releases them again \[m³\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct FillLevels {
    pub(crate) stop_m3: f64,
    pub(crate) release_m3: f64,
}

impl Levels {
    /// The levels of a tank that the bus fills at every hour.
    #[must_use]
    pub fn of(tank: &Tank) -> Self {
        Self {
            capacity_m3: tank.capacity_m3(),
            restart_m3: tank.restart_m3(),
            low_mark_m3: tank.low_mark_m3(),
            fill: None,
        }
    }

    /// The levels of each hour, with the fill level of each, a fraction of the capacity. If all of these are 1, the fill
    /// latch is the stop at full, and there is none.
    #[must_use]
    pub(crate) fn by_hour(self, fill: &Hourly<f64>) -> Hourly<Self> {
        if fill.values().all(|level| *level >= 1.0) {
            return Hourly::from_array([self; 24]);
        }
        Hourly::from_fn(|hour| {
            let stop_m3 = self.at_mark(fill[hour] * self.capacity_m3);
            let release_m3 = self.at_mark((stop_m3 - (self.capacity_m3 - self.restart_m3)).max(self.low_mark_m3));
            Self {
                fill: Some(FillLevels { stop_m3, release_m3 }),
                ..self
            }
        })
    }

    /// Contents that differ by no more than this are the same \[m³\].
    pub(crate) fn rounding_m3(&self) -> f64 {
        SAME_LEVEL * self.capacity_m3
    }

    /// The marks, in no order \[m³\].
    pub(crate) fn marks_m3(&self) -> impl Iterator<Item = f64> {
        let of_fill = self.fill.map(|fill| [fill.release_m3, fill.stop_m3]);
        [0.0, self.low_mark_m3, self.restart_m3, self.capacity_m3]
            .into_iter()
            .chain(of_fill.into_iter().flatten())
    }

    /// The content; within rounding of a mark, that mark: no two marks may differ by rounding alone.
    pub(crate) fn at_mark(&self, content_m3: f64) -> f64 {
        let near = |mark: &f64| (content_m3 - mark).abs() <= self.rounding_m3();
        self.marks_m3().find(near).unwrap_or(content_m3)
    }
}

#[cfg(test)]
mod tests {
    use daylift_lift::TankSheet;
    use daylift_units::Hour;

    use super::*;

    fn levels(fill: f64) -> Levels {
        let tank = Tank::new(TankSheet {
            capacity_m3: 165.0,
            restart_level: 0.9,
            low_mark: 0.2,
        })
        .unwrap();
        // Another hour fills the tank less, so that the latch counts.
        let mut by_hour = Hourly::from_array([fill; 24]);
        by_hour[Hour::H3] = 0.5;
        Levels::of(&tank).by_hour(&by_hour)[Hour::H0]
    }

    #[test]
    fn the_latch_releases_one_restart_band_below_the_fill_level_or_at_the_low_mark() {
        // Worked by hand: the band is 10 % of 165 m³, 16.5 m³. 60 % is 99 m³, released at 82.5 m³.
        let fill = levels(0.6).fill.unwrap();
        assert!((fill.stop_m3 - 99.0).abs() < 1e-9 && (fill.release_m3 - 82.5).abs() < 1e-9);
        // 25 % is 41.25 m³; 24.75 m³ would be below the low mark, 33 m³.
        let fill = levels(0.25).fill.unwrap();
        assert!((fill.stop_m3 - 41.25).abs() < 1e-9 && (fill.release_m3 - 33.0).abs() < 1e-15);
    }

    #[test]
    fn an_hour_that_fills_the_tank_has_the_marks_of_the_tank_itself() {
        let levels = levels(1.0);
        let fill = levels.fill.unwrap();
        assert_eq!(
            (fill.stop_m3.to_bits(), fill.release_m3.to_bits()),
            (levels.capacity_m3.to_bits(), levels.restart_m3.to_bits())
        );
    }
}
