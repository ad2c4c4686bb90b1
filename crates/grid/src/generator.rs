//! The generator: its rating and its fuel consumption.

use daylift_units::constants::{KWH_J, LITRES_PER_M3};
use daylift_units::fields::generator as fields;
use daylift_units::fingerprint;
use daylift_units::{Fault, fit};

/// Values from a generator's datasheet.
#[derive(Debug, Clone, PartialEq)]
pub struct GeneratorSheet {
    /// Name.
    pub name: String,
    /// Rated output \[W\].
    pub rated_w: f64,
    /// Minimum load for continuous operation, a fraction of the rated output. It does not change the fuel.
    pub least_load: f64,
    /// Pairs of load (output over rated output) and fuel flow \[m³/s\].
    pub fuel_points: Vec<(f64, f64)>,
}

fingerprint!(GeneratorSheet {
    name,
    rated_w,
    least_load,
    fuel_points
});

/// Load below which fuel no longer falls, a fraction of the rated output. Datasheets give no fuel below a quarter load, and
/// friction remains at no load; usual practice, no source.
const LEAST_LOAD_FOR_FUEL: f64 = 0.1;

/// Upper limit of a plausible yield \[kWh/l\] (usual practice: 2.5 to 4.3).
const MOST_KWH_PER_L: f64 = 5.5;

/// A checked generator.
///
/// Fuel is a linear function of the output (Willans line): a at no load, plus b times the load as a fraction of the
/// rating. Both are least-squares fits to the datasheet's points, at least 0.
#[derive(Debug, Clone, PartialEq)]
pub struct Generator {
    sheet: GeneratorSheet,
    idle_m3_s: f64,
    full_more_m3_s: f64,
}

fingerprint!(Generator { sheet } derived { idle_m3_s, full_more_m3_s });

impl Generator {
    /// A generator from its datasheet.
    ///
    /// # Errors
    /// A fault for fuel at fewer than two loads, for points that no rising line fits, and for a yield above 5.5 kWh/l.
    pub fn new(sheet: GeneratorSheet) -> Result<Self, Vec<Fault>> {
        let rows: Vec<[f64; 2]> = sheet.fuel_points.iter().map(|(load, _)| [1.0, *load]).collect();
        let fuel: Vec<f64> = sheet.fuel_points.iter().map(|(_, fuel)| *fuel).collect();
        let fault = |given: String, allowed: &str, remedy: &str| {
            vec![Fault::new(
                fields::FUEL.key,
                fields::FUEL.quantity,
                given,
                allowed,
                remedy,
            )]
        };
        if rows.len() < 2 || rows.iter().all(|row| (row[1] - rows[0][1]).abs() < 1e-9) {
            return Err(fault(
                format!("{} points at one load", rows.len()),
                "fuel at two different loads or more",
                "add another line of the datasheet, such as half load",
            ));
        }
        let Some([idle_m3_s, full_more_m3_s]) = fit::least_squares_non_negative(&rows, &fuel) else {
            return Err(fault(
                "points that do not fit a line".to_owned(),
                "fuel that rises with the load",
                "check against the datasheet",
            ));
        };
        if full_more_m3_s <= 0.0 {
            return Err(fault(
                "fuel that falls as the load rises".to_owned(),
                "fuel that rises with the load",
                "give loads and fuel in the same order",
            ));
        }
        let set = Self {
            sheet,
            idle_m3_s,
            full_more_m3_s,
        };
        let yield_kwh_l = set.full_load_kwh_per_l();
        if yield_kwh_l > MOST_KWH_PER_L {
            return Err(fault(
                format!("{yield_kwh_l:.1} kWh per litre at full load"),
                &format!(
                    "at most {MOST_KWH_PER_L} kWh per litre: diesel contains about 10, and the best generators reach 4.3"
                ),
                "check fuel consumption and rated power against the datasheet",
            ));
        }
        Ok(set)
    }

    /// Energy per litre of fuel at full load \[kWh/l\].
    #[must_use]
    pub fn full_load_kwh_per_l(&self) -> f64 {
        let kwh_per_m3 = self.sheet.rated_w / self.fuel_m3_s(self.sheet.rated_w) / KWH_J;
        kwh_per_m3 / LITRES_PER_M3
    }

    /// The datasheet.
    #[must_use]
    pub fn sheet(&self) -> &GeneratorSheet {
        &self.sheet
    }

    /// Rated output \[W\].
    #[must_use]
    pub fn rated_w(&self) -> f64 {
        self.sheet.rated_w
    }

    /// Minimum load \[W\].
    #[must_use]
    pub fn least_w(&self) -> f64 {
        self.sheet.least_load * self.sheet.rated_w
    }

    /// Fuel \[m³/s\] at an output \[W\]: 0 at rest; below 10 % of the rated output, the fuel at 10 %.
    #[must_use]
    pub fn fuel_m3_s(&self, output_w: f64) -> f64 {
        if output_w <= 0.0 {
            return 0.0;
        }
        self.idle_m3_s + self.full_more_m3_s * (output_w / self.sheet.rated_w).max(LEAST_LOAD_FOR_FUEL)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const L_PER_H: f64 = 1e-3 / 3600.0;

    fn set(points: &[(f64, f64)]) -> Result<Generator, Vec<Fault>> {
        Generator::new(GeneratorSheet {
            name: String::new(),
            rated_w: 40e3,
            least_load: 0.3,
            fuel_points: points.iter().map(|&(load, l_h)| (load, l_h * L_PER_H)).collect(),
        })
    }

    #[test]
    fn fuel_follows_a_line_down_to_a_tenth_of_the_rating() {
        // Worked by hand: 2 + 9·x l/h on 40 kW. The minimum load of 12 kW changes nothing.
        let set = set(&[(0.25, 4.25), (0.5, 6.5), (1.0, 11.0)]).unwrap();
        for (output_kw, l_h) in [(20.0, 6.5), (12.0, 4.7), (8.0, 3.8), (4.0, 2.9), (1.0, 2.9), (0.0, 0.0)] {
            let ours = set.fuel_m3_s(output_kw * 1e3) / L_PER_H;
            assert!((ours - l_h).abs() < 1e-9, "{output_kw} kW: {ours} l/h");
        }
    }

    #[test]
    fn one_load_and_falling_fuel_are_faults() {
        assert!(set(&[(0.5, 6.0)]).unwrap_err()[0].allowed.contains("two different loads"));
        assert!(set(&[(0.5, 6.0), (0.5, 7.0)]).is_err());
        assert!(set(&[(0.25, 9.0), (1.0, 4.0)]).unwrap_err()[0].allowed.contains("rises"));
    }
}
