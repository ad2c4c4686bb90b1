//! Friction in pipes.

use daylift_lift::darcy_friction_factor;
use daylift_validation::{Allowed, Report, Worst};

use crate::data::{Outcome, Table};

/// Colebrook's equation solved exactly.
pub(crate) fn check(report: &mut Report) -> Outcome {
    let table = Table::read("friction.csv")?;
    let roughness = table.numbers("roughness_over_bore")?;
    let mut worst = Worst::new(Allowed::relative(1e-6));
    for ((re, roughness), theirs) in table.numbers("reynolds")?.iter().zip(roughness).zip(table.numbers("darcy")?) {
        let label = format!("Re {re}, ε/D {roughness}");
        worst.see(label, darcy_friction_factor(*re, roughness), theirs);
    }
    report.push(worst.row("Colebrook's friction factor", "fluids 1.3.1"));
    Ok(())
}
