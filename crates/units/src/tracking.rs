//! What a device loses because it does not stay at the maximum power of its strings.
//!
//! It lives here because the inverter (`array`) and the drive (`lift`) both use it, and neither crate may import the
//! other.

use crate::fingerprint;

/// The share of the maximum power that a device does not reach: one value in steady sun, another under broken cloud, and
/// linear in between.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct TrackingLoss {
    steady: f64,
    broken: f64,
}

fingerprint!(TrackingLoss { steady, broken });

impl TrackingLoss {
    /// A device that reaches all of the maximum power.
    pub const NONE: Self = Self {
        steady: 0.0,
        broken: 0.0,
    };

    /// From the shares lost in steady sun and under broken cloud, fractions. Who makes it has checked them.
    #[must_use]
    pub const fn new(steady: f64, broken: f64) -> Self {
        Self { steady, broken }
    }

    /// The share lost; `broken_cloud` goes from 0 in steady sun to 1 under broken cloud.
    ///
    /// ```
    /// // 3 % in steady sun and 6 % under broken cloud: 4.5 % half way.
    /// let loss = daylift_units::TrackingLoss::new(0.03, 0.06);
    /// assert!((loss.share(0.5) - 0.045).abs() < 1e-15);
    /// ```
    #[must_use]
    pub fn share(&self, broken_cloud: f64) -> f64 {
        self.steady + broken_cloud * (self.broken - self.steady)
    }

    /// The power \[W\] that is left of a maximum power \[W\].
    #[must_use]
    pub fn left_w(&self, max_power_w: f64, broken_cloud: f64) -> f64 {
        max_power_w * (1.0 - self.share(broken_cloud))
    }

    /// Whether the loss depends on the clouds.
    #[must_use]
    #[expect(clippy::float_cmp, reason = "two given values, not computed ones")]
    pub fn depends_on_clouds(&self) -> bool {
        self.steady != self.broken
    }
}
