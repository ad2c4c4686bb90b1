//! The operating point of a set on its drive.

/// Operating point of the set at one frequency.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct MapPoint {
    /// Frequency \[Hz\]; 0 at rest.
    pub hz: f64,
    /// Input of the drive \[W\]: the sum of the three powers below.
    pub dc_w: f64,
    /// Power at the motor's terminals \[W\].
    pub motor_w: f64,
    /// Loss of motor cable and output filter \[W\].
    pub cable_w: f64,
    /// Loss of the drive \[W\].
    pub drive_loss_w: f64,
    /// Flow \[m³/s\].
    pub flow_m3_s: f64,
}

impl MapPoint {
    /// The set at rest: no power, no flow.
    pub const IDLE: MapPoint = MapPoint {
        hz: 0.0,
        dc_w: 0.0,
        motor_w: 0.0,
        cable_w: 0.0,
        drive_loss_w: 0.0,
        flow_m3_s: 0.0,
    };

    /// A point with the powers of motor, feed and drive \[W\].
    #[must_use]
    pub fn new(hz: f64, motor_w: f64, cable_w: f64, drive_loss_w: f64, flow_m3_s: f64) -> Self {
        Self {
            hz,
            dc_w: motor_w + cable_w + drive_loss_w,
            motor_w,
            cable_w,
            drive_loss_w,
            flow_m3_s,
        }
    }
}
