//! A piece of time in which nothing changes, and who may watch the pieces go by.

use crate::battery::BatteryFlow;
use crate::cause::{LossCause, ShortfallCause};
use crate::stream::{ByCause, Steps};

/// Power from one source beside the array \[W\].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Supplied {
    /// At the source: the utility's meter, the battery's terminals, the generating set's.
    pub given_w: f64,
    /// At the motor's terminals.
    pub to_pump_w: f64,
    /// To the loads.
    pub to_loads_w: f64,
    /// Into the battery.
    pub to_battery_w: f64,
    /// Lost in motor cable, drive and battery's inverter.
    pub lost_w: f64,
}

impl Supplied {
    /// What comes in and goes nowhere.
    #[must_use]
    pub fn missing_w(&self) -> f64 {
        self.given_w - self.to_pump_w - self.to_loads_w - self.to_battery_w - self.lost_w
    }
}

/// Everything that flows during a piece: powers in W, flows in m³/s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// Length \[s\].
    pub length_s: f64,
    /// Whether the utility is there.
    pub utility: bool,
    /// Power at the maximum-power point \[W\].
    pub available_w: f64,
    /// Lost power by cause \[W\].
    pub lost_w: [f64; LossCause::COUNT],
    /// Array power at the motor's terminals \[W\].
    pub array_to_pump_w: f64,
    /// Array power to the loads \[W\].
    pub array_to_loads_w: f64,
    /// Array power into the battery \[W\].
    pub array_to_battery_w: f64,
    /// Array power exported \[W\].
    pub exported_w: f64,
    /// Whether what is exported is paid.
    pub export_paid: bool,
    /// From the utility.
    pub grid: Supplied,
    /// From the battery.
    pub battery: Supplied,
    /// From the generating set.
    pub generator: Supplied,
    /// Fuel of the generating set \[m³/s\].
    pub fuel_m3_s: f64,
    /// Whether it gives less than its least load.
    pub generator_below_least: bool,
    /// Power the loads want \[W\].
    pub load_w: f64,
    /// Load not served \[W\].
    pub unserved_w: f64,
    /// Battery content at the end of the piece less that at the begin \[J\].
    pub battery_stored_j: f64,
    /// Share of the battery's content that came from the array.
    pub battery_array_share: f64,
    /// Water pumped \[m³/s\].
    pub pumped_m3_s: f64,
    /// Share of the time in which water is pumped.
    pub pumping: f64,
    /// Water wanted by the farm \[m³/s\].
    pub demand_m3_s: f64,
    /// Water delivered \[m³/s\].
    pub delivered_m3_s: f64,
    /// What held the pump back, when water is short.
    pub held_back_by: ShortfallCause,
    /// Tank content at the end of the piece \[m³\].
    pub tank_m3: f64,
    /// Tank content at the end less that at the begin \[m³\].
    pub stored_m3: f64,
    /// Battery content at the end of the piece \[J\]; 0 without one.
    pub battery_j: f64,
    /// Frequency of the drive \[Hz\]; 0 when it stands.
    pub hz: f64,
}

impl Piece {
    /// Nothing flows yet, and nothing is wanted; its length is not yet known.
    #[inline]
    pub(crate) fn at_rest() -> Self {
        Self {
            length_s: 0.0,
            utility: false,
            available_w: 0.0,
            lost_w: [0.0; LossCause::COUNT],
            array_to_pump_w: 0.0,
            array_to_loads_w: 0.0,
            array_to_battery_w: 0.0,
            exported_w: 0.0,
            export_paid: false,
            grid: Supplied::default(),
            battery: Supplied::default(),
            generator: Supplied::default(),
            fuel_m3_s: 0.0,
            generator_below_least: false,
            load_w: 0.0,
            unserved_w: 0.0,
            battery_stored_j: 0.0,
            battery_array_share: 1.0,
            pumped_m3_s: 0.0,
            pumping: 0.0,
            demand_m3_s: 0.0,
            delivered_m3_s: 0.0,
            held_back_by: ShortfallCause::GridDown,
            tank_m3: 0.0,
            stored_m3: 0.0,
            battery_j: 0.0,
            hz: 0.0,
        }
    }

    /// Demand not met \[m³/s\].
    #[must_use]
    pub fn shortfall_m3_s(&self) -> f64 {
        self.demand_m3_s - self.delivered_m3_s
    }

    /// Flow through the battery's terminals.
    #[must_use]
    pub fn battery_flow(&self) -> BatteryFlow {
        BatteryFlow {
            from_array_w: self.array_to_battery_w,
            from_grid_w: self.grid.to_battery_w,
            out_w: self.battery.given_w,
        }
    }

    /// Adds to a loss \[W\].
    pub(crate) fn lose(&mut self, cause: LossCause, power_w: f64) {
        self.lost_w[cause.index()] += power_w;
    }

    /// Books what limits cut off, in the mean over some steps.
    pub(crate) fn lose_each(&mut self, cuts_w: &ByCause<LossCause>, steps: &Steps) {
        for (cause, stream) in cuts_w.iter() {
            self.lose(cause, stream.mean(steps));
        }
    }
}

/// Sees every piece of the last pass through the year.
pub trait Recorder {
    /// Whether it looks at all; a year is not run again for one that does not.
    const WATCHES: bool = true;

    /// A piece of a step; for one that does not look, of that step and perhaps of some that follow.
    fn piece(&mut self, step: usize, piece: &Piece);
}

/// Sees nothing.
#[derive(Debug, Clone, Copy, Default)]
pub struct NoRecorder;

impl Recorder for NoRecorder {
    const WATCHES: bool = false;

    #[inline]
    fn piece(&mut self, _step: usize, _piece: &Piece) {}
}
