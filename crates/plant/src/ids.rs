//! Arrangements and wirings as members of closed lists.

use daylift_units::Id;

use crate::arrangement::{Arrangement, Wiring};

impl Id for Wiring {
    const ALL: &'static [Self] = &Self::ALL;

    fn id(self) -> &'static str {
        self.id()
    }
}

impl Id for Arrangement {
    const ALL: &'static [Self] = &Self::ALL;

    fn id(self) -> &'static str {
        self.id()
    }
}
