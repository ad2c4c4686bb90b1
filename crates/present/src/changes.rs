//! What changes from one row to another, in words.

use daylift_study::changes::{Change, Works};

use crate::number::{grouped, significant};
use crate::{say, term};

/// A difference in how the plant works, as a sentence.
#[must_use]
pub fn works(works: Works) -> String {
    match works {
        Works::WithPower(wiring) => term!("works-", wiring),
        Works::WithoutGrid {
            wiring,
            generator: false,
        } => term!("away-", wiring),
        Works::WithoutGrid {
            wiring,
            generator: true,
        } => term!("away-", wiring, ".generator"),
        Works::BiggerTank => say!("works-bigger-tank"),
        Works::TankStays => say!("works-tank-stays"),
    }
}

/// A figure that changes, with its amount.
#[must_use]
pub fn change(change: &Change, currency: &str) -> String {
    let amount = if change.amount < 10.0 {
        significant(2, change.amount)
    } else {
        grouped(change.amount, 0)
    };
    term!(
        "change-",
        change.of,
        amount = amount.replace(' ', "\u{a0}"),
        currency = currency,
        how = if change.more { say!("more") } else { say!("less") },
    )
}
