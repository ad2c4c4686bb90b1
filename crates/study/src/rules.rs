//! Rules of pumping that were found for rows.

use std::collections::BTreeMap;

use daylift_plant::{Arrangement, MainsRule, Plant};
use daylift_units::{Id, ids};

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

/// A part of a rule that the plant file may give.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RulePart {
    /// Hours of pumping on the bus.
    Hours,
    /// Level at which the bus stops filling the tank.
    Fill,
    /// Level below which pumps run on the bus at any hour.
    LowMark,
    /// Share of the pumps' power that inverters must offer outside the rule.
    Surplus,
}

ids!(RulePart { Hours = "mains_hours", Fill = "mains_fill_pct", LowMark = "low_mark_pct", Surplus = "surplus_pct" });

impl RulePart {
    /// The parts that the plant file gives for a row; none for today's way under its best rule, which keeps none of them.
    #[must_use]
    pub fn given(plant: &Plant, row: Arrangement) -> Vec<Self> {
        if row.best_rule {
            return Vec::new();
        }
        let given = plant.given_rule(row);
        let is_given = |part: &Self| match part {
            Self::Hours => given.hours.is_some(),
            Self::Fill => given.fill.is_some(),
            Self::LowMark => given.low_mark.is_some(),
            Self::Surplus => given.surplus.is_some(),
        };
        Self::ALL.iter().copied().filter(is_given).collect()
    }
}

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

    /// These rules without those of rows that do not pass.
    pub(crate) fn only(mut self, passes: impl Fn(Arrangement) -> bool) -> Self {
        self.0.retain(|row, _| passes(*row));
        self
    }

    /// Replaces what is known of some rows: a row without a new rule runs as written.
    pub(crate) fn replace(&mut self, rows: &[Arrangement], rules: Self) {
        self.0.retain(|row, _| !rows.contains(row));
        self.extend(rules);
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
