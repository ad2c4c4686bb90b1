//! The measurements that run in a process of this program.

pub(crate) mod changes;
pub(crate) mod duty;
pub(crate) mod growth;
pub(crate) mod plant_years;
pub(crate) mod sun_to_dc;
pub(crate) mod synthetic;
pub(crate) mod year_loop;

use clap::ValueEnum;
use serde::Serialize;

/// What to measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Measure {
    /// Weather and sun to DC at one-minute steps.
    SunToDc,
    /// The year loop of `dual-mode` at one-minute steps.
    YearLoop,
    /// Duty points solved exactly.
    Duty,
    /// Cost against steps and against designs.
    Growth,
    /// Plant-years with money, their shared stages already in memory.
    PlantYears,
    /// A year of hours made from twelve means.
    Synthetic,
    /// A value changed on the page, every arrangement calculated again.
    Changes,
}

impl Measure {
    /// Its name on the command line.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::SunToDc => "sun-to-dc",
            Self::YearLoop => "year-loop",
            Self::Duty => "duty",
            Self::Growth => "growth",
            Self::PlantYears => "plant-years",
            Self::Synthetic => "synthetic",
            Self::Changes => "changes",
        }
    }

    /// Measures and prints.
    pub(crate) fn print(self) -> Result<(), String> {
        match self {
            Self::SunToDc => print(&sun_to_dc::measure()?),
            Self::YearLoop => print(&year_loop::measure()?),
            Self::Duty => print(&duty::measure()?),
            Self::Growth => print(&growth::measure()?),
            Self::PlantYears => print(&plant_years::measure()?),
            Self::Synthetic => print(&synthetic::measure()?),
            Self::Changes => print(&changes::measure()?),
        }
    }
}

fn print(found: &impl Serialize) -> Result<(), String> {
    println!("{}", serde_json::to_string(found).map_err(|e| e.to_string())?);
    Ok(())
}
