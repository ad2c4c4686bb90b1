//! The comparison as a table: a column for each arrangement.

use comfy_table::Table;
use daylift_study::compare::FullComparison;
use daylift_study::{Comparison, Row};
use daylift_supply::LossCause;

use daylift_study::row::LESS_WATER_TOLD;

use super::number::{grouped, maybe, payback, percent};
use super::{CAUTION, table};

type Line<'a> = (&'a str, Box<dyn Fn(usize, &Row) -> String + 'a>);

/// The comparison as one table, section by section.
pub(crate) fn text(full: &FullComparison) -> String {
    let answer = &full.answer;
    let ids = answer.arrangements.iter().map(|r| r.id.clone());
    let header: Vec<String> = std::iter::once(String::new()).chain(ids).collect();
    let mut table = table::new(&header);
    let currency = answer.arrangements.first().map_or("", |r| r.money.currency.as_str());
    section(&mut table, answer, "Water", &water(full));
    section(&mut table, answer, &format!("Money, {currency}"), &money(full));
    section(&mut table, answer, "Grid and loads, kWh", &grid());
    section(&mut table, answer, "Hours", &hours());
    if answer.arrangements.iter().any(|r| r.array_kwh.available > 0.0) {
        section(&mut table, answer, "Where the sun went, kWh", &sun(answer));
    }
    let mut out = format!("{}\n{}", head(answer), table::text(&table));
    if answer.arrangements.iter().any(|r| less_water(r, answer)) {
        out += &format!(
            "\n* delivers less water than {}: a part of its saving is water that was not pumped\n",
            answer.reference
        );
    }
    out + "\n" + CAUTION
}

/// Whether a row delivers noticeably less water than the reference: the money is then not for the same service.
fn less_water(row: &Row, answer: &Comparison) -> bool {
    let today = answer.arrangements.iter().find(|r| r.id == answer.reference);
    today.is_some_and(|today| row.water_m3.delivered < today.water_m3.delivered * (1.0 - LESS_WATER_TOLD))
}

fn head(answer: &Comparison) -> String {
    let plane = if answer.weather.plane_kwh_m2 > 0.0 {
        format!(", {} on the array's plane", grouped(answer.weather.plane_kwh_m2, 0))
    } else {
        String::new()
    };
    format!(
        "{}: {} arrangement{} through one year, steps of {} min\nweather: {}; {} kWh/m² on the flat{plane}\n",
        answer.plant,
        answer.arrangements.len(),
        if answer.arrangements.len() == 1 { "" } else { "s" },
        answer.step_s / 60,
        answer.weather.source,
        grouped(answer.weather.ghi_kwh_m2, 0),
    )
}

fn section(table: &mut Table, answer: &Comparison, title: &str, lines: &[Line<'_>]) {
    if !table.is_empty() {
        table.add_row([""]);
    }
    table.add_row([title]);
    for (name, value) in lines {
        let cells = answer.arrangements.iter().enumerate().map(|(i, row)| value(i, row));
        table.add_row(std::iter::once(format!("  {name}")).chain(cells));
    }
}

fn line<'a>(name: &'a str, value: impl Fn(usize, &Row) -> String + 'a) -> Line<'a> {
    (name, Box::new(value))
}

fn water(full: &FullComparison) -> Vec<Line<'_>> {
    let secured = |i: usize| full.rows.get(i).map(|r| &r.water_secured);
    vec![
        line("demand, m³", |_, r| grouped(r.water_m3.demand, 0)),
        line("delivered, m³", |_, r| grouped(r.water_m3.delivered, 0)),
        line("water secured", move |i, _| percent(secured(i).and_then(|s| s.year))),
        line("water secured in outages", move |i, _| {
            percent(secured(i).and_then(|s| s.in_outages))
        }),
        line("longest dry spell, days", move |i, _| {
            secured(i).map_or_else(String::new, |s| s.longest_dry_spell_days.to_string())
        }),
    ]
}

fn money(full: &FullComparison) -> Vec<Line<'_>> {
    let answer = &full.answer;
    let (reference, years) = (answer.reference.as_str(), full.years);
    vec![
        line("capital", |_, r| grouped(r.money.capital, 0)),
        line("first year's bill", |_, r| grouped(r.money.first_year_bill, 0)),
        line("paid back in, years", move |_, r| {
            if r.id == reference {
                return "reference".to_owned();
            }
            let mark = if less_water(r, answer) { " *" } else { "" };
            payback(r.money.payback_years, years) + mark
        }),
        line("net present value", |_, r| grouped(r.money.npv, 0)),
        line("internal rate of return", |_, r| percent(r.money.irr)),
        line("cost per m³", |_, r| maybe(r.money.cost_per_m3, 3)),
    ]
}

fn grid<'a>() -> Vec<Line<'a>> {
    vec![
        line("imported", |_, r| grouped(r.grid_kwh.imported, 0)),
        line("exported", |_, r| grouped(r.grid_kwh.exported, 0)),
        line("pump on array", |_, r| grouped(r.pump_kwh.array, 0)),
        line("pump on grid", |_, r| grouped(r.pump_kwh.grid, 0)),
        line("loads on array", |_, r| grouped(r.load_kwh.array, 0)),
        line("loads on grid", |_, r| grouped(r.load_kwh.grid, 0)),
        line("loads not served", |_, r| grouped(r.load_kwh.unserved, 0)),
    ]
}

fn hours<'a>() -> Vec<Line<'a>> {
    vec![
        line("outage", |_, r| grouped(r.hours.outage, 0)),
        line("pumping", |_, r| grouped(r.hours.pumping, 0)),
        line("pumping in outages", |_, r| grouped(r.hours.pumping_in_outage, 0)),
    ]
}

/// Uses first, then every loss that some arrangement has, then the share used.
fn sun(answer: &Comparison) -> Vec<Line<'_>> {
    let only = |f: fn(&Row) -> f64| {
        move |_: usize, r: &Row| {
            if r.array_kwh.available > 0.0 {
                grouped(f(r), 0)
            } else {
                "–".to_owned()
            }
        }
    };
    let mut lines = vec![
        line("available", only(|r| r.array_kwh.available)),
        line("to the pump", only(|r| r.array_kwh.to_pump)),
        line("to the loads", only(|r| r.array_kwh.to_loads)),
        line("exported, paid", only(|r| r.array_kwh.exported_paid)),
        line("exported, unpaid", only(|r| r.array_kwh.exported_unpaid)),
    ];
    for cause in LossCause::ALL {
        if answer.arrangements.iter().any(|r| r.array_kwh.lost.of(cause) > 0.0) {
            lines.push(line(cause.id(), move |_, r| {
                if r.array_kwh.available > 0.0 {
                    grouped(r.array_kwh.lost.of(cause), 0)
                } else {
                    "–".to_owned()
                }
            }));
        }
    }
    lines.push(line("share of the sun used", |_, r| percent(r.array_use)));
    lines
}
