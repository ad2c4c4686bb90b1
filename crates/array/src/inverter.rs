//! Grid-tied inverter.

use daylift_units::fields::inverter;
use daylift_units::fingerprint;
use daylift_units::{Fault, LossCurve, TrackingLoss};

use crate::cable::CableLoss;
use crate::limits::InverterLimits;

#[cfg(test)]
mod tests;

/// Datasheet of a grid-tied inverter, and the AC cable after it.
#[derive(Debug, Clone, PartialEq)]
pub struct InverterSheet {
    /// Name as printed on the datasheet.
    pub name: String,
    /// Rated AC output \[W\].
    pub rated_w: f64,
    /// Part-load efficiencies: pairs (AC output over rated output, efficiency), fractions.
    pub efficiency_points: Vec<(f64, f64)>,
    /// Offered DC power at which it starts to feed \[W\].
    pub start_w: f64,
    /// Lower limit of the MPPT window \[V\].
    pub mppt_min_v: f64,
    /// Upper limit of the MPPT window \[V\].
    pub mppt_max_v: f64,
    /// Fraction of rated AC power that the cable between inverter and bus loses at rated power.
    pub ac_cable_loss: f64,
}

fingerprint!(InverterSheet {
    name,
    rated_w,
    efficiency_points,
    start_w,
    mppt_min_v,
    mppt_max_v,
    ac_cable_loss
});

impl InverterSheet {
    fn faults(&self) -> Vec<Fault> {
        let checks = [
            inverter::RATED.check_si(self.rated_w),
            inverter::START.check_si(self.start_w),
            inverter::MPPT_MIN.check_si(self.mppt_min_v),
            inverter::MPPT_MAX.check_si(self.mppt_max_v),
            inverter::AC_CABLE_LOSS.check_si(self.ac_cable_loss),
        ];
        let mut faults: Vec<Fault> = checks.into_iter().filter_map(Result::err).collect();
        if faults.is_empty() && self.start_w > 0.5 * self.rated_w {
            faults.push(Fault::new(
                inverter::START.key,
                inverter::START.quantity,
                inverter::START.print_si(self.start_w),
                "up to half of the rated output",
                "copy it from the inverter's datasheet; usually 0.2% to 2% of the rated output",
            ));
        }
        if faults.is_empty() && self.mppt_max_v <= self.mppt_min_v {
            faults.push(Fault::new(
                inverter::MPPT_MIN.key,
                "MPPT window of the inverter",
                format!("{} to {} V", self.mppt_min_v, self.mppt_max_v),
                "a lower limit below the upper limit",
                "are the two limits swapped?",
            ));
        }
        faults
    }

    fn fit_losses(&self) -> Result<LossCurve, Vec<Fault>> {
        let points = &self.efficiency_points;
        let efficiencies: Vec<f64> = points.iter().map(|point| point.1).collect();
        match inverter::EFFICIENCY.given_as_fractions(&efficiencies, 0.01) {
            Some(fault) => Err(vec![fault]),
            None => LossCurve::fit(
                self.rated_w,
                points,
                inverter::EFFICIENCY.key,
                "efficiency of the inverter",
            ),
        }
    }
}

/// What an inverter loses to its tracking and to heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InverterLosses {
    /// Share of the maximum power that it does not reach in steady sun.
    pub tracking: f64,
    /// The same under broken cloud.
    pub tracking_broken: f64,
    /// Share of the rated output that it loses for each kelvin above `derating_c` \[1/K\].
    pub derating_per_k: f64,
    /// Air temperature above which it gives less \[°C\].
    pub derating_c: f64,
}

impl InverterLosses {
    fn faults(&self) -> Vec<Fault> {
        let checks = [
            inverter::TRACKING.check_si(self.tracking),
            inverter::TRACKING_BROKEN.check_si(self.tracking_broken),
            inverter::HEAT_DERATING.check_si(self.derating_per_k),
            inverter::DERATING_TEMPERATURE.check_si(self.derating_c),
        ];
        checks.into_iter().filter_map(Result::err).collect()
    }
}

/// How the rated output falls with the temperature of the air.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Heat {
    per_k: f64,
    above_c: f64,
}

fingerprint!(Heat { per_k, above_c });

/// A grid-tied inverter. Its loss is P_r·(p0 + p1·x + p2·x²), x the AC output over the rated output P_r, fitted to the
/// datasheet's efficiencies. The cable after it loses k·P²/P_r.
#[derive(Debug, Clone, PartialEq)]
pub struct Inverter {
    sheet: InverterSheet,
    losses: LossCurve,
    cable: CableLoss,
    limits: InverterLimits,
    tracking: TrackingLoss,
    heat: Heat,
}

fingerprint!(Inverter { sheet, cable, limits, tracking, heat } derived { losses });

impl Inverter {
    /// Fits the losses to a datasheet.
    ///
    /// # Errors
    /// All faults of the datasheet and of its efficiencies.
    pub fn new(sheet: InverterSheet) -> Result<Self, Vec<Fault>> {
        let mut faults = sheet.faults();
        match sheet.fit_losses() {
            Ok(losses) if faults.is_empty() => Ok(Self {
                cable: CableLoss::new(sheet.ac_cable_loss, sheet.rated_w),
                sheet,
                losses,
                limits: InverterLimits::default(),
                tracking: TrackingLoss::NONE,
                heat: Heat {
                    per_k: 0.0,
                    above_c: 0.0,
                },
            }),
            Ok(_) => Err(faults),
            Err(more) => {
                faults.extend(more);
                Err(faults)
            }
        }
    }

    /// The same inverter with the limits of its DC side, which are all unknown before.
    ///
    /// # Errors
    /// A fault for each limit outside its range, or in conflict with the window, the rating or another limit.
    pub fn with_limits(self, limits: InverterLimits) -> Result<Self, Vec<Fault>> {
        let faults = limits.faults(self.sheet.mppt_max_v, self.sheet.rated_w);
        if faults.is_empty() {
            Ok(Self { limits, ..self })
        } else {
            Err(faults)
        }
    }

    /// The same inverter with what it loses to its tracking and to heat; before, it loses nothing.
    ///
    /// # Errors
    /// A fault for each value outside its range.
    pub fn with_losses(self, losses: InverterLosses) -> Result<Self, Vec<Fault>> {
        let faults = losses.faults();
        if faults.is_empty() {
            Ok(Self {
                tracking: TrackingLoss::new(losses.tracking, losses.tracking_broken),
                heat: Heat {
                    per_k: losses.derating_per_k,
                    above_c: losses.derating_c,
                },
                ..self
            })
        } else {
            Err(faults)
        }
    }

    /// What it misses of the maximum power of its strings.
    #[must_use]
    pub fn tracking(&self) -> TrackingLoss {
        self.tracking
    }

    /// Limits of the DC side.
    #[must_use]
    pub fn limits(&self) -> &InverterLimits {
        &self.limits
    }

    /// The datasheet.
    #[must_use]
    pub fn sheet(&self) -> &InverterSheet {
        &self.sheet
    }

    /// The fitted losses.
    #[must_use]
    pub fn losses(&self) -> &LossCurve {
        &self.losses
    }

    /// Rated AC output \[W\].
    #[must_use]
    pub fn rated_w(&self) -> f64 {
        self.sheet.rated_w
    }

    /// Whether it feeds when `offered_w` \[W\] is available at its DC terminals at maximum power.
    #[must_use]
    pub fn feeds(&self, offered_w: f64) -> bool {
        offered_w > 0.0 && offered_w >= self.sheet.start_w
    }

    /// AC output \[W\] for a DC input \[W\], at most the rated output. Whether it feeds at all is decided by
    /// [`Inverter::feeds`].
    #[must_use]
    pub fn ac_w(&self, dc_w: f64) -> f64 {
        self.losses.output_w(dc_w).min(self.sheet.rated_w)
    }

    /// DC input \[W\] for an AC output \[W\], limited to rated output; 0 without output (no standby consumption).
    #[must_use]
    pub fn dc_for_ac_w(&self, ac_w: f64) -> f64 {
        if ac_w <= 0.0 {
            return 0.0;
        }
        self.losses.input_w(ac_w.min(self.sheet.rated_w))
    }

    /// The greatest AC output \[W\] at an air temperature: the rated output falls by a share for each kelvin above the
    /// derating temperature, to 0 at least.
    #[must_use]
    pub fn greatest_ac_w(&self, air_c: f64) -> f64 {
        let above_k = (air_c - self.heat.above_c).max(0.0);
        self.sheet.rated_w * (1.0 - self.heat.per_k * above_k).max(0.0)
    }

    /// DC input at the greatest AC output at an air temperature \[W\]; the inverter takes no more.
    #[must_use]
    pub fn clip_dc_at_w(&self, air_c: f64) -> f64 {
        self.dc_for_ac_w(self.greatest_ac_w(air_c))
    }

    /// The AC cable between inverter and bus.
    #[must_use]
    pub fn cable(&self) -> CableLoss {
        self.cable
    }

    /// Power at the bus \[W\] for an AC output of the inverter.
    #[must_use]
    pub fn bus_w(&self, ac_w: f64) -> f64 {
        self.cable.delivered_w(ac_w.min(self.sheet.rated_w))
    }

    /// AC output \[W\] for a power at the bus, at most the rated output.
    #[must_use]
    pub fn ac_for_bus_w(&self, bus_w: f64) -> f64 {
        self.cable.sent_w(bus_w).min(self.sheet.rated_w)
    }
}
