//! A grid-tied inverter at one moment: what it offers at the bus, and what is lost when it gives less (§6, §12).

use daylift_array::Inverter;
use daylift_units::root;

use super::account::Account;
use super::strings::Lit;

/// An inverter under the light of a moment.
#[derive(Debug)]
pub(super) struct Feeding<'a> {
    inverter: &'a Inverter,
    groups: Vec<Lit<'a>>,
    /// What tracking leaves of each group's maximum power, and what the window leaves of that \[W\].
    tracked_w: Vec<f64>,
    window_w: Vec<f64>,
    best_w: f64,
    /// Greatest AC output in the heat of the moment \[W\].
    most_ac_w: f64,
    /// Whether the maximum-power point reaches start power and fixed loss.
    starts: bool,
    /// What it can give at the bus; 0 where it does not feed \[W\].
    pub(super) offer_w: f64,
}

impl<'a> Feeding<'a> {
    /// The inverter with the share `tracking` of the maximum power lost, and with its rated output times `derating`.
    pub(super) fn new(inverter: &'a Inverter, groups: Vec<Lit<'a>>, tracking: f64, derating: f64) -> Self {
        let (low_v, high_v) = (inverter.sheet().mppt_min_v, inverter.sheet().mppt_max_v);
        let tracked_w: Vec<f64> = groups.iter().map(|g| g.best.power_w * (1.0 - tracking)).collect();
        let in_window = groups.iter().map(|g| g.curve.power_at_window(low_v, high_v));
        let mut feeding = Self {
            inverter,
            window_w: in_window.zip(&tracked_w).map(|(window_w, tracked_w)| window_w.min(*tracked_w)).collect(),
            tracked_w,
            best_w: groups.iter().map(|g| g.best.power_w).sum(),
            most_ac_w: derating * inverter.rated_w(),
            groups,
            starts: false,
            offer_w: 0.0,
        };
        let best_dc_w: f64 = feeding
            .groups
            .iter()
            .zip(&feeding.tracked_w)
            .map(|(g, tracked_w)| g.strings.device_power_w(*tracked_w))
            .sum();
        feeding.starts = inverter.feeds(best_dc_w) && inverter.losses().output_w(best_dc_w) > 0.0;
        if feeding.starts {
            feeding.offer_w = inverter.bus_w(feeding.unclipped_w().min(feeding.most_ac_w));
        }
        feeding
    }

    /// AC output without a limit of the rating \[W\].
    fn unclipped_w(&self) -> f64 {
        self.inverter.losses().output_w(self.dc_w(1.0))
    }

    /// DC power at its terminals when each group gives this part of its power \[W\].
    fn dc_w(&self, part: f64) -> f64 {
        let groups = self.groups.iter().zip(&self.window_w);
        groups.map(|(g, window_w)| g.strings.device_power_w(window_w * part)).sum()
    }

    /// Array power and DC power for a power at the bus \[W\].
    fn array_for(&self, bus_w: f64) -> (f64, f64) {
        let all_w: f64 = self.window_w.iter().sum();
        let dc_w = self.inverter.dc_for_ac_w(self.inverter.ac_for_bus_w(bus_w));
        let most_w = self.dc_w(1.0);
        if bus_w <= 0.0 {
            return (0.0, 0.0);
        }
        if dc_w >= most_w {
            return (all_w, most_w);
        }
        let part = root::bracketed(0.0, 1.0, |part| (self.dc_w(part) - dc_w) / most_w).unwrap_or(1.0);
        (all_w * part, dc_w)
    }

    /// Books what is lost when it gives `bus_w`; `tripped_w` is what the line's voltage leaves it, `limit` the id of the
    /// other limit.
    pub(super) fn book(&self, bus_w: f64, tripped_w: Option<f64>, limit: &'static str, to: &mut Account) {
        if self.offer_w <= 0.0 && tripped_w.is_some() {
            // Its share of what the line leaves is 0, and the line comes first.
            to.add("grid-voltage-trip", self.best_w);
            return;
        }
        let tracked_w: f64 = self.tracked_w.iter().sum();
        let window_w: f64 = self.window_w.iter().sum();
        if tripped_w.is_none() {
            to.add("tracking", self.best_w - tracked_w);
        }
        if !self.starts {
            to.add("below-start", tracked_w);
            return;
        }
        if tripped_w.is_none() {
            to.add("mppt-window", tracked_w - window_w);
        }
        if self.offer_w <= 0.0 {
            let fixed_loss = self.unclipped_w() <= 0.0;
            to.add(if fixed_loss { "below-start" } else { "inverter-clipping" }, window_w);
            return;
        }
        let held_w = if let Some(tripped_w) = tripped_w {
            let held_w = self.array_for(tripped_w).0;
            to.add("grid-voltage-trip", self.best_w - held_w);
            held_w
        } else {
            let held_w = self.array_for(self.offer_w).0;
            to.add("inverter-clipping", window_w - held_w);
            held_w
        };
        let (array_w, dc_w) = self.array_for(bus_w);
        to.add(limit, held_w - array_w);
        let ac_w = if bus_w > 0.0 {
            self.inverter.ac_for_bus_w(bus_w)
        } else {
            0.0
        };
        to.add("inverter-conversion", dc_w - ac_w);
        to.add("cables", array_w - dc_w + ac_w - bus_w);
    }
}
