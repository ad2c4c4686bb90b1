//! Workings of water: demand, hours of pumping, energy to lift it, water secured; and the share of outages.

use daylift_supply::Flow;
use daylift_units::constants::{GRAVITY_M_S2, HOUR_S, KWH_J};
use daylift_units::{Hour, Month};

use super::{Case, Symbol, Working};
use crate::detail::water_secured;

pub(super) fn workings(case: &Case<'_>) -> Vec<Working> {
    let peak = peak_month(case);
    let mut out = vec![daily_demand(case, peak), outage_share(case)];
    out.extend(pumping_hours_needed(case, peak));
    out.extend(hydraulic_energy(case));
    out.extend(secured(case));
    out.extend(secured_in_outages(case));
    out
}

/// The month with the highest demand per day; the first of several.
fn peak_month(case: &Case<'_>) -> Month {
    let demand = &case.stages.plant.demand;
    let greater = |a: &Month, b: &Month| demand.daily_m3(*a).total_cmp(&demand.daily_m3(*b)).then(b.cmp(a));
    Month::ALL.into_iter().max_by(greater).unwrap_or(Month::January)
}

fn daily_demand(case: &Case<'_>, peak: Month) -> Working {
    let demand = &case.stages.plant.demand;
    let mean_m3_s = Hour::ALL.iter().map(|&hour| demand.flow_m3_s(peak, hour)).sum::<f64>() / 24.0;
    Working {
        name: "daily-demand".into(),
        comparable: true,
        title: format!("Water demand on a day of {}, the month of highest demand", peak.name()),
        value: demand.daily_m3(peak),
        unit: "m³".into(),
        formula: "24 * q".into(),
        symbols: vec![Symbol::new(
            "q",
            "mean demand over the hours of the day",
            mean_m3_s * HOUR_S,
            "m³/h",
        )],
        source: "the plant file".into(),
        caution: "a day in a hot and dry week needs more than the month's average day".into(),
    }
}

fn pumping_hours_needed(case: &Case<'_>, peak: Month) -> Option<Working> {
    let sets = &case.stages.plant.sets;
    let flow_m3_h = sets.iter().filter_map(|s| s.pump_set.mains(peak)).map(|p| p.duty.flow_m3_s).sum::<f64>() * HOUR_S;
    if flow_m3_h <= 0.0 {
        return None;
    }
    let daily_m3 = case.stages.plant.demand.daily_m3(peak);
    Some(Working {
        name: "pumping-hours-needed".into(),
        comparable: true,
        title: format!("Hours of pumping at rated speed for a day's water in {}", peak.name()),
        value: daily_m3 / flow_m3_h,
        unit: "h".into(),
        formula: "D / Q".into(),
        symbols: vec![
            Symbol::new("D", "daily water demand", daily_m3, "m³"),
            Symbol::new("Q", "duty flow of all pumps at rated speed in that month", flow_m3_h, "m³/h"),
        ],
        source: "a definition".into(),
        caution: "an array alone drives a pump at full speed for about six hours of a clear day (usual practice); outages reduce the hours of the grid by their share"
            .into(),
    })
}

/// Minimum energy to lift the year's water: its weight times the standing lift.
fn hydraulic_energy(case: &Case<'_>) -> Option<Working> {
    // The ledger has only the sum of all pump sets, but their lifts differ.
    let [set] = &case.stages.plant.sets.raw[..] else {
        return None;
    };
    let system = set.pump_set.system();
    let density_kg_m3 = system.water().density_kg_m3();
    let months = &case.year.result.ledger.months;
    let (mut energy_j, mut volume_m3, mut moment_m4) = (0.0, 0.0, 0.0);
    for (month, book) in months {
        let lift_m = system.static_head_m(month);
        energy_j += density_kg_m3 * GRAVITY_M_S2 * book[Flow::Pumped] * lift_m;
        volume_m3 += book[Flow::Pumped];
        moment_m4 += book[Flow::Pumped] * lift_m;
    }
    (volume_m3 > 0.0).then(|| Working {
        name: "hydraulic-energy".into(),
        comparable: true,
        title: format!(
            "Energy to lift the year's water through the standing lift, {}",
            case.name()
        ),
        value: energy_j / KWH_J,
        unit: "kWh".into(),
        formula: "rho * g * V * H / 3600000".into(),
        symbols: vec![
            Symbol::new("rho", "density of the water", density_kg_m3, "kg/m³"),
            Symbol::new("g", "gravity", GRAVITY_M_S2, "m/s²"),
            Symbol::new("V", "pumped in the year", volume_m3, "m³"),
            Symbol::new(
                "H",
                "head at no flow, mean of the months weighted by volume",
                moment_m4 / volume_m3,
                "m",
            ),
        ],
        source: "weight times lift".into(),
        caution: "without drawdown and friction, which depend on the flow: the shaft energy is higher".into(),
    })
}

fn secured(case: &Case<'_>) -> Option<Working> {
    let value = water_secured(case.year).year?;
    let w = &case.row.water_m3;
    Some(Working {
        name: "water-secured".into(),
        comparable: true,
        title: format!("Water secured: share of the demand that was delivered, {}", case.name()),
        value: value * 100.0,
        unit: "%".into(),
        formula: "100 * W / D".into(),
        symbols: vec![
            Symbol::new("W", "delivered in the year", w.of(Flow::Delivered), "m³"),
            Symbol::new("D", "demand in the year", w.of(Flow::Demand), "m³"),
        ],
        source: "a definition".into(),
        caution: "a good yearly mean can hide a bad week in an important month: see the worst shortage".into(),
    })
}

fn secured_in_outages(case: &Case<'_>) -> Option<Working> {
    let value = water_secured(case.year).in_outages?;
    let sum = case.year.result.ledger.year();
    Some(Working {
        name: "water-secured-in-outages".into(),
        comparable: true,
        title: format!(
            "Water secured in outages: share of the demand in outages that was delivered, {}",
            case.name()
        ),
        value: value * 100.0,
        unit: "%".into(),
        formula: "100 * W / D".into(),
        symbols: vec![
            Symbol::new("W", "delivered during outages", sum[Flow::DeliveredInOutage], "m³"),
            Symbol::new("D", "demand during outages", sum[Flow::DemandInOutage], "m³"),
        ],
        source: "a definition".into(),
        caution: "the tank delivers too: this is the water that reached the farm, not the water pumped in outages"
            .into(),
    })
}

fn outage_share(case: &Case<'_>) -> Working {
    let (outages, axis) = (&case.stages.plant.grid.outages, &case.stages.axis);
    Working {
        name: "outage-share".into(),
        comparable: true,
        title: "Outages: share of the hours of the year".into(),
        value: 100.0 * outages.total_s() / axis.length_s(),
        unit: "%".into(),
        formula: "100 * T / Y".into(),
        symbols: vec![
            Symbol::new("T", "outages in the year", outages.total_s() / HOUR_S, "h"),
            Symbol::new("Y", "hours of the year", axis.length_s() / HOUR_S, "h"),
        ],
        source: "a definition".into(),
        caution: "next year's outages will be different; low voltage counts only if [grid.voltage] or the outage list contains it".into(),
    }
}
