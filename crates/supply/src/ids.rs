//! Causes by their names.

use daylift_units::Id;

use crate::cause::{LossCause, ShortfallCause};

impl Id for LossCause {
    const ALL: &'static [Self] = &Self::ALL;

    fn id(self) -> &'static str {
        self.id()
    }
}

impl Id for ShortfallCause {
    const ALL: &'static [Self] = &Self::ALL;

    fn id(self) -> &'static str {
        self.id()
    }
}
