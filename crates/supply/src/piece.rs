//! A piece of time in which nothing changes, and who may watch the pieces go by.

use std::ops::{Index, IndexMut};

use crate::battery::BatteryFlow;
use crate::cause::{LossCause, ShortfallCause};
use crate::flow::{Flow, LOST};
use crate::stream::{ByCause, Steps};

/// Power from one source beside the array \[W\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Supplied {
    /// At the source: the utility's meter, the battery's terminals, the generating set's.
    pub(crate) given_w: f64,
    /// At the motor's terminals.
    pub(crate) to_pump_w: f64,
    /// To the loads.
    pub(crate) to_loads_w: f64,
    /// Lost in motor cable, drive and battery's inverter.
    pub(crate) lost_w: f64,
}

/// The flows of a source beside the array.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Source {
    pub(crate) given: Flow,
    to_pump: Flow,
    pub(crate) to_loads: Flow,
    to_battery: Option<Flow>,
    lost: Flow,
}

impl Source {
    /// The utility.
    pub(crate) const GRID: Self = Self {
        given: Flow::Imported,
        to_pump: Flow::GridToPump,
        to_loads: Flow::GridToLoads,
        to_battery: Some(Flow::GridToBattery),
        lost: Flow::GridLost,
    };
    /// The battery.
    pub(crate) const BATTERY: Self = Self {
        given: Flow::Discharged,
        to_pump: Flow::BatteryToPump,
        to_loads: Flow::BatteryToLoads,
        to_battery: None,
        lost: Flow::BatteryLost,
    };
    /// The generating set.
    pub(crate) const GENERATOR: Self = Self {
        given: Flow::Generated,
        to_pump: Flow::GeneratorToPump,
        to_loads: Flow::GeneratorToLoads,
        to_battery: None,
        lost: Flow::GeneratorLost,
    };

    /// What comes in during a piece and goes nowhere \[W\].
    pub(crate) fn missing_w(&self, piece: &Piece) -> f64 {
        let to_battery_w = self.to_battery.map_or(0.0, |flow| piece[flow]);
        piece[self.given] - piece[self.to_pump] - piece[self.to_loads] - to_battery_w - piece[self.lost]
    }
}

/// Everything that flows during a piece: the rate of every [`Flow`], and what the stores hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// Length \[s\].
    pub length_s: f64,
    /// Powers in W, flows in m³/s, times as shares.
    pub(crate) rates: [f64; Flow::COUNT],
    /// Whether the utility is there.
    pub utility: bool,
    /// Battery content at the end of the piece less that at the begin \[J\].
    pub battery_stored_j: f64,
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

impl Index<Flow> for Piece {
    type Output = f64;

    /// Rate of a flow: W, m³/s, or a share of the time.
    #[inline]
    fn index(&self, flow: Flow) -> &f64 {
        &self.rates[flow.index()]
    }
}

impl IndexMut<Flow> for Piece {
    #[inline]
    fn index_mut(&mut self, flow: Flow) -> &mut f64 {
        &mut self.rates[flow.index()]
    }
}

impl Piece {
    /// Nothing flows yet, and nothing is wanted; its length is not yet known.
    #[inline]
    pub(crate) fn at_rest() -> Self {
        Self {
            length_s: 0.0,
            rates: [0.0; Flow::COUNT],
            utility: false,
            battery_stored_j: 0.0,
            held_back_by: ShortfallCause::GridDown,
            tank_m3: 0.0,
            stored_m3: 0.0,
            battery_j: 0.0,
            hz: 0.0,
        }
    }

    /// Sets the flows that follow from the others, once those are settled.
    #[inline]
    pub(crate) fn close(&mut self) {
        self[Flow::Time] = 1.0;
        let held_back_by = self.held_back_by;
        self[Flow::Shortfall(held_back_by)] = self.shortfall_m3_s();
        if !self.utility {
            self[Flow::Outage] = 1.0;
            self[Flow::DemandInOutage] = self[Flow::Demand];
            self[Flow::DeliveredInOutage] = self[Flow::Delivered];
            self[Flow::PumpingInOutage] = self[Flow::Pumping];
        }
    }

    /// The rate of every flow, in the order of [`Flow::ALL`].
    #[must_use]
    pub fn rates(&self) -> &[f64; Flow::COUNT] {
        &self.rates
    }

    /// What is lost to each cause, in the order of [`LossCause::ALL`] \[W\].
    #[must_use]
    pub fn lost_w(&self) -> &[f64] {
        &self.rates[LOST]
    }

    /// Demand not met \[m³/s\].
    #[must_use]
    pub fn shortfall_m3_s(&self) -> f64 {
        self[Flow::Demand] - self[Flow::Delivered]
    }

    /// Flow through the battery's terminals.
    #[must_use]
    pub fn battery_flow(&self) -> BatteryFlow {
        BatteryFlow {
            from_array_w: self[Flow::ArrayToBattery],
            from_grid_w: self[Flow::GridToBattery],
            out_w: self[Flow::Discharged],
        }
    }

    /// Adds to what a source gives.
    pub(crate) fn supply(&mut self, source: Source, supplied: &Supplied) {
        self[source.given] += supplied.given_w;
        self[source.to_pump] += supplied.to_pump_w;
        self[source.to_loads] += supplied.to_loads_w;
        self[source.lost] += supplied.lost_w;
    }

    /// Adds to a loss \[W\].
    #[inline]
    pub(crate) fn lose(&mut self, cause: LossCause, power_w: f64) {
        self[Flow::Lost(cause)] += power_w;
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
