//! Keys that are planned but that nothing computes yet. A file that has one is refused, and the fault says so.

use crate::provenance::without_numbers;

/// A key that a later version will read.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Later {
    /// Its section, or the kind of its equipment file.
    section: &'static str,
    /// The key.
    pub(crate) key: &'static str,
    /// What it is, in words.
    pub(crate) quantity: &'static str,
    /// What to do until then, besides commenting it out.
    pub(crate) meanwhile: &'static str,
}

const LATER: [Later; 3] = [
    later("tariff", "demand_charge_per_kva", "charge for maximum demand", DEMAND),
    later("tariff", "demand_charge_per_kw", "charge for maximum demand", DEMAND),
    later(
        "well",
        "step_test",
        "readings of a step test",
        "give `aquifer_loss_m_per_m3_h` and `well_loss_m_per_m3_h2` as calculated from the test",
    ),
];

const DEMAND: &str = "spread a charge that is nearly the same each month into `fixed_per_month`";

const fn later(section: &'static str, key: &'static str, quantity: &'static str, meanwhile: &'static str) -> Later {
    Later {
        section,
        key,
        quantity,
        meanwhile,
    }
}

/// The planned key of this name in a section; `title` is the section's title with the sections above it.
pub(crate) fn later_key(title: &str, key: &str) -> Option<&'static Later> {
    let title = without_numbers(title);
    let section = title.rsplit('.').next().unwrap_or_default();
    LATER.iter().find(|later| later.section == section && later.key == key)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outline::paths;

    #[test]
    fn a_key_that_is_read_is_not_listed_as_planned() {
        let known = paths();
        for later in LATER {
            let path = format!("{}.{}", later.section, later.key);
            assert!(known.iter().all(|(known, _)| *known != path), "{path} is read");
            let section = format!("{}.", later.section);
            assert!(known.iter().any(|(known, _)| known.starts_with(&section)), "{section}");
        }
    }

    #[test]
    fn a_key_is_found_only_in_its_own_section() {
        assert!(later_key("pump_set[2].well", "step_test").is_some());
        assert!(later_key("tariff", "step_test").is_none());
        assert!(later_key("tariff.season[1]", "demand_charge_per_kva").is_none());
    }
}
