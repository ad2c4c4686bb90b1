//! What is missing of a plant's prices, in words.

use daylift_study::Prices;

use crate::say;

/// What is missing, and what has no value for that reason; `None` if all prices are given.
#[must_use]
pub fn missing(prices: Prices) -> Option<String> {
    match (prices.costs, prices.bill) {
        (true, true) => None,
        (true, false) => Some(say!("prices-none.costs")),
        (false, true) => Some(say!("prices-none.bill")),
        (false, false) => Some(say!("prices-none")),
    }
}
