//! Where the voltage of strings stands, on either device, by sun and temperature.

use daylift_plant::{InverterId, SetId};

use crate::judge::Judge;
use crate::speed::Speed;

/// Suns at which it is told \[W/m²\].
const SUNS_W_M2: [f64; 5] = [200.0, 400.0, 600.0, 800.0, 1000.0];
/// Distance of the cell temperatures \[°C\].
const APART_C: f64 = 10.0;

/// Strings at one sun and cell temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Operating {
    /// Irradiance on the array \[W/m²\].
    pub w_m2: f64,
    /// Cell temperature \[°C\].
    pub cell_c: f64,
    /// At open circuit \[V\].
    pub open_circuit_v: f64,
    /// At greatest power \[V\].
    pub max_power_v: f64,
    /// On the inverter \[V\]: at greatest power as far as its window goes; `None` without one, and where not even the
    /// open-circuit voltage reaches the window.
    pub on_inverter_v: Option<f64>,
    /// On the drive, where the bus stands while the pump takes what it can; `None` without one.
    pub on_drive: Option<Speed>,
}

/// Strings of one length over sun and cell temperature, from the coldest morning to the hottest noon; `on_drive`: the pump
/// set and how many strings its drive has.
#[must_use]
pub fn operating(
    judge: &Judge<'_>,
    series: u32,
    inverter: Option<InverterId>,
    on_drive: Option<(SetId, u32)>,
) -> Vec<Operating> {
    let window = inverter.map(|i| {
        let sheet = judge.plant().feeders[i].inverter.sheet();
        (sheet.mppt_min_v, sheet.mppt_max_v)
    });
    let strings = on_drive.map_or(1, |(_, strings)| strings);
    let mut out = Vec::new();
    for cell_c in temperatures(judge) {
        for w_m2 in SUNS_W_M2 {
            let Some(bus) = judge.on_bus(series, strings, w_m2, cell_c) else {
                continue;
            };
            let max_power_v = bus.peak.voltage_v;
            out.push(Operating {
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

/// From the coldest air to the cells of a hot noon, both ends among them.
fn temperatures(judge: &Judge<'_>) -> Vec<f64> {
    let conditions = judge.conditions();
    let (coldest_c, hottest_c) = (conditions.coldest.air_c, conditions.noon_cell_c);
    let first_c = (coldest_c / APART_C).floor() * APART_C + APART_C;
    let between = (0..).map(|i| first_c + APART_C * f64::from(i)).take_while(|c| *c < hottest_c);
    std::iter::once(coldest_c).chain(between).chain([hottest_c]).collect()
}
