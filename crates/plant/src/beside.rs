//! Optional equipment in addition to grid, array and drive, as chosen in the plant file.

use daylift_grid::{Battery, Generator};
use daylift_lift::{Tank, rectified_v};
use daylift_units::{Hourly, fingerprint, ids};

use crate::arrangement::Wiring;
use crate::hours::DayHours;

/// How mains supports a drive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum InputKind {
    /// The drive is either on the array or on mains.
    Switch {
        /// Share of the hour's wanted speed below which the drive is moved to mains.
        takes_over_below: f64,
    },
    /// The grid's rectifier feeds the drive's bus together with the array.
    Blend {
        /// Voltage between phases at the second input \[V\].
        line_voltage_v: f64,
    },
}

impl InputKind {
    /// Voltage at which its rectifier holds the drive's bus \[V\]. The line of a switch has the voltage of the motor, which it
    /// would run directly.
    #[must_use]
    pub fn rectified_v(self, motor_voltage_v: f64) -> f64 {
        match self {
            Self::Switch { .. } => rectified_v(motor_voltage_v),
            Self::Blend { line_voltage_v } => rectified_v(line_voltage_v),
        }
    }
}

fingerprint!(enum InputKind { Switch { takes_over_below }, Blend { line_voltage_v } });

/// Mains on the drives' second input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SecondInput {
    /// How mains supports the drive.
    pub kind: InputKind,
    /// Hours in which mains may run the drive, if given.
    pub hours: Option<DayHours>,
    /// Minimum speed that mains maintains in each hour of the day, a fraction of the wanted frequency.
    pub wanted_speed: Hourly<f64>,
}

fingerprint!(SecondInput {
    kind,
    hours,
    wanted_speed
});

/// Which of the farm's loads a generator feeds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoadsFed {
    /// None.
    None,
    /// Loads with backup.
    BackedUp,
    /// All loads.
    All,
}

ids!(LoadsFed { None = "none", BackedUp = "backed-up", All = "all" });

/// A generator and how it is used.
#[derive(Debug, Clone, PartialEq)]
pub struct GeneratorUse {
    /// The generator.
    pub set: Generator,
    /// Wirings that get a row with this generator, possibly including `grid-only`.
    pub beside: Vec<Wiring>,
    /// From the loss of the grid until the set carries load \[s\].
    pub start_delay_s: f64,
    /// Hours in which it may run; all hours if it starts automatically.
    pub hours: DayHours,
    /// Loads that it feeds.
    pub loads: LoadsFed,
    /// Whether it pumps only when the tank is below its low mark.
    pub pumps_only_when_low: bool,
    /// Share of its wanted flow at or above which the sun alone runs a set on its drive, a fraction.
    pub sun_share: f64,
    /// Price of fuel \[money/m³\].
    pub fuel_price_per_m3: f64,
    /// Yearly rise of the fuel price, a fraction.
    pub fuel_escalation: f64,
    /// Upkeep per running second \[money/s\].
    pub upkeep_per_s: f64,
}

/// A bigger tank, filled at other hours.
#[derive(Debug, Clone, PartialEq)]
pub struct NightTank {
    /// The tank; its marks are the same fractions as in the plant's tank.
    pub tank: Tank,
    /// Hours of pumping on mains.
    pub hours: DayHours,
    /// Wirings that get a row with this tank.
    pub beside: Vec<Wiring>,
}

/// All optional equipment.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Beside {
    /// Mains on the drives' second input.
    pub second_input: Option<SecondInput>,
    /// Battery.
    pub battery: Option<Battery>,
    /// Generator.
    pub generator: Option<GeneratorUse>,
    /// Bigger tank.
    pub night_tank: Option<NightTank>,
}
