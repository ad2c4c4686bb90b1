//! The well: its standing level below the well head, and the drawdown caused by pumping.

use daylift_units::fields::well as fields;
use daylift_units::{Fault, Month, Monthly, fingerprint};

use crate::check::Faults;

#[cfg(test)]
mod tests;

/// Well data as read from the plant file; with both loss coefficients 0 it is a river or dam.
#[derive(Debug, Clone, PartialEq)]
pub struct WellSheet {
    /// Standing water level below the well head in each month \[m\].
    pub static_level_m: Monthly<f64>,
    /// Aquifer loss B \[s/m²\].
    pub aquifer_loss_s_m2: f64,
    /// Well loss C \[s²/m⁵\].
    pub well_loss_s2_m5: f64,
    /// Depth of the pump's intake below the well head \[m\].
    pub intake_depth_m: Option<f64>,
    /// Water to keep above the intake while pumping \[m\].
    pub intake_margin_m: f64,
}

fingerprint!(WellSheet {
    static_level_m,
    aquifer_loss_s_m2,
    well_loss_s2_m5,
    intake_depth_m,
    intake_margin_m
});

/// A checked well.
#[derive(Debug, Clone, PartialEq)]
pub struct Well {
    sheet: WellSheet,
}

fingerprint!(Well { sheet });

impl Well {
    /// Checks the data of a well.
    ///
    /// # Errors
    /// Faults for levels, losses, depth or margin that are negative, not finite or out of range, for an intake depth less
    /// than the margin, and for an intake that is too high to take water in any month.
    pub fn new(sheet: WellSheet) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::default();
        for (month, &level_m) in &sheet.static_level_m {
            faults.field_of(&fields::STATIC_LEVEL, level_m, &format!("in {}", month.name()));
        }
        faults.field(&fields::AQUIFER_LOSS, sheet.aquifer_loss_s_m2);
        faults.field(&fields::WELL_LOSS, sheet.well_loss_s2_m5);
        faults.field(&fields::INTAKE_MARGIN, sheet.intake_margin_m);
        if let Some(depth_m) = sheet.intake_depth_m {
            faults.field(&fields::INTAKE_DEPTH, depth_m);
            if depth_m < sheet.intake_margin_m {
                faults.push(Fault::new(
                    fields::INTAKE_DEPTH.key,
                    fields::INTAKE_DEPTH.quantity,
                    fields::INTAKE_DEPTH.print_si(depth_m),
                    format!(
                        "not less than the minimum water depth above it, {}",
                        fields::INTAKE_MARGIN.print_si(sheet.intake_margin_m)
                    ),
                    "correct `intake_depth_m` or `intake_margin_m`",
                ));
            } else {
                check_intake(&sheet, depth_m, &mut faults);
            }
        }
        faults.or(|| Self { sheet })
    }

    /// The data of the well.
    #[must_use]
    pub fn sheet(&self) -> &WellSheet {
        &self.sheet
    }

    /// Standing level below the well head in a month \[m\].
    #[must_use]
    pub fn static_level_m(&self, month: Month) -> f64 {
        self.sheet.static_level_m[month]
    }

    /// Drawdown \[m\] at a flow \[m³/s\]: s = B·Q + C·Q².
    ///
    /// B is the aquifer loss \[s/m²\], C the well loss \[s²/m⁵\]. The level has settled, as at the end of a step in a
    /// step test. Jacob (1947), Trans. ASCE 112.
    ///
    /// ```
    /// // Worked by hand: B = 0.08 h/m², C = 0.0012 h²/m⁵ and 30 m³/h: 0.08·30 + 0.0012·900 = 3.48 m.
    /// # use daylift_lift::{Well, WellSheet};
    /// # use daylift_units::Monthly;
    /// # let well = Well::new(WellSheet { static_level_m: Monthly::from_array([20.0; 12]), aquifer_loss_s_m2: 0.08 * 3600.0,
    /// #     well_loss_s2_m5: 0.0012 * 3600.0 * 3600.0, intake_depth_m: None, intake_margin_m: 2.0 }).unwrap();
    /// assert!((well.drawdown_m(30.0 / 3600.0) - 3.48).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn drawdown_m(&self, flow_m3_s: f64) -> f64 {
        let flow_m3_s = flow_m3_s.max(0.0);
        flow_m3_s * (self.sheet.aquifer_loss_s_m2 + self.sheet.well_loss_s2_m5 * flow_m3_s)
    }

    /// Maximum flow \[m³/s\] that keeps the pumped level above the intake by the margin.
    ///
    /// 0 when even the standing level is too deep, as it may be in some months; `None` without an intake depth, or when pumping causes no drawdown.
    /// Solves B·Q + C·Q² = s for Q in a form without cancellation when C is small.
    #[must_use]
    pub fn flow_limit_m3_s(&self, month: Month) -> Option<f64> {
        let allowed_m = self.sheet.intake_depth_m? - self.sheet.intake_margin_m - self.static_level_m(month);
        if allowed_m <= 0.0 {
            return Some(0.0);
        }
        let (b, c) = (self.sheet.aquifer_loss_s_m2, self.sheet.well_loss_s2_m5);
        let denominator = b + (b * b + 4.0 * c * allowed_m).sqrt();
        (denominator > 0.0).then(|| 2.0 * allowed_m / denominator)
    }
}

/// A fault if the standing water is too deep for the intake in every month; it names the month with the highest water.
fn check_intake(sheet: &WellSheet, depth_m: f64, faults: &mut Faults) {
    let level_m = &sheet.static_level_m;
    let highest = Month::ALL.into_iter().fold(Month::January, |best, month| {
        if level_m[month] < level_m[best] { month } else { best }
    });
    let needed_m = level_m[highest] + sheet.intake_margin_m;
    if depth_m > needed_m {
        return;
    }
    faults.push(Fault::new(
        fields::INTAKE_DEPTH.key,
        fields::INTAKE_DEPTH.quantity,
        format!(
            "{}; standing water {} in {} plus margin {}: no water can be pumped in any month",
            fields::INTAKE_DEPTH.print_si(depth_m),
            fields::STATIC_LEVEL.print_si(level_m[highest]),
            highest.name(),
            fields::INTAKE_MARGIN.print_si(sheet.intake_margin_m)
        ),
        format!("more than {}", fields::INTAKE_DEPTH.print_si(needed_m)),
        "lower the intake, or correct `static_level_m` or `intake_margin_m`",
    ));
}
