//! Names of arrangements.

use daylift_plant::{Arrangement, Wiring};

use crate::{say, term};

/// The kind of name for arrangements.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Names {
    /// Ids, as on the command line.
    Ids,
    /// Words.
    Words,
}

impl Names {
    /// The name of an arrangement.
    #[must_use]
    pub fn of(self, row: Arrangement) -> String {
        match self {
            Self::Ids => row.id().to_owned(),
            Self::Words => in_words(row),
        }
    }
}

fn in_words(row: Arrangement) -> String {
    let wiring: Wiring = row.wiring;
    let generator = row.generator.then(|| say!("beside-generator"));
    let tank = row.night_tank.then(|| say!("beside-night-tank"));
    let parts: Vec<String> = [Some(term!("arrangement-", wiring)), generator, tank].into_iter().flatten().collect();
    let name = parts.join(" + ");
    if row.best_rule {
        say!("under-best-rule", row = name)
    } else {
        name
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_in_words_has_the_wiring_then_generator_and_tank() {
        let row = Arrangement::GRID_ONLY.with_generator().with_night_tank();
        assert_eq!(Names::Ids.of(row), "grid-only+generator+night-tank");
        assert_eq!(
            Names::Words.of(row),
            "Grid only + generator + bigger tank filled at night"
        );
    }
}
