//! Present value and rate of return.

use daylift_money::{irr, npv};
use daylift_validation::{Allowed, Report, Worst};

use crate::data::{Outcome, Table};

const SOURCE: &str = "numpy-financial 1.0.0";
const ALLOWED: Allowed = Allowed::relative(1e-9);

/// Seeded cash flows, one at a rate of 0 and one that has no rate of return.
pub(crate) fn check(report: &mut Report) -> Outcome {
    let table = Table::read("cash.csv")?;
    let (mut value, mut rate_of_return) = (Worst::new(ALLOWED), Worst::new(Allowed::absolute(1e-9, "")));
    let columns = table.texts("flows")?.into_iter().zip(table.numbers("rate")?);
    let expected = table.numbers("npv")?.into_iter().zip(table.texts("irr")?);
    for (case, ((flows, rate), (npv_theirs, irr_theirs))) in (1_u32..).zip(columns.zip(expected)) {
        let flows: Vec<f64> = flows.split(';').map(str::parse).collect::<Result<_, _>>()?;
        let largest = flows.iter().fold(0.0_f64, |most, flow| most.max(flow.abs()));
        value.see_of(format!("flow {case}"), npv(rate, &flows), npv_theirs, largest);
        let irr_theirs = (!irr_theirs.is_empty()).then(|| irr_theirs.parse()).transpose()?;
        rate_of_return.see_maybe(&format!("flow {case}"), irr(&flows), irr_theirs, 1.0);
    }
    report.push(value.row("net present value, relative to the largest flow", SOURCE));
    report.push(rate_of_return.row("internal rate of return", SOURCE));
    Ok(())
}
