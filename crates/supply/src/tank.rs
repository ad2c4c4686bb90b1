//! The tank's level, whether the controller wants water, and the next mark.

use daylift_lift::Tank;

/// Level differences below this fraction of the capacity are rounding.
const SAME_LEVEL: f64 = 1e-12;

/// The tank while the year runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TankState {
    /// Content \[m³\].
    pub content_m3: f64,
    /// Whether the controller wants water: off at full, on again at the restart level.
    pub wanting: bool,
}

/// Where the content is relative to the low mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LowMark {
    Below,
    At,
    Above,
}

impl TankState {
    /// A tank with `content_m3` in it.
    #[must_use]
    pub fn new(content_m3: f64, tank: &Tank) -> Self {
        Self {
            content_m3: content_m3.clamp(0.0, tank.capacity_m3()),
            wanting: content_m3 < tank.capacity_m3(),
        }
    }

    pub(crate) fn low_mark(&self, tank: &Tank) -> LowMark {
        let above_m3 = self.content_m3 - tank.low_mark_m3();
        if above_m3.abs() <= SAME_LEVEL * tank.capacity_m3() {
            LowMark::At
        } else if above_m3 < 0.0 {
            LowMark::Below
        } else {
            LowMark::Above
        }
    }

    pub(crate) fn is_empty(&self, tank: &Tank) -> bool {
        self.content_m3 <= SAME_LEVEL * tank.capacity_m3()
    }

    /// The next mark that the content reaches when it changes by `net_m3_s`, and when; `None` if there is none ahead.
    pub(crate) fn next_mark(&self, net_m3_s: f64, tank: &Tank) -> Option<Mark> {
        let rounding_m3 = SAME_LEVEL * tank.capacity_m3();
        let marks = marks_m3(tank);
        let content_m3 = if net_m3_s > 0.0 {
            marks.into_iter().find(|m| *m > self.content_m3 + rounding_m3)
        } else if net_m3_s < 0.0 {
            marks.into_iter().rev().find(|m| *m < self.content_m3 - rounding_m3)
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
    /// matter.
    pub(crate) fn marks_around(&self, tank: &Tank, low_counts: bool) -> [Option<f64>; 2] {
        let (rounding_m3, low_m3, full_m3) = (SAME_LEVEL * tank.capacity_m3(), tank.low_mark_m3(), tank.capacity_m3());
        let below = |m: f64| (m < self.content_m3 - rounding_m3).then_some(m);
        let above = |m: f64| (m > self.content_m3 + rounding_m3).then_some(m);
        if !self.wanting {
            return [below(tank.restart_m3()).or(below(0.0)), above(full_m3)];
        }
        let low = |mark: Option<f64>| mark.filter(|_| low_counts);
        [low(below(low_m3)).or(below(0.0)), low(above(low_m3)).or(above(full_m3))]
    }

    /// Sets the content exactly to a mark, and updates whether water is wanted.
    pub(crate) fn reach(&mut self, mark_m3: f64, tank: &Tank) {
        self.content_m3 = mark_m3;
        if self.content_m3 >= tank.capacity_m3() {
            self.wanting = false;
        } else if self.content_m3 <= tank.restart_m3() {
            self.wanting = true;
        }
    }

    /// Changes the content over a time that ends before the next mark, or at it by rounding.
    pub(crate) fn advance(&mut self, net_m3_s: f64, seconds: f64, tank: &Tank) {
        let content_m3 = (self.content_m3 + net_m3_s * seconds).clamp(0.0, tank.capacity_m3());
        // Within rounding of a mark the content is at it: the next mark is looked for beyond it.
        let rounding_m3 = SAME_LEVEL * tank.capacity_m3();
        let at = marks_m3(tank).into_iter().find(|mark| (content_m3 - mark).abs() <= rounding_m3);
        self.reach(at.unwrap_or(content_m3), tank);
    }
}

fn marks_m3(tank: &Tank) -> [f64; 4] {
    [0.0, tank.low_mark_m3(), tank.restart_m3(), tank.capacity_m3()]
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
    use daylift_lift::TankSheet;

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
        let state = |content_m3, wanting| TankState { content_m3, wanting };
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
        let mut state = TankState::new(100.0, &tank);
        assert!(!state.wanting);
        state.advance(-1.0, 10.0 - 1e-12, &tank);
        assert!(state.wanting && (state.content_m3 - 90.0).abs() < 1e-15);
    }
}
