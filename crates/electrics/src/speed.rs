//! The speed of a pump on its drive at a given irradiance.

use daylift_array::{OnBus, bus_v_at_power, greatest_delivered_w, greatest_frequency_hz};
use daylift_lift::{Drive, PumpSet};
use daylift_units::{Month, TrackingLoss, root};

/// What limits the speed of a pump.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpeedLimit {
    /// Nothing: it runs at the maximum speed that pump, well and drive allow.
    Nothing,
    /// The array's power.
    Power,
    /// The bus voltage that the strings can maintain.
    Voltage,
}

impl SpeedLimit {
    /// Id in results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Nothing => "nothing",
            Self::Power => "power",
            Self::Voltage => "voltage",
        }
    }
}

/// A pump on its drive at one irradiance and cell temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Speed {
    /// Frequency \[Hz\]; 0 when the pump does not run.
    pub hz: f64,
    /// What limits it.
    pub limit: SpeedLimit,
    /// Bus voltage \[V\].
    pub bus_v: f64,
    /// DC input power of the drive \[W\].
    pub dc_w: f64,
}

/// What pump, well and drive allow in the month of the largest static head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowed {
    /// That month.
    pub month: Month,
    /// Maximum frequency \[Hz\]: the lowest of the wanted frequency, the well's limit and the drive's limit.
    pub max_hz: f64,
    /// Start frequency \[Hz\].
    pub start_hz: f64,
    /// DC input power of the drive at the maximum frequency \[W\].
    pub max_w: f64,
}

impl Allowed {
    /// The limits for a pump set; `None` without a drive.
    #[must_use]
    pub fn of(set: &PumpSet) -> Option<Self> {
        let lift_m = |month: &Month| set.system().static_head_m(*month);
        let month = Month::ALL.into_iter().max_by(|a, b| lift_m(a).total_cmp(&lift_m(b)))?;
        let limits = [set.well_limit_hz(month), set.drive_limit_hz(month)];
        let max_hz = limits.into_iter().flatten().fold(set.wanted_hz(), f64::min);
        Some(Self {
            month,
            max_hz,
            start_hz: set.start_hz(month),
            max_w: set.dc_w(month, max_hz)?,
        })
    }
}

/// Power \[W\] that strings deliver to the drive when it misses a share of their maximum power. They all have the same sun,
/// so that their maximum powers add up; the loss of the cables falls with the square of the power.
fn tracked_delivered_w(strings: &[OnBus], missed: f64) -> f64 {
    let delivered_w = greatest_delivered_w(strings);
    if missed <= 0.0 {
        return delivered_w;
    }
    let sent_w: f64 = strings.iter().map(|s| s.peak.power_w).sum();
    let kept = 1.0 - missed;
    kept * sent_w - kept * kept * (sent_w - delivered_w)
}

/// The speed at which strings on the drive's bus run a pump set; `None` without a drive.
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
        max_hz,
        start_hz,
        ..
    } = *allowed;
    if start_hz > max_hz {
        return Some(standing(SpeedLimit::Nothing));
    }
    // Below its start frequency the pump does not run. Using the power at the start there avoids a jump in the function.
    let power_w = |hz: f64| set.dc_w(month, hz.max(start_hz)).unwrap_or(f64::INFINITY);
    let tracking = set.drive().map_or(TrackingLoss::NONE, Drive::tracking);
    let given_w = tracked_delivered_w(strings, tracking.share(0.0));
    if power_w(start_hz) > given_w {
        return Some(standing(SpeedLimit::Power));
    }
    let by_power_hz = if power_w(max_hz) <= given_w {
        max_hz
    } else {
        let scale_w = given_w.max(1.0);
        root::bracketed(start_hz, max_hz, |hz| (power_w(hz) - given_w) / scale_w).unwrap_or(start_hz)
    };
    let hz = greatest_frequency_hz(strings, per_hz, by_power_hz, power_w);
    if hz < start_hz {
        return Some(standing(SpeedLimit::Voltage));
    }
    let limit = if hz < by_power_hz {
        SpeedLimit::Voltage
    } else if by_power_hz < max_hz {
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
