//! Which values to confirm first.

use super::{ValueOrigin, without_numbers};
use crate::outline;

/// The values with the most influence on an answer, the most important first (usual practice): place, depth of the water,
/// demand, pump, grid, tariff, and the sizes and costs of the plant.
const FIRST: [&str; 12] = [
    "site.latitude_deg",
    "site.altitude_m",
    "well.static_level_m",
    "well.aquifer_loss_m_per_m3_h",
    "demand.daily_m3",
    "pump.head_m",
    "grid.outages",
    "tariff.season.prices.per_kwh",
    "outlet.lift_m",
    "tank.capacity_m3",
    "array.modules_per_string",
    "money.capital.cost",
];
/// Most values named: a longer list would not help to begin.
const MOST: usize = 8;

/// The assumed or generic values with the most influence, each with its quantity in words. Of several in a list, only the first is
/// named.
#[must_use]
pub fn confirm_first(origins: &[ValueOrigin]) -> Vec<(&ValueOrigin, &'static str)> {
    let known = outline::paths();
    let named = |of: &str| known.iter().find(|(path, _)| path == of).map_or("", |(_, key)| key.quantity);
    let is = |origin: &ValueOrigin, of: &str| {
        let path = without_numbers(&origin.path);
        origin.origin.is_assumed_or_generic() && path.strip_prefix("pump_set.").unwrap_or(&path) == of
    };
    let first = |of: &&'static str| origins.iter().find(|origin| is(origin, of)).map(|origin| (origin, named(of)));
    FIRST.iter().filter_map(first).take(MOST).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::provenance::Origin;
    use crate::provenance::tests::origin as value;

    #[test]
    fn every_value_named_is_a_key_of_a_file() {
        let known = outline::paths();
        for of in FIRST {
            assert!(known.iter().any(|(path, _)| path == of), "{of}");
        }
    }

    #[test]
    fn only_assumed_or_generic_values_are_named_each_once() {
        let origins = [
            value("tank.capacity_m3", Origin::Assumed),
            value("pump_set[1].well.static_level_m", Origin::Generic),
            value("pump_set[2].well.static_level_m", Origin::Assumed),
            value("demand.daily_m3", Origin::Confirmed),
            value("site.altitude_m", Origin::Given),
        ];
        let named: Vec<&str> = confirm_first(&origins).iter().map(|(origin, _)| origin.path.as_str()).collect();
        assert_eq!(named, ["pump_set[1].well.static_level_m", "tank.capacity_m3"]);
    }
}
