//! A plant read with the page's changes, and its answer.

use std::collections::BTreeMap;
use std::fs;
use std::hash::{DefaultHasher, Hasher};
use std::path::{Path, PathBuf};

use daylift_plant::{Arrangement, EditError, Files, NewValue, Origin, Read, read_plant_from, set_value};
use daylift_study::compare::compare_in_full;
use daylift_study::{Day, Memory, Stages, day, days_to_choose};
use daylift_units::Step;

use crate::api::{Answer, AnswerRequest, Behind, Change, DayRequest, FaultAt, InputValue, LookedAt, Refusal};
use crate::folder::Folder;
use crate::inputs::inputs;

/// Why a request cannot be answered.
#[derive(Debug)]
pub(crate) enum Refused {
    /// What was asked for is not there or makes no sense.
    Request(String),
    /// The plant has faults.
    Faults(Vec<FaultAt>),
    /// The files are not what the page knows.
    Changed,
    /// A file could not be written.
    Unwritten(String),
}

impl Refused {
    pub(crate) fn refusal(self) -> Refusal {
        let (why, faults) = match self {
            Self::Request(why) | Self::Unwritten(why) => (why, Vec::new()),
            Self::Changed => (
                "the plant's files have changed since this page read them".to_owned(),
                Vec::new(),
            ),
            Self::Faults(faults) => ("the plant's files have faults".to_owned(), faults),
        };
        Refusal { why, faults }
    }
}

/// A plant's files as they lie on the disk, and as the page wants them.
#[derive(Debug)]
pub(crate) struct Wanted {
    pub(crate) plant_file: PathBuf,
    /// New texts of the files that are to differ.
    pub(crate) texts: BTreeMap<PathBuf, String>,
}

impl Wanted {
    /// Lays the page's changes over the files; no other file than those is looked at.
    pub(crate) fn new(folder: &Folder, plant: &str, changes: &[Change]) -> Result<Self, Refused> {
        let no_file = |id: &str| Refused::Request(format!("\"{id}\" is no file in the opened folder"));
        let plant_file = folder.file(plant).ok_or_else(|| no_file(plant))?;
        let mut texts: BTreeMap<PathBuf, String> = BTreeMap::new();
        for change in changes {
            let file = folder.file(&change.file).ok_or_else(|| no_file(&change.file))?;
            if file.extension().is_none_or(|ending| ending != "toml") {
                return Err(Refused::Request(format!("\"{}\" is no TOML file", change.file)));
            }
            let before = match texts.remove(&file) {
                Some(text) => text,
                None => fs::read_to_string(&file)
                    .map_err(|e| Refused::Request(format!("cannot read \"{}\": {e}", change.file)))?,
            };
            let told = |why: &EditError| Refused::Request(format!("{}, `{}`: {why}", change.file, change.keys));
            let after = set_value(&before, &change.keys, &new_value(change)).map_err(|why| told(&why))?;
            texts.insert(file, after);
        }
        Ok(Self { plant_file, texts })
    }

    /// Reads the plant.
    pub(crate) fn read(&self, folder: &Folder) -> Result<Read, Refused> {
        let within = Files::within(folder.path());
        let files = within.map_err(|e| Refused::Request(format!("cannot open the folder: {e}")))?;
        let drafts = self.texts.iter();
        let files = drafts.fold(files, |files, (path, text)| files.with_draft(path, text.clone()));
        let shown = |name: &str| folder.shown(name);
        let faults = |faults: Vec<_>| faults.iter().map(|located| FaultAt::of(located, shown)).collect();
        read_plant_from(&self.plant_file, files).map_err(|found| Refused::Faults(faults(found)))
    }
}

fn new_value(change: &Change) -> NewValue {
    match &change.value {
        Some(InputValue::Number(number)) => NewValue::Number(*number),
        Some(InputValue::Numbers(numbers)) => NewValue::Numbers(numbers.clone()),
        Some(InputValue::Text(text)) => NewValue::Text(text.clone()),
        None => NewValue::Absent,
    }
}

/// What the TOML files of a plant are on the disk now: any change of any of them changes it.
pub(crate) fn stamp(origins: &[Origin], plant_file: &Path) -> String {
    let mut files: Vec<PathBuf> = origins.iter().map(|origin| PathBuf::from(&origin.file)).collect();
    files.push(plant_file.to_owned());
    files.sort();
    files.dedup();
    let mut hasher = DefaultHasher::new();
    for file in files {
        hasher.write(file.as_os_str().as_encoded_bytes());
        // A file that cannot be read now was there before: that is a change too.
        hasher.write(&fs::read(&file).unwrap_or_default());
        hasher.write_u8(0xff);
    }
    format!("{:016x}", hasher.finish())
}

/// Every arrangement of a plant side by side, with its inputs.
pub(crate) fn answer(folder: &Folder, memory: &Memory, request: &AnswerRequest) -> Result<Answer, Refused> {
    let wanted = Wanted::new(folder, &request.plant, &request.changes)?;
    let read = wanted.read(folder)?;
    let plant = &read.plant;
    let id = request.looked_at.as_deref().unwrap_or(plant.reference.id());
    let all = compare_in_full(plant, Step::TenMinutes, &read.warnings, false, memory, &mut |_, _| ());
    let rows = all.answer.arrangements.iter().zip(&all.rows);
    // A change may have taken the row away that was looked at.
    let looked_at = rows.clone().find(|(row, _)| row.id == id).or_else(|| rows.clone().next());
    let looked_at = looked_at.map(|(row, detail)| LookedAt {
        id: row.id.clone(),
        months: detail.months.clone(),
        workings: detail.workings.clone(),
    });
    let behind = |detail: &daylift_study::compare::RowDetail| Behind {
        water_secured: detail.water_secured.clone(),
        first_year_fuel: detail.first_year_fuel,
        first_year_upkeep: detail.first_year_upkeep,
    };
    Ok(Answer {
        rows: all.rows.iter().map(behind).collect(),
        years: all.years,
        looked_at: looked_at.ok_or_else(|| Refused::Request("the plant has no arrangement".to_owned()))?,
        days: days_to_choose(&Stages::for_rows(plant, Step::TenMinutes, &[plant.reference], memory)),
        inputs: inputs(&read.origins, folder),
        stamp: stamp(&read.origins, &wanted.plant_file),
        comparison: all.answer,
    })
}

/// One day of an arrangement.
pub(crate) fn one_day(folder: &Folder, memory: &Memory, request: &DayRequest) -> Result<Day, Refused> {
    let arrangement = Arrangement::from_id(&request.arrangement);
    let arrangement =
        arrangement.ok_or_else(|| Refused::Request(format!("\"{}\" is no arrangement", request.arrangement)))?;
    if request.switched.iter().any(|switch| !switch.at_s.is_finite()) {
        return Err(Refused::Request("a switch at no time of the day".to_owned()));
    }
    let read = Wanted::new(folder, &request.plant, &request.changes)?.read(folder)?;
    let found = day(&read.plant, arrangement, request.day, &request.switched, memory);
    found.ok_or_else(|| {
        Refused::Request(format!(
            "the plant has no day {} of {}",
            request.day, request.arrangement
        ))
    })
}
