//! The five parameters of a module's curve.

/// The five parameters of the single-diode model at 1000 W/m² and 25 °C.
///
/// I = I_L − I_0·(e^((V + I·R_s)/a) − 1) − (V + I·R_s)/R_sh.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReferenceParameters {
    /// Light current I_L \[A\].
    pub light_a: f64,
    /// Saturation current I_0 \[A\].
    pub saturation_a: f64,
    /// Series resistance R_s \[Ω\].
    pub series_ohm: f64,
    /// Shunt conductance 1/R_sh \[S\]; 0 for no shunt current.
    pub shunt_s: f64,
    /// Modified ideality factor a = n·N_s·k·T/q \[V\].
    pub thermal_v: f64,
}
