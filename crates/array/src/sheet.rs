//! Datasheet of a module, and checks of its plausibility.

use daylift_units::fields::module;
use daylift_units::fingerprint;
use daylift_units::{Fault, Field};

/// Datasheet of a module at standard test conditions (1000 W/m², 25 °C).
#[derive(Debug, Clone, PartialEq)]
pub struct ModuleSheet {
    /// Name as printed on the datasheet.
    pub name: String,
    /// Short-circuit current I_sc \[A\].
    pub short_circuit_a: f64,
    /// Open-circuit voltage V_oc \[V\].
    pub open_circuit_v: f64,
    /// Current at maximum power I_mp \[A\].
    pub max_power_a: f64,
    /// Voltage at maximum power V_mp \[V\].
    pub max_power_v: f64,
    /// Temperature coefficient of the short-circuit current α \[A/K\].
    pub short_circuit_a_per_k: f64,
    /// Temperature coefficient of the open-circuit voltage β \[V/K\].
    pub open_circuit_v_per_k: f64,
    /// Cells in series.
    pub cells: u32,
}

fingerprint!(ModuleSheet {
    name,
    short_circuit_a,
    open_circuit_v,
    max_power_a,
    max_power_v,
    short_circuit_a_per_k,
    open_circuit_v_per_k,
    cells
});

impl ModuleSheet {
    /// Power at standard test conditions \[W\]: V_mp·I_mp.
    #[must_use]
    pub fn max_power_w(&self) -> f64 {
        self.max_power_v * self.max_power_a
    }

    /// All faults: values that cannot be true for a crystalline module.
    ///
    /// The bounds of fill factor, voltage per cell and coefficients are usual practice: the values of silicon modules
    /// on sale, with a margin on both sides.
    #[must_use]
    pub fn faults(&self) -> Vec<Fault> {
        let points = [
            (module::ISC, self.short_circuit_a),
            (module::VOC, self.open_circuit_v),
            (module::IMP, self.max_power_a),
            (module::VMP, self.max_power_v),
            (module::CELLS, f64::from(self.cells)),
        ];
        let coefficients = [
            (module::ALPHA, self.short_circuit_a_per_k),
            (module::BETA, self.open_circuit_v_per_k),
        ];
        let mut faults = out_of_range(&points);
        if faults.is_empty() {
            self.check_points(&mut faults);
            self.check_cells(&mut faults);
            // The rules that compare with current and voltage offer better remedies than the ranges, so they come
            // first.
            for (rule, range) in self.coefficient_faults().into_iter().zip(coefficients) {
                faults.extend(rule.or_else(|| range.0.check_si(range.1).err()));
            }
        } else {
            faults.extend(out_of_range(&coefficients));
        }
        faults
    }

    fn check_points(&self, faults: &mut Vec<Fault>) {
        if self.max_power_a >= self.short_circuit_a {
            faults.push(Fault::new(
                "max_power_a",
                "current at maximum power",
                format!("{} A", self.max_power_a),
                format!("below the short-circuit current {} A", self.short_circuit_a),
                "are the two currents swapped?",
            ));
        }
        if self.max_power_v >= self.open_circuit_v {
            faults.push(Fault::new(
                "max_power_v",
                "voltage at maximum power",
                format!("{} V", self.max_power_v),
                format!("below the open-circuit voltage {} V", self.open_circuit_v),
                "are the two voltages swapped?",
            ));
        }
        let fill_factor = self.max_power_w() / (self.short_circuit_a * self.open_circuit_v);
        if faults.is_empty() && !(0.55..=0.88).contains(&fill_factor) {
            faults.push(Fault::new(
                "max_power_v",
                "fill factor, V_mp·I_mp / (V_oc·I_sc)",
                format!("{fill_factor:.3}"),
                "0.55 to 0.88, as silicon modules have",
                "compare the four values with the datasheet's column for standard test conditions",
            ));
        }
    }

    fn check_cells(&self, faults: &mut Vec<Fault>) {
        let volts_per_cell = self.open_circuit_v / f64::from(self.cells);
        if !(0.4..=0.85).contains(&volts_per_cell) {
            faults.push(Fault::new(
                "cells",
                "open-circuit voltage per cell in series",
                format!("{volts_per_cell:.3} V with {} cells", self.cells),
                "0.4 to 0.85 V, as silicon cells have",
                "count cells in series: a module of half-cut cells has half as many in series as in all \
                 (144 half cells: 72)",
            ));
        }
    }

    /// The fault of each coefficient, current first.
    fn coefficient_faults(&self) -> [Option<Fault>; 2] {
        let current_per_k = 100.0 * self.short_circuit_a_per_k / self.short_circuit_a;
        let current = || {
            Fault::new(
                module::ALPHA.key,
                module::ALPHA.quantity,
                format!("{} A/K, that is {current_per_k:.3}%/K", self.short_circuit_a_per_k),
                "within ±0.2%/K of the short-circuit current",
                coefficient_remedy(self.short_circuit_a_per_k, self.short_circuit_a, "A", -0.2..=0.2),
            )
        };
        let voltage_per_k = 100.0 * self.open_circuit_v_per_k / self.open_circuit_v;
        let voltage = || {
            Fault::new(
                module::BETA.key,
                module::BETA.quantity,
                format!("{} V/K, that is {voltage_per_k:.3}%/K", self.open_circuit_v_per_k),
                "-0.5 to -0.1%/K of the open-circuit voltage",
                coefficient_remedy(self.open_circuit_v_per_k, self.open_circuit_v, "V", -0.5..=-0.1),
            )
        };
        [
            (!(-0.2..=0.2).contains(&current_per_k)).then(current),
            (!(-0.5..=-0.1).contains(&voltage_per_k)).then(voltage),
        ]
    }
}

fn out_of_range(values: &[(Field, f64)]) -> Vec<Fault> {
    values.iter().filter_map(|(field, value)| field.check_si(*value).err()).collect()
}

/// How to fix a coefficient: gives the value if it was typed in %/K, or without its sign.
fn coefficient_remedy(given: f64, whole: f64, unit: &str, per_cent: std::ops::RangeInclusive<f64>) -> String {
    if per_cent.contains(&given) {
        return format!(
            "is the coefficient in %/K? it must be in {unit}/K: {given}%/K is {:.5} {unit}/K",
            given * whole / 100.0
        );
    }
    if per_cent.contains(&(-100.0 * given / whole)) {
        return format!("is the sign missing? give {} {unit}/K", -given);
    }
    format!("give the coefficient in {unit}/K; a datasheet may print it in %/K or in m{unit}/K")
}

#[cfg(test)]
mod tests {
    use crate::sample::sheet;

    #[test]
    fn coefficients_typed_in_per_cent_are_recognised() {
        let mut sheet = sheet();
        sheet.short_circuit_a_per_k = 0.06;
        sheet.open_circuit_v_per_k = -0.36;
        let faults = sheet.faults();
        assert_eq!(faults.len(), 2);
        assert_eq!(
            faults[1].to_string(),
            "change of open-circuit voltage with temperature: -0.36 V/K, that is -0.940%/K; allowed: -0.5 to -0.1%/K \
             of the open-circuit voltage; is the coefficient in %/K? it must be in V/K: -0.36%/K is -0.13788 V/K"
        );
        assert!(
            faults[0].remedy.contains("0.06%/K is 0.00566 A/K"),
            "{}",
            faults[0].remedy
        );
    }

    #[test]
    fn a_missing_sign_and_millivolts_have_their_own_remedies() {
        let mut sheet = sheet();
        sheet.open_circuit_v_per_k = 0.137_88;
        assert!(sheet.faults()[0].remedy.contains("give -0.13788 V/K"));
        sheet.open_circuit_v_per_k = -137.88;
        assert!(sheet.faults()[0].remedy.contains("mV/K"));
    }

    #[test]
    fn counting_all_half_cut_cells_is_recognised() {
        let mut sheet = sheet();
        sheet.cells = 120;
        let faults = sheet.faults();
        assert_eq!((faults.len(), faults[0].key.as_str()), (1, "cells"));
        assert!(faults[0].remedy.contains("144 half cells: 72"));
    }

    #[test]
    fn all_faults_are_reported_together() {
        let mut sheet = sheet();
        (sheet.max_power_a, sheet.short_circuit_a) = (9.43, 8.71);
        sheet.max_power_v = 40.0;
        sheet.open_circuit_v_per_k = -1.0;
        let keys: Vec<String> = sheet.faults().into_iter().map(|f| f.key).collect();
        assert_eq!(keys, ["max_power_a", "max_power_v", "open_circuit_v_per_k"]);
    }

    #[test]
    fn values_that_are_not_finite_are_faults() {
        let mut sheet = sheet();
        sheet.short_circuit_a = f64::NAN;
        sheet.max_power_v = 0.0;
        sheet.cells = 0;
        sheet.open_circuit_v_per_k = f64::INFINITY;
        assert_eq!(sheet.faults().len(), 4);
    }

    #[test]
    fn a_poor_fill_factor_is_a_fault() {
        let mut sheet = sheet();
        sheet.max_power_v = 21.0;
        assert!(sheet.faults()[0].quantity.contains("fill factor"));
    }
}
