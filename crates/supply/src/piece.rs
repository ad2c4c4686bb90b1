//! A piece of time in which nothing changes, and the recorder that may watch the pieces.

use std::ops::{Index, IndexMut};

use crate::battery::BatteryFlow;
use crate::cause::{LossCause, ShortfallCause};
use crate::flow::{Flow, LOST};
use crate::starts::Motors;
use crate::stream::{ByCause, Steps};

/// Power from one source other than the array \[W\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Supplied {
    /// At the source: the utility's meter, or the terminals of the battery or the generator.
    pub(crate) given_w: f64,
    /// At the motor's terminals.
    pub(crate) to_pump_w: f64,
    /// To the loads.
    pub(crate) to_loads_w: f64,
    /// Lost in motor cable, drive and battery's inverter.
    pub(crate) lost_w: f64,
}

/// The flows of a source other than the array, by index: which source it is may be known only while the year runs.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Source {
    given: usize,
    to_pump: usize,
    to_loads: usize,
    lost: usize,
}

impl Source {
    /// The utility; what it charges the battery with is booked separately.
    pub(crate) const GRID: Self = Self::of([Flow::Imported, Flow::GridToPump, Flow::GridToLoads, Flow::GridLost]);
    /// The battery.
    pub(crate) const BATTERY: Self = Self::of([
        Flow::Discharged,
        Flow::BatteryToPump,
        Flow::BatteryToLoads,
        Flow::BatteryLost,
    ]);
    /// The generator.
    pub(crate) const GENERATOR: Self = Self::of([
        Flow::Generated,
        Flow::GeneratorToPump,
        Flow::GeneratorToLoads,
        Flow::GeneratorLost,
    ]);

    const fn of([given, to_pump, to_loads, lost]: [Flow; 4]) -> Self {
        Self {
            given: given.index(),
            to_pump: to_pump.index(),
            to_loads: to_loads.index(),
            lost: lost.index(),
        }
    }
}

/// Everything that flows during a piece: the rate of every [`Flow`], and what the stores hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// Length \[s\].
    pub length_s: f64,
    /// Powers in W, flows in m³/s, times as shares.
    pub(crate) rates: [f64; Flow::COUNT],
    /// Whether the utility is present.
    pub utility: bool,
    /// Battery content at the end of the piece less that at its start \[J\].
    pub battery_stored_j: f64,
    /// What held the pump back, when water is short.
    pub held_back_by: ShortfallCause,
    /// Tank content at the end of the piece \[m³\].
    pub tank_m3: f64,
    /// Tank content at the end less that at the start \[m³\].
    pub stored_m3: f64,
    /// Battery content at the end of the piece \[J\]; 0 without one.
    pub battery_j: f64,
    /// Frequency of the drive \[Hz\]; 0 when it is stopped.
    pub hz: f64,
    /// The last step that it covers.
    pub(crate) last_step: usize,
    /// What runs the motors.
    pub(crate) motors: Motors,
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
    /// A piece in which nothing flows and nothing is wanted; its length is not yet known.
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
            last_step: 0,
            motors: Motors::default(),
        }
    }

    /// Sets the flows that follow from the others, once those are known.
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

    /// Power lost to each cause, in the order of [`LossCause::ALL`] \[W\].
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
    #[inline]
    pub(crate) fn supply(&mut self, source: Source, supplied: &Supplied) {
        self.rates[source.given] += supplied.given_w;
        self.rates[source.to_pump] += supplied.to_pump_w;
        self.rates[source.to_loads] += supplied.to_loads_w;
        self.rates[source.lost] += supplied.lost_w;
    }

    /// What a source gives in the piece.
    #[inline]
    pub(crate) fn supplied(&self, source: Source) -> Supplied {
        Supplied {
            given_w: self.rates[source.given],
            to_pump_w: self.rates[source.to_pump],
            to_loads_w: self.rates[source.to_loads],
            lost_w: self.rates[source.lost],
        }
    }

    /// Adds to a loss \[W\].
    #[inline]
    pub(crate) fn lose(&mut self, cause: LossCause, power_w: f64) {
        self[Flow::Lost(cause)] += power_w;
    }

    /// Books what limits cut off, as the mean over some steps.
    pub(crate) fn lose_each(&mut self, cuts_w: &ByCause<LossCause>, steps: &Steps) {
        for (cause, stream) in cuts_w.iter() {
            self.lose(cause, stream.mean(steps));
        }
    }
}

/// Receives every piece of the last pass through the year.
pub trait Recorder {
    /// Whether it looks at the pieces; a year is not run again for one that does not.
    const WATCHES: bool = true;

    /// Takes a piece of a step. For a recorder that does not watch, a piece may also cover steps that follow.
    fn piece(&mut self, step: usize, piece: &Piece);
}

/// Ignores every piece.
#[derive(Debug, Clone, Copy, Default)]
pub struct NoRecorder;

impl Recorder for NoRecorder {
    const WATCHES: bool = false;

    #[inline]
    fn piece(&mut self, _step: usize, _piece: &Piece) {}
}
