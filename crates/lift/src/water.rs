//! Water: density and viscosity as functions of temperature.

use daylift_units::Fault;
use daylift_units::constants::ZERO_CELSIUS_K;
use daylift_units::fields::well;
use daylift_units::fingerprint;

use crate::check::Faults;

/// Fresh water at one temperature and about atmospheric pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Water {
    pub(crate) density_kg_m3: f64,
    pub(crate) kinematic_viscosity_m2_s: f64,
    pub(crate) temperature_c: f64,
}

fingerprint!(Water {
    density_kg_m3,
    kinematic_viscosity_m2_s,
    temperature_c
});

impl Water {
    /// Water at a temperature \[°C\].
    ///
    /// # Errors
    /// A fault for a temperature outside 1–45 °C. Colder water may freeze in the pipe; pumps and motors for wells are
    /// not made for hotter water.
    pub fn at(temperature_c: f64) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::default();
        faults.field(&well::WATER_TEMPERATURE, temperature_c);
        faults.or(|| {
            let density_kg_m3 = density_kg_m3(temperature_c);
            Self {
                density_kg_m3,
                kinematic_viscosity_m2_s: dynamic_viscosity_pa_s(temperature_c) / density_kg_m3,
                temperature_c,
            }
        })
    }

    /// Temperature \[°C\].
    #[must_use]
    pub fn temperature_c(&self) -> f64 {
        self.temperature_c
    }

    /// Density ρ \[kg/m³\].
    #[must_use]
    pub fn density_kg_m3(&self) -> f64 {
        self.density_kg_m3
    }

    /// Kinematic viscosity ν \[m²/s\].
    #[must_use]
    pub fn kinematic_viscosity_m2_s(&self) -> f64 {
        self.kinematic_viscosity_m2_s
    }
}

/// Density of air-free water at one atmosphere \[kg/m³\], t in °C, valid from 0 to 150 °C.
///
/// ρ = (999.83952 + 16.945176 t − 7.9870401·10⁻³ t² − 46.170461·10⁻⁶ t³ + 105.56302·10⁻⁹ t⁴ − 280.54253·10⁻¹² t⁵)
/// / (1 + 16.879850·10⁻³ t): Kell (1975), J. Chem. Eng. Data 20, 97–105, eq. 16.
fn density_kg_m3(t: f64) -> f64 {
    let powers = [
        999.839_52,
        16.945_176,
        -7.987_040_1e-3,
        -46.170_461e-6,
        105.563_02e-9,
        -280.542_53e-12,
    ];
    powers.iter().rev().fold(0.0, |sum, k| sum * t + k) / (1.0 + 16.879_850e-3 * t)
}

/// Dynamic viscosity of water \[Pa·s\], t in °C; within 2.5 % from 0 to 370 °C.
///
/// μ = 2.414·10⁻⁵ · 10^(247.8/(T − 140)), T in K. Equation of Vogel (1921) with the constants for water from
/// Al-Shemmeri (2012), Engineering Fluid Mechanics, pp. 17–18.
fn dynamic_viscosity_pa_s(t: f64) -> f64 {
    2.414e-5 * 10_f64.powf(247.8 / (t + ZERO_CELSIUS_K - 140.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn density_agrees_with_the_steam_tables() {
        // IAPWS-IF97 at the saturation line, rounded to 0.01 kg/m³; tolerance 0.03 for the difference in pressure.
        for (t, density) in [
            (5.0, 999.96),
            (10.0, 999.70),
            (15.0, 999.10),
            (20.0, 998.20),
            (25.0, 997.04),
            (30.0, 995.65),
            (35.0, 994.03),
            (40.0, 992.22),
            (45.0, 990.21),
        ] {
            let ours = Water::at(t).unwrap().density_kg_m3();
            assert!((ours - density).abs() < 0.03, "{t} °C: {ours}");
        }
    }

    #[test]
    fn viscosity_agrees_with_the_calibration_standard_at_20_degrees() {
        // ISO/TR 3666:1998 (from memory): 1.0016 mPa·s and 1.0034 mm²/s at 20 °C.
        let water = Water::at(20.0).unwrap();
        assert!((water.kinematic_viscosity_m2_s() - 1.0034e-6).abs() < 0.001e-6);
    }

    #[test]
    fn a_temperature_in_fahrenheit_is_a_fault_with_its_key() {
        let faults = Water::at(68.0).unwrap_err();
        assert_eq!(faults[0].key, "water_temperature_c");
        assert_eq!(
            faults[0].to_string(),
            "water temperature: 68 °C; allowed: 1 to 45 °C (water that a pump can handle); correct \
             `water_temperature_c`; the unit is °C"
        );
        assert!(Water::at(f64::NAN).is_err());
    }
}
