//! Cell temperature models.

use daylift_units::Fault;
use daylift_units::fields::array;
use daylift_units::fingerprint;

/// Faiman's model of the temperature of a ventilated module: Tc = Ta + G / (U0 + U1·v).
///
/// - Tc, Ta: cell and air temperature \[°C\] (the cell has the temperature of the module's back);
/// - G: irradiance on the plane \[W/m²\];
/// - v: wind speed \[m/s\];
/// - U0 \[W/(m²·K)\], U1 \[W·s/(m³·K)\]: heat transfer without wind, and per wind speed.
///
/// Steady state: for means of minutes to an hour, and open-rack mounting. Faiman, D. (2008), *Assessing the outdoor
/// operating temperature of photovoltaic modules*, Progress in Photovoltaics 16, 307–315; used in IEC 61853-2.
///
/// ```
/// // 800 W/m², 20 °C, 1 m/s: 20 + 800 / 31.84 = 45.13 °C
/// let cell_c = daylift_array::Faiman::default().cell_c(800.0, 20.0, 1.0);
/// assert!((cell_c - 45.13).abs() < 0.005);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Faiman {
    u0_w_per_m2_k: f64,
    u1_w_s_per_m3_k: f64,
}

fingerprint!(Faiman {
    u0_w_per_m2_k,
    u1_w_s_per_m3_k
});

impl Default for Faiman {
    /// The mean of the modules measured by Faiman (2008): 25.0 and 6.84.
    fn default() -> Self {
        Self {
            u0_w_per_m2_k: 25.0,
            u1_w_s_per_m3_k: 6.84,
        }
    }
}

impl Faiman {
    /// A model with these two heat-transfer factors.
    ///
    /// # Errors
    /// A fault for each factor outside its range.
    pub fn new(u0_w_per_m2_k: f64, u1_w_s_per_m3_k: f64) -> Result<Self, Vec<Fault>> {
        let faults: Vec<Fault> = [array::U0.check_si(u0_w_per_m2_k), array::U1.check_si(u1_w_s_per_m3_k)]
            .into_iter()
            .filter_map(Result::err)
            .collect();
        if faults.is_empty() {
            Ok(Self {
                u0_w_per_m2_k,
                u1_w_s_per_m3_k,
            })
        } else {
            Err(faults)
        }
    }

    /// Cell temperature \[°C\]; a negative wind speed counts as 0.
    #[must_use]
    pub fn cell_c(&self, plane_w_m2: f64, air_c: f64, wind_m_s: f64) -> f64 {
        air_c + plane_w_m2 / (self.u0_w_per_m2_k + self.u1_w_s_per_m3_k * wind_m_s.max(0.0))
    }
}

/// Cell temperature from the nominal operating cell temperature: Tc = Ta + G·(NOCT − 20 °C)/(800 W/m²).
///
/// - Tc, Ta: cell and air temperature \[°C\];
/// - G: irradiance on the plane \[W/m²\];
/// - NOCT: cell temperature \[°C\] at 800 W/m², 20 °C, 1 m/s and open circuit (IEC 61215), as stated on datasheets.
///
/// Wind is ignored. Duffie & Beckman (2013), section 23.3, without the correction for efficiency.
///
/// ```
/// // NOCT 45 °C, 1000 W/m², 25 °C: 25 + 1000 · 25 / 800 = 56.25 °C
/// let cell_c = daylift_array::Noct::new(45.0).unwrap().cell_c(1000.0, 25.0);
/// assert!((cell_c - 56.25).abs() < 1e-9);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Noct {
    noct_c: f64,
}

fingerprint!(Noct { noct_c });

impl Noct {
    /// A model with this nominal operating cell temperature.
    ///
    /// # Errors
    /// A fault when it is outside its range.
    pub fn new(noct_c: f64) -> Result<Self, Vec<Fault>> {
        array::NOCT.check_si(noct_c).map(|()| Self { noct_c }).map_err(|fault| vec![fault])
    }

    /// Cell temperature \[°C\].
    #[must_use]
    pub fn cell_c(&self, plane_w_m2: f64, air_c: f64) -> f64 {
        air_c + plane_w_m2 * (self.noct_c - 20.0) / 800.0
    }
}

/// Model of the cell temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CellModel {
    /// Faiman (2008), with wind.
    Faiman(Faiman),
    /// Nominal operating cell temperature, without wind.
    Noct(Noct),
}

fingerprint!(
    enum CellModel {
        Faiman(model),
        Noct(model),
    }
);

impl Default for CellModel {
    fn default() -> Self {
        Self::Faiman(Faiman::default())
    }
}

impl CellModel {
    /// Cell temperature \[°C\].
    #[must_use]
    pub fn cell_c(&self, plane_w_m2: f64, air_c: f64, wind_m_s: f64) -> f64 {
        match self {
            Self::Faiman(faiman) => faiman.cell_c(plane_w_m2, air_c, wind_m_s),
            Self::Noct(noct) => noct.cell_c(plane_w_m2, air_c),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noct_at_four_conditions() {
        // Computed from the formula with NOCT 45 °C; the wind changes nothing.
        let model = CellModel::Noct(Noct::new(45.0).unwrap());
        for (plane_w_m2, air_c, wind_m_s, cell_c) in [
            (800.0, 20.0, 1.0, 45.0),
            (1000.0, 25.0, 1.0, 56.25),
            (1000.0, 40.0, 3.0, 71.25),
            (600.0, 30.0, 2.0, 48.75),
        ] {
            assert!((model.cell_c(plane_w_m2, air_c, wind_m_s) - cell_c).abs() < 1e-9);
        }
        assert_eq!(Noct::new(20.0).unwrap_err()[0].key, "noct_c");
    }

    #[test]
    fn faiman_at_four_conditions() {
        // Computed from the formula of Faiman (2008) with 25.0 and 6.84.
        for (plane_w_m2, air_c, wind_m_s, cell_c) in [
            (800.0, 20.0, 1.0, 45.13),
            (1000.0, 25.0, 1.0, 56.41),
            (1000.0, 40.0, 3.0, 61.97),
            (600.0, 30.0, 2.0, 45.51),
        ] {
            let got = Faiman::default().cell_c(plane_w_m2, air_c, wind_m_s);
            assert!((got - cell_c).abs() <= 0.005, "{got} {cell_c}");
        }
    }

    #[test]
    fn at_night_the_cell_has_the_temperature_of_the_air() {
        assert!((Faiman::default().cell_c(0.0, -7.0, 4.0) + 7.0).abs() < 1e-12);
    }

    #[test]
    fn both_faults_are_reported() {
        assert_eq!(Faiman::new(0.0, -1.0).unwrap_err().len(), 2);
        assert_eq!(Faiman::new(f64::NAN, 6.84).unwrap_err().len(), 1);
        assert!(Faiman::new(30.0, 6.3).is_ok());
    }
}
