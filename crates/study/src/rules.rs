//! Rules of pumping that were found for rows.

use std::collections::BTreeMap;

use daylift_plant::{Arrangement, MainsRule, Plant};
use daylift_units::ids;

/// Where the rule of a row came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Found {
    /// From the plant file and its defaults.
    AsWritten,
    /// From the search: the best rule that keeps today's water.
    Best,
    /// From the search: no rule keeps today's water, this one delivers most.
    Wettest,
}

ids!(Found { AsWritten = "as-written", Best = "best", Wettest = "wettest" });

/// A rule and where it came from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoundRule {
    /// The rule.
    pub rule: MainsRule,
    /// Where it came from.
    pub found: Found,
}

/// The rules that were found for some rows; all others run as written.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rules(BTreeMap<Arrangement, FoundRule>);

impl Rules {
    /// A rule for one row.
    pub(crate) fn one(row: Arrangement, rule: MainsRule) -> Self {
        let found = Found::Best;
        Self(BTreeMap::from([(row, FoundRule { rule, found })]))
    }

    /// Whether a rule was found for a row.
    pub(crate) fn has(&self, row: Arrangement) -> bool {
        self.0.contains_key(&row)
    }

    /// Adds the rules of other rows.
    pub(crate) fn extend(&mut self, others: Self) {
        self.0.extend(others.0);
    }

    /// The rule of a row. What the plant file gives goes before what was found, except in today's way under its best rule.
    #[must_use]
    pub fn of(&self, plant: &Plant, row: Arrangement) -> FoundRule {
        let written = FoundRule {
            rule: plant.written_rule(row),
            found: Found::AsWritten,
        };
        self.0.get(&row).map_or(written, |found| FoundRule {
            rule: if row.best_rule {
                found.rule
            } else {
                plant.given_rule(row).over(found.rule)
            },
            found: found.found,
        })
    }
}

impl FromIterator<(Arrangement, FoundRule)> for Rules {
    fn from_iter<I: IntoIterator<Item = (Arrangement, FoundRule)>>(rules: I) -> Self {
        Self(rules.into_iter().collect())
    }
}
