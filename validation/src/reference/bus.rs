//! The bus at one moment: which source serves which use (§10c, §10d, §11).

use daylift_grid::Battery;

/// What holds the bus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Source {
    /// The utility.
    Grid,
    /// The battery's inverter.
    Island,
    /// Nothing: the battery is at its minimum content.
    Dark,
    /// The generator.
    Generator,
    /// Nothing.
    Nothing,
}

/// What the battery may do at the moment.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Leave {
    pub(super) charge: bool,
    pub(super) give: bool,
    pub(super) grid_charge: bool,
}

/// Offers and needs on the bus \[W\].
#[derive(Debug, Clone, Copy)]
pub(super) struct Meeting {
    pub(super) sun_w: f64,
    pub(super) pump_w: f64,
    /// Loads that may be served.
    pub(super) load_w: f64,
    pub(super) pump_first: bool,
    /// Limits on export: of the agreement, and of the line.
    pub(super) agreed_w: f64,
    pub(super) borne_w: f64,
}

/// Power for pump and loads.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Pair {
    pub(super) pump_w: f64,
    pub(super) load_w: f64,
}

impl Pair {
    fn sum_w(self) -> f64 {
        self.pump_w + self.load_w
    }

    fn less(self, other: Self) -> Self {
        Self {
            pump_w: self.pump_w - other.pump_w,
            load_w: self.load_w - other.load_w,
        }
    }

    /// The part of it that a power can serve, in the plant's order.
    fn served_by(self, power_w: f64, pump_first: bool) -> Self {
        if pump_first {
            let pump_w = self.pump_w.min(power_w);
            let load_w = self.load_w.min(power_w - pump_w);
            Self { pump_w, load_w }
        } else {
            let load_w = self.load_w.min(power_w);
            let pump_w = self.pump_w.min(power_w - load_w);
            Self { pump_w, load_w }
        }
    }
}

/// What each source gives \[W\], all at the bus.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Settled {
    pub(super) sun: Pair,
    pub(super) battery: Pair,
    /// By grid or generator.
    pub(super) other: Pair,
    pub(super) sun_charge_w: f64,
    pub(super) grid_charge_w: f64,
    pub(super) export_w: f64,
    /// What the line's voltage leaves for the inverters, where it limits them.
    pub(super) tripped_w: Option<f64>,
}

impl Settled {
    pub(super) fn sun_used_w(&self) -> f64 {
        self.sun.sum_w() + self.sun_charge_w + self.export_w
    }

    /// From grid or generator.
    pub(super) fn drawn_w(&self) -> f64 {
        self.other.sum_w() + self.grid_charge_w
    }

    pub(super) fn given_w(&self) -> f64 {
        self.battery.sum_w()
    }
}

/// With the utility there; the battery takes part only when `battery` is given.
pub(super) fn on_grid(at: Meeting, battery: Option<&Battery>, leave: Leave) -> Settled {
    let wanted = Pair {
        pump_w: at.pump_w,
        load_w: at.load_w,
    };
    let sun = wanted.served_by(at.sun_w, at.pump_first);
    let open = wanted.less(sun);
    let spare_w = at.sun_w - sun.sum_w();
    let (charge_w, give_w) = battery.map_or((0.0, 0.0), |b| (b.sheet().charge_w, b.sheet().discharge_w));
    let sun_charge_w = if leave.charge { spare_w.min(charge_w) } else { 0.0 };
    let given = open.served_by(if leave.give { give_w } else { 0.0 }, at.pump_first);
    let taken_w = sun.sum_w() + sun_charge_w;
    Settled {
        sun,
        battery: given,
        other: open.less(given),
        sun_charge_w,
        grid_charge_w: if leave.grid_charge {
            charge_w - sun_charge_w
        } else {
            0.0
        },
        export_w: (spare_w - sun_charge_w).min(at.agreed_w).min(at.borne_w),
        tripped_w: Some(taken_w + at.borne_w).filter(|&held_w| held_w < at.sun_w),
    }
}

/// The island, shut down or not; what it serves has been chosen within its power.
pub(super) fn on_island(at: Meeting, battery: &Battery, leave: Leave) -> Settled {
    let wanted = Pair {
        pump_w: at.pump_w,
        load_w: at.load_w,
    };
    let sun = wanted.served_by(at.sun_w, at.pump_first);
    let spare_w = at.sun_w - sun.sum_w();
    Settled {
        sun,
        battery: wanted.less(sun),
        sun_charge_w: if leave.charge {
            spare_w.min(battery.sheet().charge_w)
        } else {
            0.0
        },
        ..Settled::default()
    }
}

/// The generator; what it serves has been chosen within its power.
pub(super) fn on_generator(at: Meeting) -> Settled {
    Settled {
        other: Pair {
            pump_w: at.pump_w,
            load_w: at.load_w,
        },
        ..Settled::default()
    }
}
