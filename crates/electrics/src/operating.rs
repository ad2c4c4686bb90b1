//! Operating voltage of strings on inverter and drive, over irradiance and cell temperature.

use daylift_plant::{InverterId, SetId};

use crate::judge::Judge;
use crate::speed::Speed;

/// Irradiances of the table \[W/m²\].
const IRRADIANCES_W_M2: [f64; 5] = [200.0, 400.0, 600.0, 800.0, 1000.0];
/// Step of the cell temperatures \[°C\].
const STEP_C: f64 = 10.0;

/// Strings at one irradiance and cell temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OperatingPoint {
    /// Irradiance on the array \[W/m²\].
    pub w_m2: f64,
    /// Cell temperature \[°C\].
    pub cell_c: f64,
    /// Open-circuit voltage \[V\].
    pub open_circuit_v: f64,
    /// Maximum-power voltage \[V\].
    pub max_power_v: f64,
    /// Voltage on the inverter \[V\]: the maximum-power voltage, limited to the inverter's MPPT window. `None` without an
    /// inverter, and where even the open-circuit voltage is below the window.
    pub on_inverter_v: Option<f64>,
    /// The pump on the drive, while it takes as much power as it can; `None` without a drive.
    pub on_drive: Option<Speed>,
}

/// Operating points of strings of one length, over irradiance and cell temperature, from the coldest morning to the hot
/// noon.
///
/// `on_drive`: the pump set, and the number of strings on its drive.
#[must_use]
pub fn operating_points(
    judge: &Judge<'_>,
    series: u32,
    inverter: Option<InverterId>,
    on_drive: Option<(SetId, u32)>,
) -> Vec<OperatingPoint> {
    let window = inverter.map(|i| {
        let sheet = judge.plant().feeders[i].inverter.sheet();
        (sheet.mppt_min_v, sheet.mppt_max_v)
    });
    let strings = on_drive.map_or(1, |(_, strings)| strings);
    let mut out = Vec::new();
    for cell_c in temperatures(judge) {
        for w_m2 in IRRADIANCES_W_M2 {
            let Some(bus) = judge.on_bus(series, strings, w_m2, cell_c) else {
                continue;
            };
            let max_power_v = bus.peak.voltage_v;
            out.push(OperatingPoint {
                w_m2,
                cell_c,
                open_circuit_v: bus.curve.open_circuit_v(),
                max_power_v,
                on_inverter_v: window
                    .filter(|(least, _)| bus.curve.open_circuit_v() > *least)
                    .map(|(least, most)| max_power_v.clamp(least, most)),
                on_drive: on_drive.and_then(|(set, strings)| judge.speed_at(set, series, strings, w_m2, cell_c)),
            });
        }
    }
    out
}

/// Cell temperatures \[°C\]: the coldest air, the multiples of the step in between, and the cells of a hot noon.
fn temperatures(judge: &Judge<'_>) -> Vec<f64> {
    let conditions = judge.conditions();
    let (coldest_c, hottest_c) = (conditions.coldest.air_c, conditions.noon_cell_c);
    let first_c = (coldest_c / STEP_C).floor() * STEP_C + STEP_C;
    let between = (0..).map(|i| first_c + STEP_C * f64::from(i)).take_while(|c| *c < hottest_c);
    std::iter::once(coldest_c).chain(between).chain([hottest_c]).collect()
}
