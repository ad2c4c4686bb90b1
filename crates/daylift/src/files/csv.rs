//! Results as CSV.

use std::io::Write;

use csv::{Result, Writer};
use daylift_study::Row;
use daylift_study::columns::Position::Before;
use daylift_study::columns::groups::column_name;
use daylift_study::columns::{Named, with_inserted};
use daylift_study::detail::Month;
use daylift_supply::{Flow, Measure, Table};
use daylift_units::Id;

use super::series::{SeriesOf, Value, columns};

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

fn row_cells(row: &Row) -> Vec<(&'static str, String)> {
    let maybe = |v: Option<f64>| v.map_or_else(String::new, |v| v.to_string());
    let sums = row.grid_kwh.cells().chain(row.pump_kwh.cells()).chain(row.load_kwh.cells());
    let sums = sums.chain(row.battery_kwh.cells()).chain(row.generator.cells());
    let sums = sums.chain(row.water_m3.cells()).chain(row.hours.cells());
    let mut cells = vec![("arrangement", row.id.to_string())];
    cells.extend(row.array_kwh.cells().map(|(name, value)| (name, value.to_string())));
    cells.push(("export_limit_ac_kwh", row.export_limit_ac_kwh.to_string()));
    cells.push(("array_use", maybe(row.array_use)));
    cells.extend(sums.map(|(name, value)| (name, value.to_string())));
    let mut put = |name, value| cells.push((name, value));
    put("currency", row.money.currency.clone());
    put("capital", row.money.capital.to_string());
    put("first_year_bill", row.money.first_year_bill.to_string());
    put("payback_years", maybe(row.money.payback_years));
    put("npv", maybe(row.money.npv));
    put("irr", maybe(row.money.irr));
    put("cost_per_m3", maybe(row.money.cost_per_m3));
    let service = &row.service;
    put("comparable", service.comparable.to_string());
    put("service_water", service.water.id().to_owned());
    put("service_water_delta_m3", service.water_delta_m3.to_string());
    put("service_worst_month_delta_m3", service.worst_month_delta_m3.to_string());
    put("service_water_in_outages", service.water_in_outages.id().to_owned());
    put(
        "service_water_in_outages_delta_m3",
        service.water_in_outages_delta_m3.to_string(),
    );
    put("service_loads", service.loads.id().to_owned());
    put("service_load_delta_kwh", service.load_delta_kwh.to_string());
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
    let columns = month_columns();
    out.write_record(std::iter::once("month").chain(columns.iter().map(|column| &*column.name)))?;
    for month in months {
        let values = columns.iter().map(|column| (column.of)(month).to_string());
        out.write_record(std::iter::once(month.month.to_string()).chain(values))?;
    }
    Ok(out.flush()?)
}

/// A column of the table of months.
struct MonthColumn {
    name: String,
    of: Box<dyn Fn(&Month) -> f64>,
}

impl Named for MonthColumn {
    fn name(&self) -> &str {
        &self.name
    }
}

/// The flows that are declared for months, water and hours before energy, then the columns inserted among them.
fn month_columns() -> Vec<MonthColumn> {
    let column = |name: String, of: Box<dyn Fn(&Month) -> f64>| MonthColumn { name, of };
    let shown = Flow::ALL.into_iter().filter(|flow| flow.is_in(Table::Months));
    let is_energy = |flow: &Flow| matches!(flow.measure(), Measure::Energy | Measure::Fuel);
    let (energy, others): (Vec<Flow>, Vec<Flow>) = shown.partition(is_energy);
    let flows = others.into_iter().chain(energy);
    let flows = flows.map(|flow| column(column_name(flow), Box::new(move |month| month.of(flow))));
    let exported = column("exported_kwh".to_owned(), Box::new(|month| month.array_kwh.exported()));
    let pump = column("pump_kwh".to_owned(), Box::new(Month::pump_kwh));
    let inserted = [(Before("imported_kwh"), exported), (Before("imported_kwh"), pump)];
    with_inserted(flows.collect(), inserted)
}

/// A line for each step.
pub(super) fn steps(out: impl Write, of: &SeriesOf<'_>) -> Result<()> {
    let mut out = Writer::from_writer(out);
    let columns = columns();
    out.write_record(std::iter::once("civil_time").chain(columns.iter().map(|c| &*c.name)))?;
    for (time, step) in of.civil_times().zip(of.series.steps()) {
        let cells = columns.iter().map(|column| match &column.value {
            Value::Number(decimals, value) => format!("{:.decimals$}", value(step)),
            Value::Word(value) => value(step).unwrap_or_default().to_owned(),
        });
        out.write_record(std::iter::once(time).chain(cells))?;
    }
    Ok(out.flush()?)
}
