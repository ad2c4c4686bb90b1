//! Reads a plant with the changes of the page, and computes its answer.

use daylift_plant::Arrangement;
use daylift_present::Names;
use daylift_present::answers::Comparison;
use daylift_present::findings::FindingRow;
use daylift_present::notices::notices;
use daylift_present::prices;
use daylift_study::best_rule::{Effort, FindRules};
use daylift_study::compare::{Extras, WorkingsOf, compare_in_full};
use daylift_study::strings::can_be_built;
use daylift_study::{ComparedRow, Day, Memory, Stages, Switched, day, days_to_choose};
use daylift_units::Step;

use crate::api::{Answer, AnswerRequest, DayRequest, LookedAt, RowDetail, Strings};
use crate::folder::Folder;
use crate::inputs::inputs;
use crate::refused::Refused;
use crate::wanted::Wanted;

/// The most switches in one day: more than one a minute.
const MOST_SWITCHES: usize = 2000;

/// Every arrangement of a plant side by side, with its inputs.
pub(crate) fn answer(folder: &Folder, memory: &Memory, request: &AnswerRequest) -> Result<Answer, Refused> {
    let wanted = Wanted::new(folder, &request.plant, &request.changes)?;
    let read = wanted.read()?;
    let plant = &read.plant;
    let wished = request.looked_at.as_deref().and_then(Arrangement::from_id).unwrap_or(plant.reference);
    let extras = Extras {
        workings_of: if request.brief {
            WorkingsOf::None
        } else {
            WorkingsOf::Row(wished)
        },
        names: |row| Names::Words.of(row),
        // While a value moves, the rules found at rest hold.
        rules: if request.brief {
            FindRules::Held
        } else {
            FindRules::Search(Effort::Descent)
        },
        ..Extras::NONE
    };
    let all = compare_in_full(plant, Step::TenMinutes, &read.warnings, extras, memory, &mut |_, _| ());
    let stages = Stages::for_rows(plant, Step::TenMinutes, &[plant.reference], memory);
    let more_of = || {
        // A change may have removed the row that the page looks at.
        let one = all.row(wished).or_else(|| all.row(plant.reference))?;
        let detail = &one.detail;
        Some(LookedAt {
            id: one.row.id,
            months: detail.months.clone(),
            workings: detail.workings.clone(),
        })
    };
    let behind = |ComparedRow {
                      notices: to_know,
                      own_notices,
                      detail,
                      ..
                  }: &ComparedRow| RowDetail {
        traits: detail.traits,
        water_secured: detail.water_secured.clone(),
        cash: detail.cash.clone(),
        first_year_fuel: detail.first_year_fuel,
        first_year_upkeep: detail.first_year_upkeep,
        warnings: notices(to_know),
        own_warnings: notices(own_notices),
    };
    Ok(Answer {
        rows: all.rows.iter().map(behind).collect(),
        warnings: notices(&all.notices),
        strings: can_be_built(plant, &read.origins).map(|(can_be_built, findings)| Strings {
            can_be_built,
            findings: findings.iter().map(FindingRow::new).collect(),
        }),
        preliminary_sun: plant.weather_source.is_synthetic().then(|| plant.weather_source.station.clone()),
        years: all.years,
        prices: all.prices,
        missing_prices: prices::missing(all.prices),
        looked_at: if request.brief { None } else { more_of() },
        days: days_to_choose(&stages),
        inputs: (!request.brief).then(|| inputs(&read.origins, folder)),
        stamp: wanted.stamp(&read, false).to_string(),
        comparison: Comparison::from(&all),
    })
}

/// One day of an arrangement.
pub(crate) fn one_day(folder: &Folder, memory: &Memory, request: &DayRequest) -> Result<Day, Refused> {
    let arrangement = Arrangement::from_id(&request.arrangement);
    let arrangement = arrangement.ok_or_else(|| no_arrangement(request))?;
    check_switches(&request.switched)?;
    let read = Wanted::new(folder, &request.plant, &request.changes)?.read()?;
    if !read.plant.can_run(arrangement) {
        return Err(no_arrangement(request));
    }
    let found = day(&read.plant, arrangement, request.day, &request.switched, memory);
    found.ok_or_else(|| Refused::request(format!("the plant's year has no day {}", request.day)))
}

fn no_arrangement(request: &DayRequest) -> Refused {
    Refused::request(format!(
        "\"{}\" is not an arrangement of this plant",
        request.arrangement
    ))
}

fn check_switches(switched: &[Switched]) -> Result<(), Refused> {
    if switched.len() > MOST_SWITCHES {
        let why = format!(
            "{} grid switches in a day; at most {MOST_SWITCHES} are allowed",
            switched.len()
        );
        return Err(Refused::request(why));
    }
    match switched.iter().find(|switch| !switch.at_s.is_finite() || switch.at_s < 0.0) {
        Some(switch) => Err(Refused::request(format!(
            "a grid switch at {} s, which is not a time of the day",
            switch.at_s
        ))),
        None => Ok(()),
    }
}
