//! Results as CSV.

use std::io::Write;

use csv::{Result, Writer};
use daylift_study::Row;
use daylift_study::detail::Month;
use daylift_supply::LossCause;

use super::series::{COLUMNS, SeriesOf, Value};

/// A line for each row of a result.
pub(super) fn rows<'r>(out: impl Write, rows: impl Iterator<Item = &'r Row>) -> Result<()> {
    let mut out = Writer::from_writer(out);
    let mut header_written = false;
    for row in rows {
        let cells = row_cells(row);
        if !header_written {
            out.write_record(cells.iter().map(|(name, _)| name))?;
            header_written = true;
        }
        out.write_record(cells.iter().map(|(_, value)| value))?;
    }
    Ok(out.flush()?)
}

fn row_cells(row: &Row) -> Vec<(String, String)> {
    let e = &row.array_kwh;
    let maybe = |v: Option<f64>| v.map_or_else(String::new, |v| v.to_string());
    let mut cells = vec![("arrangement".to_owned(), row.id.to_string())];
    let mut put = |name: &str, value: String| cells.push((name.to_owned(), value));
    put("available_kwh", e.available.to_string());
    put("to_pump_kwh", e.to_pump.to_string());
    put("to_loads_kwh", e.to_loads.to_string());
    put("to_battery_kwh", e.to_battery.to_string());
    put("exported_paid_kwh", e.exported_paid.to_string());
    put("exported_unpaid_kwh", e.exported_unpaid.to_string());
    for cause in LossCause::ALL {
        put(&format!("lost_{}_kwh", cause.id()), e.lost.of(cause).to_string());
    }
    put("array_use", maybe(row.array_use));
    put("imported_kwh", row.grid_kwh.imported.to_string());
    put("exported_kwh", row.grid_kwh.exported.to_string());
    put("pump_from_array_kwh", row.pump_kwh.array.to_string());
    put("pump_from_grid_kwh", row.pump_kwh.grid.to_string());
    put("pump_from_battery_kwh", row.pump_kwh.battery.to_string());
    put("pump_from_generator_kwh", row.pump_kwh.generator.to_string());
    put("load_kwh", row.load_kwh.demand.to_string());
    put("load_from_array_kwh", row.load_kwh.array.to_string());
    put("load_from_grid_kwh", row.load_kwh.grid.to_string());
    put("load_from_battery_kwh", row.load_kwh.battery.to_string());
    put("load_from_generator_kwh", row.load_kwh.generator.to_string());
    put("load_unserved_kwh", row.load_kwh.unserved.to_string());
    put("battery_from_array_kwh", row.battery_kwh.from_array.to_string());
    put("battery_from_grid_kwh", row.battery_kwh.from_grid.to_string());
    put("battery_discharged_kwh", row.battery_kwh.discharged.to_string());
    put("battery_stored_change_kwh", row.battery_kwh.stored_change.to_string());
    put("generator_kwh", row.generator.kwh.to_string());
    put("generator_h", row.generator.hours.to_string());
    put("fuel_l", row.generator.fuel_l.to_string());
    put("demand_m3", row.water_m3.demand.to_string());
    put("pumped_m3", row.water_m3.pumped.to_string());
    put("delivered_m3", row.water_m3.delivered.to_string());
    put("shortfall_m3", row.water_m3.shortfall.to_string());
    put("outage_h", row.hours.outage.to_string());
    put("pumping_h", row.hours.pumping.to_string());
    put("pumping_in_outage_h", row.hours.pumping_in_outage.to_string());
    put("currency", row.money.currency.clone());
    put("capital", row.money.capital.to_string());
    put("first_year_bill", row.money.first_year_bill.to_string());
    put("payback_years", maybe(row.money.payback_years));
    put("npv", row.money.npv.to_string());
    put("irr", maybe(row.money.irr));
    put("cost_per_m3", maybe(row.money.cost_per_m3));
    cells
}

/// Mean irradiance on the plane: a line for each month, a column for each hour from 00:00 on.
pub(super) fn sun_by_hour(out: impl Write, months: &[Vec<f64>]) -> Result<()> {
    let mut out = Writer::from_writer(out);
    let hours = months.first().map_or(0, Vec::len);
    let names = (0..hours).map(|hour| format!("plane_w_m2_{hour:02}"));
    out.write_record(std::iter::once("month".to_owned()).chain(names))?;
    for (month, values) in (1..).zip(months) {
        let month: u32 = month;
        out.write_record(std::iter::once(month.to_string()).chain(values.iter().map(f64::to_string)))?;
    }
    Ok(out.flush()?)
}

/// A line for each month.
pub(super) fn months(out: impl Write, months: &[Month]) -> Result<()> {
    let mut out = Writer::from_writer(out);
    out.write_record([
        "month",
        "demand_m3",
        "pumped_m3",
        "delivered_m3",
        "pumping_h",
        "outage_h",
        "available_kwh",
        "array_to_pump_kwh",
        "array_to_loads_kwh",
        "array_to_battery_kwh",
        "exported_kwh",
        "pump_kwh",
        "imported_kwh",
        "battery_discharged_kwh",
        "generator_kwh",
        "fuel_l",
        "unserved_kwh",
    ])?;
    for m in months {
        let e = &m.array_kwh;
        let exported = e.exported_paid + e.exported_unpaid;
        let values = [
            m.demand_m3,
            m.pumped_m3,
            m.delivered_m3,
            m.pumping_h,
            m.outage_h,
            e.available,
            e.to_pump,
            e.to_loads,
            e.to_battery,
            exported,
            m.pump_kwh,
            m.imported_kwh,
            m.battery_discharged_kwh,
            m.generator_kwh,
            m.fuel_l,
            m.unserved_kwh,
        ];
        out.write_record(std::iter::once(m.month.to_string()).chain(values.map(|v| v.to_string())))?;
    }
    Ok(out.flush()?)
}

/// A line for each step.
pub(super) fn steps(out: impl Write, of: &SeriesOf<'_>) -> Result<()> {
    let mut out = Writer::from_writer(out);
    out.write_record(std::iter::once("civil_time").chain(COLUMNS.iter().map(|c| c.name)))?;
    for (time, step) in of.civil_times().zip(of.series.steps()) {
        let cells = COLUMNS.iter().map(|column| match column.value {
            Value::Number(decimals, value) => format!("{:.decimals$}", value(step)),
            Value::Word(value) => value(step).unwrap_or_default().to_owned(),
        });
        out.write_record(std::iter::once(time).chain(cells))?;
    }
    Ok(out.flush()?)
}
