//! A set on its drive at one frequency, for every flux.
//!
//! The flux φ in the motor is a share of full flux at rated frequency. Above rated frequency a motor has full voltage
//! and no more, so there "full flux" is f0/f. A drive whose bus is too low reduces the flux further, to a share of that.

use daylift_units::LossCurve;

use crate::point::MapPoint;
use crate::motor::Motor;

/// Highest flux at a frequency ratio r, a share of the flux at rated frequency: 1, and 1/r above rated frequency.
pub(crate) fn full_flux(ratio: f64) -> f64 {
    if ratio > 1.0 { 1.0 / ratio } else { 1.0 }
}

/// A set on its drive at one frequency, for every flux.
///
/// With φ the share of the full flux, the motor takes P + F·φ² + V·φ⁻² (F, V its losses at full flux), and the feed loses
/// in proportion to the square of (that power ÷ φ).
///
/// ```
/// # use daylift_lift::{AtSpeed, MapPoint};
/// # use daylift_units::LossCurve;
/// // Worked by hand: 8 kW at the shaft, losses of 0.4 and 0.6 kW; a feed of 0.18 kW; a drive that loses 3 %.
/// let drive = LossCurve::fit(10e3, &[(1.0, 1.0 / 1.03)], "", "").unwrap();
/// let at = AtSpeed::new(MapPoint::new(50.0, 9000.0, 180.0, 275.4, 0.01), [400.0, 600.0], 1.0, &drive);
/// // Flux 0.92: 8000 + 400·0.8464 + 600/0.8464 = 9047.44 W; feed 180·(9047.44/9000)²/0.8464 = 214.91 W; drive 277.87 W.
/// let low = at.at(0.92);
/// assert!((low.motor_w - 9047.44).abs() < 0.01 && (low.cable_w - 214.91).abs() < 0.01);
/// assert!((low.dc_w - 9540.22).abs() < 0.01);
/// ```
#[derive(Debug, Clone, Copy)]
pub struct AtSpeed<'a> {
    full: MapPoint,
    fixed_w: f64,
    torque_w: f64,
    torque: f64,
    losses: &'a LossCurve,
}

impl<'a> AtSpeed<'a> {
    /// From the point at full flux, the motor's two losses there (fixed, and with torque) \[W\], its torque as a share of
    /// the rated torque, and the losses of the drive.
    #[must_use]
    pub fn new(full: MapPoint, [fixed_w, torque_w]: [f64; 2], torque: f64, losses: &'a LossCurve) -> Self {
        Self {
            full,
            fixed_w,
            torque_w,
            torque,
            losses,
        }
    }

    /// At full flux.
    #[must_use]
    pub fn full(&self) -> &MapPoint {
        &self.full
    }

    /// At a share of the full flux.
    #[must_use]
    pub fn at(&self, share: f64) -> MapPoint {
        let full = &self.full;
        if share >= 1.0 || full.motor_w <= 0.0 {
            return *full;
        }
        let square = share * share;
        let motor_w = full.motor_w + self.fixed_w * (square - 1.0) + self.torque_w * (1.0 / square - 1.0);
        let grown = motor_w / full.motor_w;
        let cable_w = full.cable_w * grown * grown / square;
        let loss_w = |motor_w: f64, cable_w: f64| self.losses.loss_w(motor_w + cable_w);
        let more_w = loss_w(motor_w, cable_w) - loss_w(full.motor_w, full.cable_w);
        MapPoint::new(full.hz, motor_w, cable_w, full.drive_loss_w + more_w, full.flow_m3_s)
    }

    /// Input of the drive at a share of the full flux \[W\].
    #[must_use]
    pub fn input_w(&self, share: f64) -> f64 {
        self.at(share).dc_w
    }

    /// The lowest share of the full flux that the drive may set: not below `least`, and such that the motor's current
    /// stays within `most` (a share of its rated current), where that is known. 1 where only full flux is possible.
    #[must_use]
    pub fn least_share(&self, least: f64, most: Option<f64>, ratio: f64) -> f64 {
        let by_current = most.and_then(|most| Some(Motor::least_flux(self.torque, most)? / full_flux(ratio)));
        let by_current = by_current.unwrap_or(if most.is_some() { 1.0 } else { 0.0 });
        least.max(by_current).min(1.0)
    }
}
