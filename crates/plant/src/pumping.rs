//! Rules of pumping: when the pumps of a row run on the bus.

use daylift_units::{Hourly, fingerprint, ids};

use crate::arrangement::Arrangement;
use crate::hours::DayHours;
use crate::plant::Plant;

/// The rule by which the pumps of a row run on the bus. Levels are fractions of the tank's capacity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MainsRule {
    /// Hours in which the bus is open to the pumps.
    pub hours: DayHours,
    /// Level at which the bus stops filling the tank, by the hour of the civil day.
    pub fill: Hourly<f64>,
    /// Level below which pumps run on the bus at any hour.
    pub low_mark: f64,
    /// Share of the pumps' power that the inverters must offer for the pumps to run while the bus is not open to them;
    /// `None`: they do not run then.
    pub surplus: Option<f64>,
}

fingerprint!(MainsRule {
    hours,
    fill,
    low_mark,
    surplus
});

impl MainsRule {
    /// Fill level by default: the whole tank.
    pub const FULL: f64 = 1.0;

    /// Whether the bus fills the tank to the top at every hour.
    #[must_use]
    pub fn fills_the_tank(&self) -> bool {
        self.fill.values().all(|level| *level >= Self::FULL)
    }
}

/// The parts of a rule that a place in the plant file gives; `None` where it leaves a part out.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct GivenRule {
    /// As [`MainsRule::hours`].
    pub hours: Option<DayHours>,
    /// As [`MainsRule::fill`].
    pub fill: Option<Hourly<f64>>,
    /// As [`MainsRule::low_mark`].
    pub low_mark: Option<f64>,
    /// As [`MainsRule::surplus`].
    pub surplus: Option<f64>,
}

impl GivenRule {
    /// These parts; those left out come from another place.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        Self {
            hours: self.hours.or(other.hours),
            fill: self.fill.or(other.fill),
            low_mark: self.low_mark.or(other.low_mark),
            surplus: self.surplus.or(other.surplus),
        }
    }

    /// These parts, and the others from a whole rule.
    #[must_use]
    pub fn over(self, rule: MainsRule) -> MainsRule {
        MainsRule {
            hours: self.hours.unwrap_or(rule.hours),
            fill: self.fill.unwrap_or(rule.fill),
            low_mark: self.low_mark.unwrap_or(rule.low_mark),
            surplus: self.surplus.or(rule.surplus),
        }
    }

    /// Whether it gives no part at all.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// What happens to the parts of a rule that the plant file leaves out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RuleSearch {
    /// The best values are searched for.
    Best,
    /// The defaults apply.
    AsWritten,
}

ids!(RuleSearch { Best = "best", AsWritten = "as-written" });

/// A rule for some rows only.
#[derive(Debug, Clone, PartialEq)]
pub struct RowRule {
    /// The rows that it holds for, each named exactly: a row with an addition is another row.
    pub rows: Vec<Arrangement>,
    /// The parts that it gives.
    pub given: GivenRule,
}

impl RowRule {
    /// Whether it holds for a row.
    #[must_use]
    pub fn holds_for(&self, row: Arrangement) -> bool {
        self.rows.contains(&row)
    }
}

/// When the pumps may run on the bus, and what gets the array's energy first.
#[derive(Debug, Clone, PartialEq)]
pub struct Pumping {
    /// What the file gives for every row, except the low mark, which is the tank's.
    pub given: GivenRule,
    /// Whether the file gives the tank's low mark.
    pub low_mark_is_given: bool,
    /// Rules for some rows; no two give the same part for one row.
    pub rows: Vec<RowRule>,
    /// What happens to the parts that the file leaves out.
    pub search: RuleSearch,
    /// Whether the array's energy on the bus goes to the pumps first; otherwise to the loads.
    pub sun_to_pump_first: bool,
}

impl Plant {
    /// Whether pumps of a row may run on mains or on another bus, so that its rule has an effect. They do not where every
    /// pump has a solar drive that neither an inverter, nor mains on a second input, nor a generator helps.
    #[must_use]
    pub fn pumps_on_bus(&self, row: Arrangement) -> bool {
        let traits = row.traits();
        let only_on_drives = traits.has_drive && !traits.has_inverter && !traits.has_second_input && !row.generator;
        let has_no_strings = |set| self.groups().iter().all(|group| group.set != Some(set));
        !only_on_drives || self.sets.keys().any(has_no_strings)
    }

    /// The parts of a row's rule that the plant file gives, each from the first place that gives it: the row's own rule;
    /// for the hours, the bigger tank's and then the second input's; the rule for every row.
    #[must_use]
    pub fn given_rule(&self, row: Arrangement) -> GivenRule {
        let own = self.pumping.rows.iter().filter(|rule| rule.holds_for(row));
        let own = own.fold(GivenRule::default(), |all, rule| all.or(rule.given));
        let night = self.beside.night_tank.as_ref().filter(|_| row.night_tank);
        let input = self.beside.second_input.as_ref().filter(|_| row.traits().has_second_input);
        let of_equipment = GivenRule {
            hours: night.map(|tank| tank.hours).or_else(|| input.and_then(|input| input.hours)),
            ..GivenRule::default()
        };
        let of_tank = GivenRule {
            low_mark: self.pumping.low_mark_is_given.then(|| self.tank.low_mark()),
            ..GivenRule::default()
        };
        own.or(of_equipment).or(self.pumping.given).or(of_tank)
    }

    /// The rule of a row as the plant file gives it; where it leaves a part out, the default applies.
    #[must_use]
    pub fn written_rule(&self, row: Arrangement) -> MainsRule {
        self.given_rule(row).over(MainsRule {
            hours: DayHours::ALL,
            fill: Hourly::from_array([MainsRule::FULL; 24]),
            low_mark: self.tank.low_mark(),
            surplus: None,
        })
    }
}
