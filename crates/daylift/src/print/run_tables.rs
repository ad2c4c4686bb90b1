//! One arrangement's year as tables and bars.

use daylift_present::number::grouped;
use daylift_present::{run as model, say};
use daylift_study::Run;
use daylift_units::Month;

use super::bars::list;
use super::{caution, page, strings_tables, table};

/// Everything about one arrangement; `plant` is the plant as typed in the call.
pub(crate) fn text(run: &Run, plant: &str, width: usize) -> String {
    let step = (run.step_s / 60).to_string();
    let head = say!("run-head", plant = &run.plant, row = run.row.id.id(), step = step);
    let weather = say!("weather", source = &run.weather.source);
    let strings = strings_tables::verdict_in_short(run.can_be_built.as_ref(), plant, width);
    let mut out = format!("{head}\n{strings}{weather}\n");
    let sun = model::sun(run);
    if !sun.is_empty() {
        out += &(sun + "\n");
    }
    out += &answers(run);
    for note in model::notes(run) {
        out += &format!("\n{}\n", page::hang(&note, width, 2));
    }
    out += &bars(run, width);
    out += &months(run);
    out += &sun_by_hour(run);
    let r = &run.row.worst_residual;
    let (energy, water, hours) = (rounding(r.energy), rounding(r.water), rounding(r.hours));
    out += &format!(
        "\n{}\n",
        say!("run-books", energy = energy, water = water, hours = hours)
    );
    out + &caution(width)
}

/// Mean irradiance on the plane: a line for each month, a column for each hour that ever has sun.
fn sun_by_hour(run: &Run) -> String {
    let sun = &run.plane_by_month_and_hour_w_m2;
    let lit = |hour: &usize| sun.iter().any(|month| month.get(*hour).is_some_and(|w| *w >= 0.5));
    let hours: Vec<usize> = (0..24).filter(lit).collect();
    if hours.is_empty() {
        return String::new();
    }
    let first = std::iter::once(say!("months-month"));
    let mut table = table::new(&first.chain(hours.iter().map(|hour| format!("{hour:02}"))).collect::<Vec<_>>());
    for (name, values) in Month::ALL.map(Month::short).iter().zip(sun) {
        let cells = hours.iter().map(|&hour| grouped(values.get(hour).copied().unwrap_or(0.0), 0));
        table.add_row(std::iter::once((*name).to_owned()).chain(cells));
    }
    format!("\n  {}\n\n{}", say!("run-sun-by-hour"), table::text(&table))
}

fn rounding(residual: f64) -> String {
    if residual == 0.0 {
        "0".to_owned()
    } else {
        format!("{residual:.0e}")
    }
}

fn answers(run: &Run) -> String {
    let mut table = table::new(&[say!("run-title"), String::new()]);
    for fact in model::answers(run) {
        table.add_row([fact.label, fact.value]);
    }
    format!("\n{}", table::text(&table))
}

/// Where the sun went, what the pump ran on, where the water went.
fn bars(run: &Run, width: usize) -> String {
    let wholes = model::wholes(run);
    let names = wholes.iter().flat_map(|of| {
        let parts = of.parts.iter().filter(|p| p.amount > 0.0).map(|p| p.name.chars().count());
        parts.chain(std::iter::once(of.title.chars().count()))
    });
    let names = names.max().unwrap_or(0);
    wholes
        .iter()
        .filter(|of| of.whole.amount > 0.0)
        .map(|of| list(&of.title, of.unit, &of.whole, &of.parts, names, width))
        .collect()
}

fn months(run: &Run) -> String {
    let columns = model::month_columns();
    let first = std::iter::once(say!("months-month"));
    let header = first.chain(columns.iter().map(|column| format!("{}\n{}", column.label, column.unit)));
    let mut table = table::new(&header.collect::<Vec<_>>());
    for (name, m) in Month::ALL.map(Month::short).iter().zip(&run.months) {
        let cells = columns.iter().map(|column| grouped((column.of)(m), 0));
        table.add_row(std::iter::once((*name).to_owned()).chain(cells));
    }
    format!("\n{}", table::text(&table))
}
