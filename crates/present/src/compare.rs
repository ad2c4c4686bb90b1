//! A comparison as sections of lines, with a column for each arrangement.

use daylift_study::{ComparedRow, Comparison, Row};
use daylift_supply::{Flow, LossCause};

use crate::names::Names;
use crate::number::{grouped, maybe, payback};
use crate::rule;
use crate::service::{in_short, note, pair, priced_at};
use crate::table::{Cell, Line, Section, Value};
use crate::{key_term, say, term};

/// All sections that have lines.
#[must_use]
pub fn sections(full: &Comparison) -> Vec<Section> {
    let currency = full.rows.first().map_or("", |one| one.row.money.currency.as_str());
    let mut out = vec![
        section(say!("section-water"), "", water(full)),
        section(say!("section-rule"), "", rule::lines(full)),
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

/// A line of money figures, marked in rows that serve less than the reference, as they are not comparable then.
fn of_money(full: &Comparison, label: String, unit: &str, of: impl Fn(&ComparedRow) -> Value) -> Line {
    let mut line = line(full, label, unit, of);
    for (cell, one) in line.cells.iter_mut().zip(&full.rows) {
        cell.is_marked = !one.row.service.comparable;
    }
    line
}

/// A line of whole numbers without a unit of its own.
fn whole(full: &Comparison, label: String, of: impl Fn(&Row) -> f64) -> Line {
    line(full, label, "", |one| Value::number(of(&one.row), 0))
}

fn water(full: &Comparison) -> Vec<Line> {
    let m3 = |label, of: fn(&Row) -> f64| line(full, label, M3, |one| Value::number(of(&one.row), 0));
    vec![
        m3(say!("water-demand"), |r| r.water_m3.of(Flow::Demand)),
        m3(say!("water-delivered"), |r| r.water_m3.of(Flow::Delivered)),
        line(full, say!("answer-water.terminal"), "", |one| {
            Value::Share(one.detail.water_secured.year)
        }),
        line(full, say!("answer-water-in-outages"), "", |one| {
            Value::Share(one.detail.water_secured.in_outages)
        }),
        line(full, say!("answer-shortage.terminal"), M3, |one| {
            Value::number(one.row.shortage.worst_m3, 0)
        }),
        line(
            full,
            say!("answer-shortage.terminal"),
            &say!("unit-days-of-demand"),
            |one| Value::number(one.row.shortage.worst_days, 1),
        ),
        line(full, say!("shortage-short-days"), "", |one| {
            Value::Words(one.row.shortage.short_days.to_string())
        }),
        line(full, say!("shortage-dry-spell"), &say!("unit-days"), |one| {
            Value::Words(one.row.shortage.dry_spell_days.to_string())
        }),
    ]
}

fn money(full: &Comparison) -> Vec<Line> {
    let burns = full.rows.iter().any(|one| one.detail.first_year_fuel > 0.0);
    let whole_money = |label, of: fn(&ComparedRow) -> f64| of_money(full, label, "", |one| Value::number(of(one), 0));
    let prices = full.prices;
    let mut lines = vec![line(full, say!("money-service"), "", |one| {
        Value::Words(in_short(&one.row))
    })];
    if prices.costs {
        lines.push(whole(full, say!("money-capital"), |r| r.money.capital));
    }
    if prices.bill {
        lines.push(whole_money(say!("answer-bill.terminal"), |one| {
            one.row.money.first_year_bill
        }));
    }
    lines.extend(
        (burns && !prices.are_none()).then(|| whole_money(say!("money-fuel"), |one| one.detail.first_year_fuel)),
    );
    let keeps = full.rows.iter().any(|one| one.detail.first_year_upkeep > 0.0);
    lines.extend(
        (keeps && !prices.are_none()).then(|| whole_money(say!("money-upkeep"), |one| one.detail.first_year_upkeep)),
    );
    if prices.are_complete() {
        lines.extend(compared_money(full));
    }
    lines
}

/// The lines that compare a row with the reference.
fn compared_money(full: &Comparison) -> [Line; 4] {
    [
        of_money(full, say!("answer-payback.terminal"), &say!("unit-years"), |one| {
            Value::Words(if one.detail.traits.is_reference {
                say!("money-reference")
            } else if one.row.id.best_rule && one.row.money.payback_years.is_none() {
                // It costs what today's way costs: where it saves nothing, there is nothing to pay back.
                maybe(None, 0)
            } else {
                payback(one.row.money.payback_years, full.years)
            })
        }),
        of_money(full, say!("money-npv"), "", |one| Value::Number(one.row.money.npv, 0)),
        of_money(full, say!("money-irr"), "", |one| Value::Share(one.row.money.irr)),
        of_money(full, say!("money-per-m3"), "", |one| {
            Value::Number(one.row.money.cost_per_m3, 3)
        }),
    ]
}

/// Texts below the table: what rows with marked figures lack, values of what is missing, and what the best row adds to its
/// runner-up.
#[must_use]
pub fn notes(full: &Comparison) -> Vec<String> {
    let currency = full.rows.first().map_or("", |one| one.row.money.currency.as_str());
    let all = full.rows.iter().all(|one| one.row.service.comparable);
    let marked = full.rows.iter().filter(|_| !full.prices.are_none());
    let missing = marked.filter_map(|one| note(&one.row, Names::Ids, full.reference));
    let priced = full.priced_at.as_ref().map(|values| priced_at(values, currency, all));
    let best = best(full, currency);
    let best = (full.rows.len() > 1 && full.prices.are_complete()).then_some(best);
    missing.chain(priced).chain(best).collect()
}

/// The comparable row of the highest net present value, and what it adds to its runner-up.
fn best(full: &Comparison, currency: &str) -> String {
    let Some(adds) = &full.runner_up else {
        return say!("ways-none-pays", today = Names::Ids.of(full.reference));
    };
    let money = full.row(adds.of).map(|one| &one.row.money);
    let capital = money.filter(|money| money.capital > 0.0 && adds.against != full.reference);
    let capital = capital.and_then(|money| {
        Some(say!(
            "worth-most-capital",
            capital = format!("{} {currency}", grouped(money.capital, 0)),
            years = grouped(money.payback_years?, 1)
        ))
    });
    let most = say!("worth-most", row = Names::Ids.of(adds.of));
    let adds = pair(adds, Names::Ids, currency);
    [Some(most), capital, Some(adds)].into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// Import, export, and the energy of pump and loads by source.
fn grid(full: &Comparison) -> Vec<Line> {
    let of = |label, flow: Flow| whole(full, label, |r| r.grid_kwh.of(flow));
    let mut lines = vec![
        of(say!("grid-imported"), Flow::Imported),
        of(say!("grid-exported"), Flow::Exported),
    ];
    lines.extend(each(
        full,
        |row| row.pump_kwh.iter().collect(),
        |key, of| {
            whole(
                full,
                say!("pump-on", source = key_term!("source-", key, ".terminal")),
                of,
            )
        },
    ));
    lines.extend(each(
        full,
        |row| row.load_kwh.sources().collect(),
        |key, of| {
            whole(
                full,
                say!("loads-on", source = key_term!("source-", key, ".terminal")),
                of,
            )
        },
    ));
    lines.extend([
        of(say!("loads-not-served"), Flow::Unserved),
        of(say!("battery-through"), Flow::Discharged),
        of(say!("battery-from-grid"), Flow::GridToBattery),
    ]);
    lines
}

/// Keys of a row with their values.
type Keyed = Vec<(&'static str, f64)>;

/// A line for each key of a group.
fn each(full: &Comparison, of: fn(&Row) -> Keyed, line: impl Fn(&str, &dyn Fn(&Row) -> f64) -> Line) -> Vec<Line> {
    let keys = full.rows.first().map_or_else(Vec::new, |one| of(&one.row));
    let value = |row: &Row, at: usize| of(row).get(at).map_or(0.0, |(_, value)| *value);
    keys.iter().enumerate().map(|(at, (key, _))| line(key, &|row| value(row, at))).collect()
}

/// Lines of hours and fuel; those of the generator only if some arrangement runs one.
fn hours(full: &Comparison) -> Vec<Line> {
    let mut lines = vec![
        whole(full, say!("hours-outage"), |r| r.hours.of(Flow::Outage)),
        whole(full, say!("hours-pumping"), |r| r.hours.of(Flow::Pumping)),
        whole(full, say!("hours-pumping-in-outages"), |r| {
            r.hours.of(Flow::PumpingInOutage)
        }),
    ];
    if full.rows.iter().any(|one| one.row.generator.of(Flow::GeneratorRunning) > 0.0) {
        lines.push(whole(full, say!("hours-generator"), |r| {
            r.generator.of(Flow::GeneratorRunning)
        }));
        lines.push(line(full, say!("fuel-of-generator"), LITRES, |one| {
            Value::number(one.row.generator.of(Flow::Fuel), 0)
        }));
    }
    lines
}

fn has_sun(one: &ComparedRow) -> bool {
    one.row.array_kwh.of(Flow::Available) > 0.0
}

/// Available energy, uses, losses, and the share used.
fn sun(full: &Comparison) -> Vec<Line> {
    let of_sun = |label, of: &dyn Fn(&Row) -> f64| {
        line(full, label, "", |one| {
            Value::Number(has_sun(one).then(|| of(&one.row)), 0)
        })
    };
    let mut lines = vec![of_sun(say!("sun-available"), &|r| r.array_kwh.of(Flow::Available))];
    lines.extend(each(
        full,
        |row| row.array_kwh.uses().collect(),
        |key, of| of_sun(key_term!("use-", key, ".terminal"), of),
    ));
    lines.extend(LossCause::ALL.map(|cause| of_sun(term!("loss-", cause, ".terminal"), &|r| r.array_kwh.lost(cause))));
    lines.push(line(full, say!("answer-sun.terminal"), "", |one| {
        Value::Share(one.row.array_use)
    }));
    lines
}

/// Removes lines that are empty in every column.
fn used(mut lines: Vec<Line>) -> Vec<Line> {
    lines.retain(|line| line.cells.iter().any(|cell| !cell.value.is_nothing()));
    lines
}
