//! How a pump set is fitted: motor cable, output filter, harmonics, least flow and the place.

use daylift_units::fields::pump_set as fields;
use daylift_units::fingerprint;

use crate::check::Faults;

/// A filter between drive and motor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Filter {
    /// No filter.
    None,
    /// A filter that limits the slope of the voltage.
    DvDt,
    /// A filter that makes the voltage a sine wave.
    Sine,
}

daylift_units::ids!(Filter { None = "none", DvDt = "dv-dt", Sine = "sine" });
fingerprint!(by Hash: Filter);

impl Filter {
    /// Loss at rated shaft power, as a fraction of the power at the motor's terminals (usual practice, no source).
    #[must_use]
    pub const fn usual_loss(self) -> f64 {
        match self {
            Self::None => 0.0,
            Self::DvDt => 0.003,
            Self::Sine => 0.01,
        }
    }

    /// Voltage drop, a fraction of the motor's voltage (usual practice, no source).
    #[must_use]
    pub const fn usual_drop(self) -> f64 {
        match self {
            Self::None => 0.0,
            Self::DvDt => 0.015,
            Self::Sine => 0.05,
        }
    }

    /// Extra losses of a motor on a drive with this filter, as a fraction of its losses on mains: 3 % with a sine filter
    /// (usual practice, no source), else 15 % up to 90 kW rated and 25 % above (IEC 60034-30-2, from memory).
    ///
    /// ```
    /// use daylift_lift::Filter;
    /// assert!((Filter::Sine.usual_harmonic_loss(110e3) - 0.03).abs() < 1e-12);
    /// assert!((Filter::DvDt.usual_harmonic_loss(90e3) - 0.15).abs() < 1e-12);
    /// assert!((Filter::None.usual_harmonic_loss(110e3) - 0.25).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn usual_harmonic_loss(self, motor_rated_w: f64) -> f64 {
        match self {
            Self::Sine => 0.03,
            Self::None | Self::DvDt if motor_rated_w <= 90e3 => 0.15,
            Self::None | Self::DvDt => 0.25,
        }
    }
}

/// How a pump set is fitted in its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetSheet {
    /// Loss of the motor cable at rated shaft power, a fraction of the power at the motor's terminals.
    pub motor_cable_loss: f64,
    /// Wanted frequency \[Hz\]; the maximum frequency when `None`.
    pub wanted_frequency_hz: Option<f64>,
    /// Filter at the drive's output.
    pub filter: Filter,
    /// Loss of the filter at rated shaft power, a fraction of the power at the motor's terminals; usual when `None`.
    pub filter_loss: Option<f64>,
    /// Voltage drop of the filter, a fraction; usual when `None`.
    pub filter_drop: Option<f64>,
    /// Extra losses of the motor on the drive, a fraction of those on mains; usual when `None`.
    pub harmonic_loss: Option<f64>,
    /// Least flow of the pump, a fraction of that of its best efficiency at the speed of the moment.
    pub least_flow: f64,
    /// Altitude of the drive above sea level \[m\].
    pub altitude_m: f64,
}

fingerprint!(SetSheet {
    motor_cable_loss,
    wanted_frequency_hz,
    filter,
    filter_loss,
    filter_drop,
    harmonic_loss,
    least_flow,
    altitude_m
});

impl SetSheet {
    /// Nothing but a motor cable: no filter, no harmonics, no least flow, at sea level.
    #[must_use]
    pub const fn plain(motor_cable_loss: f64, wanted_frequency_hz: Option<f64>) -> Self {
        Self {
            motor_cable_loss,
            wanted_frequency_hz,
            filter: Filter::None,
            filter_loss: None,
            filter_drop: None,
            harmonic_loss: Some(0.0),
            least_flow: 0.0,
            altitude_m: 0.0,
        }
    }

    /// Loss of the filter at rated shaft power, a fraction.
    #[must_use]
    pub fn filter_loss(&self) -> f64 {
        self.filter_loss.unwrap_or(self.filter.usual_loss())
    }

    /// Voltage drop of the filter, a fraction.
    #[must_use]
    pub fn filter_drop(&self) -> f64 {
        self.filter_drop.unwrap_or(self.filter.usual_drop())
    }

    pub(crate) fn check(&self, faults: &mut Faults) {
        faults.field(&fields::MOTOR_CABLE_LOSS, self.motor_cable_loss);
        faults.field(&fields::LEAST_FLOW, self.least_flow);
        let given = [
            (&fields::FILTER_LOSS, self.filter_loss),
            (&fields::FILTER_DROP, self.filter_drop),
            (&fields::HARMONIC_LOSS, self.harmonic_loss),
        ];
        for (field, value) in given {
            if let Some(value) = value {
                faults.field(field, value);
            }
        }
    }
}
