//! What the command line takes.

use std::path::PathBuf;

use clap::builder::PossibleValuesParser;
use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};
use daylift_plant::{Arrangement, Wiring};
use daylift_study::workings::NAMES;
use daylift_units::fields::site;
use daylift_units::{Axis, Field, Step};

use crate::examples;

/// Asks for every working.
pub(crate) const ALL_WORKINGS: &str = "all";

/// What each way of wiring array, grid and pump delivers on this farm: water, energy and money, through sunny days,
/// nights and outages.
///
/// Figures are estimates from the inputs shown. PV strings are live whenever there is light; no plant may feed a dead
/// grid; local codes, the utility and a licensed electrician come first.
#[derive(Debug, Parser)]
#[command(version, propagate_version = true, arg_required_else_help = true)]
pub(crate) struct Args {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Start a plant in a new folder from a worked example, at the farm's own coordinates when they are given.
    New(NewArgs),
    /// Read a plant and all its files; print every fault at once, or what was understood.
    Check(CheckArgs),
    /// Run one arrangement through a year.
    Run(RunArgs),
    /// Put every arrangement that the plant has the parts for side by side.
    Compare(CompareArgs),
    /// Judge the strings for inverter and drive together; find every layout of the modules that suits both.
    Strings(StringsArgs),
    /// Show a plant in a browser on this machine, and change it there.
    Desk(DeskArgs),
    /// Print the JSON Schema of a result, of a plant file or of an equipment file.
    Schema(SchemaArgs),
}

#[derive(Debug, ClapArgs)]
pub(crate) struct NewArgs {
    /// Folder to make; it must be new or empty.
    pub(crate) folder: PathBuf,
    #[arg(long, value_name = "EXAMPLE", default_value = examples::USUAL, value_parser = example, help = from_help())]
    pub(crate) from: String,
    /// Latitude of the farm in degrees, north positive: the plant stands there, with a year of sun made from the place.
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true, requires = "longitude", value_parser = latitude)]
    pub(crate) latitude: Option<f64>,
    /// Longitude of the farm in degrees, east positive.
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true, requires = "latitude", value_parser = longitude)]
    pub(crate) longitude: Option<f64>,
    /// Altitude of the farm in metres, where it is known.
    #[arg(long, value_name = "METRES", allow_negative_numbers = true, requires = "latitude", value_parser = altitude)]
    pub(crate) altitude: Option<f64>,
    /// Time zone of the farm, such as Africa/Lusaka; by the longitude unless it is given.
    #[arg(long, value_name = "ZONE", requires = "latitude", value_parser = time_zone)]
    pub(crate) time_zone: Option<String>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct CheckArgs {
    /// Folder of a plant, or its plant file.
    pub(crate) plant: PathBuf,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct RunArgs {
    /// Folder of a plant, or its plant file.
    pub(crate) plant: PathBuf,
    /// The arrangement, as `compare` names its rows: grid-only, dual-mode, battery-hybrid, grid-only+generator …
    #[arg(long, value_name = "ID", value_parser = arrangement)]
    pub(crate) arrangement: Arrangement,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct CompareArgs {
    /// Folder of a plant, or its plant file.
    pub(crate) plant: PathBuf,
    /// Print the water of every month too.
    #[arg(long, conflicts_with_all = ["json", "explain"])]
    pub(crate) months: bool,
    /// Say what changes against this row instead of today's.
    #[arg(long, value_name = "ID", value_parser = arrangement, conflicts_with_all = ["json", "explain"])]
    pub(crate) against: Option<Arrangement>,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct StringsArgs {
    /// Folder of a plant, or its plant file.
    pub(crate) plant: PathBuf,
    /// Length of a step of the years that rank the layouts.
    #[arg(long, value_enum, default_value_t = StepArg::TenMinutes)]
    pub(crate) step: StepArg,
    /// Print every layout that suits, not the best only.
    #[arg(long, conflicts_with = "json")]
    pub(crate) all: bool,
    /// Write the layout of this number into the plant file, in place of its strings.
    #[arg(long, value_name = "NUMBER", conflicts_with_all = ["json", "all", "out"])]
    pub(crate) take: Option<usize>,
    /// Of which inverter or drive, where the plant has several that no strings link.
    #[arg(long, value_name = "NAME", requires = "take")]
    pub(crate) of: Option<String>,
    /// Print the result as JSON and nothing else on standard output.
    #[arg(long)]
    pub(crate) json: bool,
    /// Write findings, lengths, layouts and operating voltages as CSV into a folder.
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct OutputArgs {
    /// Length of a step.
    #[arg(long, value_enum, default_value_t = StepArg::TenMinutes)]
    pub(crate) step: StepArg,
    /// Print the result as JSON and nothing else on standard output.
    #[arg(long, conflicts_with = "explain")]
    pub(crate) json: bool,
    /// Write the result, the months and the series by step as CSV into a folder, the series as Parquet too.
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Print how a headline number came about, or all of them.
    #[arg(long, value_name = "NAME", value_parser = PossibleValuesParser::new(working_names()))]
    pub(crate) explain: Option<String>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct DeskArgs {
    /// Folder of a plant, its plant file, or a folder below which plants lie.
    #[arg(default_value = ".")]
    pub(crate) plant: PathBuf,
    /// Port on this machine; 0 for any that is free.
    #[arg(long, value_name = "N", default_value_t = 7420)]
    pub(crate) port: u16,
    /// Do not open a browser; only print the address.
    #[arg(long)]
    pub(crate) no_open: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct SchemaArgs {
    /// What the schema is of.
    pub(crate) of: SchemaArg,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum SchemaArg {
    /// Result of `compare --json`.
    Compare,
    /// Result of `run --json`.
    Run,
    /// Result of `strings --json`.
    Strings,
    /// What the page asks of `desk`, as OpenAPI.
    Desk,
    /// A plant file.
    Plant,
    /// A module file.
    Module,
    /// An inverter file.
    Inverter,
    /// A drive file.
    Drive,
    /// A motor file.
    Motor,
    /// A pump file.
    Pump,
    /// A battery file.
    Battery,
    /// A generator file.
    Generator,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum StepArg {
    /// One hour.
    #[value(name = "1h")]
    Hour,
    /// Ten minutes.
    #[value(name = "10min")]
    TenMinutes,
    /// One minute.
    #[value(name = "1min")]
    Minute,
}

impl From<StepArg> for Step {
    fn from(step: StepArg) -> Self {
        match step {
            StepArg::Hour => Step::Hour,
            StepArg::TenMinutes => Step::TenMinutes,
            StepArg::Minute => Step::Minute,
        }
    }
}

fn arrangement(text: &str) -> Result<Arrangement, String> {
    Arrangement::from_id(text).ok_or_else(|| {
        let names = Wiring::ALL.map(Wiring::id).join(", ");
        format!("this version computes {names}, each alone or with `+generator`, `+night-tank` or both behind it")
    })
}

fn working_names() -> impl Iterator<Item = &'static str> {
    NAMES.into_iter().chain([ALL_WORKINGS])
}

fn latitude(text: &str) -> Result<f64, String> {
    of_field(&site::LATITUDE, text)
}

fn longitude(text: &str) -> Result<f64, String> {
    of_field(&site::LONGITUDE, text)
}

fn altitude(text: &str) -> Result<f64, String> {
    of_field(&site::ALTITUDE, text)
}

/// A number that a field of the plant file allows, in the file's unit.
fn of_field(field: &Field, text: &str) -> Result<f64, String> {
    let value: f64 = text.parse().map_err(|_| format!("not a number; allowed: {}", field.allowed()))?;
    field.check(value).map_err(|fault| fault.to_string())?;
    Ok(value)
}

fn time_zone(text: &str) -> Result<String, String> {
    let axis = Axis::new(2025, 365, 0, text, Step::Hour);
    axis.map_err(|faults| faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))?;
    Ok(text.to_owned())
}

fn from_help() -> String {
    format!("Worked example to start from: {}", examples::names().join(", "))
}

fn example(text: &str) -> Result<String, String> {
    let names = examples::names();
    if names.iter().any(|name| name == text) {
        return Ok(text.to_owned());
    }
    Err(format!("the worked examples are {}", names.join(", ")))
}
