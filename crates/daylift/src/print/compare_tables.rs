//! The comparison as a table, a column for each arrangement, and as bars.

use comfy_table::Table;
use daylift_study::compare::FullComparison;
use daylift_study::{Comparison, Row};
use daylift_supply::LossCause;

use daylift_study::row::{LESS_WATER_TOLD, LITTLE_WATER};

use super::bars::Part;
use super::number::{grouped, maybe, payback, percent};
use super::{bands, caution, flows, page, stack, table};

type Line<'a> = (&'a str, Box<dyn Fn(usize, &Row) -> String + 'a>);

/// The comparison as tables, section by section, with what `between` has before its last words. Rows that do not fit on
/// the page side by side go to further tables, each with the reference as its first column.
pub(crate) fn text(full: &FullComparison, between: &str, width: usize) -> String {
    let answer = &full.answer;
    let tables = bands::side_by_side(full, width, one_table);
    let mut out = format!("{}\n{tables}{}{between}", head(answer), bars(full, width));
    if answer.arrangements.iter().any(|r| less_water(r, answer)) {
        out += &format!(
            "\n* delivers less water than {}: a part of its saving is water that was not pumped\n",
            answer.reference
        );
    }
    for (row, share) in answer.arrangements.iter().filter_map(|r| Some((r, share_of_today(r, answer)?))) {
        if share < LITTLE_WATER {
            let text = format!(
                "  {} delivers {} of that water: its payback, net present value and rate of return are not those of the \
                 same service",
                row.id,
                percent(Some(share))
            );
            out += &(page::hang(&text, width, 2) + "\n");
        }
    }
    out + "\n" + &caution(width)
}

/// All sections of a comparison in one table.
fn one_table(full: &FullComparison) -> String {
    let answer = &full.answer;
    let ids = answer.arrangements.iter().map(|r| table::broken(&r.id));
    let header: Vec<String> = std::iter::once(String::new()).chain(ids).collect();
    let mut table = table::new(&header);
    let currency = answer.arrangements.first().map_or("", |r| r.money.currency.as_str());
    section(&mut table, answer, "Water", &water(full));
    section(&mut table, answer, &format!("Money, {currency}"), &money(full));
    section(&mut table, answer, "Grid and loads, kWh", &used(answer, grid(answer)));
    section(&mut table, answer, "Hours", &hours(answer));
    if answer.arrangements.iter().any(|r| r.array_kwh.available > 0.0) {
        section(
            &mut table,
            answer,
            "Where the sun went, kWh",
            &used(answer, sun(answer)),
        );
    }
    table::text(&table)
}

/// Where sun and water went, and what the pump ran on, a bar for each arrangement.
fn bars(full: &FullComparison, width: usize) -> String {
    let rows = &full.answer.arrangements;
    let of = |parts: &dyn Fn(usize, &Row) -> Option<Vec<Part>>| -> Vec<(&str, Vec<Part>)> {
        rows.iter().enumerate().filter_map(|(i, r)| Some((r.id.as_str(), parts(i, r)?))).collect()
    };
    let sun = of(&|_, r| (r.array_kwh.available > 0.0).then(|| flows::sun_in_short(&r.array_kwh)));
    let pump = of(&|_, r| Some(flows::pump(&r.pump_kwh)));
    let water = of(&|i, r| full.rows.get(i).map(|d| flows::water(&r.water_m3, &d.water_secured)));
    stack::text("Where the sun went", &sun, width)
        + &stack::text("What the pump ran on", &pump, width)
        + &stack::text("Where the water went", &water, width)
}

/// Whether a row delivers noticeably less water than the reference: the money is then not for the same service.
fn less_water(row: &Row, answer: &Comparison) -> bool {
    share_of_today(row, answer).is_some_and(|share| share < 1.0 - LESS_WATER_TOLD)
}

/// Water delivered as a share of what the reference delivers.
fn share_of_today(row: &Row, answer: &Comparison) -> Option<f64> {
    let today = answer.arrangements.iter().find(|r| r.id == answer.reference)?;
    (today.water_m3.delivered > 0.0).then(|| row.water_m3.delivered / today.water_m3.delivered)
}

fn head(answer: &Comparison) -> String {
    let plane = if answer.weather.plane_kwh_m2 > 0.0 {
        format!(
            ", {} kWh/m² on the array's plane",
            grouped(answer.weather.plane_kwh_m2, 0)
        )
    } else {
        String::new()
    };
    format!(
        "{}: {} arrangement{} through one year, steps of {} min\nweather: {}\nsun: {} kWh/m² on the flat{plane}\n",
        answer.plant,
        answer.arrangements.len(),
        if answer.arrangements.len() == 1 { "" } else { "s" },
        answer.step_s / 60,
        answer.weather.source,
        grouped(answer.weather.ghi_kwh_m2, 0),
    )
}

/// The lines that say something: those that print as nothing in every row are left out.
fn used<'a>(answer: &Comparison, lines: Vec<Line<'a>>) -> Vec<Line<'a>> {
    let nothing = |text: String| matches!(text.as_str(), "0" | "–");
    let says = |line: &Line<'_>| answer.arrangements.iter().enumerate().any(|(i, row)| !nothing(line.1(i, row)));
    lines.into_iter().filter(says).collect()
}

fn section(table: &mut Table, answer: &Comparison, title: &str, lines: &[Line<'_>]) {
    if lines.is_empty() {
        return;
    }
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
    let mark = |r: &Row| if less_water(r, answer) { " *" } else { "" };
    let fuel = |i: usize| full.rows.get(i).map_or(0.0, |d| d.first_year_fuel);
    let burns = (0..full.rows.len()).any(|i| fuel(i) > 0.0);
    let fuel = burns.then(|| line("first year's fuel", move |i, _| grouped(fuel(i), 0)));
    let mut lines = vec![
        line("capital", |_, r| grouped(r.money.capital, 0)),
        line("first year's bill", |_, r| grouped(r.money.first_year_bill, 0)),
    ];
    lines.extend(fuel);
    lines.extend([
        line("paid back in, years", move |_, r| {
            if r.id == reference {
                return "reference".to_owned();
            }
            payback(r.money.payback_years, years) + mark(r)
        }),
        line("net present value", move |_, r| grouped(r.money.npv, 0) + mark(r)),
        line("internal rate of return", move |_, r| percent(r.money.irr) + mark(r)),
        line("cost per m³", |_, r| maybe(r.money.cost_per_m3, 3)),
    ]);
    lines
}

/// Lines of battery and generating set only where some arrangement has them.
fn grid(answer: &Comparison) -> Vec<Line<'_>> {
    let always = |name, of: fn(&Row) -> f64| Some(line(name, move |_, r| grouped(of(r), 0)));
    let some = |name, of: fn(&Row) -> f64| {
        let any = answer.arrangements.iter().any(|r| of(r) > 0.0);
        any.then(|| line(name, move |_, r| grouped(of(r), 0)))
    };
    [
        always("imported", |r| r.grid_kwh.imported),
        always("exported", |r| r.grid_kwh.exported),
        always("pump on array", |r| r.pump_kwh.array),
        always("pump on grid", |r| r.pump_kwh.grid),
        some("pump on battery", |r| r.pump_kwh.battery),
        some("pump on generator", |r| r.pump_kwh.generator),
        always("loads on array", |r| r.load_kwh.array),
        always("loads on grid", |r| r.load_kwh.grid),
        some("loads on battery", |r| r.load_kwh.battery),
        some("loads on generator", |r| r.load_kwh.generator),
        always("loads not served", |r| r.load_kwh.unserved),
        some("through the battery", |r| r.battery_kwh.discharged),
        some("grid into the battery", |r| r.battery_kwh.from_grid),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The generating set's only where some arrangement has one.
fn hours<'a>(answer: &Comparison) -> Vec<Line<'a>> {
    let set = answer.arrangements.iter().any(|r| r.generator.hours > 0.0);
    let mut lines = vec![
        line("outage", |_, r| grouped(r.hours.outage, 0)),
        line("pumping", |_, r| grouped(r.hours.pumping, 0)),
        line("pumping in outages", |_, r| grouped(r.hours.pumping_in_outage, 0)),
    ];
    if set {
        lines.push(line("generating set", |_, r| grouped(r.generator.hours, 0)));
        lines.push(line("its fuel, l", |_, r| grouped(r.generator.fuel_l, 0)));
    }
    lines
}

/// Uses first, then every loss that some arrangement has, then the share used.
fn sun(answer: &Comparison) -> Vec<Line<'_>> {
    let only = |of: Box<dyn Fn(&Row) -> f64>| {
        move |_: usize, r: &Row| {
            if r.array_kwh.available > 0.0 {
                grouped(of(r), 0)
            } else {
                "–".to_owned()
            }
        }
    };
    let any = |of: &dyn Fn(&Row) -> f64| answer.arrangements.iter().any(|r| of(r) > 0.0);
    let mut lines = vec![
        line("available", only(Box::new(|r| r.array_kwh.available))),
        line("to the pump", only(Box::new(|r| r.array_kwh.to_pump))),
        line("to the loads", only(Box::new(|r| r.array_kwh.to_loads))),
    ];
    if any(&|r| r.array_kwh.to_battery) {
        lines.push(line("to the battery", only(Box::new(|r| r.array_kwh.to_battery))));
    }
    lines.push(line("exported, paid", only(Box::new(|r| r.array_kwh.exported_paid))));
    lines.push(line(
        "exported, unpaid",
        only(Box::new(|r| r.array_kwh.exported_unpaid)),
    ));
    for cause in LossCause::ALL {
        if any(&|r| r.array_kwh.lost.of(cause)) {
            lines.push(line(cause.id(), only(Box::new(move |r| r.array_kwh.lost.of(cause)))));
        }
    }
    lines.push(line("share of the sun used", |_, r| percent(r.array_use)));
    lines
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use daylift_study::Memory;
    use daylift_study::compare::{More, compare_in_full};
    use daylift_units::Step;

    #[test]
    fn seven_arrangements_fit_on_a_wide_page() {
        let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/mulenga-ridge");
        let read = daylift_plant_file::read_plant(&example).unwrap();
        let mut full = compare_in_full(
            &read.plant,
            Step::Hour,
            &[],
            More::NOTHING,
            &Memory::none(),
            &mut |_, _| (),
        );
        let names = [
            "grid-only",
            "grid-only+generator",
            "solar-drive",
            "solar-drive-with-grid",
            "grid-tied",
            "dual-mode",
            "battery-hybrid",
        ];
        let (rows, details) = (full.answer.arrangements.clone(), full.rows.clone());
        full.answer.arrangements = names.iter().zip(rows.iter().cycle()).map(|(_, r)| r.clone()).collect();
        full.rows = names.iter().zip(details.iter().cycle()).map(|(_, d)| d.clone()).collect();
        for (row, name) in full.answer.arrangements.iter_mut().zip(names) {
            row.id = name.to_owned();
        }
        let months = crate::print::month_table::text(&full, 120);
        let text = anstream::adapter::strip_str(&super::text(&full, &months, 120)).to_string();
        for line in text.lines() {
            assert!(line.chars().count() <= 120, "{line}");
        }
        assert!(text.contains("-with-grid") && text.contains("+generator"));
    }
}
