//! What a money figure's reader must know of the service that it is for.

use daylift_units::field::thousands;

use super::{Case, Working};
use crate::money::lost;
use crate::service::Level;

/// Marks a money figure of a row that is not comparable, and adds to its caution how the service differs from today's.
/// `includes_values`: whether the figure includes the value of what is missing, where that has one.
pub(super) fn of_service(case: &Case<'_>, includes_values: bool, mut working: Working) -> Working {
    if case.year.arrangement == case.reference.arrangement {
        return working;
    }
    working.comparable = case.row.service.comparable;
    let remarks = remarks(case, includes_values);
    working.caution = std::iter::once(working.caution).chain(remarks).collect::<Vec<_>>().join("; ");
    working
}

fn remarks(case: &Case<'_>, includes_values: bool) -> Vec<String> {
    let (service, today) = (&case.row.service, case.reference_name());
    let lost = lost(case.stages.plant);
    let water_counts = includes_values && lost.water_per_m3.is_some();
    let load_counts = includes_values && lost.load_per_j.is_some();
    let mut out = Vec::new();
    match service.water {
        Level::Less => {
            let end = ending(
                includes_values,
                water_counts,
                "what that water would have earned is not deducted",
            );
            out.push(format!("this arrangement delivers {}{end}", less_water(case)));
        }
        Level::More => {
            let end = ending(includes_values, water_counts, "what that water earns is not counted");
            let more = whole(service.water_delta_m3);
            out.push(format!(
                "this arrangement delivers {more} m³ more water a year than {today} ({}){end}",
                against(case)
            ));
        }
        Level::AsToday => (),
    }
    let load = whole(service.load_delta_kwh.abs());
    match service.loads {
        Level::Less => {
            let end = ending(includes_values, load_counts, "what that costs is not deducted");
            out.push(format!(
                "this arrangement leaves {load} kWh of the loads a year unserved that {today} serves{end}"
            ));
        }
        Level::More => {
            let end = ending(includes_values, load_counts, "what that is worth is not counted");
            out.push(format!(
                "this arrangement serves {load} kWh of the loads a year that {today} leaves unserved{end}"
            ));
        }
        Level::AsToday => (),
    }
    if out.is_empty() {
        out.push(format!(
            "water and loads are served as by {today}: the figure is for the same service"
        ));
    }
    out
}

/// Water that is missing: in the year, or in the worst month where the year is as today.
fn less_water(case: &Case<'_>) -> String {
    let (service, today) = (&case.row.service, case.reference_name());
    let (year, month) = (-service.water_delta_m3, -service.worst_month_delta_m3);
    if year > 0.0 {
        format!(
            "{} m³ less water a year than {today} ({}; {} m³ less in the worst month)",
            whole(year),
            against(case),
            whole(month)
        )
    } else {
        format!(
            "{} m³ less water than {today} in the worst month, though not in the year ({})",
            whole(month),
            against(case)
        )
    }
}

/// What follows a difference of service: nothing for a figure that has nothing to do with values.
fn ending(includes_values: bool, counts: bool, not_counted: &str) -> String {
    match (includes_values, counts) {
        (false, _) => String::new(),
        (true, true) => ": its value is included".to_owned(),
        (true, false) => format!(": {not_counted}"),
    }
}

/// Both years' water.
fn against(case: &Case<'_>) -> String {
    format!(
        "{} m³ against {} m³",
        whole(case.year.costs.delivered_m3),
        whole(case.reference.costs.delivered_m3)
    )
}

fn whole(value: f64) -> String {
    thousands(&format!("{value:.0}"))
}
