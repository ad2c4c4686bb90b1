//! The line between farm and stiff grid, whose voltage rises with export.

use daylift_units::Fault;
use daylift_units::fields::line as fields;
use daylift_units::fingerprint;

/// Line data as read from the plant file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineSheet {
    /// Resistance of one conductor \[Ω/m\].
    pub resistance_ohm_per_m: f64,
    /// Length to the stiff grid \[m\].
    pub length_m: f64,
    /// Nominal voltage between phases \[V\].
    pub nominal_v: f64,
    /// Voltage at the farm without export, a fraction of nominal.
    pub no_load_voltage: f64,
    /// Voltage at which the inverters disconnect, a fraction of nominal.
    pub greatest_voltage: f64,
}

fingerprint!(LineSheet {
    resistance_ohm_per_m,
    length_m,
    nominal_v,
    no_load_voltage,
    greatest_voltage
});

/// A checked line whose voltage rises with export.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeakLine {
    sheet: LineSheet,
}

fingerprint!(WeakLine { sheet });

impl WeakLine {
    /// Checks the data of a line.
    ///
    /// # Errors
    /// A fault when the voltage without export is not below the inverters' limit.
    pub fn new(sheet: LineSheet) -> Result<Self, Vec<Fault>> {
        if sheet.no_load_voltage < sheet.greatest_voltage {
            return Ok(Self { sheet });
        }
        Err(vec![Fault::new(
            fields::NO_LOAD.key,
            fields::NO_LOAD.quantity,
            fields::NO_LOAD.print_si(sheet.no_load_voltage),
            format!(
                "below `greatest_voltage_pct`, {}",
                fields::GREATEST.print_si(sheet.greatest_voltage)
            ),
            "measure it; if it is this high without export, the utility must first lower its transformer tap",
        )])
    }

    /// Resistance of one conductor over the whole length \[Ω\].
    #[must_use]
    pub fn resistance_ohm(&self) -> f64 {
        self.sheet.resistance_ohm_per_m * self.sheet.length_m
    }

    /// The data of the line.
    #[must_use]
    pub fn sheet(&self) -> &LineSheet {
        &self.sheet
    }

    /// Rise of the voltage between phases \[V\] for an export at unity power factor: R·P/V, with V nominal.
    #[must_use]
    pub fn rise_v(&self, export_w: f64) -> f64 {
        self.resistance_ohm() * export_w / self.sheet.nominal_v
    }

    /// Export \[W\] at which the rise reaches the inverters' limit.
    #[must_use]
    pub fn greatest_export_w(&self) -> f64 {
        let room_v = (self.sheet.greatest_voltage - self.sheet.no_load_voltage) * self.sheet.nominal_v;
        room_v * self.sheet.nominal_v / self.resistance_ohm()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(no_load_voltage: f64) -> Result<WeakLine, Vec<Fault>> {
        WeakLine::new(LineSheet {
            resistance_ohm_per_m: 0.868e-3,
            length_m: 300.0,
            nominal_v: 400.0,
            no_load_voltage,
            greatest_voltage: 1.10,
        })
    }

    /// Worked by hand: 300 m of 35 mm² aluminium, 0.868 Ω/km.
    #[test]
    fn forty_kilowatts_raise_400_v_by_26_v_and_about_thirty_are_allowed() {
        let line = line(1.05).unwrap();
        assert!((line.rise_v(40e3) - 26.0).abs() < 0.05);
        assert!((line.rise_v(40e3) / 400.0 - 0.065).abs() < 1e-3);
        assert!((line.greatest_export_w() - 30.7e3).abs() < 50.0);
        assert!((line.rise_v(line.greatest_export_w()) - 20.0).abs() < 1e-9);
    }

    #[test]
    fn a_voltage_that_is_too_high_without_export_is_a_fault() {
        let faults = line(1.10).unwrap_err();
        assert_eq!(faults[0].key, "no_load_voltage_pct");
        assert!(faults[0].given.contains("110"), "{}", faults[0].given);
    }
}
