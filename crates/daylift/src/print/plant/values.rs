//! The values of a plant and where they came from.

use comfy_table::CellAlignment;
use daylift_plant_file::provenance::{confirm_first, counts, not_confirmed};
use daylift_plant_file::{Mark, Origin, OriginValue, ValueOrigin};
use daylift_present::{say, term};
use daylift_units::field::number;

use crate::print::table;

/// Counts of values by origin, and the most important values that nobody has confirmed. `plant` is the plant as typed in
/// the call.
pub(super) fn summary(origins: &[ValueOrigin], plant: &str) -> String {
    let mut out = format!("\n{}\n  {}\n", say!("check-values"), counted(origins));
    let open = not_confirmed(origins);
    if open > 0 {
        out += &format!("  {}\n", say!("check-values.not-confirmed", count = open));
    }
    let first = confirm_first(origins);
    if !first.is_empty() {
        out += &format!("  {}:\n", say!("check-values.confirm-first"));
        let rows: Vec<(&str, String, &str)> = first
            .iter()
            .map(|(origin, what)| (origin.path.as_str(), value_text(origin), *what))
            .collect();
        let widest = |length: &dyn Fn(&(&str, String, &str)) -> usize| rows.iter().map(length).max().unwrap_or(0);
        let (path, value) = (widest(&|r| r.0.chars().count()), widest(&|r| r.1.chars().count()));
        for row in &rows {
            out += &format!("    {:<path$}  {:>value$}  {}\n", row.0, row.1, row.2);
        }
    }
    out + &format!("  {}\n", say!("check-values.all", plant = plant))
}

/// Every value: those that nobody has confirmed, then the others.
pub(super) fn all(origins: &[ValueOrigin]) -> String {
    let (open, relied_on): (Vec<&ValueOrigin>, Vec<&ValueOrigin>) =
        origins.iter().partition(|o| o.origin.is_not_confirmed());
    let open = listed(say!("check-origins.not-confirmed"), &open);
    let relied_on = listed(say!("check-origins.relied-on"), &relied_on);
    format!("\n{}\n{open}{relied_on}", counted(origins))
}

/// A table of values with their origins; nothing where there are none.
fn listed(title: String, origins: &[&ValueOrigin]) -> String {
    if origins.is_empty() {
        return String::new();
    }
    let header = [title, say!("check-origins.value"), say!("check-origins.origin")];
    let mut table = table::new(&header);
    if let Some(column) = table.column_mut(2) {
        column.set_cell_alignment(CellAlignment::Left);
    }
    for origin in origins {
        let from = format!("{}: {}", marked(origin), origin.source);
        table.add_row([&origin.path, &value_text(origin), &from]);
    }
    format!("\n{}", table::text(&table))
}

/// The origin with date and note of its mark: `confirmed, 2026-11-30, dip tape`.
fn marked(origin: &ValueOrigin) -> String {
    let Mark { date, note } = origin.mark.clone().unwrap_or_default();
    let parts = [
        Some(origin.origin.id().to_owned()),
        date.map(|date| date.to_string()),
        note,
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// How many values are given, assumed and by default, and how many of any other origin there is.
fn counted(origins: &[ValueOrigin]) -> String {
    let of = |origin: Origin| counts(origins).iter().find(|(is, _)| *is == origin).map_or(0, |(_, count)| *count);
    let always = [Origin::Given, Origin::Assumed, Origin::Default];
    let rest = [Origin::Generic, Origin::Datasheet, Origin::Found, Origin::Confirmed];
    let listed = always.into_iter().chain(rest.into_iter().filter(|origin| of(*origin) > 0));
    listed
        .map(|origin| term!("origin-", origin, ".counted", count = of(origin).to_string()))
        .collect::<Vec<_>>()
        .join(", ")
}

/// How many numbers of a list are shown.
const NUMBERS_SHOWN: usize = 3;

fn value_text(origin: &ValueOrigin) -> String {
    let value = match &origin.value {
        OriginValue::Number(value) => number(*value),
        OriginValue::Lists(lists) => {
            let list = |values: &Vec<f64>| values.iter().map(|v| number(*v)).collect::<Vec<_>>().join(", ");
            lists.iter().map(list).collect::<Vec<_>>().join("; ")
        }
        OriginValue::Flag(flag) => flag.to_string(),
        OriginValue::Text(text) => text.clone(),
        OriginValue::Rule(words) => (*words).to_owned(),
        OriginValue::Numbers(values) => {
            let shown: Vec<String> = values.iter().take(NUMBERS_SHOWN).map(|v| number(*v)).collect();
            let more = if values.len() > NUMBERS_SHOWN { " …" } else { "" };
            format!("{}{more}", shown.join(", "))
        }
    };
    match origin.unit {
        "" => value,
        "°" | "%" if !value.ends_with('…') => format!("{value}{}", origin.unit),
        unit => format!("{value} {unit}"),
    }
}
