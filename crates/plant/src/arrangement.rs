//! Supply arrangements: the ways to wire array, grid and pump together, and the additions to them.

use std::fmt;

use daylift_units::fingerprint;

/// Parts and abilities of a wiring; the other code asks for these instead of naming a wiring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[expect(clippy::struct_excessive_bools, reason = "a part is there or not, each by itself")]
pub struct Traits {
    /// Whether it has an array.
    pub has_array: bool,
    /// Whether it has solar drives; pumps with a drive run on it.
    pub has_drive: bool,
    /// Whether it has inverters, through which the array feeds the bus.
    pub has_inverter: bool,
    /// Whether it has a battery, which keeps the bus alive in an outage.
    pub has_battery: bool,
    /// Whether mains feeds a second input of the drives.
    pub has_second_input: bool,
    /// Whether it works without a utility.
    pub without_grid: WithoutGrid,
}

/// Whether a wiring works without a utility.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WithoutGrid {
    /// By itself.
    Alone,
    /// With a generator.
    WithGenerator,
    /// Never.
    Never,
}

/// Declares the wirings, each once: its name, the constant of its plain row, its id, whether it works without a
/// utility, and its parts.
macro_rules! wirings {
    ($($(#[$doc:meta])* $name:ident, $row:ident = $id:literal, $without_grid:ident, [$($part:ident),*];)*) => {
        /// How array, grid and pump are wired together.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Wiring { $($(#[$doc])* $name,)* }

        impl Wiring {
            /// All wirings, in print order.
            pub const ALL: [Self; [$($id),*].len()] = [$(Self::$name),*];

            /// Its parts and abilities.
            #[must_use]
            pub const fn traits(self) -> Traits {
                match self {
                    $(Self::$name => Traits {
                        $($part: true,)*
                        without_grid: WithoutGrid::$without_grid,
                        ..Traits::GRID_ALONE
                    },)*
                }
            }

            /// Names of its rows: plain, with a generator, with a bigger tank, with both; then the same under their
            /// best rule.
            const fn ids(self) -> [&'static str; 8] {
                match self {
                    $(Self::$name => [
                        $id,
                        concat!($id, "+generator"),
                        concat!($id, "+night-tank"),
                        concat!($id, "+generator+night-tank"),
                        concat!($id, "+best-rule"),
                        concat!($id, "+generator+best-rule"),
                        concat!($id, "+night-tank+best-rule"),
                        concat!($id, "+generator+night-tank+best-rule"),
                    ],)*
                }
            }
        }

        impl Arrangement {
            $($(#[$doc])* pub const $row: Self = Self::plain(Wiring::$name);)*
        }
    };
}

wirings! {
    /// Pump and loads on the grid, no array.
    GridOnly, GRID_ONLY = "grid-only", WithGenerator, [];
    /// Array on a solar drive.
    SolarDrive, SOLAR_DRIVE = "solar-drive", Alone, [has_array, has_drive];
    /// Array on a solar drive that has mains as a second input.
    SolarDriveWithGrid, SOLAR_DRIVE_WITH_GRID = "solar-drive-with-grid", WithGenerator, [has_array, has_drive, has_second_input];
    /// Array on a grid-tied inverter.
    GridTied, GRID_TIED = "grid-tied", Never, [has_array, has_inverter];
    /// One array switched between a grid-tied inverter and a solar drive.
    DualMode, DUAL_MODE = "dual-mode", Never, [has_array, has_drive, has_inverter];
    /// Array and battery on a grid-forming inverter.
    BatteryHybrid, BATTERY_HYBRID = "battery-hybrid", Alone, [has_array, has_inverter, has_battery];
}

impl Traits {
    /// Nothing but the grid.
    const GRID_ALONE: Self = Self {
        has_array: false,
        has_drive: false,
        has_inverter: false,
        has_battery: false,
        has_second_input: false,
        without_grid: WithoutGrid::Never,
    };

    /// Whether it works without a utility; `with_generator` is true with a generator.
    #[must_use]
    pub const fn does_without_grid(self, with_generator: bool) -> bool {
        match self.without_grid {
            WithoutGrid::Alone => true,
            WithoutGrid::WithGenerator => with_generator,
            WithoutGrid::Never => false,
        }
    }
}

impl Wiring {
    /// Name in files and results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        self.ids()[0]
    }

    /// Whether it has an array.
    #[must_use]
    pub const fn has_array(self) -> bool {
        self.traits().has_array
    }

    /// Whether it needs a solar drive.
    #[must_use]
    pub const fn needs_drive(self) -> bool {
        self.traits().has_drive
    }

    /// Whether it needs inverters.
    #[must_use]
    pub const fn needs_inverter(self) -> bool {
        self.traits().has_inverter
    }
}

/// A row of a comparison: a wiring with or without additions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Arrangement {
    /// How array, grid and pump are wired.
    pub wiring: Wiring,
    /// Whether a bigger tank, filled at other hours, replaces the tank.
    pub night_tank: bool,
    /// Whether a generator is added.
    pub generator: bool,
    /// Whether this is today's way a second time, under its best rule of pumping. The row without it is the farm as it is.
    pub best_rule: bool,
}

fingerprint!(by Hash: Arrangement);

impl Arrangement {
    /// A wiring without additions.
    #[must_use]
    pub const fn plain(wiring: Wiring) -> Self {
        Self {
            wiring,
            night_tank: false,
            generator: false,
            best_rule: false,
        }
    }

    /// The same row with a generator.
    #[must_use]
    pub const fn with_generator(mut self) -> Self {
        self.generator = true;
        self
    }

    /// The same row with a bigger tank.
    #[must_use]
    pub const fn with_night_tank(mut self) -> Self {
        self.night_tank = true;
        self
    }

    /// The same row under its best rule of pumping.
    #[must_use]
    pub const fn with_best_rule(mut self) -> Self {
        self.best_rule = true;
        self
    }

    /// The same row under the rule of the plant file.
    #[must_use]
    pub const fn as_written(mut self) -> Self {
        self.best_rule = false;
        self
    }

    /// Every row that differs in its equipment, in print order.
    pub const ALL: [Self; 4 * Wiring::ALL.len()] = all();

    /// Name in files, on the command line and in results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        let beside = self.generator as usize + 2 * self.night_tank as usize + 4 * self.best_rule as usize;
        self.wiring.ids()[beside]
    }

    /// The row with this name.
    #[must_use]
    pub fn from_id(id: &str) -> Option<Self> {
        let all = Self::ALL.into_iter();
        all.flat_map(|row| [row, row.with_best_rule()]).find(|row| row.id() == id)
    }

    /// Parts and abilities of its wiring.
    #[must_use]
    pub const fn traits(self) -> Traits {
        self.wiring.traits()
    }

    /// Whether it has an array.
    #[must_use]
    pub const fn has_array(self) -> bool {
        self.traits().has_array
    }

    /// Whether it needs a utility.
    #[must_use]
    pub const fn needs_grid(self) -> bool {
        !self.traits().does_without_grid(self.generator)
    }
}

const fn all() -> [Arrangement; 4 * Wiring::ALL.len()] {
    let mut rows = [Arrangement::GRID_ONLY; 4 * Wiring::ALL.len()];
    let mut i = 0;
    while i < rows.len() {
        rows[i] = Arrangement {
            wiring: Wiring::ALL[i / 4],
            generator: i % 2 == 1,
            night_tank: i % 4 >= 2,
            best_rule: false,
        };
        i += 1;
    }
    rows
}

impl fmt::Display for Arrangement {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.id())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_has_a_unique_name() {
        for (i, a) in Arrangement::ALL.into_iter().enumerate() {
            assert_eq!(Arrangement::from_id(a.id()), Some(a));
            assert!(Arrangement::ALL[..i].iter().all(|b| b.id() != a.id()));
            assert_eq!(
                a.id().ends_with("generator") || a.id().contains("generator+"),
                a.generator
            );
            assert_eq!(a.id().ends_with("night-tank"), a.night_tank);
            let again = a.with_best_rule();
            assert_eq!(again.id(), format!("{}+best-rule", a.id()));
            assert_eq!(Arrangement::from_id(again.id()), Some(again));
        }
    }
}
