//! The grid-tied inverter.

use daylift_units::fields::inverter;
use daylift_units::fingerprint;
use daylift_units::{Fault, LossCurve};

use crate::cable::CableLoss;
use crate::limits::InverterLimits;

/// Datasheet of a grid-tied inverter, and the cable behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct InverterSheet {
    /// Name as printed.
    pub name: String,
    /// Rated AC output \[W\].
    pub rated_w: f64,
    /// Efficiencies: (AC output over rated output, efficiency), fractions.
    pub efficiency_points: Vec<(f64, f64)>,
    /// DC power offered at which it begins to feed \[W\].
    pub start_w: f64,
    /// Lower edge of the voltages at which it tracks greatest power \[V\].
    pub mppt_min_v: f64,
    /// Upper edge of them \[V\].
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
                "copy it from the inverter's datasheet; usual are 0.2% to 2% of the rated output",
            ));
        }
        if faults.is_empty() && self.mppt_max_v <= self.mppt_min_v {
            faults.push(Fault::new(
                inverter::MPPT_MIN.key,
                "MPPT window of the inverter",
                format!("{} to {} V", self.mppt_min_v, self.mppt_max_v),
                "a lower edge below the upper edge",
                "are the two edges exchanged?",
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

/// A grid-tied inverter: loss = P_r·(p0 + p1·x + p2·x²) with x the AC output over the rated output P_r, fitted to the
/// datasheet's efficiencies; the cable behind it loses k·P²/P_r.
#[derive(Debug, Clone, PartialEq)]
pub struct Inverter {
    sheet: InverterSheet,
    losses: LossCurve,
    cable: CableLoss,
    limits: InverterLimits,
}

fingerprint!(Inverter { sheet, cable, limits } derived { losses });

impl Inverter {
    /// Fits the losses to a datasheet.
    ///
    /// # Errors
    /// All faults of the sheet and of its efficiencies.
    pub fn new(sheet: InverterSheet) -> Result<Self, Vec<Fault>> {
        let mut faults = sheet.faults();
        match sheet.fit_losses() {
            Ok(losses) if faults.is_empty() => Ok(Self {
                cable: CableLoss::new(sheet.ac_cable_loss, sheet.rated_w),
                sheet,
                losses,
                limits: InverterLimits::default(),
            }),
            Ok(_) => Err(faults),
            Err(more) => {
                faults.extend(more);
                Err(faults)
            }
        }
    }

    /// The same with what it bears on its DC side, of which nothing is known until then.
    ///
    /// # Errors
    /// A fault for each limit outside its range or at odds with window, rating or another limit.
    pub fn with_limits(self, limits: InverterLimits) -> Result<Self, Vec<Fault>> {
        let faults = limits.faults(self.sheet.mppt_max_v, self.sheet.rated_w);
        if faults.is_empty() {
            Ok(Self { limits, ..self })
        } else {
            Err(faults)
        }
    }

    /// What it bears on its DC side.
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

    /// Whether it feeds when `offered_w` \[W\] of DC is offered at its terminals at the point of greatest power.
    #[must_use]
    pub fn feeds(&self, offered_w: f64) -> bool {
        offered_w > 0.0 && offered_w >= self.sheet.start_w
    }

    /// AC output \[W\] from a DC input \[W\], at most the rated output; whether it feeds at all is [`Inverter::feeds`].
    #[must_use]
    pub fn ac_w(&self, dc_w: f64) -> f64 {
        self.losses.output_w(dc_w).min(self.sheet.rated_w)
    }

    /// DC input \[W\] for an AC output \[W\], held between 0 and rated; 0 for none (nothing is drawn at rest).
    #[must_use]
    pub fn dc_for_ac_w(&self, ac_w: f64) -> f64 {
        if ac_w <= 0.0 {
            return 0.0;
        }
        self.losses.input_w(ac_w.min(self.sheet.rated_w))
    }

    /// DC input that gives rated AC output \[W\]: it takes no more.
    #[must_use]
    pub fn clip_dc_w(&self) -> f64 {
        self.losses.input_w(self.sheet.rated_w)
    }

    /// The AC cable between inverter and bus.
    #[must_use]
    pub fn cable(&self) -> CableLoss {
        self.cable
    }

    /// Power at the bus \[W\] from the inverter's AC output.
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Losses of 0.5 %, 1 % and 1.5 % of rated: the efficiencies are x / (x + 0.005 + 0.01·x + 0.015·x²).
    fn sheet() -> InverterSheet {
        let efficiency = |x: f64| (x, x / (x + 0.005 + 0.01 * x + 0.015 * x * x));
        InverterSheet {
            name: "20 kW".to_owned(),
            rated_w: 20e3,
            efficiency_points: [0.1, 0.3, 0.5, 1.0].map(efficiency).to_vec(),
            start_w: 150.0,
            mppt_min_v: 300.0,
            mppt_max_v: 800.0,
            ac_cable_loss: 0.01,
        }
    }

    fn inverter() -> Inverter {
        Inverter::new(sheet()).unwrap()
    }

    #[test]
    fn rated_output_costs_what_was_worked_by_hand() {
        // Worked by hand: 20 kW · (1 + 0.005 + 0.01 + 0.015) = 20.6 kW.
        let inverter = inverter();
        assert!((inverter.clip_dc_w() - 20_600.0).abs() < 1e-6);
        assert!((inverter.ac_w(30e3) - 20e3).abs() < 1e-9);
        // 10 kW: 0.5 + 0.005 + 0.005 + 0.00375 = 0.51375 of rated, 10 275 W.
        assert!((inverter.ac_w(10_275.0) - 10e3).abs() < 1e-6);
    }

    #[test]
    fn the_cable_costs_what_was_worked_by_hand() {
        // Worked by hand: 10 kW of 20 kW loses 0.5 %, 50 W.
        let inverter = inverter();
        assert!((inverter.bus_w(10e3) - 9950.0).abs() < 1e-9);
        assert!((inverter.ac_for_bus_w(50e3) - 20e3).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn both_ways_are_inverse(share in 0.001..1.0_f64) {
            let inverter = inverter();
            let ac_w = share * inverter.rated_w();
            prop_assert!((inverter.ac_w(inverter.dc_for_ac_w(ac_w)) - ac_w).abs() < 1e-8);
            prop_assert!((inverter.ac_for_bus_w(inverter.bus_w(ac_w)) - ac_w).abs() < 1e-8);
        }
    }

    #[test]
    fn it_feeds_from_its_start_power_and_rests_for_nothing() {
        let inverter = inverter();
        assert!(!inverter.feeds(149.9) && inverter.feeds(150.0));
        assert!(inverter.dc_for_ac_w(0.0) == 0.0 && inverter.ac_w(50.0) == 0.0);
        let mut eager = sheet();
        eager.start_w = 0.0;
        assert!(!Inverter::new(eager).unwrap().feeds(0.0));
    }

    #[test]
    fn values_that_do_not_suit_each_other_are_faults() {
        let exchanged = InverterSheet {
            mppt_min_v: 800.0,
            mppt_max_v: 300.0,
            ..sheet()
        };
        assert!(Inverter::new(exchanged).unwrap_err()[0].remedy.contains("exchanged"));
        let late = InverterSheet {
            start_w: 12e3,
            ..sheet()
        };
        assert_eq!(Inverter::new(late).unwrap_err()[0].key, "start_power_w");
    }

    #[test]
    fn efficiencies_given_as_fractions_are_one_fault() {
        let mut fractions = sheet();
        for point in &mut fractions.efficiency_points {
            point.1 /= 100.0;
        }
        let faults = Inverter::new(fractions).unwrap_err();
        assert_eq!((faults.len(), faults[0].key.as_str()), (1, "efficiency_pct"));
        assert!(faults[0].remedy.contains("given as fractions"));
    }

    #[test]
    fn all_faults_come_at_once() {
        let wrong = InverterSheet {
            rated_w: -1.0,
            efficiency_points: vec![(0.5, 97.0), (1.0, 0.97)],
            mppt_min_v: 1.0,
            mppt_max_v: 8000.0,
            ac_cable_loss: f64::NAN,
            ..sheet()
        };
        let keys: Vec<String> = Inverter::new(wrong).unwrap_err().into_iter().map(|f| f.key).collect();
        assert_eq!(
            keys,
            [
                "rated_power_kw",
                "mppt_min_v",
                "mppt_max_v",
                "ac_cable_loss_pct",
                "efficiency_pct"
            ]
        );
    }
}
