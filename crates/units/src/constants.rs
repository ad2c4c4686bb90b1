//! Physical constants, each with its source. Values that follow from others are computed from them.

/// Standard acceleration of gravity \[m/s²\] (CGPM 1901, exact).
pub const GRAVITY_M_S2: f64 = 9.806_65;
/// Total solar irradiance at one astronomical unit \[W/m²\]: 1361.0, as adopted by IAU 2015 Resolution B3 (Kopp & Lean
/// 2011 measured 1360.8 ± 0.5).
pub const SOLAR_CONSTANT_W_M2: f64 = 1361.0;
/// Boltzmann constant \[eV/K\] (CODATA 2018; exact in J/K, divided by the exact elementary charge).
pub const BOLTZMANN_EV_K: f64 = 1.380_649e-23 / 1.602_176_634e-19;
/// 0 °C \[K\] (definition of the Celsius scale).
pub const ZERO_CELSIUS_K: f64 = 273.15;
/// Standard atmosphere at sea level \[Pa\] (ISO 2533).
pub const STANDARD_PRESSURE_PA: f64 = 101_325.0;
/// Seconds in an hour.
pub const HOUR_S: f64 = 3600.0;
/// Seconds in a day.
pub const DAY_S: f64 = 24.0 * HOUR_S;
/// Joules in a kilowatt-hour.
pub const KWH_J: f64 = 1000.0 * HOUR_S;
/// Litres in a cubic metre.
pub const LITRES_PER_M3: f64 = 1000.0;

/// Pressure of the standard atmosphere at an altitude \[Pa\].
///
/// p = p0·(1 − 2.25577·10⁻⁵·h)^5.25588, troposphere of ISO 2533 / US Standard Atmosphere 1976.
///
/// ```
/// // US Standard Atmosphere 1976, 1500 m: 84.56 kPa
/// assert!((daylift_units::constants::pressure_at_altitude_pa(1500.0) - 84_560.0).abs() < 10.0);
/// ```
#[must_use]
pub fn pressure_at_altitude_pa(altitude_m: f64) -> f64 {
    STANDARD_PRESSURE_PA * (1.0 - 2.255_77e-5 * altitude_m).powf(5.255_88)
}
