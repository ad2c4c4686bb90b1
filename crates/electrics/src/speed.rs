//! The speed that a sun gives a pump on its drive.

use daylift_array::{OnBus, bus_v_at_power, greatest_delivered_w, greatest_frequency_hz};
use daylift_lift::PumpSet;
use daylift_units::{Month, root};

/// What keeps a pump from more speed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpeedLimit {
    /// Nothing: it has the speed that pump, well and drive allow.
    Nothing,
    /// The sun's power.
    Power,
    /// The bus voltage.
    Voltage,
}

impl SpeedLimit {
    /// Name in results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Nothing => "nothing",
            Self::Power => "power",
            Self::Voltage => "voltage",
        }
    }
}

/// A pump on its drive in one sun.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Speed {
    /// Frequency \[Hz\]; 0 when it stands.
    pub hz: f64,
    /// What keeps it from more.
    pub limit: SpeedLimit,
    /// Voltage at which the bus stands \[V\].
    pub bus_v: f64,
    /// DC input of the drive \[W\].
    pub dc_w: f64,
}

/// What pump, well and drive allow in the month of the deepest water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowed {
    /// That month.
    pub month: Month,
    /// Greatest frequency: the least of the wanted one, the well's and the drive's limit \[Hz\].
    pub greatest_hz: f64,
    /// Start frequency \[Hz\].
    pub start_hz: f64,
    /// DC input of the drive at the greatest \[W\].
    pub greatest_w: f64,
}

impl Allowed {
    /// Of a set with a drive; `None` without one.
    #[must_use]
    pub fn of(set: &PumpSet) -> Option<Self> {
        let lift_m = |month: &Month| set.system().static_head_m(*month);
        let month = Month::ALL.into_iter().max_by(|a, b| lift_m(a).total_cmp(&lift_m(b)))?;
        let limits = [set.well_limit_hz(month), set.drive_limit_hz(month)];
        let greatest_hz = limits.into_iter().flatten().fold(set.wanted_hz(), f64::min);
        Some(Self {
            month,
            greatest_hz,
            start_hz: set.start_hz(month),
            greatest_w: set.dc_w(month, greatest_hz)?,
        })
    }
}

/// The speed that strings on the drive's bus give a set; `None` without a drive.
#[must_use]
pub fn speed(set: &PumpSet, allowed: &Allowed, strings: &[OnBus]) -> Option<Speed> {
    let per_hz = set.bus_v_per_hz()?;
    let standing = |limit| Speed {
        hz: 0.0,
        limit,
        bus_v: bus_v_at_power(strings, 0.0),
        dc_w: 0.0,
    };
    let Allowed {
        month,
        greatest_hz,
        start_hz,
        ..
    } = *allowed;
    if start_hz > greatest_hz {
        return Some(standing(SpeedLimit::Nothing));
    }
    // Below its start the pump would not turn; its start's power keeps the rule free of a jump.
    let power_w = |hz: f64| set.dc_w(month, hz.max(start_hz)).unwrap_or(f64::INFINITY);
    let given_w = greatest_delivered_w(strings);
    if power_w(start_hz) > given_w {
        return Some(standing(SpeedLimit::Power));
    }
    let by_power_hz = if power_w(greatest_hz) <= given_w {
        greatest_hz
    } else {
        let scale_w = given_w.max(1.0);
        root::bracketed(start_hz, greatest_hz, |hz| (power_w(hz) - given_w) / scale_w).unwrap_or(start_hz)
    };
    let hz = greatest_frequency_hz(strings, per_hz, by_power_hz, power_w);
    if hz < start_hz {
        return Some(standing(SpeedLimit::Voltage));
    }
    let limit = if hz < by_power_hz {
        SpeedLimit::Voltage
    } else if by_power_hz < greatest_hz {
        SpeedLimit::Power
    } else {
        SpeedLimit::Nothing
    };
    let dc_w = power_w(hz);
    Some(Speed {
        hz,
        limit,
        bus_v: bus_v_at_power(strings, dc_w),
        dc_w,
    })
}
