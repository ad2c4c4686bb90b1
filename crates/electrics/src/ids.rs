//! Ids of rules, subjects, weights and speed limits.

use daylift_units::Id;

use crate::rule::{Rule, Subject, Weight};
use crate::speed::SpeedLimit;

impl Id for Rule {
    const ALL: &'static [Self] = &Self::ALL;

    fn id(self) -> &'static str {
        self.id()
    }
}

impl Id for Subject {
    const ALL: &'static [Self] = &Self::ALL;

    fn id(self) -> &'static str {
        self.id()
    }
}

impl Id for Weight {
    const ALL: &'static [Self] = &[Self::Forbids, Self::Warns, Self::Notes];

    fn id(self) -> &'static str {
        self.id()
    }
}

impl Id for SpeedLimit {
    const ALL: &'static [Self] = &[Self::Nothing, Self::Power, Self::Voltage];

    fn id(self) -> &'static str {
        self.id()
    }
}
