//! What the page asks and what it is answered. Units are those of the farm; they stand in the names.

use daylift_plant::Arrangement;
use daylift_present::answers::Comparison;
use daylift_present::findings::FindingRow;
use daylift_study::by_id::by_id;
use daylift_study::detail::{Cash, Month, WaterSecured};
use daylift_study::same_service::{LessLoad, LessWater};
use daylift_study::strings::CanBeBuilt;
use daylift_study::{DayChoice, Switched, Traits, Working};
use daylift_tables::{Located, Place};
use daylift_units::Fault;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What can be opened.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Shelf {
    /// The folder that was opened.
    pub folder: String,
    /// Plants in it and below it.
    pub plants: Vec<ShelvedPlant>,
    /// Worked examples that a new plant may start from.
    pub examples: Vec<String>,
}

/// A plant that can be opened.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ShelvedPlant {
    /// Its plant file, from the opened folder on, with `/` between.
    pub id: String,
    /// Its name; null when its file cannot be read.
    pub name: Option<String>,
}

/// Starts a plant from an example.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema)]
pub struct StartRequest {
    /// Name of the example.
    pub example: String,
    /// Name of the folder to make in the opened one.
    pub folder: String,
}

/// A plant that was started.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Started {
    /// Its plant file.
    pub id: String,
}

/// A value of a plant's file to be another.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
pub struct Change {
    /// The file, as in [`Input`].
    pub file: String,
    /// The keys, as in [`Input`].
    pub keys: String,
    /// The value in the unit of the file; null takes the key out, so that its default holds.
    pub value: Option<InputValue>,
}

/// A value as it stands in a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum InputValue {
    /// A number.
    Number(f64),
    /// A list of numbers.
    Numbers(Vec<f64>),
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
    /// A list of numbers.
    Numbers,
    /// `true` or `false`.
    YesNo,
    /// One of a few words.
    Choice,
    /// The path of a file, relative to the folder of the file in which it stands.
    File,
    /// Any other text.
    Text,
}

/// Which page asks, and its how manieth question this is: an older one that still waits is not answered.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema)]
pub struct Turn {
    /// A name of the page's own making.
    pub page: String,
    /// Counted up with each question.
    pub number: u64,
}

/// Asks for every arrangement side by side.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
pub struct AnswerRequest {
    /// The plant.
    pub plant: String,
    /// What is to differ from its files.
    pub changes: Vec<Change>,
    /// Arrangement whose months and workings are wanted too; today's way when null or not there.
    pub looked_at: Option<String>,
    /// Whether a value is still being changed: figures alone, without inputs, months and workings.
    #[serde(default)]
    pub brief: bool,
    /// Whose turn it is.
    pub turn: Turn,
}

/// Every arrangement side by side, with the plant's inputs.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Answer {
    /// As `daylift compare --json` prints it.
    pub comparison: Comparison,
    /// What stands behind each row, in the same order.
    pub rows: Vec<Behind>,
    /// Whether the strings can be built; null without an array.
    pub strings: Option<Strings>,
    /// What the year's sun is made from, in words, where it is made from monthly means: every figure is preliminary then.
    /// Null where the sun comes from a weather file.
    pub preliminary_sun: Option<String>,
    /// Years over which money is reckoned.
    pub years: u32,
    /// More of one arrangement; null in a brief answer.
    pub looked_at: Option<LookedAt>,
    /// Days worth looking at.
    pub days: Vec<DayChoice>,
    /// Every value of the plant's files; null in a brief answer.
    pub inputs: Option<Vec<Input>>,
    /// What the files on the disk are, to be given back when they are to be changed.
    pub stamp: String,
}

/// Whether the plant's strings can be built.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Strings {
    /// The verdict.
    pub can_be_built: CanBeBuilt,
    /// What is found of them, what weighs most first.
    pub findings: Vec<FindingRow>,
}

/// What stands behind a row.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Behind {
    /// What the arrangement has.
    pub traits: Traits,
    /// Whether it delivers less water than today's way; null where it does not.
    pub less_water: Option<LessWater>,
    /// Whether it leaves more of the farm's loads in the dark than today's way; null where it does not.
    pub less_load: Option<LessLoad>,
    /// Water secured.
    pub water_secured: WaterSecured,
    /// Cash against today's way.
    pub cash: Cash,
    /// Fuel of the first year, in the plant's currency.
    pub first_year_fuel: f64,
    /// Upkeep of the first year, in the plant's currency.
    pub first_year_upkeep: f64,
    /// What the reader of this row must know, with the arrangements by their names in words.
    pub warnings: Vec<String>,
}

/// More of one arrangement.
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

/// A value of the plant's files, and what it may be.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Input {
    /// File in which it stands, or would stand, from the opened folder on.
    pub file: String,
    /// Its key with its section in that file.
    pub keys: String,
    /// Section as a person names it, `tank`, `motor`, `pipe[2]`; empty for keys of the whole file.
    pub section: String,
    /// What it is, in words.
    pub quantity: String,
    /// Its unit; empty for a pure number and for a text.
    pub unit: String,
    /// What kind of value it takes.
    pub kind: InputKind,
    /// How many numbers a list has; null where any number of them is allowed, and for what is not a list.
    pub length: Option<usize>,
    /// Its value; null where the file gives none and a rule decides.
    pub value: Option<InputValue>,
    /// Whether a number, or numbers, or a rule hold where the file gives no value.
    pub has_default: bool,
    /// The rule that decides where the file gives no value, in words; null for a value without one.
    pub rule: Option<String>,
    /// `default`, `generic`, `assumed`, `given` (in a file, unmarked), `datasheet`, `found` or `confirmed`.
    pub state: String,
    /// Whether nobody has confirmed it on the farm: its state is `default`, `generic` or `assumed`.
    pub not_confirmed: bool,
    /// File and line, or the source of a default.
    pub source: String,
    /// Day on which it was measured, copied or found, where the file says it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// How, in words, where the file says it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Least and greatest value; null for what is no number.
    pub range: Option<Range>,
    /// The words to choose from; empty for any other kind.
    pub choices: Vec<String>,
}

/// What a number may be.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Range {
    /// Least value.
    pub least: f64,
    /// Greatest value.
    pub greatest: f64,
    /// Whether only whole numbers are allowed.
    pub whole: bool,
    /// Why the range is what it is.
    pub reason: String,
}

/// Asks for one day of an arrangement.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
pub struct DayRequest {
    /// The plant.
    pub plant: String,
    /// What is to differ from its files.
    pub changes: Vec<Change>,
    /// The arrangement.
    pub arrangement: String,
    /// Day of the year, counted from 0.
    pub day: u32,
    /// The utility switched off and on during the day.
    pub switched: Vec<Switched>,
    /// Whose turn it is.
    pub turn: Turn,
}

/// Asks for changes to be written into the plant's files.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
pub struct SaveRequest {
    /// The plant.
    pub plant: String,
    /// What is to be written.
    pub changes: Vec<Change>,
    /// The stamp of the files as the page knows them.
    pub stamp: String,
}

/// The files are written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Saved {
    /// Their stamp now.
    pub stamp: String,
}

/// A file that a reader brings, its text in the body.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema)]
pub struct BringRequest {
    /// File beside which it shall lie, as in [`Input`].
    pub beside: String,
    /// Its name; another is found when there is one of that name already.
    pub name: String,
}

/// A file that was brought.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Brought {
    /// Its name in the folder.
    pub name: String,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Refusal {
    /// In words.
    pub why: String,
    /// Faults of the plant's files; empty when something else is wrong.
    pub faults: Vec<FaultAt>,
}

/// A fault and where it stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FaultAt {
    /// The file, from the opened folder on; empty when it is in none.
    pub file: String,
    /// Line, counted from 1; 0 when it is in no file.
    pub line: usize,
    /// Key with its section; equipment by its kind.
    pub path: String,
    /// What is wrong.
    pub quantity: String,
    /// The value given.
    pub given: String,
    /// What is allowed.
    pub allowed: String,
    /// How to mend it.
    pub remedy: String,
}

impl FaultAt {
    /// A fault as the page shows it; `shown` is a file's path as the page knows it.
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
