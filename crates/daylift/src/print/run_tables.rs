//! One arrangement's year as tables and bars.

use daylift_study::Run;
use daylift_units::Month;

use super::bars::{Matter, Part, list};
use super::number::{grouped, maybe, payback, percent};
use super::{caution, flows, table};

/// Everything about one arrangement.
pub(crate) fn text(run: &Run, width: usize) -> String {
    let row = &run.row;
    let mut out = format!(
        "{}, {}: one year in steps of {} min\nweather: {}\n",
        run.plant,
        row.id,
        run.step_s / 60,
        run.weather.source
    );
    out += &sun(run);
    out += &answers(run);
    out += &bars(run, width);
    out += &months(run);
    out += &sun_by_hour(run);
    let r = &row.worst_residual;
    out += &format!(
        "\nbooks close to {} (energy), {} (water), {} (hours) of the flow\n",
        rounding(r.energy),
        rounding(r.water),
        rounding(r.hours)
    );
    out + &caution(width)
}

/// The year's sun on the plane, and what shade took before.
fn sun(run: &Run) -> String {
    let on_plane = run.weather.plane_kwh_m2;
    if on_plane <= 0.0 {
        return String::new();
    }
    let mut out = format!("sun: {} kWh/m² on the array's plane", grouped(on_plane, 0));
    let taken = [
        ("the horizon", run.shade.to_horizon_kwh_m2),
        ("neighbouring rows", run.shade.to_rows_kwh_m2),
    ];
    let whole = on_plane + taken.iter().map(|(_, kwh_m2)| kwh_m2).sum::<f64>();
    for (what, kwh_m2) in taken.iter().filter(|(_, kwh_m2)| *kwh_m2 >= TOLD_KWH_M2) {
        let share = percent(Some(kwh_m2 / whole));
        out += &format!(", {} kWh/m² ({share}) taken by {what}", grouped(*kwh_m2, 0));
    }
    out + "\n"
}

/// Shade that is told \[kWh/m² a year\].
const TOLD_KWH_M2: f64 = 0.5;

/// Mean irradiance on the plane: a line for each month, a column for each hour that ever has sun.
fn sun_by_hour(run: &Run) -> String {
    let sun = &run.plane_by_month_and_hour_w_m2;
    let lit = |hour: &usize| sun.iter().any(|month| month.get(*hour).is_some_and(|w| *w >= 0.5));
    let hours: Vec<usize> = (0..24).filter(lit).collect();
    if hours.is_empty() {
        return String::new();
    }
    let first = std::iter::once("Month".to_owned());
    let mut table = table::new(&first.chain(hours.iter().map(|hour| format!("{hour:02}"))).collect::<Vec<_>>());
    for (name, values) in Month::ALL.map(Month::short).iter().zip(sun) {
        let cells = hours.iter().map(|&hour| grouped(values.get(hour).copied().unwrap_or(0.0), 0));
        table.add_row(std::iter::once((*name).to_owned()).chain(cells));
    }
    format!(
        "\n  Sun on the array's plane, mean W/m² by month and hour of the day (07: from 7:00 to 8:00)\n\n{}",
        table::text(&table)
    )
}

fn rounding(residual: f64) -> String {
    if residual == 0.0 {
        "0".to_owned()
    } else {
        format!("{residual:.0e}")
    }
}

fn pairs(title: &str, lines: &[(String, String)]) -> String {
    let mut table = table::new(&[title.to_owned(), String::new()]);
    for (name, value) in lines {
        table.add_row([name, value]);
    }
    format!("\n{}", table::text(&table))
}

fn answers(run: &Run) -> String {
    let (row, secured, money) = (&run.row, &run.water_secured, &run.row.money);
    let payback = if row.id == run.reference {
        "reference".to_owned()
    } else {
        payback(money.payback_years, run.years)
    };
    let mut lines = vec![
        ("water secured", percent(secured.year)),
        ("water secured in outages", percent(secured.in_outages)),
        ("longest dry spell", format!("{} days", secured.longest_dry_spell_days)),
        ("share of the sun used", percent(row.array_use)),
        ("delivered", format!("{} m³", grouped(row.water_m3.delivered, 0))),
        (
            "pumping",
            format!(
                "{} h, of them in outages {} h",
                grouped(row.hours.pumping, 0),
                grouped(row.hours.pumping_in_outage, 0)
            ),
        ),
        ("utility away", format!("{} h", grouped(row.hours.outage, 0))),
        ("imported", format!("{} kWh", grouped(row.grid_kwh.imported, 0))),
        ("exported", format!("{} kWh", grouped(row.grid_kwh.exported, 0))),
        ("loads not served", format!("{} kWh", grouped(row.load_kwh.unserved, 0))),
        ("capital", format!("{} {}", grouped(money.capital, 0), money.currency)),
        (
            "first year's bill",
            format!("{} {}", grouped(money.first_year_bill, 0), money.currency),
        ),
        ("paid back in, years", payback),
        (
            "net present value",
            format!("{} {}", grouped(money.npv, 0), money.currency),
        ),
        (
            "cost per m³",
            format!("{} {}", maybe(money.cost_per_m3, 3), money.currency),
        ),
    ];
    let (battery, set) = (&row.battery_kwh, &row.generator);
    if battery.discharged > 0.0 {
        let from_array = run.battery_of_array.unwrap_or(0.0);
        lines.push((
            "through the battery",
            format!(
                "{} kWh, {} of it from the array",
                grouped(battery.discharged, 0),
                percent(Some(from_array))
            ),
        ));
    }
    if set.hours > 0.0 {
        lines.push((
            "generating set",
            format!(
                "{} kWh in {} h, {} l of fuel",
                grouped(set.kwh, 0),
                grouped(set.hours, 0),
                grouped(set.fuel_l, 0)
            ),
        ));
    }
    let lines: Vec<(String, String)> = lines.into_iter().map(|(name, value)| (name.to_owned(), value)).collect();
    pairs("The year", &lines)
}

/// Where the sun went, what the pump ran on, where the water went.
fn bars(run: &Run, width: usize) -> String {
    let row = &run.row;
    let wholes = [
        (
            "Where the sun went",
            "kWh",
            Part::new("available", row.array_kwh.available, Matter::Sun),
            flows::sun(&row.array_kwh),
        ),
        (
            "What the pump ran on",
            "kWh",
            Part::new(
                "pump",
                flows::pump(&row.pump_kwh).iter().map(|p| p.amount).sum(),
                Matter::Water,
            ),
            flows::pump(&row.pump_kwh),
        ),
        (
            "Where the water went",
            "m³",
            Part::new("demand", row.water_m3.demand, Matter::Water),
            flows::water(&row.water_m3, &run.water_secured),
        ),
    ];
    let there = |p: &&Part| p.amount > 0.0;
    let names = wholes.iter().flat_map(|(title, _, _, parts)| {
        let parts = parts.iter().filter(there).map(|p| p.name.chars().count());
        parts.chain(std::iter::once(title.chars().count()))
    });
    let names = names.max().unwrap_or(0);
    wholes
        .iter()
        .filter(|(_, _, whole, _)| whole.amount > 0.0)
        .map(|(title, unit, whole, parts)| list(title, unit, whole, parts, names, width))
        .collect()
}

fn months(run: &Run) -> String {
    let header = [
        "Month",
        "demand\nm³",
        "delivered\nm³",
        "pumping\nh",
        "outage\nh",
        "sun\nkWh",
        "pump\nkWh",
        "import\nkWh",
        "export\nkWh",
        "not served\nkWh",
    ];
    let mut table = table::new(&header.map(str::to_owned));
    for (name, m) in Month::ALL.map(Month::short).iter().zip(&run.months) {
        let exported = m.array_kwh.exported_paid + m.array_kwh.exported_unpaid;
        let values = [
            m.demand_m3,
            m.delivered_m3,
            m.pumping_h,
            m.outage_h,
            m.array_kwh.available,
            m.pump_kwh,
            m.imported_kwh,
            exported,
            m.unserved_kwh,
        ];
        table.add_row(std::iter::once((*name).to_owned()).chain(values.map(|v| grouped(v, 0))));
    }
    format!("\n{}", table::text(&table))
}
