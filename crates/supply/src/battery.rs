//! The battery during the year: its content by origin, its marks, and whether its island has power.

use daylift_grid::Battery;

/// Content differences below this fraction of the capacity are rounding.
const SAME_CONTENT: f64 = 1e-14;

/// The battery's content and its island.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BatteryState {
    /// Content that came from the array \[J\].
    pub array_j: f64,
    /// Content that came from the grid \[J\].
    pub grid_j: f64,
    /// Whether the island has power. It shuts down at the minimum content, and returns at the restart content or with the grid.
    pub live: bool,
}

/// Power into and out of the battery, at its own terminals \[W\].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct BatteryFlow {
    /// From the array.
    pub from_array_w: f64,
    /// From the grid.
    pub from_grid_w: f64,
    /// Out of it.
    pub out_w: f64,
}

impl BatteryFlow {
    /// Rate at which the content rises.
    #[must_use]
    pub fn net_w(&self) -> f64 {
        self.from_array_w + self.from_grid_w - self.out_w
    }

    /// The mean of this flow for `share` of the time and of another for the rest.
    #[must_use]
    pub fn mixed(&self, share: f64, other: &Self) -> Self {
        let mix = |a: f64, b: f64| share * a + (1.0 - share) * b;
        Self {
            from_array_w: mix(self.from_array_w, other.from_array_w),
            from_grid_w: mix(self.from_grid_w, other.from_grid_w),
            out_w: mix(self.out_w, other.out_w),
        }
    }
}

impl BatteryState {
    /// A full battery, with all content from the array.
    #[must_use]
    pub fn full(battery: &Battery) -> Self {
        Self {
            array_j: battery.capacity_j(),
            grid_j: 0.0,
            live: true,
        }
    }

    /// Content \[J\].
    #[must_use]
    pub fn content_j(&self) -> f64 {
        self.array_j + self.grid_j
    }

    /// Share of the content that came from the array.
    #[must_use]
    pub fn array_share(&self) -> f64 {
        let content_j = self.content_j();
        if content_j > 0.0 { self.array_j / content_j } else { 1.0 }
    }

    /// Whether the content is above a mark by more than rounding.
    pub(crate) fn is_above(&self, mark_j: f64, battery: &Battery) -> bool {
        self.content_j() > mark_j + SAME_CONTENT * battery.capacity_j()
    }

    /// Whether the content is below a mark by more than rounding.
    pub(crate) fn is_below(&self, mark_j: f64, battery: &Battery) -> bool {
        self.content_j() < mark_j - SAME_CONTENT * battery.capacity_j()
    }

    /// Updates whether the island has power: the grid or the restart content brings it up, the minimum content takes it down.
    pub(crate) fn update_live(&mut self, utility: bool, battery: &Battery) {
        if utility || !self.is_below(battery.restart_j(), battery) {
            self.live = true;
        }
        if !utility && !self.is_above(battery.least_j(), battery) {
            self.live = false;
        }
    }

    /// Time until the content, changing at `net_w` \[W\], reaches the next mark \[s\]; infinite if it reaches none.
    pub(crate) fn until_mark_s(&self, net_w: f64, battery: &Battery) -> f64 {
        let rounding_j = SAME_CONTENT * battery.capacity_j();
        let content_j = self.content_j();
        let ahead = marks_j(battery)
            .into_iter()
            .map(|mark_j| (mark_j - content_j) * net_w.signum())
            .filter(|ahead_j| *ahead_j > rounding_j);
        if net_w == 0.0 {
            return f64::INFINITY;
        }
        ahead.fold(f64::INFINITY, f64::min) / net_w.abs()
    }

    /// Changes the content over some time. What leaves is taken from both accounts in proportion.
    pub(crate) fn advance(&mut self, flow: &BatteryFlow, seconds: f64, battery: &Battery) {
        let net_j = flow.net_w() * seconds;
        let mut content_j = (self.content_j() + net_j).clamp(0.0, battery.capacity_j());
        let rounding_j = SAME_CONTENT * battery.capacity_j();
        for mark_j in marks_j(battery) {
            if (content_j - mark_j).abs() <= rounding_j {
                content_j = mark_j;
            }
        }
        let in_array_j = self.array_j + flow.from_array_w * seconds;
        let in_grid_j = self.grid_j + flow.from_grid_w * seconds;
        let kept = content_j / (in_array_j + in_grid_j).max(f64::MIN_POSITIVE);
        self.array_j = in_array_j * kept;
        self.grid_j = content_j - self.array_j;
    }
}

fn marks_j(battery: &Battery) -> [f64; 5] {
    [
        battery.least_j(),
        battery.restart_j(),
        battery.reserve_j(),
        battery.grid_charges_to_j(),
        battery.capacity_j(),
    ]
}

#[cfg(test)]
mod tests {
    use daylift_grid::{BatteryRule, BatterySheet, BatteryUse};

    use super::*;

    fn battery() -> Battery {
        let sheet = BatterySheet {
            name: String::new(),
            capacity_j: 1000.0,
            least_content: 0.1,
            charge_w: 10.0,
            discharge_w: 10.0,
            charge_efficiency: 0.9,
            discharge_efficiency: 0.9,
        };
        let uses = BatteryUse {
            rule: BatteryRule::SelfConsumption,
            reserve: 0.4,
            grid_charges_to: 0.4,
            restart: 0.25,
        };
        Battery::new(sheet, uses).unwrap()
    }

    #[test]
    fn what_leaves_is_taken_from_both_accounts_in_proportion() {
        // Worked by hand. At first 300 J are from the array and 100 J from the grid. For 10 s, 10 W enter from the array and
        // 30 W leave: 400 J and 100 J are in the accounts, 300 J of them leave, so 160 J and 40 J stay.
        let mut state = BatteryState {
            array_j: 300.0,
            grid_j: 100.0,
            live: true,
        };
        let flow = BatteryFlow {
            from_array_w: 10.0,
            from_grid_w: 0.0,
            out_w: 30.0,
        };
        state.advance(&flow, 10.0, &battery());
        assert!((state.array_j - 160.0).abs() < 1e-9 && (state.grid_j - 40.0).abs() < 1e-9);
    }

    #[test]
    fn the_next_mark_down_and_up() {
        let state = BatteryState {
            array_j: 300.0,
            grid_j: 0.0,
            live: true,
        };
        assert!((state.until_mark_s(-10.0, &battery()) - 5.0).abs() < 1e-9);
        assert!((state.until_mark_s(10.0, &battery()) - 10.0).abs() < 1e-9);
        assert!(state.until_mark_s(0.0, &battery()).is_infinite());
    }

    #[test]
    fn an_island_that_ran_empty_stays_shut_down_until_its_restart_content() {
        let battery = battery();
        let mut state = BatteryState {
            array_j: 100.0,
            grid_j: 0.0,
            live: true,
        };
        state.update_live(false, &battery);
        assert!(!state.live);
        state.array_j = 200.0;
        state.update_live(false, &battery);
        assert!(!state.live);
        state.array_j = 250.0;
        state.update_live(false, &battery);
        assert!(state.live);
    }
}
