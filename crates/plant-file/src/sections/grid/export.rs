//! What may leave the farm, at what credit, and what the line bears.

use daylift_grid::{Export, LineSheet, Tariff, WeakLine};
use daylift_units::Fault;
use daylift_units::fields::{grid, line};

use crate::read::Section;
use crate::sections::equipment::booked;

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Forbidden,
    Unpaid,
    Paid,
}

/// `export` and what belongs to it; the tariff may have credits by hour.
pub(super) fn read(section: &Section<'_>, tariff: Option<&Tariff>) -> Option<Export> {
    let kinds = [
        ("none", Kind::Forbidden),
        ("unpaid", Kind::Unpaid),
        ("paid", Kind::Paid),
    ];
    section.know(grid::EXPORT_CREDIT.key);
    section.know(grid::EXPORT_LIMIT.key);
    let line = section.optional_table("line", "line", read_line);
    let kind = section.choice("export", "export of surplus energy", &kinds)?;
    let limit_w = section.optional(&grid::EXPORT_LIMIT);
    if kind == Kind::Forbidden && section.has(grid::EXPORT_LIMIT.key) {
        let said = [
            "a limit although export is \"none\"",
            "a limit only where energy may leave",
            "remove it, or allow export",
        ];
        refuse(section, said, &grid::EXPORT_LIMIT);
        return None;
    }
    let export = match kind {
        Kind::Paid => Export::paid(credits(section, tariff)?),
        _ if section.has(grid::EXPORT_CREDIT.key) || by_hour(tariff) => {
            let (field, given) = if by_hour(tariff) {
                (
                    &grid::HOUR_CREDIT,
                    "`credit_per_kwh` beside a price of the tariff although export is not \"paid\"",
                )
            } else {
                (&grid::EXPORT_CREDIT, "a credit although export is not \"paid\"")
            };
            let said = [
                given,
                "a credit only with export = \"paid\"",
                "remove it, or set export = \"paid\"",
            ];
            refuse(section, said, field);
            return None;
        }
        Kind::Forbidden => Export::forbidden(),
        Kind::Unpaid => Export::unpaid(),
    };
    let export = match limit_w {
        Some(w) => export.at_most(w),
        None if section.has(grid::EXPORT_LIMIT.key) => return None,
        None => export,
    };
    Some(match line? {
        Some(line) => export.on_line(line),
        None => export,
    })
}

fn refuse(section: &Section<'_>, [given, allowed, remedy]: [&str; 3], field: &daylift_units::Field) {
    section.fault(Fault::new(field.key, field.quantity, given, allowed, remedy));
}

fn by_hour(tariff: Option<&Tariff>) -> bool {
    tariff.is_some_and(|t| t.credits().values().flat_map(|day| day.values()).any(Option::is_some))
}

/// A credit for every hour: the tariff's where it has one, else the one for all hours.
fn credits(section: &Section<'_>, tariff: Option<&Tariff>) -> Option<daylift_units::MonthHour<f64>> {
    let general = section.optional(&grid::EXPORT_CREDIT);
    if section.has(grid::EXPORT_CREDIT.key) && general.is_none() {
        return None;
    }
    let none = daylift_units::MonthHour::default();
    let of_hours = tariff.map_or(&none, Tariff::credits);
    let uncovered = of_hours.values().flat_map(|day| day.values()).any(Option::is_none);
    // Without a readable tariff the fault stands there.
    if uncovered && general.is_none() && (tariff.is_some() || !section.has(grid::EXPORT_CREDIT.key)) {
        section.fault(Fault::new(
            grid::EXPORT_CREDIT.key,
            grid::EXPORT_CREDIT.quantity,
            "nothing",
            "a credit for each kWh exported, as export is \"paid\"",
            "add `export_credit_per_kwh`, or `credit_per_kwh` beside every price, or set export = \"unpaid\"",
        ));
        return None;
    }
    if !uncovered && general.is_some() {
        let text = "every price of the tariff has its own `credit_per_kwh`: nothing uses `export_credit_per_kwh`";
        section.book().warn("grid", text);
    }
    let general = general.unwrap_or(0.0);
    Some(of_hours.map(|_, day| day.map(|_, credit| credit.unwrap_or(general))))
}

fn read_line(section: &Section<'_>) -> Option<WeakLine> {
    let values = (
        section.number(&line::RESISTANCE),
        section.number(&line::LENGTH),
        section.number(&line::NOMINAL),
        section.number(&line::NO_LOAD),
        section.number(&line::GREATEST),
    );
    let sheet = LineSheet {
        resistance_ohm_per_m: values.0?,
        length_m: values.1?,
        nominal_v: values.2?,
        no_load_voltage: values.3?,
        greatest_voltage: values.4?,
    };
    booked(section, WeakLine::new(sheet))
}
