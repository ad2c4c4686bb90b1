//! A comparison as sections of lines, a column for each arrangement.

use daylift_study::{ComparedRow, Comparison, Row};
use daylift_supply::LossCause;

use crate::number::payback;
use crate::table::{Cell, Line, Section, Value};
use crate::{say, term};

/// Every section that has something to say.
#[must_use]
pub fn sections(full: &Comparison) -> Vec<Section> {
    let currency = full.rows.first().map_or("", |one| one.row.money.currency.as_str());
    let mut out = vec![
        section(say!("section-water"), "", water(full)),
        section(say!("section-money"), currency, money(full)),
        section(say!("section-grid"), KWH, used(grid(full))),
        section(say!("section-hours"), "", hours(full)),
    ];
    if full.rows.iter().any(has_sun) {
        out.push(section(say!("flows-sun"), KWH, used(sun(full))));
    }
    out.retain(|section| !section.lines.is_empty());
    out
}

const KWH: &str = "kWh";
const M3: &str = "m³";
const LITRES: &str = "l";

fn section(title: String, unit: &str, lines: Vec<Line>) -> Section {
    Section {
        title,
        unit: unit.to_owned(),
        lines,
    }
}

fn line(full: &Comparison, label: String, unit: &str, of: impl Fn(&ComparedRow) -> Value) -> Line {
    let cells = full.rows.iter().map(|one| Cell {
        value: of(one),
        is_marked: false,
    });
    Line {
        label,
        unit: unit.to_owned(),
        cells: cells.collect(),
    }
}

/// A line whose values are marked where less water is delivered than today: they are not those of the same service.
fn of_service(full: &Comparison, label: String, unit: &str, of: impl Fn(&ComparedRow) -> Value) -> Line {
    let mut line = line(full, label, unit, of);
    for (cell, one) in line.cells.iter_mut().zip(&full.rows) {
        cell.is_marked = one.detail.less_water.is_some();
    }
    line
}

/// Whole numbers without a unit of their own.
fn whole(full: &Comparison, label: String, of: impl Fn(&Row) -> f64) -> Line {
    line(full, label, "", |one| Value::number(of(&one.row), 0))
}

/// The same, only where some arrangement has any of it.
fn some(full: &Comparison, label: String, of: impl Fn(&Row) -> f64) -> Option<Line> {
    full.rows.iter().any(|one| of(&one.row) > 0.0).then(|| whole(full, label, of))
}

fn water(full: &Comparison) -> Vec<Line> {
    let m3 = |label, of: fn(&Row) -> f64| line(full, label, M3, |one| Value::number(of(&one.row), 0));
    vec![
        m3(say!("water-demand"), |r| r.water_m3.demand),
        m3(say!("water-delivered"), |r| r.water_m3.delivered),
        line(full, say!("answer-water.terminal"), "", |one| {
            Value::Share(one.detail.water_secured.year)
        }),
        line(full, say!("answer-water-in-outages"), "", |one| {
            Value::Share(one.detail.water_secured.in_outages)
        }),
        line(full, say!("answer-dry.terminal"), &say!("unit-days"), |one| {
            Value::Words(one.detail.water_secured.longest_dry_spell_days.to_string())
        }),
    ]
}

fn money(full: &Comparison) -> Vec<Line> {
    let burns = full.rows.iter().any(|one| one.detail.first_year_fuel > 0.0);
    let fuel = || {
        line(full, say!("money-fuel"), "", |one| {
            Value::number(one.detail.first_year_fuel, 0)
        })
    };
    let mut lines = vec![
        whole(full, say!("money-capital"), |r| r.money.capital),
        whole(full, say!("answer-bill.terminal"), |r| r.money.first_year_bill),
    ];
    lines.extend(burns.then(fuel));
    lines.extend([
        of_service(full, say!("answer-payback.terminal"), &say!("unit-years"), |one| {
            Value::Words(if one.detail.traits.is_reference {
                say!("money-reference")
            } else {
                payback(one.row.money.payback_years, full.years)
            })
        }),
        of_service(full, say!("money-npv"), "", |one| Value::number(one.row.money.npv, 0)),
        of_service(full, say!("money-irr"), "", |one| Value::Share(one.row.money.irr)),
        line(full, say!("money-per-m3"), "", |one| {
            Value::Number(one.row.money.cost_per_m3, 3)
        }),
    ]);
    lines
}

/// Lines of battery and generating set only where some arrangement has them.
fn grid(full: &Comparison) -> Vec<Line> {
    let always = |label, of: fn(&Row) -> f64| Some(whole(full, label, of));
    let some = |label, of: fn(&Row) -> f64| some(full, label, of);
    let pump_on = |source: String| say!("pump-on", source = source);
    let loads_on = |source: String| say!("loads-on", source = source);
    let (array, grid) = (say!("source-array.terminal"), say!("source-grid.terminal"));
    let (battery, generator) = (say!("source-battery.terminal"), say!("source-generator.terminal"));
    [
        always(say!("grid-imported"), |r| r.grid_kwh.imported),
        always(say!("grid-exported"), |r| r.grid_kwh.exported),
        always(pump_on(array.clone()), |r| r.pump_kwh.array),
        always(pump_on(grid.clone()), |r| r.pump_kwh.grid),
        some(pump_on(battery.clone()), |r| r.pump_kwh.battery),
        some(pump_on(generator.clone()), |r| r.pump_kwh.generator),
        always(loads_on(array), |r| r.load_kwh.array),
        always(loads_on(grid), |r| r.load_kwh.grid),
        some(loads_on(battery), |r| r.load_kwh.battery),
        some(loads_on(generator), |r| r.load_kwh.generator),
        always(say!("loads-not-served"), |r| r.load_kwh.unserved),
        some(say!("battery-through"), |r| r.battery_kwh.discharged),
        some(say!("battery-from-grid"), |r| r.battery_kwh.from_grid),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The generating set's only where some arrangement has one.
fn hours(full: &Comparison) -> Vec<Line> {
    let mut lines = vec![
        whole(full, say!("hours-outage"), |r| r.hours.outage),
        whole(full, say!("hours-pumping"), |r| r.hours.pumping),
        whole(full, say!("hours-pumping-in-outages"), |r| r.hours.pumping_in_outage),
    ];
    if full.rows.iter().any(|one| one.row.generator.hours > 0.0) {
        lines.push(whole(full, say!("hours-generator"), |r| r.generator.hours));
        lines.push(line(full, say!("fuel-of-generator"), LITRES, |one| {
            Value::number(one.row.generator.fuel_l, 0)
        }));
    }
    lines
}

fn has_sun(one: &ComparedRow) -> bool {
    one.row.array_kwh.available > 0.0
}

/// Uses first, then every loss that some arrangement has, then the share used.
fn sun(full: &Comparison) -> Vec<Line> {
    let of_sun = |label, of: &dyn Fn(&Row) -> f64| {
        line(full, label, "", |one| {
            Value::Number(has_sun(one).then(|| of(&one.row)), 0)
        })
    };
    let any = |of: &dyn Fn(&Row) -> f64| full.rows.iter().any(|one| of(&one.row) > 0.0);
    let mut lines = vec![
        of_sun(say!("sun-available"), &|r| r.array_kwh.available),
        of_sun(say!("use-to_pump.terminal"), &|r| r.array_kwh.to_pump),
        of_sun(say!("use-to_loads.terminal"), &|r| r.array_kwh.to_loads),
    ];
    if any(&|r| r.array_kwh.to_battery) {
        lines.push(of_sun(say!("use-to_battery.terminal"), &|r| r.array_kwh.to_battery));
    }
    lines.extend([
        of_sun(say!("use-exported_paid.terminal"), &|r| r.array_kwh.exported_paid),
        of_sun(say!("use-exported_unpaid.terminal"), &|r| r.array_kwh.exported_unpaid),
    ]);
    for cause in LossCause::ALL {
        let lost = move |r: &Row| r.array_kwh.lost.of(cause);
        if any(&lost) {
            lines.push(of_sun(term!("loss-", cause, ".terminal"), &lost));
        }
    }
    lines.push(line(full, say!("answer-sun.terminal"), "", |one| {
        Value::Share(one.row.array_use)
    }));
    lines
}

/// The lines that say something: those with nothing in every row are left out.
fn used(mut lines: Vec<Line>) -> Vec<Line> {
    lines.retain(|line| line.cells.iter().any(|cell| !cell.value.is_nothing()));
    lines
}
