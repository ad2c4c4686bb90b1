//! Workings of the array: rating, cell temperature, performance ratio and array use.

use daylift_array::{CellModel, StringGroup};
use daylift_plant::{Array, Group};
use daylift_supply::{Flow, LossCause};
use daylift_units::constants::KWH_J;

use super::{Case, Symbol, Working, named};

/// Conditions at which the hottest cell is shown: full sun and a light wind.
const FULL_SUN_W_M2: f64 = 1000.0;
const LIGHT_WIND_M_S: f64 = 1.0;

pub(super) fn workings(case: &Case<'_>) -> Vec<Working> {
    let plant = case.stages.plant;
    let Some(array) = &plant.array else { return Vec::new() };
    let hottest_c = plant.weather.air_c().iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let several = array.groups.len() > 1;
    let of_group = |group: &Group| named(several.then_some(group.name.as_str()), array_peak_power(&group.strings));
    let mut out: Vec<Working> = array.groups.iter().map(of_group).collect();
    out.push(cell_temperature(array, hottest_c));
    out.extend(performance_ratio(case, array));
    out.extend(array_use(case));
    out
}

fn array_peak_power(group: &StringGroup) -> Working {
    let sheet = group.module().sheet();
    Working {
        name: "array-peak-power".into(),
        comparable: true,
        title: "Array at standard test conditions".into(),
        value: group.stc_w() / 1e3,
        unit: "kWp".into(),
        formula: "s * p * V * I / 1000".into(),
        symbols: vec![
            Symbol::new("s", "modules in a string", f64::from(group.series()), ""),
            Symbol::new("p", "strings", f64::from(group.parallel()), ""),
            Symbol::new("V", "voltage of a module at maximum power", sheet.max_power_v, "V"),
            Symbol::new("I", "current of a module at maximum power", sheet.max_power_a, "A"),
        ],
        source: "datasheet at 1000 W/m² and 25 °C (IEC 61215)".into(),
        caution: "the array's own losses are not deducted; hot cells give about a tenth less".into(),
    }
}

fn cell_temperature(array: &Array, hottest_c: f64) -> Working {
    match &array.cell_model {
        CellModel::Faiman(_) => cell_by_faiman(&array.cell_model, hottest_c),
        CellModel::Noct(_) => cell_by_noct(&array.cell_model, hottest_c),
    }
}

fn cell_by_noct(noct: &CellModel, hottest_c: f64) -> Working {
    // At 800 W/m² and air of 20 °C the cell has its nominal operating temperature by definition.
    let nominal_c = noct.cell_c(800.0, 20.0, 1.0);
    Working {
        name: "cell-temperature".into(),
        comparable: true,
        title: "Cell temperature in full sun at the hottest air of the year".into(),
        value: noct.cell_c(FULL_SUN_W_M2, hottest_c, LIGHT_WIND_M_S),
        unit: "°C".into(),
        formula: "Ta + G * (N - 20) / 800".into(),
        symbols: vec![
            Symbol::new("Ta", "hottest air of the weather file", hottest_c, "°C"),
            Symbol::new("G", "irradiance on the plane", FULL_SUN_W_M2, "W/m²"),
            Symbol::new("N", "nominal operating cell temperature", nominal_c, "°C"),
        ],
        source: "definition of the nominal operating cell temperature, scaled in proportion to irradiance".into(),
        caution: "ignores the wind; record heat is hotter than a typical year".into(),
    }
}

fn cell_by_faiman(faiman: &CellModel, hottest_c: f64) -> Working {
    // The rise above air temperature in still air, and in a wind of 1 m/s, gives the two coefficients.
    let u0 = FULL_SUN_W_M2 / faiman.cell_c(FULL_SUN_W_M2, 0.0, 0.0);
    let u1 = FULL_SUN_W_M2 / faiman.cell_c(FULL_SUN_W_M2, 0.0, 1.0) - u0;
    Working {
        name: "cell-temperature".into(),
        comparable: true,
        title: "Cell temperature in full sun and light wind at the hottest air of the year".into(),
        value: faiman.cell_c(FULL_SUN_W_M2, hottest_c, LIGHT_WIND_M_S),
        unit: "°C".into(),
        formula: "Ta + G / (U0 + U1 * v)".into(),
        symbols: vec![
            Symbol::new("Ta", "hottest air of the weather file", hottest_c, "°C"),
            Symbol::new("G", "irradiance on the plane", FULL_SUN_W_M2, "W/m²"),
            Symbol::new("U0", "heat loss coefficient in still air", u0, "W/(m²·K)"),
            Symbol::new(
                "U1",
                "increase of the heat loss coefficient per m/s of wind",
                u1,
                "W·s/(m³·K)",
            ),
            Symbol::new("v", "wind", LIGHT_WIND_M_S, "m/s"),
        ],
        source: "Faiman (2008)".into(),
        caution:
            "for modules on open racks; close to a roof they run hotter. Record heat is hotter than a typical year"
                .into(),
    }
}

/// Performance ratio of IEC 61724-1: final yield ÷ reference yield. Only where the array feeds nothing but the bus.
fn performance_ratio(case: &Case<'_>, array: &Array) -> Option<Working> {
    let wiring = case.year.arrangement.wiring;
    if !wiring.needs_inverter() || wiring.needs_drive() {
        return None;
    }
    let plane_kwh_m2 = case.stages.dc.as_ref()?.mean_plane_j_m2(array) / KWH_J;
    let peak_kw = array.stc_w() / 1e3;
    let e = &case.row.array_kwh;
    let uses = Flow::uses_of_array().iter().map(|&flow| match flow {
        Flow::Exported => (flow, e.exported()),
        _ => (flow, e.of(flow)),
    });
    let yielded: f64 = uses.clone().map(|(_, kwh)| kwh).sum();
    let (sum, mut symbols) = sum_of_uses(uses);
    symbols.extend([
        Symbol::new("A", "array at standard test conditions", peak_kw, "kWp"),
        Symbol::new("H", "irradiation on the array's plane", plane_kwh_m2, "kWh/m²"),
        Symbol::new("G", "irradiance of the standard test conditions", 1.0, "kW/m²"),
    ]);
    (plane_kwh_m2 > 0.0).then(|| Working {
        name: "performance-ratio".into(),
        comparable: true,
        title: format!("Performance ratio, {}", case.name()),
        value: 100.0 * (yielded / peak_kw) / plane_kwh_m2,
        unit: "%".into(),
        formula: format!("100 * ({sum}) / (A * H / G)"),
        symbols,
        source: "final yield divided by reference yield, IEC 61724-1".into(),
        caution: "counted after all cables, including the hours with the grid down: it depends on the grid as much as on the array"
            .into(),
    })
}

fn array_use(case: &Case<'_>) -> Option<Working> {
    let row = case.row;
    let value = row.array_use?;
    let e = &row.array_kwh;
    let cables = e.lost(LossCause::Cables);
    let converted = LossCause::OF_USED.iter().map(|c| e.lost(*c)).sum::<f64>() - cables;
    let uses = Flow::uses_of_array().iter().map(|&flow| match flow {
        Flow::Exported => (Flow::ExportedPaid, e.of(Flow::ExportedPaid)),
        _ => (flow, e.of(flow)),
    });
    let (sum, mut symbols) = sum_of_uses(uses);
    symbols.extend([
        Symbol::new(
            "A",
            "available at the maximum-power point after the array's own losses",
            e.of(Flow::Available),
            "kWh",
        ),
        Symbol::new("V", "conversion losses of what was used", converted, "kWh"),
        Symbol::new("C", "cable losses of what was used", cables, "kWh"),
    ]);
    Some(Working {
        name: "array-use".into(),
        comparable: true,
        title: format!("Sun used: share of the available array energy, {}", case.name()),
        value: value * 100.0,
        unit: "%".into(),
        formula: format!("100 * ({sum}) / (A - V - C)"),
        symbols,
        source: "a definition; energy given away unpaid does not count as used".into(),
        caution: "it depends on the ratio of array to pump input, the loads, the tank and the export agreement; a high share is not a goal in itself".into(),
    })
}

/// The sum of the uses of the array's energy, as part of a formula, and a symbol for each use. A use without a letter of
/// its own has the id and the description of its flow.
fn sum_of_uses(uses: impl Iterator<Item = (Flow, f64)>) -> (String, Vec<Symbol>) {
    let symbol = |(flow, kwh): (Flow, f64)| {
        let (letter, text) = match flow {
            Flow::ArrayToPump => ("P", "array energy at the pump motor's terminals"),
            Flow::ArrayToLoads => ("L", "array energy to the loads"),
            Flow::ArrayToBattery => ("B", "array energy to the battery"),
            Flow::Exported => ("X", "exported"),
            Flow::ExportedPaid => ("X", "exported at a credit"),
            other => (other.id(), other.about()),
        };
        Symbol::new(letter, text, kwh, "kWh")
    };
    let symbols: Vec<Symbol> = uses.map(symbol).collect();
    let letters: Vec<&str> = symbols.iter().map(|symbol| &*symbol.symbol).collect();
    (letters.join(" + "), symbols)
}
