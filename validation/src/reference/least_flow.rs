//! The least flow at which a pump may run (§7).

use daylift_lift::Pump;
use daylift_units::root;

use super::devices::OfSet;

/// Parts of the datasheet's flows in which the best efficiency is searched for.
const PARTS: u32 = 200;

/// Least flow of a set.
pub(super) struct LeastFlow {
    /// The pump's, per hertz \[m³/s/Hz\].
    per_hz: f64,
    /// The motor's \[m³/s\].
    cooling_m3_s: f64,
}

/// Flow of the best efficiency at rated speed, Q_b \[m³/s\].
fn best_m3_s(pump: &Pump) -> f64 {
    let last_m3_s = pump.greatest_flow_m3_s();
    let at = |part: f64| pump.efficiency(last_m3_s * part, 1.0);
    let parts = (0..=PARTS).map(|i| f64::from(i) / f64::from(PARTS));
    let near = parts.max_by(|a, b| at(*a).total_cmp(&at(*b))).unwrap_or(0.0);
    let (mut low, mut high) = (
        (near - 1.0 / f64::from(PARTS)).max(0.0),
        (near + 1.0 / f64::from(PARTS)).min(1.0),
    );
    for _ in 0..100 {
        let (left, right) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if at(left) < at(right) {
            low = left;
        } else {
            high = right;
        }
    }
    last_m3_s * 0.5 * (low + high)
}

impl LeastFlow {
    pub(super) fn new(pump: &Pump, of_set: &OfSet, rated_hz: f64) -> Self {
        let share = of_set.least_flow;
        Self {
            per_hz: if share > 0.0 {
                share * best_m3_s(pump) / rated_hz
            } else {
                0.0
            },
            cooling_m3_s: of_set.cooling_flow_m3_s,
        }
    }

    /// The lowest frequency from `begins_hz` on at which the duty flow is enough; infinite where none is, up to
    /// `greatest_hz` \[Hz\].
    pub(super) fn start_hz(&self, begins_hz: f64, greatest_hz: f64, flow_m3_s: impl Fn(f64) -> f64) -> f64 {
        let lacks = |hz: f64| {
            let least_m3_s = (self.per_hz * hz).max(self.cooling_m3_s);
            if least_m3_s > 0.0 {
                1.0 - flow_m3_s(hz) / least_m3_s
            } else {
                0.0
            }
        };
        if lacks(begins_hz) <= 0.0 || begins_hz > greatest_hz {
            return begins_hz;
        }
        if lacks(greatest_hz) > 0.0 {
            return f64::INFINITY;
        }
        root::bracketed(begins_hz, greatest_hz, lacks).unwrap_or(f64::INFINITY)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Flow of a made-up pump: Q = 10 l/s · √(r² − 0.36), at 50 Hz.
    fn flow_m3_s(hz: f64) -> f64 {
        0.01 * ((hz / 50.0).powi(2) - 0.36).max(0.0).sqrt()
    }

    #[test]
    fn a_share_of_the_best_flow() {
        let least = LeastFlow {
            per_hz: 0.2 * 0.006 / 50.0,
            cooling_m3_s: 0.0,
        };
        // By hand: 0.01·√(r² − 0.36) = 0.0012·r, so r² = 0.36/(1 − 0.0144) = 0.365260 and f = 30.2184 Hz.
        let hz = least.start_hz(30.0, 50.0, flow_m3_s);
        assert!((hz - 30.2184).abs() < 1e-4, "{hz}");
    }

    #[test]
    fn the_motors_cooling_flow() {
        let mut least = LeastFlow {
            per_hz: 0.0,
            cooling_m3_s: 0.004,
        };
        // By hand: r² = 0.36 + 0.16 = 0.52, f = 36.0555 Hz.
        let hz = least.start_hz(30.0, 50.0, flow_m3_s);
        assert!((hz - 36.0555).abs() < 1e-4, "{hz}");
        // At 50 Hz the flow is 8 l/s.
        least.cooling_m3_s = 0.0081;
        assert!(least.start_hz(30.0, 50.0, flow_m3_s).is_infinite());
    }

    #[test]
    fn where_flow_begins_without_a_least_flow() {
        let none = LeastFlow {
            per_hz: 0.0,
            cooling_m3_s: 0.0,
        };
        assert!((none.start_hz(30.0, 50.0, flow_m3_s) - 30.0).abs() < 1e-12);
    }
}
