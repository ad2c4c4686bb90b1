//! Export: what may leave the farm, at what credit, and how much the line allows.

use daylift_grid::{Export, LineSheet, Tariff, WeakLine};
use daylift_units::fields::grid;
use daylift_units::{Fault, Field, MonthHour};

use crate::outline::{ExportKeys, ExportKind, GridKeys, LineKeys};
use crate::read::{Placed, Section};

/// `export` and what belongs to it; the tariff may have credits by hour.
pub(super) fn read(Placed { at, keys }: &Placed<GridKeys>, tariff: Option<&Tariff>) -> Option<Export> {
    let line = keys.line.may(read_line);
    let keys = keys.export.as_ref()?;
    if keys.kind == ExportKind::Forbidden && keys.limit_w.is_some() {
        let words = [
            "a limit although export is \"none\"",
            "a limit only where export is allowed",
            "remove it, or allow export",
        ];
        refuse(at, words, &grid::EXPORT_LIMIT);
        return None;
    }
    let export = match keys.kind {
        ExportKind::Paid => Export::paid(credits(at, keys, tariff)?),
        _ if keys.credit_per_j.is_some() || by_hour(tariff) => {
            let (field, given) = if by_hour(tariff) {
                (
                    &grid::HOUR_CREDIT,
                    "`credit_per_kwh` with a price of the tariff although export is not \"paid\"",
                )
            } else {
                (&grid::EXPORT_CREDIT, "a credit although export is not \"paid\"")
            };
            let words = [
                given,
                "a credit only with export = \"paid\"",
                "remove it, or set export = \"paid\"",
            ];
            refuse(at, words, field);
            return None;
        }
        ExportKind::Forbidden => Export::forbidden(),
        ExportKind::Unpaid => Export::unpaid(),
    };
    let export = match keys.limit_w {
        Some(w) => export.at_most(w),
        None => export,
    };
    Some(match line? {
        Some(line) => export.on_line(line),
        None => export,
    })
}

fn refuse(at: &Section, [given, allowed, remedy]: [&str; 3], field: &Field) {
    at.fault(Fault::new(field.key, field.quantity, given, allowed, remedy));
}

fn by_hour(tariff: Option<&Tariff>) -> bool {
    tariff.is_some_and(|t| t.credits().values().flat_map(|day| day.values()).any(Option::is_some))
}

/// A credit for every hour: that of the tariff if it has one, otherwise the general one.
fn credits(at: &Section, keys: &ExportKeys, tariff: Option<&Tariff>) -> Option<MonthHour<f64>> {
    let general = keys.credit_per_j;
    let none = MonthHour::default();
    let of_hours = tariff.map_or(&none, Tariff::credits);
    let uncovered = of_hours.values().flat_map(|day| day.values()).any(Option::is_none);
    if uncovered && general.is_none() {
        at.fault(Fault::new(
            grid::EXPORT_CREDIT.key,
            grid::EXPORT_CREDIT.quantity,
            "not given",
            "a credit for each kWh exported, as export is \"paid\"",
            "add `export_credit_per_kwh`, or `credit_per_kwh` to every price, or set export = \"unpaid\"",
        ));
        return None;
    }
    if !uncovered && general.is_some() {
        let text = "every price of the tariff has its own `credit_per_kwh`: nothing uses `export_credit_per_kwh`";
        at.book().warn("grid", text);
    }
    let general = general.unwrap_or(0.0);
    Some(of_hours.map(|_, day| day.map(|_, credit| credit.unwrap_or(general))))
}

fn read_line(Placed { at, keys }: &Placed<LineKeys>) -> Option<WeakLine> {
    let keys = keys.as_ref()?;
    at.booked(WeakLine::new(LineSheet {
        resistance_ohm_per_m: keys.resistance_ohm_per_m,
        length_m: keys.length_m,
        nominal_v: keys.nominal_v,
        no_load_voltage: keys.no_load_voltage,
        greatest_voltage: keys.greatest_voltage,
    }))
}
