//! One arrangement's year as tables.

use daylift_study::Run;
use daylift_supply::LossCause;
use daylift_units::month;

use super::number::{grouped, maybe, payback, percent};
use super::{CAUTION, table};

/// Everything about one arrangement.
pub(crate) fn text(run: &Run) -> String {
    let row = &run.row;
    let mut out = format!(
        "{}, {}: one year in steps of {} min\nweather: {}\n",
        run.plant,
        row.id,
        run.step_s / 60,
        run.weather.source
    );
    out += &answers(run);
    out += &sun(run);
    out += &shortfall(run);
    out += &months(run);
    out += &format!(
        "\nbooks close to {:.0e} (energy), {:.0e} (water), {:.0e} (hours) of the flow\n",
        row.worst_residual.energy, row.worst_residual.water, row.worst_residual.hours
    );
    out + CAUTION
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
    let lines = [
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
    pairs("The year", &lines.map(|(name, value)| (name.to_owned(), value)))
}

fn sun(run: &Run) -> String {
    let e = &run.row.array_kwh;
    if e.available <= 0.0 {
        return String::new();
    }
    let with_share = |kwh: f64| format!("{} kWh {:>6}", grouped(kwh, 0), percent(Some(kwh / e.available)));
    let uses = [
        ("available", e.available),
        ("to the pump", e.to_pump),
        ("to the loads", e.to_loads),
        ("exported, paid", e.exported_paid),
        ("exported, unpaid", e.exported_unpaid),
    ];
    let lost = LossCause::ALL.into_iter().map(|c| (c.id(), e.lost.of(c)));
    let lines: Vec<(String, String)> = uses
        .into_iter()
        .chain(lost)
        .filter(|(_, kwh)| *kwh > 0.0)
        .map(|(name, kwh)| (name.to_owned(), with_share(kwh)))
        .collect();
    pairs("Where the sun went", &lines)
}

fn shortfall(run: &Run) -> String {
    let lines: Vec<(String, String)> = run
        .water_secured
        .shortfall_m3
        .iter()
        .filter(|s| s.m3 > 0.0)
        .map(|s| (s.cause.clone(), format!("{} m³", grouped(s.m3, 0))))
        .collect();
    if lines.is_empty() {
        String::new()
    } else {
        pairs("Why water was short", &lines)
    }
}

fn months(run: &Run) -> String {
    let header = [
        "Month",
        "demand m³",
        "delivered m³",
        "pumping h",
        "outage h",
        "sun kWh",
        "pump kWh",
        "import kWh",
        "export kWh",
        "not served kWh",
    ];
    let mut table = table::new(&header.map(str::to_owned));
    for (name, m) in month::SHORT.iter().zip(&run.months) {
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
