//! What an arrangement may have beside grid, array and drive, as the plant file chooses it.

use daylift_grid::{Battery, GeneratingSet};
use daylift_lift::Tank;
use daylift_units::{Hourly, fingerprint, ids};

use crate::arrangement::Wiring;
use crate::hours::DayHours;

/// How mains helps on a drive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum InputKind {
    /// The drive is on the array or on mains.
    Switch {
        /// Share of the hour's wanted speed below which it is moved to mains.
        takes_over_below: f64,
    },
    /// The grid's rectifier feeds the drive's bus beside the array.
    Blend {
        /// Voltage between phases at the second input \[V\].
        line_voltage_v: f64,
    },
}

fingerprint!(enum InputKind { Switch { takes_over_below }, Blend { line_voltage_v } });

/// Mains on the drives' second input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SecondInput {
    /// How it helps.
    pub kind: InputKind,
    /// Hours in which it may.
    pub hours: DayHours,
    /// Speed that it keeps up in each hour of the day, a fraction of the wanted frequency.
    pub wanted_speed: Hourly<f64>,
}

fingerprint!(SecondInput {
    kind,
    hours,
    wanted_speed
});

/// Which of the farm's loads a generating set feeds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoadsFed {
    /// None.
    None,
    /// Those that are backed up.
    BackedUp,
    /// All.
    All,
}

ids!(LoadsFed { None = "none", BackedUp = "backed-up", All = "all" });

/// A generating set and how it is used.
#[derive(Debug, Clone, PartialEq)]
pub struct GeneratorUse {
    /// The set.
    pub set: GeneratingSet,
    /// Wirings beside which it gets a row, `grid-only` among them.
    pub beside: Vec<Wiring>,
    /// From the loss of the grid until it bears load \[s\].
    pub start_delay_s: f64,
    /// Hours in which it may run: all when it starts by itself.
    pub hours: DayHours,
    /// Loads that it feeds.
    pub loads: LoadsFed,
    /// Whether it pumps only when the tank is below its low mark.
    pub pumps_only_when_low: bool,
    /// Price of fuel \[money/m³\].
    pub fuel_price_per_m3: f64,
    /// Yearly rise of that price, a fraction.
    pub fuel_escalation: f64,
    /// Upkeep for each running second.
    pub upkeep_per_s: f64,
}

/// A bigger tank, filled at other hours.
#[derive(Debug, Clone, PartialEq)]
pub struct NightTank {
    /// The tank, its marks the same fractions as those of the plant's.
    pub tank: Tank,
    /// Hours of pumping on mains.
    pub hours: DayHours,
    /// Wirings beside which it gets a row.
    pub beside: Vec<Wiring>,
}

/// All that may stand beside.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Beside {
    /// Mains on the drives' second input.
    pub second_input: Option<SecondInput>,
    /// Battery.
    pub battery: Option<Battery>,
    /// Generating set.
    pub generator: Option<GeneratorUse>,
    /// Bigger tank.
    pub night_tank: Option<NightTank>,
}
