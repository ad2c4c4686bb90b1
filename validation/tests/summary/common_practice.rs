//! Rules of thumb of the trade, without a source. They are reported, and none of them can fail.

mod drive;
mod payback;

use crate::data::Outcome;

/// All reports.
pub(crate) fn report() -> Outcome<String> {
    Ok(format!("{}\n{}", drive::report()?, payback::report()?))
}
