//! Demand: so much a day in each month, shared among the hours of the civil day.

use daylift_units::constants::{DAY_S, HOUR_S};
use daylift_units::fields::demand;
use daylift_units::fingerprint;
use daylift_units::{Fault, month};

use crate::check::Faults;

/// What is known of the demand.
#[derive(Debug, Clone, PartialEq)]
pub struct DemandSheet {
    /// Water wanted a day in each month \[m³\].
    pub daily_m3: [f64; 12],
    /// Weight of each hour of the civil day; only their proportions matter.
    pub hour_share: [f64; 24],
}

fingerprint!(DemandSheet { daily_m3, hour_share });

/// A checked demand; the shares add up to 1.
#[derive(Debug, Clone, PartialEq)]
pub struct Demand {
    sheet: DemandSheet,
}

fingerprint!(Demand { sheet });

impl Demand {
    /// A demand from what is known of it.
    ///
    /// # Errors
    /// Faults for a demand or share out of range, and for shares that are all nil.
    pub fn new(mut sheet: DemandSheet) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::default();
        for (i, &daily_m3) in sheet.daily_m3.iter().enumerate() {
            faults.field_of(&demand::DAILY, daily_m3 / DAY_S, &format!("in {}", month::name(i)));
        }
        for (hour, &share) in sheet.hour_share.iter().enumerate() {
            faults.field_of(&demand::HOUR_SHARE, share, &format!("from {hour}:00"));
        }
        let sum: f64 = sheet.hour_share.iter().sum();
        if faults.is_empty() && sum <= 0.0 {
            faults.push(Fault::new(
                "hour_share",
                "shares of the hours in the day's demand",
                "all 0",
                "at least one above 0",
                "give the hours in which water is used a share above 0",
            ));
        }
        faults.or(|| {
            for share in &mut sheet.hour_share {
                *share /= sum;
            }
            Self { sheet }
        })
    }

    /// Water wanted a day in a month \[m³\].
    #[must_use]
    pub fn daily_m3(&self, month: usize) -> f64 {
        self.sheet.daily_m3[month % 12]
    }

    /// Flow wanted \[m³/s\] in an hour of the civil day, 0 to 23, of a month.
    #[must_use]
    pub fn flow_m3_s(&self, month: usize, hour: usize) -> f64 {
        self.daily_m3(month) * self.sheet.hour_share[hour % 24] / HOUR_S
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn an_even_day_has_an_even_flow() {
        // 86.4 m³ a day are 1 L/s.
        let demand = Demand::new(DemandSheet {
            daily_m3: [86.4; 12],
            hour_share: [5.0; 24],
        })
        .unwrap();
        assert!((demand.flow_m3_s(11, 23) - 1e-3).abs() < 1e-15);
    }

    #[test]
    fn shares_that_are_all_nil_and_negative_demands_are_faults() {
        let nil = Demand::new(DemandSheet {
            daily_m3: [1.0; 12],
            hour_share: [0.0; 24],
        });
        assert_eq!(nil.unwrap_err()[0].key, "hour_share");
        let mut sheet = DemandSheet {
            daily_m3: [1.0; 12],
            hour_share: [1.0; 24],
        };
        sheet.daily_m3[4] = -1.0;
        sheet.hour_share[7] = f64::INFINITY;
        let faults = Demand::new(sheet).unwrap_err();
        assert!(faults[0].quantity.contains("May") && faults[1].quantity.contains("7:00"));
    }

    proptest! {
        #[test]
        fn the_hours_add_up_to_the_day(shares in prop::array::uniform24(0.001..10.0_f64), daily in 0.0..1e4_f64) {
            let demand = Demand::new(DemandSheet { daily_m3: [daily; 12], hour_share: shares }).unwrap();
            let day_m3: f64 = (0..24).map(|h| demand.flow_m3_s(0, h) * 3600.0).sum();
            prop_assert!((day_m3 - daily).abs() <= 1e-12 * daily);
        }
    }
}
