//! Arguments of the command line.

use std::path::PathBuf;

use clap::builder::PossibleValuesParser;
use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};
use daylift_plant::{Arrangement, Wiring};
use daylift_study::best_rule::Effort;
use daylift_study::workings::NAMES;
use daylift_tables::nearest;
use daylift_units::fields::site;
use daylift_units::{Axis, Field, Step};

use crate::examples;

const EXAMPLES: &str = "\
Examples:
  daylift new my-farm --latitude -1.3 --longitude 36.8
  daylift check my-farm
  daylift compare my-farm";
const LONG_EXAMPLES: &str = "\
Examples:
  daylift new my-farm --latitude -1.3 --longitude 36.8
  daylift check my-farm
  daylift compare my-farm

Exit codes:
  0  done
  1  the plant or a file that it names has faults, or (check, strings) its strings violate a rule
  2  the command line, the plant file or the output folder cannot be used";
const NEW_EXAMPLES: &str = "\
Examples:
  daylift new my-farm
  daylift new my-farm --from three-weirs --latitude -33.4 --longitude -70.6 --altitude 540 --time-zone America/Santiago";
const CHECK_EXAMPLES: &str = "\
Examples:
  daylift check my-farm
  daylift check my-farm --values";
const RUN_EXAMPLES: &str = "\
Examples:
  daylift run my-farm --arrangement dual-mode
  daylift run my-farm --arrangement grid-only+generator --step 1h --out results
  daylift run my-farm --arrangement solar-drive --explain payback";
const COMPARE_EXAMPLES: &str = "\
Examples:
  daylift compare my-farm
  daylift compare my-farm --months --against dual-mode
  daylift compare my-farm --json > compare.json";
const STRINGS_EXAMPLES: &str = "\
Examples:
  daylift strings my-farm
  daylift strings my-farm --take 2";
const DESK_EXAMPLES: &str = "\
Examples:
  daylift desk my-farm
  daylift desk my-farm --port 0 --no-open";
const SCHEMA_EXAMPLES: &str = "\
Examples:
  daylift schema plant > plant.schema.json";

/// Asks for every working.
pub(crate) const ALL_WORKINGS: &str = "all";

/// Compare ways to pump water with solar power, the grid or both: water, energy and money of a year, outages included.
///
/// A plant is a folder with plant.toml, datasheets and tables. Figures are estimates from the inputs shown. PV strings are
/// live whenever there is light; no plant may feed a grid that is down. Follow local codes, the utility's rules and the
/// advice of a licensed electrician.
#[derive(Debug, Parser)]
#[command(version, propagate_version = true, arg_required_else_help = true, after_help = EXAMPLES, after_long_help = LONG_EXAMPLES)]
pub(crate) struct Args {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Create a plant in a new folder from a worked example, at your coordinates if you give them.
    #[command(after_help = NEW_EXAMPLES)]
    New(NewArgs),
    /// Check a plant and all its files: print all faults at once, or a summary if there are none.
    #[command(after_help = CHECK_EXAMPLES)]
    Check(CheckArgs),
    /// Simulate one arrangement for a year.
    #[command(after_help = RUN_EXAMPLES)]
    Run(RunArgs),
    /// Compare all arrangements that the plant has the parts for.
    #[command(after_help = COMPARE_EXAMPLES)]
    Compare(CompareArgs),
    /// Check the strings against inverter and drive, and list every layout of the modules that suits both.
    #[command(after_help = STRINGS_EXAMPLES)]
    Strings(StringsArgs),
    /// View and edit a plant in a browser on this machine.
    #[command(after_help = DESK_EXAMPLES)]
    Desk(DeskArgs),
    /// Print the JSON Schema of a result, of a plant file or of an equipment file.
    #[command(after_help = SCHEMA_EXAMPLES)]
    Schema(SchemaArgs),
}

#[derive(Debug, ClapArgs)]
pub(crate) struct NewArgs {
    /// Folder to create; it must be new or empty.
    pub(crate) folder: PathBuf,
    #[arg(long, value_name = "EXAMPLE", default_value = examples::USUAL, value_parser = example, help = from_help())]
    pub(crate) from: String,
    /// Latitude of the farm in degrees, north positive, -66 to 66; the plant gets a synthetic weather year for that place.
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true, requires = "longitude", value_parser = latitude)]
    pub(crate) latitude: Option<f64>,
    /// Longitude of the farm in degrees, east positive, -180 to 180.
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true, requires = "latitude", value_parser = longitude)]
    pub(crate) longitude: Option<f64>,
    /// Altitude of the farm in metres [default: 0].
    #[arg(long, value_name = "METRES", allow_negative_numbers = true, requires = "latitude", value_parser = altitude)]
    pub(crate) altitude: Option<f64>,
    /// Time zone of the farm, such as Africa/Lusaka [default: the zone of its longitude].
    #[arg(long, value_name = "ZONE", requires = "latitude", value_parser = time_zone)]
    pub(crate) time_zone: Option<String>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct CheckArgs {
    /// Folder of a plant, or its plant file.
    pub(crate) plant: PathBuf,
    /// List every value with its unit, its origin, and the file and line that give it.
    #[arg(long)]
    pub(crate) values: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct RunArgs {
    /// Folder of a plant, or its plant file.
    pub(crate) plant: PathBuf,
    /// Arrangement: grid-only, solar-drive, solar-drive-with-grid, grid-tied, dual-mode or battery-hybrid, some also with
    /// `+generator`, `+night-tank` or both; `check` lists those of the plant, and with a generator any of them can have it.
    /// `+best-rule` after the plant's `reference` is today's way under its best rule of pumping.
    #[arg(long, value_name = "ID", value_parser = arrangement)]
    pub(crate) arrangement: Arrangement,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct CompareArgs {
    /// Folder of a plant, or its plant file.
    pub(crate) plant: PathBuf,
    /// Also print the water of every month.
    #[arg(long, conflicts_with_all = ["json", "explain"])]
    pub(crate) months: bool,
    /// Also print what each arrangement that serves the farm no worse than today adds to every cheaper one.
    #[arg(long, conflicts_with = "explain")]
    pub(crate) pairs: bool,
    /// Arrangement to compare the others with in the printed changes [default: the plant's `reference`].
    #[arg(long, value_name = "ID", value_parser = arrangement, conflicts_with_all = ["json", "explain"])]
    pub(crate) against: Option<Arrangement>,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct StringsArgs {
    /// Folder of a plant, or its plant file.
    pub(crate) plant: PathBuf,
    /// Time step of the simulated years that rank the layouts.
    #[arg(long, value_enum, default_value_t = StepArg::TenMinutes)]
    pub(crate) step: StepArg,
    /// Print every suitable layout, not only the best.
    #[arg(long, conflicts_with = "json")]
    pub(crate) all: bool,
    /// Replace the strings in the plant file with the layout of this number.
    #[arg(long, value_name = "NUMBER", value_parser = layout_number, conflicts_with_all = ["json", "all", "out"])]
    pub(crate) take: Option<usize>,
    /// Sub-array that gets the layout, if the plant has several; `strings` prints their names.
    #[arg(long, value_name = "NAME", requires = "take")]
    pub(crate) of: Option<String>,
    /// Print only the result, as JSON, on standard output.
    #[arg(long)]
    pub(crate) json: bool,
    /// Write findings, rules, lengths, layouts and operating voltages as CSV files into this folder.
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct OutputArgs {
    /// Time step of the simulation.
    #[arg(long, value_enum, default_value_t = StepArg::TenMinutes)]
    pub(crate) step: StepArg,
    /// Print only the result, as JSON, on standard output.
    #[arg(long, conflicts_with = "explain")]
    pub(crate) json: bool,
    /// Write results, months and time steps as CSV files into this folder; time steps also as Parquet.
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// How many rules of pumping to try for each arrangement, where the plant file leaves the rule open.
    #[arg(long, value_enum, value_name = "HOW_MANY", default_value_t = RulesArg::Few)]
    pub(crate) rules: RulesArg,
    /// Explain how a main result is calculated: formula, values and source; `all` explains every one.
    #[arg(long, value_name = "NAME", value_parser = PossibleValuesParser::new(working_names()))]
    pub(crate) explain: Option<String>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct DeskArgs {
    /// Folder of a plant, its plant file, or a folder that contains several plants.
    #[arg(default_value = ".")]
    pub(crate) plant: PathBuf,
    /// Port on this machine, 0 to 65535; 0 picks a free one.
    #[arg(long, value_name = "PORT", default_value_t = 7420, value_parser = port)]
    pub(crate) port: u16,
    /// Print the address without opening a browser.
    #[arg(long)]
    pub(crate) no_open: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct SchemaArgs {
    /// Result or file to describe.
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
    /// API between the page and `desk`, as OpenAPI.
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

/// How many rules of pumping to try.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum RulesArg {
    /// At most 20 for each arrangement, found step by step.
    Few,
    /// Every combination.
    All,
}

impl From<RulesArg> for Effort {
    fn from(rules: RulesArg) -> Self {
        match rules {
            RulesArg::Few => Self::Descent,
            RulesArg::All => Self::All,
        }
    }
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
        let all = Arrangement::ALL.map(Arrangement::id);
        let near = nearest(text, all.into_iter()).map_or_else(String::new, |near| format!("did you mean {near}? "));
        format!("{near}Allowed: {names}, each alone or followed by `+generator`, `+night-tank` or both")
    })
}

fn working_names() -> impl Iterator<Item = &'static str> {
    NAMES.into_iter().chain([ALL_WORKINGS])
}

fn layout_number(text: &str) -> Result<usize, String> {
    let number = text.parse().ok().filter(|number| *number > 0);
    number.ok_or_else(|| "allowed: the number of a layout in the list of `daylift strings`, 1 or more".to_owned())
}

fn port(text: &str) -> Result<u16, String> {
    text.parse()
        .map_err(|_| "allowed: a whole number, 0 to 65535; 0 picks a free port".to_owned())
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
    format!("Worked example to start from, one of {}", examples::names().join(", "))
}

fn example(text: &str) -> Result<String, String> {
    let names = examples::names();
    if names.iter().any(|name| name == text) {
        return Ok(text.to_owned());
    }
    let near = nearest(text, names.iter().map(String::as_str));
    let near = near.map_or_else(String::new, |near| format!("did you mean {near}? "));
    Err(format!("{near}Allowed: {}", names.join(", ")))
}
