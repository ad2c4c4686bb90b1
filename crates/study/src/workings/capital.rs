//! The working of the capital: every cost line with its price and quantity.

use daylift_plant::{CostLine, Per, Quantities};
use daylift_units::field::{number, thousands};

use super::{Case, Symbol, Working};

/// The capital of a row, line by line; `None` if no line applies to it.
pub(super) fn workings(case: &Case<'_>) -> Option<Working> {
    let plant = case.stages.plant;
    let row = case.year.arrangement;
    let has = plant.quantities(row);
    let lines: Vec<&CostLine> = plant.costs.as_ref()?.capital_lines(row).collect();
    let (mut terms, mut symbols) = (Vec::new(), Vec::new());
    for (line, at) in lines.iter().zip(1..) {
        let (term, of_line) = shown(case, line, &has, at);
        terms.push(term);
        symbols.extend(of_line);
    }
    (!terms.is_empty()).then(|| Working {
        name: "capital".into(),
        comparable: true,
        title: format!("Capital of {}", case.name()),
        value: case.year.costs.capital,
        unit: case.currency().into(),
        formula: terms.join(" + "),
        symbols,
        source: "the cost lines of the plant file; the quantities are those of the plant in this arrangement".into(),
        caution: "what no cost line names costs nothing here".into(),
    })
}

/// A line as a term of the sum, with its symbols: its amount, or its quantity and its price.
fn shown(case: &Case<'_>, line: &CostLine, has: &Quantities, at: u32) -> (String, Vec<Symbol>) {
    let item = &line.item;
    let owned = if line.owned > 0.0 {
        format!(" ({} less {} owned)", plain(has.of(line.per)), plain(line.owned))
    } else {
        String::new()
    };
    let Some((quantity, unit)) = counted(line.per) else {
        let cost = case.money(&format!("C{at}"), &format!("{item}{owned}"), line.amount(has));
        return (format!("C{at}"), vec![cost]);
    };
    let amount = thousands(&format!("{:.0}", line.amount(has)));
    let meaning = format!("{item}: {quantity}{owned}; amount {amount} {}", case.currency());
    let of_one = format!("{} per {}", case.currency(), unit.trim_end_matches('s'));
    let symbols = vec![
        Symbol::new(&format!("Q{at}"), meaning.trim_end(), line.quantity(has), unit),
        Symbol::new(
            &format!("P{at}"),
            &format!("{item}: price"),
            line.cost,
            of_one.trim_start(),
        ),
    ];
    (format!("Q{at} * P{at}"), symbols)
}

/// What a price counts, and its unit; `None` for a price of the whole line.
fn counted(per: Per) -> Option<(&'static str, &'static str)> {
    Some(match per {
        Per::One => return None,
        Per::Module => ("modules", "modules"),
        Per::Kwp => ("power of the modules", "kWp"),
        Per::InverterKw => ("rated power of the inverters", "kW"),
        Per::DriveKw => ("rated power of the drives", "kW"),
        Per::MotorKw => ("rated power of the motors", "kW"),
        Per::BatteryKwh => ("capacity of the battery", "kWh"),
        Per::TankM3 => ("capacity of the tank", "m³"),
        Per::PipeM => ("length of the pipes", "m"),
    })
}

/// A number without the digits of rounding.
fn plain(value: f64) -> String {
    number((value * 1e6).round() / 1e6)
}
