//! A string group: modules in series and parallel on one device, with their losses up to the device.

use daylift_units::Fault;
use daylift_units::fields::array;
use daylift_units::{Month, fingerprint};

use crate::cable::CableLoss;
use crate::curve::Curve;
use crate::losses::ArrayLosses;
use crate::module::Module;

/// Upper limit of low voltage on DC \[V\] (scope of IEC 60364-1 and IEC 62548, from memory), applied to the
/// open-circuit voltage of a string at standard test conditions.
const LOW_VOLTAGE_V: f64 = 1500.0;

/// Strings of the same length in one plane, on one device at a time.
#[derive(Debug, Clone, PartialEq)]
pub struct StringGroup {
    module: Module,
    series: u32,
    parallel: u32,
    losses: ArrayLosses,
    cable: CableLoss,
}

fingerprint!(StringGroup {
    module,
    series,
    parallel,
    losses,
    cable
});

impl StringGroup {
    /// `series` modules per string, `parallel` strings; `dc_cable_loss` is the fraction that the DC cables lose at
    /// rated power (standard test conditions).
    ///
    /// # Errors
    /// All faults of the losses, and a fault for each count or cable loss outside its range. Also a fault if the
    /// open-circuit voltage of a string at standard test conditions exceeds 1500 V.
    pub fn new(
        module: Module,
        series: u32,
        parallel: u32,
        losses: ArrayLosses,
        dc_cable_loss: f64,
    ) -> Result<Self, Vec<Fault>> {
        let mut faults = losses.faults();
        let checks = [
            array::MODULES_PER_STRING.check(f64::from(series)).map(|_| ()),
            array::STRINGS.check(f64::from(parallel)).map(|_| ()),
            array::DC_CABLE_LOSS.check_si(dc_cable_loss),
        ];
        faults.extend(checks.into_iter().filter_map(Result::err));
        faults.extend(too_long(&module, series));
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut group = Self {
            module,
            series,
            parallel,
            losses,
            cable: CableLoss::new(0.0, 1.0),
        };
        group.cable = CableLoss::new(dc_cable_loss, group.stc_w());
        Ok(group)
    }

    /// The same modules with the same losses, wired as strings of another length or number.
    ///
    /// # Errors
    /// As [`StringGroup::new`] for the counts.
    pub fn in_strings(&self, series: u32, parallel: u32) -> Result<Self, Vec<Fault>> {
        let cable = self.cable.fraction(self.stc_w());
        Self::new(self.module.clone(), series, parallel, self.losses, cable)
    }

    /// The curve at the group's terminals, before cable losses.
    ///
    /// `absorbed_w_m2` is the irradiance on the plane after reflection; the month's soiling is subtracted here.
    #[must_use]
    pub fn curve(&self, absorbed_w_m2: f64, cell_c: f64, month: Month) -> Curve {
        let effective_w_m2 = absorbed_w_m2 * (1.0 - self.losses.soiling[month]);
        self.module.curve(effective_w_m2, cell_c).scaled(
            f64::from(self.series),
            f64::from(self.parallel) * self.losses.current_factor(),
        )
    }

    /// Rated power at standard test conditions \[W\]: s·p·V_mp·I_mp, without losses.
    #[must_use]
    pub fn stc_w(&self) -> f64 {
        self.module.sheet().max_power_w() * f64::from(self.series) * f64::from(self.parallel)
    }

    /// The module.
    #[must_use]
    pub fn module(&self) -> &Module {
        &self.module
    }

    /// Modules in series in a string.
    #[must_use]
    pub fn series(&self) -> u32 {
        self.series
    }

    /// Strings in parallel.
    #[must_use]
    pub fn parallel(&self) -> u32 {
        self.parallel
    }

    /// The losses before the cables.
    #[must_use]
    pub fn losses(&self) -> &ArrayLosses {
        &self.losses
    }

    /// The DC cables between the group and its device.
    #[must_use]
    pub fn cable(&self) -> CableLoss {
        self.cable
    }

    /// Fraction of power, and of voltage, that the DC cables lose at an array power \[W\]: k·P/P_stc.
    #[must_use]
    pub fn cable_fraction(&self, array_w: f64) -> f64 {
        self.cable.fraction(array_w)
    }

    /// Power at the device's terminals \[W\] for a power at the array's terminals.
    #[must_use]
    pub fn device_power_w(&self, array_w: f64) -> f64 {
        self.cable.delivered_w(array_w)
    }

    /// Power at the array's terminals \[W\] for a power at the device's terminals. If the cables cannot
    /// deliver that much: the input at which they deliver the most.
    #[must_use]
    pub fn array_power_for_device_w(&self, device_w: f64) -> f64 {
        self.cable.sent_w(device_w)
    }
}

fn too_long(module: &Module, series: u32) -> Option<Fault> {
    let field = array::MODULES_PER_STRING;
    let module_v = module.sheet().open_circuit_v;
    let string_v = f64::from(series) * module_v;
    (string_v > LOW_VOLTAGE_V).then(|| {
        Fault::new(
            field.key,
            field.quantity,
            format!("{series}, {string_v:.0} V at open circuit and standard test conditions"),
            format!("up to {LOW_VOLTAGE_V} V, the limit of low voltage on DC (IEC 60364-1, IEC 62548)"),
            format!(
                "at most {:.0} of these modules of {module_v} V: make more strings of fewer modules",
                (LOW_VOLTAGE_V / module_v).floor()
            ),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn group(losses: ArrayLosses) -> StringGroup {
        StringGroup::new(sample::module(), 19, 5, losses, 0.02).unwrap()
    }

    #[test]
    fn power_at_standard_test_conditions_matches_the_datasheet() {
        // Worked by hand: 95 · 31.0 V · 8.71 A = 25 650.95 W.
        let group = group(ArrayLosses::NONE);
        assert!((group.stc_w() - 25_650.95).abs() < 1e-6);
        assert!((group.curve(1000.0, 25.0, Month::January).max_power().power_w - 25_650.95).abs() < 1e-5);
    }

    #[test]
    fn soiling_reduces_irradiance_and_other_losses_reduce_current() {
        let mut losses = ArrayLosses::NONE;
        losses.soiling[Month::July] = 0.2;
        losses.mismatch = 0.1;
        let group = group(losses);
        let (july, clean) = (
            group.curve(1000.0, 45.0, Month::July),
            group.curve(800.0, 45.0, Month::January),
        );
        assert_eq!(july, clean);
        // 198.41 W is the module's maximum power at 800 W/m² and 45 °C, from an independent computation.
        assert!((july.max_power().power_w - 95.0 * 0.9 * 198.41).abs() < 0.5);
    }

    #[test]
    fn the_cables_lose_in_proportion_to_power() {
        // Worked by hand: at half of rated power, 12 825.475 W, the loss is 1 %.
        let group = group(ArrayLosses::NONE);
        let half_w = 0.5 * group.stc_w();
        assert!((group.cable_fraction(half_w) - 0.01).abs() < 1e-12);
        assert!((group.device_power_w(half_w) - 0.99 * half_w).abs() < 1e-9);
        assert!((group.array_power_for_device_w(0.99 * half_w) - half_w).abs() < 1e-6);
    }

    #[test]
    fn a_string_above_1500_v_is_a_fault_that_says_how_many_modules_are_allowed() {
        // Worked by hand: 38.3 V · 39 = 1493.7 V, · 40 = 1532 V.
        let of = |series| StringGroup::new(sample::module(), series, 1, ArrayLosses::NONE, 0.0);
        assert!(of(39).is_ok());
        let faults = of(40).unwrap_err();
        assert_eq!((faults.len(), faults[0].key.as_str()), (1, "modules_per_string"));
        assert!(faults[0].given.contains("1532 V") && faults[0].allowed.contains("1500 V"));
        assert!(faults[0].remedy.contains("at most 39 "), "{}", faults[0].remedy);
    }

    #[test]
    fn other_strings_of_the_same_modules_lose_the_same_share() {
        let group = group(ArrayLosses::NONE);
        let other = group.in_strings(10, 3).unwrap();
        assert_eq!(
            (other.series(), other.parallel(), other.module()),
            (10, 3, group.module())
        );
        assert!((other.cable_fraction(other.stc_w()) - 0.02).abs() < 1e-12);
        assert!(group.in_strings(0, 1).is_err());
    }

    #[test]
    fn all_faults_are_reported_together() {
        let losses = ArrayLosses {
            mismatch: 2.0,
            ..ArrayLosses::NONE
        };
        let faults = StringGroup::new(sample::module(), 0, 0, losses, 0.5).unwrap_err();
        let keys: Vec<&str> = faults.iter().map(|f| f.key.as_str()).collect();
        assert_eq!(
            keys,
            ["mismatch_pct", "modules_per_string", "strings", "dc_cable_loss_pct"]
        );
    }
}
