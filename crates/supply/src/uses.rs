//! The power that pumps and loads want from the bus.

/// Power for the two uses of the bus \[W\].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Uses {
    pub(crate) pump_w: f64,
    pub(crate) loads_w: f64,
}

impl Uses {
    pub(crate) const NONE: Self = Self {
        pump_w: 0.0,
        loads_w: 0.0,
    };

    pub(crate) fn total_w(self) -> f64 {
        self.pump_w + self.loads_w
    }

    /// The part of these wants that `power_w` covers, in the plant's order.
    pub(crate) fn covered_by(self, power_w: f64, pump_first: bool) -> Self {
        // Where everything is covered, return it unchanged, without the rounding of sums and differences.
        if power_w >= self.total_w() {
            return self;
        }
        let (pump_w, loads_w);
        if pump_first {
            pump_w = power_w.min(self.pump_w);
            loads_w = (power_w - pump_w).min(self.loads_w);
        } else {
            loads_w = power_w.min(self.loads_w);
            pump_w = (power_w - loads_w).min(self.pump_w);
        }
        Self { pump_w, loads_w }
    }

    /// Adds a share of other uses.
    pub(crate) fn add(&mut self, other: Self, share: f64) {
        self.pump_w += share * other.pump_w;
        self.loads_w += share * other.loads_w;
    }

    /// These wants less what is covered.
    pub(crate) fn less(self, covered: Self) -> Self {
        Self {
            pump_w: self.pump_w - covered.pump_w,
            loads_w: self.loads_w - covered.loads_w,
        }
    }
}
