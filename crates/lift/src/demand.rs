//! Water demand: an amount per day for each month, shared among the hours of the civil day.

use daylift_units::constants::{DAY_S, HOUR_S};
use daylift_units::fields::demand;
use daylift_units::{Fault, Hour, Hourly, Month, Monthly, fingerprint};

use crate::check::Faults;

/// Demand data as read from the plant file.
#[derive(Debug, Clone, PartialEq)]
pub struct DemandSheet {
    /// Water demand per day in each month \[m³\].
    pub daily_m3: Monthly<f64>,
    /// Weight of each hour of the civil day; only the proportions matter.
    pub hour_share: Hourly<f64>,
}

fingerprint!(DemandSheet { daily_m3, hour_share });

/// A checked demand; the shares add up to 1.
#[derive(Debug, Clone, PartialEq)]
pub struct Demand {
    sheet: DemandSheet,
}

fingerprint!(Demand { sheet });

impl Demand {
    /// Checks the data of a demand.
    ///
    /// # Errors
    /// Faults for a demand or share out of range, and for shares that are all 0.
    pub fn new(mut sheet: DemandSheet) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::default();
        for (month, &daily_m3) in &sheet.daily_m3 {
            faults.field_of(&demand::DAILY, daily_m3 / DAY_S, &format!("in {}", month.name()));
        }
        for (hour, &share) in &sheet.hour_share {
            faults.field_of(&demand::HOUR_SHARE, share, &format!("from {}:00", hour.begins_h()));
        }
        let sum: f64 = sheet.hour_share.values().sum();
        if faults.is_empty() && sum <= 0.0 {
            faults.push(Fault::new(
                "hour_share",
                "share of the daily demand in each hour",
                "all 0",
                "at least one above 0",
                "give the hours in which water is used a share above 0",
            ));
        }
        faults.or(|| {
            for share in sheet.hour_share.values_mut() {
                *share /= sum;
            }
            Self { sheet }
        })
    }

    /// Water demand per day in a month \[m³\].
    #[must_use]
    pub fn daily_m3(&self, month: Month) -> f64 {
        self.sheet.daily_m3[month]
    }

    /// Flow demanded \[m³/s\] in an hour of the civil day of a month.
    #[must_use]
    pub fn flow_m3_s(&self, month: Month, hour: Hour) -> f64 {
        self.daily_m3(month) * self.sheet.hour_share[hour] / HOUR_S
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn an_even_day_has_an_even_flow() {
        // 86.4 m³ per day is 1 L/s.
        let demand = Demand::new(DemandSheet {
            daily_m3: Monthly::from_array([86.4; 12]),
            hour_share: Hourly::from_array([5.0; 24]),
        })
        .unwrap();
        assert!((demand.flow_m3_s(Month::December, Hour::H23) - 1e-3).abs() < 1e-15);
    }

    #[test]
    fn shares_that_are_all_zero_and_negative_demands_are_faults() {
        let nil = Demand::new(DemandSheet {
            daily_m3: Monthly::from_array([1.0; 12]),
            hour_share: Hourly::default(),
        });
        assert_eq!(nil.unwrap_err()[0].key, "hour_share");
        let mut sheet = DemandSheet {
            daily_m3: Monthly::from_array([1.0; 12]),
            hour_share: Hourly::from_array([1.0; 24]),
        };
        sheet.daily_m3[Month::May] = -1.0;
        sheet.hour_share[Hour::H7] = f64::INFINITY;
        let faults = Demand::new(sheet).unwrap_err();
        assert!(faults[0].quantity.contains("May") && faults[1].quantity.contains("7:00"));
    }

    proptest! {
        #[test]
        fn the_hours_add_up_to_the_day(shares in prop::array::uniform24(0.001..10.0_f64), daily in 0.0..1e4_f64) {
            let demand = Demand::new(DemandSheet {
                daily_m3: Monthly::from_array([daily; 12]),
                hour_share: Hourly::from_array(shares),
            }).unwrap();
            let day_m3: f64 = Hour::ALL.into_iter().map(|h| demand.flow_m3_s(Month::January, h) * 3600.0).sum();
            prop_assert!((day_m3 - daily).abs() <= 1e-12 * daily);
        }
    }
}
