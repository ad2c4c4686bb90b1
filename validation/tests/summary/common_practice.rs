//! Rules of thumb of the trade, without a source. They are reported, and none of them can fail.

mod drive;
mod payback;
mod sable_hollow;

use crate::data::Outcome;

/// All reports.
pub(crate) fn report() -> Outcome<String> {
    Ok(format!(
        "{}\n{}\n{}",
        drive::report()?,
        sable_hollow::report()?,
        payback::report()?
    ))
}
