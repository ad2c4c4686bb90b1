//! The tank's level, the controller's wish, and the instant of the next event.

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

/// Where the content stands against the low mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LowMark {
    Below,
    At,
    Above,
}

impl TankState {
    /// A tank that holds `content_m3`.
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

    /// Time until the content, changing by `net_m3_s`, reaches the next mark that may change something \[s\]; infinite
    /// when it reaches none. The marks are empty, low, restart and full.
    pub(crate) fn time_to_mark_s(&self, net_m3_s: f64, tank: &Tank) -> f64 {
        let hair_m3 = SAME_LEVEL * tank.capacity_m3();
        let marks = [0.0, tank.low_mark_m3(), tank.restart_m3(), tank.capacity_m3()];
        let next_m3 = if net_m3_s > 0.0 {
            marks.into_iter().find(|m| *m > self.content_m3 + hair_m3)
        } else if net_m3_s < 0.0 {
            marks.into_iter().rev().find(|m| *m < self.content_m3 - hair_m3)
        } else {
            None
        };
        next_m3.map_or(f64::INFINITY, |m| (m - self.content_m3) / net_m3_s)
    }

    /// Lets the content change for a while, lands it on a mark that it reaches to rounding, and updates the wish.
    pub(crate) fn advance(&mut self, net_m3_s: f64, seconds: f64, tank: &Tank) {
        self.content_m3 = (self.content_m3 + net_m3_s * seconds).clamp(0.0, tank.capacity_m3());
        // Rounding of the event's time leaves the content a hair beside the mark.
        let hair_m3 = 1e-9 * tank.capacity_m3();
        for mark in [0.0, tank.low_mark_m3(), tank.restart_m3(), tank.capacity_m3()] {
            if (self.content_m3 - mark).abs() <= hair_m3 {
                self.content_m3 = mark;
            }
        }
        if self.content_m3 >= tank.capacity_m3() {
            self.wanting = false;
        } else if self.content_m3 <= tank.restart_m3() {
            self.wanting = true;
        }
    }
}
