//! The requests of the page and their answers. Quantities have the units of the farm, which are in their names.

use daylift_plant::Arrangement;
use daylift_present::answers::Comparison;
use daylift_present::findings::FindingRow;
use daylift_study::by_id::by_id;
use daylift_study::detail::{Cash, Month, WaterSecured};
use daylift_study::strings::CanBeBuilt;
use daylift_study::{DayChoice, Prices, Switched, Traits, Working};
use daylift_tables::{Located, Place};
use daylift_units::Fault;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The plants that can be opened.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlantList {
    /// The folder that was opened.
    pub folder: String,
    /// Plants in it and below it.
    pub plants: Vec<ListedPlant>,
    /// Worked examples that a new plant may start from.
    pub examples: Vec<String>,
}

/// A plant that can be opened.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ListedPlant {
    /// Its plant file: the path relative to the opened folder, with `/` as separator.
    pub id: String,
    /// Its name; null when its file cannot be read.
    pub name: Option<String>,
}

/// Starts a plant from an example.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema)]
pub struct StartRequest {
    /// Name of the example.
    pub example: String,
    /// Name of the new folder in the opened one.
    pub folder: String,
}

/// The plant that was started.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Started {
    /// Its plant file.
    pub id: String,
}

/// A new value for a key of a plant's file.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
pub struct Change {
    /// The file, as in [`Input`].
    pub file: String,
    /// The keys, as in [`Input`].
    pub keys: String,
    /// The new value in the unit of the file; null removes the key, so that its default holds.
    pub value: Option<InputValue>,
}

/// A value as it is in a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum InputValue {
    /// A number.
    Number(f64),
    /// A list of numbers.
    Numbers(Vec<f64>),
    /// Several lists of numbers, such as two windows of hours.
    Lists(Vec<Vec<f64>>),
    /// `true` or `false`.
    Flag(bool),
    /// A word, or the path of a file.
    Text(String),
}

/// What kind of value a key takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum InputKind {
    /// A number.
    Number,
    /// One number for the whole year, or a list of twelve, January first.
    NumberOrMonths,
    /// One number for the whole day, or a list of 24, from 0:00 on.
    NumberOrHours,
    /// Hours of the day: one window of two hours, or two windows.
    Windows,
    /// A list of numbers.
    Numbers,
    /// `true` or `false`.
    YesNo,
    /// One of a few words.
    Choice,
    /// The path of a file, relative to the folder of the file that names it.
    File,
    /// Any other text.
    Text,
}

/// Which page sends the request, and the sequence number of the request. An older one that still waits gets no answer.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema)]
pub struct Turn {
    /// A name that the page has made up for itself.
    pub page: String,
    /// Sequence number of the request.
    pub number: u64,
}

/// Requests every arrangement side by side.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
pub struct AnswerRequest {
    /// The plant.
    pub plant: String,
    /// Changes to apply to its files before the answer is computed.
    pub changes: Vec<Change>,
    /// Arrangement whose months and workings are wanted, too; today's way if null or if the plant does not have it.
    pub looked_at: Option<String>,
    /// Whether the user is still changing a value. The answer then has the figures alone, without inputs, months and
    /// workings.
    #[serde(default)]
    pub brief: bool,
    /// The page and the sequence number of the request.
    pub turn: Turn,
}

/// Every arrangement side by side, with the plant's inputs.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Answer {
    /// The same as `daylift compare --json` prints.
    pub comparison: Comparison,
    /// More about each row, in the same order.
    pub rows: Vec<RowDetail>,
    /// Warnings about the whole plant. They are in the warnings of every row, too.
    pub warnings: Vec<String>,
    /// Whether the strings can be built; null without an array.
    pub strings: Option<Strings>,
    /// What the year's sun is made from, in words, if it is made from monthly means. Every figure is then preliminary.
    /// Null if the sun comes from a weather file.
    pub preliminary_sun: Option<String>,
    /// Years over which money is calculated; 0 without costs.
    pub years: u32,
    /// Which prices the plant has. Without all of them arrangements are not compared by money: `npv` is null, and there is
    /// no cash.
    pub prices: Prices,
    /// Which prices are missing, and what has no value for that reason; null if all are given.
    pub missing_prices: Option<String>,
    /// More about one arrangement; null in a brief answer.
    pub looked_at: Option<LookedAt>,
    /// Days worth looking at.
    pub days: Vec<DayChoice>,
    /// Every value of the plant's files; null in a brief answer.
    pub inputs: Option<Vec<Input>>,
    /// A stamp of the files on the disk. A request to save sends it back.
    pub stamp: String,
}

/// Whether the plant's strings can be built.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Strings {
    /// The verdict.
    pub can_be_built: CanBeBuilt,
    /// What the rules found, the most serious first.
    pub findings: Vec<FindingRow>,
}

/// More about a row.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct RowDetail {
    /// What the arrangement has.
    pub traits: Traits,
    /// Water secured.
    pub water_secured: WaterSecured,
    /// Cash against today's way.
    pub cash: Cash,
    /// Fuel of the first year, in the plant's currency.
    pub first_year_fuel: f64,
    /// Upkeep of the first year, in the plant's currency.
    pub first_year_upkeep: f64,
    /// Warnings about this row. They call arrangements by their names, not by their ids.
    pub warnings: Vec<String>,
    /// Those of them that are about this row only, and not about the whole plant.
    pub own_warnings: Vec<String>,
}

/// More about one arrangement.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LookedAt {
    /// The arrangement.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub id: Arrangement,
    /// Its months.
    pub months: Vec<Month>,
    /// Headline numbers with their workings.
    pub workings: Vec<Working>,
}

/// A value of the plant's files, and what is allowed for it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Input {
    /// File that it is in, or would be in: the path relative to the opened folder.
    pub file: String,
    /// Its key with its section in that file.
    pub keys: String,
    /// Its section: `tank`, `pipe[2]`, or the kind of an equipment file, `motor`. Empty for keys of the whole plant file.
    pub section: String,
    /// What it is, in words.
    pub quantity: String,
    /// Its unit; empty for a pure number and for a text.
    pub unit: String,
    /// What kind of value it takes.
    pub kind: InputKind,
    /// How many numbers a list must have; null if any number of them is allowed, or if the value is not a list.
    pub length: Option<usize>,
    /// Its value; null if the file gives none and a rule decides.
    pub value: Option<InputValue>,
    /// Whether it has a default for the case that the file gives no value: a number, numbers or a rule.
    pub has_default: bool,
    /// The rule that decides if the file gives no value, in words; null for a value without such a rule.
    pub rule: Option<String>,
    /// `default`, `generic`, `assumed`, `given` (in a file, unmarked), `datasheet`, `found` or `confirmed`.
    pub state: String,
    /// Whether nobody has confirmed it on the farm: its state is `default`, `generic` or `assumed`.
    pub not_confirmed: bool,
    /// File and line, or the source of a default.
    pub source: String,
    /// Day on which it was measured, copied or found, if the file says so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// How, in words, if the file says so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Least and greatest value; null for a value that is not a number.
    pub range: Option<Range>,
    /// The words to choose from; empty for any other kind.
    pub choices: Vec<String>,
}

/// The range of a number.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Range {
    /// Least value.
    pub least: f64,
    /// Greatest value.
    pub greatest: f64,
    /// Whether only whole numbers are allowed.
    pub whole: bool,
    /// The reason for the range.
    pub reason: String,
}

/// Requests one day of an arrangement.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
pub struct DayRequest {
    /// The plant.
    pub plant: String,
    /// Changes to apply to its files before the answer is computed.
    pub changes: Vec<Change>,
    /// The arrangement.
    pub arrangement: String,
    /// Day of the year, counted from 0.
    pub day: u32,
    /// The utility switched off and on during the day.
    pub switched: Vec<Switched>,
    /// The page and the sequence number of the request.
    pub turn: Turn,
}

/// Requests that changes are saved in the plant's files.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
pub struct SaveRequest {
    /// The plant.
    pub plant: String,
    /// The changes to save.
    pub changes: Vec<Change>,
    /// The stamp of the files that the page has read.
    pub stamp: String,
}

/// The changes are saved.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Saved {
    /// The new stamp of the files.
    pub stamp: String,
}

/// Uploads a file. Its text is in the body of the request.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema)]
pub struct UploadRequest {
    /// A file of the folder into which the upload goes, named as in [`Input`].
    pub beside: String,
    /// Its name. If the name is taken, the desk finds another.
    pub name: String,
}

/// The file that was uploaded.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Uploaded {
    /// Its name in the folder.
    pub name: String,
}

/// Why a request is refused.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Refusal {
    /// In words.
    pub why: String,
    /// Faults of the plant's files; empty if something else is wrong.
    pub faults: Vec<FaultAt>,
}

/// A fault and its place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FaultAt {
    /// The file: the path relative to the opened folder; empty if the fault is not in a file.
    pub file: String,
    /// Line, counted from 1; 0 if the fault is not in a line of a file.
    pub line: usize,
    /// Key with its section; for equipment the kind of its file.
    pub path: String,
    /// What is wrong.
    pub quantity: String,
    /// The value given.
    pub given: String,
    /// What is allowed.
    pub allowed: String,
    /// How to fix it.
    pub remedy: String,
}

impl FaultAt {
    /// A fault as the page shows it; `shown` gives the path of a file as the page knows it.
    pub(crate) fn of(located: &Located, shown: impl Fn(&str) -> String) -> Self {
        let place = located.place.as_ref();
        Self {
            line: place.map_or(0, Place::line),
            ..Self::of_file(
                &place.map_or_else(String::new, |place| shown(&place.source.name)),
                &located.fault,
            )
        }
    }

    /// A fault of a file as a whole.
    pub(crate) fn of_file(file: &str, fault: &Fault) -> Self {
        Self {
            file: file.to_owned(),
            line: 0,
            path: fault.key.clone(),
            quantity: fault.quantity.clone(),
            given: fault.given.clone(),
            allowed: fault.allowed.clone(),
            remedy: fault.remedy.clone(),
        }
    }
}
