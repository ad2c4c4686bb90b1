//! The tank's level, whether the controller wants water, and the next mark.

use crate::levels::{FillLevels, Levels};

/// The tank while the year runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TankState {
    /// Content \[m³\].
    pub content_m3: f64,
    /// Whether the controller wants water: off at full, on again at the restart level.
    pub wanting: bool,
    /// Whether the fill latch has stopped the pumps on the bus. It never changes, and nothing reads it, where every hour
    /// fills the tank.
    pub fill_stopped: bool,
}

/// Where the content is relative to the low mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LowMark {
    Below,
    At,
    Above,
}

impl TankState {
    /// A full tank: no water is wanted, and the fill latch has stopped the pumps on the bus.
    #[must_use]
    pub fn full(levels: &Levels) -> Self {
        Self {
            content_m3: levels.capacity_m3,
            wanting: false,
            fill_stopped: true,
        }
    }

    pub(crate) fn low_mark(&self, levels: &Levels) -> LowMark {
        let above_m3 = self.content_m3 - levels.low_mark_m3;
        if above_m3.abs() <= levels.rounding_m3() {
            LowMark::At
        } else if above_m3 < 0.0 {
            LowMark::Below
        } else {
            LowMark::Above
        }
    }

    pub(crate) fn is_empty(&self, levels: &Levels) -> bool {
        self.content_m3 <= levels.rounding_m3()
    }

    /// The next mark that the content reaches when it changes by `net_m3_s`, and when; `None` if there is none ahead.
    pub(crate) fn next_mark(&self, net_m3_s: f64, levels: &Levels) -> Option<Mark> {
        let rounding_m3 = levels.rounding_m3();
        let content_m3 = if net_m3_s > 0.0 {
            levels.marks_m3().filter(|m| *m > self.content_m3 + rounding_m3).reduce(f64::min)
        } else if net_m3_s < 0.0 {
            levels.marks_m3().filter(|m| *m < self.content_m3 - rounding_m3).reduce(f64::max)
        } else {
            None
        }?;
        Some(Mark {
            content_m3,
            after_s: (content_m3 - self.content_m3) / net_m3_s,
        })
    }

    /// The nearest marks below and above the content at which something may change \[m³\]. While water is wanted, the restart
    /// level changes nothing, nor does the low mark unless `low_counts` is set. While none is wanted, the low mark does not
    /// matter. The fill latch changes at its release below and at its stop above.
    pub(crate) fn marks_around(&self, levels: &Levels, low_counts: bool) -> [Option<f64>; 2] {
        let (rounding_m3, low_m3, full_m3) = (levels.rounding_m3(), levels.low_mark_m3, levels.capacity_m3);
        let below = |m: f64| (m < self.content_m3 - rounding_m3).then_some(m);
        let above = |m: f64| (m > self.content_m3 + rounding_m3).then_some(m);
        let of_tank = if self.wanting {
            let low = |mark: Option<f64>| mark.filter(|_| low_counts);
            [low(below(low_m3)).or(below(0.0)), low(above(low_m3)).or(above(full_m3))]
        } else {
            [below(levels.restart_m3).or(below(0.0)), above(full_m3)]
        };
        let Some(fill) = levels.fill else { return of_tank };
        let [lower, upper] = of_tank;
        if self.fill_stopped {
            [nearest(lower, below(fill.release_m3), f64::max), upper]
        } else {
            [lower, nearest(upper, above(fill.stop_m3), f64::min)]
        }
    }

    /// Sets the fill latch at the beginning of an hour: stopped at the fill level or above, released at its release or below.
    pub(crate) fn begin_hour(&mut self, levels: &Levels) {
        if let Some(FillLevels { stop_m3, release_m3 }) = levels.fill {
            let rounding_m3 = levels.rounding_m3();
            if self.content_m3 >= stop_m3 - rounding_m3 {
                self.fill_stopped = true;
            } else if self.content_m3 <= release_m3 + rounding_m3 {
                self.fill_stopped = false;
            }
        }
    }

    /// Sets the content exactly to a mark, and updates whether water is wanted and the fill latch.
    pub(crate) fn reach(&mut self, mark_m3: f64, levels: &Levels) {
        self.content_m3 = mark_m3;
        if self.content_m3 >= levels.capacity_m3 {
            self.wanting = false;
        } else if self.content_m3 <= levels.restart_m3 {
            self.wanting = true;
        }
        self.begin_hour(levels);
    }

    /// Changes the content over a time that ends before the next mark, or at it by rounding.
    pub(crate) fn advance(&mut self, net_m3_s: f64, seconds: f64, levels: &Levels) {
        let content_m3 = (self.content_m3 + net_m3_s * seconds).clamp(0.0, levels.capacity_m3);
        // Within rounding of a mark the content is at it: the next mark is looked for beyond it.
        self.reach(levels.at_mark(content_m3), levels);
    }
}

fn nearest(one: Option<f64>, other: Option<f64>, of: fn(f64, f64) -> f64) -> Option<f64> {
    one.into_iter().chain(other).reduce(of)
}

/// A mark ahead.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Mark {
    /// Content there \[m³\].
    pub(crate) content_m3: f64,
    /// Time until the content is there \[s\].
    pub(crate) after_s: f64,
}

#[cfg(test)]
mod tests {
    use daylift_lift::{Tank, TankSheet};
    use daylift_units::{Hour, Hourly};

    use super::*;

    #[test]
    fn only_marks_at_which_something_may_change_count() {
        // 100 m³ with marks at 0, 20, 90 and 100.
        let tank = Tank::new(TankSheet {
            capacity_m3: 100.0,
            restart_level: 0.9,
            low_mark: 0.2,
        })
        .unwrap();
        let tank = Levels::of(&tank);
        let state = |content_m3, wanting| TankState {
            content_m3,
            wanting,
            fill_stopped: true,
        };
        // Wanting: past the restart level to the full tank, and the low mark only where it counts.
        assert_eq!(state(50.0, true).marks_around(&tank, true), [Some(20.0), Some(100.0)]);
        assert_eq!(state(50.0, true).marks_around(&tank, false), [Some(0.0), Some(100.0)]);
        assert_eq!(state(10.0, true).marks_around(&tank, true), [Some(0.0), Some(20.0)]);
        assert_eq!(state(20.0, true).marks_around(&tank, true), [Some(0.0), Some(100.0)]);
        assert_eq!(state(0.0, true).marks_around(&tank, false), [None, Some(100.0)]);
        // Not wanting: down to the restart level.
        assert_eq!(state(95.0, false).marks_around(&tank, true), [Some(90.0), Some(100.0)]);
        assert_eq!(state(100.0, false).marks_around(&tank, false), [Some(90.0), None]);
    }

    #[test]
    fn a_level_above_the_restart_by_rounding_is_at_it() {
        let tank = Tank::new(TankSheet {
            capacity_m3: 100.0,
            restart_level: 0.9,
            low_mark: 0.2,
        })
        .unwrap();
        let tank = Levels::of(&tank);
        let mut state = TankState::full(&tank);
        assert!(!state.wanting);
        state.advance(-1.0, 10.0 - 1e-12, &tank);
        assert!(state.wanting && (state.content_m3 - 90.0).abs() < 1e-15);
    }

    #[test]
    fn the_fill_latch_stops_at_its_level_and_releases_one_band_below() {
        // 100 m³ with a band of 10 m³: filled to 60 m³, released at 50 m³.
        let tank = Tank::new(TankSheet {
            capacity_m3: 100.0,
            restart_level: 0.9,
            low_mark: 0.2,
        })
        .unwrap();
        let levels = Levels::of(&tank).by_hour(&Hourly::from_array([0.6; 24]))[Hour::H0];
        let state = |content_m3, fill_stopped| TankState {
            content_m3,
            wanting: true,
            fill_stopped,
        };
        assert_eq!(
            state(55.0, true).marks_around(&levels, false),
            [Some(50.0), Some(100.0)]
        );
        assert_eq!(state(55.0, false).marks_around(&levels, false), [Some(0.0), Some(60.0)]);
        // An hour that begins in between changes nothing; at the marks it sets the latch.
        for (content_m3, before, after) in [
            (55.0, true, true),
            (55.0, false, false),
            (60.0, false, true),
            (75.0, false, true),
            (50.0, true, false),
            (10.0, true, false),
        ] {
            let mut tank = state(content_m3, before);
            tank.begin_hour(&levels);
            assert_eq!(tank.fill_stopped, after, "{content_m3}");
        }
        // Pumped through: 5 m³ in 5 s up to 60 m³, then 10 m³ down to 50 m³.
        let mut tank = state(55.0, false);
        let mark = tank.next_mark(1.0, &levels).unwrap();
        assert!((mark.after_s - 5.0).abs() < 1e-12);
        tank.reach(mark.content_m3, &levels);
        assert!(tank.fill_stopped && tank.wanting);
        let mark = tank.next_mark(-1.0, &levels).unwrap();
        assert!((mark.after_s - 10.0).abs() < 1e-12);
        tank.reach(mark.content_m3, &levels);
        assert!(!tank.fill_stopped);
    }
}
