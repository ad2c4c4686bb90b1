//! The year of one arrangement: answers as lines, flows as wholes with parts, and the columns of its months.

use daylift_study::Run;
use daylift_study::detail::Month;
use daylift_study::service::PricedAt;
use daylift_supply::Flow;

use crate::flows::{self, Matter, Part};
use crate::names::Names;
use crate::number::{grouped, maybe, payback, percent};
use crate::service::{in_short, mark, note, priced_at};
use crate::{prices, rule, say};

/// A line of the answers: a label, and a value with its unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fact {
    /// Its label.
    pub label: String,
    /// Its value, with the unit.
    pub value: String,
}

impl Fact {
    fn new(label: String, value: String) -> Self {
        Self { label, value }
    }
}

/// The answers of the year, line by line.
#[must_use]
pub fn answers(run: &Run) -> Vec<Fact> {
    let mut out = service(run);
    out.extend(money(run));
    out.extend(beside(run));
    out
}

/// A whole number with its unit.
fn whole(label: String, value: f64, unit: &str) -> Fact {
    Fact::new(label, format!("{} {unit}", grouped(value, 0)))
}

fn service(run: &Run) -> Vec<Fact> {
    let (row, secured) = (&run.row, &run.water_secured);
    let shortage = &row.shortage;
    let worst = say!(
        "run-worst-shortage",
        amount = grouped(shortage.worst_m3, 0),
        days = grouped(shortage.worst_days, 1)
    );
    let pumping = say!(
        "run-pumping",
        pumping = grouped(row.hours.of(Flow::Pumping), 0),
        away = grouped(row.hours.of(Flow::PumpingInOutage), 0)
    );
    let mut facts = vec![
        Fact::new(say!("answer-water.terminal"), percent(secured.year)),
        Fact::new(say!("answer-water-in-outages"), percent(secured.in_outages)),
        Fact::new(say!("answer-shortage.terminal"), worst),
        Fact::new(say!("shortage-short-days"), shortage.short_days.to_string()),
        Fact::new(
            say!("shortage-dry-spell"),
            say!("counted-days", count = shortage.dry_spell_days),
        ),
        Fact::new(say!("answer-sun.terminal"), percent(row.array_use)),
        whole(say!("water-delivered"), row.water_m3.of(Flow::Delivered), "m³"),
        Fact::new(say!("hours-pumping"), pumping),
    ];
    facts.extend(rule::facts(row.rule.as_ref()).into_iter().map(|(label, value)| Fact::new(label, value)));
    facts.extend(starts(run));
    facts.extend([
        whole(say!("run-utility-away"), row.hours.of(Flow::Outage), "h"),
        whole(say!("grid-imported"), row.grid_kwh.of(Flow::Imported), "kWh"),
        whole(say!("grid-exported"), row.grid_kwh.of(Flow::Exported), "kWh"),
    ]);
    let not_exported_kwh = row.export_limit_ac_kwh;
    facts.extend((not_exported_kwh > 0.0).then(|| whole(say!("grid-not-exported"), not_exported_kwh, "kWh")));
    facts.extend([whole(say!("loads-not-served"), row.load_kwh.of(Flow::Unserved), "kWh")]);
    facts
}

/// Starts of motors and drives, and cycles of the changeover, as far as there are any.
/// Starts of motors, and of what the row has besides.
fn starts(run: &Run) -> Vec<Fact> {
    let starts = &run.row.starts;
    let number = |count: u32| grouped(f64::from(count), 0);
    let (motor, most) = (number(starts.motor), number(starts.most_in_a_day));
    let motors = match starts.on_sun.filter(|on_sun| *on_sun > 0) {
        Some(on_sun) => say!("run-starts.sun", motor = motor, sun = number(on_sun), most = most),
        None => say!("run-starts", motor = motor, most = most),
    };
    let cycles = u32::try_from(starts.changeover_cycles).unwrap_or(u32::MAX);
    let ups = starts.drive_power_ups;
    let ups = (ups > 0).then(|| Fact::new(say!("run-power-ups"), number(ups)));
    let cycles = (cycles > 0).then(|| Fact::new(say!("run-cycles"), number(cycles)));
    let motors = Fact::new(say!("run-starts-title"), motors);
    [Some(motors), ups, cycles].into_iter().flatten().collect()
}

fn money(run: &Run) -> Vec<Fact> {
    let money = &run.row.money;
    let currency = money.currency.as_str();
    let paid_back = if run.row.id == run.reference {
        say!("money-reference")
    } else {
        payback(money.payback_years, run.years)
    };
    let mut first = vec![Fact::new(say!("money-service"), in_short(&run.row))];
    let mut figures = Vec::new();
    if run.prices.costs {
        first.push(whole(say!("money-capital"), money.capital, currency));
    }
    if run.prices.bill {
        figures.push(whole(say!("answer-bill.terminal"), money.first_year_bill, currency));
    }
    let mark = mark(&run.row.service);
    let with_mark = |fact: Fact| Fact::new(fact.label, fact.value + mark);
    if let Some(missing) = prices::missing(run.prices) {
        let missing = Fact::new(say!("money-label"), missing);
        return first.into_iter().chain(figures.into_iter().map(with_mark)).chain([missing]).collect();
    }
    figures.extend([
        Fact::new(
            format!("{}, {}", say!("answer-payback.terminal"), say!("unit-years")),
            paid_back,
        ),
        Fact::new(say!("money-npv"), format!("{} {currency}", maybe(money.npv, 0))),
        Fact::new(
            say!("money-per-m3"),
            format!("{} {currency}", maybe(money.cost_per_m3, 3)),
        ),
    ]);
    first.into_iter().chain(figures.into_iter().map(with_mark)).collect()
}

/// Texts below the answers: what the row lacks if its figures are marked, and values of what is missing.
#[must_use]
pub fn notes(run: &Run) -> Vec<String> {
    let missing = note(&run.row, Names::Ids, run.reference).filter(|_| !run.prices.are_none());
    let currency = &run.row.money.currency;
    // With a value for both, every row of the plant is comparable.
    let all = |values: &PricedAt| values.water_per_m3.is_some() && values.load_per_kwh.is_some();
    let priced = run.priced_at.as_ref().map(|values| priced_at(values, currency, all(values)));
    missing.into_iter().chain(priced).collect()
}

/// Lines of battery and generator, if they are used.
fn beside(run: &Run) -> Vec<Fact> {
    let discharged_kwh = run.row.battery_kwh.of(Flow::Discharged);
    let set = |flow| run.row.generator.of(flow);
    let battery = (discharged_kwh > 0.0).then(|| {
        let share = percent(Some(run.battery_of_array.unwrap_or(0.0)));
        let text = say!("run-battery", discharged = grouped(discharged_kwh, 0), share = share);
        Fact::new(say!("battery-through"), text)
    });
    let set = (set(Flow::GeneratorRunning) > 0.0).then(|| {
        let whole = |flow| grouped(set(flow), 0);
        let (made, hours, fuel) = (whole(Flow::Generated), whole(Flow::GeneratorRunning), whole(Flow::Fuel));
        Fact::new(
            say!("hours-generator"),
            say!("run-generator", made = made, hours = hours, fuel = fuel),
        )
    });
    battery.into_iter().chain(set).collect()
}

/// A whole and its parts.
#[derive(Debug, Clone, PartialEq)]
pub struct Whole {
    /// Its title.
    pub title: String,
    /// Unit of whole and parts.
    pub unit: &'static str,
    /// The whole.
    pub whole: Part,
    /// Its parts.
    pub parts: Vec<Part>,
}

/// The array's energy by use and loss, the pump's energy by source, and the water by delivery and shortfall.
#[must_use]
pub fn wholes(run: &Run) -> [Whole; 3] {
    let row = &run.row;
    let pump = flows::pump(&row.pump_kwh);
    let of_pump = pump.iter().map(|p| p.amount).sum();
    [
        Whole {
            title: say!("flows-sun"),
            unit: "kWh",
            whole: Part::new(say!("sun-available"), row.array_kwh.of(Flow::Available), Matter::Sun),
            parts: flows::sun(&row.array_kwh),
        },
        Whole {
            title: say!("flows-pump"),
            unit: "kWh",
            whole: Part::new(say!("bars-pump"), of_pump, Matter::Water),
            parts: pump,
        },
        Whole {
            title: say!("flows-water"),
            unit: "m³",
            whole: Part::new(say!("water-demand"), row.water_m3.of(Flow::Demand), Matter::Water),
            parts: flows::water(&row.water_m3, &run.water_secured),
        },
    ]
}

/// A column of the table of months.
pub struct MonthColumn {
    /// Its label.
    pub label: String,
    /// Its unit.
    pub unit: &'static str,
    /// Its value for a month.
    pub of: fn(&Month) -> f64,
}

/// The columns of the table of months.
#[must_use]
pub fn month_columns() -> Vec<MonthColumn> {
    let column = |label, unit, of: fn(&Month) -> f64| MonthColumn { label, unit, of };
    vec![
        column(say!("water-demand"), "m³", |m| m.of(Flow::Demand)),
        column(say!("month-delivered"), "m³", |m| m.of(Flow::Delivered)),
        column(say!("month-pumping"), "h", |m| m.of(Flow::Pumping)),
        column(say!("month-outage"), "h", |m| m.of(Flow::Outage)),
        column(say!("month-sun"), "kWh", |m| m.of(Flow::Available)),
        column(say!("month-pump"), "kWh", Month::pump_kwh),
        column(say!("month-import"), "kWh", |m| m.of(Flow::Imported)),
        column(say!("month-export"), "kWh", |m| m.array_kwh.exported()),
        column(say!("month-not-served"), "kWh", |m| m.of(Flow::Unserved)),
    ]
}

/// Minimum loss to shade that is mentioned \[kWh/m² a year\].
const SMALLEST_SHADE: f64 = 0.5;

/// The year's irradiation on the plane, and the losses to shade before it; empty without an array.
#[must_use]
pub fn sun(run: &Run) -> String {
    let on_plane = run.weather.plane_kwh_m2;
    if on_plane <= 0.0 {
        return String::new();
    }
    let (horizon, rows) = (run.shade.to_horizon_kwh_m2, run.shade.to_rows_kwh_m2);
    let share = |kwh_m2: f64| percent(Some(kwh_m2 / (on_plane + horizon + rows)));
    let mut parts = vec![say!("run-sun", plane = grouped(on_plane, 0))];
    if horizon >= SMALLEST_SHADE {
        parts.push(say!(
            "run-shade-horizon",
            taken = grouped(horizon, 0),
            share = share(horizon)
        ));
    }
    if rows >= SMALLEST_SHADE {
        parts.push(say!("run-shade-rows", taken = grouped(rows, 0), share = share(rows)));
    }
    parts.join(", ")
}
