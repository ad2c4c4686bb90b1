//! DC limits of module and inverter, as their datasheets state them.

use daylift_units::fields::{inverter, module};
use daylift_units::fingerprint;
use daylift_units::{Fault, Field};

/// Limits of a module.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ModuleLimits {
    /// Maximum system voltage \[V\].
    pub system_v: f64,
    /// Maximum fuse in series \[A\].
    pub greatest_fuse_a: f64,
}

fingerprint!(ModuleLimits {
    system_v,
    greatest_fuse_a
});

impl Default for ModuleLimits {
    /// Usual practice, for a module whose datasheet is not available.
    fn default() -> Self {
        let preset = |field: &Field| field.preset_si().unwrap_or(f64::NAN);
        Self {
            system_v: preset(&module::SYSTEM_V),
            greatest_fuse_a: preset(&module::GREATEST_FUSE),
        }
    }
}

impl ModuleLimits {
    /// A fault for each value outside its range.
    pub(crate) fn faults(&self) -> Vec<Fault> {
        [
            module::SYSTEM_V.check_si(self.system_v),
            module::GREATEST_FUSE.check_si(self.greatest_fuse_a),
        ]
        .into_iter()
        .filter_map(Result::err)
        .collect()
    }
}

/// Limits of an inverter's DC side; `None` where the datasheet is not available.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct InverterLimits {
    /// Maximum DC voltage \[V\].
    pub greatest_dc_v: Option<f64>,
    /// MPPT inputs.
    pub inputs: Option<u32>,
    /// Strings that fit on one MPPT input.
    pub strings_per_input: Option<u32>,
    /// Maximum operating current of an input \[A\].
    pub input_current_a: Option<f64>,
    /// Maximum short-circuit current of the strings on an input \[A\].
    pub input_short_circuit_a: Option<f64>,
    /// Maximum PV power that may be connected, at standard test conditions \[W\].
    pub greatest_dc_w: Option<f64>,
}

fingerprint!(InverterLimits {
    greatest_dc_v,
    inputs,
    strings_per_input,
    input_current_a,
    input_short_circuit_a,
    greatest_dc_w
});

impl InverterLimits {
    /// Faults of single values, and of values in conflict with the MPPT window or the rating.
    pub(crate) fn faults(&self, mppt_max_v: f64, rated_w: f64) -> Vec<Fault> {
        let checks = [
            (&inverter::GREATEST_DC_V, self.greatest_dc_v),
            (&inverter::MPPT_INPUTS, self.inputs.map(f64::from)),
            (&inverter::INPUT_STRINGS, self.strings_per_input.map(f64::from)),
            (&inverter::INPUT_CURRENT, self.input_current_a),
            (&inverter::INPUT_SHORT_CIRCUIT, self.input_short_circuit_a),
            (&inverter::GREATEST_DC_POWER, self.greatest_dc_w),
        ];
        let mut faults: Vec<Fault> =
            checks.into_iter().filter_map(|(field, value)| field.check_si(value?).err()).collect();
        if faults.is_empty() {
            let pairs = [
                inverter::GREATEST_DC_V.not_below(self.greatest_dc_v, &inverter::MPPT_MAX, Some(mppt_max_v)),
                inverter::INPUT_SHORT_CIRCUIT.not_below(
                    self.input_short_circuit_a,
                    &inverter::INPUT_CURRENT,
                    self.input_current_a,
                ),
                inverter::GREATEST_DC_POWER.not_below(self.greatest_dc_w, &inverter::RATED, Some(rated_w)),
            ];
            faults.extend(pairs.into_iter().flatten());
        }
        faults
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn conflicting_limits_are_faults() {
        let of = |limits: InverterLimits| -> Vec<String> {
            limits.faults(800.0, 20e3).into_iter().map(|fault| fault.key).collect()
        };
        assert!(of(InverterLimits::default()).is_empty());
        assert_eq!(
            of(InverterLimits {
                greatest_dc_v: Some(799.0),
                input_current_a: Some(32.0),
                input_short_circuit_a: Some(30.0),
                greatest_dc_w: Some(19e3),
                ..InverterLimits::default()
            }),
            ["greatest_dc_v", "input_short_circuit_a", "greatest_dc_power_kw"]
        );
        assert_eq!(
            of(InverterLimits {
                inputs: Some(0),
                greatest_dc_v: Some(f64::NAN),
                ..InverterLimits::default()
            }),
            ["greatest_dc_v", "mppt_inputs"]
        );
    }

    #[test]
    fn a_module_without_a_datasheet_gets_the_usual_limits() {
        let usual = ModuleLimits::default();
        assert!(usual.faults().is_empty());
        assert!((usual.system_v - 1000.0).abs() < 1e-9 && (usual.greatest_fuse_a - 15.0).abs() < 1e-9);
        let wrong = ModuleLimits {
            system_v: 0.0,
            greatest_fuse_a: -1.0,
        };
        assert_eq!(wrong.faults().len(), 2);
    }
}
