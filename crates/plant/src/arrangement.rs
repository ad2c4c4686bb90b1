//! The supply arrangements: the ways to wire array, grid and pump together.

use std::fmt;

/// A supply arrangement that this version computes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Arrangement {
    /// Pump and loads on the grid, no array.
    GridOnly,
    /// Array on a solar drive.
    SolarDrive,
    /// Array on a grid-tied inverter.
    GridTied,
    /// One array switched between a grid-tied inverter and a solar drive.
    DualMode,
}

impl Arrangement {
    /// All of them, in the order in which they are printed.
    pub const ALL: [Self; 4] = [Self::GridOnly, Self::SolarDrive, Self::GridTied, Self::DualMode];

    /// Name in files, on the command line and in results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::GridOnly => "grid-only",
            Self::SolarDrive => "solar-drive",
            Self::GridTied => "grid-tied",
            Self::DualMode => "dual-mode",
        }
    }

    /// The arrangement of a name.
    #[must_use]
    pub fn from_id(id: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|a| a.id() == id)
    }

    /// Names with their arrangements, for choosing by name.
    #[must_use]
    pub fn choices() -> [(&'static str, Self); 4] {
        Self::ALL.map(|a| (a.id(), a))
    }

    /// Whether it has an array.
    #[must_use]
    pub const fn has_array(self) -> bool {
        !matches!(self, Self::GridOnly)
    }

    /// Whether it needs a solar drive.
    #[must_use]
    pub const fn needs_drive(self) -> bool {
        matches!(self, Self::SolarDrive | Self::DualMode)
    }

    /// Whether it is nothing without a utility.
    #[must_use]
    pub const fn needs_grid(self) -> bool {
        !matches!(self, Self::SolarDrive)
    }

    /// Whether it needs a grid-tied inverter.
    #[must_use]
    pub const fn needs_inverter(self) -> bool {
        matches!(self, Self::GridTied | Self::DualMode)
    }
}

impl fmt::Display for Arrangement {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.id())
    }
}
