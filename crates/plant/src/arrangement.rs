//! The supply arrangements: the ways to wire array, grid and pump together, and what may stand beside them.

use std::fmt;

use daylift_units::fingerprint;

/// How array, grid and pump are wired together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wiring {
    /// Pump and loads on the grid, no array.
    GridOnly,
    /// Array on a solar drive.
    SolarDrive,
    /// Array on a solar drive that has mains as a second input.
    SolarDriveWithGrid,
    /// Array on a grid-tied inverter.
    GridTied,
    /// One array switched between a grid-tied inverter and a solar drive.
    DualMode,
    /// Array and battery on a grid-forming inverter.
    BatteryHybrid,
}

impl Wiring {
    /// All of them, in the order in which they are printed.
    pub const ALL: [Self; 6] = [
        Self::GridOnly,
        Self::SolarDrive,
        Self::SolarDriveWithGrid,
        Self::GridTied,
        Self::DualMode,
        Self::BatteryHybrid,
    ];

    /// Name in files and results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        self.ids()[0]
    }

    /// Names of its rows: alone, with a generator, with a bigger tank, with both.
    const fn ids(self) -> [&'static str; 4] {
        macro_rules! row {
            ($id:literal) => {
                [
                    $id,
                    concat!($id, "+generator"),
                    concat!($id, "+night-tank"),
                    concat!($id, "+generator+night-tank"),
                ]
            };
        }
        match self {
            Self::GridOnly => row!("grid-only"),
            Self::SolarDrive => row!("solar-drive"),
            Self::SolarDriveWithGrid => row!("solar-drive-with-grid"),
            Self::GridTied => row!("grid-tied"),
            Self::DualMode => row!("dual-mode"),
            Self::BatteryHybrid => row!("battery-hybrid"),
        }
    }

    /// Names with their wirings, for choosing by name.
    #[must_use]
    pub fn choices() -> [(&'static str, Self); Self::ALL.len()] {
        Self::ALL.map(|wiring| (wiring.id(), wiring))
    }

    /// Whether it has an array.
    #[must_use]
    pub const fn has_array(self) -> bool {
        !matches!(self, Self::GridOnly)
    }

    /// Whether it needs a solar drive.
    #[must_use]
    pub const fn needs_drive(self) -> bool {
        matches!(self, Self::SolarDrive | Self::SolarDriveWithGrid | Self::DualMode)
    }

    /// Whether it needs inverters.
    #[must_use]
    pub const fn needs_inverter(self) -> bool {
        matches!(self, Self::GridTied | Self::DualMode | Self::BatteryHybrid)
    }

    /// Whether it can do without a utility; `with_generator` when a generating set stands beside it.
    #[must_use]
    pub const fn does_without_grid(self, with_generator: bool) -> bool {
        match self {
            Self::SolarDrive | Self::BatteryHybrid => true,
            Self::GridOnly | Self::SolarDriveWithGrid => with_generator,
            Self::GridTied | Self::DualMode => false,
        }
    }
}

/// A row of a comparison: a wiring, alone or with what stands beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Arrangement {
    /// How array, grid and pump are wired.
    pub wiring: Wiring,
    /// Whether a bigger tank, filled at other hours, takes the place of the tank.
    pub night_tank: bool,
    /// Whether a generating set stands beside it.
    pub generator: bool,
}

fingerprint!(by Hash: Arrangement);

impl Arrangement {
    /// Pump and loads on the grid, no array.
    pub const GRID_ONLY: Self = Self::plain(Wiring::GridOnly);
    /// Array on a solar drive.
    pub const SOLAR_DRIVE: Self = Self::plain(Wiring::SolarDrive);
    /// Array on a solar drive that has mains as a second input.
    pub const SOLAR_DRIVE_WITH_GRID: Self = Self::plain(Wiring::SolarDriveWithGrid);
    /// Array on a grid-tied inverter.
    pub const GRID_TIED: Self = Self::plain(Wiring::GridTied);
    /// One array switched between a grid-tied inverter and a solar drive.
    pub const DUAL_MODE: Self = Self::plain(Wiring::DualMode);
    /// Array and battery on a grid-forming inverter.
    pub const BATTERY_HYBRID: Self = Self::plain(Wiring::BatteryHybrid);

    /// A wiring with nothing beside it.
    #[must_use]
    pub const fn plain(wiring: Wiring) -> Self {
        Self {
            wiring,
            night_tank: false,
            generator: false,
        }
    }

    /// The same with a generating set beside it.
    #[must_use]
    pub const fn with_generator(mut self) -> Self {
        self.generator = true;
        self
    }

    /// The same with a bigger tank in place of the tank.
    #[must_use]
    pub const fn with_night_tank(mut self) -> Self {
        self.night_tank = true;
        self
    }

    /// Every row that there can be, in the order in which they are printed.
    pub const ALL: [Self; 4 * Wiring::ALL.len()] = all();

    /// Name in files, on the command line and in results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        let beside = self.generator as usize + 2 * self.night_tank as usize;
        self.wiring.ids()[beside]
    }

    /// The row of a name.
    #[must_use]
    pub fn from_id(id: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|a| a.id() == id)
    }

    /// Names with their rows, for choosing by name.
    #[must_use]
    pub fn choices() -> [(&'static str, Self); Self::ALL.len()] {
        Self::ALL.map(|a| (a.id(), a))
    }

    /// Whether it has an array.
    #[must_use]
    pub const fn has_array(self) -> bool {
        self.wiring.has_array()
    }

    /// Whether it is nothing without a utility.
    #[must_use]
    pub const fn needs_grid(self) -> bool {
        !self.wiring.does_without_grid(self.generator)
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
    fn every_row_has_a_name_of_its_own() {
        for (i, a) in Arrangement::ALL.into_iter().enumerate() {
            assert_eq!(Arrangement::from_id(a.id()), Some(a));
            assert!(Arrangement::ALL[..i].iter().all(|b| b.id() != a.id()));
            assert_eq!(
                a.id().ends_with("generator") || a.id().contains("generator+"),
                a.generator
            );
            assert_eq!(a.id().ends_with("night-tank"), a.night_tank);
        }
    }
}
